//! A few decoded frames, kept so that stepping backwards does not decode a whole group for every step.
//!
//! Frames are kept as the decoder gave them (half the bytes of RGB). Invariant: the bytes held never exceed the limit
//! by more than one frame; the frames farthest from the one last asked for go first.

use std::collections::BTreeMap;
use std::sync::Arc;

use ffmpeg_next as ff;

use super::fetch::Kept;
use crate::quantity::time::FrameNumber;

pub struct FrameCache {
    limit_bytes: usize,
    bytes: usize,
    frames: BTreeMap<FrameNumber, Arc<Kept>>,
}

impl FrameCache {
    pub fn new(limit_bytes: usize) -> FrameCache {
        FrameCache { limit_bytes, bytes: 0, frames: BTreeMap::new() }
    }

    pub fn get(&self, number: FrameNumber) -> Option<Arc<Kept>> {
        self.frames.get(&number).cloned()
    }

    /// Keeps a frame, and lets go of the ones farthest from `wanted` until the rest fits.
    pub fn put(&mut self, number: FrameNumber, frame: Arc<Kept>, wanted: FrameNumber) {
        self.bytes += bytes(&frame.picture);
        if let Some(before) = self.frames.insert(number, frame) {
            self.bytes -= bytes(&before.picture);
        }
        while self.bytes > self.limit_bytes && self.frames.len() > 1 {
            let Some(farthest) = self.farthest_from(wanted) else {
                return;
            };
            self.remove(farthest);
        }
    }

    /// Lets go of every frame after `number`.
    pub fn drop_after(&mut self, number: FrameNumber) {
        let later = self.frames.split_off(&FrameNumber(number.0.saturating_add(1)));
        self.bytes -= later.values().map(|frame| bytes(&frame.picture)).sum::<usize>();
    }

    fn farthest_from(&self, wanted: FrameNumber) -> Option<FrameNumber> {
        let ends = [self.frames.keys().next(), self.frames.keys().next_back()];
        ends.into_iter().flatten().copied().max_by_key(|number| number.0.abs_diff(wanted.0))
    }

    fn remove(&mut self, number: FrameNumber) {
        if let Some(frame) = self.frames.remove(&number) {
            self.bytes -= bytes(&frame.picture);
        }
    }
}

/// What a frame occupies.
fn bytes(frame: &ff::frame::Video) -> usize {
    // SAFETY: reads the buffer list of an allocated frame; an entry is null or points to a live reference.
    let buffers = unsafe { (*frame.as_ptr()).buf };
    buffers
        .iter()
        .filter(|buffer| !buffer.is_null())
        // SAFETY: not null, and kept alive by the frame.
        .map(|buffer| unsafe { (**buffer).size })
        .sum()
}
