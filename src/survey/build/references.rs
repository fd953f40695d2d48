//! References: poles, measured distances, verticals.

use nalgebra::Vector2;

use super::Builder;
use super::fit::rigid_fit;
use crate::marks::{Mark, MarkAddress, PoleEnd, Reference, ReferenceKind};
use crate::quantity::Given;
use crate::scene::GroundPoint;
use crate::survey::place::{Place, PoleGroup};
use crate::survey::unknowns::Meaning;

/// How far a pole laid by eye lies out of line sideways (m), and how far it is turned (rad).
/// Common practice, no source.
pub(super) const LAYING_ACROSS_M: f64 = 0.10;
pub(super) const LAYING_TURN_RAD: f64 = 0.03;
/// A stated spacing's sd is that of one gap. Most of its variance (0.8² of it) is common to all
/// gaps, a long pace or a stretched tape; the rest is each pole's own (two poles bound a gap).
const GAP_SHARED: f64 = 0.8;
const GAP_OWN: f64 = 0.424;

impl Builder<'_> {
    pub(super) fn reference(&mut self, reference: &Reference, is_gauge: bool) {
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
            unknowns.set_prior(camera, Given::new(x, 1e-7));
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
}
