//! The same frame has the same pixels however it is reached.

use std::path::Path;

use groundline::footage::write::{WriteCodec, WriteOptions};
use groundline::footage::{Clip, ReaderOptions};
use groundline::quantity::time::FrameNumber;

use crate::support::{Dice, awkward, fingerprint, folder, luma, made, open, quick, reader, rgb};

/// Reads in order, then at random and backwards, with and without a cache, and compares.
fn check_any_order(path: &Path) {
    let clip = open(path);
    let count = clip.frame_count().min(160);
    let mut in_order = reader(&clip);
    let expected: Vec<String> =
        (0..count).map(|number| fingerprint(luma(&mut in_order, number).as_raw())).collect();
    let mut dice = Dice(7);
    let random = (0..24).map(|_| dice.roll(count));
    let back = (count.saturating_sub(30)..count).rev();
    let order: Vec<u32> = random.chain(back).chain([0, count - 1, 0]).collect();
    for cache_bytes in [0, 24 << 20] {
        let mut jumping = jumping_reader(&clip, cache_bytes);
        for number in &order {
            let found = fingerprint(luma(&mut jumping, *number).as_raw());
            assert_eq!(
                found,
                expected[*number as usize],
                "frame {number} of {}, cache {cache_bytes}",
                path.display()
            );
        }
    }
}

fn jumping_reader(clip: &Clip, cache_bytes: usize) -> groundline::footage::Reader {
    let options = ReaderOptions { cache_bytes, ..ReaderOptions::default() };
    clip.reader_with(&options).unwrap_or_else(|error| panic!("{error}"))
}

#[test]
fn shared_clips_in_any_order() {
    for name in [
        "elst_hevc10_hlg_rot90_phone.mp4",
        "slomo_240_samsung_sef.mp4",
        "two_video_streams_nasa.mp4",
        "partially_fragmented.mp4",
        "nonmonotonic_webcam_box.mp4",
        "hevc_in_ts.ts",
        "interlaced_avchd_1080i50_sony.mts",
        "mjpeg_kodak_15fps.avi",
        "odd_size_161x121.webm",
        "vp9_anamorphic.mp4",
        "av1_60fps_mdcv.mp4",
        "rot90_iphone_mov_gps.mov",
        "elst_positive_shift.mp4",
    ] {
        let Some(path) = awkward(name) else { return };
        check_any_order(&path);
    }
}

#[test]
fn open_groups_and_b_frames_in_any_order() {
    let folder = folder();
    for (name, codec, open_groups, b_frames) in [
        ("h264_closed", WriteCodec::H264, false, 3),
        ("h264_open", WriteCodec::H264, true, 3),
        ("hevc_open", WriteCodec::Hevc, true, 4),
        ("hevc10_open", WriteCodec::Hevc10, true, 2),
        ("h264_plain", WriteCodec::H264, false, 0),
    ] {
        let path = folder.path().join(name).with_extension("mp4");
        let options = WriteOptions {
            codec,
            open_groups,
            group: Some(12),
            b_frames: Some(b_frames),
            ..WriteOptions::default()
        };
        made(&path, (192, 128), 75, &quick(options));
        let clip = open(&path);
        assert_eq!(clip.frame_count(), 75, "{name}");
        let starts = (0..75)
            .filter(|number| clip.is_random_access(FrameNumber(*number)).expect("a frame"))
            .count();
        assert!(starts >= 6, "{name}: {starts} frames to start from");
        check_any_order(&path);
    }
}

#[test]
fn colour_pictures_and_all_frames_at_once_agree_with_single_frames() {
    let folder = folder();
    let path = folder.path().join("clip.mp4");
    made(&path, (128, 96), 40, &quick(WriteOptions::default()));
    let clip = open(&path);
    let mut seen = Vec::new();
    let errors = reader(&clip)
        .decode_all(|number, time, raw| seen.push((number, time, raw.width_px())))
        .expect("readable");
    assert_eq!((errors, seen.len()), (0, 40));
    for (place, (number, time, width)) in seen.iter().enumerate() {
        assert_eq!((number.0, *width), (place as u32, 128));
        assert_eq!(*time, clip.time(*number).expect("a time"));
    }
    let mut forward = reader(&clip);
    let expected: Vec<_> = (0..40).map(|number| rgb(&mut forward, number)).collect();
    let mut backward = jumping_reader(&clip, 0);
    for number in (0..40).rev() {
        assert_eq!(rgb(&mut backward, number), expected[number as usize], "frame {number}");
    }
}

#[test]
fn a_reader_goes_on_after_reading_everything_and_after_the_end() {
    let folder = folder();
    let path = folder.path().join("clip.mp4");
    made(&path, (128, 96), 30, &quick(WriteOptions::default()));
    let clip = open(&path);
    let mut reader = reader(&clip);
    let first = luma(&mut reader, 0);
    let mut count = 0;
    reader.decode_all(|_, _, _| count += 1).expect("readable");
    assert_eq!((count, luma(&mut reader, 29).dimensions()), (30, (128, 96)));
    assert!(reader.luma(FrameNumber(30)).is_err());
    assert_eq!(luma(&mut reader, 0), first);
}

#[test]
fn two_readers_work_side_by_side_in_two_threads() {
    let folder = folder();
    let path = folder.path().join("clip.mp4");
    made(&path, (128, 96), 30, &quick(WriteOptions::default()));
    let clip = open(&path);
    let sums: Vec<String> = std::thread::scope(|scope| {
        let tasks: Vec<_> = (0..2)
            .map(|_| scope.spawn(|| fingerprint(luma(&mut reader(&clip), 17).as_raw())))
            .collect();
        tasks.into_iter().map(|task| task.join().expect("reads")).collect()
    });
    assert_eq!(sums[0], sums[1]);
}

#[test]
fn a_file_cut_while_it_is_open_is_an_error_and_no_hang() {
    let folder = folder();
    let path = folder.path().join("clip.mp4");
    let large = WriteOptions { crf: 2, ..WriteOptions::default() };
    made(&path, (320, 240), 60, &quick(large));
    let clip = open(&path);
    let bytes = std::fs::read(&path).expect("the clip");
    let mut reader = reader(&clip);
    luma(&mut reader, 0);
    std::fs::write(&path, &bytes[..bytes.len() / 3]).expect("a shorter clip");
    let unread = (40..60).filter(|number| reader.luma(FrameNumber(*number)).is_err()).count();
    assert!(unread > 0);
}
