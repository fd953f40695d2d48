//! Frames of one clip as JPEG files, by a thread that owns the reader.
//!
//! The newest wish is served first: who scrubs wants the frame under the pointer, not those passed
//! on the way. A wish that nobody waits for any more is dropped. With nothing to do the thread goes
//! on in the direction of travel, so that the next step finds its frame made.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};

use image::imageops::FilterType;
use image::{GrayImage, RgbImage};
use tokio::sync::oneshot;

use crate::footage::{Clip, FootageError, Reader, ReaderOptions};
use crate::quantity::FrameNumber;

/// Quality of the pictures, of 100: what a phone's own clip shows is well below it.
const QUALITY: u8 = 86;
/// Encoded pictures that are kept, bytes: some 150 of 1080p.
const KEPT_BYTES: usize = 48 << 20;
/// Decoded pictures that are kept, so that steps back need not decode from the last key frame;
/// bytes: some 30 of 1080p, each of which was made into a kept JPEG besides.
const DECODED_BYTES: usize = 96 << 20;
/// How many frames are made ahead in the direction of travel.
const AHEAD: u32 = 12;

/// What a frame became, or why it cannot be shown.
pub(super) type Made = Result<Arc<Vec<u8>>, String>;

/// A thread that makes pictures of one clip.
pub(super) struct FrameServer {
    wishes: Sender<Wish>,
}

enum Wish {
    Picture { frame: FrameNumber, width: Option<u32>, reply: oneshot::Sender<Made> },
    Luma { frame: FrameNumber, reply: oneshot::Sender<Result<GrayImage, String>> },
    Concealed { frame: FrameNumber, reply: oneshot::Sender<Result<bool, String>> },
}

impl FrameServer {
    /// Starts the thread; it ends when this is dropped.
    pub fn start(clip: &Clip) -> Result<Self, FootageError> {
        let options = ReaderOptions { cache_bytes: DECODED_BYTES, ..ReaderOptions::default() };
        let reader = clip.reader_with(&options)?;
        let (wishes, received) = channel();
        let last = clip.last_frame();
        std::thread::spawn(move || Worker::new(reader, last).serve(&received));
        Ok(Self { wishes })
    }

    /// The picture of a frame; of `width` pixels where that is said and smaller. `None` where the
    /// thread is gone.
    pub async fn picture(&self, frame: FrameNumber, width: Option<u32>) -> Option<Made> {
        let (reply, made) = oneshot::channel();
        self.wishes.send(Wish::Picture { frame, width, reply }).ok()?;
        made.await.ok()
    }

    /// The brightness of a frame, upright, as coded.
    pub fn luma(&self, frame: FrameNumber) -> Option<Result<GrayImage, String>> {
        let (reply, made) = oneshot::channel();
        self.wishes.send(Wish::Luma { frame, reply }).ok()?;
        made.blocking_recv().ok()
    }

    /// Whether parts of a frame are damaged and guessed.
    pub fn is_concealed(&self, frame: FrameNumber) -> Option<Result<bool, String>> {
        let (reply, made) = oneshot::channel();
        self.wishes.send(Wish::Concealed { frame, reply }).ok()?;
        made.blocking_recv().ok()
    }
}

struct Worker {
    reader: Reader,
    last: FrameNumber,
    kept: Kept,
    /// The frame that was wished last, and the way from the one before it.
    at: Option<FrameNumber>,
    backwards: bool,
    /// Frames that cannot be made, so that they are not tried again ahead of time.
    lost: BTreeSet<FrameNumber>,
}

impl Worker {
    fn new(reader: Reader, last: FrameNumber) -> Self {
        let kept = Kept::default();
        Self { reader, last, kept, at: None, backwards: false, lost: BTreeSet::new() }
    }

    fn serve(&mut self, wishes: &Receiver<Wish>) {
        let mut waiting: Vec<Wish> = Vec::new();
        loop {
            let ahead = if waiting.is_empty() { self.next_ahead() } else { None };
            if waiting.is_empty() && ahead.is_none() {
                match wishes.recv() {
                    Ok(wish) => waiting.push(wish),
                    Err(_) => return,
                }
            }
            loop {
                match wishes.try_recv() {
                    Ok(wish) => waiting.push(wish),
                    Err(TryRecvError::Empty) => break,
                    Err(TryRecvError::Disconnected) => return,
                }
            }
            match (waiting.pop(), ahead) {
                (Some(wish), _) => self.answer(wish),
                (None, Some(frame)) => {
                    if self.made(frame).is_err() {
                        self.lost.insert(frame);
                    }
                }
                (None, None) => {}
            }
        }
    }

