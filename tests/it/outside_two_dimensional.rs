//! The set-up of a published two-dimensional study, simulated and surveyed: Lythgo & Begg,
//! "Measurement error in simulated 2D gait data", ISBS proceedings (abstract, read; row M1 of
//! `../shared/reference-values.md`). Static markers, one fixed camera square to the way: the
//! footfall's (toe's) distance from the board had a mean absolute error of 0.59 cm with the camera
//! 7 to 10 m away, of 1.5 cm at 5 m, and of less than 0.66 cm in fields of view of 2.5 to 4.5 m.
//!
//! What the row does not tell is assumed: camera on a tripod, 1.2 m high, turned off square by 1°
//! (sd), a lens with what is left after its own correction (k1 of sd 0.02), markers on one line on
//! the ground, the board at the end of it, points placed with 1 px (sd), in pictures of today
//! (1920 × 1080) and of television (768 × 576 square pixels). Known lengths: three bars of 1.00 m
//! across the way, with gaps good to 1 mm (sd) that fill the field, and for the plain scale of two
//! dimensions the line between the outer two. What made their errors is not known.
//!
//! In television pictures a click errs by up to 6 mm, and the plain scale is the better one at 7 m
//! and more. A reason that fits, not tested: it takes a camera that is nearly square for square,
//! while the survey has to find turn, lens and all from three bars.

use groundline::marks::*;
use groundline::quantity::{FrameNumber, Given, seeded};
use groundline::scene::{Camera, FramePoint, Lens, PictureSize, Pose, ScenePoint};
use groundline::survey::survey;
use nalgebra::Rotation3;
use rand_distr::{Distribution, Normal};
use rayon::prelude::*;
use serde_json::Map;

const FRAME: FrameNumber = FrameNumber(0);
const CLICK_SD_PX: f64 = 1.0;
const HEIGHT_M: f64 = 1.2;
const BAR_M: f64 = 1.0;
const GAP_SD_M: f64 = 0.001;
const MARKERS: u32 = 8;
const DISTANCES_M: [f64; 4] = [5.0, 7.0, 8.5, 10.0];
const FIELDS_M: [f64; 3] = [2.5, 3.5, 4.5];
const SCENES: u64 = 25;

const PHONE: PictureSize = PictureSize { width: 1920, height: 1080 };
const TELEVISION: PictureSize = PictureSize { width: 768, height: 576 };

/// Errors of one scene's markers, metres.
struct Errors {
    survey: Vec<f64>,
    scale: Vec<f64>,
}

fn scene(picture: PictureSize, distance_m: f64, field_m: f64, seed: u64) -> Errors {
    let mut random = seeded(seed);
    let mut normal = |sd: f64| Normal::new(0.0, sd).unwrap().sample(&mut random);
    // So far inside that the bars' near ends are seen too.
    let gap = (field_m - 0.8) / 2.0;
    let middle = gap;
    let field = 2.0 * (field_m / 2.0 / distance_m.hypot(HEIGHT_M)).atan();
    let lens = Lens { k1: normal(0.02), ..Lens::with_field(picture, field) };
    let position = ScenePoint::new(middle, -distance_m, HEIGHT_M);
    let level = Pose::looking_at(position, ScenePoint::new(middle, 0.0, 0.0));
    // About the vertical through the markers' middle, so that they stay in the picture.
    let turn = normal(1f64.to_radians());
    let (sin, cos) = turn.sin_cos();
    let position = ScenePoint::new(middle + distance_m * sin, -distance_m * cos, HEIGHT_M);
    let about = Rotation3::from_axis_angle(&nalgebra::Vector3::z_axis(), -turn);
    let pose = Pose { camera_from_ground: level.camera_from_ground * about, position };
    let camera = Camera { lens, pose };

    let click = |x: f64, y: f64, error: (f64, f64)| {
        let at = camera.project(ScenePoint::new(x, y, 0.0)).unwrap();
        assert!(picture.holds(at), "{at:?}");
        Mark::new(FRAME, FramePoint::new(at.x + error.0, at.y + error.1), CLICK_SD_PX)
    };
    let mut error = || (normal(CLICK_SD_PX), normal(CLICK_SD_PX));
    let errors: Vec<(f64, f64)> = (0..60).map(|_| error()).collect();
    let bars: Vec<(f64, f64, f64)> = (0..3)
        .map(|bar| {
            let along = gap * f64::from(bar) + normal(GAP_SD_M / 2f64.sqrt());
            (along, normal(0.01), normal(0.3f64.to_radians()))
        })
        .collect();
    let mut errors = errors.into_iter();
    let mut ends = Vec::new();
    for (pole, (along, aside, turned)) in (1..).zip(&bars) {
        for (end, half) in [(PoleEnd::Left, BAR_M / 2.0), (PoleEnd::Right, -BAR_M / 2.0)] {
            let (x, y) = (along - half * turned.sin(), aside + half * turned.cos());
            let mark = click(x, y, errors.next().unwrap());
            ends.push(PoleEndMarks::new(pole, end, vec![mark]));
        }
    }

    let mut camera_belief = CameraPrior::usual(Motion::Fixed);
    camera_belief.height_m = Given::new(HEIGHT_M, 0.02);
    let clip = ClipNote {
        file: "markers.mp4".into(),
        size_bytes: 1,
        blake3: String::new(),
        picture,
        frame_count: 1,
        stream: None,
        capture_seconds_per_second: 1.0,
        frames: vec![MarkedFrame::new(FRAME, 0.0, 0.04)],
        other: Map::new(),
    };
    let mut file = MarksFile::new(clip, camera_belief);
    file.references.push(Reference {
        id: "bars".into(),
        kind: ReferenceKind::Poles {
            count: 3,
            spacing_m: Given::new(gap, GAP_SD_M),
            length_m: Given::new(BAR_M, GAP_SD_M),
            diameter_m: 0.0,
            ends,
            other: Map::new(),
        },
    });
    let board = 2.0 * gap + 0.25;
    let step = (board + 0.25) / f64::from(MARKERS);
    let toes: Vec<f64> = (0..MARKERS).map(|i| -0.25 + step * f64::from(i)).collect();
    for (id, x) in toes.iter().chain([&board]).enumerate() {
        let mut tie = Tie::new(id.to_string(), TiePlace::Ground);
        tie.marks = vec![click(*x, 0.0, errors.next().unwrap())];
        file.ties.push(tie);
    }
    let survey = survey(&file).unwrap_or_else(|error| panic!("{distance_m} m: {error}"));
    let place = |id: u32| survey.places[&MarkAddress::Tie { tie: id.to_string() }];

    // Two dimensions: metres per pixel along the line, from its ends over the outer bars.
    let from = click(bars[0].0, 0.0, errors.next().unwrap());
    let to = click(bars[2].0, 0.0, errors.next().unwrap());
    let scale = 2.0 * gap / from.point().distance(to.point());
    let seen = |id: u32| file.ties[id as usize].marks[0].point();
    let off = |measured: f64, toe: f64| (measured - (board - toe)).abs();
    let each = |measured: &dyn Fn(u32) -> f64| {
        toes.iter().zip(0..).map(|(toe, id)| off(measured(id), *toe)).collect::<Vec<f64>>()
    };
    Errors {
        // Square to the board, as the bars lie: how far off the line a marker seems is no part.
        survey: each(&|id| place(MARKERS).x - place(id).x),
        scale: each(&|id| scale * seen(id).distance(seen(MARKERS))),
    }
}

