//! A first camera, good enough for the adjustment to do the rest.
//!
//! Frames of a turning camera are joined by the fixed points they share: seen from one place,
//! the same points differ by a rotation only (Kabsch). Then all reference points become
//! directions of one camera, and its pose is sought from many starting places around the
//! reference, for several focal lengths, with a loss that forgives a bad click.

use std::collections::BTreeMap;

use nalgebra::{DVector, Rotation3, Vector3};

use super::error::SurveyError;
use super::gauge::Gauge;
use super::least_squares::{Problem, Rows, Stop, solve};
use crate::marks::{CameraPrior, Mark, MarkAddress, MarksFile, Motion};
use crate::pan::RelativeMotion;
use crate::quantity::{FrameNumber, Given};
use crate::scene::{
    Camera, GroundPoint, Lens, PictureSize, Pose, ScenePoint, rotation_between_directions,
    rotation_vector,
};

/// The first camera, by frame.
#[derive(Clone, Debug)]
pub struct Start {
    /// Lens.
    pub lens: Lens,
    /// Place.
    pub position: Vector3<f64>,
    /// Turn by frame; a fixed camera has one entry for each marked frame, all alike.
    pub rotations: BTreeMap<FrameNumber, Rotation3<f64>>,
    /// ln(focal length at a frame / that of `lens`), where the zoom was observed.
    pub log_zooms: BTreeMap<FrameNumber, f64>,
    /// Frames whose marks could not be joined to the others.
    pub unjoined: Vec<FrameNumber>,
}

/// Focal length over the longer side of the picture for a phone's main camera while filming,
/// about 61° across, and its relative sd, wide enough for a 2x lens. Common practice, no source.
const USUAL_FOCAL: f64 = 0.85;
const USUAL_FOCAL_SD: f64 = 0.35;

/// The belief about the focal length's logarithm.
pub fn log_focal_prior(prior: &CameraPrior, picture: PictureSize) -> Given {
    match prior.focal_px {
        Some(given) => Given::new(given.value.ln(), given.sd / given.value),
        None => {
            let longer = f64::from(picture.width.max(picture.height));
            Given::new((USUAL_FOCAL * longer).ln(), USUAL_FOCAL_SD)
        }
    }
}

/// The same with what the camera's motion tells: how a picture of far things turns fixes the lens.
fn log_focal_belief(file: &MarksFile, motions: &[RelativeMotion]) -> Given {
    let prior = log_focal_prior(&file.camera, file.clip.picture);
    let of_motion = motions.first().map(|motion| {
        Given::new(motion.log_focal, motion.covariance[(0, 0)].max(0.0).sqrt().max(1e-4))
    });
    match of_motion {
        Some(of_motion) if of_motion.sd < prior.sd => of_motion,
        _ => prior,
    }
}

fn zoomed(lens: Lens, log_zooms: &BTreeMap<FrameNumber, f64>, frame: FrameNumber) -> Lens {
    let log_zoom = log_zooms.get(&frame).copied().unwrap_or(0.0);
    Lens { focal_px: lens.focal_px * log_zoom.exp(), ..lens }
}

/// Starts whose cost exceeds the best by more than this are no rivals.
const RIVAL_COST: f64 = 12.0;
/// Starts seen from the reference under an angle smaller than this (radians) are the same start.
const SAME_START_RAD: f64 = 0.25;
/// How many rivals are tried.
const MOST_RIVALS: usize = 4;

impl Start {
    /// Finds first cameras, the likeliest first. Few points leave several: two ends of poles look
    /// alike from either side. Which one is right, the whole adjustment tells.
    pub fn find(
        file: &MarksFile,
        gauge: &Gauge,
        motions: &[RelativeMotion],
    ) -> Result<Vec<Self>, SurveyError> {
        let belief = log_focal_belief(file, motions);
        let mut found: Vec<(f64, Self)> = Vec::new();
        // From two sds below to two above; one trial is enough for a lens that is known.
        let trials = if belief.sd < 0.03 { 0 } else { 3 };
        for trial in -trials..=trials {
            let deviation = f64::from(trial) * 2.0 / 3.0;
            let lens = Lens {
                focal_px: (belief.value + deviation * belief.sd).exp(),
                centre: file.clip.picture.centre(),
                k1: file.camera.distortion_k1.value,
            };
            for (cost, start) in with_lens(file, gauge, lens, motions) {
                found.push((cost + deviation * deviation / 2.0, start));
            }
        }
        found.sort_by(|a, b| a.0.total_cmp(&b.0));
        let Some(least) = found.first().map(|(cost, _)| *cost) else {
            return Err(SurveyError::NoCamera { reference: gauge.id.clone(), off_px: f64::NAN });
        };
        let middle = gauge.middle();
        let mut starts: Vec<Self> = Vec::new();
        for (cost, start) in found {
            let same = |other: &Self| {
                (other.position - middle).angle(&(start.position - middle)) < SAME_START_RAD
            };
            if cost <= least + RIVAL_COST && starts.len() < MOST_RIVALS && !starts.iter().any(same)
            {
                starts.push(start);
            }
        }
        Ok(starts)
    }

