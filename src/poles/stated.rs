//! What a marks file states of fence and ground, as a plan asks for it.

use super::asked::Going;
use crate::marks::{FenceKind, MarksFile};

/// Height of the fences that is assumed where none is stated, metres: from here on a line takes its
/// full length (R11). Whoever shows it says that it is assumed.
pub const ASSUMED_HEIGHT_M: f64 = 1.0;

/// What a marks file states for an approach; `None` where it says nothing.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Stated {
    /// Height of the approach's fence, metres; 0 for a pole on the ground.
    pub height_m: Option<f64>,
    /// Rise towards the fence, per cent.
    pub slope_percent: Option<f64>,
    /// The going, as far as the words on the surface tell one.
    pub going: Option<Going>,
}

impl Stated {
    /// What `file` states for the approach of that id.
    pub fn of(file: &MarksFile, approach: &str) -> Self {
        let approach = file.approaches.iter().find(|known| known.id == approach);
        let fence = approach.and_then(|approach| file.fence(&approach.fence));
        let on_ground = fence.filter(|fence| fence.kind == FenceKind::GroundPole).map(|_| 0.0);
        Self {
            height_m: fence.and_then(|fence| fence.height_m).or(on_ground),
            slope_percent: file.round.slope_percent,
            going: Going::told_by(&file.round.surface),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::marks::sample;

    #[test]
    fn fence_slope_and_surface_are_taken_from_the_file() {
        let mut file = sample::sample();
        let id = file.approaches[0].id.clone();
        let fence = file.approaches[0].fence.clone();
        file.round.surface = "deep sand".into();
        file.round.slope_percent = Some(2.5);
        for known in file.fences.iter_mut().filter(|known| known.id == fence) {
            known.height_m = Some(1.05);
        }
        let stated = Stated::of(&file, &id);
        assert_eq!(
            stated,
            Stated { height_m: Some(1.05), slope_percent: Some(2.5), going: Some(Going::Deep) }
        );
        for known in &mut file.fences {
            (known.height_m, known.kind) = (None, FenceKind::GroundPole);
        }
        assert_eq!(Stated::of(&file, &id).height_m, Some(0.0));
        assert_eq!(Stated::of(&file, "no such approach").height_m, None);
    }
}
