//! Poses of the camera as functions of the unknowns, with derivatives.
//!
//! A pose that was followed is told against the pose it was followed from: its own unknowns are the
//! small errors of the observed turn and shift. So the whole rig of poses turns with one of them,
//! and what was observed to a hundred-thousandth of a radian stays observed while it turns; with
//! an unknown turn for each pose the adjustment creeps along a curve as sharp as that.

use nalgebra::{DVector, Matrix3, Rotation3, Vector3};

use super::model::CameraColumns;
use crate::scene::{Camera, FramePoint, Lens, Pose, ScenePoint, left_jacobian, skew};

/// One pose of the camera and where its unknowns are.
#[derive(Clone, Copy, Debug)]
pub struct FramePose {
    /// Rotation that the unknown small turn starts from; of a followed pose it follows from the
    /// pose it is told against.
    pub start: Rotation3<f64>,
    /// First of three: the turn, `R = exp(turn) start`.
    pub turn: usize,
    /// First of three: how far the hand strayed from the mean place, metres, if it may; of a pose
    /// whose shift was observed, the error of that, in its axes and units.
    pub sway: Option<usize>,
    /// ln(focal length / that of the camera as a whole), if it may differ.
    pub zoom: Option<usize>,
    /// Against which pose it was followed, if it was.
    pub followed: Option<FollowedPose>,
}

/// What was observed of a pose against another.
#[derive(Clone, Copy, Debug)]
pub struct FollowedPose {
    /// The pose it is told against; that one is not followed itself.
    pub base: usize,
    /// Turns directions of the base's camera into its own.
    pub turn: Rotation3<f64>,
    /// Its place less the base's, in the base camera's axes and in units of their own.
    pub shift: Vector3<f64>,
    /// ln(metres / unit of `shift`); `None` where no shift was observed.
    pub log_unit: Option<usize>,
}

/// A pose at given unknowns.
pub struct PosedCamera {
    /// The camera.
    pub camera: Camera,
    /// How far it strayed from the mean place, metres in the ground frame.
    pub astray: Vector3<f64>,
    /// How a small turn of it, `camera_from_ground ← exp(d) camera_from_ground`, follows from
    /// three unknowns, by the first of them.
    pub turn_by: Vec<(usize, Matrix3<f64>)>,
    /// How `astray` moves, by column.
    pub astray_by: Vec<(usize, Vector3<f64>)>,
    /// Column of its zoom.
    pub zoom: Option<usize>,
}

/// All poses at given unknowns.
pub fn posed(
    poses: &[FramePose],
    camera: CameraColumns,
    centre: FramePoint,
    x: &DVector<f64>,
) -> Vec<PosedCamera> {
    poses.iter().map(|pose| one(poses, pose, camera, centre, x)).collect()
}

/// One pose at given unknowns.
pub fn one(
    poses: &[FramePose],
    pose: &FramePose,
    columns: CameraColumns,
    centre: FramePoint,
    x: &DVector<f64>,
) -> PosedCamera {
    let (rotation, turn_by, astray, astray_by) = match &pose.followed {
        None => {
            let (astray, astray_by) = strayed(pose, x);
            let turn = triple(x, pose.turn);
            let by = vec![(pose.turn, left_jacobian(turn))];
            (Rotation3::new(turn) * pose.start, by, astray, astray_by)
        }
        Some(followed) => against(&poses[followed.base], pose, followed, x),
    };
    let zoom = pose.zoom.map_or(0.0, |zoom| x[zoom]);
    let lens = Lens { focal_px: (x[columns.log_focal] + zoom).exp(), centre, k1: x[columns.k1] };
    let position = ScenePoint::from(triple(x, columns.position) + astray);
    let camera = Camera { lens, pose: Pose { camera_from_ground: rotation, position } };
    PosedCamera { camera, astray, turn_by, astray_by, zoom: pose.zoom }
}

type Posed = (Rotation3<f64>, Vec<(usize, Matrix3<f64>)>, Vector3<f64>, Vec<(usize, Vector3<f64>)>);

fn against(base: &FramePose, pose: &FramePose, followed: &FollowedPose, x: &DVector<f64>) -> Posed {
    let (turn, base_turn) = (triple(x, pose.turn), triple(x, base.turn));
    let base_rotation = Rotation3::new(base_turn) * base.start;
    let from_base = Rotation3::new(turn) * followed.turn;
    let base_jacobian = left_jacobian(base_turn);
    let turn_by =
        vec![(pose.turn, left_jacobian(turn)), (base.turn, from_base.matrix() * base_jacobian)];
    let rotation = from_base * base_rotation;
    let (Some(error), Some(log_unit)) = (pose.sway, followed.log_unit) else {
        let (astray, astray_by) = strayed(pose, x);
        return (rotation, turn_by, astray, astray_by);
    };
    let (mut astray, mut astray_by) = strayed(base, x);
    let to_ground = x[log_unit].exp() * base_rotation.inverse().matrix();
    let shift = followed.shift + triple(x, error);
    astray += to_ground * shift;
    push_columns(&mut astray_by, error, &to_ground);
    astray_by.push((log_unit, to_ground * shift));
    push_columns(&mut astray_by, base.turn, &(to_ground * skew(shift) * base_jacobian));
    (rotation, turn_by, astray, astray_by)
}

/// Of a pose that has a sway of its own.
fn strayed(pose: &FramePose, x: &DVector<f64>) -> (Vector3<f64>, Vec<(usize, Vector3<f64>)>) {
    let mut by = Vec::new();
    let astray = pose.sway.map_or(Vector3::zeros(), |at| {
        push_columns(&mut by, at, &Matrix3::identity());
        triple(x, at)
    });
    (astray, by)
}

fn push_columns(by: &mut Vec<(usize, Vector3<f64>)>, first: usize, matrix: &Matrix3<f64>) {
    by.extend((0..3).map(|axis| (first + axis, matrix.column(axis).into())));
}

/// Three neighbouring unknowns as a vector.
pub fn triple(x: &DVector<f64>, first: usize) -> Vector3<f64> {
    Vector3::new(x[first], x[first + 1], x[first + 2])
}
