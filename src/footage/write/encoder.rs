//! Setting up an encoder, and RGB pictures to what it takes.
//!
//! Invariant: what the stream is tagged with (matrix, range, primaries, curve) is what the pictures were converted to.

use std::path::Path;

use ff::codec::encoder;
use ff::format::Pixel;
use ffmpeg_next as ff;
use image::RgbImage;

use super::error::WriteError;
use crate::footage::colour::Matrix;
use crate::footage::scale::{Conversion, Scaler};

/// What the pictures are coded as.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WriteCodec {
    /// What every phone and browser plays.
    #[default]
    H264,
    /// For test media.
    Hevc,
    /// 10 bits a sample, for test media.
    Hevc10,
}

/// How long the encoder may think: longer makes smaller files.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Preset {
    /// For tests: large files at once.
    Ultrafast,
    /// For tests and previews.
    Veryfast,
    /// For clips that are kept.
    #[default]
    Medium,
    /// Smallest files.
    Slow,
}

/// Matrix and range; anything but the default is for test media.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Colours {
    /// What screens expect.
    #[default]
    Bt709Limited,
    /// The same with all of 0 to 255.
    Bt709Full,
    /// Standard definition.
    Bt601Limited,
    /// As limited BT.709, but without tags.
    Untagged,
}

/// How to encode.
#[derive(Clone, Debug)]
pub struct WriteOptions {
    /// The codec.
    pub codec: WriteCodec,
    /// Constant quality: 0 is lossless, 18 looks lossless, 51 is worst.
    pub crf: u8,
    /// How long the encoder may think.
    pub preset: Preset,
    /// Matrix and range.
    pub colours: Colours,
    /// Frames from one key frame to the next; the encoder's choice if absent.
    pub group: Option<u32>,
    /// Most B frames in a row; the encoder's choice if absent.
    pub b_frames: Option<u32>,
    /// Let pictures refer across key frames; for test media.
    pub open_groups: bool,
    /// Encoder threads, 0 for as many as suit the machine. The number changes the bytes: files that
    /// must be the same on every machine take 1.
    pub threads: usize,
}

impl Default for WriteOptions {
    fn default() -> WriteOptions {
        WriteOptions {
            codec: WriteCodec::H264,
            crf: 20,
            preset: Preset::Medium,
            colours: Colours::Bt709Limited,
            group: None,
            b_frames: None,
            open_groups: false,
            threads: 1,
        }
    }
}

impl WriteCodec {
    fn encoder_name(self) -> &'static str {
        match self {
            WriteCodec::H264 => "libx264",
            WriteCodec::Hevc | WriteCodec::Hevc10 => "libx265",
        }
    }

    fn format(self) -> Pixel {
        match self {
            WriteCodec::H264 | WriteCodec::Hevc => Pixel::YUV420P,
            WriteCodec::Hevc10 => Pixel::YUV420P10LE,
        }
    }
}

impl Preset {
    fn name(self) -> &'static str {
        match self {
            Preset::Ultrafast => "ultrafast",
            Preset::Veryfast => "veryfast",
            Preset::Medium => "medium",
            Preset::Slow => "slow",
        }
    }
}

impl Colours {
    fn matrix(self) -> Matrix {
        match self {
            Colours::Bt601Limited => Matrix::Bt601,
            _ => Matrix::Bt709,
        }
    }

    fn is_full_range(self) -> bool {
        self == Colours::Bt709Full
    }
}

/// An open encoder.
pub fn open(
    path: &Path,
    size: (u32, u32),
    clock: ff::Rational,
    rate: ff::Rational,
    options: &WriteOptions,
) -> Result<encoder::Video, WriteError> {
    let failed = |doing| {
        move |cause: ff::Error| WriteError::Ffmpeg {
            path: path.to_owned(),
            doing,
            words: cause.to_string(),
        }
    };
    let name = options.codec.encoder_name();
    let codec = encoder::find_by_name(name)
        .ok_or_else(|| WriteError::NoEncoder { path: path.to_owned(), encoder: name })?;
    let context = ff::codec::Context::new_with_codec(codec);
    let mut video = context.encoder().video().map_err(failed("prepare the encoder for"))?;
    video.set_width(size.0);
    video.set_height(size.1);
    video.set_format(options.codec.format());
    video.set_time_base(clock);
    video.set_frame_rate(Some(rate));
    video.set_flags(ff::codec::Flags::GLOBAL_HEADER | ff::codec::Flags::BITEXACT);
    let mut threading = ff::codec::threading::Config::kind(ff::codec::threading::Type::Frame);
    threading.count = options.threads;
    video.set_threading(threading);
    if let Some(group) = options.group {
        video.set_gop(group);
    }
    if let Some(b_frames) = options.b_frames {
        video.set_max_b_frames(b_frames as usize);
    }
    tag_colours(&mut video, options.colours);
    let opened =
        video.open_with(encoder_options(options)).map_err(failed("start the encoder for"))?;
    Ok(opened)
}

