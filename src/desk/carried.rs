//! What the camera's motion carries from frame to frame: marks of still things, and whole frames
//! laid over each other.

use nalgebra::Matrix3;

use super::spots::{label, spot_of};
use super::wire::{ExpectedView, SteadyView};
use crate::marks::{MarkAddress, MarksFile};
use crate::pan::CameraMotion;
use crate::quantity::FrameNumber;

/// Where still things that are marked on other frames are on this one: each from its mark nearest in
/// time, taken as far away. A hand's sway moves near things by some pixels more.
pub(super) fn carried(
    file: &MarksFile,
    motion: &CameraMotion,
    frame: FrameNumber,
) -> Vec<ExpectedView> {
    let still =
        file.places().into_iter().filter(|(at, _)| !matches!(at, MarkAddress::Footfall { .. }));
    still
        .filter(|(_, marks)| marks.iter().all(|mark| mark.frame != frame))
        .filter_map(|(address, marks)| {
            let nearest = marks.iter().min_by_key(|mark| mark.frame.0.abs_diff(frame.0))?;
            let found = motion.predict(nearest.point(), nearest.frame, frame, None).ok()?;
            let spot = spot_of(file, &address);
            let label = label(file, &spot);
            file.clip.picture.holds(found.at).then_some(ExpectedView {
                spot,
                label,
                x: found.at.x,
                y: found.at.y,
            })
        })
        .collect()
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