    fn answer(&mut self, wish: Wish) {
        match wish {
            Wish::Picture { reply, .. } if reply.is_closed() => {}
            Wish::Picture { frame, width: Some(width), reply } => {
                // Nobody is left to be told when it was given up meanwhile.
                let _ = reply.send(self.small(frame, width));
            }
            Wish::Picture { frame, width: None, reply } => {
                if let Some(before) = self.at.replace(frame) {
                    self.backwards = frame < before;
                }
                let _ = reply.send(self.made(frame));
            }
            Wish::Luma { frame, reply } => {
                let found = self.reader.luma(frame).map_err(|error| error.to_string());
                let _ = reply.send(found);
            }
            Wish::Concealed { frame, reply } => {
                let found = self.reader.is_concealed(frame).map_err(|error| error.to_string());
                let _ = reply.send(found);
            }
        }
    }

    /// The first frame ahead that is not made.
    fn next_ahead(&self) -> Option<FrameNumber> {
        let at = self.at?.0;
        let ahead = |step: u32| {
            let frame = if self.backwards { at.checked_sub(step)? } else { at + step };
            (frame <= self.last.0).then_some(FrameNumber(frame))
        };
        (1..=AHEAD)
            .filter_map(ahead)
            .find(|frame| !self.kept.has(*frame) && !self.lost.contains(frame))
    }

    fn made(&mut self, frame: FrameNumber) -> Made {
        if let Some(kept) = self.kept.get(frame) {
            return Ok(kept);
        }
        let made = Arc::new(self.reader.jpeg(frame).map_err(|error| error.to_string())?);
        self.kept.put(frame, Arc::clone(&made));
        Ok(made)
    }

    fn small(&mut self, frame: FrameNumber, width: u32) -> Made {
        let picture = self.reader.frame(frame).map_err(|error| error.to_string())?.picture;
        small_jpeg(&picture, width).map(Arc::new)
    }
}

/// One small picture of a clip that nobody has opened yet, from its middle.
pub(super) fn poster(clip: &Clip, width: u32) -> Result<Vec<u8>, String> {
    let options = ReaderOptions { threads: Some(1), cache_bytes: 0 };
    let middle = FrameNumber(clip.frame_count() / 2);
    let picture = clip.reader_with(&options).and_then(|mut reader| reader.frame(middle));
    small_jpeg(&picture.map_err(|error| error.to_string())?.picture, width)
}

fn small_jpeg(picture: &RgbImage, width: u32) -> Result<Vec<u8>, String> {
    let (full, height) = picture.dimensions();
    if width >= full {
        return jpeg(picture);
    }
    let height = (u64::from(height) * u64::from(width) / u64::from(full)).max(1) as u32;
    jpeg(&image::imageops::resize(picture, width, height, FilterType::Triangle))
}

fn jpeg(picture: &RgbImage) -> Result<Vec<u8>, String> {
    let side = |side: u32| {
        u16::try_from(side).map_err(|_| format!("a picture {side} pixels long cannot be a JPEG"))
    };
    let (width, height) = (side(picture.width())?, side(picture.height())?);
    let mut bytes = Vec::with_capacity(picture.as_raw().len() / 8);
    let mut encoder = jpeg_encoder::Encoder::new(&mut bytes, QUALITY);
    encoder.set_sampling_factor(jpeg_encoder::SamplingFactor::F_2_2);
    encoder
        .encode(picture.as_raw(), width, height, jpeg_encoder::ColorType::Rgb)
        .map_err(|error| error.to_string())?;
    Ok(bytes)
}

/// Encoded pictures, the one used longest ago given up first.
#[derive(Default)]
struct Kept {
    pictures: BTreeMap<FrameNumber, (Arc<Vec<u8>>, u64)>,
    bytes: usize,
    clock: u64,
}

impl Kept {
    fn has(&self, frame: FrameNumber) -> bool {
        self.pictures.contains_key(&frame)
    }

    fn get(&mut self, frame: FrameNumber) -> Option<Arc<Vec<u8>>> {
        self.clock += 1;
        let (picture, used) = self.pictures.get_mut(&frame)?;
        *used = self.clock;
        Some(Arc::clone(picture))
    }

    fn put(&mut self, frame: FrameNumber, picture: Arc<Vec<u8>>) {
        self.clock += 1;
        self.bytes += picture.len();
        if let Some((old, _)) = self.pictures.insert(frame, (picture, self.clock)) {
            self.bytes -= old.len();
        }
        while self.bytes > KEPT_BYTES && self.pictures.len() > 1 {
            let oldest = self.pictures.iter().min_by_key(|(_, (_, used))| *used);
            let Some(oldest) = oldest.map(|(frame, _)| *frame) else { break };
            if let Some((gone, _)) = self.pictures.remove(&oldest) {
                self.bytes -= gone.len();
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_picture_used_longest_ago_is_given_up_first() {
        let mut kept = Kept::default();
        let third = || Arc::new(vec![0; KEPT_BYTES / 3]);
        for frame in 0..3 {
            kept.put(FrameNumber(frame), third());
        }
        assert!(kept.get(FrameNumber(0)).is_some());
        kept.put(FrameNumber(3), third());
        let left: Vec<u32> = (0..4).filter(|frame| kept.has(FrameNumber(*frame))).collect();
        assert_eq!(left, [0, 2, 3]);
        assert!(kept.bytes <= KEPT_BYTES);
    }
}
