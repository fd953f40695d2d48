//! A camera's pose from eight noisy points: our solver and derivatives against SciPy's
//! `least_squares` (`tests/outside/least_squares.py`), which has a camera of its own and takes
//! its derivatives by differences. Unknowns: position, and the rotation vector of the turn.

use groundline::quantity::seeded;
use groundline::scene::{Camera, FramePoint, Lens, PictureSize, Pose, ScenePoint, left_jacobian};
use groundline::survey::least_squares::{Problem, Rows, Stop, covariance, solve};
use nalgebra::{DVector, Rotation3, Vector3};
use rand_distr::{Distribution, Normal};
use serde_json::json;

use crate::reference_python::{ask_python, numbers};

const SD_PX: f64 = 1.5;

struct PoseOfPoints {
    lens: Lens,
    seen: Vec<(ScenePoint, FramePoint)>,
}

impl Problem for PoseOfPoints {
    fn rows(&self, x: &DVector<f64>) -> Option<Rows> {
        let turn = Vector3::new(x[3], x[4], x[5]);
        let pose = Pose {
            camera_from_ground: Rotation3::new(turn),
            position: ScenePoint::new(x[0], x[1], x[2]),
        };
        let camera = Camera { lens: self.lens, pose };
        // A change of the rotation vector is, to first order, the turn `J_left · change`.
        let jacobian = left_jacobian(turn);
        let mut rows = Rows::default();
        for (point, seen) in &self.seen {
            let at = camera.project_with_derivative(*point).ok()?;
            let by_turn = at.by_turn * jacobian;
            let off = [at.point.x - seen.x, at.point.y - seen.y];
            for (row, off) in off.into_iter().enumerate() {
                let by =
                    |i: usize| if i < 3 { -at.by_scene[(row, i)] } else { by_turn[(row, i - 3)] };
                rows.push(off / SD_PX, (0..6).map(|i| (i, by(i) / SD_PX)));
            }
        }
        Some(rows)
    }
}

#[test]
fn pose_and_covariance_agree_with_scipy() {
    let size = PictureSize { width: 1920, height: 1080 };
    let lens = Lens::with_field(size, 1.05);
    let position = ScenePoint::new(2.0, -17.0, 1.7);
    let pose = Pose::looking_at(position, ScenePoint::new(4.0, 0.0, 0.4));
    let truth = Camera { lens, pose };
    let (mut random, normal) = (seeded(11), Normal::new(0.0, SD_PX).unwrap());
    let mut seen = Vec::new();
    for pole in 0..4 {
        for side in [-1.75, 1.75] {
            let point = ScenePoint::new(3.0 * f64::from(pole), side, 0.05);
            let at = truth.project(point).unwrap();
            let (dx, dy) = (normal.sample(&mut random), normal.sample(&mut random));
            seen.push((point, FramePoint::new(at.x + dx, at.y + dy)));
        }
    }
    let axis = pose.camera_from_ground.scaled_axis();
    let start: Vec<f64> =
        vec![position.x + 0.5, position.y - 1.0, position.z + 0.3, axis.x + 0.02, axis.y, axis.z];
    let case = json!({
        "focal": lens.focal_px,
        "centre": [lens.centre.x, lens.centre.y],
        "points": seen.iter().map(|(p, _)| [p.x, p.y, p.z]).collect::<Vec<_>>(),
        "pixels": seen.iter().map(|(_, p)| [p.x, p.y]).collect::<Vec<_>>(),
        "sd": SD_PX,
        "start": start,
    });
    let Some(theirs) = ask_python("least_squares.py", &case) else { return };
    let solution =
        solve(&PoseOfPoints { lens, seen }, DVector::from_vec(start), Stop::EXACT).unwrap();
    let ours = covariance(&solution.rows, 6).unwrap();
    let x = numbers(&theirs["x"]);
    let (mut worst_x, mut worst_covariance): (f64, f64) = (0.0, 0.0);
    for (i, row) in theirs["covariance"].as_array().unwrap().iter().enumerate() {
        worst_x = worst_x.max((solution.x[i] - x[i]).abs() / x[i].abs());
        for (j, value) in numbers(row).into_iter().enumerate() {
            let size = (ours[(i, i)] * ours[(j, j)]).sqrt();
            worst_covariance = worst_covariance.max((ours[(i, j)] - value).abs() / size);
        }
    }
    println!("unknowns within {worst_x:.1e}, covariance within {worst_covariance:.1e} (relative)");
    assert!(worst_x < 1e-6, "{} against {x:?}", solution.x);
    assert!(worst_covariance < 1e-6, "{ours} against {theirs}");
}
