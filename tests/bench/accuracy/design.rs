//! The one scene that the bars speak of (design, section 5): phone 20 m away and 1.6 m up, 1080p,
//! 60° field, four poles 3 m apart and 3.5 m long, seven strides of 3.5 m.
//!
//! Seven strides, take-off and landing take 28 m, and 60° sees 23 m of a line 20 m away. So the
//! scene comes in two arrangements, and each says what it leaves out.

use groundline::arena::{
    Clicking, Handling, LayingErrors, Poles, Ride, Scene, TrackShape, Truth, marks,
};
use groundline::marks::{MarksFile, ReferenceKind};
use groundline::quantity::{Given, seeded};
use groundline::scene::{Camera, Lens, Pose, ScenePoint};
use nalgebra::{Rotation3, Vector3};
use rand_distr::{Distribution, Normal};

use super::cases::{Case, Held};

/// Where the phone looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Arrangement {
    /// Square to the track, fence in view: the first two strides fall outside the picture.
    Square,
    /// Turned towards the approach until all seven strides and the landing are in view: the
    /// first strides are more than 30 m away.
    Turned,
    /// In the hand and turning with the horse, ties placed by hand.
    InTheHand,
}

impl Arrangement {
    pub const ALL: [Self; 3] = [Self::Square, Self::Turned, Self::InTheHand];

    pub fn words(self) -> &'static str {
        match self {
            Self::Square => "fixed, square to the track",
            Self::Turned => "fixed, turned so that all is in view",
            Self::InTheHand => "in the hand, turning, hand-placed ties",
        }
    }
}

/// Clicks of 1.5 px; pole ends too, unless they snap to the pole's own edges at 0.4 px.
pub const CLICK_PX: f64 = 1.5;
pub const SNAPPED_PX: f64 = 0.4;

/// The case of a design scene whose fields may have been changed.
pub fn of(arrangement: Arrangement, scene: Scene, clicking: Clicking, number: u64) -> Case {
    leaning(arrangement, scene, clicking, number, 0.0)
}

fn leaning(
    arrangement: Arrangement,
    mut scene: Scene,
    clicking: Clicking,
    number: u64,
    roll_deg: f64,
) -> Case {
    let held = match arrangement {
        Arrangement::Square | Arrangement::Turned => Held::Fixed,
        Arrangement::InTheHand => Held::InTheHand,
    };
    let field_deg = scene.filming.field_deg;
    if arrangement == Arrangement::Square {
        // The arena refuses a fixed camera that misses a hoof; this one is meant to. The truth
        // is taken with a field wide enough, and the narrow lens put on afterwards.
        scene.filming.field_deg = 110.0;
    }
    let mut truth = Truth::of(&scene)
        .unwrap_or_else(|refused| panic!("the design scene, {}: {refused}", arrangement.words()));
    if arrangement == Arrangement::Square {
        scene.filming.field_deg = field_deg;
        let lens = Lens {
            k1: scene.filming.k1,
            ..Lens::with_field(scene.filming.picture, field_deg.to_radians())
        };
        let place = ScenePoint::new(
            scene.filming.along_m,
            -scene.filming.distance_m,
            scene.filming.height_m,
        );
        let level = Pose::looking_at(place, ScenePoint::new(place.x, 0.0, 1.2));
        let lean = Rotation3::from_axis_angle(&Vector3::z_axis(), roll_deg.to_radians());
        let pose = Pose { camera_from_ground: lean * level.camera_from_ground, ..level };
        for frame in &mut truth.frames {
            frame.camera = Camera { lens, pose };
        }
    }
    Case { number, held, scene, truth, clicking }
}

pub fn scene(arrangement: Arrangement, seed: u64) -> Scene {
    let level = Scene::level(seed);
    let mut scene = Scene {
        poles: Poles {
            count: 4,
            spacing_m: 3.0,
            length_m: 3.5,
            laying: LayingErrors::TAPED,
            ..level.poles
        },
        ride: Ride { strides_m: vec![3.5; 7], ..level.ride.clone() },
        ..level
    };
    let filming = &mut scene.filming;
    filming.height_m = 1.6;
    filming.distance_m = 20.0;
    filming.field_deg = 60.0;
    (filming.along_m, filming.handling) = match arrangement {
        // The near end of the fence's base is then just inside the right edge.
        Arrangement::Square => (-10.2, Handling::Fixed),
        Arrangement::Turned => (1.0, Handling::Fixed),
        Arrangement::InTheHand => (-10.2, Handling::IN_THE_HAND),
    };
    scene
}

/// The design scene square to the track, with everything the survey has a belief about drawn from
/// that belief (`src/survey/build` and `start.rs`, `src/marks/camera_prior.rs`): then its
/// intervals must hold as much as they say, or the adjustment itself is at fault.
pub fn as_believed(pole_sd_px: f64, number: u64) -> (Case, MarksFile) {
    let mut random = seeded(700_000 + number);
    let mut draw = |mean: f64, sd: f64| {
        Normal::new(mean, sd).map_or(mean, |normal| normal.sample(&mut random))
    };
    let mut scene = scene(Arrangement::Square, 500_000 + number);
    let filming = &mut scene.filming;
    filming.height_m = draw(1.6, 0.3).max(0.5);
    filming.k1 = draw(0.0, 0.02);
    let focal_of_width = draw(0.85_f64.ln(), 0.35).exp();
    // Outside of this the poles are out of the picture or too small to be clicked.
    filming.field_deg = 2.0 * (0.5 / focal_of_width).atan().to_degrees().clamp(20.0, 45.0);
    // The phone leans from level, and so does the ground.
    let roll_deg = draw(0.0, 3.0) + draw(0.0, 0.015_f64.to_degrees());
    let stated_m = scene.poles.length_m;
    scene.poles.length_m = draw(stated_m, 0.02);
    scene.poles.laying = LayingErrors {
        spacing_sd_m: 0.8 * 0.01,
        along_sd_m: 0.424 * 0.01,
        sideways_sd_m: 0.10,
        turn_sd_deg: 0.03_f64.to_degrees(),
    };
    let ride = &mut scene.ride;
    // The survey gives each of four limbs its own place beside the track; the arena, each side.
    (ride.left_hooves_m, ride.right_hooves_m) = (draw(0.0, 0.15), draw(0.0, 0.15));
    ride.scatter_sd_m = 0.13;
    scene.track.shape = TrackShape::Bending { radius_m: 1.0 / draw(0.0, 0.004) };
    let mut clicking = Clicking::with_sd(CLICK_PX, 600_000 + number);
    clicking.pole_sd_px = pole_sd_px;
    let case = leaning(Arrangement::Square, scene, clicking, number, roll_deg);
    let mut file = marks(&case.scene, &case.truth, &case.clicking);
    for reference in &mut file.references {
        if let ReferenceKind::Poles { length_m, .. } = &mut reference.kind {
            *length_m = Given::new(stated_m, 0.02);
        }
    }
    // What the arena's coach would state of an unusual height is not part of the belief drawn.
    file.camera.height_m = Given::new(1.6, 0.3);
    (case, file)
}
