//! Writing: exact times, nothing but pictures, all or nothing.

use std::path::Path;

use groundline::footage::write::{ClipWriter, WriteError, WriteOptions};
use groundline::quantity::time::{FrameNumber, FrameTime, TimeBase};

use crate::support::{folder, made, mean_difference, open, quick, reader, rgb, scene};

const SIZE: (u32, u32) = (96, 64);

fn files_in(folder: &Path) -> usize {
    std::fs::read_dir(folder).expect("the folder").count()
}

#[test]
fn given_times_come_back_exactly() {
    let folder = folder();
    let path = folder.path().join("variable.mp4");
    let base = TimeBase::new(1, 90_000).expect("a clock");
    let ticks: Vec<i64> = [0, 3000, 6000, 9600, 12_000, 15_777, 18_000, 33_000, 36_003].to_vec();
    let mut writer =
        ClipWriter::with_ticks(&path, SIZE, base, 3000, &quick(WriteOptions::default()))
            .expect("a writer");
    for (frame, ticks) in ticks.iter().enumerate() {
        writer.write_at(*ticks, &scene(SIZE, frame as u32)).expect("a frame");
    }
    writer.finish().expect("a clip");
    let clip = open(&path);
    let found: Vec<FrameTime> =
        (0..clip.frame_count()).map(|n| clip.time(FrameNumber(n)).expect("a time")).collect();
    assert_eq!(found, ticks.iter().map(|ticks| FrameTime::new(*ticks, base)).collect::<Vec<_>>());
    let durations: Vec<f64> = (0..8)
        .map(|n| clip.duration(FrameNumber(n)).expect("a frame").expect("a duration").seconds())
        .collect();
    let expected: Vec<f64> = ticks.windows(2).map(|pair| base.seconds(pair[1] - pair[0])).collect();
    assert_eq!(durations, expected);
    assert!(!clip.facts().rate.expect("a rate").constant);
}

#[test]
fn a_constant_rate_is_exact_and_pictures_come_back() {
    let folder = folder();
    let path = folder.path().join("ntsc.mp4");
    let mut writer =
        ClipWriter::at_rate(&path, SIZE, (60_000, 1001), &quick(WriteOptions::default()))
            .expect("a writer");
    for frame in 0..50 {
        writer.write(&scene(SIZE, frame)).expect("a frame");
    }
    writer.finish().expect("a clip");
    let clip = open(&path);
    let base = TimeBase::new(1001, 60_000).expect("a clock");
    for frame in 0..50 {
        assert_eq!(
            clip.time(FrameNumber(frame)).expect("a time"),
            FrameTime::new(i64::from(frame), base)
        );
    }
    assert!(clip.doubts().is_empty(), "{:?}", clip.doubts());
    assert_eq!(clip.facts().rate.expect("a rate").mean_hz, 60_000.0 / 1001.0);
    let difference =
        mean_difference(rgb(&mut reader(&clip), 25).as_raw(), scene(SIZE, 25).as_raw());
    assert!(difference < 12.0, "{difference}");
}

#[test]
fn the_file_holds_nothing_but_pictures_and_starts_with_its_index() {
    let folder = folder();
    let path = folder.path().join("clip.mp4");
    made(&path, SIZE, 10, &quick(WriteOptions::default()));
    assert_eq!(files_in(folder.path()), 1);
    let bytes = std::fs::read(&path).expect("the clip");
    let place = |name: &[u8]| bytes.windows(name.len()).position(|window| window == name);
    assert!(place(b"moov") < place(b"mdat") && place(b"moov").is_some());
    for trace in [b"Lavf".as_slice(), b"Lavc", b"\xa9too", b"data"] {
        assert_eq!(place(trace), None, "{}", String::from_utf8_lossy(trace));
    }
    // Dates of the movie header (version 0): four bytes of creation, four of change.
    let header = place(b"mvhd").expect("a movie header") + 8;
    assert_eq!(bytes[header..header + 8], [0; 8]);
    let colour = open(&path).facts().colour;
    assert!(!colour.matrix_guessed && !colour.full_range);
}

