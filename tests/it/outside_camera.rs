//! The camera model against OpenCV, run live (`tests/outside/camera.py`): `projectPoints` with
//! one radial term, and the pose that `solvePnP` finds from exactly projected points.

use groundline::scene::{Camera, Lens, PictureSize, Pose, ScenePoint};
use nalgebra::Rotation3;
use serde_json::json;

use crate::reference_python::{ask_python, numbers};

fn cameras() -> Vec<Camera> {
    let size = PictureSize { width: 1920, height: 1080 };
    [
        (1.05, -0.07, ScenePoint::new(1.0, -19.0, 1.6), ScenePoint::new(3.0, 0.5, 0.3), 0.0),
        (1.2, 0.04, ScenePoint::new(-6.0, -9.0, 2.4), ScenePoint::new(2.0, 1.0, 0.0), 0.06),
        (0.5, 0.0, ScenePoint::new(14.0, 25.0, 1.1), ScenePoint::new(4.0, 0.0, 0.8), -0.03),
    ]
    .into_iter()
    .map(|(field, k1, position, target, roll)| {
        let lens = Lens { k1, ..Lens::with_field(size, field) };
        let level = Pose::looking_at(position, target);
        let lean = Rotation3::from_axis_angle(&nalgebra::Vector3::z_axis(), roll);
        let pose = Pose { camera_from_ground: lean * level.camera_from_ground, ..level };
        Camera { lens, pose }
    })
    .collect()
}

fn points() -> Vec<ScenePoint> {
    let mut points = Vec::new();
    for x in [-1.0, 2.5, 6.0] {
        for y in [-1.75, 0.4, 1.75] {
            points.push(ScenePoint::new(x, y, 0.05));
            points.push(ScenePoint::new(x + 0.3, y, 1.2));
        }
    }
    points
}

#[test]
fn projection_and_pose_agree_with_opencv() {
    for camera in cameras() {
        let ours: Vec<_> = points().iter().map(|p| camera.project(*p).unwrap()).collect();
        let turn = camera.pose.camera_from_ground.matrix();
        let place = camera.pose.position;
        let case = json!({
            "focal": camera.lens.focal_px,
            "centre": [camera.lens.centre.x, camera.lens.centre.y],
            "k1": camera.lens.k1,
            "turn": (0..3).map(|i| [turn[(i, 0)], turn[(i, 1)], turn[(i, 2)]]).collect::<Vec<_>>(),
            "position": [place.x, place.y, place.z],
            "points": points().iter().map(|p| [p.x, p.y, p.z]).collect::<Vec<_>>(),
            "pixels": ours.iter().map(|p| [p.x, p.y]).collect::<Vec<_>>(),
        });
        let Some(theirs) = ask_python("camera.py", &case) else { return };
        let mut worst: f64 = 0.0;
        for (ours, theirs) in ours.iter().zip(theirs["pixels"].as_array().unwrap()) {
            let theirs = numbers(theirs);
            worst = worst.max((ours.x - theirs[0]).abs()).max((ours.y - theirs[1]).abs());
        }
        let found = numbers(&theirs["position"]);
        let away = (found[0] - place.x).hypot(found[1] - place.y).hypot(found[2] - place.z);
        let mut turned: f64 = 0.0;
        for (i, row) in theirs["turn"].as_array().unwrap().iter().enumerate() {
            for (j, value) in numbers(row).into_iter().enumerate() {
                turned = turned.max((value - turn[(i, j)]).abs());
            }
        }
        println!("pixels within {worst:.1e}, position {away:.1e} m, turn {turned:.1e}");
        assert!(worst < 1e-6, "projection differs by {worst} px");
        assert!(away < 1e-6 && turned < 1e-6, "pose differs: {away} m, {turned}");
    }
}
