//! A click on a pole's end, drawn to the pole's own edges where the picture shows them.

use super::act_edit::Drawn;
use super::open_clip::OpenClip;
use super::spots::poles_id;
use super::wire::Act;
use crate::marks::{MarksFile, PoleEnd, ReferenceKind};
use crate::quantity::FrameNumber;
use crate::scene::FramePoint;
use crate::snap::{NotSnapped, snap_pole_end};

/// How far a click may lie from the end it means, in shares of the picture's height: 6 px at 1080p.
const REACH: f64 = 1.0 / 180.0;
/// No mark is said to be known better: the model of the end has its own error.
const BEST_SD_PX: f64 = 0.3;

/// Where the clicked end is; `None` where the act asks for no snapping.
pub(super) fn drawn_end(
    clip: &OpenClip,
    file: &MarksFile,
    act: &Act,
) -> Option<Result<Drawn, String>> {
    let Act::PlacePoleEnd { pole, end, at, snap: true } = act else { return None };
    let frame = FrameNumber(at.frame);
    if frame > clip.clip.last_frame() {
        return None;
    }
    let luma = match clip.frames.luma(frame)? {
        Ok(luma) => luma,
        Err(why) => return Some(Err(why)),
    };
    let click = FramePoint::new(at.x, at.y);
    let reach = REACH * f64::from(luma.height().max(360));
    let hint = other_end(file, *pole, (*end).into(), frame);
    let found = snap_pole_end(&luma, click, hint, reach);
    Some(
        found
            .map_err(|why: NotSnapped| why.to_string())
            .map(|snapped| Drawn { point: snapped.point, sd_px: snapped.sd_px().max(BEST_SD_PX) }),
    )
}

/// The pole's other end where it is marked on the same frame: it tells the pole's direction.
fn other_end(file: &MarksFile, pole: u32, end: PoleEnd, frame: FrameNumber) -> Option<FramePoint> {
    let known = file.references.iter().find(|known| poles_id(file) == Some(&known.id))?;
    let ReferenceKind::Poles { ends, .. } = &known.kind else { return None };
    let other = ends.iter().find(|known| known.pole == pole && known.end != end)?;
    other.marks.iter().find(|mark| mark.frame == frame).map(|mark| mark.point())
}
