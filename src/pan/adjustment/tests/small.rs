//! Derivatives, the elimination of points and covariances, checked on a problem small enough for
//! one dense matrix.

use nalgebra::{DMatrix, DVector, Rotation3, Vector2, Vector3};

use crate::pan::adjustment::bundle::{Bundle, COMMON, FarPoint, KeyPose};
use crate::pan::adjustment::descend::{descend, stepped};
use crate::pan::adjustment::look::Look;
use crate::pan::adjustment::motion_model::MotionModel;
use crate::pan::adjustment::normal::Task;
use crate::pan::adjustment::priors::{MotionPriors, ZOOM_SD, weight};
use crate::pan::adjustment::reduce::Reduced;
use crate::pan::adjustment::sightings::{KeySighting, PointSightings};
use crate::pan::adjustment::weighing::Weighing;
use crate::quantity::Given;
use crate::scene::FramePoint;

pub(super) const SQUARES: Weighing = Weighing { scale: 1.0, robust: false };

/// Three key frames and nine points at several distances, all seen by all, with an error of a few
/// tenths of a pixel that no chance decides.
pub(super) fn small(model: MotionModel) -> (Bundle, Vec<PointSightings>) {
    let pose = |yaw: f64, log_zoom: f64, shift: Vector3<f64>| KeyPose {
        turn: Rotation3::new(Vector3::new(0.01 * yaw, yaw, -0.02 * yaw)),
        log_zoom: if model.zooms() { log_zoom } else { 0.0 },
        shift: if model.shifts() { shift } else { Vector3::zeros() },
    };
    let keys = vec![
        KeyPose::reference(),
        pose(-0.12, 0.04, Vector3::new(0.10, -0.03, 0.05)),
        pose(-0.25, 0.09, Vector3::new(-0.08, 0.06, -0.12)),
    ];
    let points = (0..9)
        .map(|i| {
            let (x, y) = (f64::from(i % 3) * 0.16 - 0.05, f64::from(i / 3) * 0.14 - 0.14);
            let nearness = 0.02 + 0.013 * f64::from((i * 5) % 9);
            FarPoint { toward: Vector3::new(x, y, 1.0).normalize(), nearness }
        })
        .collect();
    let centre = FramePoint::new(640.0, 360.0);
    let bundle = Bundle { centre, log_focal: 1000.0_f64.ln(), k1: -0.03, keys, points };
    let sightings = bundle.points.iter().enumerate().map(|(i, point)| PointSightings {
        point: i as u32,
        seen: bundle
            .keys
            .iter()
            .enumerate()
            .map(|(key, pose)| {
                let n = (3 * i + key) as f64;
                let noise = Vector2::new((1.7 * n).sin(), (2.3 * n + 0.5).cos()) * 0.3;
                let at = Look::place(&bundle, pose, point).unwrap() + noise;
                KeySighting { key, at, sd: 0.2 + 0.05 * (n % 3.0), used: true }
            })
            .collect(),
    });
    (bundle.clone(), sightings.collect())
}

pub(super) fn priors() -> MotionPriors {
    MotionPriors::of_lens(Given::new(6.95, 0.2), Given::new(0.0, 0.05))
}

/// All unknowns in one row: cameras, then three for each point.
fn moved(bundle: &Bundle, model: MotionModel, step: &DVector<f64>) -> Bundle {
    let cameras = COMMON + 2 * model.count();
    let points: Vec<Vector3<f64>> =
        (0..9).map(|i| step.fixed_rows::<3>(cameras + 3 * i).into()).collect();
    stepped(model, bundle, &step.rows(0, cameras).into(), &points)
}

/// Residuals of sightings and beliefs, by their standard deviations.
fn residuals(task: &Task<'_>, bundle: &Bundle) -> DVector<f64> {
    let mut all = Vec::new();
    for (point, at) in task.points.iter().zip(&bundle.points) {
        for s in &point.seen {
            let off = (Look::place(bundle, &bundle.keys[s.key], at).unwrap() - s.at) / s.sd;
            all.extend([off.x, off.y]);
        }
        if task.model.shifts() {
            let belief = task.priors.nearness;
            all.push((at.nearness - belief.value) * weight(belief).sqrt());
        }
    }
    for (value, belief) in [(bundle.log_focal, task.priors.log_focal), (bundle.k1, task.priors.k1)]
    {
        all.push((value - belief.value) / belief.sd);
    }
    for pose in &bundle.keys[1..] {
        if task.model.zooms() {
            all.push(pose.log_zoom / ZOOM_SD);
        }
        if task.model.shifts() {
            all.extend(pose.shift.iter().map(|s| s / task.priors.shift_sd_m));
        }
    }
    DVector::from_vec(all)
}

/// By central differences; without shifts a point's third unknown has no column.
fn dense(task: &Task<'_>, bundle: &Bundle) -> (DMatrix<f64>, Vec<usize>) {
    let cameras = task.columns();
    let columns: Vec<usize> = (0..cameras + 27)
        .filter(|&c| c < cameras || task.model.shifts() || (c - cameras) % 3 < 2)
        .collect();
    let derivatives = columns.iter().map(|&column| {
        let mut step = DVector::zeros(cameras + 27);
        step[column] = 1e-6;
        let ahead = residuals(task, &moved(bundle, task.model, &step));
        let behind = residuals(task, &moved(bundle, task.model, &-step));
        (ahead - behind) / 2e-6
    });
    (DMatrix::from_columns(&derivatives.collect::<Vec<_>>()), columns)
}