/// Mean absolute errors of one distance and field, centimetres.
struct Cell {
    distance_m: f64,
    field_m: f64,
    survey: f64,
    scale: f64,
}

fn cell(picture: PictureSize, distance_m: f64, field_m: f64) -> Cell {
    let scenes: Vec<Errors> =
        (0..SCENES).map(|seed| scene(picture, distance_m, field_m, seed)).collect();
    let centimetres = |of: fn(&Errors) -> &Vec<f64>| 100.0 * mean(scenes.iter().flat_map(of));
    Cell {
        distance_m,
        field_m,
        survey: centimetres(|errors| &errors.survey),
        scale: centimetres(|errors| &errors.scale),
    }
}

fn mean<'a>(of: impl Iterator<Item = &'a f64>) -> f64 {
    let all: Vec<&f64> = of.collect();
    all.iter().copied().sum::<f64>() / all.len() as f64
}

#[test]
fn markers_are_placed_as_well_as_in_two_dimensional_studies() {
    for picture in [PHONE, TELEVISION] {
        let size = format!("{} × {}", picture.width, picture.height);
        let grid: Vec<(f64, f64)> = DISTANCES_M
            .iter()
            .flat_map(|distance| FIELDS_M.iter().map(move |field| (*distance, *field)))
            .collect();
        let cells: Vec<Cell> =
            grid.par_iter().map(|(distance, field)| cell(picture, *distance, *field)).collect();
        for cell in &cells {
            println!(
                "{size}, {} m, field {} m: ours {:.2} cm, plain scale {:.2}",
                cell.distance_m, cell.field_m, cell.survey, cell.scale
            );
        }
        let compare = |what: &str, theirs: f64, belongs: &dyn Fn(&Cell) -> bool| {
            let cells = || cells.iter().filter(|cell| belongs(cell));
            let ours = mean(cells().map(|cell| &cell.survey));
            let plain = mean(cells().map(|cell| &cell.scale));
            println!("{size}, {what}: theirs {theirs} cm, ours {ours:.2}, plain scale {plain:.2}");
            // A pixel of a television picture is up to 6 mm: shown, not asked for.
            assert!(picture != PHONE || ours <= theirs, "{what}: {ours} cm");
        };
        let far = |cell: &Cell| cell.distance_m >= 7.0;
        compare("at 7 to 10 m", 0.59, &far);
        compare("at 5 m", 1.5, &|cell| !far(cell));
        for field in FIELDS_M {
            let what = format!("field of {field} m, at 7 to 10 m");
            compare(&what, 0.66, &|cell| far(cell) && cell.field_m == field);
        }
    }
}
