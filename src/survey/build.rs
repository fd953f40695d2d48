//! From the marks file and a first camera to the adjustment's model.

use std::collections::BTreeMap;

use nalgebra::{Rotation3, Vector2, Vector3};

use super::gauge::Gauge;
use super::model::{CameraColumns, Click, FramePose, Model, Relation, TrackModel};
use super::place::{Place, PoleGroup};
use super::scale::Scale;
use super::start::{Start, log_focal_prior};
use super::unknowns::{Meaning, Unknowns};
use crate::marks::{
    Approach, BaseCorner, Event, Mark, MarkAddress, MarksFile, Motion, PoleEnd, Reference,
    ReferenceKind, TiePlace,
};
use crate::quantity::{FrameNumber, Given};
use crate::scene::GroundPoint;

/// How far hooves scatter sideways about the track, sd in metres: limbs stand left and right of
/// the horse's middle. Common practice, no source.
const HOOF_SCATTER_M: f64 = 0.20;
/// Bend of an approach that is meant to be straight, sd in 1/m.
const STRAIGHT_BEND_SD: f64 = 0.004;
/// How far a pole laid by eye lies out of line sideways (m), and how far it is turned (rad).
/// Common practice, no source.
const LAYING_ACROSS_M: f64 = 0.10;
const LAYING_TURN_RAD: f64 = 0.03;
/// A stated spacing's sd is that of one gap. Most of its variance (0.8² of it) is common to all
/// gaps, a long pace or a stretched tape; the rest is each pole's own (two poles bound a gap).
const GAP_SHARED: f64 = 0.8;
const GAP_OWN: f64 = 0.424;
/// How far a rail hangs off the line of the base, sd in metres.
const RAIL_OFF_LINE_M: f64 = 0.03;
/// How much two widths of one fence differ, sd in metres.
const WIDTHS_DIFFER_M: f64 = 0.02;
/// ln(inverse depth in 1/m) of a tie that may be anywhere: 25 m, and from 3 m to where no hand's
/// sway can be seen within two sds.
const TIE_LOG_INVERSE_DEPTH: Given = Given::new(-3.2, 1.0);

