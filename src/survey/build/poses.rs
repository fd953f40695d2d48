//! Poses of the camera, and ties that join them.

use std::collections::BTreeMap;

use nalgebra::{Rotation3, Vector3};

use super::Builder;
use crate::marks::{Mark, MarkAddress, MarksFile, Motion, TiePlace};
use crate::pan::RelativeMotion;
use crate::quantity::{FrameNumber, Given};
use crate::survey::model::{FramePose, LevelColumns, Model, Relation};
use crate::survey::motion::{LOG_UNIT_SD, ObservedMotion};
use crate::survey::place::Place;
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
    let add = |model: &mut Model, rotation: Rotation3<f64>, sway_sd: f64| {
        let turn = model.unknowns.free(0.0);
        model.unknowns.free(0.0);
        model.unknowns.free(0.0);
        let sway = (sway_sd > 0.0).then(|| {
            let first = model.unknowns.free(0.0);
            model.unknowns.free(0.0);
            model.unknowns.free(0.0);
            for column in first..first + 3 {
                model.relations.push(Relation::Sway { column, sd: sway_sd });
            }
            first
        });
        let pose = model.poses.len();
        model.poses.push(FramePose { start: rotation, turn, sway, zoom: None });
        let sine = roll.value.to_radians().sin();
        let sd = (1.0 - ROLL_KEPT * ROLL_KEPT).sqrt() * roll_sd;
        model.relations.push(Relation::Horizon { pose, sine, level, sd });
        pose
    };
    match file.camera.motion {
        Motion::Fixed => {
            let Some(rotation) = start.rotations.values().next() else { return BTreeMap::new() };
            let pose = add(model, *rotation, 0.0);
            start.rotations.keys().map(|frame| (*frame, pose)).collect()
        }
        Motion::Turning { sway_sd_m } => {
            let poses = start
                .rotations
                .iter()
                .map(|(frame, rotation)| (*frame, add(model, *rotation, sway_sd_m)))
                .collect();
            for motion in motions {
                observe(motion, &poses, sway_sd_m > 0.0, model);
            }
            poses
        }
    }
}

/// Adds the motion of the poses that were followed; a zooming lens gets an unknown a pose.
fn observe(
    motion: &RelativeMotion,
    poses: &BTreeMap<FrameNumber, usize>,
    sways: bool,
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
    let shifts = sways && motion.model.shifts();
    let log_unit = shifts.then(|| model.unknowns.believed(0.0, LOG_UNIT_SD));
    let observed = ObservedMotion::new(motion.clone(), of_frames, log_unit);
    model.motions.extend(observed);
}
