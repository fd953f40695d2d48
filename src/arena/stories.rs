//! Ready-made scenes, one for each thing a coach sees in a lesson. All invented.

use super::filming::{Filming, Handling, Light};
use super::scene::{
    Coat, FenceBuild, Ground, Horse, HorseSize, LayingErrors, Pace, Poles, Ride, Scene, Surface,
};
use super::track::Track;
use crate::marks::{FenceKind, Lead};
use crate::scene::PictureSize;

impl Filming {
    /// A phone on a stand at eye level that sees six strides and the jump.
    pub const FIXED: Self = Self {
        height_m: 1.6,
        distance_m: 22.0,
        along_m: -8.5,
        field_deg: 66.0,
        picture: PictureSize { width: 1920, height: 1080 },
        k1: 0.0,
        roll_deg: 0.0,
        handling: Handling::Fixed,
        frames_per_s: 60.0,
        plays_at_per_s: None,
        exposure_s: 1.0 / 250.0,
        noise_levels: 2.0,
        light: Light::Evening,
    };

    /// A phone in the hand that turns with the horse.
    pub const IN_THE_HAND: Self = Self {
        distance_m: 13.0,
        along_m: -5.0,
        field_deg: 52.0,
        handling: Handling::IN_THE_HAND,
        ..Self::FIXED
    };
}

impl Scene {
    /// Six even strides to a vertical: what every other story departs from.
    pub fn level(seed: u64) -> Self {
        Self {
            seed,
            ground: Ground { slope_percent: 0.0, surface: Surface::Sand },
            poles: Poles {
                count: 4,
                spacing_m: 3.0,
                length_m: 3.5,
                diameter_m: 0.10,
                last_x_m: -4.0,
                aside_m: 2.4,
                laying: LayingErrors::TAPED,
            },
            fence: FenceBuild {
                kind: FenceKind::Vertical,
                height_m: 1.0,
                spread_m: 0.0,
                width_m: 3.5,
                wings: true,
                ground_line: true,
            },
            track: Track::STRAIGHT,
            horse: Horse { size: HorseSize::Horse, coat: Coat::Bay },
            ride: Ride {
                lead: Lead::Left,
                strides_m: vec![3.47, 3.52, 3.50, 3.46, 3.53, 3.50],
                pace: Pace::Length,
                take_off_m: 1.80,
                landing_m: 1.95,
                away_strides: 1,
                left_hooves_m: 0.15,
                right_hooves_m: -0.15,
                scatter_sd_m: 0.04,
            },
            filming: Filming::FIXED,
        }
    }

    fn told(seed: u64, strides_m: &[f64], take_off_m: f64, landing_m: f64) -> Self {
        let mut scene = Self::level(seed);
        scene.ride.strides_m = strides_m.to_vec();
        scene.ride.take_off_m = take_off_m;
        scene.ride.landing_m = landing_m;
        scene
    }

    /// Eased back, then pushed, so that a short last stride had to be added.
    pub fn eased_then_pushed(seed: u64) -> Self {
        let mut scene = Self::told(seed, &[3.50, 3.30, 3.05, 2.95, 3.35, 3.80, 2.45], 1.30, 1.55);
        scene.filming.distance_m = 23.0;
        scene.horse.coat = Coat::Chestnut;
        scene
    }

    /// Faster and longer up to the fence, and too close to it in the end.
    pub fn run_at_and_deep(seed: u64) -> Self {
        let mut scene = Self::told(seed, &[3.30, 3.45, 3.65, 3.85, 4.00], 1.05, 2.10);
        scene.ride.lead = Lead::Right;
        scene.horse.coat = Coat::Black;
        scene
    }

    /// A short canter built stride by stride to an oxer.
    pub fn built_steadily(seed: u64) -> Self {
        let mut scene = Self::told(seed, &[3.10, 3.20, 3.30, 3.40, 3.48, 3.56], 1.75, 1.90);
        scene.fence.kind = FenceKind::Oxer;
        scene.fence.height_m = 1.05;
        scene.fence.spread_m = 1.05;
        scene.horse.coat = Coat::Grey;
        scene
    }

