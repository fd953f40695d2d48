//! The camera of every frame of the reel.
//!
//! The survey gives one for every marked frame. A camera that stood still has the same for all. A
//! turning one has none for the frames between: there the turn (and the hand's sway) is taken to
//! be even from the marked frame before to the one after, for drawing only. The more a
//! hand does unevenly in that time the farther off that is, so that longer gaps get no overlay on
//! the ground: the chart in the band goes on alone.

use std::collections::BTreeMap;

use crate::pan::CameraMotion;
use crate::quantity::time::FrameNumber;
use crate::scene::Camera;

/// Longest gap between two marked frames that is bridged, seconds at the fence: where all four hooves
/// are marked it holds every gap of a canter but the flight over the fence.
///
/// With the true cameras of the arena's hand known as seldom as that, half of the prints are drawn
/// within 0.08 m of their place and 19 of 20 within 0.26 m (8 and 18 pixels of 1920, where prints
/// are drawn 31 to 62 long); the survey's own error comes on top. Most of it is the hand's tremor,
/// quicker than any marks: at 0.20 s it is still 0.21 m, so that a shorter limit would leave most
/// frames bare and gain little (`tests/it/reel.rs`).
pub const CAMERA_GAP_S: f64 = 0.40;

/// The camera of `frame`: the survey's, or for drawing only one between two of them that are no
/// more than [`CAMERA_GAP_S`] apart. `turning` says whether it may have turned at all; `seconds`
/// gives the time of a frame at the fence, seconds. Where the camera's motion was followed, any
/// frame has a camera: turned as the background says from the marked frames on both sides. `None`
/// where nothing honest is known.
pub fn camera_at(
    cameras: &BTreeMap<FrameNumber, Camera>,
    turning: bool,
    motion: Option<&CameraMotion>,
    frame: FrameNumber,
    seconds: impl Fn(FrameNumber) -> Option<f64>,
) -> Option<Camera> {
    if !turning {
        return cameras.values().next().copied();
    }
    if let Some(camera) = cameras.get(&frame) {
        return Some(*camera);
    }
    if let Some(camera) = motion.and_then(|motion| followed(cameras, motion, frame)) {
        return Some(camera);
    }
    let (before, earlier) = cameras.range(..=frame).next_back()?;
    let (after, later) = cameras.range(frame..).next()?;
    let (from, at, to) = (seconds(*before)?, seconds(frame)?, seconds(*after)?);
    let gap = to - from;
    (gap > 0.0 && gap <= CAMERA_GAP_S)
        .then(|| earlier.towards_for_drawing(later, (at - from) / gap))
}

/// Turn and zoom as followed from the marked frames nearest on both sides. The hand's place goes
/// evenly from one to the other, for the unit of the shifts is the survey's own affair.
fn followed(
    cameras: &BTreeMap<FrameNumber, Camera>,
    motion: &CameraMotion,
    frame: FrameNumber,
) -> Option<Camera> {
    let from = |(marked, camera): (&FrameNumber, &Camera)| {
        let (piece, there) = motion.find(*marked).ok()?;
        let here = piece.frame(frame)?;
        let mut camera = *camera;
        camera.lens.focal_px *= (here.pose.log_zoom - there.pose.log_zoom).exp();
        let turn = here.pose.turn * there.pose.turn.inverse();
        camera.pose.camera_from_ground = turn * camera.pose.camera_from_ground;
        Some((*marked, camera))
    };
    let earlier = cameras.range(..frame).rev().find_map(from);
    let later = cameras.range(frame..).find_map(from);
    match (earlier, later) {
        (Some((before, earlier)), Some((after, later))) => {
            let share = f64::from(frame.0 - before.0) / f64::from(after.0 - before.0);
            Some(earlier.towards_for_drawing(&later, share))
        }
        (one, other) => one.or(other).map(|(_, camera)| camera),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample;
    use crate::scene::PictureSize;

    #[test]
    fn a_long_gap_has_no_camera_and_a_camera_that_stood_still_has_it_everywhere() {
        let picture = PictureSize { width: 1920, height: 1080 };
        let looking = |x| sample::camera(picture, x, 19.0);
        let cameras: BTreeMap<FrameNumber, Camera> =
            [(10, 2.0), (20, 4.0), (80, 9.0)].map(|(n, x)| (FrameNumber(n), looking(x))).into();
        let seconds = |frame: FrameNumber| Some(f64::from(frame.0) / 60.0);
        let at = |turning, n| camera_at(&cameras, turning, None, FrameNumber(n), seconds);
        assert_eq!(at(true, 10), Some(looking(2.0)));
        assert!(at(true, 15).is_some_and(|camera| camera != looking(2.0)));
        assert_eq!([at(true, 50), at(true, 5), at(true, 90)], [None; 3]);
        assert_eq!([at(false, 50), at(false, 5)], [Some(looking(2.0)); 2]);
    }
}
