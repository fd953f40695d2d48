//! Fences: their bases, and the references that stand on them.

use super::Builder;
use crate::marks::{BaseCorner, Mark, MarkAddress, PoleEnd, Reference, ReferenceKind};
use crate::quantity::Given;
use crate::survey::gauge::Gauge;
use crate::survey::model::Relation;
use crate::survey::place::Place;
use crate::survey::unknowns::Meaning;

/// How far a rail hangs off the line of the base, sd in metres.
const RAIL_OFF_LINE_M: f64 = 0.03;
/// How much two widths of one fence differ, sd in metres.
const WIDTHS_DIFFER_M: f64 = 0.02;

impl Builder<'_> {
    /// The base points of all fences; those of the gauge are held where they define the axes.
    pub(super) fn fences(&mut self, gauge: &Gauge) {
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

    pub(super) fn relations_of_fence(&mut self, reference: &Reference, is_gauge: bool) {
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
}
