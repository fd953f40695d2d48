//! Tracks made up from cameras whose truth is known.

use nalgebra::Vector3;
use rand::Rng;
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, StandardNormal};

use crate::pan::{Held, Sighting, TrackedFrame, Tracks};
use crate::quantity::{FrameNumber, seeded};
use crate::scene::{Camera, FramePoint, PictureSize, ScenePoint};

/// How tracks are made up.
#[derive(Clone, Copy, Debug)]
pub struct Invention {
    pub seed: u64,
    pub picture: PictureSize,
    /// Points in view at a time.
    pub in_view: usize,
    /// Standard deviations drawn for points, pixels.
    pub sd_px: (f64, f64),
    /// Share of sightings that belong to something else.
    pub mismatches: f64,
    /// Points on something that moves, at a time.
    pub moving: usize,
    /// Frames between key frames.
    pub gap: usize,
    /// Points live for this many frames at most.
    pub life: usize,
    /// Sightings in a frame between keys.
    pub between: usize,
}

impl Invention {
    pub fn of(seed: u64, picture: PictureSize) -> Self {
        Self {
            seed,
            picture,
            in_view: 120,
            sd_px: (0.1, 0.3),
            mismatches: 0.1,
            moving: 10,
            gap: 6,
            life: 90,
            between: 50,
        }
    }
}

fn even(random: &mut ChaCha8Rng) -> f64 {
    f64::from(random.next_u32()) / f64::from(u32::MAX)
}

fn normal(random: &mut ChaCha8Rng) -> f64 {
    StandardNormal.sample(random)
}

struct Thing {
    place: ScenePoint,
    /// Metres a frame.
    moves: Vector3<f64>,
    born: usize,
    dies: usize,
    sd: f64,
}

/// Something fixed at a picture place that is drawn: ground, posts, trees or the sky-line.
fn fixed_thing(random: &mut ChaCha8Rng, camera: &Camera, picture: PictureSize) -> ScenePoint {
    let at = FramePoint::new(
        even(random) * f64::from(picture.width),
        even(random) * f64::from(picture.height),
    );
    let ray = camera.ray(at);
    let eye = camera.pose.position.vector();
    if let Some(ground) = camera.ground_at(at, 0.0) {
        let place = ground.at_height(0.0);
        let distance = (place.vector() - eye).norm();
        // Half of what is low is a post or a wall in front of the ground behind it.
        if distance < 60.0 && even(random) < 0.5 {
            return place;
        }
        let nearer = (distance * (0.5 + 0.5 * even(random))).min(10.0 + 50.0 * even(random));
        return ScenePoint::from(eye + nearer * ray);
    }
    let distance = match even(random) {
        share if share < 0.35 => 10.0 + 15.0 * even(random),
        share if share < 0.85 => 20.0 + 40.0 * even(random),
        _ => 300.0 + 500.0 * even(random),
    };
    ScenePoint::from(eye + distance * ray)
}

/// Tracks of what `cameras` see, one camera a frame.
pub fn tracks(cameras: &[Camera], how: &Invention) -> Tracks {
    let mut random = seeded(how.seed);
    let mut things: Vec<Thing> = Vec::new();
    let mut frames = Vec::new();
    for (number, camera) in cameras.iter().enumerate() {
        let key = number % how.gap == 0 || number + 1 == cameras.len();
        let sees = |thing: &Thing| {
            if thing.dies <= number {
                return None;
            }
            let age = (number - thing.born) as f64;
            let place = ScenePoint::from(thing.place.vector() + age * thing.moves);
            camera.project(place).ok().filter(|at| how.picture.holds(*at))
        };
        let mut seen: Vec<(usize, FramePoint)> =
            things.iter().enumerate().filter_map(|(i, thing)| Some((i, sees(thing)?))).collect();
        if key {
            let movers = seen.iter().filter(|(i, _)| things[*i].moves.norm() > 0.0).count();
            let fresh_movers = how.moving.saturating_sub(movers);
            let fresh = how.in_view.saturating_sub(seen.len() - movers) + fresh_movers;
            for new in 0..fresh {
                let life = how.gap * 2 + (even(&mut random) * how.life as f64) as usize;
                let mut place = fixed_thing(&mut random, camera, how.picture);
                let mut moves = Vector3::zeros();
                if new < fresh_movers {
                    // On a horse in mid-picture, 6 m/s along x at 60 frames a second.
                    let spread = FramePoint::new(
                        f64::from(how.picture.width) * (0.4 + 0.2 * even(&mut random)),
                        f64::from(how.picture.height) * (0.45 + 0.2 * even(&mut random)),
                    );
                    let eye = camera.pose.position.vector();
                    place = ScenePoint::from(eye + 14.0 * camera.ray(spread));
                    moves = Vector3::new(0.1, 0.0, 0.01 * normal(&mut random));
                }
                let sd = how.sd_px.0 + (how.sd_px.1 - how.sd_px.0) * even(&mut random);
                things.push(Thing { place, moves, born: number, dies: number + life, sd });
                if let Ok(at) = camera.project(place) {
                    seen.push((things.len() - 1, at));
                }
            }
        } else if seen.len() > how.between {
            // A few, spread by taking every n-th.
            let step = seen.len() as f64 / how.between as f64;
            seen = (0..how.between).map(|i| seen[(i as f64 * step) as usize]).collect();
        }
        let sightings = seen.into_iter().map(|(point, at)| {
            let sd = things[point].sd;
            let mut at =
                FramePoint::new(at.x + sd * normal(&mut random), at.y + sd * normal(&mut random));
            if even(&mut random) < how.mismatches {
                at.x += 6.0 * normal(&mut random);
                at.y += 6.0 * normal(&mut random);
            }
            Sighting { point: point as u32, at, sd_px: sd as f32 }
        });
        frames.push(TrackedFrame {
            frame: FrameNumber(number as u32),
            key,
            piece: 0,
            held: Held::Well,
            sightings: sightings.collect(),
        });
    }
    Tracks { picture: how.picture, frames, points: things.len() as u32 }
}
