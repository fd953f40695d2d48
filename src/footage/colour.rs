//! What the numbers of a picture mean: matrix, range, transfer curve and primaries, read from the file or guessed.
//!
//! Code points are those of ITU-T H.273. Where the file says nothing: BT.709 from 720 lines up, BT.601 below, limited
//! range, an ordinary (SDR) curve. Pure, apart from reading tags.
//! Not handled: constant-luminance BT.2020, ICtCp, and identity matrices in YUV formats; they are shown as guessed.

use ff::color::{Primaries, Range, Space, TransferCharacteristic};
use ffmpeg_next as ff;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The lines from which an untagged picture is taken for high definition.
const HD_LINES: u32 = 720;

/// How luma and chroma are made of red, green and blue.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Matrix {
    /// ITU-R BT.601, standard definition.
    Bt601,
    /// ITU-R BT.709, high definition.
    Bt709,
    /// ITU-R BT.2020, not constant luminance.
    Bt2020,
    /// SMPTE 240M, early high definition.
    Smpte240m,
    /// FCC, 1953 television.
    Fcc,
    /// None: the numbers are red, green and blue.
    Rgb,
}

/// How light becomes numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum DynamicRange {
    /// An ordinary curve.
    Sdr,
    /// SMPTE ST 2084.
    Pq,
    /// ARIB STD-B67.
    Hlg,
}

/// How to read the numbers of a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Colour {
    /// How luma and chroma are made.
    pub matrix: Matrix,
    /// The file does not name its matrix; it was chosen by the picture's height.
    pub matrix_guessed: bool,
    /// Numbers use the whole range (0..=255), not the studio range (16..=235).
    pub full_range: bool,
    /// The curve.
    pub dynamic_range: DynamicRange,
    /// BT.2020 primaries, wider than a screen's.
    pub wide_primaries: bool,
}

/// The four tags of a stream or a picture.
#[derive(Clone, Copy, Debug)]
pub struct ColourTags {
    pub format: ff::format::Pixel,
    pub space: Space,
    pub range: Range,
    pub primaries: Primaries,
    pub transfer: TransferCharacteristic,
}

impl ColourTags {
    pub fn of_picture(picture: &ff::frame::Video) -> ColourTags {
        ColourTags {
            format: picture.format(),
            space: picture.color_space(),
            range: picture.color_range(),
            primaries: picture.color_primaries(),
            transfer: picture.color_transfer_characteristic(),
        }
    }

    pub fn of_stream(parameters: &ff::codec::Parameters) -> ColourTags {
        // SAFETY: reads plain fields of parameters that we hold; `format` of a video stream is a pixel format or -1,
        // both members of the enum. ffmpeg-next has no getters for them.
        unsafe {
            let raw = &*parameters.as_ptr();
            ColourTags {
                format: std::mem::transmute::<i32, ff::ffi::AVPixelFormat>(raw.format).into(),
                space: raw.color_space.into(),
                range: raw.color_range.into(),
                primaries: raw.color_primaries.into(),
                transfer: raw.color_trc.into(),
            }
        }
    }
}

impl Colour {
    /// What the tags say, filled up by what is usual for a picture of that height.
    pub fn read(tags: ColourTags, height: u32) -> Colour {
        let known = if is_rgb(tags.format) { Some(Matrix::Rgb) } else { matrix(tags.space) };
        Colour {
            matrix: known.unwrap_or(if height >= HD_LINES { Matrix::Bt709 } else { Matrix::Bt601 }),
            matrix_guessed: known.is_none(),
            full_range: tags.range == Range::JPEG
                || plain_format(tags.format) != tags.format
                || is_rgb(tags.format),
            dynamic_range: match tags.transfer {
                TransferCharacteristic::SMPTE2084 => DynamicRange::Pq,
                TransferCharacteristic::ARIB_STD_B67 => DynamicRange::Hlg,
                _ => DynamicRange::Sdr,
            },
            wide_primaries: tags.primaries == Primaries::BT2020,
        }
    }
}

fn matrix(space: Space) -> Option<Matrix> {
    match space {
        Space::BT709 => Some(Matrix::Bt709),
        Space::BT470BG | Space::SMPTE170M => Some(Matrix::Bt601),
        Space::BT2020NCL | Space::BT2020CL => Some(Matrix::Bt2020),
        Space::SMPTE240M => Some(Matrix::Smpte240m),
        Space::FCC => Some(Matrix::Fcc),
        _ => None,
    }
}

/// The format without the old way of saying "full range" in its name.
pub fn plain_format(format: ff::format::Pixel) -> ff::format::Pixel {
    use ff::format::Pixel;
    match format {
        Pixel::YUVJ420P => Pixel::YUV420P,
        Pixel::YUVJ422P => Pixel::YUV422P,
        Pixel::YUVJ444P => Pixel::YUV444P,
        Pixel::YUVJ440P => Pixel::YUV440P,
        Pixel::YUVJ411P => Pixel::YUV411P,
        other => other,
    }
}

/// Where the first component (luma, or red) of a format is found.
#[derive(Clone, Copy, Debug)]
pub struct FirstComponent {
    pub plane: usize,
    pub step: usize,
    pub offset: usize,
    pub shift: u32,
    pub depth: u32,
    /// The bytes can be read as they are: no palette, no bit packing, no other byte order, no graphics card.
    pub readable: bool,
    pub rgb: bool,
}

/// Describes a pixel format; `None` where there is no format.
pub fn first_component(format: ff::format::Pixel) -> Option<FirstComponent> {
    let descriptor = format.descriptor()?;
    let flag = |flag: i32| u64::from(flag.unsigned_abs());
    // SAFETY: descriptors are constant tables that live as long as the program.
    let raw = unsafe { &*descriptor.as_ptr() };
    let component = raw.comp[0];
    let depth = component.depth as u32;
    let awkward = flag(ff::ffi::AV_PIX_FMT_FLAG_PAL)
        | flag(ff::ffi::AV_PIX_FMT_FLAG_BITSTREAM)
        | flag(ff::ffi::AV_PIX_FMT_FLAG_HWACCEL)
        | flag(ff::ffi::AV_PIX_FMT_FLAG_FLOAT);
    let swapped = depth > 8 && raw.flags & flag(ff::ffi::AV_PIX_FMT_FLAG_BE) != 0;
    Some(FirstComponent {
        plane: component.plane as usize,
        step: component.step as usize,
        offset: component.offset as usize,
        shift: component.shift as u32,
        depth,
        readable: raw.flags & awkward == 0 && !swapped && (8..=16).contains(&depth),
        rgb: raw.flags & flag(ff::ffi::AV_PIX_FMT_FLAG_RGB) != 0,
    })
}

fn is_rgb(format: ff::format::Pixel) -> bool {
    first_component(format).is_some_and(|component| component.rgb)
}
