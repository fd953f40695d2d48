//! When a frame becomes a key frame, and what is done then.

use super::corners::corners;
use super::patch::Patch;
use super::picture_map::PictureMap;
use super::point::{Fate, Key, Live, Point};
use super::regain::{Regained, Wanted, regain};
use super::run::{Run, sd_of};
use super::spread::Cells;
use super::tracker::{Look, Tracker, WELL_CELLS, WELL_POINTS};
use super::tracks::Held;
use crate::scene::FramePoint;

/// A new key frame when less than this share of the latest one's points is left.
const SHARED: f64 = 0.6;
/// Or when the view has moved by this share of the width.
const MOVED: f64 = 0.17;
/// Blurred against the frames before it when no more than this of their share of points is sharp.
const BLURRIER: f32 = 0.75;
/// Or after this many frames.
const LONGEST: u32 = 120;
/// Points away whose patches are kept: 30 MB.
const MOST_AWAY: usize = 8000;
/// How far from where they are foretold, pixels at a quarter of full size: a hand's sway moves near
/// things about as far.
const REACH: i32 = 7;
/// Fewer found again are chance.
const LEAST_FOUND: usize = 8;
/// Nearer to the edge than this their squares reach past it, pixels.
const EDGE: f64 = 30.0;
/// Points looked for at one key frame.
const MOST_WANTED: usize = 500;

impl Tracker {
    /// Whether this frame should become a key frame. `sharp`: share of its points placed at full
    /// size.
    pub(super) fn wants_key(&self, run: &Run, sharp: f32) -> bool {
        let seen = run.live.iter().filter(|live| live.sd_px.is_some()).count() as f64;
        let shared = seen / self.keys[run.key].seen.len().max(1) as f64;
        // A blurred frame makes a poor key; wait for a better one while there is something left.
        let blurrier = sharp < BLURRIER * run.sharp;
        if blurrier && shared > 0.5 * SHARED && run.since_key < LONGEST {
            return false;
        }
        let centre = self.size.centre();
        let moved = run
            .from_key
            .apply(centre)
            .map_or(f64::INFINITY, |at| at.distance(centre) / f64::from(self.size.width));
        let scale = run.from_key.stretch(centre).determinant().abs().sqrt();
        shared < SHARED
            || moved > MOVED
            || !(0.8..1.25).contains(&scale)
            || run.since_key >= LONGEST
    }

    /// Makes the frame a key frame: finds points again that were away, and new ones.
    pub(super) fn make_key(&mut self, run: &mut Run, look: &Look<'_>, held: Held) {
        run.live.iter_mut().for_each(|live| live.key_at = live.at);
        let from_first = run.from_key.after(&self.keys[run.key].from_first);
        let key = self.keys.len();
        let thumbnail = look.thumbnail.clone();
        self.keys.push(Key { piece: run.piece, from_first, seen: Vec::new(), thumbnail });
        run.key = key;
        run.from_key = PictureMap::identity();
        run.since_key = 0;
        // Points that were not found in this frame have no place in it.
        let points = &mut self.points;
        run.live.retain(|live| {
            if live.sd_px.is_none() {
                points[live.point].fate = if live.seen < 3 { Fate::Void } else { Fate::Away };
            }
            live.sd_px.is_some()
        });
        self.forget();
        self.bring_back(run, look);
        self.add_points(run, look);
        self.keys[key].seen = run.live.iter().map(|live| (live.point, live.at)).collect();
        let seen = run.seen();
        self.record.key(look.frame, run.piece, held, seen);
    }

    /// Gives up the patches of the points longest away when there are too many.
    fn forget(&mut self) {
        let kept = self.points.iter().filter(|point| point.is_away()).count();
        let spare = kept.saturating_sub(MOST_AWAY);
        self.points
            .iter_mut()
            .filter(|point| point.is_away())
            .take(spare)
            .for_each(|point| point.patch = None);
    }

