//! What several suites need: the shared footage, made clips, comparing pictures.

use std::path::{Path, PathBuf};

use groundline::footage::write::{ClipWriter, Preset, WriteOptions};
use groundline::footage::{Clip, FootageError, OpenOptions, Reader};
use groundline::quantity::time::FrameNumber;
use image::{GrayImage, Rgb, RgbImage};

/// A file of the shared folder. Absent, the test says so and returns; on CI that is a failure.
pub fn shared(path: &str) -> Option<PathBuf> {
    let root = std::env::var_os("GROUNDLINE_SHARED")
        .map_or_else(|| Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared"), PathBuf::from);
    let found = root.join(path);
    if found.exists() {
        return Some(found);
    }
    skip("../shared/footage is not here");
    None
}

/// An awkward clip.
pub fn awkward(name: &str) -> Option<PathBuf> {
    shared(&format!("footage/awkward/{name}"))
}

/// Says that a test was left out, which CI must not do.
pub fn skip(reason: &str) {
    println!("skipped: {reason}");
    assert!(!on_ci(), "CI must run every test: {reason}");
}

fn on_ci() -> bool {
    std::env::var("CI").is_ok_and(|value| value == "true")
}

pub fn open(path: &Path) -> Clip {
    Clip::open(path, &OpenOptions::default()).unwrap_or_else(|error| panic!("{error}"))
}

pub fn refusal(path: &Path) -> FootageError {
    match Clip::open(path, &OpenOptions::default()) {
        Ok(_) => panic!("{} opens, and should not", path.display()),
        Err(error) => error,
    }
}

pub fn reader(clip: &Clip) -> Reader {
    clip.reader().unwrap_or_else(|error| panic!("{error}"))
}

pub fn luma(reader: &mut Reader, number: u32) -> GrayImage {
    reader.luma(FrameNumber(number)).unwrap_or_else(|error| panic!("{error}"))
}

pub fn rgb(reader: &mut Reader, number: u32) -> RgbImage {
    reader.frame(FrameNumber(number)).unwrap_or_else(|error| panic!("{error}")).picture
}

/// One number for a picture; equal pictures have equal numbers.
pub fn fingerprint(bytes: &[u8]) -> String {
    blake3::hash(bytes).to_hex().to_string()
}

pub fn mean_difference(a: &[u8], b: &[u8]) -> f64 {
    assert_eq!(a.len(), b.len());
    let sum: u64 = a.iter().zip(b).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
    sum as f64 / a.len() as f64
}

/// Numbers that look random and are the same in every run.
pub struct Dice(pub u64);

impl Dice {
    pub fn roll(&mut self, below: u32) -> u32 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as u32) % below.max(1)
    }
}

/// A textured scene that moves, with the frame's number in its brightness.
pub fn scene((width, height): (u32, u32), frame: u32) -> RgbImage {
    RgbImage::from_fn(width, height, |x, y| {
        let (u, v) = (x + 3 * frame, y + frame);
        let noise = (u.wrapping_mul(2_654_435_761) ^ v.wrapping_mul(40_503))
            .wrapping_mul(2_246_822_519)
            >> 28;
        let wave = ((f64::from(u) / 17.0).sin() + (f64::from(v) / 11.0).cos()) * 45.0
            + 100.0
            + f64::from(frame % 50);
        let value = wave as u32 + noise;
        Rgb([value as u8, (value * 8 / 10) as u8, (value * 5 / 10 + y / 4) as u8])
    })
}

pub fn quick(options: WriteOptions) -> WriteOptions {
    WriteOptions { preset: Preset::Veryfast, ..options }
}

/// Writes a made clip of the moving scene.
pub fn made(path: &Path, size: (u32, u32), frames: u32, options: &WriteOptions) {
    let mut writer =
        ClipWriter::at_rate(path, size, (30, 1), options).unwrap_or_else(|error| panic!("{error}"));
    for frame in 0..frames {
        writer.write(&scene(size, frame)).unwrap_or_else(|error| panic!("{error}"));
    }
    writer.finish().unwrap_or_else(|error| panic!("{error}"));
}

pub fn folder() -> tempfile::TempDir {
    tempfile::tempdir().expect("a folder for the test")
}
