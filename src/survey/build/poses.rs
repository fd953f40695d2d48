//! Poses of the camera, and ties that join them.

use std::collections::BTreeMap;

use nalgebra::{Rotation3, Vector3};

use super::Builder;
use crate::marks::{Mark, MarkAddress, MarksFile, Motion, TiePlace};
use crate::pan::RelativeMotion;
use crate::quantity::{FrameNumber, Given};
use crate::survey::model::{LevelColumns, Model, Relation};
use crate::survey::motion::{LOG_UNIT_SD, ObservedMotion};
use crate::survey::place::Place;
use crate::survey::pose::{FollowedPose, FramePose};
use crate::survey::start::Start;

/// ln(inverse depth in 1/m) of a tie that may be anywhere: 25 m, and from 3 m to where no hand's
/// sway can be seen within two sds.
const TIE_LOG_INVERSE_DEPTH: Given = Given::new(-3.2, 1.0);
/// How far the ground leans from level in each direction, sd in radians: riding surfaces are laid
/// with a fall of one to two per cent. Common practice, no source.
const GROUND_LEAN_RAD: f64 = 0.015;
/// Part of a roll's sd that a hand keeps through the whole clip: frames of one clip are not
/// independent, and a reference on one line rests on their level alone.
const ROLL_KEPT: f64 = 0.7;

impl Builder<'_> {
    pub(super) fn tie(&mut self, id: &str, place: TiePlace, marks: &[Mark]) {
        let address = MarkAddress::Tie { tie: id.to_owned() };
        if place == TiePlace::Ground {
            self.ground_place(address, marks, 0.0);
            return;
        }
        let rays: Vec<Vector3<f64>> = marks
            .iter()
            .filter_map(|mark| Some(self.start.camera(mark.frame)?.ray(mark.point())))
            .collect();
        if rays.is_empty() {
            return;
        }
        let base = rays.iter().sum::<Vector3<f64>>().normalize();
        let right = base.cross(&Vector3::z()).normalize();
        let up = right.cross(&base);
        let at = self.model.unknowns.free(0.0);
        self.model.unknowns.free(0.0);
        let belief = TIE_LOG_INVERSE_DEPTH;
        let column = self.model.unknowns.free(belief.value);
        self.model.relations.push(Relation::TieDepth { column, belief });
        self.place(address, Place::Towards { base, right, up, at });
    }
}

/// One pose for a fixed camera, one a frame for a turning one, each with its horizon; and what was
/// observed of its motion.
pub(super) fn poses(
    file: &MarksFile,
    start: &Start,
    motions: &[RelativeMotion],
    model: &mut Model,
) -> BTreeMap<FrameNumber, usize> {
    let roll = file.camera.roll_deg;
    let roll_sd = roll.sd.max(1e-4).to_radians();
    let lean = model.unknowns.believed(0.0, GROUND_LEAN_RAD);
    model.unknowns.believed(0.0, GROUND_LEAN_RAD);
    let kept = model.unknowns.believed(0.0, ROLL_KEPT * roll_sd);
    let level = LevelColumns { lean, roll: kept };
    let add = |model: &mut Model, rotation: Rotation3<f64>, sway: Sway| {
        let turn = model.unknowns.free(0.0);
        model.unknowns.free(0.0);
        model.unknowns.free(0.0);
        let sway = sway.unknowns(model);
        let pose = model.poses.len();
        model.poses.push(FramePose { start: rotation, turn, sway, zoom: None, followed: None });
        let sine = roll.value.to_radians().sin();
        let sd = (1.0 - ROLL_KEPT * ROLL_KEPT).sqrt() * roll_sd;
        model.relations.push(Relation::Horizon { pose, sine, level, sd });
        pose
    };
    match file.camera.motion {
        Motion::Fixed => {
            let Some(rotation) = start.rotations.values().next() else { return BTreeMap::new() };
            let pose = add(model, *rotation, Sway::None);
            start.rotations.keys().map(|frame| (*frame, pose)).collect()
        }
        Motion::Turning { sway_sd_m } => {
            let poses = start
                .rotations
                .iter()
                .map(|(frame, rotation)| {
                    let sway = Sway::at(*frame, sway_sd_m, motions);
                    (*frame, add(model, *rotation, sway))
                })
                .collect();
            for motion in motions {
                observe(motion, &poses, sway_sd_m, model);
            }
            poses
        }
    }
}

