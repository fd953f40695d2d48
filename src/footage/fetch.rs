//! From a frame number to a decoded picture: the cache, the running decode, or a new decode.
//!
//! Going forward decodes on; going far forward or back starts at the frame's start packet and decodes up to it.
//! Groups of frames in which the fast decoder met damage are decoded again, carefully, each from its own start.
//! Invariant: a frame has the same pixels however it was reached, because pictures that came out of a decode begun
//! after their start packet, or out of a damaged group in haste, are thrown away. A frame that cannot be decoded is
//! remembered, and the frames around it are not affected.

use std::collections::BTreeSet;
use std::sync::Arc;

use ffmpeg_next as ff;

use super::cache::FrameCache;
use super::decode::{Decode, Decoded, Pace};
use super::error::FootageError;
use super::index::{FrameRow, Index};
use crate::quantity::time::FrameNumber;

/// How far ahead of the decoder a start packet must lie before jumping there beats decoding on.
const DECODE_ON: u32 = 8;
/// Packets after a frame's own after which it will not come any more, where its order is not certain.
const GIVEN_UP_AFTER: u32 = 64;
/// How many earlier start points are tried for a frame that does not come out.
const EARLIER_STARTS: usize = 2;

/// A decoded picture that is kept.
pub struct Kept {
    pub picture: ff::frame::Video,
    pub concealed: bool,
}

pub struct Fetch {
    index: Arc<Index>,
    decode: Decode,
    cache: FrameCache,
    /// The last frame that came out of the running decode.
    last_out: Option<FrameNumber>,
    /// Start packets of groups with damage.
    suspects: BTreeSet<u32>,
    /// Frames that do not come out of any decode.
    lost: BTreeSet<FrameNumber>,
    /// Complaints of careful decoding.
    complaints: u32,
}

impl Fetch {
    pub fn new(
        mut decode: Decode,
        index: Arc<Index>,
        cache_bytes: usize,
    ) -> Result<Fetch, FootageError> {
        decode.start_at(0, Pace::Fast, &index)?;
        let mut fetch = Fetch {
            index,
            decode,
            cache: FrameCache::new(cache_bytes),
            last_out: None,
            suspects: BTreeSet::new(),
            lost: BTreeSet::new(),
            complaints: 0,
        };
        for number in 0..fetch.index.damaged.len() {
            let row = fetch.index.frames[fetch.index.damaged[number].0 as usize];
            fetch.suspect(row.packet, row.packet);
        }
        Ok(fetch)
    }

    pub fn index(&self) -> &Index {
        &self.index
    }

    /// How often careful decoding has complained.
    pub fn complaints(&self) -> u32 {
        self.complaints
    }

    /// The frame's picture; `None` where its data is damaged so that nothing comes out.
    pub fn frame(
        &mut self,
        number: FrameNumber,
        row: FrameRow,
    ) -> Result<Option<Arc<Kept>>, FootageError> {
        if let Some(kept) = self.cache.get(number) {
            return Ok(Some(kept));
        }
        if self.lost.contains(&number) {
            return Ok(None);
        }
        if !self.suspects.contains(&row.start) {
            if !self.lies_ahead(number, row) {
                self.restart(number, row.start, Pace::Fast)?;
            }
            if let Some(found) = self.run_to(number, row) {
                return Ok(Some(found));
            }
            self.suspects.insert(row.start);
        }
        let found = self.frame_with_care(number, row)?;
        if found.is_none() {
            self.lost.insert(number);
        }
        Ok(found)
    }

    /// Decodes all frames in order and shows each to `visit`, as fast as the decoder goes while nothing is damaged.
    /// Returns the first frame that was not shown, from which `frame` must go on.
    pub fn run_through(
        &mut self,
        mut visit: impl FnMut(FrameNumber, &Kept),
    ) -> Result<FrameNumber, FootageError> {
        let mut next = FrameNumber(0);
        if !self.suspects.is_empty() {
            return Ok(next);
        }
        self.restart(next, 0, Pace::Fast)?;
        let errors = self.decode.errors();
        while let Some(decoded) = self.decode.next() {
            if self.decode.errors() != errors {
                self.suspect_recent();
                break;
            }
            let Some(found) = self.index.frame_of(decoded.packet) else {
                continue;
            };
            if found != next || decoded.concealed {
                break;
            }
            visit(found, &kept(decoded));
            next.0 += 1;
        }
        // What is in flight was not shown and will not be asked for in order.
        self.last_out = Some(FrameNumber(u32::MAX));
        Ok(next)
    }

