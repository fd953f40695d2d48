//! How fast clips decode, beside the `ffmpeg` command on the same file, machine and number of threads.
//!
//! Each repetition runs ours and the command one after the other, in alternating order, so that a busy machine slows
//! both. Ours opens the clip, reads every packet for the index and decodes every frame; the command opens and decodes
//! to nothing. The bar is the first column: raw decoding at 0.9 of the command's speed or more.
//! Run: `cargo bench --bench decode [-- --repetitions 5]`. Needs the `ffmpeg` command.

#![expect(
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a benchmark that cannot run stops, and its figures are for the one who runs it"
)]

use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode, Stdio};
use std::time::Instant;

use groundline::footage::write::{ClipWriter, Preset, WriteCodec, WriteOptions};
use groundline::footage::{Clip, OpenOptions, Reader, ReaderOptions};
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
        "{threads} threads, best of {repetitions}; raw and cpu: above 1 is faster than the command; steps: 95 % and worst"
    );
    println!(
        "{:<36} {:>7} {:>10} {:>8} {:>8} {:>9} {:>9} {:>9} {:>12}",
        "clip", "frames", "ffmpeg fps", "raw", "cpu", "luma fps", "rgb fps", "open ms", "steps ms"
    );
    let mut met = true;
    for clip in &clips {
        met &= compare(clip, threads, repetitions) >= BAR;
    }
    if met { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// Prints one row; gives the ratio of raw decoding.
fn compare(path: &Path, threads: usize, repetitions: usize) -> f64 {
    let (mut command_spent, mut ours_spent) = (Spent::MOST, Spent::MOST);
    let mut frames = 0;
    for repetition in 0..repetitions {
        let order = if repetition % 2 == 0 { [0, 1] } else { [1, 0] };
        for which in order {
            let started = Spent::now();
            match which {
                0 => command(path, threads),
                _ => frames = raw(path, threads),
            }
            let spent = started.until_now();
            let best = if which == 0 { &mut command_spent } else { &mut ours_spent };
            *best = best.least(spent);
        }
    }
    let fps = |spent: Spent| f64::from(frames) / spent.wall_s;
    let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    println!(
        "{name:<36} {frames:>7} {:>10.0} {:>8.2} {:>8.2} {:>9.0} {:>9.0} {:>9.1} {:>12}",
        fps(command_spent),
        command_spent.wall_s / ours_spent.wall_s,
        command_spent.cpu_s / ours_spent.cpu_s,
        converted_fps(path, threads, |reader, number| drop(
            reader.luma(number).unwrap_or_else(|error| panic!("{error}"))
        )),
        converted_fps(path, threads, |reader, number| drop(
            reader.frame(number).unwrap_or_else(|error| panic!("{error}"))
        )),
        open_ms(path),
        steps_ms(path),
    );
    command_spent.wall_s / ours_spent.wall_s
}

/// Time that passed, and processor time of this process and of the commands it waited for.
#[derive(Clone, Copy)]
struct Spent {
    wall_s: f64,
    cpu_s: f64,
}

impl Spent {
    const MOST: Spent = Spent { wall_s: f64::MAX, cpu_s: f64::MAX };

    fn now() -> Spent {
        static BEGAN: std::sync::OnceLock<Instant> = std::sync::OnceLock::new();
        Spent {
            wall_s: BEGAN.get_or_init(Instant::now).elapsed().as_secs_f64(),
            cpu_s: cpu_s().unwrap_or(0.0),
        }
    }

    fn until_now(self) -> Spent {
        let now = Spent::now();
        Spent { wall_s: now.wall_s - self.wall_s, cpu_s: now.cpu_s - self.cpu_s }
    }

    /// The shortest of several runs is the one that other work on the machine disturbed least.
    fn least(self, other: Spent) -> Spent {
        Spent { wall_s: self.wall_s.min(other.wall_s), cpu_s: self.cpu_s.min(other.cpu_s) }
    }
}

/// Fields 14 to 17 of `/proc/self/stat`, in hundredths of a second: own and waited-for, user and system.
fn cpu_s() -> Option<f64> {
    let stat = std::fs::read_to_string("/proc/self/stat").ok()?;
    let fields: Vec<&str> = stat.rsplit(')').next()?.split_whitespace().collect();
    let ticks: f64 = fields.get(11..15)?.iter().filter_map(|field| field.parse::<f64>().ok()).sum();
    Some(ticks / 100.0)
}

/// Frames per second with conversion, over at most 600 frames, opening left out.
fn converted_fps(path: &Path, threads: usize, convert: impl Fn(&mut Reader, FrameNumber)) -> f64 {
    let clip = open(path);
    let mut reader = clip.reader_with(&options(threads)).unwrap_or_else(|error| panic!("{error}"));
    let count = clip.frame_count().min(600);
    let started = Instant::now();
    (0..count).for_each(|number| convert(&mut reader, FrameNumber(number)));
    f64::from(count) / started.elapsed().as_secs_f64()
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

fn open_ms(path: &Path) -> f64 {
    let started = Instant::now();
    drop(open(path));
    started.elapsed().as_secs_f64() * 1e3
}

/// 200 steps, three forward for each one back, from the middle, then 100 straight back: 95th percentile and worst.
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
