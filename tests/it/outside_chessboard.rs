//! Thirteen views of a printed chessboard with squares of 25 mm (OpenCV's samples, in
//! `../shared/footage/chessboard-2.5cm`). Each view is calibrated on the outer ring of its corners
//! and predicts where on the board the inner ones lie. OpenCV finds the corners, live
//! (`tests/outside/chessboard.py`); lens, pose and solver are ours.
//!
//! Bars: mean RMS over the views at most 0.25 mm with the published lens, 0.4 mm with one
//! distortion term of our own, found with focal length and pose from the ring of that one view, as
//! from a clip on a stand. The principal point is the picture's middle, as the survey assumes.

use groundline::marks::*;
use groundline::quantity::{FrameNumber, Given};
use groundline::scene::{
    Camera, FramePoint, GroundHomography, GroundPoint, Lens, PictureSize, Pose, ScenePoint,
    left_jacobian, rotation_between_directions,
};
use groundline::survey::least_squares::{Problem, Rows, Stop, solve};
use groundline::survey::survey;
use nalgebra::{DVector, Rotation3, Vector3};
use serde_json::{Map, Value, json};

use crate::reference_python::{ask_python, numbers};
use crate::support::shared;

const COLUMNS: usize = 9;
const ROWS: usize = 6;
const SQUARE_M: f64 = 0.025;
/// The survey's own first guess of a focal length, over the longer side of the picture.
const USUAL_FOCAL: f64 = 0.85;
/// About what the ring's corners are off a lens of one term. In the single calibrations it changes
/// nothing but when the solver stops.
const CLICK_SD_PX: f64 = 0.3;

/// A corner: where it is printed and where it is seen. Seen from the front, rows count down.
#[derive(Clone, Copy)]
struct Corner {
    board: GroundPoint,
    seen: FramePoint,
    in_ring: bool,
}

struct View {
    name: String,
    corners: Vec<Corner>,
    /// The same with the published distortion taken out.
    straight: Vec<Corner>,
    /// RMS of OpenCV's prediction with the published lens, metres.
    opencv_rms: f64,
}

struct Board {
    size: PictureSize,
    published: Lens,
    views: Vec<View>,
}

fn corners(points: impl Iterator<Item = FramePoint>) -> Vec<Corner> {
    points
        .enumerate()
        .map(|(index, seen)| {
            let (row, column) = (index / COLUMNS, index % COLUMNS);
            Corner {
                board: GroundPoint::new(SQUARE_M * column as f64, -SQUARE_M * row as f64),
                seen,
                in_ring: row == 0 || row == ROWS - 1 || column == 0 || column == COLUMNS - 1,
            }
        })
        .collect()
}

fn pairs(value: &Value) -> impl Iterator<Item = (f64, f64)> + '_ {
    value.as_array().unwrap().iter().map(|pair| {
        let pair = numbers(pair);
        (pair[0], pair[1])
    })
}

fn board() -> Option<Board> {
    let folder = shared("footage/chessboard-2.5cm")?;
    let case = json!({"folder": folder, "pattern": [COLUMNS, ROWS], "square": SQUARE_M});
    let found = ask_python("chessboard.py", &case)?;
    let size = numbers(&found["size"]);
    let centre = numbers(&found["centre"]);
    // OpenCV counts from the centre of the first pixel, we from its outer corner.
    let ours = |(x, y): (f64, f64)| FramePoint::new(x + 0.5, y + 0.5);
    let published = Lens {
        focal_px: found["focal"].as_f64().unwrap(),
        centre: ours((centre[0], centre[1])),
        k1: 0.0,
    };
    let views = found["views"].as_array().unwrap().iter().map(|view| {
        let straight = pairs(&view["ideal"]).map(|(x, y)| {
            FramePoint::new(
                published.centre.x + published.focal_px * x,
                published.centre.y + published.focal_px * y,
            )
        });
        let corners_seen = corners(pairs(&view["corners"]).map(ours));
        let theirs: Vec<_> = pairs(&view["opencv"]).map(|(x, y)| GroundPoint::new(x, -y)).collect();
        let inner = corners_seen.iter().zip(theirs).filter(|(corner, _)| !corner.in_ring);
        View {
            name: view["name"].as_str().unwrap().into(),
            opencv_rms: rms(inner.map(|(corner, at)| corner.board.distance(at))),
            straight: corners(straight),
            corners: corners_seen,
        }
    });
    let views: Vec<View> = views.collect();
    assert_eq!(views.len(), 13);
    let size = PictureSize { width: size[0] as u32, height: size[1] as u32 };
    Some(Board { size, published, views })
}

