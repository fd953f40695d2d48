//! How fast a reel is made, beside the `ffmpeg` command that decodes the same frames of the same
//! clip, lays one picture over all of them and encodes with the same x264 settings.
//!
//! Ours also surveys the marks, draws every overlay and sees to times and order. Both are run as
//! programs, one after the other in alternating order, so that a busy machine slows both; the
//! shortest run of each counts. The bar: pictures a second at 0.5 of the command's or more, for a
//! camera that stood still and for one that turned, whose overlay is new on every frame.
//! Run: `cargo bench --profile dev --bench reel [-- --repetitions 3]`. Needs the `ffmpeg` command.

#![expect(
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a benchmark that cannot run stops, and its figures are for the one who runs it"
)]

use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode, Stdio};
use std::time::Instant;

use groundline::arena::{Clicking, Scene, Truth, marks};
use groundline::footage::write::{ClipWriter, Preset, WriteOptions};
use groundline::footage::{Clip, OpenOptions};
use groundline::store::{hash_of_file, save};
use image::{Rgb, RgbImage, Rgba, RgbaImage};

const BAR: f64 = 0.5;
const SIZE: (u32, u32) = (1920, 1080);

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().collect();
    let repetitions = arguments
        .iter()
        .position(|argument| argument == "--repetitions")
        .and_then(|place| arguments.get(place + 1))
        .and_then(|count| count.parse().ok())
        .unwrap_or(3);
    let folder = tempfile::tempdir().expect("a folder for generated clips");
    let still = Scene::eased_then_pushed(11);
    let turned = Scene::eased_then_pushed(11).filmed_from_the_hand();
    println!("camera        pictures  ffmpeg fps  reel fps  ratio  of it measuring, s");
    let mut ratios = Vec::new();
    for (name, scene) in [("stood still", still), ("turned", turned)] {
        let marks = filmed(&scene, &folder.path().join(name.replace(' ', "-")));
        ratios.push(compare(name, &marks, repetitions));
    }
    let least = ratios.into_iter().fold(f64::INFINITY, f64::min);
    println!("least ratio {least:.2} (bar {BAR})");
    if least >= BAR { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn compare(name: &str, marks: &Path, repetitions: usize) -> f64 {
    let reel = marks.with_file_name("reel.mp4");
    let peer = marks.with_file_name("peer.mp4");
    let (mut ours_s, mut command_s) = (f64::MAX, f64::MAX);
    let mut pictures = 0;
    for repetition in 0..repetitions {
        let order = if repetition % 2 == 0 { [0, 1] } else { [1, 0] };
        for which in order {
            if which == 0 {
                ours_s = ours_s.min(timed(|| groundline(&["reel"], marks, Some(&reel))));
                pictures = count(&reel);
            } else {
                command_s = command_s.min(timed(|| command(marks, &peer)));
            }
        }
    }
    let measuring = timed(|| groundline(&["measure"], marks, None));
    let ours = f64::from(pictures) / ours_s;
    let command = f64::from(count(&peer)) / command_s;
    println!(
        "{name:<12} {pictures:>9} {command:>11.1} {ours:>9.1} {:>6.2} {measuring:>8.2}",
        ours / command
    );
    ours / command
}

fn timed(work: impl FnOnce()) -> f64 {
    let started = Instant::now();
    work();
    started.elapsed().as_secs_f64()
}

fn count(clip: &Path) -> u32 {
    let options = OpenOptions { without_hash: true, ..OpenOptions::default() };
    Clip::open(clip, &options).unwrap_or_else(|error| panic!("{error}")).frame_count()
}

fn groundline(words: &[&str], marks: &Path, output: Option<&Path>) {
    let mut program = Command::new(env!("CARGO_BIN_EXE_groundline"));
    program.args(words).arg(marks).stdout(Stdio::null()).stderr(Stdio::null());
    if let Some(output) = output {
        program.arg("-o").arg(output);
    }
    assert!(program.status().expect("the program runs").success());
}

/// The whole clip but its first frames, with one picture over it, at the reel's settings.
fn command(marks: &Path, output: &Path) {
    let status = Command::new("ffmpeg")
        .args(["-v", "quiet", "-nostdin", "-y", "-i"])
        .arg(marks.with_file_name("clip.mp4"))
        .arg("-i")
        .arg(marks.with_file_name("overlay.png"))
        .args(["-filter_complex", "[0:v][1:v]overlay", "-fps_mode", "passthrough"])
        .args(["-c:v", "libx264", "-preset", "medium", "-crf", "20", "-pix_fmt", "yuv420p"])
        .args(["-x264-params", "open-gop=0", "-movflags", "+faststart"])
        .arg(output)
        .stdout(Stdio::null())
        .status();
    assert!(status.expect("the ffmpeg command runs").success());
}

/// A clip with texture and motion as long as the scene, its marks, and a picture to lay over it.
fn filmed(scene: &Scene, folder: &Path) -> PathBuf {
    std::fs::create_dir(folder).expect("a folder");
    let truth = Truth::of(scene).unwrap_or_else(|error| panic!("{error}"));
    let clip = folder.join("clip.mp4");
    let frames = truth.frames.len() as u32;
    let (width, height) = SIZE;
    let texture = RgbImage::from_fn(width + 2 * frames, height, |x, y| {
        let noise = (x.wrapping_mul(2_654_435_761) ^ y.wrapping_mul(40_503))
            .wrapping_mul(2_246_822_519)
            >> 27;
        let wave = ((f64::from(x) / 37.0).sin() + (f64::from(y) / 23.0).cos()) * 50.0 + 110.0;
        let value = wave as u32 + noise;
        Rgb([value as u8, (value * 9 / 10) as u8, (value * 7 / 10 + y / 20) as u8])
    });
    let options = WriteOptions { preset: Preset::Veryfast, ..WriteOptions::default() };
    let mut writer = ClipWriter::at_rate(&clip, SIZE, (60, 1), &options)
        .unwrap_or_else(|error| panic!("{error}"));
    for frame in 0..frames {
        let picture = image::imageops::crop_imm(&texture, 2 * frame, 0, width, height).to_image();
        writer.write(&picture).unwrap_or_else(|error| panic!("{error}"));
    }
    writer.finish().unwrap_or_else(|error| panic!("{error}"));
    let overlay = RgbaImage::from_fn(width, height, |x, y| {
        let drawn = y > 800 || (x / 90 + y / 40) % 9 == 0;
        Rgba([250, 248, 242, if drawn { 235 } else { 0 }])
    });
    overlay.save(folder.join("overlay.png")).expect("the overlay");
    let mut file = marks(scene, &truth, &Clicking::usual(12));
    file.clip.file = "clip.mp4".into();
    file.clip.size_bytes = std::fs::metadata(&clip).expect("the clip").len();
    file.clip.blake3 = hash_of_file(&clip).expect("the clip");
    let path = folder.join("round.marks.json");
    save(&path, &file).unwrap_or_else(|error| panic!("{error}"));
    path
}
