//! Beginning again: after a loss by what older key frames show, after a cut with nothing.

use rayon::prelude::*;

use super::laying::Laid;
use super::picture_map::PictureMap;
use super::point::Key;
use super::run::Run;
use super::spread::Cells;
use super::tracker::{Look, Tracker, WELL_CELLS, WELL_POINTS};
use super::tracks::Held;
use crate::scene::FramePoint;

/// Key frames tried when the background is found again: the latest ones.
const TRIED: usize = 48;
/// Thumbnails less alike than this show different views.
const UNLIKE: f32 = 0.45;
/// Less contrast than this in the thumbnail, and there is nothing to see.
const LEAST_CONTRAST: f32 = 3.0;
/// Points that must be found again, and their share of those looked for.
const LEAST_FOUND: usize = 14;
const LEAST_SHARE: usize = 5;
/// A piece of fewer frames may yet turn out to be a part of an older one.
const YOUNG: u32 = 90;

impl Tracker {
    /// Without a run: joins an older piece, begins a new one, or is lost.
    pub(super) fn begin(&mut self, look: &Look<'_>) -> Option<Run> {
        let run = self.rejoined(look, None).or_else(|| self.new_piece(look));
        if run.is_none() {
            self.record.lost(look.frame, self.pieces.saturating_sub(1));
        }
        run
    }

    /// Whether a run has only just begun a piece of its own and there are others.
    pub(super) fn is_young(&self, run: &Run) -> bool {
        run.age < YOUNG && self.keys.iter().any(|key| key.piece != run.piece)
    }

    /// Joins the piece of an older key frame that shows the same view, but not the piece `not`.
    pub(super) fn rejoined(&mut self, look: &Look<'_>, not: Option<u32>) -> Option<Run> {
        if look.thumbnail.contrast() < LEAST_CONTRAST {
            return None;
        }
        let tried: Vec<(usize, &Key)> = self
            .keys
            .iter()
            .enumerate()
            .rev()
            .filter(|(_, key)| Some(key.piece) != not)
            .take(TRIED)
            .collect();
        let mut laid: Vec<(usize, Laid)> = tried
            .par_iter()
            .map(|(i, key)| (*i, key.thumbnail.search(&look.thumbnail)))
            .filter(|(_, laid)| laid.unlike < UNLIKE)
            .collect();
        laid.sort_by(|a, b| a.1.unlike.total_cmp(&b.1.unlike));
        laid.into_iter().take(4).find_map(|(key, laid)| self.rejoined_at(key, &laid.map, look))
    }

    fn rejoined_at(&mut self, key: usize, from_key: &PictureMap, look: &Look<'_>) -> Option<Run> {
        let piece = self.keys[key].piece;
        let mut run = Run::at_key(piece, key, *from_key, &look.thumbnail);
        let to_now = self.maps_to(&run, from_key);
        let places: Vec<(usize, FramePoint)> = self.keys[key]
            .seen
            .iter()
            .filter(|(point, _)| self.points[*point].is_away())
            .filter_map(|&(point, at)| Some((point, from_key.apply(at)?)))
            .collect();
        let regained = self.look_for(&places, &to_now, look, 6, LEAST_FOUND)?;
        if regained.count * LEAST_SHARE < places.len() {
            return None;
        }
        run.from_key = regained.correction.after(from_key);
        run.age = YOUNG;
        self.take_in(&mut run, &places, &regained);
        self.make_key(&mut run, look, Held::Poorly);
        Some(run)
    }

    fn new_piece(&mut self, look: &Look<'_>) -> Option<Run> {
        let piece = self.pieces;
        let key = self.keys.len();
        let from_first = PictureMap::identity();
        let mut run = Run::at_key(piece, key, from_first, &look.thumbnail);
        let thumbnail = look.thumbnail.clone();
        self.keys.push(Key { piece, from_first, seen: Vec::new(), thumbnail });
        let before = self.points.len();
        self.add_points(&mut run, look);
        let cells = Cells::for_cover(self.size);
        let covered = cells.covered(run.live.iter().map(|live| live.at));
        if run.live.len() < WELL_POINTS || covered < WELL_CELLS {
            self.keys.pop();
            self.points.truncate(before);
            return None;
        }
        self.pieces += 1;
        self.keys[key].seen = run.live.iter().map(|live| (live.point, live.at)).collect();
        self.record.key(look.frame, piece, Held::Well, run.seen());
        Some(run)
    }
}
