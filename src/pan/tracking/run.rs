//! What is known while the background is held, and how a frame's finds are judged.

use nalgebra::Vector2;

use super::consensus::{Consensus, Judge};
use super::follow::Followed;
use super::picture_map::{Pair, PictureMap};
use super::point::Live;
use super::record::Seen;
use super::settings::Lengths;
use super::thumbnail::Thumbnail;
use crate::scene::FramePoint;

/// A stretch of frames through which the background is followed.
pub(super) struct Run {
    pub(super) piece: u32,
    /// The latest key frame.
    pub(super) key: usize,
    pub(super) live: Vec<Live>,
    /// To the latest frame from the latest key frame.
    pub(super) from_key: PictureMap,
    /// To the latest frame from the one before.
    pub(super) step: PictureMap,
    pub(super) thumbnail: Thumbnail,
    pub(super) since_key: u32,
    /// Frames since its piece began.
    pub(super) age: u32,
    /// How much more points tremble from frame to frame than their residuals foretell; counts when
    /// over 1. What compression does to neighbouring pixels is alike, and residuals do not show it.
    pub(super) unrest: f32,
    /// Share of the points placed at full size, over the latest frames.
    pub(super) sharp: f32,
}

/// The spline makes the noise of neighbouring samples alike: the residual shows less noise than
/// moves the place. For white noise theory says 1.5 to 2, less where detail is fine.
const NOISE_FACTOR: f32 = 1.7;
/// And where blur has taken the fine detail, what the square borrows from beyond its edges adds to
/// that. Measured on warped pictures exposed for half of the time between frames.
const BLUR_FACTOR: f32 = 2.0;
/// What remains without noise: the lens, the picture's quantised brightness, shapes that turn.
/// Measured on arena scenes.
const FLOOR_PX: f32 = 0.018;
/// A sighting that leaves its point's own course by this many of its sds is not written down:
/// something crept into the patch.
const JUMP_SDS: f32 = 6.0;
/// And one whose noise has grown this much more than its frame's others have.
const NOISIER: f32 = 2.2;

/// Median length, in sds, of a jump off a point's course. White errors would give the median of a
/// two-dimensional normal times the root of 2.7 (two sightings, and what the course holds), 1.93;
/// errors of neighbouring frames are partly alike. Measured on arena clips, clean and compressed.
const USUAL_JUMP: f32 = 1.5;

impl Run {
    /// At a key frame, before anything is found.
    pub(super) fn at_key(piece: u32, key: usize, from_key: PictureMap, look: &Thumbnail) -> Self {
        Self {
            piece,
            key,
            live: Vec::new(),
            from_key,
            step: PictureMap::identity(),
            thumbnail: look.clone(),
            since_key: 0,
            age: 0,
            unrest: 1.0,
            sharp: 1.0,
        }
    }

    /// Writes down who was found where, who moved otherwise than the picture, and whose sighting
    /// is not to be trusted. `which` of the points were judged by `agreed`, in its order.
    pub(super) fn mark_found(
        &mut self,
        followed: &[Option<Followed>],
        which: &[usize],
        agreed: &Consensus,
        lengths: &Lengths,
    ) {
        let mut agrees = vec![None; self.live.len()];
        for (&i, &own) in which.iter().zip(&agreed.agrees) {
            agrees[i] = Some(own);
        }
        let noisier = self.noisier(followed);
        let mut tremble = Vec::new();
        let unrest = self.unrest.max(1.0);
        for (i, live) in self.live.iter_mut().enumerate() {
            let predicted = agreed.map.apply(live.at);
            live.sd_px = None;
            let Some(followed) = followed[i] else {
                live.miss(predicted);
                continue;
            };
            // A point that was covered comes back near to where the picture carried it.
            let returned = || {
                predicted
                    .is_some_and(|at| at.distance(followed.found.at) < 2.0 * lengths.step_slack)
            };
            if agrees[i].unwrap_or_else(returned) {
                tremble.extend(live.find(&followed, predicted, noisier, unrest));
            } else if agrees[i].is_some() {
                live.strikes += 1.0;
                live.at = followed.found.at;
                live.course = None;
            } else {
                live.miss(predicted);
            }
        }
        if tremble.len() >= 10 {
            let middle = tremble.len() / 2;
            let usual = *tremble.select_nth_unstable_by(middle, f32::total_cmp).1 / USUAL_JUMP;
            self.unrest += 0.15 * (usual - self.unrest);
        }
    }

