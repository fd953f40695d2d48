//! The simplest way of moving that the misfits accept.

use super::chain::{chain, first_bundle};
use super::deepen::{deepened, reversed};
use super::fit::{Fit, Piece};
use super::motion_model::MotionModel;
use super::sightings::PointSightings;
use super::weighing::Weighing;
use crate::scene::{Lens, PictureSize};

/// A richer model must be this much more plausible (−2 ln of the odds) to be chosen: the tracks'
/// errors are not quite independent, as the comparison takes them to be.
const LEAST_GAIN: f64 = 20.0;

/// Points in each key frame that a search for the focal length looks at.
const ROUGHLY: usize = 25;

/// Focal lengths a search starts from, in parts of the picture's longer side.
const FOCAL_STARTS: [f64; 5] = [0.5, 0.68, 0.9, 1.2, 1.6];

/// The models tried and the one chosen.
pub(super) struct Choice {
    /// The chosen model, fitted robustly.
    pub fit: Fit,
    /// −2 ln evidence of each model tried, against the chosen one.
    pub against: Vec<(MotionModel, f64)>,
}

/// Lenses a search starts from: those the belief allows, and always the believed one.
pub(super) fn lens_starts(piece: &Piece<'_>, picture: PictureSize) -> Vec<Lens> {
    let longer = f64::from(picture.width.max(picture.height));
    let belief = piece.priors.log_focal;
    let lens =
        |focal_px: f64| Lens { focal_px, centre: picture.centre(), k1: piece.priors.k1.value };
    let mut lenses = vec![lens(belief.value.exp())];
    if belief.sd > 0.1 {
        let allowed = FOCAL_STARTS.iter().map(|share| share * longer);
        lenses
            .extend(allowed.filter(|f| (f.ln() - belief.value).abs() < 3.0 * belief.sd).map(lens));
    }
    lenses
}

/// Turning camera from the best of several starts; `None` when no start links all key frames.
fn turning(piece: &Piece<'_>, picture: PictureSize) -> Option<Fit> {
    let some: Vec<PointSightings> = spread(piece);
    let few = Piece { points: &some, ..*piece };
    let turned = |lens: &Lens, piece: &Piece<'_>| {
        let turns: Option<Vec<_>> = chain(piece.points, piece.keys, lens).into_iter().collect();
        turns
    };
    let starts = lens_starts(piece, picture).into_iter().filter_map(|lens| {
        let turns = turned(&lens, piece)?;
        Some(few.fit(MotionModel::Turning, first_bundle(&some, &turns, &lens, piece.priors), 1))
    });
    let best = starts.reduce(|best, fit| if fit.beats(&best, &few) { fit } else { best })?;
    let turns: Vec<_> = best.bundle.keys.iter().map(|key| key.turn).collect();
    let start = first_bundle(piece.points, &turns, &best.bundle.lens(0.0), piece.priors);
    Some(piece.fit(MotionModel::Turning, start, 4))
}

/// Points enough to tell a focal length roughly: those seen most often, in each key frame.
fn spread(piece: &Piece<'_>) -> Vec<PointSightings> {
    let mut by_length: Vec<&PointSightings> = piece.points.iter().collect();
    by_length.sort_by_key(|point| std::cmp::Reverse(point.seen.len()));
    let mut seen = vec![0; piece.keys];
    let mut some = Vec::new();
    for point in by_length {
        if point.seen.iter().any(|s| seen[s.key] < ROUGHLY) {
            point.seen.iter().for_each(|s| seen[s.key] += 1);
            some.push(point.clone());
        }
    }
    some
}

/// Fits every model and chooses.
pub(super) fn choose(piece: &Piece<'_>, picture: PictureSize) -> Option<Choice> {
    let turning = turning(piece, picture)?;
    let still = {
        let mut bundle = turning.bundle.clone();
        bundle.log_focal = piece.priors.log_focal.value;
        bundle.k1 = piece.priors.k1.value;
        let lens = bundle.lens(0.0);
        let turns = vec![nalgebra::Rotation3::identity(); piece.keys];
        piece.fit(MotionModel::Fixed, first_bundle(piece.points, &turns, &lens, piece.priors), 3)
    };
    let zooming = piece.fit(MotionModel::TurningZooming, turning.bundle.clone(), 5);
    let held = {
        let model = MotionModel::Handheld;
        let start = deepened(&turning.bundle, piece.points);
        either_way(piece, piece.fit(model, start, 3))
    };
    let held_zooming = {
        let fit = |start| piece.fit(MotionModel::HandheldZooming, start, 3);
        let from_held = fit(held.bundle.clone());
        let from_zooming = fit(deepened(&zooming.bundle, piece.points));
        let better = if from_held.beats(&from_zooming, piece) { from_held } else { from_zooming };
        either_way(piece, better)
    };
    let fits = [still, turning, zooming, held, held_zooming];
    let scale = fits.iter().map(|fit| fit.scale).fold(f64::INFINITY, f64::min);
    let judged: Vec<(Fit, f64)> = fits.iter().map(|fit| piece.implausibility(fit, scale)).collect();
    let mut chosen = &judged[0];
    for other in &judged[1..] {
        if chosen.1 - other.1 > LEAST_GAIN {
            chosen = other;
        }
    }
    let against = judged.iter().map(|(fit, value)| (fit.model, value - chosen.1)).collect();
    Some(Choice { fit: chosen.0.clone(), against })
}

/// A fit with shifts, or the one with near and far exchanged where that leads farther down.
fn either_way(piece: &Piece<'_>, fit: Fit) -> Fit {
    let other = piece.fit(fit.model, reversed(&fit.bundle), 2);
    let better = if other.beats(&fit, piece) { other } else { fit };
    piece.fit(better.model, better.bundle, 3)
}

impl Fit {
    /// Whether it costs less than `other`, both with the smaller of their standard deviations.
    fn beats(&self, other: &Self, piece: &Piece<'_>) -> bool {
        let weighing = Weighing { scale: self.scale.min(other.scale), robust: true };
        let cost = |fit: &Self| piece.task(fit.model, weighing).cost(&fit.bundle);
        cost(self) < cost(other)
    }
}
