//! The camera as a person sets it up, and where it looks at any moment.
//!
//! A fixed camera sees the whole approach. A turning one follows the horse with a hand's lag,
//! drift, tremor and sway, all smooth functions of time (sums of slow waves drawn by seed), so
//! that blur, frames and truth share one motion.

use nalgebra::{Matrix3, Rotation3, Vector3};
use rand_chacha::ChaCha8Rng;
use serde::{Deserialize, Serialize};

use super::chance::{Purpose, between, stream};
use super::plan::Plan;
use super::scene::Scene;
use crate::scene::{Camera, Lens, PictureSize, Pose, ScenePoint};

/// The camera and how it is held.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Filming {
    /// Height of the lens over the ground plane, metres.
    pub height_m: f64,
    /// Distance from y = 0, square to x, metres: positive to the right of the way the horse
    /// goes, negative to the left.
    pub distance_m: f64,
    /// x of the camera, metres.
    pub along_m: f64,
    /// Horizontal field, degrees.
    pub field_deg: f64,
    /// The upright picture.
    pub picture: PictureSize,
    /// Radial distortion of the lens.
    pub k1: f64,
    /// How far the camera leans to the right from level, degrees; a hand's tremor comes on top.
    #[serde(default)]
    pub roll_deg: f64,
    /// Fixed or turning.
    pub handling: Handling,
    /// Frames a second as captured.
    pub frames_per_s: f64,
    /// Frames a second as played, when the clip is slowed down.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plays_at_per_s: Option<f64>,
    /// Exposure, seconds.
    pub exposure_s: f64,
    /// Standard deviation of the sensor's noise, grey levels of 255.
    pub noise_levels: f64,
    /// The light.
    pub light: Light,
}

/// How the camera is held.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Handling {
    /// On a stand, not touched.
    Fixed,
    /// Turned to follow the horse.
    Turning {
        /// Standard deviation of the tremor about each axis, degrees.
        tremor_deg: f64,
        /// Standard deviation of the camera's place about its mean in each direction, metres;
        /// slow and smooth. Zero on a stand.
        sway_sd_m: f64,
        /// Focal length at the end over that at the start; 1 without zoom.
        zoom_to: f64,
    },
}

impl Handling {
    /// Turned on a stand.
    pub const ON_A_STAND: Self = Self::Turning { tremor_deg: 0.02, sway_sd_m: 0.0, zoom_to: 1.0 };
    /// Turned in the hands of somebody who stands still. Common practice, no source.
    pub const IN_THE_HAND: Self = Self::Turning { tremor_deg: 0.12, sway_sd_m: 0.05, zoom_to: 1.0 };
}

/// The light.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Light {
    /// Low and warm.
    Evening,
    /// High and white.
    Noon,
}

/// The up direction of gravity in the leaning ground frame.
pub(super) fn up(scene: &Scene) -> Vector3<f64> {
    let slope = (scene.ground.slope_percent / 100.0).atan();
    Vector3::new(slope.sin(), 0.0, slope.cos())
}

/// The camera at any moment.
#[derive(Clone, Debug)]
pub(super) struct CameraPath {
    lens: Lens,
    place: ScenePoint,
    up: Vector3<f64>,
    roll: f64,
    end_s: f64,
    hold: Hold,
}

#[derive(Clone, Debug)]
enum Hold {
    Fixed(Pose),
    Turning { aims: Vec<ScenePoint>, turn: [Wander; 3], sway: [Wander; 3], zoom_to: f64 },
}

/// Aims of a turning camera are tabled this far apart and read off straight between.
const AIM_STEP_S: f64 = 0.02;

impl CameraPath {
    /// The path for a checked scene.
    pub(super) fn of(scene: &Scene, plan: &Plan) -> Self {
        let filming = &scene.filming;
        let mut lens = Lens::with_field(filming.picture, filming.field_deg.to_radians());
        lens.k1 = filming.k1;
        let place = ScenePoint::new(filming.along_m, -filming.distance_m, filming.height_m);
        let up = up(scene);
        let roll = filming.roll_deg.to_radians();
        let hold = match filming.handling {
            Handling::Fixed => {
                Hold::Fixed(looking(place, middle_of_approach(scene, plan), up, roll))
            }
            Handling::Turning { tremor_deg, sway_sd_m, zoom_to } => {
                let mut random = stream(scene.seed, Purpose::Hand);
                Hold::Turning {
                    aims: aims(scene, plan),
                    turn: std::array::from_fn(|_| Wander::hand(&mut random, tremor_deg)),
                    sway: std::array::from_fn(|_| Wander::slow(&mut random, sway_sd_m)),
                    zoom_to,
                }
            }
        };
        Self { lens, place, up, roll, end_s: plan.end_s, hold }
    }

    /// Whether it keeps one pose.
    pub(super) fn is_fixed(&self) -> bool {
        matches!(self.hold, Hold::Fixed(_))
    }

