//! How well a stride would be known at each place before any hoof is marked, so that a coach sees
//! whether she stands well.
//!
//! Strides of a usual length are laid on the ground in a line past the poles to the fence, put into
//! the picture by the surveyed camera, and measured with everything that is marked: the ± that comes
//! out is the one that marks there would get.

use super::measure::{Draws, measure};
use crate::marks::{
    Approach, Event, Fence, Footfall, HOOF_SD_PX, Limb, Mark, MarkedFrame, MarksFile, Motion,
};
use crate::quantity::{Estimate, FrameNumber, Metres};
use crate::scene::{Camera, FramePoint, GroundPoint};
use crate::survey::{Survey, survey};

/// A stride of a course, 12 ft (common practice, no source).
const STRIDE_M: f64 = 3.66;
/// The last contact stands so far before the fence, metres (common practice, no source).
const TAKE_OFF_M: f64 = 1.83;
/// Strides that are tried, from the fence backwards.
const STRIDES: i32 = 8;
/// Frames and seconds between two contacts; only lengths are asked for.
const STEP: (u32, f64) = (36, 0.6);

/// What a stride would be known to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ExpectedStride {
    /// Where it would begin on the picture.
    pub from: FramePoint,
    /// Where it would end.
    pub to: FramePoint,
    /// Its length with the interval that marks there would get.
    pub length_m: Estimate<Metres>,
}

/// Strides in the picture, the farthest from the fence first. Empty where the camera turned, since
/// each of its frames sees other strides, and where too little is marked for a survey.
pub fn expected_strides(file: &MarksFile, draws: Draws) -> Vec<ExpectedStride> {
    if file.camera.motion != Motion::Fixed {
        return Vec::new();
    }
    let mut bare = file.clone();
    bare.approaches.clear();
    let Ok(surveyed) = survey(&bare) else { return Vec::new() };
    let Some(camera) = surveyed.cameras.values().next() else { return Vec::new() };
    let contacts = contacts(file, &surveyed, camera);
    if contacts.len() < 2 {
        return Vec::new();
    }
    let marked = with_contacts(bare, &contacts);
    let Ok((_, measurement)) = measure(&marked, draws) else { return Vec::new() };
    let Some(approach) = measurement.approaches.first() else { return Vec::new() };
    let place = |id: &str| id.parse::<usize>().ok().and_then(|at| contacts.get(at)).copied();
    let expected = approach.strides.iter().filter_map(|row| {
        let (from, to) = (place(&row.from_footfall)?, place(&row.to_footfall)?);
        Some(ExpectedStride { from, to, length_m: row.length_m? })
    });
    expected.collect()
}

/// Contacts of a level approach that the picture holds, in the order ridden.
fn contacts(file: &MarksFile, surveyed: &Survey, camera: &Camera) -> Vec<FramePoint> {
    let poles = &surveyed.poles;
    let count = poles.len() as f64;
    if poles.is_empty() {
        return Vec::new();
    }
    // The horse goes along x, past the middles of the poles.
    let middle = |pick: fn(GroundPoint) -> f64| {
        let sums = poles.iter().map(|pole| f64::midpoint(pick(pole.left), pick(pole.right)));
        sums.sum::<f64>() / count
    };
    let side = middle(|point| point.y);
    let base_x = |fence: &Fence| {
        let of_fence = surveyed.places.iter().filter(|(place, _)| {
            matches!(place, crate::marks::MarkAddress::FenceBase { fence: id, .. } if *id == fence.id)
        });
        of_fence.map(|(_, at)| at.x).reduce(f64::min)
    };
    let last_pole = poles.iter().map(|pole| pole.left.x.max(pole.right.x)).fold(f64::MIN, f64::max);
    // Without a fence the strides run to the last pole.
    let end = file.fences.iter().find_map(base_x).map_or(last_pole, |x| x - TAKE_OFF_M);
    let at = |stride: i32| GroundPoint::new(end - f64::from(stride) * STRIDE_M, side);
    (0..=STRIDES)
        .rev()
        .filter_map(|stride| camera.project(at(stride).at_height(0.0)).ok())
        .filter(|point| file.clip.picture.holds(*point))
        .collect()
}

/// The file with a hind hoof marked at each contact.
fn with_contacts(mut file: MarksFile, contacts: &[FramePoint]) -> MarksFile {
    let fence = match file.fences.first() {
        Some(fence) => fence.id.clone(),
        None => {
            let fence = Fence::new("expected");
            file.fences.push(fence);
            "expected".to_owned()
        }
    };
    let mut approach = Approach::new("expected", fence);
    for (at, point) in contacts.iter().enumerate() {
        let number = at as u32;
        let frame = FrameNumber(number * STEP.0);
        let mark = Mark::new(frame, *point, HOOF_SD_PX);
        approach.footfalls.push(Footfall::new(
            at.to_string(),
            Limb::LeadingHind,
            Event::Stride,
            mark,
        ));
        if file.clip.time_of(frame).is_none() {
            let gap_s = STEP.1 / f64::from(STEP.0);
            file.clip.frames.push(MarkedFrame::new(frame, f64::from(number) * STEP.1, gap_s));
        }
    }
    file.approaches.push(approach);
    file
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::arena::{Clicking, Scene, Truth, marks};

    #[test]
    fn the_expected_is_what_marks_there_get() {
        for seed in [3, 4] {
            let scene = Scene::level(seed);
            let truth = Truth::of(&scene).unwrap();
            let file = marks(&scene, &truth, &Clicking::with_sd(1.5, seed));
            let (_, measured) = measure(&file, Draws::default()).unwrap();
            let strides = &measured.approaches[0].strides;
            let expected = expected_strides(&file, Draws::default());
            assert!(expected.len() >= 5, "{} strides", expected.len());
            // Counted from the fence: the last expected is the last ridden.
            for (row, expected) in strides.iter().rev().zip(expected.iter().rev()).take(5) {
                let found = row.length_m.unwrap().plus_minus();
                let ratio = expected.length_m.plus_minus() / found;
                assert!((0.6..1.7).contains(&ratio), "stride {}: {ratio}", row.number);
            }
        }
    }

    #[test]
    fn nothing_is_expected_without_poles_or_of_a_turning_camera() {
        let scene = Scene::level(3);
        let truth = Truth::of(&scene).unwrap();
        let mut file = marks(&scene, &truth, &Clicking::with_sd(1.5, 3));
        file.approaches.clear();
        assert!(!expected_strides(&file, Draws::default()).is_empty());
        let mut turned = file.clone();
        turned.camera.motion = Motion::Turning { sway_sd_m: 0.03 };
        assert_eq!(expected_strides(&turned, Draws::default()), []);
        file.references.clear();
        assert_eq!(expected_strides(&file, Draws::default()), []);
    }
}
