//! Frame after frame: follow, judge, decide on key frames, begin again after a loss.

use rayon::prelude::*;

use super::consensus::{Consensus, Judge};
use super::follow::{Followed, follow};
use super::luma::LumaView;
use super::patch::PATCH_LEVELS;
use super::picture_map::{Pair, PictureMap};
use super::point::{Fate, Key, Point};
use super::pyramid::Pyramid;
use super::record::Record;
use super::run::{Run, share_sharp};
use super::settings::{Lengths, TrackerSettings};
use super::spread::Cells;
use super::thumbnail::{Thumbnail, levels_for};
use super::tracks::{Held, Tracks};
use crate::quantity::FrameNumber;
use crate::scene::{FramePoint, PictureSize};

/// Turns a stream of frames into [`Tracks`].
pub struct Tracker {
    pub(super) size: PictureSize,
    pub(super) settings: TrackerSettings,
    pub(super) lengths: Lengths,
    pub(super) points: Vec<Point>,
    pub(super) keys: Vec<Key>,
    pub(super) run: Option<Run>,
    pub(super) pieces: u32,
    pub(super) record: Record,
}

/// Everything made of one frame before points are looked for.
pub(super) struct Look<'a> {
    pub(super) frame: FrameNumber,
    pub(super) pyramid: Pyramid<'a>,
    pub(super) thumbnail: Thumbnail,
}

/// Fewer points than this, or fewer cells of the picture with one, do not hold a frame.
const LEAST_POINTS: usize = 10;
const LEAST_CELLS: usize = 3;
/// As many hold it well.
pub(super) const WELL_POINTS: usize = 40;
pub(super) const WELL_CELLS: usize = 8;
/// A point not found so often in a row is away.
const MOST_MISSED: u8 = 8;
/// Frames between looks whether a young piece is a part of an older one.
const DOUBT_EVERY: u32 = 8;
/// Seen larger or smaller than this against its key frame, a patch has too little in common with
/// itself.
const LIKE_SIZE: std::ops::Range<f64> = 0.6..1.7;

impl Tracker {
    /// For upright frames of `size`.
    pub fn new(size: PictureSize, settings: TrackerSettings) -> Self {
        Self {
            size,
            settings,
            lengths: Lengths::of(size, settings.frames_per_s),
            points: Vec::new(),
            keys: Vec::new(),
            run: None,
            pieces: 0,
            record: Record::new(size, settings.sightings_between),
        }
    }

    /// Takes in the next frame. A picture of another size than stated is lost.
    pub fn push(&mut self, frame: FrameNumber, luma: LumaView<'_>) {
        let stated = (self.size.width as usize, self.size.height as usize);
        let levels = levels_for(luma.wide).max(PATCH_LEVELS);
        let pyramid = Pyramid::of(luma, levels);
        if (luma.wide, luma.high) != stated || pyramid.levels() < PATCH_LEVELS {
            if let Some(run) = self.run.take() {
                self.put_away(&run);
            }
            self.record.lost(frame, self.pieces.saturating_sub(1));
            return;
        }
        let thumbnail = Thumbnail::of(&pyramid);
        let look = Look { frame, pyramid, thumbnail };
        if let Some(run) = self.run.take() {
            match self.continued(run, &look) {
                Some(run) => {
                    self.run = Some(run);
                    return;
                }
                None => self.record.promote_last(),
            }
        }
        self.run = self.begin(&look);
    }

    /// The tracks of all frames so far.
    pub fn finish(self) -> Tracks {
        let void: Vec<bool> = self.points.iter().map(|point| point.fate == Fate::Void).collect();
        self.record.finish(&void)
    }

    /// Follows the run into the next frame; `None` when the background is lost.
    fn continued(&mut self, mut run: Run, look: &Look<'_>) -> Option<Run> {
        let guess = self.guess(&run, look);
        let followed = self.follow_all(&run, look, &guess);
        let (which, pairs): (Vec<usize>, Vec<Pair>) = (0..run.live.len())
            .filter(|&i| run.live[i].missed == 0)
            .filter_map(|i| {
                let found = followed[i]?;
                Some((i, Pair { from: run.live[i].at, to: found.found.at }))
            })
            .unzip();
        let judge = self.judge(look.frame, self.lengths.step_slack);
        let agreed = judge.agree(&pairs, Some(&guess));
        let Some(agreed) = agreed.filter(|agreed| self.holds(agreed, &pairs)) else {
            self.put_away(&run);
            return None;
        };
        run.step = agreed.map;
        run.from_key = agreed.map.after(&run.from_key);
        run.mark_found(&followed, &which, &agreed, &self.lengths);
        run.fit_to_key(&self.judge(look.frame, self.lengths.key_slack), &self.lengths);
        self.retire(&mut run);
        run.thumbnail = look.thumbnail.clone();
        run.since_key += 1;
        run.age = run.age.saturating_add(1);
        let sharp = share_sharp(&followed);
        let held = self.held(&run, sharp);
        let wants_key = self.wants_key(&run, sharp);
        run.sharp += 0.1 * (sharp - run.sharp);
        // What began as a new piece may have been somebody walking past.
        let doubts = self.is_young(&run) && (wants_key || run.age.is_multiple_of(DOUBT_EVERY));
        if doubts && let Some(older) = self.rejoined(look, Some(run.piece)) {
            self.put_away(&run);
            return Some(older);
        }
        if wants_key {
            self.make_key(&mut run, look, held);
        } else {
            let seen = run.seen();
            self.record.between(look.frame, run.piece, held, seen);
        }
        Some(run)
    }