    /// The camera at `time` seconds.
    pub(super) fn at(&self, time: f64) -> Camera {
        match &self.hold {
            Hold::Fixed(pose) => Camera { lens: self.lens, pose: *pose },
            Hold::Turning { aims, turn, sway, zoom_to } => {
                let place = ScenePoint::new(
                    self.place.x + sway[0].at(time),
                    self.place.y + sway[1].at(time),
                    // People bob less than they lean.
                    self.place.z + 0.5 * sway[2].at(time),
                );
                let [yaw, pitch, roll] = std::array::from_fn(|i| turn[i].at(time));
                let aim = aim_at(aims, time);
                let level = looking(place, aim, self.up, self.roll + roll);
                let shake = Rotation3::from_euler_angles(pitch, yaw, 0.0);
                let share = (time / self.end_s).clamp(0.0, 1.0);
                let zoom = 1.0 + (zoom_to - 1.0) * share * share * (3.0 - 2.0 * share);
                let lens = Lens { focal_px: self.lens.focal_px * zoom, ..self.lens };
                let pose =
                    Pose { camera_from_ground: shake * level.camera_from_ground, position: place };
                Camera { lens, pose }
            }
        }
    }
}

/// A pose at `place` whose middle is `aim`, level to `up` but for `roll` radians.
fn looking(place: ScenePoint, aim: ScenePoint, up: Vector3<f64>, roll: f64) -> Pose {
    let forward = (aim.vector() - place.vector()).normalize();
    let right = forward.cross(&up).normalize();
    let down = forward.cross(&right);
    let rows = Matrix3::from_rows(&[right.transpose(), down.transpose(), forward.transpose()]);
    let lean = Rotation3::from_axis_angle(&Vector3::z_axis(), roll);
    Pose { camera_from_ground: lean * Rotation3::from_matrix_unchecked(rows), position: place }
}

/// Where a fixed camera looks: halfway, as seen from it, between the first contact that counts
/// and the landing.
fn middle_of_approach(scene: &Scene, plan: &Plan) -> ScenePoint {
    let filming = &scene.filming;
    let away = filming.distance_m.signum();
    let first_stride = -(scene.ride.strides_m.len() as i32);
    let bearings =
        plan.contacts.iter().filter(|contact| (first_stride..=0).contains(&contact.stride)).map(
            |contact| {
                let ahead = (contact.place.y + filming.distance_m) * away;
                (contact.place.x - filming.along_m).atan2(ahead.max(0.1))
            },
        );
    let (low, high) =
        bearings.fold((f64::MAX, f64::MIN), |(low, high), b| (low.min(b), high.max(b)));
    let distance = filming.distance_m.abs();
    let middle = f64::midpoint(low, high).tan() * distance;
    ScenePoint::new(filming.along_m + middle, 0.0, 0.45 + 0.045 * distance)
}

/// Where a turning camera looks at each step of the table: a little ahead of the horse, smoothed
/// over the time a hand needs.
fn aims(scene: &Scene, plan: &Plan) -> Vec<ScenePoint> {
    let height = 1.05 * scene.horse.size.scale() + 0.15 * scene.fence.height_m;
    let steps = (plan.end_s / AIM_STEP_S).ceil() as usize + 2;
    (0..steps)
        .map(|step| {
            let time = step as f64 * AIM_STEP_S;
            let window = [-0.45, -0.35, -0.25, -0.15, -0.05, 0.05, 0.15, 0.25];
            let along = window.iter().map(|lag| plan.along.at(time + lag)).sum::<f64>() / 8.0;
            let (point, _) = scene.track.at(along + 0.9);
            ScenePoint::new(point.x, point.y, height)
        })
        .collect()
}

fn aim_at(aims: &[ScenePoint], time: f64) -> ScenePoint {
    let place = (time / AIM_STEP_S).clamp(0.0, (aims.len() - 1) as f64);
    let i = (place as usize).min(aims.len() - 2);
    let share = place - i as f64;
    ScenePoint::from(aims[i].vector() * (1.0 - share) + aims[i + 1].vector() * share)
}

/// A smooth random motion: a sum of waves.
#[derive(Clone, Debug)]
struct Wander {
    waves: Vec<(f64, f64, f64)>,
}

impl Wander {
    fn of(random: &mut ChaCha8Rng, count: usize, hertz: (f64, f64), sd: f64) -> Self {
        let amplitude = sd * (2.0 / count as f64).sqrt();
        let waves = (0..count)
            .map(|_| {
                let turn = std::f64::consts::TAU;
                (turn * between(random, hertz.0, hertz.1), between(random, 0.0, turn), amplitude)
            })
            .collect();
        Self { waves }
    }

    /// The sway of a standing person: slow.
    fn slow(random: &mut ChaCha8Rng, sd: f64) -> Self {
        Self::of(random, 5, (0.08, 0.7), sd)
    }

    /// Imperfect following and tremor, radians.
    fn hand(random: &mut ChaCha8Rng, tremor_deg: f64) -> Self {
        let drift = Self::of(random, 4, (0.1, 0.6), (4.0 * tremor_deg).to_radians());
        let tremor = Self::of(random, 6, (2.0, 8.0), tremor_deg.to_radians());
        Self { waves: [drift.waves, tremor.waves].concat() }
    }

    fn at(&self, time: f64) -> f64 {
        self.waves.iter().map(|(rate, phase, size)| size * (rate * time + phase).sin()).sum()
    }
}
