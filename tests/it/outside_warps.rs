//! The textbook homography and the lens's undistortion against OpenCV, scikit-image and NumPy, run
//! live (`tests/outside/warps.py`), on random points.
//!
//! The program warps no picture yet; what is compared is where a warp would take points. "Exact"
//! is 1e-9; OpenCV's homography rounds its points to single precision, so that it is exact for
//! points that have no more digits.

use groundline::quantity::seeded;
use groundline::scene::{
    Camera, FramePoint, GroundHomography, GroundPoint, Lens, PictureSize, Pose, ScenePoint,
};
use rand::RngExt;
use rand_distr::{Distribution, Normal};
use serde_json::{Value, json};

use crate::reference_python::{ask_python, numbers};

/// Point pairs of a random camera, and points of its picture to map.
struct Case {
    lens: Lens,
    pairs: Vec<(FramePoint, GroundPoint)>,
    probes: Vec<FramePoint>,
}

/// `count` points, each off by a draw of `sd_px`.
fn case(seed: u64, count: usize, sd_px: f64) -> Case {
    let mut random = seeded(seed);
    let normal = Normal::new(0.0, sd_px).unwrap();
    let size = PictureSize { width: 1920, height: 1080 };
    let lens = Lens {
        k1: random.random_range(-0.08..0.08),
        ..Lens::with_field(size, random.random_range(0.6..1.3))
    };
    let place = ScenePoint::new(
        random.random_range(-5.0..5.0),
        random.random_range(-18.0..-9.0),
        random.random_range(1.2..6.0),
    );
    let pose = Pose::looking_at(place, ScenePoint::new(0.0, 0.0, 0.0));
    let straight = Camera { lens: Lens { k1: 0.0, ..lens }, pose };
    let mut ground =
        || GroundPoint::new(random.random_range(-4.0..4.0), random.random_range(-3.0..3.0));
    let places: Vec<GroundPoint> = (0..count).map(|_| ground()).collect();
    let probes: Vec<GroundPoint> = (0..12).map(|_| ground()).collect();
    let seen = |place: &GroundPoint| straight.project(place.at_height(0.0)).unwrap();
    let pairs = places.iter().map(|place| {
        let at = seen(place);
        let off = (normal.sample(&mut random), normal.sample(&mut random));
        (FramePoint::new(at.x + off.0, at.y + off.1), *place)
    });
    Case { lens, pairs: pairs.collect(), probes: probes.iter().map(seen).collect() }
}

fn ask(case: &Case) -> Option<Value> {
    let pixel = |at: &FramePoint| [at.x, at.y];
    ask_python(
        "warps.py",
        &json!({
            "pixels": case.pairs.iter().map(|pair| pixel(&pair.0)).collect::<Vec<_>>(),
            "ground": case.pairs.iter().map(|pair| [pair.1.x, pair.1.y]).collect::<Vec<_>>(),
            "probes": case.probes.iter().map(pixel).collect::<Vec<_>>(),
            "lens": {
                "focal": case.lens.focal_px,
                "centre": [case.lens.centre.x, case.lens.centre.y],
                "k1": case.lens.k1,
            },
        }),
    )
}

/// Largest distance between our points and theirs.
fn apart<'a>(ours: impl Iterator<Item = (f64, f64)> + 'a, theirs: &Value) -> f64 {
    let theirs = theirs.as_array().unwrap();
    ours.zip(theirs).fold(0.0, |worst: f64, (ours, theirs)| {
        let theirs = numbers(theirs);
        worst.max((ours.0 - theirs[0]).hypot(ours.1 - theirs[1]))
    })
}

fn on_ground(map: GroundHomography, case: &Case) -> impl Iterator<Item = (f64, f64)> + '_ {
    case.probes.iter().map(move |probe| {
        let at = map.ground_from_frame(*probe);
        (at.x, at.y)
    })
}

