//! One model fitted robustly, and how plausible it is against the others.

use super::bundle::{Bundle, COMMON};
use super::descend::descend;
use super::misfits::{middle_scale, middle_square, squares};
use super::motion_model::MotionModel;
use super::normal::Task;
use super::priors::{MotionPriors, TURN_SD, ZOOM_SD};
use super::reduce::Reduced;
use super::sightings::PointSightings;
use super::weighing::Weighing;

/// Points, frames and beliefs of one piece.
#[derive(Clone, Copy)]
pub(super) struct Piece<'a> {
    pub points: &'a [PointSightings],
    pub keys: usize,
    pub priors: &'a MotionPriors,
}

/// A model with its best unknowns.
#[derive(Clone, Debug)]
pub(super) struct Fit {
    pub model: MotionModel,
    pub bundle: Bundle,
    /// Factor on the stated standard deviations that its misfits ask for.
    pub scale: f64,
}

impl Piece<'_> {
    /// The task of one model.
    pub fn task(&self, model: MotionModel, weighing: Weighing) -> Task<'_> {
        Task { model, points: self.points, keys: self.keys, priors: self.priors, weighing }
    }

    /// Numbers that are fitted, a distance counted by half since its belief holds it as well.
    fn unknowns(&self, model: MotionModel) -> usize {
        let points = self.points.len();
        let depths = if model.shifts() { points / 2 } else { 0 };
        COMMON + (self.keys.max(1) - 1) * model.count() + 2 * points + depths
    }

    /// Fits `model` from `start`: as the fit gets better, the factor on the standard deviations
    /// shrinks and movers stand out.
    pub fn fit(&self, model: MotionModel, start: Bundle, rounds: usize) -> Fit {
        let mut bundle = start;
        let scale_of =
            |bundle: &Bundle| middle_scale(&squares(self.points, bundle), self.unknowns(model));
        let mut scale = scale_of(&bundle);
        for _ in 0..rounds {
            let descent = descend(&self.task(model, Weighing { scale, robust: true }), bundle, 12);
            bundle = descent.bundle;
            let next = scale_of(&bundle);
            let done = (next / scale - 1.0).abs() < 0.03 && descent.settled;
            scale = next;
            if done {
                break;
            }
        }
        Fit { model, bundle, scale }
    }

    /// Fits again at a factor that is common to all models, and tells how plausible that is.
    pub fn weighed(&self, fit: &Fit, scale: f64) -> Weighed {
        let task = self.task(fit.model, Weighing { scale, robust: true });
        let descent = descend(&task, fit.bundle.clone(), 25);
        let log_det = Reduced::of(&task.normal(&descent.bundle), 0.0)
            .map_or(f64::INFINITY, |reduced| reduced.log_det());
        let of_frame: f64 = fit
            .model
            .unknowns()
            .iter()
            .map(|place| match place {
                0..3 => TURN_SD,
                3 => ZOOM_SD,
                _ => self.priors.shift_sd_m,
            })
            .map(|sd| 2.0 * sd.ln())
            .sum();
        let of_point = if fit.model.shifts() { 2.0 * self.priors.nearness.sd.ln() } else { 0.0 };
        let width = of_frame * (self.keys.max(1) - 1) as f64 + of_point * self.points.len() as f64;
        let readings: usize = self.points.iter().map(|point| 2 * point.seen.len()).sum();
        let middle = middle_square(&squares(self.points, &fit.bundle));
        Weighed {
            misfit: 2.0 * descent.cost,
            middle: readings as f64 * middle.max(f64::MIN_POSITIVE).ln(),
            rest: log_det + width,
            fit: Fit { model: fit.model, bundle: descent.bundle, scale },
        }
    }
}

/// A fit and the parts of −2 ln of the evidence for it, but for what is the same for all models
/// (Laplace's approximation: misfit, plus how much narrower the data made each belief). A model
/// that moves what need not move pays for it.
pub(super) struct Weighed {
    pub fit: Fit,
    /// Robust misfit of all sightings.
    misfit: f64,
    /// Misfit as the middle sighting tells it, of all as if they were alike.
    middle: f64,
    /// Everything else.
    rest: f64,
}

impl Weighed {
    /// How much more plausible than `other` this is, −2 ln of the odds: by all sightings or by the
    /// middle one, whichever says less.
    ///
    /// Something that moves steadily, with a background too far to tell from infinity, is the same
    /// to a camera on a stand as something near to a camera that walks. All sightings then plead
    /// for the camera that walks, but the middle one, which is of the background, fits no better.
    pub fn gain_over(&self, other: &Self) -> f64 {
        let fits = (other.misfit - self.misfit).min(other.middle - self.middle);
        fits + other.rest - self.rest
    }
}
