//! The approach picture of rendered clips: nothing of a horse is cut off, brightness is matched,
//! and frames that do not join are refused.

use groundline::arena::render::Renderer;
use groundline::arena::{Clicking, Scene, Truth, marks};
use groundline::draw::{ApproachPicture, JoinedFrame, NoApproachPicture, join_frames};
use groundline::quantity::FrameNumber;
use groundline::scene::{Camera, FramePoint, PictureSize, Projection, ScenePoint};
use groundline::stride::{ApproachMeasurement, Draws, measure};
use image::{Rgb, RgbImage};
use nalgebra::{Rotation3, Vector3};
use rayon::prelude::*;

/// A scene filmed small, its approach as measured and the frames of its footfalls.
struct Filmed {
    renderer: Renderer,
    truth: Truth,
    approach: ApproachMeasurement,
    frames: Vec<JoinedFrame>,
}

fn filmed(mut scene: Scene, size: (u32, u32)) -> Filmed {
    scene.filming.picture = PictureSize { width: size.0, height: size.1 };
    scene.filming.exposure_s = 0.0;
    let truth = Truth::of(&scene).unwrap();
    let clicking =
        Clicking { pole_sd_px: 0.3, hoof_sd_px: 0.5, tie_sd_px: 0.3, ..Clicking::usual(5) };
    let file = marks(&scene, &truth, &clicking);
    let (survey, measurement) = measure(&file, Draws::default()).unwrap();
    let approach = measurement.approaches.into_iter().next().unwrap();
    let renderer = Renderer::new(&scene, &truth);
    let seen: Vec<_> = approach
        .footfalls
        .iter()
        .filter_map(|footfall| Some((footfall, *survey.cameras.get(&footfall.frame)?)))
        .collect();
    let frames = seen
        .par_iter()
        .map(|(footfall, camera)| JoinedFrame {
            picture: renderer.frame(footfall.frame),
            camera: *camera,
            footfall: footfall.footfall.clone(),
        })
        .collect();
    Filmed { renderer, truth, approach, frames }
}

fn level() -> Scene {
    let mut scene = Scene::level(21);
    scene.filming.frames_per_s = 30.0;
    scene
}

fn difference(a: &Rgb<u8>, b: &Rgb<u8>) -> u8 {
    a.0.iter().zip(b.0).map(|(a, b)| a.abs_diff(b)).max().unwrap()
}

/// The median of many frames of a camera that stands still: the scene without its horse, found
/// without any of what joins the picture.
fn without_horse(filmed: &Filmed) -> RgbImage {
    let count = filmed.truth.frames.len() as u32;
    let numbers: Vec<u32> = (0..count).step_by((count / 40) as usize).collect();
    let frames: Vec<RgbImage> =
        numbers.par_iter().map(|n| filmed.renderer.frame(FrameNumber(*n))).collect();
    let (width, height) = frames[0].dimensions();
    RgbImage::from_fn(width, height, |x, y| {
        Rgb(std::array::from_fn(|channel| {
            let mut all: Vec<u8> =
                frames.iter().map(|frame| frame.get_pixel(x, y).0[channel]).collect();
            all.sort_unstable();
            all[all.len() / 2]
        }))
    })
}

/// Where a pixel of a frame lies on the joined picture.
fn on_picture(joined: &ApproachPicture, camera: &Camera, x: u32, y: u32) -> Option<(u32, u32)> {
    let ray = camera.ray(FramePoint::new(f64::from(x) + 0.5, f64::from(y) + 0.5));
    let point = ScenePoint::from(camera.pose.position.vector() + 20.0 * ray);
    let at = joined.seen_from.project(point).ok()?;
    joined.seen_from.size.holds(at).then_some((at.x as u32, at.y as u32))
}

