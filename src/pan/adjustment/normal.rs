//! The normal equations of a bundle, kept by point so that points can be eliminated.

use nalgebra::{DMatrix, DVector, Matrix3, SMatrix, SVector, Vector2, Vector3};
use rayon::prelude::*;

use super::bundle::{Bundle, COMMON};
use super::look::Look;
use super::motion_model::MotionModel;
use super::priors::{MotionPriors, NearnessCost, ZOOM_SD, weight};
use super::sightings::{KeySighting, PointSightings};
use super::weighing::Weighing;

/// Work is cut into this many parts whatever the number of processor cores, and the parts are
/// added in order: sums are then the same everywhere.
const PARTS: usize = 8;

/// What is adjusted: the same for all steps.
#[derive(Clone, Copy)]
pub(super) struct Task<'a> {
    /// What may change.
    pub model: MotionModel,
    /// Points and where they were seen.
    pub points: &'a [PointSightings],
    /// Number of key frames.
    pub keys: usize,
    /// Beliefs.
    pub priors: &'a MotionPriors,
    /// What a misfit costs.
    pub weighing: Weighing,
}

/// One point's part: with the cameras (`cross`, a row of three for each of `columns`), with itself
/// and its gradient. Without shifts the third unknown is cut off by a one on the diagonal.
#[derive(Clone, Debug)]
pub(super) struct PointBlock {
    pub columns: Vec<usize>,
    pub cross: Vec<Vector3<f64>>,
    pub own: Matrix3<f64>,
    pub gradient: Vector3<f64>,
}

/// All of it.
#[derive(Clone, Debug)]
pub(super) struct Normal {
    pub camera: DMatrix<f64>,
    pub gradient: DVector<f64>,
    pub points: Vec<PointBlock>,
    pub cost: f64,
}