/// What is known of a pose's place before it is looked at.
#[derive(Clone, Copy)]
enum Sway {
    /// The camera keeps its place.
    None,
    /// It strays by so much, metres; nothing else tells how far.
    Astray(f64),
    /// Others are told against this one's place. Their first is the camera's own place; that of a
    /// later piece of the clip may be astray.
    First(f64),
    /// Its place is observed, but for the unit: the shape of a sway is no chance any more, and
    /// only its size is believed, once for all (see `observe`). To take each place as astray by
    /// itself would draw a scene together in which a person shifted her weight.
    Observed,
}

impl Sway {
    fn at(frame: FrameNumber, sd_m: f64, motions: &[RelativeMotion]) -> Self {
        if sd_m <= 0.0 {
            return Self::None;
        }
        let of_frame = |motion: &&RelativeMotion| {
            motion.model.shifts() && motion.frames.len() > 1 && motion.frames.contains(&frame)
        };
        match motions.iter().find(of_frame) {
            None => Self::Astray(sd_m),
            Some(motion) if motion.frames[0] != frame => Self::Observed,
            Some(motion) => {
                let is_first = std::ptr::eq(motion, &motions[0]);
                Self::First(if is_first { 0.0 } else { sd_m })
            }
        }
    }

    /// The first of its three unknowns.
    fn unknowns(self, model: &mut Model) -> Option<usize> {
        let believed = |model: &mut Model, sd_m: f64| {
            let first = model.unknowns.believed(0.0, sd_m);
            model.unknowns.believed(0.0, sd_m);
            model.unknowns.believed(0.0, sd_m);
            first
        };
        Some(match self {
            Self::None => return None,
            Self::Astray(sd) => {
                let first = model.unknowns.free(0.0);
                model.unknowns.free(0.0);
                model.unknowns.free(0.0);
                for column in first..first + 3 {
                    model.relations.push(Relation::Sway { column, sd });
                }
                first
            }
            Self::First(sd_m) => believed(model, sd_m),
            Self::Observed => {
                let first = model.unknowns.free(0.0);
                model.unknowns.free(0.0);
                model.unknowns.free(0.0);
                first
            }
        })
    }
}

/// ln(metres / unit of the observed shifts): such that they come out as large as the stated sway,
/// give or take a factor of three.
fn log_unit_belief(motion: &RelativeMotion, sway_sd_m: f64) -> Given {
    let count = motion.shifts.len() as f64;
    let mean: Vector3<f64> = motion.shifts.iter().sum::<Vector3<f64>>() / count;
    let squares: f64 = motion.shifts.iter().map(|shift| (shift - mean).norm_squared()).sum();
    let rms = (squares / (3.0 * count)).sqrt();
    Given::new((sway_sd_m / rms.max(1e-4)).ln(), LOG_UNIT_SD)
}

/// Adds the motion of the poses that were followed; a zooming lens gets an unknown a pose.
fn observe(
    motion: &RelativeMotion,
    poses: &BTreeMap<FrameNumber, usize>,
    sway_sd_m: f64,
    model: &mut Model,
) {
    let of_frames: Option<Vec<usize>> =
        motion.frames.iter().map(|frame| poses.get(frame).copied()).collect();
    // All its frames are marked, and so have a pose, unless no first camera could be told there.
    let Some(of_frames) = of_frames.filter(|of_frames| of_frames.len() > 1) else { return };
    if motion.model.zooms() {
        // Against the first pose of the first motion, whose focal length is the camera's.
        let is_first = model.motions.is_empty();
        for (i, pose) in of_frames.iter().enumerate() {
            if i > 0 || !is_first {
                model.poses[*pose].zoom = Some(model.unknowns.free(motion.log_zooms[i]));
            }
        }
    }
    let shifts = sway_sd_m > 0.0 && motion.model.shifts();
    let log_unit = shifts.then(|| {
        let belief = log_unit_belief(motion, sway_sd_m);
        model.unknowns.believed(belief.value, belief.sd)
    });
    let base = of_frames[0];
    for (i, pose) in of_frames.iter().enumerate().skip(1) {
        let (turn, shift) = (motion.turns[i], motion.shifts[i]);
        model.poses[*pose].followed = Some(FollowedPose { base, turn, shift, log_unit });
    }
    let observed = ObservedMotion::new(motion.clone(), of_frames, shifts);
    model.motions.extend(observed);
}
