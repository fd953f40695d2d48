//! Opening: facts, times, errors, memory.

use std::path::Path;
use std::process::Command;

use groundline::footage::{CaptureSource, Clip, FootageDoubt, FootageError, OpenOptions};
use groundline::quantity::time::FrameNumber;
use serde_json::Value;

use crate::support::{awkward, folder, made, open, quick, refusal};

fn with(path: &Path, options: OpenOptions) -> Result<Clip, FootageError> {
    Clip::open(path, &options)
}

#[test]
fn published_times_of_both_streams_are_met_exactly() {
    for stream in [0, 3] {
        let Some(path) = awkward("two_video_streams_nasa.mp4") else {
            return;
        };
        let Some(published) =
            awkward(&format!("two_video_streams_nasa.stream{stream}.frames.json"))
        else {
            return;
        };
        let published = std::fs::read_to_string(published).expect("the published times");
        let published: Vec<Value> = serde_json::from_str(&published).expect("a list of frames");
        let options = OpenOptions { stream: Some(stream), ..OpenOptions::default() };
        let clip = with(&path, options).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(clip.frame_count() as usize, published.len());
        for (number, frame) in published.iter().enumerate() {
            let number = FrameNumber(number as u32);
            let time = clip.time(number).expect("a time").seconds();
            let duration = clip.duration(number).expect("a frame").expect("a duration").seconds();
            assert_eq!(
                format!("{time:.6}"),
                frame["pts_time"].as_str().expect("a time"),
                "frame {number}"
            );
            assert_eq!(
                format!("{duration:.6}"),
                frame["duration_time"].as_str().expect("a duration")
            );
        }
    }
}

#[test]
fn the_best_stream_is_used_and_the_choice_is_a_doubt() {
    let Some(path) = awkward("two_video_streams_nasa.mp4") else {
        return;
    };
    let clip = open(&path);
    assert_eq!((clip.facts().stream, clip.facts().upright_width_px), (3, 480));
    let doubt = FootageDoubt::SeveralVideoStreams { used: 3, streams: vec![0, 3] };
    assert_eq!(clip.doubts(), [doubt]);
    assert_eq!(
        clip.doubts()[0].sentence(),
        "the file holds 2 video streams (0, 3); stream 3 is used"
    );
    let options = OpenOptions { stream: Some(1), ..OpenOptions::default() };
    let error = with(&path, options).err().expect("stream 1 is sound");
    assert!(error.to_string().ends_with("its video streams are 0, 3"), "{error}");
}

#[test]
fn what_is_no_clip_is_refused_with_the_reason() {
    let folder = folder();
    let file = |name: &str, bytes: &[u8]| {
        let path = folder.path().join(name);
        std::fs::write(&path, bytes).expect("a file");
        path
    };
    let mut png = std::io::Cursor::new(Vec::new());
    image::RgbImage::new(8, 8).write_to(&mut png, image::ImageFormat::Png).expect("a picture");
    let found =
        |path: &Path| refusal(path).to_string().replace(&folder.path().display().to_string(), "");
    let no = folder.path().join("no.mp4");
    assert_eq!(found(&no), "cannot open /no.mp4: there is no such file");
    assert_eq!(
        found(&file("empty.mp4", b"")),
        "cannot open /empty.mp4: the file is empty (0 bytes)"
    );
    assert_eq!(found(folder.path()), "cannot open : it is a folder, not a file");
    let text = found(&file("notes.mp4", b"seven strides to the oxer\n".repeat(99).as_slice()));
    assert_eq!(
        text,
        "cannot open /notes.mp4: no video was found in it (it is damaged or of an unknown kind)"
    );
    let picture = found(&file("still.mp4", png.get_ref()));
    assert_eq!(picture, "cannot open /still.mp4: no video was found in it (it is a still picture)");
    for path in [no.as_path(), folder.path()] {
        assert!(refusal(path).hint().is_some());
    }
}

#[cfg(unix)]
#[test]
fn pipes_devices_playlists_and_names_that_are_not_text() {
    use std::os::unix::ffi::OsStrExt;
    let folder = folder();
    assert!(matches!(refusal(Path::new("/dev/null")), FootageError::NotAFile { .. }));
    let pipe = folder.path().join("pipe.mp4");
    assert!(Command::new("mkfifo").arg(&pipe).status().expect("mkfifo runs").success());
    assert!(matches!(refusal(&pipe), FootageError::NotAFile { .. }));
    // A playlist that names another clip must not make us read that clip.
    let clip = folder.path().join("clip.mp4");
    made(&clip, (64, 48), 4, &quick(Default::default()));
    let playlist = folder.path().join("list.mp4");
    std::fs::write(&playlist, format!("ffconcat version 1.0\nfile {}\n", clip.display()))
        .expect("a playlist");
    refusal(&playlist);
    let name = folder.path().join(std::ffi::OsStr::from_bytes(b"str\xffide.mp4"));
    std::fs::copy(&clip, &name).expect("a file with an odd name");
    assert_eq!(open(&name).frame_count(), 4);
    let protocol = folder.path().join("concat:clip.mp4");
    std::fs::copy(&clip, &protocol).expect("a file named like a protocol");
    assert_eq!(open(&protocol).frame_count(), 4);
}