    /// Took off a long way out.
    pub fn left_long(seed: u64) -> Self {
        let mut scene = Self::told(seed, &[3.45, 3.50, 3.55, 3.70, 3.95], 2.65, 1.75);
        scene.ride.lead = Lead::Right;
        scene
    }

    /// Six short strides where the line was built for five (21.9 m, the (n+1) × 12 ft
    /// convention).
    pub fn six_in_five(seed: u64) -> Self {
        Self::told(seed, &[2.95, 3.00, 3.05, 3.02, 3.06, 2.98], 1.60, 1.75)
    }

    /// A pony over a small cross-rail.
    pub fn pony(seed: u64) -> Self {
        let mut scene = Self::told(seed, &[2.62, 2.70, 2.66, 2.72, 2.68, 2.70], 1.25, 1.35);
        scene.horse = Horse { size: HorseSize::Pony, coat: Coat::Palomino };
        scene.fence.kind = FenceKind::CrossRail;
        scene.fence.height_m = 0.60;
        scene.poles.spacing_m = 2.5;
        scene.poles.laying = LayingErrors::PACED;
        scene
    }

    /// Uphill on grass: every stride a little shorter.
    pub fn uphill(seed: u64) -> Self {
        let mut scene = Self::told(seed, &[3.50, 3.42, 3.36, 3.28, 3.22, 3.15], 1.60, 1.60);
        scene.ground = Ground { slope_percent: 4.0, surface: Surface::Grass };
        scene.horse.coat = Coat::Chestnut;
        scene
    }

    /// Three weeks of one horse at one fence: uneven with an added stride, better with one easing,
    /// level.
    pub fn three_weeks(seed: u64) -> [Self; 3] {
        let uneven = Self::eased_then_pushed(seed);
        let week = |index: u64, strides_m: &[f64], take_off_m, landing_m| {
            let mut scene = Self::told(seed + index, strides_m, take_off_m, landing_m);
            scene.horse = uneven.horse;
            scene.filming = uneven.filming;
            scene
        };
        let better = week(1, &[3.52, 3.46, 3.30, 3.18, 3.36, 3.48], 1.55, 1.75);
        let level = week(2, &[3.48, 3.52, 3.50, 3.47, 3.53, 3.51], 1.80, 1.95);
        [uneven, better, level]
    }

    /// The canter dies on the way, and the horse is deep in the end.
    pub fn died_and_deep(seed: u64) -> Self {
        let mut scene = Self::told(seed, &[3.60, 3.50, 3.35, 3.15, 2.95, 2.75], 0.60, 1.20);
        scene.horse.coat = Coat::Grey;
        scene
    }

    /// A short canter, run at the fence in the last three strides, and another stride added.
    pub fn run_at_from_nothing(seed: u64) -> Self {
        let mut scene = Self::told(seed, &[3.00, 3.02, 2.98, 3.30, 3.65, 3.95, 2.40], 1.10, 1.60);
        scene.filming.distance_m = 23.0;
        scene.horse.coat = Coat::Black;
        scene
    }

    /// Level, and one easing to the fence.
    pub fn eased_once(seed: u64) -> Self {
        Self::told(seed, &[3.65, 3.62, 3.58, 3.40, 3.22, 3.10], 1.70, 1.80)
    }

    /// Every story with its name.
    pub fn stories(seed: u64) -> [(&'static str, Self); 11] {
        [
            ("level", Self::level(seed)),
            ("eased_then_pushed", Self::eased_then_pushed(seed)),
            ("run_at_and_deep", Self::run_at_and_deep(seed)),
            ("built_steadily", Self::built_steadily(seed)),
            ("left_long", Self::left_long(seed)),
            ("six_in_five", Self::six_in_five(seed)),
            ("pony", Self::pony(seed)),
            ("uphill", Self::uphill(seed)),
            ("died_and_deep", Self::died_and_deep(seed)),
            ("run_at_from_nothing", Self::run_at_from_nothing(seed)),
            ("eased_once", Self::eased_once(seed)),
        ]
    }

    /// The same scene filmed from the hand, turning with the horse.
    pub fn filmed_from_the_hand(mut self) -> Self {
        self.filming = Filming { light: self.filming.light, ..Filming::IN_THE_HAND };
        self
    }
}
