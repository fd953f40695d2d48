//! The clip being written: temporary file, muxer, encoder, times.

use std::collections::VecDeque;
use std::io;
use std::path::{Path, PathBuf};

use ff::format::context::Output;
use ffmpeg_next as ff;
use image::RgbImage;
use tempfile::{NamedTempFile, TempPath};

use super::encoder::{self, Intake, WriteCodec, WriteOptions};
use super::error::WriteError;
use crate::footage::ffmpeg;
use crate::quantity::time::TimeBase;

const LARGEST_SIDE: u32 = 16_384;

/// Writes one clip. Dropped before `finish`, it leaves nothing behind.
pub struct ClipWriter {
    target: PathBuf,
    temporary: TempPath,
    output: Output,
    encoder: ff::codec::encoder::Video,
    intake: Intake,
    size: (u32, u32),
    clock: ff::Rational,
    /// Ticks of the clip's clock that a frame lasts where nothing says otherwise.
    usual_gap: i64,
    frames: u32,
    last: Option<i64>,
    /// Times handed to the encoder and not yet written, for the durations.
    in_flight: VecDeque<i64>,
    /// The gap before the newest frame, for the duration of the last one.
    last_gap: i64,
}

impl ClipWriter {
    /// A clip at a constant rate of `num / den` frames per second.
    pub fn at_rate(
        target: &Path,
        size: (u32, u32),
        (num, den): (u32, u32),
        options: &WriteOptions,
    ) -> Result<ClipWriter, WriteError> {
        let base = TimeBase::new(den, num).map_err(|_| WriteError::Rate { num, den })?;
        let rate = rational(num, den)?;
        ClipWriter::create(target, size, base, 1, rate, options)
    }

    /// A clip whose frames come with their times in ticks of `base`; `usual_gap` ticks is the usual distance.
    pub fn with_ticks(
        target: &Path,
        size: (u32, u32),
        base: TimeBase,
        usual_gap: u32,
        options: &WriteOptions,
    ) -> Result<ClipWriter, WriteError> {
        let usual_gap = usual_gap.max(1);
        let rate = rational(base.den(), base.num().saturating_mul(usual_gap))?;
        ClipWriter::create(target, size, base, i64::from(usual_gap), rate, options)
    }

    fn create(
        target: &Path,
        size: (u32, u32),
        base: TimeBase,
        usual_gap: i64,
        rate: ff::Rational,
        options: &WriteOptions,
    ) -> Result<ClipWriter, WriteError> {
        ffmpeg::start();
        check_size(size)?;
        let failed = |doing| move |cause: ff::Error| wrapped(target, doing, cause);
        let clock = rational(base.den(), base.num())?.invert();
        let temporary = temporary_beside(target)?;
        let encoder = encoder::open(target, size, clock, rate, options)?;
        let intake = Intake::new(size, options).map_err(failed("convert pictures for"))?;
        let mut output = ff::format::output_as(&temporary, "mp4").map_err(failed("create"))?;
        add_stream(&mut output, &encoder, clock, options).map_err(failed("prepare"))?;
        let mut muxer = ff::Dictionary::new();
        muxer.set("movflags", "+faststart");
        muxer.set("fflags", "+bitexact");
        output.write_header_with(muxer).map_err(failed("begin"))?;
        Ok(ClipWriter {
            target: target.to_owned(),
            temporary,
            output,
            encoder,
            intake,
            size,
            clock,
            usual_gap,
            frames: 0,
            last: None,
            in_flight: VecDeque::new(),
            last_gap: usual_gap,
        })
    }

    /// Adds a picture one usual gap after the one before.
    pub fn write(&mut self, picture: &RgbImage) -> Result<(), WriteError> {
        let ticks = self.last.map_or(0, |last| last.saturating_add(self.usual_gap));
        self.write_at(ticks, picture)
    }

    /// Adds a picture at its time.
    pub fn write_at(&mut self, ticks: i64, picture: &RgbImage) -> Result<(), WriteError> {
        let found = picture.dimensions();
        if found != self.size {
            return Err(WriteError::FrameSize {
                frame: self.frames,
                found_width: found.0,
                found_height: found.1,
                width: self.size.0,
                height: self.size.1,
            });
        }
        if let Some(before) = self.last.filter(|before| *before >= ticks) {
            return Err(WriteError::TimeNotAfter { frame: self.frames, ticks, before });
        }
        let converted = self
            .intake
            .convert(picture, ticks)
            .map_err(|cause| self.failed("convert a picture for", cause))?;
        self.encoder
            .send_frame(&converted)
            .map_err(|cause| self.failed("encode a picture for", cause))?;
        self.last_gap = self.last.map_or(self.usual_gap, |last| ticks - last);
        self.last = Some(ticks);
        self.frames += 1;
        self.in_flight.push_back(ticks);
        self.write_packets()
    }