fn tag_colours(video: &mut encoder::video::Video, colours: Colours) {
    use ff::color::{Primaries, Range, Space, TransferCharacteristic};
    if colours == Colours::Untagged {
        return;
    }
    let (space, primaries, transfer) = match colours {
        Colours::Bt601Limited => {
            (Space::SMPTE170M, Primaries::SMPTE170M, TransferCharacteristic::SMPTE170M)
        }
        _ => (Space::BT709, Primaries::BT709, TransferCharacteristic::BT709),
    };
    video.set_colorspace(space);
    video.set_color_range(if colours.is_full_range() { Range::JPEG } else { Range::MPEG });
    // SAFETY: the context is ours and not open yet; ffmpeg-next has setters for matrix and range only.
    unsafe {
        let raw = video.as_mut_ptr();
        (*raw).color_primaries = primaries.into();
        (*raw).color_trc = transfer.into();
    }
}

fn encoder_options(options: &WriteOptions) -> ff::Dictionary<'static> {
    let mut dictionary = ff::Dictionary::new();
    dictionary.set("preset", options.preset.name());
    dictionary.set("crf", &options.crf.to_string());
    let open = u8::from(options.open_groups);
    match options.codec {
        WriteCodec::H264 => {
            let parameters = format!("open-gop={open}{}", without_avx512());
            dictionary.set("x264-params", &parameters);
        }
        WriteCodec::Hevc | WriteCodec::Hevc10 => {
            // The tag that Apple's players ask for is set on the stream; here only the log is silenced.
            dictionary.set("x265-params", &format!("log-level=none:open-gop={open}"));
        }
    }
    dictionary
}

/// Keeps x264 off its AVX-512 code, which gives different bytes for the same pictures from one run to the next
/// (seen with x264 0.164: every second run of a busy process). The same pictures must make the same file.
fn without_avx512() -> &'static str {
    #[cfg(target_arch = "x86_64")]
    if std::arch::is_x86_feature_detected!("avx512f") && std::arch::is_x86_feature_detected!("avx2")
    {
        return ":asm=avx2";
    }
    ""
}

/// RGB to the encoder's format.
pub struct Intake {
    scaler: Scaler,
    rgb: ff::frame::Video,
}

impl Intake {
    pub fn new(size: (u32, u32), options: &WriteOptions) -> Result<Intake, ff::Error> {
        let scaler = Scaler::new(Conversion {
            from: Pixel::RGB24,
            from_size: size,
            to: options.codec.format(),
            to_size: size,
            matrix: options.colours.matrix(),
            from_full_range: true,
            to_full_range: options.colours.is_full_range(),
        })?;
        Ok(Intake { scaler, rgb: ff::frame::Video::new(Pixel::RGB24, size.0, size.1) })
    }

    /// A picture the encoder may keep, with its time in ticks.
    pub fn convert(
        &mut self,
        picture: &RgbImage,
        ticks: i64,
    ) -> Result<ff::frame::Video, ff::Error> {
        let row_bytes = picture.width() as usize * 3;
        let stride = self.rgb.stride(0);
        let rows = self.rgb.data_mut(0).chunks_mut(stride);
        for (to, from) in rows.zip(picture.as_raw().chunks_exact(row_bytes)) {
            to[..row_bytes].copy_from_slice(from);
        }
        let mut converted = self.scaler.run(&self.rgb)?.clone();
        converted.set_pts(Some(ticks));
        Ok(converted)
    }
}