    /// Points of the piece that were away and should be in the picture again.
    fn bring_back(&mut self, run: &mut Run, look: &Look<'_>) {
        let to_now = self.maps_to(run, &PictureMap::identity());
        let inside = |at: FramePoint| {
            at.x > EDGE
                && at.y > EDGE
                && at.x < f64::from(self.size.width) - EDGE
                && at.y < f64::from(self.size.height) - EDGE
        };
        let away: Vec<(usize, FramePoint)> = self
            .points
            .iter()
            .enumerate()
            .filter(|(_, point)| point.is_away() && point.piece == run.piece)
            .filter_map(|(i, point)| Some((i, to_now[point.key].apply(point.born_at)?)))
            .filter(|(_, at)| inside(*at))
            .collect();
        let every = away.len().div_ceil(MOST_WANTED).max(1);
        let away: Vec<(usize, FramePoint)> = away.into_iter().step_by(every).collect();
        let Some(regained) = self.look_for(&away, &to_now, look, REACH, LEAST_FOUND) else {
            return;
        };
        self.take_in(run, &away, &regained);
        // Where many points of old are found all over the picture, the chain of maps that foretold
        // them is put right, so that its errors do not add up over a long clip.
        let cells = Cells::for_cover(self.size);
        let found = regained.found.iter().flatten().map(|followed| followed.found.at);
        if regained.count >= WELL_POINTS && cells.covered(found) >= WELL_CELLS {
            let key = &mut self.keys[run.key];
            key.from_first = regained.correction.after(&key.from_first);
        }
    }

    /// Looks for points where they are foretold (see [`regain`]).
    pub(super) fn look_for(
        &self,
        places: &[(usize, FramePoint)],
        to_now: &[PictureMap],
        look: &Look<'_>,
        reach: i32,
        least: usize,
    ) -> Option<Regained> {
        let wanted: Vec<Wanted<'_>> = places
            .iter()
            .filter_map(|&(i, at)| {
                let point = &self.points[i];
                let patch = point.patch.as_ref()?;
                Some(Wanted { patch, at, stretch: to_now[point.key].stretch(point.born_at) })
            })
            .collect();
        let judge = self.judge(look.frame, self.lengths.key_slack);
        if wanted.len() < places.len() {
            return None;
        }
        regain(&look.pyramid, &wanted, reach, &judge, least)
    }

    /// Lets points that were found again live; no more than a key frame should hold.
    pub(super) fn take_in(
        &mut self,
        run: &mut Run,
        away: &[(usize, FramePoint)],
        regained: &Regained,
    ) {
        let most = self.settings.points + self.settings.points / 4;
        for (&(point, _), found) in away.iter().zip(&regained.found) {
            let Some(followed) = found else { continue };
            if run.live.len() >= most {
                break;
            }
            self.points[point].fate = Fate::Live;
            run.live.push(Live {
                point,
                at: followed.found.at,
                key_at: followed.found.at,
                missed: 0,
                strikes: 0.0,
                seen: 3,
                sd_px: Some(run.unrest.max(1.0) * sd_of(followed)),
                noise_px: None,
                course: None,
            });
        }
        run.live.sort_by_key(|live| live.point);
    }

    /// New points where there are few.
    pub(super) fn add_points(&mut self, run: &mut Run, look: &Look<'_>) {
        let taken: Vec<FramePoint> = run.live.iter().map(|live| live.at).collect();
        let cells = Cells::for_corners(self.size);
        let per_cell = self.settings.points.div_ceil(cells.count()) + 1;
        let half = look.pyramid.level(1);
        let found = corners(half, self.size, &taken, per_cell, self.lengths.apart);
        let room = self.settings.points.saturating_sub(taken.len());
        for corner in found.iter().take(room) {
            let patch = Patch::cut(&look.pyramid, corner.at);
            let point = self.points.len();
            self.points.push(Point {
                key: run.key,
                born_at: corner.at,
                patch: Some(patch),
                fate: Fate::Live,
                piece: run.piece,
            });
            run.live.push(Live {
                point,
                at: corner.at,
                key_at: corner.at,
                missed: 0,
                strikes: 0.0,
                seen: 1,
                sd_px: Some(0.0),
                noise_px: None,
                course: None,
            });
        }
    }
}