    /// The first camera at a frame.
    pub fn camera(&self, frame: FrameNumber) -> Option<Camera> {
        Some(Camera {
            lens: zoomed(self.lens, &self.log_zooms, frame),
            pose: Pose {
                camera_from_ground: *self.rotations.get(&frame)?,
                position: ScenePoint::from(self.position),
            },
        })
    }

    /// A first guess of where marked points at `height` lie: the mean of where their rays meet
    /// that plane; a ray that misses it ends 60 m away.
    pub fn ground_guess(&self, marks: &[Mark], height: f64) -> Option<GroundPoint> {
        let mut sum = (0.0, 0.0, 0.0);
        for mark in marks {
            let Some(camera) = self.camera(mark.frame) else { continue };
            let hit = camera
                .ground_at(mark.point(), height)
                .filter(|hit| hit.distance(camera.pose.position.below()) < 200.0);
            let hit = hit.unwrap_or_else(|| {
                let ray = camera.ray(mark.point());
                let flat = ray.xy().normalize() * 60.0;
                GroundPoint::new(self.position.x + flat.x, self.position.y + flat.y)
            });
            sum = (sum.0 + hit.x, sum.1 + hit.y, sum.2 + 1.0);
        }
        (sum.2 > 0.0).then(|| GroundPoint::new(sum.0 / sum.2, sum.1 / sum.2))
    }
}

/// Marks of fixed things: everything but hooves.
fn fixed_marks(file: &MarksFile) -> Vec<(MarkAddress, Vec<Mark>)> {
    file.places()
        .into_iter()
        .filter(|(address, marks)| {
            !matches!(address, MarkAddress::Footfall { .. }) && !marks.is_empty()
        })
        .map(|(address, marks)| (address, marks.to_vec()))
        .collect()
}

fn with_lens(
    file: &MarksFile,
    gauge: &Gauge,
    lens: Lens,
    motions: &[RelativeMotion],
) -> Vec<(f64, Start)> {
    // Pieces of the clip are not told against each other: each begins at the lens as a whole.
    let log_zooms: BTreeMap<FrameNumber, f64> = motions
        .iter()
        .flat_map(|motion| motion.frames.iter().copied().zip(motion.log_zooms.iter().copied()))
        .collect();
    let fixed = fixed_marks(file);
    let all_frames: Vec<FrameNumber> = {
        let mut frames: Vec<_> = file
            .places()
            .iter()
            .flat_map(|(_, marks)| marks.iter().map(|mark| mark.frame))
            .collect();
        frames.sort();
        frames.dedup();
        frames
    };
    let turns = match file.camera.motion {
        Motion::Fixed => all_frames.iter().map(|f| (*f, Rotation3::identity())).collect(),
        Motion::Turning { .. } => join_frames(&fixed, gauge, lens, &log_zooms, motions),
    };
    let ray_in_base = |mark: &Mark| -> Option<Vector3<f64>> {
        let ideal = zoomed(lens, &log_zooms, mark.frame).ideal_from_frame(mark.point());
        let ray = Vector3::new(ideal.x, ideal.y, 1.0).normalize();
        Some(turns.get(&mark.frame)?.inverse() * ray)
    };
    let mut sights = Vec::new();
    for (address, nominal) in &gauge.nominal {
        let Some((_, marks)) = fixed.iter().find(|(known, _)| known == address) else { continue };
        let rays: Vec<_> = marks.iter().filter_map(ray_in_base).collect();
        if rays.is_empty() {
            continue;
        }
        let sum: Vector3<f64> = rays.iter().sum();
        sights.push(Sight { ray: sum.normalize(), place: nominal.vector() });
    }
    let search = PoseSearch { sights, focal_px: lens.focal_px, prior: &file.camera };
    let unjoined: Vec<FrameNumber> =
        all_frames.into_iter().filter(|frame| !turns.contains_key(frame)).collect();
    search
        .solutions(gauge.free_direction)
        .into_iter()
        .map(|(cost, position, base)| {
            let rotations = turns.iter().map(|(frame, turn)| (*frame, turn * base)).collect();
            let log_zooms = log_zooms.clone();
            (cost, Start { lens, position, rotations, log_zooms, unjoined: unjoined.clone() })
        })
        .collect()
}