    fn frame_with_care(
        &mut self,
        number: FrameNumber,
        row: FrameRow,
    ) -> Result<Option<Arc<Kept>>, FootageError> {
        let running = self.decode.pace() == Pace::Careful && self.decode.start() == row.start;
        if !running || !self.lies_ahead(number, row) {
            self.restart(number, row.start, Pace::Careful)?;
        }
        if let Some(found) = self.run_to(number, row) {
            return Ok(Some(found));
        }
        // Some streams need a longer run-up than their key frames promise (gradual refresh).
        let mut start = row.start;
        for _ in 0..EARLIER_STARTS {
            let Some(earlier) = self.index.earlier_start(start) else {
                break;
            };
            start = earlier;
            self.restart(number, start, Pace::Careful)?;
            let found = self.run_to(number, row);
            // The rest of this decode began too early to count for other frames.
            self.last_out = Some(FrameNumber(u32::MAX));
            if found.is_some() {
                return Ok(found);
            }
        }
        Ok(None)
    }

    /// Whether the running decode will come to the frame, and soon enough.
    fn lies_ahead(&self, number: FrameNumber, row: FrameRow) -> bool {
        let start_fits = match self.decode.pace() {
            Pace::Fast => self.decode.start() <= row.start && !self.suspects.contains(&row.start),
            Pace::Careful => self.decode.start() == row.start && self.suspects.contains(&row.start),
        };
        start_fits
            && !self.decode.ended()
            && self.last_out.is_none_or(|last| last < number)
            && row.start <= self.decode.fed().saturating_add(DECODE_ON)
    }

    fn restart(
        &mut self,
        number: FrameNumber,
        packet: u32,
        pace: Pace,
    ) -> Result<(), FootageError> {
        self.cache.drop_after(number);
        self.last_out = None;
        self.decode.start_at(packet, pace, &self.index)
    }

    /// Decodes until the frame comes out or is known not to come.
    fn run_to(&mut self, number: FrameNumber, row: FrameRow) -> Option<Arc<Kept>> {
        loop {
            let errors = self.decode.errors();
            let decoded = self.decode.next();
            let complaints = self.decode.errors() - errors;
            match self.decode.pace() {
                Pace::Fast if complaints > 0 => self.suspect_recent(),
                Pace::Fast => {}
                Pace::Careful => self.complaints += complaints,
            }
            let decoded = decoded?;
            let packet = decoded.packet;
            if self.decode.pace() == Pace::Fast && decoded.concealed {
                self.suspect(packet, packet);
            }
            let Some(found) = self.index.frame_of(packet) else {
                continue;
            };
            self.last_out = self.last_out.max(Some(found));
            if self.counts(found, number) {
                let picture = Arc::new(kept(decoded));
                self.cache.put(found, Arc::clone(&picture), number);
                if found == number {
                    return Some(picture);
                }
            }
            let passed_by = self.index.certain && found >= number;
            let too_late = self.decode.fed() > row.packet.saturating_add(GIVEN_UP_AFTER);
            let in_haste = self.decode.pace() == Pace::Fast && self.suspects.contains(&row.start);
            if passed_by || too_late || in_haste {
                return None;
            }
        }
    }

    /// Whether the running decode gives this frame its true pixels.
    fn counts(&self, found: FrameNumber, wanted: FrameNumber) -> bool {
        let start = self.index.frames[found.0 as usize].start;
        match self.decode.pace() {
            Pace::Fast => start >= self.decode.start() && !self.suspects.contains(&start),
            // A decode that began even earlier is the last resort for one frame.
            Pace::Careful => {
                start == self.decode.start() || (found == wanted && start > self.decode.start())
            }
        }
    }

    /// Damage lies in one of the packets that the decoder is working on.
    fn suspect_recent(&mut self) {
        let last = self.decode.fed();
        self.suspect(last.saturating_sub(self.decode.depth()), last);
    }

    /// Marks the groups that these packets belong to.
    fn suspect(&mut self, first: u32, last: u32) {
        for packet in first..=last {
            if let Some(start) =
                self.index.frame_of(packet).map(|number| self.index.frames[number.0 as usize].start)
            {
                self.suspects.insert(start);
            }
        }
        self.suspects.insert(self.index.group_of(first));
        self.suspects.insert(self.index.group_of(last));
    }
}

fn kept(decoded: Decoded) -> Kept {
    Kept { picture: decoded.picture, concealed: decoded.concealed }
}
