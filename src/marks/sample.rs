//! A small whole marks file for tests: invented numbers, all different.

use serde_json::{Map, json};

use super::*;
use crate::quantity::{FrameNumber, Given};
use crate::scene::PictureSize;

pub(crate) fn mark(frame: u32, x: f64, y: f64) -> Mark {
    Mark { frame: FrameNumber(frame), x, y, sd_px: 1.25, other: Map::new() }
}

/// Poles, a distance, a fence, a tie and one approach of three strides.
pub(crate) fn sample() -> MarksFile {
    let clip = ClipNote {
        file: "lesson.mp4".into(),
        size_bytes: 12_345,
        blake3: "ab".repeat(32),
        picture: PictureSize { width: 1920, height: 1080 },
        frame_count: 400,
        stream: None,
        capture_seconds_per_second: 1.0,
        frames: [40, 55, 70, 100, 118, 136, 137, 155, 156]
            .map(|frame| MarkedFrame::new(FrameNumber(frame), f64::from(frame) / 30.0, 1.0 / 30.0))
            .to_vec(),
        other: Map::new(),
    };
    let mut file = MarksFile::new(clip, CameraPrior::usual(Motion::Turning { sway_sd_m: 0.03 }));
    file.other.insert("planner".into(), json!({ "page": 7 }));
    file.round.rider = "Mira".into();
    file.round.horse = "Pebble".into();
    file.round.date = Some("2026-03-14".into());
    file.references = vec![poles(), tape()];
    let mut tie = Tie::new("letter-b", TiePlace::Ground);
    tie.marks = vec![mark(100, 901.5, 620.25), mark(118, 877.0, 619.0)];
    file.ties.push(tie);
    let mut fence = Fence::new("oxer");
    fence.name = "White oxer".into();
    fence.kind = FenceKind::Oxer;
    fence.take_off_base.left = vec![mark(136, 1201.0, 640.0)];
    fence.take_off_base.right = vec![mark(136, 1188.0, 711.0)];
    file.fences.push(fence);
    file.approaches.push(approach());
    file
}

fn poles() -> Reference {
    let end = |pole, end, x, y| PoleEndMarks::new(pole, end, vec![mark(40, x, y)]);
    let kind = ReferenceKind::Poles {
        count: 3,
        spacing_m: Given::new(3.0, 0.01),
        length_m: Given::new(3.5, 0.02),
        diameter_m: 0.1,
        ends: vec![
            end(1, PoleEnd::Left, 300.5, 601.0),
            end(1, PoleEnd::Right, 280.0, 702.0),
            end(2, PoleEnd::Left, 520.0, 603.5),
            end(2, PoleEnd::Right, 505.0, 704.0),
        ],
        other: Map::new(),
    };
    Reference { id: "rails".into(), kind }
}

fn tape() -> Reference {
    let kind = ReferenceKind::Distance {
        length_m: Given::new(12.0, 0.05),
        at_height_m: 0.0,
        from: vec![mark(55, 333.0, 650.0)],
        to: vec![mark(55, 1111.0, 655.0)],
        other: Map::new(),
    };
    Reference { id: "tape".into(), kind }
}

fn approach() -> Approach {
    let mut approach = Approach::new("a1", "oxer");
    let hind = Limb::LeadingHind;
    approach.footfalls = vec![
        Footfall::new("f1", hind, Event::Stride, mark(100, 410.0, 660.0)),
        Footfall::new("f2", hind, Event::Stride, mark(118, 720.0, 662.0)),
        Footfall::new("f3", Limb::TrailingHind, Event::TakeOff, mark(136, 1040.0, 664.0)),
        Footfall::new("f4", hind, Event::TakeOff, mark(137, 1061.0, 663.0)),
        Footfall::new("f5", Limb::TrailingFore, Event::Landing, mark(155, 1420.0, 668.0)),
        Footfall::new("f6", Limb::LeadingFore, Event::Landing, mark(156, 1475.0, 667.0)),
    ];
    approach.footfalls[1].other.insert("seen_by".into(), json!("coach"));
    approach.left_turn_frame = Some(FrameNumber(70));
    approach.stride_notes = vec![StrideNote::new(-1, "a little close")];
    approach
}