#[test]
fn every_stride_shows_a_whole_horse() {
    let filmed = filmed(level(), (960, 540));
    let joined = join_frames(&filmed.approach, &filmed.frames, 3000).unwrap();
    // Strides begin and end with a contact, and the horse lands once.
    assert_eq!(joined.horses.len(), filmed.approach.strides.len() + 2);
    assert!(joined.apart_px < 1.0, "{}", joined.apart_px);
    let empty = without_horse(&filmed);
    for (index, shown) in joined.horses.iter().enumerate() {
        let frame = filmed.frames.iter().find(|frame| frame.footfall == *shown).unwrap();
        let later: Vec<&JoinedFrame> = joined.horses[index + 1..]
            .iter()
            .filter_map(|id| filmed.frames.iter().find(|frame| frame.footfall == *id))
            .collect();
        let (mut horse, mut whole) = (0, 0);
        for (x, y, pixel) in frame.picture.enumerate_pixels() {
            // Clearly horse or rider, and no later horse before it.
            let hidden = |frame: &&JoinedFrame| {
                difference(frame.picture.get_pixel(x, y), empty.get_pixel(x, y)) > 25
            };
            if difference(pixel, empty.get_pixel(x, y)) < 60 || later.iter().any(hidden) {
                continue;
            }
            horse += 1;
            let Some(at) = on_picture(&joined, &frame.camera, x, y) else { continue };
            // Pixels at an outline lie between two: the nearest neighbours count.
            let near = (-2..=2).flat_map(|dy| (-2..=2).map(move |dx| (dx, dy))).any(|(dx, dy)| {
                let (x, y) = (at.0 as i32 + dx, at.1 as i32 + dy);
                let found = joined.picture.get_pixel_checked(x.max(0) as u32, y.max(0) as u32);
                found.is_some_and(|found| difference(found, pixel) < 40)
            });
            whole += u32::from(near);
        }
        assert!(horse > 300, "{shown}: {horse} pixels of horse");
        let share = f64::from(whole) / f64::from(horse);
        assert!(share > 0.99, "{shown}: {:.1} % of the horse is there", 100.0 * share);
    }
}

#[test]
fn a_turned_camera_joins_and_its_exposures_are_matched() {
    let filmed = filmed(level().filmed_from_the_hand(), (640, 360));
    let plain = join_frames(&filmed.approach, &filmed.frames, 2000).unwrap();
    assert!(plain.apart_px < 2.0, "{}", plain.apart_px);
    assert!(plain.seen_from.size.width > 2 * plain.seen_from.size.height);
    // However large it is drawn, the same horses are on it.
    assert_eq!(plain.horses.len() + plain.left_out.len(), filmed.approach.strides.len() + 2);
    for width in [900, 1400] {
        let other = join_frames(&filmed.approach, &filmed.frames, width).unwrap();
        assert_eq!(other.horses, plain.horses, "{width} pixels wide");
    }
    let mut uneven = filmed.frames.clone();
    for (index, frame) in uneven.iter_mut().enumerate() {
        let gain = if index % 2 == 0 { 0.85 } else { 1.0 };
        for pixel in frame.picture.pixels_mut() {
            pixel.0 = pixel.0.map(|channel| (f64::from(channel) * gain).round() as u8);
        }
    }
    let matched = join_frames(&filmed.approach, &uneven, 2000).unwrap();
    assert_eq!(matched.horses, plain.horses);
    // The whole is darker by one factor; what is left after it is a seam.
    let grey = |picture: &RgbImage| -> Vec<f64> {
        picture.pixels().map(|p| p.0.iter().map(|c| f64::from(*c)).sum::<f64>() / 3.0).collect()
    };
    let (width, height) = plain.picture.dimensions();
    let cut = |picture: &RgbImage| {
        image::imageops::crop_imm(picture, 8, 8, width - 16, height - 16).to_image()
    };
    let (a, b) = (grey(&cut(&plain.picture)), grey(&cut(&matched.picture)));
    let factor = b.iter().sum::<f64>() / a.iter().sum::<f64>();
    let off: f64 =
        a.iter().zip(&b).map(|(a, b)| (a * factor - b).abs()).sum::<f64>() / a.len() as f64;
    assert!((0.8..=1.02).contains(&factor), "{factor}");
    assert!(off < 2.5, "{off:.2} grey levels");
}

#[test]
fn frames_that_do_not_join_are_refused_with_a_reason() {
    let filmed = filmed(level().filmed_from_the_hand(), (480, 270));
    let mut turned = filmed.frames.clone();
    for (index, frame) in turned.iter_mut().enumerate() {
        let roll = if index % 2 == 0 { 0.08 } else { -0.08 };
        let leant = Rotation3::new(Vector3::new(0.0, 0.0, roll));
        frame.camera.pose.camera_from_ground = leant * frame.camera.pose.camera_from_ground;
    }
    let refused = join_frames(&filmed.approach, &turned, 2000).unwrap_err();
    assert!(matches!(refused, NoApproachPicture::DoNotJoin { .. }), "{refused}");
    let refused = join_frames(&filmed.approach, &filmed.frames[..2], 2000).unwrap_err();
    assert_eq!(refused, NoApproachPicture::TooFewFrames { found: 2, needed: 3 });
}
