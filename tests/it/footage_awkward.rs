//! Every row of the table in `../shared/footage/awkward/README.md`.

use groundline::footage::{Clip, FootageDoubt, FootageError, OpenOptions};
use groundline::quantity::time::FrameNumber;

use crate::support::{awkward, open, refusal};

/// One row: what ffprobe measured.
struct Row {
    name: &'static str,
    stream: Option<usize>,
    stored: (u32, u32),
    upright: (u32, u32),
    read: u32,
    promised: Option<u64>,
    gaps_ms: (f64, f64),
    turn_clockwise_deg: u16,
}

const fn row(
    name: &'static str,
    stored: (u32, u32),
    upright: (u32, u32),
    (read, promised): (u32, Option<u64>),
    gaps_ms: (f64, f64),
    turn_clockwise_deg: u16,
) -> Row {
    Row { name, stream: None, stored, upright, read, promised, gaps_ms, turn_clockwise_deg }
}

const HD: (u32, u32) = (1920, 1080);
const P720: (u32, u32) = (1280, 720);
const SMALL: (u32, u32) = (568, 320);

#[rustfmt::skip]
const ROWS: [Row; 22] = [
    row("vfr_phone_rot180_10fps.mp4", P720, P720, (25, Some(25)), (80.0, 100.1), 180),
    row("rot90_iphone_mov_gps.mov", SMALL, (320, 568), (120, Some(120)), (33.3, 35.0), 90),
    row("rot90_3gp5_brand.mp4", P720, (720, 1280), (39, Some(39)), (33.0, 34.0), 90),
    row("rot_0.mov", SMALL, SMALL, (3, Some(3)), (33.3, 33.3), 0),
    row("rot_90.mov", SMALL, (320, 568), (3, Some(3)), (33.3, 33.3), 90),
    row("rot_180.mov", SMALL, SMALL, (3, Some(3)), (33.3, 33.3), 180),
    row("rot_270.mov", SMALL, (320, 568), (3, Some(3)), (33.3, 33.3), 270),
    row("elst_hevc10_hlg_rot90_phone.mp4", HD, (1080, 1920), (77, Some(86)), (33.3, 35.0), 90),
    row("elst_positive_shift.mp4", HD, HD, (270, Some(270)), (33.3, 33.3), 0),
    row("slomo_240_android_tag.mp4", P720, P720, (7, Some(7)), (33.3, 325.3), 0),
    row("slomo_240_samsung_sef.mp4", (320, 240), (320, 240), (63, Some(64)), (33.3, 33.3), 0),
    row("hevc_in_ts.ts", HD, HD, (120, None), (41.7, 41.7), 0),
    row("av1_60fps_mdcv.mp4", HD, HD, (60, Some(60)), (16.7, 16.7), 0),
    row("vp9_anamorphic.mp4", (800, 640), (1138, 640), (120, Some(120)), (33.3, 33.3), 0),
    row("sar_2x1.mp4", (640, 360), (1280, 360), (150, Some(150)), (33.3, 33.3), 0),
    row("mjpeg_kodak_15fps.avi", (320, 240), (320, 240), (41, Some(41)), (66.7, 66.7), 0),
    row("interlaced_avchd_1080i50_sony.mts", HD, HD, (13, None), (40.0, 40.0), 0),
    row("long_10883_frames.mp4", HD, HD, (10_883, Some(10_883)), (33.3, 33.3), 0),
    row("odd_size_161x121.webm", (161, 121), (161, 121), (30, None), (33.0, 34.0), 0),
    row("partially_fragmented.mp4", (1080, 720), (1080, 720), (30, Some(4)), (33.4, 33.4), 0),
    row("corrupt_middle.mp4", P720, P720, (49, Some(50)), (100.0, 200.0), 0),
    Row { stream: Some(0), ..row("two_video_streams_nasa.mp4", (320, 180), (320, 180), (325, Some(325)), (40.0, 40.0), 0) },
];

#[test]
fn rows_of_readable_clips() {
    for row in &ROWS {
        let Some(path) = awkward(row.name) else { return };
        let options = OpenOptions { stream: row.stream, ..OpenOptions::default() };
        let clip = Clip::open(&path, &options).unwrap_or_else(|error| panic!("{error}"));
        let facts = clip.facts();
        let report = clip.check().unwrap_or_else(|error| panic!("{error}"));
        assert_eq!((facts.stored_width_px, facts.stored_height_px), row.stored, "{}", row.name);
        assert_eq!((facts.upright_width_px, facts.upright_height_px), row.upright, "{}", row.name);
        assert_eq!(facts.orientation.turn_clockwise_deg, row.turn_clockwise_deg, "{}", row.name);
        assert_eq!(
            (report.readable, facts.frames_promised),
            (row.read, row.promised),
            "{}",
            row.name
        );
        let (smallest, largest) = gaps_ms(&clip, &report.damaged);
        let close = |found: f64, expected: f64| (found - expected).abs() <= 0.051;
        assert!(
            close(smallest, row.gaps_ms.0) && close(largest, row.gaps_ms.1),
            "{}: {smallest}..{largest}",
            row.name
        );
        let picture = clip.reader().and_then(|mut reader| reader.frame(FrameNumber(0)));
        let picture = picture.unwrap_or_else(|error| panic!("{error}")).picture;
        assert_eq!(picture.dimensions(), row.upright, "{}", row.name);
    }
}

