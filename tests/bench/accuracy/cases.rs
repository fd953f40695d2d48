//! The fixed set of scenes: drawn once from their number, so that every run judges the same.

use groundline::arena::{
    Clicking, FenceBuild, Ground, Handling, Laid, LayingErrors, Scene, Surface, Track, TrackShape,
    Truth,
};
use groundline::marks::FenceKind;
use groundline::quantity::seeded;
use groundline::scene::PictureSize;
use rand::{Rng, RngExt};
use rand_distr::{Distribution, StandardNormal};

/// How the camera is held; accuracy is told apart by it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Held {
    Fixed,
    TurnedOnAStand,
    InTheHand,
}

impl Held {
    pub const ALL: [Self; 3] = [Self::Fixed, Self::TurnedOnAStand, Self::InTheHand];

    pub fn words(self) -> &'static str {
        match self {
            Self::Fixed => "fixed",
            Self::TurnedOnAStand => "turned on a stand",
            Self::InTheHand => "turned in the hand",
        }
    }
}

/// One scene with its truth and how it is clicked.
pub struct Case {
    pub number: u64,
    pub held: Held,
    pub scene: Scene,
    pub truth: Truth,
    pub clicking: Clicking,
}

/// Case `number` of those `held` so.
pub fn case(held: Held, number: u64) -> Case {
    // A drawn camera may miss a footfall: the next draw of the same case is taken.
    (0..200)
        .find_map(|attempt| {
            let mut random = seeded(10_000 * (held as u64 + 1) + number);
            random.set_stream(attempt);
            let (scene, clicking) = draw(held, number, &mut random);
            let truth = Truth::of(&scene).ok()?;
            Some(Case { number, held, scene, truth, clicking })
        })
        .unwrap_or_else(|| panic!("no camera sees case {number}, {}", held.words()))
}

fn draw(held: Held, number: u64, random: &mut impl Rng) -> (Scene, Clicking) {
    let seed = 77_000 + number;
    let stories = Scene::stories(seed);
    let mut scene = stories[number as usize % stories.len()].1.clone();
    scene.ground = Ground {
        slope_percent: if random.random_bool(0.3) { random.random_range(-4.0..4.0) } else { 0.0 },
        surface: Surface::Sand,
    };
    let laid = if random.random_bool(0.6) { Laid::Taped } else { Laid::Paced };
    scene.poles.laying = match laid {
        Laid::Taped => LayingErrors::TAPED,
        Laid::Paced => LayingErrors::PACED,
    };
    scene.poles.count = random.random_range(2..=8);
    scene.poles.spacing_m = one_of(random, &[2.5, 3.0, 3.66]);
    scene.poles.length_m = one_of(random, &[3.0, 3.5, 4.0]);
    scene.poles.last_x_m = random.random_range(-6.0..-2.0);
    scene.poles.aside_m = one_of(random, &[2.4, -2.4, 2.4, 0.0]);
    scene.fence = FenceBuild { width_m: scene.poles.length_m, ..scene.fence };
    if scene.fence.kind == FenceKind::CrossRail && random.random_bool(0.5) {
        scene.fence.kind = FenceKind::Vertical;
    }
    scene.track = track(held, random);
    film(held, &mut scene, random);
    let mut clicking = Clicking::with_sd(random.random_range(0.5..3.0), number);
    // Half of the coaches let the ends snap to the pole's own edges.
    if random.random_bool(0.5) {
        clicking.pole_sd_px = 0.4;
    }
    clicking.laid = laid;
    (scene, clicking)
}

fn track(held: Held, random: &mut impl Rng) -> Track {
    let mut track = Track { offset_m: random.random_range(-0.6..0.6), ..Track::STRAIGHT };
    match random.random_range(0..10) {
        0..=1 => track.angle_deg = random.random_range(-15.0..15.0),
        2 => {
            let radius_m = one_of(random, &[-60.0, -35.0, 35.0, 60.0]);
            track.shape = TrackShape::Bending { radius_m };
        }
        3 if held != Held::Fixed => {
            let radius_m = one_of(random, &[-12.0, 12.0]);
            let straight_m = random.random_range(10.0..16.0);
            track.shape = TrackShape::OffATurn { radius_m, straight_m };
        }
        _ => {}
    }
    track
}

fn film(held: Held, scene: &mut Scene, random: &mut impl Rng) {
    let filming = &mut scene.filming;
    filming.height_m = if random.random_bool(0.7) {
        random.random_range(1.2..2.0)
    } else {
        random.random_range(2.0..4.0)
    };
    let side = one_of(random, &[-1.0, 1.0]);
    filming.distance_m = side * random.random_range(8.0..30.0);
    let to_the_first: f64 = scene.ride.strides_m.iter().sum::<f64>() + scene.ride.take_off_m;
    let middle = -to_the_first / 2.0;
    filming.along_m = middle + random.random_range(-4.0..4.0);
    filming.frames_per_s = one_of(random, &[30.0, 50.0, 60.0, 60.0, 120.0, 240.0]);
    filming.exposure_s = 1.0 / 500.0;
    let (width, height) = one_of(random, &[(1920, 1080), (1920, 1080), (3840, 2160), (1280, 720)]);
    filming.picture = PictureSize { width, height };
    match held {
        Held::Fixed => {
            let half = to_the_first / 2.0 + 5.0;
            let needed = 2.0 * (half / filming.distance_m.abs()).atan().to_degrees();
            filming.field_deg = (needed * random.random_range(0.9..1.1)).clamp(40.0, 95.0);
            filming.handling = Handling::Fixed;
        }
        Held::TurnedOnAStand => {
            filming.field_deg = random.random_range(45.0..70.0);
            filming.handling = Handling::ON_A_STAND;
        }
        Held::InTheHand => {
            filming.field_deg = random.random_range(45.0..70.0);
            filming.handling = Handling::Turning {
                tremor_deg: 0.12,
                sway_sd_m: random.random_range(0.02..0.08),
                zoom_to: 1.0,
            };
        }
    }
    // Phones lean and their lenses bend a little; drawn last, so that the rest stays as it was.
    let mut normal = |sd: f64| -> f64 {
        let draw: f64 = StandardNormal.sample(random);
        sd * draw
    };
    filming.roll_deg = normal(LEAN_SD_DEG);
    filming.k1 = normal(K1_SD);
}

/// How far a phone held or set up by eye leans, sd in degrees. Common practice, no source.
const LEAN_SD_DEG: f64 = 2.0;
/// Radial distortion left in a phone's pictures, sd. Common practice, no source.
const K1_SD: f64 = 0.015;

fn one_of<T: Copy>(random: &mut impl Rng, of: &[T]) -> T {
    of[random.random_range(0..of.len())]
}
