//! Keeping what was seen, and handing it out in the end.

use super::spread::Cells;
use super::tracks::{Held, Sighting, TrackedFrame, Tracks};
use crate::quantity::FrameNumber;
use crate::scene::{FramePoint, PictureSize};

/// Frames that make a piece.
const SHORTEST: usize = 5;

/// A sighting before points have their final numbers.
#[derive(Clone, Copy, Debug)]
pub(super) struct Seen {
    pub(super) point: usize,
    pub(super) at: FramePoint,
    pub(super) sd_px: f32,
}

#[derive(Clone, Debug)]
struct Kept {
    frame: FrameNumber,
    key: bool,
    piece: u32,
    held: Held,
    seen: Vec<Seen>,
}

/// All frames so far.
pub(super) struct Record {
    size: PictureSize,
    between: usize,
    frames: Vec<Kept>,
    /// Everything seen in the latest frame when that is not a key frame: it may still become one.
    whole_last: Option<Vec<Seen>>,
}

impl Record {
    pub(super) fn new(size: PictureSize, between: usize) -> Self {
        Self { size, between, frames: Vec::new(), whole_last: None }
    }

    pub(super) fn lost(&mut self, frame: FrameNumber, piece: u32) {
        self.promote_last();
        self.frames.push(Kept { frame, key: false, piece, held: Held::Lost, seen: Vec::new() });
    }

    pub(super) fn key(&mut self, frame: FrameNumber, piece: u32, held: Held, seen: Vec<Seen>) {
        self.whole_last = None;
        self.frames.push(Kept { frame, key: true, piece, held, seen });
    }

    pub(super) fn between(&mut self, frame: FrameNumber, piece: u32, held: Held, seen: Vec<Seen>) {
        let thinned = self.thinned(&seen);
        self.whole_last = Some(seen);
        self.frames.push(Kept { frame, key: false, piece, held, seen: thinned });
    }

    /// Makes the latest frame a key frame: nothing after it shows its points.
    pub(super) fn promote_last(&mut self) {
        if let (Some(seen), Some(last)) = (self.whole_last.take(), self.frames.last_mut()) {
            last.key = true;
            last.seen = seen;
        }
    }

    /// A few sightings, well spread: the longest known point of each cell, in turns.
    fn thinned(&self, seen: &[Seen]) -> Vec<Seen> {
        if seen.len() <= self.between {
            return seen.to_vec();
        }
        let cells = Cells::for_thinning(self.size);
        let mut sorted: Vec<Vec<Seen>> = vec![Vec::new(); cells.count()];
        seen.iter().for_each(|seen| sorted[cells.of(seen.at)].push(*seen));
        for cell in &mut sorted {
            cell.sort_by_key(|seen| seen.point);
        }
        let mut kept = Vec::with_capacity(self.between);
        for round in 0.. {
            for cell in &sorted {
                if let Some(&seen) = cell.get(round)
                    && kept.len() < self.between
                {
                    kept.push(seen);
                }
            }
            if kept.len() >= self.between {
                break;
            }
        }
        kept.sort_by_key(|seen| seen.point);
        kept
    }

    /// A piece of a few frames is a flash or a blur between two cuts: its frames are lost. The
    /// others are numbered anew without gaps.
    fn drop_short_pieces(&mut self) {
        let most = self.frames.iter().map(|kept| kept.piece as usize + 1).max().unwrap_or(0);
        let mut lengths = vec![0; most];
        for kept in self.frames.iter().filter(|kept| kept.held != Held::Lost) {
            lengths[kept.piece as usize] += 1;
        }
        let mut numbers = vec![None; most];
        let mut next = 0;
        for (number, &length) in numbers.iter_mut().zip(&lengths) {
            if length >= SHORTEST {
                *number = Some(next);
                next += 1;
            }
        }
        let mut current = 0;
        for kept in &mut self.frames {
            match numbers[kept.piece as usize] {
                Some(number) => current = number,
                None => {
                    kept.seen.clear();
                    kept.key = false;
                    kept.held = Held::Lost;
                }
            }
            kept.piece = current;
        }
    }

    /// The tracks, without sightings of `void` points and of those that only one key frame sees,
    /// points numbered anew without gaps.
    pub(super) fn finish(mut self, void: &[bool]) -> Tracks {
        self.promote_last();
        self.drop_short_pieces();
        let mut in_keys = vec![0_u32; void.len()];
        let mut sds: Vec<Vec<f32>> = vec![Vec::new(); void.len()];
        for seen in self.frames.iter().flat_map(|frame| &frame.seen) {
            if seen.sd_px > 0.0 {
                sds[seen.point].push(seen.sd_px);
            }
        }
        for seen in self.frames.iter().filter(|frame| frame.key).flat_map(|frame| &frame.seen) {
            in_keys[seen.point] += 1;
        }
        let mut numbers: Vec<Option<u32>> = vec![None; void.len()];
        let mut points = 0;
        for (point, number) in numbers.iter_mut().enumerate() {
            if !void[point] && in_keys[point] >= 2 && !sds[point].is_empty() {
                *number = Some(points);
                points += 1;
            }
        }
        let usual: Vec<f32> = sds.iter_mut().map(|sds| median(sds)).collect();
        let sighting = |seen: &Seen| {
            let point = numbers[seen.point]?;
            // Where a point was born its place is the patch's own; how well that tells the place
            // of the thing is as for any other look at it.
            let sd_px = if seen.sd_px > 0.0 { seen.sd_px } else { usual[seen.point] };
            Some(Sighting { point, at: seen.at, sd_px })
        };
        let frames = self.frames.iter().map(|kept| {
            let sightings: Vec<Sighting> = kept.seen.iter().filter_map(sighting).collect();
            let held = if sightings.is_empty() { Held::Lost } else { kept.held };
            let key = kept.key && !sightings.is_empty();
            TrackedFrame { frame: kept.frame, key, piece: kept.piece, held, sightings }
        });
        Tracks { picture: self.size, frames: frames.collect(), points }
    }
}

fn median(values: &mut [f32]) -> f32 {
    if values.is_empty() {
        return 0.0;
    }
    let middle = values.len() / 2;
    *values.select_nth_unstable_by(middle, f32::total_cmp).1
}
