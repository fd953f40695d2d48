//! Frame by frame against PyAV: times and luma. Needs an interpreter with PyAV and numpy, named by GROUNDLINE_PYTHON.

use std::path::Path;
use std::process::Command;

use groundline::footage::Clip;
use groundline::footage::write::{WriteCodec, WriteOptions};
use groundline::quantity::time::{FrameNumber, FrameTime, TimeBase};
use serde::Deserialize;

use crate::support::{awkward, folder, made, mean_difference, open, quick, reader, skip};

#[derive(Deserialize)]
struct Outside {
    time_base: [u32; 2],
    frames: Vec<OutsideFrame>,
}

#[derive(Deserialize)]
struct OutsideFrame {
    pts: Option<i64>,
    width: u32,
    height: u32,
}

/// Which times must agree.
#[derive(Clone, Copy, PartialEq)]
enum Times {
    Exactly,
    /// The file's times are decoding times: the same times, but not on the same frames.
    AsASet,
}

fn outside(clip: &Clip, every: u32) -> Option<(Outside, Vec<u8>)> {
    let Some(python) = std::env::var_os("GROUNDLINE_PYTHON") else {
        skip("GROUNDLINE_PYTHON names no interpreter with PyAV");
        return None;
    };
    let folder = folder();
    let luma = folder.path().join("luma");
    let output = Command::new(python)
        .arg(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/outside/pyav_frames.py"))
        .arg(clip.path())
        .args([clip.facts().stream.to_string()])
        .arg(&luma)
        .arg(every.to_string())
        .output()
        .expect("python runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let found = serde_json::from_slice(&output.stdout).expect("the script prints JSON");
    Some((found, std::fs::read(luma).expect("the luma file")))
}

/// Compares every time, and the luma of every `every`-th frame. Returns false if the comparison was left out.
fn compare(path: &Path, every: u32, times: Times) -> bool {
    let clip = open(path);
    let Some((outside, luma)) = outside(&clip, every) else {
        return false;
    };
    let name = path.display();
    let base = TimeBase::new(outside.time_base[0], outside.time_base[1]).expect("a clock");
    let damaged = match clip.frame_count() as usize == outside.frames.len() {
        true => Vec::new(),
        false => clip.check().unwrap_or_else(|error| panic!("{error}")).damaged,
    };
    let readable: Vec<FrameNumber> = (0..clip.frame_count())
        .map(FrameNumber)
        .filter(|number| !damaged.contains(number))
        .collect();
    assert_eq!(readable.len(), outside.frames.len(), "{name}");
    let ours: Vec<FrameTime> =
        readable.iter().map(|number| clip.time(*number).expect("a time")).collect();
    let mut theirs: Vec<FrameTime> = outside
        .frames
        .iter()
        .filter_map(|frame| frame.pts)
        .map(|pts| FrameTime::new(pts, base))
        .collect();
    match times {
        Times::Exactly => assert_eq!(ours, theirs, "{name}"),
        Times::AsASet => {
            theirs.sort();
            // The one hidden frame may take another of the times with it.
            let differing = ours.iter().filter(|time| theirs.binary_search(time).is_err()).count();
            assert!(differing <= 1, "{name}: {differing} times differ");
        }
    }
    let (mut reader, mut rest, mut worst) = (reader(&clip), luma.as_slice(), 0.0_f64);
    for (number, frame) in readable.iter().zip(&outside.frames).step_by(every as usize) {
        let picture = reader.luma(*number).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(picture.dimensions(), (frame.width, frame.height), "{name}");
        let (expected, after) = rest.split_at((frame.width * frame.height) as usize);
        rest = after;
        worst = worst.max(mean_difference(picture.as_raw(), expected));
    }
    println!("{name}: {} frames, worst mean difference of luma {worst:.4}", readable.len());
    assert!(rest.is_empty() && worst < 0.01, "{name}: {worst}");
    true
}

#[test]
fn shared_clips_agree_with_pyav() {
    for (name, every, times) in [
        ("vfr_phone_rot180_10fps.mp4", 3, Times::Exactly),
        ("rot90_iphone_mov_gps.mov", 5, Times::Exactly),
        ("rot90_3gp5_brand.mp4", 5, Times::Exactly),
        ("rot_0.mov", 1, Times::Exactly),
        ("rot_90.mov", 1, Times::Exactly),
        ("rot_180.mov", 1, Times::Exactly),
        ("rot_270.mov", 1, Times::Exactly),
        ("elst_hevc10_hlg_rot90_phone.mp4", 7, Times::Exactly),
        ("elst_positive_shift.mp4", 30, Times::Exactly),
        ("slomo_240_android_tag.mp4", 1, Times::Exactly),
        ("slomo_240_samsung_sef.mp4", 4, Times::Exactly),
        ("hevc_in_ts.ts", 10, Times::Exactly),
        ("av1_60fps_mdcv.mp4", 10, Times::Exactly),
        ("mjpeg_kodak_15fps.avi", 4, Times::Exactly),
        ("interlaced_avchd_1080i50_sony.mts", 2, Times::Exactly),
        ("odd_size_161x121.webm", 3, Times::Exactly),
        ("partially_fragmented.mp4", 3, Times::Exactly),
        ("two_video_streams_nasa.mp4", 20, Times::Exactly),
        ("long_10883_frames.mp4", 2000, Times::Exactly),
        ("nonmonotonic_webcam_box.mp4", 20, Times::AsASet),
    ] {
        let Some(path) = awkward(name) else { return };
        if !compare(&path, every, times) {
            return;
        }
    }
}

#[test]
fn made_clips_agree_with_pyav() {
    let folder = folder();
    for (name, codec, open_groups) in [
        ("h264_open", WriteCodec::H264, true),
        ("hevc_open", WriteCodec::Hevc, true),
        ("hevc10", WriteCodec::Hevc10, false),
    ] {
        let path = folder.path().join(name).with_extension("mp4");
        let options = WriteOptions {
            codec,
            open_groups,
            group: Some(12),
            b_frames: Some(3),
            ..WriteOptions::default()
        };
        made(&path, (192, 128), 60, &quick(options));
        if !compare(&path, 1, Times::Exactly) {
            return;
        }
    }
}
