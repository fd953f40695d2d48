//! The simplest way of moving that the misfits accept.

use super::bundle::KeyPose;
use super::chain::{Link, chain, first_bundle};
use super::deepen::{by_height, deepened, low_is_near, reversed};
use super::fit::{Fit, Piece, Weighed};
use super::motion_model::MotionModel;
use super::sightings::PointSightings;
use super::weighing::Weighing;
use crate::scene::{Lens, PictureSize};

/// A richer model must be this much more plausible (−2 ln of the odds) for each coordinate read:
/// tracks' errors are not independent, as the comparison takes them to be, and a model that is a
/// step from its bottom looks worse than it is.
const LEAST_GAIN: f64 = 0.03;

/// Points in each key frame that a search for the focal length looks at.
const ROUGHLY: usize = 25;

/// Focal lengths a search starts from, in parts of the picture's longer side.
const FOCAL_STARTS: [f64; 5] = [0.5, 0.68, 0.9, 1.2, 1.6];

/// The models tried and the one chosen.
pub(super) struct Choice {
    /// The chosen model, fitted robustly.
    pub fit: Fit,
    /// How much more plausible than the chosen one each model is, −2 ln of the odds: negative for
    /// nearly all.
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

/// A zoom of this much between two key frames, ln, is worth a search of its own.
const ZOOMS_FROM: f64 = 0.025;

/// Lenses with the links that they give; `None` where no lens links all key frames.
fn linked(piece: &Piece<'_>, picture: PictureSize) -> Option<Vec<(Lens, Vec<Link>)>> {
    let starts = lens_starts(piece, picture).into_iter().filter_map(|lens| {
        let links: Option<Vec<Link>> = chain(piece.points, piece.keys, &lens).into_iter().collect();
        Some((lens, links?))
    });
    let starts: Vec<_> = starts.collect();
    (!starts.is_empty()).then_some(starts)
}

/// A camera of that model, which does not sway, from the best of several starts.
fn from_afar(piece: &Piece<'_>, model: MotionModel, starts: &[(Lens, Vec<Link>)]) -> Option<Fit> {
    let some: Vec<PointSightings> = spread(piece);
    let few = Piece { points: &some, ..*piece };
    let tame =
        |link: &Link| Link { log_zoom: if model.zooms() { link.log_zoom } else { 0.0 }, ..*link };
    let fits = starts.iter().map(|(lens, links)| {
        let links: Vec<Link> = links.iter().map(tame).collect();
        few.fit(model, first_bundle(&some, &links, lens, piece.priors), 1)
    });
    let best = fits.reduce(|best, fit| if fit.beats(&best, &few) { fit } else { best })?;
    let of_key = |key: &KeyPose| Link { turn: key.turn, log_zoom: key.log_zoom };
    let links: Vec<Link> = best.bundle.keys.iter().map(of_key).collect();
    let start = first_bundle(piece.points, &links, &best.bundle.lens(0.0), piece.priors);
    Some(piece.fit(model, start, 4))
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
    let starts = linked(piece, picture)?;
    let turning = from_afar(piece, MotionModel::Turning, &starts)?;
    let still = {
        let mut bundle = turning.bundle.clone();
        bundle.log_focal = piece.priors.log_focal.value;
        bundle.k1 = piece.priors.k1.value;
        let lens = bundle.lens(0.0);
        let links = vec![Link { turn: nalgebra::Rotation3::identity(), log_zoom: 0.0 }; piece.keys];
        piece.fit(MotionModel::Fixed, first_bundle(piece.points, &links, &lens, piece.priors), 3)
    };
    let zooming = {
        let model = MotionModel::TurningZooming;
        let as_turned = piece.fit(model, turning.bundle.clone(), 5);
        let zooms = |(_, links): &(Lens, Vec<Link>)| {
            links.windows(2).any(|pair| (pair[1].log_zoom - pair[0].log_zoom).abs() > ZOOMS_FROM)
        };
        let own = starts.iter().any(zooms).then(|| from_afar(piece, model, &starts)).flatten();
        match own {
            Some(own) if own.beats(&as_turned, piece) => own,
            _ => as_turned,
        }
    };
    let held = {
        let model = MotionModel::Handheld;
        let start = deepened(&turning.bundle, piece.points);
        either_way(piece, piece.fit(model, start, 3))
    };
    let held_zooming = {
        let fit = |start| piece.fit(MotionModel::HandheldZooming, start, 3);
        let from_held = fit(held.bundle.clone());
        let from_zooming = fit(deepened(&zooming.bundle, piece.points));
        let better = if from_held.rather(&from_zooming, piece) { from_held } else { from_zooming };
        either_way(piece, better)
    };
    let held = {
        // The richer model finds its way where this one is stuck with near for far.
        let mut unzoomed = held_zooming.bundle.clone();
        unzoomed.keys.iter_mut().for_each(|key| key.log_zoom = 0.0);
        let again = piece.fit(MotionModel::Handheld, unzoomed, 3);
        if again.rather(&held, piece) { again } else { held }
    };
    let fits = [still, turning, zooming, held, held_zooming];
    let scale = fits.iter().map(|fit| fit.scale).fold(f64::INFINITY, f64::min);
    let weighed: Vec<Weighed> = fits.iter().map(|fit| piece.weighed(fit, scale)).collect();
    let readings: usize = piece.points.iter().map(|point| 2 * point.seen.len()).sum();
    let least = LEAST_GAIN * readings as f64;
    let chosen = weighed
        .iter()
        .reduce(|chosen, richer| if richer.gain_over(chosen) > least { richer } else { chosen })?;
    let against = weighed.iter().map(|other| (other.fit.model, other.gain_over(chosen))).collect();
    Some(Choice { fit: chosen.fit.clone(), against })
}

/// Rounds after which near and far have found their places: fewer leave a fit that was begun inside
/// out looking worse than the false bottom beside it (seen on a real clip).
const ROUNDS_OF_DEPTH: usize = 6;

/// A fit with shifts, or one with near and far exchanged, or begun from low things being near,
/// whichever leads farthest down.
fn either_way(piece: &Piece<'_>, fit: Fit) -> Fit {
    let others = [reversed(&fit.bundle), by_height(&fit.bundle, piece.points)];
    let model = fit.model;
    let fits = others.into_iter().map(|start| piece.fit(model, start, ROUNDS_OF_DEPTH));
    let better =
        fits.fold(fit, |best, other| if other.rather(&best, piece) { other } else { best });
    piece.fit(better.model, better.bundle, 3)
}

/// By how much a camera under things that are near must fit better than one over them.
const UNDER_THE_GROUND: f64 = 1.05;

impl Fit {
    /// Whether it is the better one, of two that both know near and far. Who films a horse stands
    /// on the ground: what is low in the picture is near.
    fn rather(&self, other: &Self, piece: &Piece<'_>) -> bool {
        let weighing = Weighing { scale: self.scale.min(other.scale), robust: true };
        let cost = |fit: &Self| {
            let upright = low_is_near(&fit.bundle, piece.points);
            let handicap = if upright { 1.0 } else { UNDER_THE_GROUND };
            handicap * piece.task(fit.model, weighing).cost(&fit.bundle)
        };
        cost(self) < cost(other)
    }

    /// Whether it costs less than `other`, both with the smaller of their standard deviations.
    fn beats(&self, other: &Self, piece: &Piece<'_>) -> bool {
        let weighing = Weighing { scale: self.scale.min(other.scale), robust: true };
        let cost = |fit: &Self| piece.task(fit.model, weighing).cost(&fit.bundle);
        cost(self) < cost(other)
    }
}
