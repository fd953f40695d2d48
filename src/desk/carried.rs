//! What the camera's motion carries from frame to frame: marks of still things, and whole frames
//! laid over each other.

use nalgebra::Matrix3;

use super::spots::{label, spot_of};
use super::wire::{ExpectedView, SteadyView};
use crate::marks::{MarkAddress, MarksFile, ReferenceKind};
use crate::pan::CameraMotion;
use crate::quantity::FrameNumber;
use crate::scene::Camera;
use crate::survey::Survey;

/// Where still things that are marked on other frames are on this one: where the survey puts them,
/// if it has a camera for the frame; else each from its mark nearest in time, taken as far away (a
/// hand's sway moves near things by some pixels more).
pub(super) fn carried(
    file: &MarksFile,
    motion: &CameraMotion,
    surveyed: Option<(&Survey, &Camera)>,
    frame: FrameNumber,
) -> Vec<ExpectedView> {
    let still =
        file.places().into_iter().filter(|(at, _)| !matches!(at, MarkAddress::Footfall { .. }));
    still
        .filter(|(_, marks)| marks.iter().all(|mark| mark.frame != frame))
        .filter_map(|(address, marks)| {
            let nearest = marks.iter().min_by_key(|mark| mark.frame.0.abs_diff(frame.0))?;
            let by_survey = surveyed.and_then(|(survey, camera)| {
                let ground = survey.places.get(&address)?;
                camera.project(ground.at_height(height_of(file, &address)?)).ok()
            });
            let by_motion =
                || Some(motion.predict(nearest.point(), nearest.frame, frame, None).ok()?.at);
            let at = by_survey.or_else(by_motion)?;
            let spot = spot_of(file, &address);
            let label = label(file, &spot);
            let view = ExpectedView { spot, label, x: at.x, y: at.y };
            file.clip.picture.holds(at).then_some(view)
        })
        .collect()
}

/// How high over the ground a thing is marked, metres; `None` where the file does not say.
fn height_of(file: &MarksFile, address: &MarkAddress) -> Option<f64> {
    let kind =
        |id: &str| file.references.iter().find(|known| known.id == id).map(|known| &known.kind);
    match address {
        MarkAddress::PoleEnd { reference, .. } => match kind(reference)? {
            ReferenceKind::Poles { diameter_m, .. } => Some(diameter_m / 2.0),
            _ => None,
        },
        MarkAddress::DistanceFrom { reference } | MarkAddress::DistanceTo { reference } => {
            match kind(reference)? {
                ReferenceKind::Distance { at_height_m, .. } => Some(*at_height_m),
                _ => None,
            }
        }
        MarkAddress::FenceBase { .. } | MarkAddress::VerticalFoot { .. } => Some(0.0),
        _ => None,
    }
}

/// Maps of all frames onto one.
pub(super) fn steady_view(
    motion: Option<&CameraMotion>,
    onto: FrameNumber,
    frames: u32,
) -> SteadyView {
    let back = motion
        .and_then(|motion| motion.stabilised(onto).ok())
        .and_then(|map: Matrix3<f64>| map.try_inverse());
    let map = |frame: u32| {
        let motion = motion?;
        let (piece, _) = motion.find(onto).ok()?;
        // A piece of its own has another reference: it is not laid over this one.
        piece.frame(FrameNumber(frame))?;
        let map = back? * motion.stabilised(FrameNumber(frame)).ok()?;
        let map = map / map[(2, 2)];
        Some(std::array::from_fn(|i| map[(i / 3, i % 3)]))
    };
    SteadyView { onto: onto.0, maps: (0..frames).map(map).collect() }
}