    /// Completes the clip and puts it in its place.
    pub fn finish(mut self) -> Result<(), WriteError> {
        if self.frames == 0 {
            return Err(WriteError::NoFrames { path: self.target.clone() });
        }
        self.encoder.send_eof().map_err(|cause| self.failed("finish encoding", cause))?;
        self.write_packets()?;
        self.output.write_trailer().map_err(|cause| self.failed("complete", cause))?;
        let ClipWriter { target, temporary, output, .. } = self;
        // The muxer's file is closed before it is renamed.
        drop(output);
        let in_place = |reason: io::Error| WriteError::File { path: target.clone(), reason };
        std::fs::File::open(&temporary).and_then(|file| file.sync_all()).map_err(in_place)?;
        temporary.persist(&target).map_err(|failed| in_place(failed.error))
    }

    fn write_packets(&mut self) -> Result<(), WriteError> {
        let mut packet = ff::Packet::empty();
        loop {
            match self.encoder.receive_packet(&mut packet) {
                Ok(()) => {}
                Err(ff::Error::Eof) => return Ok(()),
                Err(ff::Error::Other { errno }) if errno == ff::error::EAGAIN => return Ok(()),
                Err(cause) => return Err(self.failed("encode", cause)),
            }
            packet.set_duration(self.duration_of(&packet));
            packet.set_stream(0);
            let clock =
                self.output.stream(0).map_or(ff::Rational::new(1, 1), |stream| stream.time_base());
            packet.rescale_ts(self.clock, clock);
            packet
                .write_interleaved(&mut self.output)
                .map_err(|cause| self.failed("write", cause))?;
        }
    }

    /// The distance to the frame shown next. Packets come in decode order, at most a few frames out of order.
    fn duration_of(&mut self, packet: &ff::Packet) -> i64 {
        let Some(ticks) = packet.pts() else {
            return self.usual_gap;
        };
        let next = self.in_flight.iter().find(|time| **time > ticks).copied();
        // Everything well before this packet has been written; a few hundred cover every reordering there is.
        while self.in_flight.len() > 512 {
            self.in_flight.pop_front();
        }
        next.map_or(self.last_gap, |next| next - ticks)
    }

    fn failed(&self, doing: &'static str, cause: ff::Error) -> WriteError {
        wrapped(&self.target, doing, cause)
    }
}

/// What the disk refused is told as such; ffmpeg passes on the system's number.
fn wrapped(path: &Path, doing: &'static str, cause: ff::Error) -> WriteError {
    use io::ErrorKind::{
        FileTooLarge, PermissionDenied, QuotaExceeded, ReadOnlyFilesystem, StorageFull,
    };
    if let ff::Error::Other { errno } = cause {
        let reason = io::Error::from_raw_os_error(errno);
        let of_disk =
            [FileTooLarge, PermissionDenied, QuotaExceeded, ReadOnlyFilesystem, StorageFull];
        if of_disk.contains(&reason.kind()) {
            return WriteError::File { path: path.to_owned(), reason };
        }
    }
    WriteError::Ffmpeg { path: path.to_owned(), doing, words: cause.to_string() }
}

fn check_size((width, height): (u32, u32)) -> Result<(), WriteError> {
    let fits = |side: u32| side.is_multiple_of(2) && (2..=LARGEST_SIDE).contains(&side);
    if fits(width) && fits(height) {
        return Ok(());
    }
    Err(WriteError::Size { width, height, largest: LARGEST_SIDE })
}

/// An empty file in the target's folder, which vanishes unless it is kept.
fn temporary_beside(target: &Path) -> Result<TempPath, WriteError> {
    let folder = match target.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let mut builder = tempfile::Builder::new();
    builder.prefix(".groundline-").suffix(".part.mp4");
    // A temporary file is private by default; the finished clip should be as readable as any new file.
    #[cfg(unix)]
    let builder = {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(std::fs::Permissions::from_mode(0o666))
    };
    let file: NamedTempFile = builder
        .tempfile_in(folder)
        .map_err(|reason| WriteError::File { path: target.to_owned(), reason })?;
    let temporary = file.into_temp_path();
    // ffmpeg-next passes names on as text.
    if temporary.to_str().is_none() {
        return Err(WriteError::PathNotText { path: target.to_owned() });
    }
    Ok(temporary)
}

/// `num / den` frames per second. FFmpeg counts in signed numbers: what does not fit would turn negative.
fn rational(num: u32, den: u32) -> Result<ff::Rational, WriteError> {
    match (i32::try_from(num), i32::try_from(den)) {
        (Ok(over), Ok(under)) => Ok(ff::Rational::new(over, under)),
        _ => Err(WriteError::Rate { num, den }),
    }
}

fn add_stream(
    output: &mut Output,
    encoder: &ff::codec::encoder::Video,
    clock: ff::Rational,
    options: &WriteOptions,
) -> Result<(), ff::Error> {
    let mut stream = output.add_stream_with(encoder)?;
    stream.set_time_base(clock);
    if options.codec != WriteCodec::H264 {
        // SAFETY: the stream was just added and its parameters belong to it; ffmpeg-next has no setter for the tag.
        unsafe { (*(*stream.as_mut_ptr()).codecpar).codec_tag = u32::from_le_bytes(*b"hvc1") };
    }
    Ok(())
}