#[test]
fn two_runs_write_the_same_bytes() {
    let folder = folder();
    let (one, two) = (folder.path().join("one.mp4"), folder.path().join("two.mp4"));
    made(&one, SIZE, 12, &quick(WriteOptions::default()));
    made(&two, SIZE, 12, &quick(WriteOptions::default()));
    let (one, two) = (std::fs::read(one).expect("a clip"), std::fs::read(two).expect("a clip"));
    let differing = one.iter().zip(&two).filter(|(one, two)| one != two).count();
    assert_eq!((one.len(), differing), (two.len(), 0));
}

#[test]
fn a_writer_that_is_dropped_leaves_what_was_there() {
    let folder = folder();
    let path = folder.path().join("reel.mp4");
    std::fs::write(&path, b"the reel of last week").expect("a file");
    let mut writer =
        ClipWriter::at_rate(&path, SIZE, (30, 1), &WriteOptions::default()).expect("a writer");
    writer.write(&scene(SIZE, 0)).expect("a frame");
    assert_eq!(files_in(folder.path()), 2);
    drop(writer);
    assert_eq!(files_in(folder.path()), 1);
    assert_eq!(std::fs::read(&path).expect("the file"), b"the reel of last week");
    let writer =
        ClipWriter::at_rate(&path, SIZE, (30, 1), &WriteOptions::default()).expect("a writer");
    assert!(matches!(writer.finish(), Err(WriteError::NoFrames { .. })));
    assert_eq!(files_in(folder.path()), 1);
}

#[test]
fn what_cannot_be_written_is_said() {
    let folder = folder();
    let path = folder.path().join("clip.mp4");
    let at = |size, rate| ClipWriter::at_rate(&path, size, rate, &WriteOptions::default());
    let message =
        |result: Result<ClipWriter, WriteError>| result.err().expect("a refusal").to_string();
    assert_eq!(
        message(at((97, 64), (30, 1))),
        "cannot write a clip of 97x64 pixels: both must be even, from 2 to 16384"
    );
    assert_eq!(
        message(at(SIZE, (30, 0))),
        "cannot write a clip at 30/0 frames per second: both numbers must be from 1 to 2147483647"
    );
    // One more than FFmpeg's numbers hold: it would count as a negative rate.
    assert_eq!(
        message(at(SIZE, (1 << 31, 1))),
        "cannot write a clip at 2147483648/1 frames per second: both numbers must be from 1 to 2147483647"
    );
    let mut writer = at(SIZE, (30, 1)).expect("a writer");
    let error = writer.write(&scene((64, 96), 0)).expect_err("another size");
    assert_eq!(error.to_string(), "cannot write frame 0: it is 64x96 pixels, the clip is 96x64");
    writer.write_at(5, &scene(SIZE, 0)).expect("a frame");
    let error = writer.write_at(5, &scene(SIZE, 1)).expect_err("the same time");
    assert_eq!(
        error.to_string(),
        "cannot write frame 1: its time (5 ticks) must be after the one before (5 ticks)"
    );
    let nowhere = folder.path().join("no such folder").join("clip.mp4");
    let error = ClipWriter::at_rate(&nowhere, SIZE, (30, 1), &WriteOptions::default())
        .err()
        .expect("no folder");
    assert!(matches!(error, WriteError::File { .. }) && error.hint().is_some(), "{error}");
}

#[cfg(unix)]
#[test]
fn a_finished_clip_is_as_readable_as_any_new_file() {
    use std::os::unix::fs::PermissionsExt;
    let folder = folder();
    let mode = |path: &Path| std::fs::metadata(path).expect("a file").permissions().mode() & 0o777;
    let (clip, other) = (folder.path().join("clip.mp4"), folder.path().join("other.txt"));
    made(&clip, SIZE, 2, &quick(WriteOptions::default()));
    std::fs::write(&other, b"x").expect("a file");
    assert_eq!(mode(&clip), mode(&other));
}
