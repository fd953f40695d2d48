//! A few small pictures kept in `fixtures/golden`, so that a change of look is seen when it is not
//! meant. To take them anew: `GROUNDLINE_GOLDEN=write cargo test golden`, which writes them and
//! fails; look at them, then run the tests again.

use std::path::Path;

use groundline::arena::render::Renderer;
use groundline::arena::{Clicking, Scene, Truth, marks};
use groundline::draw::{
    Detail, Moment, Names, PlanInput, StillInput, StrideChartsInput, Theme, lay, plan, raster,
    still_overlay, stride_charts,
};
use groundline::marks::MarksFile;
use groundline::quantity::{LengthUnits, Metres, Unit};
use groundline::scene::PictureSize;
use groundline::stride::{Draws, Measurement, measure};
use groundline::survey::Survey;
use image::{DynamicImage, RgbImage, Rgba, RgbaImage};

/// Mean difference of a channel, grey levels: rounding of another machine's floating point moves
/// an edge by a part of a pixel.
const MOST_MEAN: f64 = 0.6;
/// Share of pixels that may differ by more than [`CLEARLY`].
const MOST_CLEARLY: f64 = 0.002;
const CLEARLY: u8 = 48;

fn scene() -> (Scene, Truth, MarksFile, Survey, Measurement) {
    let mut scene = Scene::eased_then_pushed(3);
    scene.filming.picture = PictureSize { width: 640, height: 360 };
    scene.filming.exposure_s = 0.0;
    let truth = Truth::of(&scene).unwrap();
    let file = marks(&scene, &truth, &Clicking::usual(4));
    let (survey, measurement) = measure(&file, Draws::default()).unwrap();
    (scene, truth, file, survey, measurement)
}

fn on_white(drawn: RgbaImage) -> RgbImage {
    let mut white = RgbaImage::from_pixel(drawn.width(), drawn.height(), Rgba([255; 4]));
    image::imageops::overlay(&mut white, &drawn, 0, 0);
    DynamicImage::ImageRgba8(white).into_rgb8()
}

/// Holds `picture` beside the one that is kept.
fn hold(name: &str, picture: &RgbImage) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/golden").join(name);
    if std::env::var("GROUNDLINE_GOLDEN").is_ok_and(|wanted| wanted == "write") {
        picture.save(&path).unwrap();
        panic!(
            "{} is written: look at it, then run the tests without GROUNDLINE_GOLDEN",
            path.display()
        );
    }
    let kept = image::open(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display())).into_rgb8();
    assert_eq!(kept.dimensions(), picture.dimensions(), "{name}");
    let differences = kept.as_raw().iter().zip(picture.as_raw()).map(|(a, b)| a.abs_diff(*b));
    let count = kept.as_raw().len() as f64;
    let mean = differences.clone().map(f64::from).sum::<f64>() / count;
    let clearly = differences.filter(|d| *d > CLEARLY).count() as f64 / count;
    if mean > MOST_MEAN || clearly > MOST_CLEARLY {
        let now = std::env::temp_dir().join(format!("groundline-golden-{name}"));
        picture.save(&now).unwrap();
        panic!(
            "{name} looks otherwise: {mean:.2} grey levels in the mean, {:.2} % clearly; now: {}",
            100.0 * clearly,
            now.display()
        );
    }
}

#[test]
fn golden_still() {
    let (scene, truth, file, survey, measurement) = scene();
    let approach = &measurement.approaches[0];
    let now = approach.take_off.as_ref().unwrap().footfall.clone();
    let footfall = approach.footfalls.iter().find(|f| f.footfall == now).unwrap();
    let mut picture = Renderer::new(&scene, &truth).frame(footfall.frame);
    let svg = still_overlay(&StillInput {
        picture: file.clip.picture,
        camera: &survey.cameras[&footfall.frame],
        approach,
        moment: Moment::Footfall(&now),
        round: &file.round,
        names: Names::Shown,
        poles: &survey.poles,
        suspects: &survey.suspects,
        raw_marks: &[],
        bodies: &[],
        units: LengthUnits::Feet,
        theme: Theme::LIGHT,
        detail: Detail::Full,
    })
    .unwrap();
    lay(&mut picture, &svg).unwrap();
    hold("still.png", &picture);
}

#[test]
fn golden_plan() {
    let (.., survey, measurement) = scene();
    let drawing = plan(&PlanInput {
        approach: &measurement.approaches[0],
        poles: &survey.poles,
        suspects: &survey.suspects,
        units: LengthUnits::Metres,
        theme: Theme::LIGHT,
        width: 640.0,
        max_height: 240.0,
        text: 9.0,
    });
    hold("plan.png", &on_white(raster(&drawing.svg, 1.5).unwrap()));
}

#[test]
fn golden_charts() {
    let (.., survey, measurement) = scene();
    let half = Metres::new(0.2);
    let drawing = stride_charts(&StrideChartsInput {
        approach: &measurement.approaches[0],
        suspects: &survey.suspects,
        tolerance: Some(groundline::draw::Tolerance { middle: None, half }),
        brackets: &[],
        units: LengthUnits::Metres,
        theme: Theme::DARK,
        width: 560.0,
        text: 9.0,
    });
    let mut drawn = raster(&drawing.svg, 1.5).unwrap();
    let paper = Theme::DARK.paper;
    let below = Rgba([paper.red, paper.green, paper.blue, 255]);
    let mut dark = RgbaImage::from_pixel(drawn.width(), drawn.height(), below);
    image::imageops::overlay(&mut dark, &drawn, 0, 0);
    std::mem::swap(&mut dark, &mut drawn);
    hold("charts-dark.png", &DynamicImage::ImageRgba8(drawn).into_rgb8());
}