impl Task<'_> {
    /// Number of camera unknowns.
    pub fn columns(&self) -> usize {
        COMMON + self.keys.saturating_sub(1) * self.model.count()
    }

    /// Whether a sighting takes part.
    pub fn takes(&self, sighting: &KeySighting) -> bool {
        sighting.used || self.weighing.robust
    }

    fn part_len(&self) -> usize {
        self.points.len().div_ceil(PARTS).max(1)
    }

    /// Half the sum of what misfits and beliefs cost.
    pub fn cost(&self, bundle: &Bundle) -> f64 {
        let part = self.part_len();
        let parts: Vec<f64> = (0..self.points.len().div_ceil(part))
            .into_par_iter()
            .map(|i| {
                (i * part..((i + 1) * part).min(self.points.len()))
                    .map(|point| self.cost_of_point(bundle, point))
                    .sum::<f64>()
            })
            .collect();
        parts.iter().sum::<f64>() + self.cost_of_beliefs(bundle)
    }

    fn cost_of_point(&self, bundle: &Bundle, point: usize) -> f64 {
        let at = &bundle.points[point];
        let own = if self.model.shifts() {
            NearnessCost::of(at.nearness, self.priors.nearness).cost
        } else {
            0.0
        };
        let seen = self.points[point].seen.iter().filter(|sighting| self.takes(sighting));
        own + seen
            .map(|sighting| match Look::place(bundle, &bundle.keys[sighting.key], at) {
                Some(place) => {
                    self.weighing.of((place - sighting.at).norm_squared() / sighting.sd.powi(2)).0
                }
                None => self.weighing.of_unseen(),
            })
            .sum::<f64>()
    }

    fn cost_of_beliefs(&self, bundle: &Bundle) -> f64 {
        self.beliefs(bundle).iter().map(|(_, off, weight)| 0.5 * off * off * weight).sum()
    }

    /// Beliefs of the cameras: column, how far off, weight.
    fn beliefs(&self, bundle: &Bundle) -> Vec<(usize, f64, f64)> {
        let mut all = vec![
            (0, bundle.log_focal - self.priors.log_focal.value, weight(self.priors.log_focal)),
            (1, bundle.k1 - self.priors.k1.value, weight(self.priors.k1)),
        ];
        for (key, pose) in bundle.keys.iter().enumerate() {
            let Some(first) = Bundle::column_of(self.model, key) else { continue };
            for (i, &place) in self.model.unknowns().iter().enumerate() {
                match place {
                    3 => all.push((first + i, pose.log_zoom, ZOOM_SD.powi(-2))),
                    4.. => {
                        let off = pose.shift[place - 4];
                        all.push((first + i, off, self.priors.shift_sd_m.powi(-2)));
                    }
                    _ => {}
                }
            }
        }
        all
    }

    /// The normal equations at `bundle`.
    pub fn normal(&self, bundle: &Bundle) -> Normal {
        let part = self.part_len();
        let parts: Vec<Sums> = (0..self.points.len().div_ceil(part))
            .into_par_iter()
            .map(|i| {
                let mut sums = Sums::empty(self.keys);
                for point in i * part..((i + 1) * part).min(self.points.len()) {
                    self.add_point(bundle, point, &mut sums);
                }
                sums
            })
            .collect();
        let n = self.columns();
        let mut whole = Normal {
            camera: DMatrix::zeros(n, n),
            gradient: DVector::zeros(n),
            points: Vec::with_capacity(self.points.len()),
            cost: 0.0,
        };
        for part in parts {
            for (key, frame) in part.frames.iter().enumerate() {
                self.add_frame(key, frame, &mut whole);
            }
            whole.points.extend(part.points);
            whole.cost += part.cost;
        }
        for (column, off, weight) in self.beliefs(bundle) {
            whole.camera[(column, column)] += weight;
            whole.gradient[column] += weight * off;
            whole.cost += 0.5 * off * off * weight;
        }
        whole
    }

    /// Columns of a key frame's nine unknowns, those of the model: place among the nine, column.
    fn columns_of(&self, key: usize) -> impl Iterator<Item = (usize, usize)> + '_ {
        let own = Bundle::column_of(self.model, key).into_iter().flat_map(|first| {
            let places = self.model.unknowns().iter().enumerate();
            places.map(move |(i, &place)| (COMMON + place, first + i))
        });
        (0..COMMON).map(|i| (i, i)).chain(own)
    }

    fn add_frame(&self, key: usize, frame: &FrameSums, whole: &mut Normal) {
        for (i, a) in self.columns_of(key) {
            whole.gradient[a] += frame.gradient[i];
            for (j, b) in self.columns_of(key) {
                whole.camera[(a, b)] += frame.matrix[(i, j)];
            }
        }
    }

    fn add_point(&self, bundle: &Bundle, point: usize, sums: &mut Sums) {
        let at = &bundle.points[point];
        sums.cost += self.cost_of_point(bundle, point);
        let seen = &self.points[point].seen;
        let room = COMMON + seen.len() * self.model.count();
        let mut block = PointBlock {
            columns: Vec::with_capacity(room),
            cross: Vec::with_capacity(room),
            own: Matrix3::zeros(),
            gradient: Vector3::zeros(),
        };
        block.columns.extend(0..COMMON);
        block.cross.extend([Vector3::zeros(); COMMON]);
        if self.model.shifts() {
            let belief = NearnessCost::of(at.nearness, self.priors.nearness);
            block.own[(2, 2)] += belief.curvature;
            block.gradient[2] += belief.slope;
        } else {
            block.own[(2, 2)] = 1.0;
        }
        for sighting in seen.iter().filter(|sighting| self.takes(sighting)) {
            let pose = &bundle.keys[sighting.key];
            let Some(look) = Look::of(bundle, self.model, pose, at) else { continue };
            let residual: Vector2<f64> = (look.at - sighting.at) / sighting.sd;
            let weight = self.weighing.of(residual.norm_squared()).1;
            let mut by_camera = SMatrix::<f64, 2, 9>::zeros();
            by_camera.fixed_columns_mut::<2>(0).copy_from(&look.by_common);
            by_camera.fixed_columns_mut::<7>(COMMON).copy_from(&look.by_pose);
            by_camera /= sighting.sd;
            let by_point = look.by_point / sighting.sd;
            let weighted = weight * by_camera.transpose();
            let frame = &mut sums.frames[sighting.key];
            frame.matrix += weighted * by_camera;
            frame.gradient += weighted * residual;
            block.own += weight * by_point.transpose() * by_point;
            block.gradient += weight * by_point.transpose() * residual;
            let cross = weighted * by_point;
            for (i, column) in self.columns_of(sighting.key) {
                let row = cross.row(i).transpose();
                if i < COMMON {
                    block.cross[i] += row;
                } else {
                    block.columns.push(column);
                    block.cross.push(row);
                }
            }
        }
        sums.points.push(block);
    }
}

/// Sums over sightings in one key frame: by ln focal length, k1, turn, ln zoom and shift.
#[derive(Clone)]
struct FrameSums {
    matrix: SMatrix<f64, 9, 9>,
    gradient: SVector<f64, 9>,
}

/// Sums over some of the points.
struct Sums {
    frames: Vec<FrameSums>,
    points: Vec<PointBlock>,
    cost: f64,
}

impl Sums {
    fn empty(keys: usize) -> Self {
        let frame = FrameSums { matrix: SMatrix::zeros(), gradient: SVector::zeros() };
        Self { frames: vec![frame; keys], points: Vec::new(), cost: 0.0 }
    }
}
