//! Where the error of the design scene comes from: the same scenes with one source switched off.
//!
//! Switched off means both: it does no harm, and the survey is told so. What the survey believes
//! by itself (how straight poles lie, how far hooves scatter) it goes on believing.

use groundline::arena::{Clicking, LayingErrors, MarkedLimbs, marks};
use groundline::marks::{MarksFile, ReferenceKind};
use groundline::quantity::Given;
use rayon::prelude::*;

use super::cases::Case;
use super::design::{Arrangement, CLICK_PX, of, scene};
use super::judge::{Run, run};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    Hooves,
    PoleEnds,
    Base,
    Laying,
    Camera,
    Scatter,
    Width,
}

impl Source {
    pub const ALL: [Self; 7] = [
        Self::Hooves,
        Self::PoleEnds,
        Self::Base,
        Self::Laying,
        Self::Camera,
        Self::Scatter,
        Self::Width,
    ];

    pub fn words(self) -> &'static str {
        match self {
            Self::Hooves => "clicks on hooves exact (0.05 px)",
            Self::PoleEnds => "clicks on pole ends exact (0.05 px)",
            Self::Base => "clicks on the fence's base exact (0.05 px)",
            Self::Laying => "poles laid exactly, spacing and length good to 0.5 mm",
            Self::Camera => "focal length, height, roll and distortion given",
            Self::Scatter => "every hoof on the line of the track",
            Self::Width => "fence's width stated as well (± 2 cm)",
        }
    }
}

const EXACT_PX: f64 = 0.05;

/// The design scenes as they are, or without one source of error.
pub fn runs(
    arrangement: Arrangement,
    pole_sd_px: f64,
    without: Option<Source>,
    count: u64,
) -> Vec<Run> {
    (0..count)
        .into_par_iter()
        .map(|number| {
            let case = case_without(arrangement, pole_sd_px, without, number);
            let mut file = marks(&case.scene, &case.truth, &case.clicking);
            tell(&mut file, without, &case);
            run(&case, &file, number as usize)
        })
        .collect()
}

fn case_without(
    arrangement: Arrangement,
    pole_sd_px: f64,
    without: Option<Source>,
    number: u64,
) -> Case {
    let mut scene = scene(arrangement, 500_000 + number);
    let mut clicking = Clicking::with_sd(CLICK_PX, 600_000 + number);
    clicking.pole_sd_px = pole_sd_px;
    clicking.limbs = MarkedLimbs::All;
    match without {
        Some(Source::Hooves) => clicking.hoof_sd_px = EXACT_PX,
        Some(Source::PoleEnds) => clicking.pole_sd_px = EXACT_PX,
        Some(Source::Base) => clicking.base_sd_px = EXACT_PX,
        Some(Source::Laying) => scene.poles.laying = LayingErrors::NONE,
        Some(Source::Scatter) => {
            scene.ride.scatter_sd_m = 0.0;
            (scene.ride.left_hooves_m, scene.ride.right_hooves_m) = (0.0, 0.0);
        }
        Some(Source::Width) => clicking.fence_width = true,
        Some(Source::Camera) | None => {}
    }
    of(arrangement, scene, clicking, number)
}

fn tell(file: &mut MarksFile, without: Option<Source>, case: &Case) {
    match without {
        Some(Source::Laying) => {
            for reference in &mut file.references {
                if let ReferenceKind::Poles { spacing_m, length_m, .. } = &mut reference.kind {
                    spacing_m.sd = 0.0005;
                    length_m.sd = 0.0005;
                }
            }
        }
        Some(Source::Camera) => {
            let camera = case.truth.frames[0].camera;
            let belief = &mut file.camera;
            belief.focal_px = Some(Given::new(camera.lens.focal_px, 1e-4 * camera.lens.focal_px));
            belief.height_m = Given::new(camera.pose.position.z, 0.001);
            belief.roll_deg = Given::new(0.0, 0.01);
            belief.distortion_k1 = Given::new(camera.lens.k1, 1e-4);
        }
        _ => {}
    }
}
