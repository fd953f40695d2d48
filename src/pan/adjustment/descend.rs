//! Levenberg–Marquardt over a bundle, each step by way of the reduced camera system.
//!
//! Damping: Nielsen's rule (Madsen, Nielsen & Tingleff 2004, alg. 3.16) on Marquardt's diagonal,
//! as in the survey.

use nalgebra::{DVector, Vector3};

use super::bundle::{Bundle, FarPoint};
use super::motion_model::MotionModel;
use super::normal::{Normal, Task};
use super::reduce::Reduced;

/// Smallest fall of the cost worth another step: no unknown is then farther than about a
/// hundredth of its standard deviation from the bottom.
const LEAST_FALL: f64 = 1e-4;

/// Damping that leaves even the weakest direction free: a focal length and turns that make up for
/// it have a hundred-millionth of the weight of a turn alone.
const LEAST_DAMPING: f64 = 1e-11;

/// Where a descent ended.
#[derive(Clone, Debug)]
pub(super) struct Descent {
    /// The unknowns.
    pub bundle: Bundle,
    /// Half the sum of what misfits and beliefs cost.
    pub cost: f64,
    /// Whether it ended at the bottom.
    pub settled: bool,
}

/// From `start` downhill, at most `steps` steps.
pub(super) fn descend(task: &Task<'_>, start: Bundle, steps: usize) -> Descent {
    let mut bundle = start;
    let mut normal = task.normal(&bundle);
    let (mut damping, mut growth) = (1e-5, 2.0);
    for _ in 0..steps {
        let Some(reduced) = Reduced::of(&normal, damping) else {
            damping = f64::max(damping, 1e-8) * growth;
            growth *= 2.0;
            continue;
        };
        let (cameras, points) = reduced.step(&normal);
        let foretold = fall(&normal, damping, &cameras, &points);
        if foretold < LEAST_FALL && damping > LEAST_DAMPING {
            // Damping hides what is left to gain along weak directions: look again without.
            damping = (damping * 1e-4).max(LEAST_DAMPING);
            growth = 2.0;
            continue;
        }
        if foretold < LEAST_FALL {
            return Descent { cost: normal.cost, bundle, settled: true };
        }
        let next = stepped(task.model, &bundle, &cameras, &points);
        let cost = task.cost(&next);
        let gain = (normal.cost - cost) / foretold;
        if gain > 0.0 {
            bundle = next;
            damping =
                (damping * f64::max(0.1, 1.0 - (2.0 * gain - 1.0).powi(3))).max(LEAST_DAMPING);
            growth = 2.0;
            normal = task.normal(&bundle);
        } else {
            damping *= growth;
            growth *= 2.0;
            if damping > 1e12 {
                break;
            }
        }
    }
    Descent { cost: normal.cost, bundle, settled: false }
}

/// How far the cost falls by a step if the equations are right.
fn fall(normal: &Normal, damping: f64, cameras: &DVector<f64>, points: &[Vector3<f64>]) -> f64 {
    let mut sum = 0.0;
    for (i, step) in cameras.iter().enumerate() {
        sum += step * (damping * normal.camera[(i, i)] * step - normal.gradient[i]);
    }
    for (block, step) in normal.points.iter().zip(points) {
        for i in 0..3 {
            sum += step[i] * (damping * block.own[(i, i)] * step[i] - block.gradient[i]);
        }
    }
    0.5 * sum
}

/// `bundle` moved by a step.
pub(super) fn stepped(
    model: MotionModel,
    bundle: &Bundle,
    cameras: &DVector<f64>,
    points: &[Vector3<f64>],
) -> Bundle {
    let keys =
        bundle.keys.iter().enumerate().map(|(key, pose)| match Bundle::column_of(model, key) {
            Some(first) => pose.stepped(model, |i| cameras[first + i]),
            None => *pose,
        });
    Bundle {
        centre: bundle.centre,
        log_focal: bundle.log_focal + cameras[0],
        // A wild first step must not fold the lens over the picture.
        k1: (bundle.k1 + cameras[1]).clamp(-0.5, 0.5),
        keys: keys.collect(),
        points: bundle
            .points
            .iter()
            .zip(points)
            .map(|(p, s): (&FarPoint, _)| p.stepped(*s))
            .collect(),
    }
}
