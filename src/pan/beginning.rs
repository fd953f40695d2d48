//! Beginning again: after a loss by what older key frames show, after a cut with nothing.

use rayon::prelude::*;

use super::picture_map::PictureMap;
use super::point::{Fate, Key};
use super::run::Run;
use super::spread::Cells;
use super::thumbnail::Laid;
use super::tracker::{Look, Tracker, WELL_CELLS, WELL_POINTS};
use super::tracks::Held;
use crate::scene::FramePoint;

impl Tracker {
    /// Without a run: joins an older piece, begins a new one, or is lost.
    pub(super) fn begin(&mut self, look: Look<'_>) {
        if self.rejoin(&look) || self.begin_piece(&look) {
            return;
        }
        self.record.lost(look.frame, self.pieces.saturating_sub(1));
    }

    fn rejoin(&mut self, look: &Look<'_>) -> bool {
        if look.thumbnail.contrast() < 3.0 {
            return false;
        }
        let mut laid: Vec<(usize, Laid)> = self
            .keys
            .par_iter()
            .enumerate()
            .rev()
            .take(48)
            .map(|(i, key)| (i, key.thumbnail.search(&look.thumbnail)))
            .filter(|(_, laid)| laid.unlike < 0.45)
            .collect();
        laid.sort_by(|a, b| a.1.unlike.total_cmp(&b.1.unlike));
        for (key, laid) in laid.into_iter().take(4) {
            if self.rejoin_key(key, &laid.map, look) {
                return true;
            }
        }
        false
    }

    fn rejoin_key(&mut self, key: usize, from_key: &PictureMap, look: &Look<'_>) -> bool {
        let mut run = Run::at_key(self.keys[key].piece, key, *from_key, &look.thumbnail);
        let to_now = self.maps_to(&run, from_key);
        let places: Vec<(usize, FramePoint)> = self.keys[key]
            .seen
            .iter()
            .filter(|(point, _)| self.points[*point].fate == Fate::Away)
            .filter_map(|&(point, at)| Some((point, from_key.apply(at)?)))
            .collect();
        let Some(regained) = self.look_for(&places, &to_now, look, 6, 14) else { return false };
        if regained.count * 5 < places.len() {
            return false;
        }
        run.from_key = regained.correction.after(from_key);
        self.take_in(&mut run, &places, &regained);
        self.make_key(&mut run, look, Held::Poorly);
        self.run = Some(run);
        true
    }

    fn begin_piece(&mut self, look: &Look<'_>) -> bool {
        let piece = self.pieces;
        let key = self.keys.len();
        let mut run = Run::at_key(piece, key, PictureMap::identity(), &look.thumbnail);
        self.keys.push(Key {
            piece,
            from_first: PictureMap::identity(),
            seen: Vec::new(),
            thumbnail: look.thumbnail.clone(),
        });
        self.add_points(&mut run, look);
        let cells = Cells::for_cover(self.size);
        let covered = cells.covered(run.live.iter().map(|live| live.at));
        if run.live.len() < WELL_POINTS || covered < WELL_CELLS {
            self.keys.pop();
            for live in &run.live {
                self.points[live.point].fate = Fate::Void;
                self.points[live.point].patch = None;
            }
            return false;
        }
        self.pieces += 1;
        self.keys[key].seen = run.live.iter().map(|live| (live.point, live.at)).collect();
        let seen = run.seen();
        self.record.key(look.frame, piece, Held::Well, seen);
        self.run = Some(run);
        true
    }
}