/// Turn of each frame's camera from that of a base frame, `frame_from_base`, by shared points. A
/// frame whose motion was observed brings the others of its piece with it.
fn join_frames(
    fixed: &[(MarkAddress, Vec<Mark>)],
    gauge: &Gauge,
    lens: Lens,
    log_zooms: &BTreeMap<FrameNumber, f64>,
    motions: &[RelativeMotion],
) -> BTreeMap<FrameNumber, Rotation3<f64>> {
    let mut seen: BTreeMap<FrameNumber, Vec<(usize, Vector3<f64>)>> = BTreeMap::new();
    for (place, (_, marks)) in fixed.iter().enumerate() {
        for mark in marks {
            let ideal = zoomed(lens, log_zooms, mark.frame).ideal_from_frame(mark.point());
            let ray = Vector3::new(ideal.x, ideal.y, 1.0).normalize();
            seen.entry(mark.frame).or_default().push((place, ray));
        }
    }
    let in_gauge: Vec<bool> = fixed
        .iter()
        .map(|(address, _)| gauge.nominal.iter().any(|(known, _)| known == address))
        .collect();
    let mut turns = BTreeMap::new();
    let Some(base) = seen
        .iter()
        .max_by_key(|(_, rays)| {
            let of_gauge = rays.iter().filter(|(place, _)| in_gauge[*place]).count();
            (of_gauge, rays.len())
        })
        .map(|(frame, _)| *frame)
    else {
        return turns;
    };
    let mut known: BTreeMap<usize, Vec<Vector3<f64>>> = BTreeMap::new();
    let mut next = Some((base, Rotation3::identity()));
    while let Some((frame, turn)) = next {
        for (frame, turn) in piece_of(motions, frame, turn) {
            turns.insert(frame, turn);
            for (place, ray) in seen.get(&frame).into_iter().flatten() {
                known.entry(*place).or_default().push(turn.inverse() * ray);
            }
        }
        // The frame that shares the most points with those already joined comes next.
        next = seen
            .iter()
            .filter(|(frame, _)| !turns.contains_key(frame))
            .map(|(frame, rays)| {
                let shared: Vec<_> = rays
                    .iter()
                    .filter_map(|(place, ray)| {
                        let sum: Vector3<f64> = known.get(place)?.iter().sum();
                        Some((sum.normalize(), *ray))
                    })
                    .collect();
                (*frame, shared)
            })
            .max_by_key(|(_, shared)| shared.len())
            .and_then(|(frame, shared)| Some((frame, rotation_between_directions(&shared)?)));
    }
    turns
}

/// The frames whose turn follows from that of `frame`, itself among them.
fn piece_of(
    motions: &[RelativeMotion],
    frame: FrameNumber,
    turn: Rotation3<f64>,
) -> Vec<(FrameNumber, Rotation3<f64>)> {
    let holds = |motion: &&RelativeMotion| motion.frames.contains(&frame);
    let Some(motion) = motions.iter().find(holds) else { return vec![(frame, turn)] };
    let at = motion.frames.iter().position(|known| *known == frame).unwrap_or(0);
    let first = motion.turns[at].inverse() * turn;
    motion.frames.iter().zip(&motion.turns).map(|(frame, turn)| (*frame, turn * first)).collect()
}

/// A direction in the base camera and the place it should hit.
struct Sight {
    ray: Vector3<f64>,
    place: Vector3<f64>,
}

struct PoseSearch<'a> {
    sights: Vec<Sight>,
    focal_px: f64,
    prior: &'a CameraPrior,
}

/// What a nominal place may be off, in pixels, for a start: laying errors and clicks together.
const START_SD_PX: f64 = 4.0;

/// With a roll known no better than this, degrees, a camera may hang as it likes.
const ANY_ROLL_DEG: f64 = 30.0;

