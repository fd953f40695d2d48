//! Placing, moving and removing single marks.

use super::lists::{find, insert};
use super::{Edit, EditRefused, ListChange};
use crate::marks::address::{MarkAddress, RailEnd};
use crate::marks::approach::Footfall;
use crate::marks::file::MarksFile;
use crate::marks::mark::Mark;
use crate::marks::reference::{PoleEndMarks, Reference, ReferenceKind};
use crate::quantity::FrameNumber;

impl MarksFile {
    pub(super) fn place_mark(
        &mut self,
        place: MarkAddress,
        mark: Mark,
        at: Option<usize>,
    ) -> Result<Edit, EditRefused> {
        if let Some(footfall) = self.addressed_footfall(&place)? {
            let old = std::mem::replace(&mut footfall.mark, mark);
            return Ok(Edit::PlaceMark { place, mark: old, at: None });
        }
        // The first mark of a pole's end makes its entry; the inverse must take that away too.
        if let Some(inverse) = self.list_pole_end(&place)? {
            insert(self.marks_at(&place)?, mark, at)?;
            return Ok(inverse);
        }
        let marks = self.marks_at(&place)?;
        let frame = mark.frame;
        if let Some(present) = marks.iter_mut().find(|present| present.frame == frame) {
            let old = std::mem::replace(present, mark);
            return Ok(Edit::PlaceMark { place, mark: old, at: None });
        }
        insert(marks, mark, at)?;
        Ok(Edit::RemoveMark { place, frame })
    }

    pub(super) fn nudge_mark(
        &mut self,
        place: MarkAddress,
        frame: FrameNumber,
        by: (f64, f64),
    ) -> Result<Edit, EditRefused> {
        let mark = self.mark_on(&place, frame)?;
        let old = mark.clone();
        mark.x += by.0;
        mark.y += by.1;
        Ok(Edit::PlaceMark { place, mark: old, at: None })
    }

    pub(super) fn remove_mark(
        &mut self,
        place: MarkAddress,
        frame: FrameNumber,
    ) -> Result<Edit, EditRefused> {
        if self.addressed_footfall(&place)?.is_some() {
            return Err(EditRefused::OnlyMark { place });
        }
        let marks = self.marks_at(&place)?;
        let Some(index) = marks.iter().position(|mark| mark.frame == frame) else {
            let marked = marks.iter().map(|mark| mark.frame).collect();
            return Err(EditRefused::NoMark { place, frame, marked });
        };
        let mark = marks.remove(index);
        Ok(Edit::PlaceMark { place, mark, at: Some(index) })
    }

    fn mark_on(
        &mut self,
        place: &MarkAddress,
        frame: FrameNumber,
    ) -> Result<&mut Mark, EditRefused> {
        let marks = if self.addressed_footfall(place)?.is_some() {
            self.addressed_footfall(place)?.map(|footfall| std::slice::from_mut(&mut footfall.mark))
        } else {
            Some(self.marks_at(place)?.as_mut_slice())
        };
        let marks = marks.unwrap_or_default();
        let Some(index) = marks.iter().position(|mark| mark.frame == frame) else {
            let marked = marks.iter().map(|mark| mark.frame).collect();
            return Err(EditRefused::NoMark { place: place.clone(), frame, marked });
        };
        Ok(&mut marks[index])
    }

    fn addressed_footfall(
        &mut self,
        place: &MarkAddress,
    ) -> Result<Option<&mut Footfall>, EditRefused> {
        let MarkAddress::Footfall { approach, footfall } = place else { return Ok(None) };
        let approach = find(&mut self.approaches, approach)?;
        find(&mut approach.footfalls, footfall).map(Some)
    }

    /// Makes the entry of a pole's end if there is none; then gives the edit that undoes it.
    fn list_pole_end(&mut self, place: &MarkAddress) -> Result<Option<Edit>, EditRefused> {
        let MarkAddress::PoleEnd { reference: id, pole, end } = place else { return Ok(None) };
        let reference = find(&mut self.references, id)?;
        let before = reference.clone();
        let Reference { kind: ReferenceKind::Poles { ends, .. }, .. } = reference else {
            return Err(EditRefused::NoSuchPlace { place: place.clone() });
        };
        if ends.iter().any(|listed| listed.pole == *pole && listed.end == *end) {
            return Ok(None);
        }
        ends.push(PoleEndMarks::new(*pole, *end, Vec::new()));
        Ok(Some(Edit::Reference(ListChange::replace(id, before))))
    }

    /// The list of marks of any place but a footfall.
    fn marks_at(&mut self, place: &MarkAddress) -> Result<&mut Vec<Mark>, EditRefused> {
        let found = match place {
            MarkAddress::PoleEnd { reference, .. }
            | MarkAddress::DistanceFrom { reference }
            | MarkAddress::DistanceTo { reference }
            | MarkAddress::VerticalFoot { reference }
            | MarkAddress::VerticalTop { reference }
            | MarkAddress::Rail { reference, .. } => {
                reference_marks(&mut find(&mut self.references, reference)?.kind, place)
            }
            MarkAddress::FenceBase { fence, corner } => {
                Some(find(&mut self.fences, fence)?.base_mut(*corner))
            }
            MarkAddress::Tie { tie } => Some(&mut find(&mut self.ties, tie)?.marks),
            MarkAddress::Footfall { .. } => None,
        };
        found.ok_or_else(|| EditRefused::NoSuchPlace { place: place.clone() })
    }
}

/// `None` when the reference is not of the place's kind, or does not list it.
fn reference_marks<'a>(
    kind: &'a mut ReferenceKind,
    place: &MarkAddress,
) -> Option<&'a mut Vec<Mark>> {
    match (kind, place) {
        (ReferenceKind::Poles { ends, .. }, MarkAddress::PoleEnd { pole, end, .. }) => ends
            .iter_mut()
            .find(|listed| listed.pole == *pole && listed.end == *end)
            .map(|listed| &mut listed.marks),
        (ReferenceKind::Distance { from, .. }, MarkAddress::DistanceFrom { .. }) => Some(from),
        (ReferenceKind::Distance { to, .. }, MarkAddress::DistanceTo { .. }) => Some(to),
        (ReferenceKind::Vertical { foot, .. }, MarkAddress::VerticalFoot { .. }) => Some(foot),
        (ReferenceKind::Vertical { top, .. }, MarkAddress::VerticalTop { .. }) => Some(top),
        (ReferenceKind::FenceRails { rails, .. }, MarkAddress::Rail { rail, end, .. }) => {
            let rail = rails.get_mut((*rail as usize).checked_sub(1)?)?;
            Some(match end {
                RailEnd::Left => &mut rail.left,
                RailEnd::Right => &mut rail.right,
            })
        }
        _ => None,
    }
}
