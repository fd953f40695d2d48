//! Where poles and fence base truly are.

use serde::{Deserialize, Serialize};

use super::chance::{Purpose, normal, stream};
use super::scene::{FenceBuild, Scene};
use crate::marks::{BaseCorner, FenceKind, PoleEnd};
use crate::scene::{GroundPoint, ScenePoint};

/// A pole where it really lies.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct TruePole {
    /// 1 is the one the horse meets first.
    pub pole: u32,
    /// Middle of the end face to the left of the way the horse goes, half a diameter high.
    pub left: ScenePoint,
    /// The same to the right.
    pub right: ScenePoint,
}

impl TruePole {
    /// One end.
    pub fn end(&self, end: PoleEnd) -> ScenePoint {
        match end {
            PoleEnd::Left => self.left,
            PoleEnd::Right => self.right,
        }
    }
}

/// The poles with their laying errors.
pub(super) fn poles(scene: &Scene) -> Vec<TruePole> {
    let poles = &scene.poles;
    let mut random = stream(scene.seed, Purpose::Laying);
    let spacing = poles.spacing_m + normal(&mut random, poles.laying.spacing_sd_m);
    let mut laid: Vec<TruePole> = (0..poles.count)
        .map(|back| {
            let along = normal(&mut random, poles.laying.along_sd_m);
            let sideways = normal(&mut random, poles.laying.sideways_sd_m);
            let turn = normal(&mut random, poles.laying.turn_sd_deg).to_radians();
            let x = poles.last_x_m - f64::from(back) * spacing + along;
            let y = poles.aside_m + sideways;
            let (sin, cos) = turn.sin_cos();
            let half = poles.length_m / 2.0;
            let height = poles.diameter_m / 2.0;
            let end = |side: f64| {
                GroundPoint::new(x - side * half * sin, y + side * half * cos).at_height(height)
            };
            TruePole { pole: poles.count - back, left: end(1.0), right: end(-1.0) }
        })
        .collect();
    laid.reverse();
    laid
}

/// The fence's base points: where the inner faces of its uprights meet the ground.
pub(super) fn fence_base(fence: &FenceBuild) -> Vec<(BaseCorner, GroundPoint)> {
    let half = fence.width_m / 2.0;
    let mut base = vec![
        (BaseCorner::TakeOffLeft, GroundPoint::new(0.0, half)),
        (BaseCorner::TakeOffRight, GroundPoint::new(0.0, -half)),
    ];
    if fence.kind == FenceKind::Oxer {
        base.push((BaseCorner::LandingLeft, GroundPoint::new(fence.far_x(), half)));
        base.push((BaseCorner::LandingRight, GroundPoint::new(fence.far_x(), -half)));
    }
    base
}