impl PoseSearch<'_> {
    /// (cost, position, camera_from_ground) found from a ring of starting places.
    fn solutions(&self, free_direction: bool) -> Vec<(f64, Vector3<f64>, Rotation3<f64>)> {
        let count = self.sights.len() as f64;
        let middle: Vector3<f64> =
            self.sights.iter().map(|s| s.place).sum::<Vector3<f64>>() / count;
        let azimuths = if free_direction { 1 } else { 16 };
        let mut starts = Vec::new();
        for azimuth in 0..azimuths {
            let angle =
                f64::from(azimuth) * std::f64::consts::TAU / 16.0 - std::f64::consts::FRAC_PI_2;
            for distance in [2.5, 5.0, 9.0, 16.0, 28.0] {
                let mut position = middle + distance * Vector3::new(angle.cos(), angle.sin(), 0.0);
                position.z = self.prior.height_m.value;
                let pairs: Vec<_> =
                    self.sights.iter().map(|s| (s.place - position, s.ray)).collect();
                let Some(turn) = rotation_between_directions(&pairs) else { continue };
                let x = DVector::from_iterator(
                    6,
                    position.iter().copied().chain(rotation_vector(&turn).iter().copied()),
                );
                if let Some(rows) = self.rows(&x) {
                    starts.push((rows.cost(), x));
                }
            }
        }
        starts.sort_by(|a, b| a.0.total_cmp(&b.0));
        starts.truncate(8);
        let stop = Stop { iterations: 60, ..Stop::SURVEY };
        let solved = starts.into_iter().filter_map(|(_, x)| solve(self, x, stop).ok());
        solved
            .filter(|solution| {
                // Hanging upside down a camera is as level as standing up, and sees a reference
                // on one line alike. A roll that is not known at all is another matter.
                let turn =
                    Rotation3::new(Vector3::new(solution.x[3], solution.x[4], solution.x[5]));
                (turn * Vector3::z()).y < 0.0 || self.prior.roll_deg.sd > ANY_ROLL_DEG
            })
            .map(|solution| {
                let x = &solution.x;
                (
                    solution.rows.cost(),
                    Vector3::new(x[0], x[1], x[2]),
                    Rotation3::new(Vector3::new(x[3], x[4], x[5])),
                )
            })
            .collect()
    }

    fn residuals(&self, x: &DVector<f64>) -> Vec<f64> {
        let position = Vector3::new(x[0], x[1], x[2]);
        let turn = Rotation3::new(Vector3::new(x[3], x[4], x[5]));
        let mut residuals = Vec::with_capacity(3 * self.sights.len() + 2);
        for sight in &self.sights {
            let seen = turn * (sight.place - position).normalize();
            // The chord between the two directions, in pixels near the picture's middle; unlike a
            // projection it has a value behind the camera too.
            let mut off = (seen - sight.ray) * (self.focal_px / START_SD_PX);
            let size = off.norm();
            if size > 3.0 {
                off *= ((6.0 * size - 9.0).sqrt()) / size;
            }
            residuals.extend(off.iter().copied());
        }
        let up = turn * Vector3::z();
        let roll = self.prior.roll_deg;
        residuals.push((up.x - roll.value.to_radians().sin()) / roll.sd.max(0.1).to_radians());
        let height = self.prior.height_m;
        residuals.push((position.z - height.value) / height.sd.max(0.02));
        residuals
    }
}

impl Problem for PoseSearch<'_> {
    /// Six unknowns: central differences are exact enough for a start.
    fn rows(&self, x: &DVector<f64>) -> Option<Rows> {
        let base = self.residuals(x);
        let mut by = Vec::with_capacity(6);
        for column in 0..6 {
            let step = 1e-6 * x[column].abs().max(1.0);
            let moved = |by: f64| {
                let mut at = x.clone();
                at[column] += by;
                self.residuals(&at)
            };
            let (ahead, behind) = (moved(step), moved(-step));
            let column: Vec<f64> =
                ahead.iter().zip(&behind).map(|(a, b)| (a - b) / (2.0 * step)).collect();
            by.push(column);
        }
        let mut rows = Rows::default();
        for (row, residual) in base.iter().enumerate() {
            rows.push(*residual, (0..6).map(|column| (column, by[column][row])));
        }
        Some(rows)
    }
}

#[cfg(test)]
mod tests;
