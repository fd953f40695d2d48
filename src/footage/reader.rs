//! Reading frames by number: upright pictures, luma, or everything in order.
//!
//! Going forward decodes on; going far forward or back starts at the frame's start packet and decodes up to it.
//! A few decoded frames are kept, so stepping back is usually free. Invariant: a frame has the same pixels however
//! it was reached, because pictures that came out of a decode begun after their start packet are thrown away.
//! A frame that cannot be decoded is an error for that frame alone, and is remembered.

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::Arc;

use ffmpeg_next as ff;
use image::{GrayImage, RgbImage};

use super::cache::FrameCache;
use super::clip::row;
use super::colour::Colour;
use super::decode::Decode;
use super::error::FootageError;
use super::ffmpeg;
use super::index::{FrameRow, Index};
use super::picture::{Converter, Geometry, PictureError};
use super::source::Source;
use crate::quantity::time::{FrameNumber, FrameTime};

/// How far ahead of the decoder a start packet must lie before jumping there beats decoding on.
const DECODE_ON: u32 = 8;
/// Packets after a frame's own after which it will not come any more, where its order is not certain.
const GIVEN_UP_AFTER: u32 = 64;
/// How many earlier start points are tried for a frame that does not come out.
const EARLIER_STARTS: usize = 2;
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
    pub number: FrameNumber,
    pub time: FrameTime,
    pub picture: RgbImage,
}

/// A frame as the decoder gave it: not turned, not resized, not converted.
pub struct RawFrame<'a> {
    picture: &'a ff::frame::Video,
}

impl RawFrame<'_> {
    pub fn width_px(&self) -> u32 {
        self.picture.width()
    }

    pub fn height_px(&self) -> u32 {
        self.picture.height()
    }
}

pub struct Reader {
    path: PathBuf,
    index: Arc<Index>,
    geometry: Geometry,
    decode: Decode,
    converter: Converter,
    cache: FrameCache,
    /// The last frame that came out of the running decode.
    last_out: Option<FrameNumber>,
    /// Frames found to be unreadable.
    damaged: BTreeSet<FrameNumber>,
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
        let mut decode = Decode::new(source, index.held_back, threads)?;
        decode.start_at(0, &index)?;
        Ok(Reader {
            path,
            index,
            geometry,
            decode,
            converter: Converter::new(geometry, colour),
            cache: FrameCache::new(options.cache_bytes),
            last_out: None,
            damaged: BTreeSet::new(),
        })
    }

    /// The frame as an upright picture in sRGB.
    pub fn frame(&mut self, number: FrameNumber) -> Result<Frame, FootageError> {
        let row = *row(&self.index, &self.path, number)?;
        let raw = self.decoded(number, row)?;
        let picture = self.converter.rgb(&raw).map_err(|cause| self.unconverted(number, cause))?;
        Ok(Frame { number, time: self.index.time(&row), picture })
    }

    /// The frame's luma, upright, in 8 bits and otherwise as coded.
    pub fn luma(&mut self, number: FrameNumber) -> Result<GrayImage, FootageError> {
        let row = *row(&self.index, &self.path, number)?;
        let raw = self.decoded(number, row)?;
        self.converter.luma(&raw).map_err(|cause| self.unconverted(number, cause))
    }

    /// Decodes the whole clip in order and shows every readable frame. Returns how often the decoder complained.
    pub fn decode_all(
        &mut self,
        mut visit: impl FnMut(FrameNumber, FrameTime, &RawFrame<'_>),
    ) -> Result<u32, FootageError> {
        self.restart(0)?;
        let errors_before = self.decode.errors();
        while let Some(decoded) = self.decode.next() {
            let Some(number) = self.index.frame_of(decoded.packet) else { continue };
            if decoded.damaged {
                self.damaged.insert(number);
                continue;
            }
            let time = self.index.time(&self.index.frames[number.0 as usize]);
            visit(number, time, &RawFrame { picture: &decoded.picture });
        }
        self.last_out = None;
        Ok(self.decode.errors() - errors_before)
    }

    pub(super) fn frame_count(&self) -> u32 {
        self.index.frames.len() as u32
    }

    /// The decoded frame, from the cache, the running decode, or a new one.
    fn decoded(
        &mut self,
        number: FrameNumber,
        row: FrameRow,
    ) -> Result<Arc<ff::frame::Video>, FootageError> {
        if let Some(kept) = self.cache.get(number) {
            return Ok(kept);
        }
        if self.damaged.contains(&number) {
            return Err(self.damaged_error(number, row));
        }
        if !self.lies_ahead(number, row) {
            self.cache.drop_after(number);
            self.restart(row.start)?;
        }
        if let Some(found) = self.run_to(number, row) {
            return Ok(found);
        }
        // Some streams need a longer run-up than their key frames promise (gradual refresh).
        let mut start = self.decode.start().min(row.start);
        for _ in 0..EARLIER_STARTS {
            if self.damaged.contains(&number) {
                break;
            }
            let Some(earlier) = self.index.earlier_start(start) else { break };
            start = earlier;
            self.restart(start)?;
            if let Some(found) = self.run_to(number, row) {
                return Ok(found);
            }
        }
        self.damaged.insert(number);
        Err(self.damaged_error(number, row))
    }

    /// Whether the running decode will come to the frame, and soon enough.
    fn lies_ahead(&self, number: FrameNumber, row: FrameRow) -> bool {
        !self.decode.ended()
            && self.decode.start() <= row.start
            && self.last_out.is_none_or(|last| last < number)
            && row.start <= self.decode.fed().saturating_add(DECODE_ON)
    }

    fn restart(&mut self, packet: u32) -> Result<(), FootageError> {
        self.last_out = None;
        self.decode.start_at(packet, &self.index)
    }

    /// Decodes until the frame comes out or is known not to come.
    fn run_to(&mut self, number: FrameNumber, row: FrameRow) -> Option<Arc<ff::frame::Video>> {
        loop {
            let decoded = self.decode.next()?;
            let Some(found) = self.index.frame_of(decoded.packet) else { continue };
            if self.index.frames[found.0 as usize].start < self.decode.start() {
                continue;
            }
            self.last_out = self.last_out.max(Some(found));
            if decoded.damaged {
                self.damaged.insert(found);
            } else {
                let picture = Arc::new(decoded.picture);
                self.cache.put(found, Arc::clone(&picture), number);
                if found == number {
                    return Some(picture);
                }
            }
            let passed_by = self.index.certain && found > number;
            let too_late = self.decode.fed() > row.packet.saturating_add(GIVEN_UP_AFTER);
            if found == number || passed_by || too_late {
                return None;
            }
        }
    }

    fn damaged_error(&self, frame: FrameNumber, row: FrameRow) -> FootageError {
        FootageError::FrameDamaged {
            path: self.path.clone(),
            frame,
            time_s: self.index.time(&row).seconds(),
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