/// Smallest and largest gap between readable frames.
fn gaps_ms(clip: &Clip, damaged: &[FrameNumber]) -> (f64, f64) {
    let readable =
        (0..clip.frame_count()).map(FrameNumber).filter(|number| !damaged.contains(number));
    let times: Vec<_> = readable.map(|number| clip.time(number).expect("a time")).collect();
    let gaps = times.windows(2).map(|pair| pair[1].seconds_since(pair[0]) * 1e3);
    gaps.fold((f64::MAX, f64::MIN), |(smallest, largest), gap| {
        (smallest.min(gap), largest.max(gap))
    })
}

/// ffprobe's row reads 455 of 456, -33..101 ms: the recorder stored decoding times, and ffprobe's guess at the order
/// jumps at both ends. The pictures are in order, so the times are dealt out in order, with a doubt.
#[test]
fn a_webcam_that_stored_decoding_times() {
    let Some(path) = awkward("nonmonotonic_webcam_box.mp4") else {
        return;
    };
    let clip = open(&path);
    let report = clip.check().unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(
        (report.readable, clip.facts().frames_promised, clip.facts().frames_hidden),
        (455, Some(456), 1)
    );
    let (smallest, largest) = gaps_ms(&clip, &[]);
    assert!(smallest >= 31.9 && largest <= 67.1, "{smallest}..{largest}");
    assert!(clip.doubts().contains(&FootageDoubt::TimesAreDecodeTimes), "{:?}", clip.doubts());
}

#[test]
fn rows_of_clips_that_cannot_be_read() {
    let Some(path) = awkward("corrupt_moov_only.mp4") else {
        return;
    };
    let error = refusal(&path);
    assert!(
        error
            .to_string()
            .ends_with("the file is damaged, it promises 1040 frames and none can be read"),
        "{error}"
    );
    let Some(path) = awkward("corrupt_bitstream.webm") else {
        return;
    };
    assert!(matches!(refusal(&path), FootageError::NothingReadable { promised: 51, .. }));
    let Some(path) = awkward("corrupt_chunk_out_of_range.mp4") else {
        return;
    };
    assert!(matches!(refusal(&path), FootageError::NotAVideo { .. }));
    let Some(path) = awkward("unsupported_vvc.mp4") else {
        return;
    };
    let error = refusal(&path);
    assert!(
        error.to_string().ends_with("there is no decoder here for its codec (vvc1)"),
        "{error}"
    );
    assert_eq!(error.hint().as_deref(), Some("export the clip as H.264 or HEVC and open that"));
}

#[test]
fn doubts_of_awkward_clips() {
    let doubts = |name: &str| {
        let path = awkward(name)?;
        let doubts = serde_json::to_value(open(&path).doubts()).expect("doubts are plain");
        let kinds = doubts
            .as_array()
            .expect("a list")
            .iter()
            .map(|doubt| doubt["doubt"].as_str().map(str::to_owned));
        Some(kinds.collect::<Option<Vec<_>>>().expect("each doubt has a kind").join(" "))
    };
    for (name, expected) in [
        ("rot_0.mov", ""),
        ("long_10883_frames.mp4", ""),
        ("vfr_phone_rot180_10fps.mp4", ""),
        ("hevc_in_ts.ts", ""),
        ("corrupt_middle.mp4", "damaged-frames"),
        ("partially_fragmented.mp4", "header-count"),
        ("interlaced_avchd_1080i50_sony.mts", "interlaced"),
        ("slomo_240_android_tag.mp4", "gaps slow-motion"),
        ("slomo_240_samsung_sef.mp4", "slow-motion"),
        ("av1_60fps_mdcv.mp4", "brought-down-to-sdr"),
        ("elst_hevc10_hlg_rot90_phone.mp4", "brought-down-to-sdr"),
        ("nonmonotonic_webcam_box.mp4", "times-are-decode-times gaps"),
    ] {
        let Some(found) = doubts(name) else { return };
        assert_eq!(found, expected, "{name}");
    }
}

#[test]
fn a_damaged_frame_is_an_error_for_that_frame_only() {
    let Some(path) = awkward("corrupt_middle.mp4") else {
        return;
    };
    let clip = open(&path);
    let mut reader = clip.reader().unwrap_or_else(|error| panic!("{error}"));
    for number in [30, 29, 31, 30, 49, 0, 30] {
        match reader.luma(FrameNumber(number)) {
            Ok(_) => assert_ne!(number, 30),
            Err(error) => {
                let message = format!(
                    "cannot read frame 30: its data is damaged (at 3.000 s) in {}",
                    path.display()
                );
                assert_eq!((number, error.to_string()), (30, message));
            }
        }
    }
    let report = clip.check().unwrap_or_else(|error| panic!("{error}"));
    assert_eq!((report.damaged, report.concealed), (vec![FrameNumber(30)], vec![FrameNumber(32)]));
    assert!(clip.doubts()[0].sentence().starts_with("1 frame is damaged (the first is frame 30)"));
}
