//! Damaged files of every kind: an answer or an error, never a panic or a hang, and the same answer in any order.

use std::path::Path;
use std::time::{Duration, Instant};

use groundline::footage::write::WriteOptions;
use groundline::footage::{Clip, OpenOptions};
use groundline::quantity::time::FrameNumber;

use crate::support::{Dice, awkward, fingerprint, folder, made, quick};

const PATIENCE: Duration = Duration::from_secs(120);

/// Opens and reads whatever can be read; gives the number of frames.
fn survive(path: &Path) -> u32 {
    let started = Instant::now();
    let Ok(clip) = Clip::open(path, &OpenOptions::default()) else {
        return 0;
    };
    let count = clip.frame_count();
    let report = clip.check();
    if let Ok(mut reader) = clip.reader() {
        for number in [0, count / 2, count - 1, count / 3] {
            let _ = reader.frame(FrameNumber(number));
            let _ = reader.luma(FrameNumber(number));
        }
    }
    if let Ok(report) = report {
        assert_eq!(report.readable + report.damaged.len() as u32, count);
    }
    assert!(started.elapsed() < PATIENCE, "{:?}", started.elapsed());
    count
}

/// One damaged version of a file.
fn damaged(bytes: &[u8], kind: u32, dice: &mut Dice) -> Vec<u8> {
    let mut bytes = bytes.to_vec();
    let length = bytes.len() as u32;
    match kind % 4 {
        0 => bytes.truncate(dice.roll(length) as usize),
        1 => (0..40).for_each(|_| bytes[dice.roll(length) as usize] = dice.roll(256) as u8),
        2 => {
            (0..20).for_each(|_| bytes[dice.roll(length.min(4096)) as usize] = dice.roll(256) as u8)
        }
        _ => {
            let from = dice.roll(length) as usize;
            let until = (from + 2000).min(bytes.len());
            bytes[from..until].fill(0);
        }
    }
    bytes
}

#[test]
fn damaged_files_never_hang_or_panic() {
    let folder = folder();
    let mut dice = Dice(20);
    for name in [
        "rot_0.mov",
        "odd_size_161x121.webm",
        "slomo_240_samsung_sef.mp4",
        "partially_fragmented.mp4",
        "corrupt_middle.mp4",
        "corrupt_moov_only.mp4",
        "mjpeg_kodak_15fps.avi",
        "av1_60fps_mdcv.mp4",
        "vp9_anamorphic.mp4",
        "hevc_in_ts.ts",
        "interlaced_avchd_1080i50_sony.mts",
    ] {
        let Some(path) = awkward(name) else { return };
        let bytes = std::fs::read(path).expect("the clip");
        let mut opened = 0;
        for kind in 0..12 {
            let path = folder.path().join(format!("{kind}-{name}"));
            std::fs::write(&path, damaged(&bytes, kind, &mut dice)).expect("a damaged clip");
            opened += u32::from(survive(&path) > 0);
            std::fs::remove_file(&path).expect("the damaged clip");
        }
        println!("{name}: {opened} of 12 damaged versions open");
    }
}

#[test]
fn a_damaged_clip_gives_the_same_answer_in_any_order() {
    let folder = folder();
    let whole = folder.path().join("whole.mp4");
    let options = WriteOptions { group: Some(15), b_frames: Some(2), ..WriteOptions::default() };
    made(&whole, (192, 128), 60, &quick(options));
    let bytes = std::fs::read(&whole).expect("the clip");
    let data = bytes.windows(4).position(|window| window == b"mdat").expect("pictures") as u32 + 4;
    let mut dice = Dice(5);
    let mut touched = 0;
    for round in 0..4 {
        let mut bytes = bytes.clone();
        for _ in 0..6 {
            let at = data + dice.roll(bytes.len() as u32 - data);
            bytes[at as usize] ^= 0x55;
        }
        let path = folder.path().join("damaged.mp4");
        std::fs::write(&path, bytes).expect("a damaged clip");
        let clip =
            Clip::open(&path, &OpenOptions::default()).unwrap_or_else(|error| panic!("{error}"));
        let answer = |reader: &mut groundline::footage::Reader, number: u32| {
            reader
                .luma(FrameNumber(number))
                .map(|picture| fingerprint(picture.as_raw()))
                .map_err(|error| error.to_string())
        };
        let mut in_order = clip.reader().expect("a reader");
        let expected: Vec<_> = (0..60).map(|number| answer(&mut in_order, number)).collect();
        for number in (0..60).rev() {
            let mut fresh = clip.reader().expect("a reader");
            assert_eq!(
                answer(&mut fresh, number),
                expected[number as usize],
                "round {round}, frame {number}"
            );
        }
        let report = clip.check().expect("a report");
        let lost: Vec<_> =
            (0..60).filter(|number| expected[*number as usize].is_err()).map(FrameNumber).collect();
        assert_eq!(report.damaged, lost, "round {round}");
        touched += report.damaged.len() + report.concealed.len();
    }
    println!("{touched} of 240 frames were found damaged");
    assert!(touched > 0);
}
