//! The unknowns of one piece of a clip: a lens, poses and points, all in the axes of the camera
//! in the piece's first key frame.

use nalgebra::{Rotation3, Vector3};
use serde::{Deserialize, Serialize};

use super::motion_model::MotionModel;
use crate::scene::{Camera, FramePoint, Lens, Pose, ScenePoint};

/// Where a camera is and looks, against the reference camera.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct KeyPose {
    /// Turns directions of the reference camera into directions of this one.
    pub turn: Rotation3<f64>,
    /// Natural logarithm of its focal length over that of the reference camera.
    pub log_zoom: f64,
    /// Its place in the axes of the reference camera, nominal metres.
    pub shift: Vector3<f64>,
}

impl KeyPose {
    /// The reference camera itself.
    pub fn reference() -> Self {
        Self { turn: Rotation3::identity(), log_zoom: 0.0, shift: Vector3::zeros() }
    }

    /// Moved by a step of a frame's unknowns, in the order of [`MotionModel::unknowns`].
    pub(super) fn stepped(&self, model: MotionModel, step: impl Fn(usize) -> f64) -> Self {
        let mut all = [0.0; 7];
        for (i, &place) in model.unknowns().iter().enumerate() {
            all[place] = step(i);
        }
        Self {
            turn: (Rotation3::new(Vector3::new(all[0], all[1], all[2])) * self.turn),
            log_zoom: self.log_zoom + all[3],
            shift: self.shift + Vector3::new(all[4], all[5], all[6]),
        }
    }
}

/// A point of the background.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct FarPoint {
    /// Direction from the reference camera, unit length.
    pub toward: Vector3<f64>,
    /// One over its distance, 1 per nominal metre. Pictures are straight in it, so a point too far
    /// to be told from infinity has an honest error; noise may take it a little below 0.
    pub nearness: f64,
}

impl FarPoint {
    /// Two directions square to the point's and to each other.
    pub fn sideways(&self) -> (Vector3<f64>, Vector3<f64>) {
        let least = self.toward.iamin();
        let mut axis = Vector3::zeros();
        axis[least] = 1.0;
        let first = self.toward.cross(&axis).normalize();
        (first, self.toward.cross(&first))
    }

    /// Moved by a step: two sideways, radians, and one of `nearness`.
    pub fn stepped(&self, step: Vector3<f64>) -> Self {
        let (first, second) = self.sideways();
        Self {
            toward: (self.toward + step.x * first + step.y * second).normalize(),
            nearness: self.nearness + step.z,
        }
    }

    /// From a camera at `shift`, in the reference camera's axes and of any length. Where shifts
    /// are no part of the model they are zero, and the distance falls out.
    pub fn seen_from(&self, shift: Vector3<f64>) -> Vector3<f64> {
        self.toward - self.nearness * shift
    }
}

/// All unknowns of a piece.
#[derive(Clone, Debug)]
pub(super) struct Bundle {
    /// Principal point: the picture's centre.
    pub centre: FramePoint,
    /// Natural logarithm of the reference camera's focal length in pixels.
    pub log_focal: f64,
    /// Radial distortion.
    pub k1: f64,
    /// Key frames; the first is the reference.
    pub keys: Vec<KeyPose>,
    /// Points.
    pub points: Vec<FarPoint>,
}

/// Unknowns common to all key frames: ln focal length and k1.
pub(super) const COMMON: usize = 2;

impl Bundle {
    /// The lens of a frame that is zoomed by `log_zoom`.
    pub fn lens(&self, log_zoom: f64) -> Lens {
        Lens { focal_px: (self.log_focal + log_zoom).exp(), centre: self.centre, k1: self.k1 }
    }

    /// A camera of the geometry module at a pose; its place is left at zero, since points are told
    /// by their offset from it.
    pub fn camera(&self, pose: &KeyPose) -> Camera {
        Camera {
            lens: self.lens(pose.log_zoom),
            pose: Pose {
                camera_from_ground: pose.turn,
                position: ScenePoint::from(Vector3::zeros()),
            },
        }
    }

    /// First column of a key frame's unknowns; the reference has none.
    pub fn column_of(model: MotionModel, key: usize) -> Option<usize> {
        (key > 0).then(|| COMMON + (key - 1) * model.count())
    }
}
