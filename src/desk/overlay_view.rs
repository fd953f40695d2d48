//! What is laid over a frame: the ground as the survey knows it, and where marks are expected.

use super::carried::carried;
use super::measured::Measured;
use super::spots::{pole_end_label, poles_id};
use super::wire::{ExpectedView, OverlayView, Side, Spot};
use crate::draw::{
    Detail, Moment, Names, StillInput, Theme, camera_at, draw_expected_strides, still_overlay,
};
use crate::marks::{MarksFile, Motion, PoleEnd, ReferenceKind};
use crate::quantity::{FrameNumber, LengthUnits};
use crate::scene::{Camera, FramePoint, GroundHomography, GroundPoint};
use crate::survey::Survey;

/// A frame and its times.
#[derive(Clone, Copy)]
pub(super) struct Shown<'a> {
    pub frame: FrameNumber,
    /// Seconds at the fence from the first frame to each.
    pub capture_s: &'a dyn Fn(FrameNumber) -> Option<f64>,
}

/// The overlay of a frame.
pub(super) fn overlay_view(
    measured: &Measured,
    shown: Shown,
    units: LengthUnits,
    theme: Theme,
) -> OverlayView {
    let file = &measured.file;
    let turning = file.camera.motion != Motion::Fixed;
    let camera = measured.numbers.as_ref().and_then(|(survey, _)| {
        let motion = measured.motion.as_deref();
        camera_at(&survey.cameras, turning, motion, shown.frame, shown.capture_s)
    });
    let ground = camera.and_then(|camera| ground(measured, &camera, shown, units, theme));
    let svg = match &measured.expected[..] {
        // Before there is a stride: how well one would be known.
        strides if !strides.is_empty() => {
            draw_expected_strides(strides, file.clip.picture, units, theme).svg
        }
        _ => ground.unwrap_or_default(),
    };
    OverlayView {
        revision: measured.revision.clone(),
        frame: shown.frame.0,
        svg,
        expected: expected(file, shown.frame, turning),
        carried: match &measured.motion {
            Some(motion) if turning => {
                let survey = measured.numbers.as_ref().map(|(survey, _)| survey);
                carried(file, motion, survey.zip(camera.as_ref()), shown.frame)
            }
            _ => Vec::new(),
        },
    }
}

/// Prints and lengths up to the frame's moment, of the approach that is under way.
fn ground(
    measured: &Measured,
    camera: &Camera,
    shown: Shown,
    units: LengthUnits,
    theme: Theme,
) -> Option<String> {
    let (survey, measurement): &(Survey, _) = measured.numbers.as_ref()?;
    let time_s = (shown.capture_s)(shown.frame)?;
    let begun = |footfall: &crate::stride::PlacedFootfall| footfall.time_s <= time_s;
    let approaches = &measurement.approaches;
    let under_way = approaches.iter().rev().find(|approach| approach.footfalls.iter().any(begun));
    let approach = under_way.or(approaches.first())?;
    let picture = measured.file.clip.picture;
    still_overlay(&StillInput {
        picture,
        camera,
        approach,
        moment: Moment::Time(time_s),
        round: &measured.file.round,
        names: Names::LeftOff,
        poles: &survey.poles,
        suspects: &survey.suspects,
        raw_marks: &[],
        bodies: &[],
        units,
        theme,
        detail: Detail::Reel(picture),
    })
    .ok()
}

/// Ends of poles that are not marked, where the ends that are put them: four determine the map
/// from the plane of the poles to the picture.
fn expected(file: &MarksFile, frame: FrameNumber, turning: bool) -> Vec<ExpectedView> {
    let Some(known) = file.references.iter().find(|known| poles_id(file) == Some(&known.id)) else {
        return Vec::new();
    };
    let ReferenceKind::Poles { count, spacing_m, length_m, ends, .. } = &known.kind else {
        return Vec::new();
    };
    let laid = |pole: u32, end: PoleEnd| {
        let side = if end == PoleEnd::Left { 0.5 } else { -0.5 };
        GroundPoint::new(f64::from(pole) * spacing_m.value, side * length_m.value)
    };
    let mut pairs: Vec<(FramePoint, GroundPoint)> = Vec::new();
    let mut open: Vec<(u32, PoleEnd)> = Vec::new();
    for (pole, end) in (1..=*count).flat_map(|pole| PoleEnd::BOTH.map(|end| (pole, end))) {
        let marked = ends.iter().find(|known| known.pole == pole && known.end == end);
        let mut marks = marked.map_or(&[][..], |known| &known.marks).iter();
        match marks.find(|mark| !turning || mark.frame == frame) {
            Some(mark) => pairs.push((mark.point(), laid(pole, end))),
            // Where the camera stood still, a mark on any frame is one.
            None => open.push((pole, end)),
        }
    }
    let Ok(map) = GroundHomography::fit(&pairs) else { return Vec::new() };
    let size = file.clip.picture;
    open.into_iter()
        .map(|(pole, end)| (pole, end, map.frame_from_ground(laid(pole, end))))
        .filter(|(_, _, at)| size.holds(*at))
        .map(|(pole, end, at)| {
            let side = Side::from(end);
            let spot = Spot::PoleEnd { pole, end: side };
            ExpectedView { spot, label: pole_end_label(pole, side), x: at.x, y: at.y }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::arena::{Clicking, Scene, Truth, marks};
    use crate::marks::MarkAddress;

    #[test]
    fn two_poles_tell_where_the_others_lie() {
        let scene = Scene::level(3);
        let truth = Truth::of(&scene).unwrap();
        let mut file = marks(&scene, &truth, &Clicking::with_sd(0.01, 3));
        let id = poles_id(&file).unwrap().to_owned();
        let places: Vec<(MarkAddress, FramePoint)> = file
            .places()
            .iter()
            .filter_map(|(at, marks)| Some((at.clone(), marks.first()?.point())))
            .collect();
        let reference = file.references.iter_mut().find(|known| known.id == id).unwrap();
        let ReferenceKind::Poles { ends, .. } = &mut reference.kind else { panic!("no poles") };
        let frame = ends[0].marks[0].frame;
        ends.retain(|end| end.pole <= 2);
        let found = expected(&file, frame, false);
        assert_eq!(found.len(), 4);
        for view in found {
            let Spot::PoleEnd { pole, end } = view.spot else { panic!("no pole end") };
            let address = MarkAddress::PoleEnd { reference: id.clone(), pole, end: end.into() };
            let (_, truth) = places.iter().find(|(known, _)| *known == address).unwrap();
            // Poles are laid by tape: a few centimetres off where they were stated to lie.
            let off = (view.x - truth.x).hypot(view.y - truth.y);
            assert!(off < 12.0, "{} is {off:.1} px off", view.label);
        }
    }
}
