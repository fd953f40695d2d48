//! Lesson and phone of a clip that was filmed: how to stand better the next time.

use super::bounds::LEAST_DISTANCE_M;
use super::doubt::StandDoubt;
use super::error::StandError;
use super::lesson::{Lesson, LevelStrides, PolesLaid};
use super::phone::{Handling, Phone, Side};
use crate::marks::{Mark, MarksFile, Motion, POINT_SD_PX, ReferenceKind};
use crate::quantity::Unit;
use crate::scene::{Camera, GroundPoint, PictureSize};
use crate::stride::ApproachMeasurement;
use crate::survey::{PlacedPole, Survey};

/// What a surveyed marks file says of the lesson and of the phone.
#[derive(Clone, Debug, PartialEq)]
pub struct Surveyed {
    /// Poles, fence and strides.
    pub lesson: Lesson,
    /// The phone where it was.
    pub phone: Phone,
    /// What was simplified, and what was unsafe.
    pub doubts: Vec<StandDoubt>,
}

/// Plan axes on the survey's ground: origin at the middle of the ground line, x along the track.
struct Axes {
    origin: GroundPoint,
    along: (f64, f64),
}

impl Axes {
    fn place(&self, at: GroundPoint) -> GroundPoint {
        let (dx, dy) = (at.x - self.origin.x, at.y - self.origin.y);
        let (cos, sin) = self.along;
        GroundPoint::new(dx * cos + dy * sin, dy * cos - dx * sin)
    }
}

/// Fences that stand farther off square than this are told, degrees.
const ASKEW_DEG: f64 = 10.0;

/// Lesson and phone of one measured approach.
///
/// Errors: no poles, no ground line, no stride.
pub fn stood(
    file: &MarksFile,
    survey: &Survey,
    approach: &ApproachMeasurement,
) -> Result<Surveyed, StandError> {
    let [Some(left), Some(right)] = approach.fence.take_off_base else {
        return Err(lacking(
            "both ends of the fence's ground line are needed",
            "mark them, or type the layout instead of naming the file",
        ));
    };
    let axes = axes(approach, left, right)?;
    let poles = poles(file, survey, &axes)?;
    let camera = first_contact_camera(survey, approach).ok_or_else(|| {
        lacking("no frame with a contact has a camera", "mark a pole's end in that frame")
    })?;
    let mut doubts = Vec::new();
    let phone = phone(file, &axes, camera);
    if phone.distance_m < LEAST_DISTANCE_M {
        let (distance_m, least_m) = (phone.distance_m, LEAST_DISTANCE_M);
        doubts.push(StandDoubt::TooNear { distance_m, least_m });
    }
    if file.references.len() > 1 {
        doubts.push(StandDoubt::OtherLengths { references: file.references.len() - 1 });
    }
    let askew = approach.track.as_ref().map_or(0.0, |track| track.angle_deg.value.get());
    if askew.abs() > ASKEW_DEG {
        doubts.push(StandDoubt::FenceAskew { degrees: askew.abs() });
    }
    let phone = Phone { distance_m: phone.distance_m.max(LEAST_DISTANCE_M), ..phone };
    let lesson = Lesson { poles, fence_width_m: left.distance(right), strides: strides(approach)? };
    Ok(Surveyed { lesson, phone, doubts })
}

fn lacking(what: &str, hint: &'static str) -> StandError {
    StandError::Lacking { what: what.to_owned(), hint }
}

/// From the first contact to the last before the fence.
fn axes(
    approach: &ApproachMeasurement,
    left: GroundPoint,
    right: GroundPoint,
) -> Result<Axes, StandError> {
    let ends = (approach.track_line.first(), approach.track_line.last());
    let (Some(from), Some(to)) = ends else {
        return Err(lacking("the track is not known", "mark three contacts at least"));
    };
    let length = from.distance(*to);
    let along = ((to.x - from.x) / length, (to.y - from.y) / length);
    let middle = GroundPoint::new(f64::midpoint(left.x, right.x), f64::midpoint(left.y, right.y));
    // The track need not meet the middle: y is nil on the track.
    let off = Axes { origin: *from, along }.place(middle).y;
    let origin = GroundPoint::new(middle.x + off * along.1, middle.y - off * along.0);
    Ok(Axes { origin, along })
}