fn rms(errors: impl Iterator<Item = f64>) -> f64 {
    let squares: Vec<f64> = errors.map(|error| error * error).collect();
    (squares.iter().sum::<f64>() / squares.len() as f64).sqrt()
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

fn worst(values: &[f64]) -> f64 {
    values.iter().copied().fold(0.0, f64::max)
}

/// RMS over the inner corners of where `place` puts them on the board.
fn inner_rms(corners: &[Corner], place: impl Fn(FramePoint) -> GroundPoint) -> f64 {
    let inner = corners.iter().filter(|corner| !corner.in_ring);
    rms(inner.map(|corner| place(corner.seen).distance(corner.board)))
}

/// Camera from the ring: place and turn (a small one from `base`), then ln(focal length) and k1
/// where the lens is to be found too.
struct Calibration {
    ring: Vec<Corner>,
    lens: Lens,
    base: Rotation3<f64>,
    lens_is_known: bool,
}

impl Calibration {
    fn camera(&self, x: &DVector<f64>) -> Camera {
        let turn = Rotation3::new(Vector3::new(x[3], x[4], x[5]));
        let pose = Pose {
            camera_from_ground: turn * self.base,
            position: ScenePoint::new(x[0], x[1], x[2]),
        };
        let lens = if self.lens_is_known {
            self.lens
        } else {
            Lens { focal_px: x[6].exp(), k1: x[7], ..self.lens }
        };
        Camera { lens, pose }
    }

    /// A start near the bottom: of many places over the board, each with the turn that suits it,
    /// those that fit best.
    fn starts(ring: &[Corner], lens: Lens) -> Vec<(ScenePoint, Rotation3<f64>)> {
        let middle = Vector3::new(4.0 * SQUARE_M, -2.5 * SQUARE_M, 0.0);
        let mut starts = Vec::new();
        for azimuth in (0..360).step_by(30) {
            for elevation in [30.0, 55.0, 80.0] {
                for distance in [0.25, 0.35, 0.5] {
                    let (sin, cos) = f64::from(azimuth).to_radians().sin_cos();
                    let (up, out) = f64::to_radians(elevation).sin_cos();
                    let position = middle + distance * Vector3::new(out * cos, out * sin, up);
                    let sights: Vec<_> = ring
                        .iter()
                        .map(|corner| {
                            let ideal = lens.ideal_from_frame(corner.seen);
                            let ray = Vector3::new(ideal.x, ideal.y, 1.0).normalize();
                            let place = Vector3::new(corner.board.x, corner.board.y, 0.0);
                            ((place - position).normalize(), ray)
                        })
                        .collect();
                    let Some(turn) = rotation_between_directions(&sights) else { continue };
                    let off: f64 =
                        sights.iter().map(|(to, ray)| (turn * to - ray).norm_squared()).sum();
                    starts.push((off, (ScenePoint::from(position), turn)));
                }
            }
        }
        starts.sort_by(|a, b| a.0.total_cmp(&b.0));
        starts.into_iter().take(6).map(|(_, start)| start).collect()
    }

    /// The camera that fits the ring best.
    fn of(corners: &[Corner], lens: Lens, lens_is_known: bool) -> (Camera, f64) {
        let ring: Vec<Corner> = corners.iter().filter(|corner| corner.in_ring).copied().collect();
        let solutions = Self::starts(&ring, lens).into_iter().filter_map(|(position, base)| {
            let problem = Self { ring: ring.clone(), lens, base, lens_is_known };
            let mut start = vec![position.x, position.y, position.z, 0.0, 0.0, 0.0];
            if !lens_is_known {
                start.extend([lens.focal_px.ln(), lens.k1]);
            }
            let solution = solve(&problem, DVector::from_vec(start), Stop::EXACT).ok()?;
            Some((problem.camera(&solution.x), solution.rows.cost()))
        });
        let best = solutions.min_by(|a, b| a.1.total_cmp(&b.1)).unwrap();
        let ring_px = CLICK_SD_PX * (2.0 * best.1 / ring.len() as f64).sqrt();
        (best.0, ring_px)
    }
}

impl Problem for Calibration {
    fn rows(&self, x: &DVector<f64>) -> Option<Rows> {
        let camera = self.camera(x);
        let jacobian = left_jacobian(Vector3::new(x[3], x[4], x[5]));
        let mut rows = Rows::default();
        for corner in &self.ring {
            let at = camera.project_with_derivative(corner.board.at_height(0.0)).ok()?;
            let by_turn = at.by_turn * jacobian;
            let off = (at.point.vector() - corner.seen.vector()) / CLICK_SD_PX;
            for axis in 0..2 {
                let mut by: Vec<f64> = (0..3).map(|i| -at.by_scene[(axis, i)]).collect();
                by.extend((0..3).map(|i| by_turn[(axis, i)]));
                if !self.lens_is_known {
                    by.extend([at.by_log_focal[axis], at.by_k1[axis]]);
                }
                rows.push(off[axis], by.into_iter().map(|by| by / CLICK_SD_PX).enumerate());
            }
        }
        Some(rows)
    }
}

#[test]
fn inner_corners_lie_where_the_ring_says() {
    let Some(board) = board() else { return };
    let guess = Lens {
        focal_px: USUAL_FOCAL * f64::from(board.size.width),
        centre: board.size.centre(),
        k1: 0.0,
    };
    let (mut plain, mut opencv, mut published, mut own) = (vec![], vec![], vec![], vec![]);
    for view in &board.views {
        let ring = view.corners.iter().filter(|corner| corner.in_ring);
        let map: Vec<_> = ring.map(|corner| (corner.seen, corner.board)).collect();
        let map = GroundHomography::fit(&map).unwrap();
        plain.push(1000.0 * inner_rms(&view.corners, |seen| map.ground_from_frame(seen)));
        opencv.push(1000.0 * view.opencv_rms);
        let (camera, _) = Calibration::of(&view.straight, board.published, true);
        let on_board = |camera: Camera| move |seen| camera.ground_at(seen, 0.0).unwrap();
        published.push(1000.0 * inner_rms(&view.straight, on_board(camera)));
        let (camera, ring_px) = Calibration::of(&view.corners, guess, false);
        own.push(1000.0 * inner_rms(&view.corners, on_board(camera)));
        println!(
            "{}: homography {:.3} mm, OpenCV with the published lens {:.3}, ours {:.3}; own lens \
             {:.3} (focal {:.0} px, k1 {:.3}, ring to {ring_px:.2} px)",
            view.name,
            plain[plain.len() - 1],
            opencv[opencv.len() - 1],
            published[published.len() - 1],
            own[own.len() - 1],
            camera.lens.focal_px,
            camera.lens.k1,
        );
    }
    for (what, errors) in [
        ("homography", &plain),
        ("OpenCV, published lens", &opencv),
        ("ours, published lens", &published),
        ("ours, one term of our own", &own),
    ] {
        println!("{what}: mean RMS {:.3} mm, worst view {:.3}", mean(errors), worst(errors));
    }
    // What the corners themselves are worth: the figures that the bars were set beside.
    assert!((mean(&plain) - 1.04).abs() < 0.02 && (worst(&plain) - 1.45).abs() < 0.02);
    assert!((mean(&opencv) - 0.15).abs() < 0.02);
    assert!(mean(&published) <= 0.25, "published lens: {published:?}");
    assert!(mean(&own) <= 0.4, "one term of our own: {own:?}");
}

/// The board a hundred times as large, so that it is the size of an arena: a square is 2.5 m.
const LARGER: f64 = 100.0;

/// The ring of a view as the survey's references: the ends of the nine columns as poles, those of
/// the four rows between as others, turned by a right angle. The inner corners are points on the
/// ground: seen once, they steer nothing.
fn ring_as_poles(corners: &[Corner], size: PictureSize) -> MarksFile {
    let frame = FrameNumber(0);
    let at = |row: u32, column: u32| corners[row as usize * COLUMNS + column as usize];
    let end = |pole, end, corner: Corner| {
        PoleEndMarks::new(pole, end, vec![Mark::new(frame, corner.seen, CLICK_SD_PX)])
    };
    let square = LARGER * SQUARE_M;
    let poles = |id: &str, count, squares_long, ends| Reference {
        id: id.into(),
        kind: ReferenceKind::Poles {
            count,
            spacing_m: Given::new(square, 0.0),
            length_m: Given::new(square * squares_long, 0.0),
            diameter_m: 0.0,
            ends,
            other: Map::new(),
        },
    };
    let columns = (0..9).flat_map(|column| {
        [
            end(column + 1, PoleEnd::Left, at(0, column)),
            end(column + 1, PoleEnd::Right, at(5, column)),
        ]
    });
    let rows = (1..5).flat_map(|row| {
        [end(row, PoleEnd::Left, at(row, 8)), end(row, PoleEnd::Right, at(row, 0))]
    });
    let clip = ClipNote {
        file: "left.jpg".into(),
        size_bytes: 1,
        blake3: String::new(),
        picture: size,
        frame_count: 1,
        stream: None,
        capture_seconds_per_second: 1.0,
        frames: vec![MarkedFrame::new(frame, 0.0, 0.04)],
        other: Map::new(),
    };
    // The board was held in the hand, any way up; the lens is far from a phone's.
    let mut camera = CameraPrior::usual(Motion::Fixed);
    camera.height_m = Given::new(30.0, 15.0);
    camera.roll_deg = Given::new(0.0, 180.0);
    camera.distortion_k1 = Given::new(0.0, 0.3);
    let mut file = MarksFile::new(clip, camera);
    file.references =
        vec![poles("columns", 9, 5.0, columns.collect()), poles("rows", 4, 8.0, rows.collect())];
    for (index, corner) in corners.iter().enumerate().filter(|(_, corner)| !corner.in_ring) {
        let mut tie = Tie::new(index.to_string(), TiePlace::Ground);
        tie.marks = vec![Mark::new(frame, corner.seen, CLICK_SD_PX)];
        file.ties.push(tie);
    }
    file
}

/// The same bar for the whole survey, with all its allowances for poles laid by eye, and the usual
/// start from any side.
#[test]
fn the_survey_places_the_inner_corners_too() {
    let Some(board) = board() else { return };
    let mut errors = Vec::new();
    for view in &board.views {
        let survey = survey(&ring_as_poles(&view.corners, board.size))
            .unwrap_or_else(|error| panic!("{}: {error}", view.name));
        assert!(survey.suspects.is_empty(), "{}: {:?}", view.name, survey.suspects);
        // The survey's origin is the middle of the first column, and its metres are larger.
        let inner = view.corners.iter().enumerate().filter(|(_, corner)| !corner.in_ring);
        let off = inner.map(|(index, corner)| {
            let found = survey.places[&MarkAddress::Tie { tie: index.to_string() }];
            let on_board = GroundPoint::new(found.x / LARGER, found.y / LARGER - 2.5 * SQUARE_M);
            on_board.distance(corner.board)
        });
        errors.push(1000.0 * rms(off));
        let lens = survey.cameras.values().next().unwrap().lens;
        println!(
            "{}: {:.3} mm (focal {:.0} px, k1 {:.3})",
            view.name,
            errors[errors.len() - 1],
            lens.focal_px,
            lens.k1
        );
    }
    println!("survey: mean RMS {:.3} mm, worst view {:.3}", mean(&errors), worst(&errors));
    assert!(mean(&errors) <= 0.4, "{errors:?}");
}