#[test]
fn slow_motion_is_scaled_by_the_tag_or_by_the_caller() {
    let Some(path) = awkward("slomo_240_android_tag.mp4") else {
        return;
    };
    let clip = open(&path);
    let capture = clip.facts().capture;
    assert_eq!(
        (capture.source, capture.capture_hz, capture.time_scale),
        (CaptureSource::Tag, Some(240.0), 0.125)
    );
    assert!(clip.doubts().iter().any(|doubt| matches!(doubt, FootageDoubt::SlowMotion { .. })));
    let time = clip.time(FrameNumber(6)).expect("a time").seconds();
    assert!((clip.capture_seconds(FrameNumber(6)).expect("a time") - time / 8.0).abs() < 1e-12);
    let given = |rate| OpenOptions { capture_rate: Some(rate), ..OpenOptions::default() };
    let clip = with(&path, given(120.0)).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(
        (clip.facts().capture.source, clip.facts().capture.time_scale),
        (CaptureSource::Given, 0.25)
    );
    for rate in [0.0, -5.0, f64::NAN, f64::INFINITY] {
        assert!(matches!(with(&path, given(rate)), Err(FootageError::BadCaptureRate { .. })));
    }
}

#[test]
fn lens_facts_are_shown_and_the_place_is_not() {
    let Some(path) = awkward("rot90_iphone_mov_gps.mov") else {
        return;
    };
    let clip = open(&path);
    assert_eq!(clip.facts().lens.model.as_deref(), Some("iPhone 6"));
    let json = serde_json::to_string(clip.facts()).expect("facts are plain");
    for place in ["32.09", "34.86", "ISO6709", "2019-07"] {
        assert!(!json.contains(place), "{place} in {json}");
    }
}

#[test]
fn facts_come_back_from_json_and_keys_carry_units() {
    let Some(path) = awkward("elst_hevc10_hlg_rot90_phone.mp4") else {
        return;
    };
    let clip = open(&path);
    let json = serde_json::to_value(clip.facts()).expect("facts are plain");
    assert_eq!(json["turn_clockwise_deg"], 90);
    assert_eq!(json["bit_depth"], 10);
    assert_eq!(json["colour"]["dynamic_range"], "hlg");
    assert_eq!(json["rate"]["largest_gap_s"], 0.035);
    let back: groundline::footage::ClipFacts =
        serde_json::from_value(json).expect("facts read back");
    assert_eq!(&back, clip.facts());
    let bytes = std::fs::read(&path).expect("the file");
    assert_eq!(clip.facts().content_hash, Some(blake3::hash(&bytes).to_hex().to_string()));
    assert_eq!(clip.facts().size_bytes, bytes.len() as u64);
    let doubt = serde_json::to_value(clip.doubts()).expect("doubts are plain");
    assert_eq!(doubt[0]["doubt"], "brought-down-to-sdr");
}

#[test]
fn a_hash_left_out_is_computed_when_it_is_wanted() {
    let Some(path) = awkward("rot_0.mov") else { return };
    let options = OpenOptions { without_hash: true, ..OpenOptions::default() };
    let clip = with(&path, options).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(clip.facts().content_hash, None);
    let hash = clip.content_hash().expect("the file is there").to_owned();
    assert_eq!(Some(hash), open(&path).facts().content_hash);
}

#[test]
fn the_end_of_the_clip_is_named() {
    let Some(path) = awkward("elst_positive_shift.mp4") else {
        return;
    };
    let clip = open(&path);
    assert_eq!(clip.time(FrameNumber(0)).expect("a time").seconds(), 1.0);
    let error =
        clip.reader().expect("a reader").frame(FrameNumber(270)).expect_err("there are 270 frames");
    let message =
        format!("cannot read frame 270: the clip ends at frame 269 (10.0 s) in {}", path.display());
    assert_eq!(error.to_string(), message);
    assert_eq!(error.hint().as_deref(), Some("use a frame from 0 to 269"));
    assert_eq!([0.0, 1.0, 1.04, 99.0].map(|seconds| clip.frame_at(seconds).0), [0, 0, 1, 269]);
}

/// Run as its own process by the test below, so that other tests do not count.
#[test]
#[ignore = "started by memory_stays_small_on_a_long_clip"]
fn memory_probe() {
    let Some(path) = awkward("long_10883_frames.mp4") else {
        return;
    };
    let clip = open(&path);
    let report = clip.check().unwrap_or_else(|error| panic!("{error}"));
    assert_eq!((report.readable, report.damaged.len()), (10_883, 0));
    let mut reader = clip.reader().unwrap_or_else(|error| panic!("{error}"));
    for number in (0..10_883).step_by(500).chain((9_000..9_100).rev()) {
        reader.frame(FrameNumber(number)).unwrap_or_else(|error| panic!("{error}"));
    }
    let status = std::fs::read_to_string("/proc/self/status").expect("linux");
    let peak = status.lines().find(|line| line.starts_with("VmHWM:")).expect("the peak");
    println!("{peak}");
}

#[cfg(target_os = "linux")]
#[test]
fn memory_stays_small_on_a_long_clip() {
    if awkward("long_10883_frames.mp4").is_none() {
        return;
    }
    let output = Command::new(std::env::current_exe().expect("this test"))
        .args(["--exact", "footage_open::memory_probe", "--ignored", "--nocapture"])
        .output()
        .expect("this test runs");
    let text = String::from_utf8_lossy(&output.stdout);
    let peak = text.split("VmHWM:").nth(1).and_then(|rest| rest.split_whitespace().next());
    let peak_kb: u64 =
        peak.and_then(|number| number.parse().ok()).unwrap_or_else(|| panic!("no peak in {text}"));
    println!("peak {} MB", peak_kb / 1024);
    // The cache of decoded frames is 160 MiB of it.
    assert!(peak_kb < 400 * 1024, "{peak_kb} kB");
}