fn poles(file: &MarksFile, survey: &Survey, axes: &Axes) -> Result<PolesLaid, StandError> {
    let stated = file.references.iter().find_map(|reference| match &reference.kind {
        ReferenceKind::Poles { count, spacing_m, length_m, diameter_m, ends, .. } => {
            Some((&reference.id, *count, *spacing_m, *length_m, *diameter_m, ends))
        }
        _ => None,
    });
    let Some((id, count, spacing_m, length_m, diameter_m, ends)) = stated else {
        return Err(lacking(
            "no poles are marked, and a place is judged by poles alone",
            "type the layout you mean to lay, for example --poles 4 --spacing 3",
        ));
    };
    let placed: Vec<&PlacedPole> =
        survey.poles.iter().filter(|pole| pole.reference == *id).collect();
    let middles = placed.iter().map(|pole| {
        let (left, right) = (axes.place(pole.left), axes.place(pole.right));
        GroundPoint::new(f64::midpoint(left.x, right.x), f64::midpoint(left.y, right.y))
    });
    let middles: Vec<GroundPoint> = middles.collect();
    let last_x = middles.iter().map(|at| at.x).reduce(f64::max).unwrap_or_default();
    let aside_m = middles.iter().map(|at| at.y).sum::<f64>() / middles.len().max(1) as f64;
    let sds: Vec<f64> =
        ends.iter().flat_map(|end| &end.marks).map(|mark: &Mark| mark.sd_px).collect();
    let end_sd_px = match sds.is_empty() {
        true => POINT_SD_PX,
        false => (sds.iter().map(|sd| sd * sd).sum::<f64>() / sds.len() as f64).sqrt(),
    };
    let before_fence_m = -last_x;
    Ok(PolesLaid { count, spacing_m, length_m, diameter_m, before_fence_m, aside_m, end_sd_px })
}

fn strides(approach: &ApproachMeasurement) -> Result<LevelStrides, StandError> {
    let measured: Vec<f64> =
        approach.strides.iter().filter_map(|row| Some(row.length_m?.value.get())).collect();
    if measured.is_empty() {
        return Err(lacking("no stride has a length", "mark two contacts of one hind limb"));
    }
    let usual = LevelStrides::USUAL;
    let mean = measured.iter().sum::<f64>() / measured.len() as f64;
    let edge = |distance: &Option<crate::stride::EdgeDistance>, otherwise: f64| {
        distance.as_ref().map_or(otherwise, |found| found.distance_m.value.get())
    };
    let lasted: f64 = approach.strides.iter().map(|row| row.duration_s.value.get()).sum();
    let each_s = lasted / approach.strides.len() as f64;
    Ok(LevelStrides {
        count: approach.strides.len() as u32,
        length_m: mean,
        take_off_m: edge(&approach.take_off, usual.take_off_m).max(0.3),
        landing_m: edge(&approach.landing, usual.landing_m).max(0.3),
        pace_m_per_min: mean / each_s * 60.0,
    })
}

fn first_contact_camera<'a>(
    survey: &'a Survey,
    approach: &ApproachMeasurement,
) -> Option<&'a Camera> {
    let mut frames = approach.footfalls.iter().map(|footfall| footfall.frame);
    frames.find_map(|frame| survey.cameras.get(&frame))
}

fn phone(file: &MarksFile, axes: &Axes, camera: &Camera) -> Phone {
    let at = axes.place(camera.pose.position.below());
    let PictureSize { width, .. } = file.clip.picture;
    let field = 2.0 * (f64::from(width) / 2.0 / camera.lens.focal_px).atan();
    let handling = match file.camera.motion {
        Motion::Fixed => Handling::Fixed,
        Motion::Turning { sway_sd_m } => Handling::Turning { sway_sd_m },
    };
    let gaps = file.clip.frames.iter().map(|frame| frame.gap_s).filter(|gap| *gap > 0.0);
    let scale = file.clip.capture_seconds_per_second;
    let gap_s = gaps.reduce(f64::min).unwrap_or(1.0 / 30.0) * scale;
    // Where the middle of the picture meets the track, unless it never does.
    let ahead = camera.ray(camera.lens.centre);
    let (cos, sin) = axes.along;
    let (onward, left) = (ahead.x * cos + ahead.y * sin, ahead.y * cos - ahead.x * sin);
    let reach = -at.y / left;
    let aim_x = at.x + reach * onward;
    let aims = handling == Handling::Fixed && reach > 0.0 && (aim_x - at.x).abs() < 40.0;
    Phone {
        before_fence_m: -at.x,
        distance_m: at.y.abs(),
        side: if at.y > 0.0 { Side::Left } else { Side::Right },
        height_m: camera.pose.position.z,
        aim_before_fence_m: aims.then_some(-aim_x),
        handling,
        picture: file.clip.picture,
        field_deg: field.to_degrees(),
        frames_per_s: 1.0 / gap_s,
    }
}