#[test]
fn homographies_of_exact_points_agree() {
    for (seed, count) in [(1, 4), (2, 5), (3, 8), (4, 20), (5, 60), (6, 4)] {
        let mut case = case(seed, count, 0.0);
        if count == 4 {
            // Any four pairs are exact: these have no more digits than OpenCV keeps.
            let rounded = |value: f64| (value * 1024.0).round() / 1024.0;
            for (pixel, place) in &mut case.pairs {
                *pixel = FramePoint::new(rounded(pixel.x), rounded(pixel.y));
                *place = GroundPoint::new(rounded(place.x), rounded(place.y));
            }
        }
        let Some(theirs) = ask(&case) else { return };
        let map = GroundHomography::fit(&case.pairs).unwrap();
        let [opencv, skimage, numpy] = ["opencv", "skimage", "numpy"]
            .map(|library| apart(on_ground(map, &case), &theirs[library]));
        // Their places on the ground, by our map back into the picture, against their way back.
        let back = theirs["opencv"].as_array().unwrap().iter().map(|place| {
            let place = numbers(place);
            let at = map.frame_from_ground(GroundPoint::new(place[0], place[1]));
            (at.x, at.y)
        });
        let back = apart(back, &theirs["back"]);
        println!(
            "{count} exact points: OpenCV {opencv:.1e} m, scikit-image {skimage:.1e} m, NumPy \
             {numpy:.1e} m; back {back:.1e} px"
        );
        assert!(skimage.max(numpy) <= 1e-9, "{skimage} {numpy}");
        // OpenCV rounds its points to single precision, here 6e-5 px; far off, a pixel is some
        // decimetres of ground.
        let single = if count == 4 { 1e-9 } else { 1e-4 };
        assert!(opencv <= single, "{opencv}");
        // A pixel is some millimetres.
        assert!(back <= 1e-6, "{back}");
    }
}

/// Clicks of 1 px: the same least squares as NumPy's; scikit-image weighs a little otherwise, and
/// OpenCV minimises something else, so these only agree to a part of what the clicks are worth.
#[test]
fn homographies_of_clicked_points_agree() {
    for (seed, count) in [(11, 5), (12, 8), (13, 20), (14, 60)] {
        let case = case(seed, count, 1.0);
        let Some(theirs) = ask(&case) else { return };
        let map = GroundHomography::fit(&case.pairs).unwrap();
        let [opencv, skimage, numpy] = ["opencv", "skimage", "numpy"]
            .map(|library| apart(on_ground(map, &case), &theirs[library]));
        // How far the clicks themselves move what is mapped.
        let exact = GroundHomography::fit(&self::case(seed, count, 0.0).pairs).unwrap();
        let clicks = on_ground(map, &case).zip(on_ground(exact, &case));
        let clicks = clicks.fold(0.0, |worst: f64, (a, b)| worst.max((a.0 - b.0).hypot(a.1 - b.1)));
        println!(
            "{count} clicked points: NumPy {numpy:.1e} m, scikit-image {:.2} mm, OpenCV {:.2} mm, \
             of {:.1} mm that the clicks do",
            1000.0 * skimage,
            1000.0 * opencv,
            1000.0 * clicks
        );
        assert!(numpy <= 1e-9, "{numpy}");
        assert!(skimage < clicks && opencv < clicks, "{skimage} {opencv} of {clicks}");
    }
}

#[test]
fn undistorted_points_agree_with_opencv() {
    for seed in 21..26 {
        let case = case(seed, 4, 0.0);
        let Some(theirs) = ask(&case) else { return };
        let ours = case.probes.iter().map(|probe| {
            let ideal = case.lens.ideal_from_frame(*probe);
            (ideal.x, ideal.y)
        });
        let worst = apart(ours, &theirs["ideal"]);
        println!("k1 {:.3}: undistorted points within {worst:.1e} focal lengths", case.lens.k1);
        assert!(worst <= 1e-9, "{worst}");
    }
}
