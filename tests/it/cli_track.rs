//! `track`: what it says, what it keeps, what it refuses.

use groundline::footage::write::{ClipWriter, WriteOptions};
use groundline::quantity::seeded;
use image::{DynamicImage, GrayImage, Luma, RgbImage, imageops};
use rand::Rng;
use serde_json::Value;

use crate::program::{Said, groundline};
use crate::sample::Stable;
use crate::support::quick;

const SIZE: (u32, u32) = (480, 270);

/// A wall of blotches, wide enough to pan along.
fn wall() -> RgbImage {
    let mut random = seeded(5);
    let noise = GrayImage::from_fn(900, SIZE.1, |_, _| Luma([(random.next_u32() % 256) as u8]));
    let soft = imageops::blur(&noise, 2.5);
    // Blurring takes the contrast away: it is given back.
    DynamicImage::ImageLuma8(imageops::contrast(&soft, 90.0)).into_rgb8()
}

/// A folder with a clip that shows the wall from `left(frame)` on.
fn stable_with_pan(frames: u32, left: impl Fn(u32) -> u32) -> Stable {
    let stable = Stable::new();
    std::fs::remove_file(stable.marks()).unwrap();
    let wall = wall();
    let options = quick(WriteOptions { crf: 10, ..WriteOptions::default() });
    let mut writer =
        ClipWriter::at_rate(&stable.path("lesson.mp4"), SIZE, (25, 1), &options).unwrap();
    for frame in 0..frames {
        let picture = imageops::crop_imm(&wall, left(frame), 0, SIZE.0, SIZE.1).to_image();
        writer.write(&picture).unwrap();
    }
    writer.finish().unwrap();
    stable
}

fn track(stable: &Stable, words: &str) -> Said {
    let mut program = groundline();
    program.arg("track").arg(stable.path("lesson.mp4")).args(words.split_whitespace());
    Said::of(program.output().unwrap(), stable)
}

#[test]
fn a_pan_is_followed_once_and_kept_beside_the_marks() {
    let stable = stable_with_pan(24, |frame| 8 * frame);
    let said = track(&stable, "");
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""), "{}", said.out);
    let lines: Vec<&str> = said.out.lines().collect();
    assert!(lines[0].starts_with("followed `lesson.mp4`: 24 of 24 frames, "), "{}", said.out);
    assert!(lines[1].starts_with("camera     ") && lines[2].starts_with("lens"), "{}", said.out);
    assert!(said.out.contains("frames 0–23      held well"), "{}", said.out);
    assert!(
        said.out
            .ends_with("kept in `lesson.motion`: what measures the marks of this clip uses it\n")
    );
    let kept = std::fs::read(stable.path("lesson.motion")).unwrap();

    let again = track(&stable, "");
    assert!(again.out.contains("was followed before: 24 of 24 frames"), "{}", again.out);
    assert_eq!(std::fs::read(stable.path("lesson.motion")).unwrap(), kept);

    // Said to have stood still, it did not.
    let claimed = track(&stable, "--motion fixed");
    assert!(claimed.out.contains("doubt: the camera was said to be fixed"), "{}", claimed.out);
    let json: Value = serde_json::from_str(&track(&stable, "--motion fixed --json").out).unwrap();
    assert_eq!(json["doubts"][0]["doubt"]["kind"], "camera_moved");
    assert_eq!(json["stretches"][0]["held"], "well");
    // 23 steps of 8 pixels.
    let moved_px = json["moved_px"].as_f64().unwrap();
    assert!((moved_px - 184.0).abs() < 12.0, "{moved_px}");

    // Followed anew, the same clip gives the same motion.
    assert!(track(&stable, "--anew").out.starts_with("followed `lesson.mp4`"));
    assert_eq!(std::fs::read(stable.path("lesson.motion")).unwrap(), kept);
}

#[test]
fn a_camera_on_a_stand_is_told_to_have_stood() {
    let stable = stable_with_pan(16, |_| 60);
    let said = track(&stable, "--motion fixed");
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""), "{}", said.out);
    assert!(said.out.contains("camera     fixed\n"), "{}", said.out);
    assert!(!said.out.contains("doubt"), "{}", said.out);
}

#[test]
fn a_clip_that_shows_nothing_is_refused_and_nothing_is_kept() {
    let stable = Stable::new();
    let options = quick(WriteOptions::default());
    let mut writer =
        ClipWriter::at_rate(&stable.path("lesson.mp4"), SIZE, (25, 1), &options).unwrap();
    for _ in 0..6 {
        writer.write(&RgbImage::new(SIZE.0, SIZE.1)).unwrap();
    }
    writer.finish().unwrap();
    track(&stable, "").refused(
        1,
        "error: cannot follow the camera: 0 key frames share points of the background (2 needed)\n\
         hint: place ties by hand: the same fixed thing in each marked frame",
    );
    assert!(!stable.path("lesson.motion").exists());
}