/// Builds the model.
pub fn build(file: &MarksFile, gauge: &Gauge, start: &Start) -> Model {
    let mut builder = Builder::new(file, start);
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
    fn new(file: &'a MarksFile, start: &'a Start) -> Self {
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
            scale: Scale::default(),
            robust: false,
        };
        let pose_of_frame = poses(file, start, &mut model);
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

    fn reference(&mut self, reference: &Reference, is_gauge: bool) {
        let id = &reference.id;
        match &reference.kind {
            ReferenceKind::Poles { .. } => self.poles(reference, is_gauge),
            ReferenceKind::Distance { length_m, at_height_m, from, to, .. } => {
                self.distance(id, *length_m, *at_height_m, (from, to), is_gauge);
            }
            ReferenceKind::Vertical { height_m, lean_sd_m, foot, top, .. } => {
                self.vertical(id, *height_m, *lean_sd_m, (foot, top), is_gauge);
            }
            ReferenceKind::FenceWidth { .. } | ReferenceKind::FenceRails { .. } => {}
        }
    }

    /// Pose columns of a reference: held at the origin for the gauge, else started at a guess.
    fn pose_columns(&mut self, is_gauge: bool, guess: (GroundPoint, f64)) -> usize {
        let unknowns = &mut self.model.unknowns;
        if is_gauge {
            let first = unknowns.believed(0.0, 0.0);
            unknowns.believed(0.0, 0.0);
            unknowns.believed(0.0, 0.0);
            return first;
        }
        let first = unknowns.free(guess.0.x);
        unknowns.free(guess.0.y);
        unknowns.free(guess.1);
        first
    }

    fn poles(&mut self, reference: &Reference, is_gauge: bool) {
        let ReferenceKind::Poles { count, spacing_m, length_m, diameter_m, ends, .. } =
            &reference.kind
        else {
            return;
        };
        let id = reference.id.clone();
        let axis_height = diameter_m / 2.0;
        let guess = self.pole_pose_guess(ends, axis_height, spacing_m.value, length_m.value);
        let first = self.pose_columns(is_gauge, guess);
        let unknowns = &mut self.model.unknowns;
        let relative = Given::new(0.0, GAP_SHARED * spacing_m.sd / spacing_m.value);
        let factor = unknowns.add(0.0, Some(relative), Meaning::Spacing { reference: id.clone() });
        let stated = Meaning::StatedLength { reference: id.clone() };
        unknowns.add(0.0, Some(Given::new(0.0, length_m.sd)), stated);
        let group =
            PoleGroup { first, spacing: spacing_m.value, length: length_m.value, axis_height };
        for pole in 1..=*count {
            let unknowns = &mut self.model.unknowns;
            let shift = Meaning::PoleShift { reference: id.clone(), pole };
            let own = unknowns.add(0.0, Some(Given::new(0.0, GAP_OWN * spacing_m.sd)), shift);
            unknowns.believed(0.0, LAYING_ACROSS_M);
            unknowns.believed(0.0, LAYING_TURN_RAD);
            for end in PoleEnd::BOTH {
                let side = if end == PoleEnd::Left { 1.0 } else { -1.0 };
                let address = MarkAddress::PoleEnd { reference: id.clone(), pole, end };
                let index = f64::from(pole - 1);
                self.place(address, Place::PoleEnd { group, own, index, side });
            }
            // The whole row is as long as its last pole is from its first.
            let row = spacing_m.value * f64::from(count.saturating_sub(1).max(1));
            if is_gauge && *count > 1 && (pole == 1 || pole == *count) {
                let per = if pole == 1 { -1.0 } else { 1.0 } / row;
                self.model.scale.depend(own, 0.0, per);
            }
        }
        if is_gauge {
            self.model.scale.depend(factor, 0.0, 1.0);
        }
    }

    /// A rigid fit of the nominal layout to where the marked ends seem to lie.
    fn pole_pose_guess(
        &self,
        ends: &[crate::marks::PoleEndMarks],
        axis_height: f64,
        spacing: f64,
        length: f64,
    ) -> (GroundPoint, f64) {
        let pairs: Vec<(Vector2<f64>, Vector2<f64>)> = ends
            .iter()
            .filter_map(|end| {
                let seen = self.start.ground_guess(&end.marks, axis_height)?;
                let side = if end.end == PoleEnd::Left { 0.5 } else { -0.5 };
                let nominal = Vector2::new(f64::from(end.pole.max(1) - 1) * spacing, side * length);
                Some((nominal, Vector2::new(seen.x, seen.y)))
            })
            .collect();
        let (heading, shift) = rigid_fit(&pairs);
        (GroundPoint::new(shift.x, shift.y), heading)
    }

    fn distance(
        &mut self,
        id: &str,
        length: Given,
        height: f64,
        marks: (&[Mark], &[Mark]),
        is_gauge: bool,
    ) {
        let from = self.start.ground_guess(marks.0, height);
        let to = self.start.ground_guess(marks.1, height);
        let origin = from.or(to).unwrap_or(GroundPoint::new(0.0, 0.0));
        let heading = match (from, to) {
            (Some(a), Some(b)) => (b.y - a.y).atan2(b.x - a.x),
            _ => 0.0,
        };
        let first = self.pose_columns(is_gauge, (origin, heading));
        let stated = Meaning::StatedLength { reference: id.to_owned() };
        let column = self.model.unknowns.add(length.value, Some(length), stated);
        if is_gauge {
            self.scale_by(column, length.value, 1.0);
        }
        for (address, far) in [
            (MarkAddress::DistanceFrom { reference: id.to_owned() }, false),
            (MarkAddress::DistanceTo { reference: id.to_owned() }, true),
        ] {
            self.place(address, Place::DistanceEnd { first, far, height });
        }
    }

    fn vertical(
        &mut self,
        id: &str,
        height: Given,
        lean_sd: f64,
        marks: (&[Mark], &[Mark]),
        is_gauge: bool,
    ) {
        let guess = self
            .start
            .ground_guess(marks.0, 0.0)
            .or_else(|| self.start.ground_guess(marks.1, height.value));
        let Some(guess) = guess else { return };
        let unknowns = &mut self.model.unknowns;
        let foot = if is_gauge {
            let foot = unknowns.believed(0.0, 0.0);
            unknowns.believed(0.0, 0.0);
            // One upright has no direction: the camera's side of it stands in.
            let x = self.start.position.x;
            let camera = self.model.camera.position;
            unknowns.set_prior(camera, Given::new(x, 0.0_f64.max(1e-7)));
            foot
        } else {
            let foot = unknowns.free(guess.x);
            unknowns.free(guess.y);
            foot
        };
        let lean = unknowns.believed(0.0, lean_sd);
        unknowns.believed(0.0, lean_sd);
        let stated = Meaning::StatedLength { reference: id.to_owned() };
        let stated_height = height.value;
        let height = unknowns.add(stated_height, Some(height), stated);
        if is_gauge {
            self.scale_by(height, stated_height, 1.0);
        }
        let reference = id.to_owned();
        self.place(
            MarkAddress::VerticalFoot { reference: reference.clone() },
            Place::OnGround { at: foot, height: 0.0 },
        );
        self.place(MarkAddress::VerticalTop { reference }, Place::Top { foot, lean, height });
    }

    /// The base points of all fences; those of the gauge are held where they define the axes.
    fn fences(&mut self, gauge: &Gauge) {
        let file = self.file;
        for fence in &file.fences {
            let mut held: Option<f64> = None;
            for corner in BaseCorner::ALL {
                let address = MarkAddress::FenceBase { fence: fence.id.clone(), corner };
                let Some(at) = self.ground_place(address.clone(), fence.base(corner), 0.0) else {
                    continue;
                };
                let nominal = gauge.nominal.iter().find(|(known, _)| *known == address);
                let (Place::OnGround { at, .. }, Some((_, nominal))) =
                    (self.model.places[at].1, nominal)
                else {
                    continue;
                };
                // One point is the origin; the next gives the direction: x of a point on the same
                // base line, y of one across the spread.
                let unknowns = &mut self.model.unknowns;
                match held {
                    None => {
                        unknowns.set_prior(at, Given::new(nominal.x, 1e-7));
                        unknowns.set_prior(at + 1, Given::new(nominal.y, 1e-7));
                        held = Some(nominal.x);
                    }
                    Some(x) if x.is_finite() => {
                        let same_line = (x - nominal.x).abs() < 1e-9;
                        let (column, value) =
                            if same_line { (at, nominal.x) } else { (at + 1, nominal.y) };
                        unknowns.set_prior(column, Given::new(value, 1e-7));
                        held = Some(f64::INFINITY);
                    }
                    Some(_) => {}
                }
            }
        }
    }

    fn relations_of_fence(&mut self, reference: &Reference, is_gauge: bool) {
        let stated = Meaning::StatedLength { reference: reference.id.clone() };
        match &reference.kind {
            ReferenceKind::FenceWidth { fence, length_m, .. } => {
                let length = self.model.unknowns.add(length_m.value, Some(*length_m), stated);
                if is_gauge {
                    self.scale_by(length, length_m.value, 1.0);
                }
                for (left, right) in [
                    (BaseCorner::TakeOffLeft, BaseCorner::TakeOffRight),
                    (BaseCorner::LandingLeft, BaseCorner::LandingRight),
                ] {
                    let ends = (self.corner(fence, left), self.corner(fence, right));
                    if let (Some(from), Some(to)) = ends {
                        let sd = WIDTHS_DIFFER_M;
                        self.model.relations.push(Relation::Distance { from, to, length, sd });
                    }
                }
            }
            ReferenceKind::FenceRails { fence, rails, .. } => {
                for (number, rail) in (1..).zip(rails) {
                    let height = self.model.unknowns.add(
                        rail.height_m.value,
                        Some(rail.height_m),
                        stated.clone(),
                    );
                    if is_gauge {
                        self.scale_by(height, rail.height_m.value, 1.0 / rails.len() as f64);
                    }
                    for (end, marks) in [(PoleEnd::Left, &rail.left), (PoleEnd::Right, &rail.right)]
                    {
                        let address = MarkAddress::Rail {
                            reference: reference.id.clone(),
                            rail: number,
                            end,
                        };
                        self.rail_end(fence, address, marks, rail.height_m.value, height);
                    }
                }
            }
            _ => {}
        }
    }

    fn corner(&self, fence: &str, corner: BaseCorner) -> Option<usize> {
        self.index.get(&MarkAddress::FenceBase { fence: fence.to_owned(), corner }).copied()
    }

    fn rail_end(
        &mut self,
        fence: &str,
        address: MarkAddress,
        marks: &[Mark],
        stated_height: f64,
        height: usize,
    ) {
        let Some(guess) = self.start.ground_guess(marks, stated_height) else { return };
        let at = self.model.unknowns.free(guess.x);
        self.model.unknowns.free(guess.y);
        let place = self.place(address, Place::Raised { at, height });
        let ends = (
            self.corner(fence, BaseCorner::TakeOffLeft),
            self.corner(fence, BaseCorner::TakeOffRight),
        );
        if let (Some(left), Some(right)) = ends {
            let sd = RAIL_OFF_LINE_M;
            self.model.relations.push(Relation::OverLine { place, line: (left, right), sd });
        }
    }

    fn tie(&mut self, id: &str, place: TiePlace, marks: &[Mark]) {
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

    fn approach(&mut self, approach: &Approach) {
        let mut on_track = Vec::new();
        let mut footfalls: Vec<_> = approach.footfalls.iter().filter(|f| !f.hidden).collect();
        footfalls.sort_by_key(|footfall| footfall.mark.frame);
        for footfall in footfalls {
            let address = MarkAddress::Footfall {
                approach: approach.id.clone(),
                footfall: footfall.id.clone(),
            };
            let marks = std::slice::from_ref(&footfall.mark);
            let Some(place) = self.ground_place(address, marks, 0.0) else { continue };
            if footfall.event != Event::Away {
                on_track.push(place);
            }
        }
        if on_track.len() < 3 {
            return;
        }
        let points: Vec<Vector2<f64>> = on_track
            .iter()
            .filter_map(|place| match self.model.places[*place].1 {
                Place::OnGround { at, .. } => {
                    let x = self.model.unknowns.start();
                    Some(Vector2::new(x[at], x[at + 1]))
                }
                _ => None,
            })
            .collect();
        let (origin, heading) = line_through(&points);
        let first = self.model.unknowns.free(0.0);
        self.model.unknowns.free(0.0);
        self.model.unknowns.believed(0.0, STRAIGHT_BEND_SD);
        let track = self.model.tracks.len();
        self.model.tracks.push((approach.id.clone(), TrackModel { origin, heading, first }));
        for hoof in on_track {
            self.model.relations.push(Relation::BesideTrack { hoof, track, sd: HOOF_SCATTER_M });
        }
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

/// One pose for a fixed camera, one a frame for a turning one, each with its horizon.
fn poses(file: &MarksFile, start: &Start, model: &mut Model) -> BTreeMap<FrameNumber, usize> {
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
        model.poses.push(FramePose { start: rotation, turn, sway });
        let roll = file.camera.roll_deg;
        model.relations.push(Relation::Horizon {
            pose,
            sine: roll.value.to_radians().sin(),
            sd: roll.sd.max(1e-4).to_radians(),
        });
        pose
    };
    match file.camera.motion {
        Motion::Fixed => {
            let Some(rotation) = start.rotations.values().next() else { return BTreeMap::new() };
            let pose = add(model, *rotation, 0.0);
            start.rotations.keys().map(|frame| (*frame, pose)).collect()
        }
        Motion::Turning { sway_sd_m } => start
            .rotations
            .iter()
            .map(|(frame, rotation)| (*frame, add(model, *rotation, sway_sd_m)))
            .collect(),
    }
}

/// Rotation and shift that carry the first of each pair onto the second, least squares.
fn rigid_fit(pairs: &[(Vector2<f64>, Vector2<f64>)]) -> (f64, Vector2<f64>) {
    if pairs.is_empty() {
        return (0.0, Vector2::zeros());
    }
    let count = pairs.len() as f64;
    let from = pairs.iter().map(|p| p.0).sum::<Vector2<f64>>() / count;
    let to = pairs.iter().map(|p| p.1).sum::<Vector2<f64>>() / count;
    let (mut sin, mut cos) = (0.0, 0.0);
    for (a, b) in pairs {
        let (a, b) = (a - from, b - to);
        cos += a.dot(&b);
        sin += a.x * b.y - a.y * b.x;
    }
    let heading = sin.atan2(cos);
    let turned = nalgebra::Rotation2::new(heading) * from;
    (heading, to - turned)
}

/// Middle and heading of the line through points, pointing from the first to the last.
fn line_through(points: &[Vector2<f64>]) -> (Vector2<f64>, f64) {
    let middle = points.iter().sum::<Vector2<f64>>() / points.len() as f64;
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for point in points {
        let d = point - middle;
        xx += d.x * d.x;
        xy += d.x * d.y;
        yy += d.y * d.y;
    }
    let axis = 0.5 * f64::atan2(2.0 * xy, xx - yy);
    let way = points[points.len() - 1] - points[0];
    let along = Vector2::new(axis.cos(), axis.sin()).dot(&way);
    (middle, if along < 0.0 { axis + std::f64::consts::PI } else { axis })
}
