//! Reading frames by number: upright pictures, luma, or everything in order.
//!
//! Which packets to decode for a frame is the business of `fetch`, how a decoded picture becomes an upright one that
//! of `picture`; this file joins them and words the errors. Invariant: an error is about the frame that was asked
//! for; the reader stays usable.

use std::path::PathBuf;
use std::sync::Arc;

use image::{GrayImage, RgbImage};

use super::clip::row;
use super::colour::Colour;
use super::decode::Decode;
use super::error::FootageError;
use super::fetch::{Fetch, Kept};
use super::ffmpeg;
use super::index::{FrameRow, Index};
use super::jpeg::JpegMaker;
use super::picture::{Converter, Geometry, PictureError};
use super::source::Source;
use crate::quantity::time::{FrameNumber, FrameTime};

const CACHE_BYTES: usize = 160 << 20;
/// Each decoder thread holds a frame or two of its own; this bounds them together.
const THREAD_BYTES: usize = 128 << 20;

/// How to read.
#[derive(Clone, Debug)]
pub struct ReaderOptions {
    /// Decoder threads; as many as the machine and the picture size allow if absent.
    pub threads: Option<usize>,
    /// Decoded frames kept for stepping back, in bytes.
    pub cache_bytes: usize,
}

impl Default for ReaderOptions {
    fn default() -> ReaderOptions {
        ReaderOptions { threads: None, cache_bytes: CACHE_BYTES }
    }
}

impl ReaderOptions {
    /// For reading from front to back only.
    pub fn without_cache() -> ReaderOptions {
        ReaderOptions { cache_bytes: 0, ..ReaderOptions::default() }
    }
}

/// One upright, square-pixel picture with its exact time.
#[derive(Clone, Debug)]
pub struct Frame {
    /// Its place in the clip.
    pub number: FrameNumber,
    /// Its time on the container's clock.
    pub time: FrameTime,
    /// The upright picture in sRGB.
    pub picture: RgbImage,
    /// Parts of the picture were damaged in the file and are guessed.
    pub concealed: bool,
}

/// A frame as the decoder gave it: not turned, not resized, not converted.
pub struct RawFrame<'a> {
    kept: &'a Kept,
}

impl RawFrame<'_> {
    /// Width as stored.
    pub fn width_px(&self) -> u32 {
        self.kept.picture.width()
    }

    /// Height as stored.
    pub fn height_px(&self) -> u32 {
        self.kept.picture.height()
    }

    /// Parts of the picture were damaged in the file and are guessed.
    pub fn is_concealed(&self) -> bool {
        self.kept.concealed
    }
}

/// Reads frames of one clip in any order; stepping back is as cheap as its cache allows.
pub struct Reader {
    path: PathBuf,
    geometry: Geometry,
    fetch: Fetch,
    converter: Converter,
    jpeg: JpegMaker,
}

impl Reader {
    pub(super) fn new(
        source: Source,
        index: Arc<Index>,
        geometry: Geometry,
        colour: Colour,
        options: &ReaderOptions,
    ) -> Result<Reader, FootageError> {
        let path = source.path().to_owned();
        let threads = options.threads.unwrap_or_else(|| usual_threads(geometry.stored));
        let decode = Decode::new(source, index.held_back, threads)?;
        Ok(Reader {
            path,
            geometry,
            fetch: Fetch::new(decode, index, options.cache_bytes)?,
            converter: Converter::new(geometry, colour),
            jpeg: JpegMaker::default(),
        })
    }

    /// The frame as an upright picture in sRGB.
    pub fn frame(&mut self, number: FrameNumber) -> Result<Frame, FootageError> {
        let (time, kept) = self.decoded(number)?;
        let picture =
            self.converter.rgb(&kept.picture).map_err(|cause| self.unconverted(number, cause))?;
        Ok(Frame { number, time, picture, concealed: kept.concealed })
    }

    /// The upright picture as a JPEG file for a screen, made from the decoder's own planes where they can be read.
    pub fn jpeg(&mut self, number: FrameNumber) -> Result<Vec<u8>, FootageError> {
        let (_, kept) = self.decoded(number)?;
        let planes = self
            .converter
            .jpeg_planes(&kept.picture)
            .map_err(|cause| self.unconverted(number, cause))?;
        self.jpeg
            .make(&planes)
            .map_err(|cause| ffmpeg::error(&self.path, "make a JPEG of a frame of", cause))
    }

    /// Whether parts of the frame are damaged in the file and guessed.
    pub fn is_concealed(&mut self, number: FrameNumber) -> Result<bool, FootageError> {
        self.decoded(number).map(|(_, kept)| kept.concealed)
    }

    /// The frame's luma, upright, in 8 bits and otherwise as coded.
    pub fn luma(&mut self, number: FrameNumber) -> Result<GrayImage, FootageError> {
        let (_, kept) = self.decoded(number)?;
        self.converter.luma(&kept.picture).map_err(|cause| self.unconverted(number, cause))
    }

    /// Decodes the whole clip in order and shows every frame that comes out. Returns how often the decoder complained.
    pub fn decode_all(
        &mut self,
        mut visit: impl FnMut(FrameNumber, FrameTime, &RawFrame<'_>),
    ) -> Result<u32, FootageError> {
        let complaints = self.fetch.complaints();
        let times: Vec<FrameTime> =
            self.fetch.index().frames.iter().map(|row| self.fetch.index().time(row)).collect();
        let mut show = |number: FrameNumber, kept: &Kept| {
            visit(number, times[number.0 as usize], &RawFrame { kept })
        };
        let next = self.fetch.run_through(&mut show)?;
        for number in (next.0..self.frame_count()).map(FrameNumber) {
            let row = self.fetch.index().frames[number.0 as usize];
            if let Some(kept) = self.fetch.frame(number, row)? {
                show(number, &kept);
            }
        }
        Ok(self.fetch.complaints() - complaints)
    }

    pub(super) fn frame_count(&self) -> u32 {
        self.fetch.index().frames.len() as u32
    }

    fn decoded(&mut self, number: FrameNumber) -> Result<(FrameTime, Arc<Kept>), FootageError> {
        let row = *row(self.fetch.index(), &self.path, number)?;
        let kept = self.fetch.frame(number, row)?.ok_or_else(|| self.damaged(number, row))?;
        Ok((self.fetch.index().time(&row), kept))
    }

    fn damaged(&self, frame: FrameNumber, row: FrameRow) -> FootageError {
        FootageError::FrameDamaged {
            path: self.path.clone(),
            frame,
            time_s: self.fetch.index().time(&row).seconds(),
        }
    }

    fn unconverted(&self, frame: FrameNumber, cause: PictureError) -> FootageError {
        match cause {
            PictureError::Size { found } => FootageError::FrameSizeChanged {
                path: self.path.clone(),
                frame,
                found_width: found.0,
                found_height: found.1,
                width: self.geometry.stored.0,
                height: self.geometry.stored.1,
            },
            PictureError::Scaler(cause) => ffmpeg::error(&self.path, "convert a frame of", cause),
        }
    }
}

/// One thread more than cores, as ffmpeg does, but no more than large pictures leave room for.
fn usual_threads(stored: (u32, u32)) -> usize {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    // Two bytes a sample and half as many chroma samples again: a 10-bit 4:2:0 picture.
    let frame_bytes =
        (stored.0 as usize).saturating_mul(stored.1 as usize).saturating_mul(3).max(1);
    (cores + 1).min(16).min((THREAD_BYTES / frame_bytes).max(2))
}