fn near(a: f64, b: f64, size: f64) -> bool {
    (a - b).abs() <= 2e-6 * size
}

#[test]
fn normal_equations_are_those_of_central_differences() {
    for model in MotionModel::ALL {
        let (bundle, points) = small(model);
        let priors = priors();
        let task = Task { model, points: &points, keys: 3, priors: &priors, weighing: SQUARES };
        let (jacobian, columns) = dense(&task, &bundle);
        let residuals = residuals(&task, &bundle);
        let normal = task.normal(&bundle);
        assert!(near(normal.cost, 0.5 * residuals.norm_squared(), normal.cost), "{model}");
        assert!(near(task.cost(&bundle), normal.cost, normal.cost), "{model}");
        let whole = jacobian.transpose() * &jacobian;
        let gradient = jacobian.transpose() * &residuals;
        let cameras = task.columns();
        let size = |i: usize, j: usize| (whole[(i, i)] * whole[(j, j)]).sqrt();
        for i in 0..cameras {
            assert!(near(normal.gradient[i], gradient[i], size(i, i).sqrt() * 10.0), "{model} {i}");
            for j in 0..cameras {
                assert!(near(normal.camera[(i, j)], whole[(i, j)], size(i, j)), "{model} {i} {j}");
            }
        }
        for (row, &column) in columns.iter().enumerate().skip(cameras) {
            let (point, axis) = ((column - cameras) / 3, (column - cameras) % 3);
            let block = &normal.points[point];
            let scale = size(row, row).sqrt() * 10.0;
            assert!(near(block.gradient[axis], gradient[row], scale), "{model} {column}");
            for (&camera, cross) in block.columns.iter().zip(&block.cross) {
                let exact = whole[(row, camera)];
                assert!(near(cross[axis], exact, size(row, camera)), "{model} {column} {camera}");
            }
        }
    }
}

#[test]
fn steps_and_covariance_by_elimination_are_those_of_the_whole_system() {
    for model in MotionModel::ALL {
        let (bundle, points) = small(model);
        let priors = priors();
        let task = Task { model, points: &points, keys: 3, priors: &priors, weighing: SQUARES };
        let (jacobian, columns) = dense(&task, &bundle);
        let whole = jacobian.transpose() * &jacobian;
        let gradient = jacobian.transpose() * residuals(&task, &bundle);
        let cameras = task.columns();
        let normal = task.normal(&bundle);
        for damping in [0.0, 0.01] {
            let mut damped = whole.clone();
            for i in 0..columns.len() {
                damped[(i, i)] *= 1.0 + damping;
            }
            let cholesky = damped.clone().cholesky().unwrap();
            let exact = -cholesky.solve(&gradient);
            let reduced = Reduced::of(&normal, damping).unwrap();
            let (step, point_steps) = reduced.step(&normal);
            let covariance = reduced.covariance();
            let dense_covariance = cholesky.inverse();
            for (row, &column) in columns.iter().enumerate() {
                let found = match column.checked_sub(cameras) {
                    None => step[column],
                    Some(place) => point_steps[place / 3][place % 3],
                };
                let sd = dense_covariance[(row, row)].sqrt();
                assert!((found - exact[row]).abs() < 1e-4 * sd, "{model} {column}");
            }
            for i in 0..cameras {
                for j in 0..cameras {
                    let size = (dense_covariance[(i, i)] * dense_covariance[(j, j)]).sqrt();
                    let off = (covariance[(i, j)] - dense_covariance[(i, j)]).abs();
                    assert!(off < 1e-4 * size, "{model} {i} {j}");
                }
            }
            if damping > 0.0 {
                continue;
            }
            let log_det = 2.0 * cholesky.l().diagonal().iter().map(|d| d.ln()).sum::<f64>();
            assert!((reduced.log_det() - log_det).abs() < 1e-4 * log_det.abs(), "{model}");
        }
    }
}

#[test]
fn a_descent_ends_where_no_gradient_is_left() {
    for model in [MotionModel::Turning, MotionModel::HandheldZooming] {
        let (mut bundle, points) = small(model);
        let priors = priors();
        let task = Task { model, points: &points, keys: 3, priors: &priors, weighing: SQUARES };
        bundle.log_focal += 0.1;
        bundle.keys[2].turn = Rotation3::new(Vector3::new(0.02, 0.03, 0.01)) * bundle.keys[2].turn;
        let end = descend(&task, bundle, 60);
        assert!(end.settled, "{model}");
        let normal = task.normal(&end.bundle);
        let reduced = Reduced::of(&normal, 0.0).unwrap();
        let (step, covariance) = (reduced.step(&normal).0, reduced.covariance());
        for i in 0..step.len() {
            let left = step[i] / covariance[(i, i)].sqrt();
            assert!(left.abs() < 0.02, "{model} {i}: {left}");
        }
    }
}