    pub(super) fn judge(&self, frame: FrameNumber, slack_px: f64) -> Judge {
        let seed = self.settings.seed.wrapping_mul(0x9E37_79B9).wrapping_add(u64::from(frame.0));
        Judge { size: self.size, slack_px, core_px: 0.25 * slack_px, seed }
    }

    /// Where the picture will have moved: as before, corrected by the thumbnails.
    fn guess(&self, run: &Run, look: &Look<'_>) -> PictureMap {
        let as_before = run.thumbnail.lay(&look.thumbnail, &run.step);
        if as_before.unlike < 0.3 {
            return as_before.map;
        }
        let at_rest = run.thumbnail.lay(&look.thumbnail, &PictureMap::identity());
        let searched = run.thumbnail.search(&look.thumbnail);
        let mut best = as_before;
        for other in [at_rest, searched] {
            if other.unlike < 0.8 * best.unlike {
                best = other;
            }
        }
        best.map
    }

    fn follow_all(&self, run: &Run, look: &Look<'_>, guess: &PictureMap) -> Vec<Option<Followed>> {
        let from_key = guess.after(&run.from_key);
        let to_now: Vec<PictureMap> = self.maps_to(run, &from_key);
        run.live
            .par_iter()
            .map(|live| {
                let point = &self.points[live.point];
                let start = guess.apply(live.at)?;
                let stretch = to_now[point.key].stretch(point.born_at);
                if !LIKE_SIZE.contains(&stretch.determinant().abs().sqrt()) {
                    return None;
                }
                follow(&look.pyramid, point.patch.as_ref()?, &stretch, start)
            })
            .collect()
    }

    /// To now from each key frame, given the map from the latest one. Only those of the run's
    /// piece mean anything.
    pub(super) fn maps_to(&self, run: &Run, from_key: &PictureMap) -> Vec<PictureMap> {
        let from_first = from_key.after(&self.keys[run.key].from_first);
        self.keys.iter().map(|key| from_first.after(&key.from_first.inverse())).collect()
    }

    /// Whether enough points in enough places agree. A quarter of those found is enough: the others
    /// may be on a horse that fills the picture.
    fn holds(&self, agreed: &Consensus, pairs: &[Pair]) -> bool {
        let cells = Cells::for_cover(self.size);
        let places =
            pairs.iter().zip(&agreed.agrees).filter(|(_, agrees)| **agrees).map(|(p, _)| p.to);
        agreed.count >= LEAST_POINTS
            && agreed.count * 4 >= pairs.len()
            && cells.covered(places) >= LEAST_CELLS
    }

    /// Gives up points that move, that are away, or that come too near to the edge.
    fn retire(&mut self, run: &mut Run) {
        let (margin, size) = (self.lengths.margin, self.size);
        let inside = |at: FramePoint| {
            let (wide, high) = (f64::from(size.width), f64::from(size.height));
            (margin..wide - margin).contains(&at.x) && (margin..high - margin).contains(&at.y)
        };
        let points = &mut self.points;
        run.live.retain(|live| {
            let point = &mut points[live.point];
            let most_strikes = if live.seen < 6 { 1.5 } else { 2.5 };
            if live.strikes > most_strikes {
                point.fate = Fate::Void;
                point.patch = None;
            } else if live.missed > MOST_MISSED || !inside(live.at) {
                let fleeting = live.seen < 5 && live.missed > MOST_MISSED;
                point.fate = if fleeting { Fate::Void } else { Fate::Away };
                if fleeting {
                    point.patch = None;
                }
            }
            point.fate == Fate::Live
        });
    }

    fn held(&self, run: &Run, sharp: f32) -> Held {
        let good: Vec<FramePoint> =
            run.live.iter().filter(|live| live.sd_px.is_some()).map(|live| live.at).collect();
        let cells = Cells::for_cover(self.size).covered(good.iter().copied());
        let well = good.len() >= WELL_POINTS && cells >= WELL_CELLS && sharp >= 0.5;
        if well { Held::Well } else { Held::Poorly }
    }

    /// The background is lost: points may be found again, but for those hardly seen.
    fn put_away(&mut self, run: &Run) {
        for live in &run.live {
            let fate = if live.seen < 5 { Fate::Void } else { Fate::Away };
            self.points[live.point].fate = fate;
        }
    }
}
