//! How fast clips decode, beside the `ffmpeg` command on the same file, machine and number of threads.
//!
//! Each repetition runs ours and the command one after the other, in alternating order, so that a busy machine slows
//! both. Ours opens the clip, reads every packet for the index and decodes every frame; the command opens and decodes
//! to nothing. The bar is the first column: raw decoding at 0.9 of the command's speed or more.
//! Run: `cargo bench --bench decode [-- --repetitions 5]`. Needs the `ffmpeg` command.

use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode, Stdio};
use std::time::{Duration, Instant};

use groundline::footage::write::{ClipWriter, Preset, WriteCodec, WriteOptions};
use groundline::footage::{Clip, OpenOptions, ReaderOptions};
use groundline::quantity::time::FrameNumber;
use image::{Rgb, RgbImage};

const BAR: f64 = 0.9;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().collect();
    let repetitions = arguments
        .iter()
        .position(|argument| argument == "--repetitions")
        .and_then(|place| arguments.get(place + 1))
        .and_then(|count| count.parse().ok())
        .unwrap_or(5);
    let folder = tempfile::tempdir().expect("a folder for generated clips");
    let mut clips = vec![
        generated(&folder.path().join("generated_h264_1080p60_10s.mp4"), WriteCodec::H264, 600),
        generated(&folder.path().join("generated_hevc_1080p60_4s.mp4"), WriteCodec::Hevc, 240),
    ];
    for name in ["long_10883_frames.mp4", "hevc_in_ts.ts", "elst_hevc10_hlg_rot90_phone.mp4"] {
        match shared(&format!("footage/awkward/{name}")) {
            Some(path) => clips.push(path),
            None => println!("skipped: ../shared/footage is not here ({name})"),
        }
    }
    let threads = std::thread::available_parallelism().map_or(1, usize::from) + 1;
    println!(
        "{threads} threads, {repetitions} repetitions, median; above 1 is faster than the command"
    );
    println!(
        "{:<36} {:>7} {:>10} {:>8} {:>8} {:>8} {:>9} {:>9}",
        "clip", "frames", "ffmpeg fps", "raw", "luma", "rgb", "open ms", "step ms"
    );
    let mut met = true;
    for clip in &clips {
        met &= compare(clip, threads, repetitions) >= BAR;
    }
    if met { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// Prints one row; gives the ratio of raw decoding.
fn compare(path: &Path, threads: usize, repetitions: usize) -> f64 {
    let mut times: [Vec<Duration>; 4] = Default::default();
    let mut frames = 0;
    for repetition in 0..repetitions {
        let order = if repetition % 2 == 0 { [0, 1] } else { [1, 0] };
        for which in order {
            let started = Instant::now();
            match which {
                0 => command(path, threads),
                _ => frames = raw(path, threads),
            }
            times[which].push(started.elapsed());
        }
    }
    // Conversions are slower and less in question: once for long clips.
    for (which, convert) in [(2, luma as fn(&Path, usize)), (3, rgb as fn(&Path, usize))] {
        let started = Instant::now();
        convert(path, threads);
        times[which].push(started.elapsed());
    }
    let [command, raw, luma, rgb] = times.map(|mut times| median(&mut times));
    let ratio = |ours: f64| command / ours;
    let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    println!(
        "{name:<36} {frames:>7} {:>10.0} {:>8.2} {:>8.2} {:>8.2} {:>9.1} {:>9}",
        f64::from(frames) / command,
        ratio(raw),
        ratio(luma),
        ratio(rgb),
        open_ms(path),
        steps_ms(path),
    );
    ratio(raw)
}

fn open(path: &Path) -> Clip {
    let options = OpenOptions { without_hash: true, ..OpenOptions::default() };
    Clip::open(path, &options).unwrap_or_else(|error| panic!("{error}"))
}

fn options(threads: usize) -> ReaderOptions {
    ReaderOptions { threads: Some(threads), ..ReaderOptions::without_cache() }
}

fn command(path: &Path, threads: usize) {
    let status = Command::new("ffmpeg")
        .args(["-v", "quiet", "-nostdin", "-threads", &threads.to_string(), "-i"])
        .arg(path)
        .args(["-map", "0:v:0", "-fps_mode", "passthrough", "-f", "null", "-"])
        .stdout(Stdio::null())
        .status();
    assert!(status.expect("the ffmpeg command runs").success());
}

fn raw(path: &Path, threads: usize) -> u32 {
    let clip = open(path);
    let mut frames = 0;
    let mut reader = clip.reader_with(&options(threads)).unwrap_or_else(|error| panic!("{error}"));
    reader.decode_all(|_, _, _| frames += 1).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(frames, clip.frame_count());
    frames
}

fn luma(path: &Path, threads: usize) {
    let clip = open(path);
    let mut reader = clip.reader_with(&options(threads)).unwrap_or_else(|error| panic!("{error}"));
    for number in 0..clip.frame_count() {
        reader.luma(FrameNumber(number)).unwrap_or_else(|error| panic!("{error}"));
    }
}

fn rgb(path: &Path, threads: usize) {
    let clip = open(path);
    let mut reader = clip.reader_with(&options(threads)).unwrap_or_else(|error| panic!("{error}"));
    for number in 0..clip.frame_count() {
        reader.frame(FrameNumber(number)).unwrap_or_else(|error| panic!("{error}"));
    }
}

fn open_ms(path: &Path) -> f64 {
    let started = Instant::now();
    drop(open(path));
    started.elapsed().as_secs_f64() * 1e3
}

/// 95th percentile of 200 steps, three forward for each one back, from the middle; then 100 steps straight back.
fn steps_ms(path: &Path) -> String {
    let clip = open(path);
    let mut reader = clip.reader().unwrap_or_else(|error| panic!("{error}"));
    let mut at = clip.frame_count() / 2;
    let mut times = Vec::new();
    for step in 0..300 {
        let back = step >= 200 || step % 4 == 3;
        at = if back { at.saturating_sub(1) } else { (at + 1).min(clip.frame_count() - 1) };
        let started = Instant::now();
        reader.frame(FrameNumber(at)).unwrap_or_else(|error| panic!("{error}"));
        times.push(started.elapsed());
    }
    times.sort_unstable();
    format!("{:.0}/{:.0}", times[285].as_secs_f64() * 1e3, times[299].as_secs_f64() * 1e3)
}

fn median(times: &mut [Duration]) -> f64 {
    times.sort_unstable();
    times[times.len() / 2].as_secs_f64()
}

/// A scene with texture and motion, so that decoding is as hard as on a real clip.
fn generated(path: &Path, codec: WriteCodec, frames: u32) -> PathBuf {
    let options = WriteOptions {
        codec,
        preset: if codec == WriteCodec::H264 { Preset::Veryfast } else { Preset::Ultrafast },
        ..WriteOptions::default()
    };
    let (width, height) = (1920, 1080);
    let texture = RgbImage::from_fn(width + 2 * frames, height, |x, y| {
        let noise = (x.wrapping_mul(2_654_435_761) ^ y.wrapping_mul(40_503))
            .wrapping_mul(2_246_822_519)
            >> 27;
        let wave = ((f64::from(x) / 37.0).sin() + (f64::from(y) / 23.0).cos()) * 50.0 + 110.0;
        let value = wave as u32 + noise;
        Rgb([value as u8, (value * 9 / 10) as u8, (value * 7 / 10 + y / 20) as u8])
    });
    let mut writer = ClipWriter::at_rate(path, (width, height), (60, 1), &options)
        .unwrap_or_else(|error| panic!("{error}"));
    for frame in 0..frames {
        let picture = image::imageops::crop_imm(&texture, 2 * frame, 0, width, height).to_image();
        writer.write(&picture).unwrap_or_else(|error| panic!("{error}"));
    }
    writer.finish().unwrap_or_else(|error| panic!("{error}"));
    path.to_owned()
}

fn shared(path: &str) -> Option<PathBuf> {
    let root = std::env::var_os("GROUNDLINE_SHARED")
        .map_or_else(|| Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared"), PathBuf::from);
    Some(root.join(path)).filter(|path| path.exists())
}