    /// How much noisier than usual this frame's finds are: 1 in a steady clip, more in a blurred
    /// frame.
    fn noisier(&self, followed: &[Option<Followed>]) -> f32 {
        let mut ratios: Vec<f32> = self
            .live
            .iter()
            .zip(followed)
            .filter_map(|(live, followed)| Some(followed.as_ref()?.found.noise_px / live.noise_px?))
            .collect();
        if ratios.is_empty() {
            return 1.0;
        }
        let middle = ratios.len() / 2;
        ratios.select_nth_unstable_by(middle, f32::total_cmp).1.max(0.5)
    }

    /// Fits the map from the key frame to all that agree, so that steps do not add up; what no
    /// sway explains is a mover.
    pub(super) fn fit_to_key(&mut self, judge: &Judge, lengths: &Lengths) {
        let good = |live: &&mut Live| live.sd_px.is_some();
        let pairs: Vec<Pair> = self
            .live
            .iter_mut()
            .filter(good)
            .map(|live| Pair { from: live.key_at, to: live.at })
            .collect();
        let weights = vec![1.0; pairs.len()];
        let Some(fitted) = judge.settle(self.from_key, &pairs, &weights) else { return };
        if 2 * fitted.count < pairs.len() {
            return;
        }
        self.from_key = fitted.map;
        for (live, pair) in self.live.iter_mut().filter(good).zip(&pairs) {
            if fitted.map.misses(pair) > lengths.most_parallax {
                live.strikes += 1.0;
                live.sd_px = None;
            }
        }
    }

    /// This frame's sightings.
    pub(super) fn seen(&self) -> Vec<Seen> {
        let good = self
            .live
            .iter()
            .filter_map(|live| Some(Seen { point: live.point, at: live.at, sd_px: live.sd_px? }));
        good.collect()
    }
}

impl Live {
    fn miss(&mut self, predicted: Option<FramePoint>) {
        self.missed = self.missed.saturating_add(1);
        self.at = predicted.unwrap_or(self.at);
        self.course = None;
    }

    /// Returns how far it jumped off its course, in sds that its residual foretells.
    fn find(
        &mut self,
        followed: &Followed,
        predicted: Option<FramePoint>,
        noisier: f32,
        unrest: f32,
    ) -> Option<f32> {
        let foretold = sd_of(followed);
        let sd = unrest * foretold;
        let usual = self.noise_px.map(|noise| noise * noisier);
        let noisy = usual.is_some_and(|usual| followed.found.noise_px > NOISIER * usual);
        // Against the common map a near thing moves while the hand sways, but it moves evenly.
        let aside =
            predicted.map(|at| (followed.found.at.vector() - at.vector()).map(|v| v as f32));
        let jump = match (aside, self.course) {
            (Some(aside), Some(course)) => Some((aside - course).norm()),
            _ => None,
        };
        let jumps = jump.unwrap_or(0.0) > JUMP_SDS * sd * noisier.max(1.0);
        self.course = match (aside, self.course) {
            (Some(aside), Some(course)) if !jumps => Some(course + 0.3 * (aside - course)),
            (aside, None) => aside.or(Some(Vector2::zeros())),
            (_, course) => course,
        };
        self.at = followed.found.at;
        self.missed = 0;
        self.seen += 1;
        self.strikes = (self.strikes - 0.1).max(0.0);
        self.sd_px = (!noisy && !jumps).then_some(sd);
        if !noisy {
            let noise = followed.found.noise_px / noisier;
            self.noise_px =
                Some(self.noise_px.map_or(noise, |usual| usual + 0.1 * (noise - usual)));
        }
        Some(jump? / foretold)
    }
}

/// Standard deviation of one sighting. The residual holds the noise of two looks, then and now, of
/// which this sighting's share is one.
pub(super) fn sd_of(followed: &Followed) -> f32 {
    let factor = if followed.sharp { NOISE_FACTOR } else { BLUR_FACTOR * NOISE_FACTOR };
    let own = factor * followed.found.noise_px * std::f32::consts::FRAC_1_SQRT_2;
    own.hypot(FLOOR_PX)
}

/// Share of the points found that were placed at full size.
pub(super) fn share_sharp(followed: &[Option<Followed>]) -> f32 {
    let (sharp, all) = followed
        .iter()
        .flatten()
        .fold((0, 0), |(sharp, all), found| (sharp + usize::from(found.sharp), all + 1));
    sharp as f32 / all.max(1) as f32
}
