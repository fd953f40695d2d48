//! From the marks file and a first camera to the adjustment's model.

mod approaches;
mod fences;
mod fit;
mod poses;
mod references;

use std::collections::BTreeMap;

use super::gauge::Gauge;
use super::model::{CameraColumns, Click, Model};
use super::place::Place;
use super::scale::Scale;
use super::start::{Start, log_focal_prior};
use super::unknowns::{Meaning, Unknowns};
use crate::marks::{Mark, MarkAddress, MarksFile};
use crate::pan::RelativeMotion;
use crate::quantity::FrameNumber;
use poses::poses;

/// Builds the model.
pub fn build(file: &MarksFile, gauge: &Gauge, start: &Start, motions: &[RelativeMotion]) -> Model {
    let mut builder = Builder::new(file, start, motions);
    for (index, reference) in file.references.iter().enumerate() {
        builder.reference(reference, index == gauge.reference);
    }
    builder.fences(gauge);
    for (index, reference) in file.references.iter().enumerate() {
        builder.relations_of_fence(reference, index == gauge.reference);
    }
    for tie in &file.ties {
        builder.tie(&tie.id, tie.place, &tie.marks);
    }
    for approach in &file.approaches {
        builder.approach(approach);
    }
    builder.clicks();
    builder.model
}

struct Builder<'a> {
    file: &'a MarksFile,
    start: &'a Start,
    model: Model,
    pose_of_frame: BTreeMap<FrameNumber, usize>,
    index: BTreeMap<MarkAddress, usize>,
}

impl<'a> Builder<'a> {
    fn new(file: &'a MarksFile, start: &'a Start, motions: &[RelativeMotion]) -> Self {
        let mut unknowns = Unknowns::default();
        let prior = &file.camera;
        let focal = log_focal_prior(prior, file.clip.picture);
        let log_focal = unknowns.add(start.lens.focal_px.ln(), Some(focal), Meaning::Focal);
        let k1 = unknowns.believed(prior.distortion_k1.value, prior.distortion_k1.sd);
        let position = unknowns.free(start.position.x);
        unknowns.free(start.position.y);
        unknowns.add(start.position.z, Some(prior.height_m), Meaning::CameraHeight);
        let mut model = Model {
            unknowns,
            camera: CameraColumns { log_focal, k1, position },
            centre: start.lens.centre,
            poses: Vec::new(),
            places: Vec::new(),
            clicks: Vec::new(),
            relations: Vec::new(),
            tracks: Vec::new(),
            motions: Vec::new(),
            scale: Scale::default(),
            robust: false,
        };
        let pose_of_frame = poses(file, start, motions, &mut model);
        Self { file, start, model, pose_of_frame, index: BTreeMap::new() }
    }

    /// Lets the scene's scale follow a stated length, by `share` of its relative change.
    fn scale_by(&mut self, column: usize, stated: f64, share: f64) {
        self.model.scale.depend(column, stated, share / stated.max(1e-6));
    }

    fn place(&mut self, address: MarkAddress, place: Place) -> usize {
        let at = self.model.places.len();
        self.index.insert(address.clone(), at);
        self.model.places.push((address, place));
        at
    }

    fn ground_place(&mut self, address: MarkAddress, marks: &[Mark], height: f64) -> Option<usize> {
        let guess = self.start.ground_guess(marks, height)?;
        let at = self.model.unknowns.free(guess.x);
        self.model.unknowns.free(guess.y);
        Some(self.place(address, Place::OnGround { at, height }))
    }

    fn clicks(&mut self) {
        let file = self.file;
        for (address, marks) in file.places() {
            let Some(&place) = self.index.get(&address) else { continue };
            for mark in marks {
                let Some(&pose) = self.pose_of_frame.get(&mark.frame) else { continue };
                self.model.clicks.push(Click {
                    place,
                    pose,
                    frame: mark.frame,
                    at: mark.point(),
                    sd_px: mark.sd_px,
                    used: true,
                });
            }
        }
    }
}

#[cfg(test)]
mod tests;
