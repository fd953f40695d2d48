//! How long a 4K still and an approach picture take after decoding, each beside a peer in the same
//! run: the image crate's own encoding of the same still, and its resizing of the same frames.

#![expect(
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a benchmark that cannot run stops, and its figures are for the one who runs it"
)]

use std::hint::black_box;
use std::time::{Duration, Instant};

use groundline::arena::render::Renderer;
use groundline::arena::{Clicking, Scene, Truth, marks};
use groundline::draw::{
    Detail, JoinedFrame, Moment, Names, StillInput, Theme, join_frames, lay, still_overlay,
};
use groundline::quantity::LengthUnits;
use groundline::scene::PictureSize;
use groundline::stride::{Draws, measure};
use image::imageops::FilterType;

/// The best of five.
fn best(mut run: impl FnMut()) -> Duration {
    let once = |()| {
        let begun = Instant::now();
        run();
        begun.elapsed()
    };
    [(); 5].map(once).into_iter().min().unwrap_or_default()
}

fn main() {
    let mut scene = Scene::eased_then_pushed(3);
    scene.filming.picture = PictureSize { width: 3840, height: 2160 };
    scene.filming.exposure_s = 0.0;
    still(&scene);
    scene = scene.filmed_from_the_hand();
    scene.filming.picture = PictureSize { width: 1920, height: 1080 };
    scene.filming.exposure_s = 0.0;
    approach_picture(&scene);
}

fn still(scene: &Scene) {
    let truth = Truth::of(scene).expect("a scene");
    let file = marks(scene, &truth, &Clicking::usual(4));
    let (survey, measurement) = measure(&file, Draws::default()).expect("a measured scene");
    let approach = &measurement.approaches[0];
    let footfall = approach.footfalls.last().expect("a footfall");
    let decoded = Renderer::new(scene, &truth).frame(footfall.frame);
    let input = StillInput {
        picture: file.clip.picture,
        camera: &survey.cameras[&footfall.frame],
        approach,
        moment: Moment::Footfall(&footfall.footfall),
        round: &file.round,
        names: Names::Shown,
        poles: &survey.poles,
        suspects: &survey.suspects,
        raw_marks: &[],
        bodies: &[],
        units: LengthUnits::Metres,
        theme: Theme::LIGHT,
        detail: Detail::Full,
    };
    let mut picture = decoded.clone();
    let drawn = best(|| {
        picture.clone_from(&decoded);
        let svg = still_overlay(&input).expect("an overlay");
        lay(&mut picture, &svg).expect("our own drawing");
        black_box(&picture);
    });
    let written = best(|| {
        let mut bytes = Vec::new();
        let mut encoder = jpeg_encoder::Encoder::new(&mut bytes, 92);
        encoder.set_sampling_factor(jpeg_encoder::SamplingFactor::F_1_1);
        let (width, height) = (picture.width() as u16, picture.height() as u16);
        encoder
            .encode(picture.as_raw(), width, height, jpeg_encoder::ColorType::Rgb)
            .expect("a JPEG");
        black_box(bytes);
    });
    let encoded = best(|| {
        let mut bytes = Vec::new();
        image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, 92)
            .encode_image(&picture)
            .expect("a JPEG");
        black_box(bytes);
    });
    println!(
        "4K still: overlay {:.0} ms and JPEG {:.0} ms; together {:.2} of the image crate's JPEG alone",
        drawn.as_secs_f64() * 1e3,
        written.as_secs_f64() * 1e3,
        (drawn + written).as_secs_f64() / encoded.as_secs_f64()
    );
}

fn approach_picture(scene: &Scene) {
    let truth = Truth::of(scene).expect("a scene");
    let file = marks(scene, &truth, &Clicking::usual(4));
    let (survey, measurement) = measure(&file, Draws::default()).expect("a measured scene");
    let approach = &measurement.approaches[0];
    let renderer = Renderer::new(scene, &truth);
    let frames: Vec<JoinedFrame> = approach
        .footfalls
        .iter()
        .map(|footfall| JoinedFrame {
            picture: renderer.frame(footfall.frame),
            camera: survey.cameras[&footfall.frame],
            footfall: footfall.footfall.clone(),
        })
        .collect();
    let joined = best(|| {
        black_box(join_frames(approach, &frames, 3000).expect("frames that join"));
    });
    let resized = best(|| {
        for frame in &frames {
            let size = (1500, 844);
            black_box(image::imageops::resize(
                &frame.picture,
                size.0,
                size.1,
                FilterType::Triangle,
            ));
        }
    });
    println!(
        "approach picture of {} frames: {:.2} s, {:.1} times as long as resizing them all once",
        frames.len(),
        joined.as_secs_f64(),
        joined.as_secs_f64() / resized.as_secs_f64()
    );
}
