use super::super::sample::{mark, sample};
use super::super::*;
use crate::quantity::{FrameNumber, Given};

/// The breaches, as sentences, of the sample after `spoil`.
fn breaches(spoil: impl FnOnce(&mut MarksFile)) -> Vec<String> {
    let mut file = sample();
    spoil(&mut file);
    file.check().iter().map(ToString::to_string).collect()
}

fn poles(file: &mut MarksFile) -> (&mut u32, &mut Given, &mut Vec<PoleEndMarks>) {
    match &mut file.references[0].kind {
        ReferenceKind::Poles { count, spacing_m, ends, .. } => (count, spacing_m, ends),
        other => panic!("the sample's first reference is {other:?}"),
    }
}

#[test]
fn sample_keeps_every_rule() {
    assert_eq!(breaches(|_| {}), Vec::<String>::new());
}

#[test]
fn version_and_clip() {
    assert_eq!(
        breaches(|file| file.groundline_marks = 9),
        ["the file: the version is 9 (1 needed)"]
    );
    assert_eq!(
        breaches(|file| file.clip.capture_seconds_per_second = 0.0),
        ["the clip: the captured time per second of playing is 0 s (0.001 to 100 s needed)"]
    );
    assert_eq!(
        breaches(|file| file.clip.frames[2].time_s = 1.0),
        ["frame 70 of the clip: its time is not later than that of frame 55"]
    );
    assert_eq!(
        breaches(|file| file.clip.frames.push(file.clip.frames[0].clone())),
        ["frame 40 of the clip: it is listed twice (once needed)"]
    );
}

#[test]
fn dates_are_days_of_the_calendar() {
    for wrong in ["2026-02-30", "14.3.2026", "2026-3-14", "2026-03-14T10:00", ""] {
        let found = breaches(|file| file.round.date = Some(wrong.into()));
        assert_eq!(
            found,
            [format!(
                "the round: the date is `{wrong}` (a day of the calendar as YYYY-MM-DD needed)"
            )]
        );
    }
}

#[test]
fn ids_are_usable_and_not_shared() {
    assert_eq!(
        breaches(|file| file.references[1].id = "rails".into()),
        ["reference `rails`: its id is used twice (each needs its own)"]
    );
    let unfit =
        "its id is not usable (1 to 60 characters needed, none of them `/` or a line break)";
    assert_eq!(breaches(|file| file.ties[0].id = "a/b".into()), [format!("tie `a/b`: {unfit}")]);
    assert_eq!(
        breaches(|file| file.approaches[0].footfalls[1].id = "f1".into()),
        ["footfall `f1` of approach `a1`: its id is used twice (each needs its own)"]
    );
}

#[test]
fn sizes_are_sensible() {
    assert_eq!(
        breaches(|file| poles(file).1.value = 300.0),
        ["reference `rails`: the spacing is 300 m (0.3 to 50 m needed)"]
    );
    assert_eq!(
        breaches(|file| poles(file).1.sd = 3.0),
        ["reference `rails`: the sd of the spacing is 3 (0 or more and less than 3 needed)"]
    );
    assert_eq!(
        breaches(|file| poles(file).1.sd = f64::NAN),
        ["reference `rails`: the sd of the spacing is NaN (0 or more and less than 3 needed)"]
    );
    assert_eq!(
        breaches(|file| file.camera.height_m.value = f64::INFINITY),
        ["the camera: the height of the camera is inf m (0.05 to 50 m needed)"]
    );
    assert_eq!(
        breaches(|file| file.round.slope_percent = Some(-51.0)),
        ["the round: the slope is -51 % (-50 to 50 % needed)"]
    );
}

#[test]
fn poles_are_numbered_and_listed_once() {
    assert_eq!(
        breaches(|file| *poles(file).0 = 1),
        [
            "left end of pole 2 of `rails`: the reference has only pole 1",
            "right end of pole 2 of `rails`: the reference has only pole 1"
        ]
    );
    assert_eq!(
        breaches(|file| poles(file).2[1].end = PoleEnd::Left),
        ["left end of pole 1 of `rails`: it is listed twice (once needed)"]
    );
}

#[test]
fn marks_lie_on_the_picture_once_a_frame_at_a_known_time() {
    let place = "tie `letter-b` on frame";
    assert_eq!(
        breaches(|file| file.ties[0].marks[0].x = 1920.5),
        [format!(
            "{place} 100: it lies at (1920.5, 620.25), outside the picture of 1920 × 1080 px"
        )]
    );
    assert_eq!(
        breaches(|file| file.ties[0].marks[0].frame = FrameNumber(400)),
        [format!("{place} 400: frame 400 is not in the clip (frames 0 to 399)")]
    );
    assert_eq!(
        breaches(|file| file.ties[0].marks[0].frame = FrameNumber(41)),
        [format!(
            "{place} 41: the time of this frame is not known (an entry in `clip.frames` needed)"
        )]
    );
    assert_eq!(
        breaches(|file| file.ties[0].marks.push(mark(118, 5.0, 6.0))),
        [format!("{place} 118: it is marked 2 times on this frame (once needed)")]
    );
    assert_eq!(
        breaches(|file| file.ties[0].marks[1].sd_px = 0.0),
        [format!("{place} 118: the placing error is 0 px (0.01 to 200 px needed)")]
    );
    assert_eq!(breaches(|file| file.ties[0].marks[0].y = f64::NAN).len(), 1);
}

#[test]
fn a_hidden_footfall_need_not_lie_on_the_picture() {
    let hide = |file: &mut MarksFile| {
        let footfall = &mut file.approaches[0].footfalls[0];
        footfall.hidden = true;
        (footfall.mark.x, footfall.mark.y, footfall.mark.sd_px) = (-1.0, -2.0, 0.0);
    };
    assert_eq!(breaches(hide), Vec::<String>::new());
}

#[test]
fn limbs_do_what_limbs_can_do() {
    let footfall = |index: usize, change: fn(&mut Footfall)| {
        breaches(move |file| change(&mut file.approaches[0].footfalls[index]))
    };
    assert_eq!(
        footfall(2, |f| f.limb = Limb::LeadingFore),
        [
            "footfall `f3` of approach `a1` on frame 136: a take-off cannot be by the leading fore (a hind limb needed)"
        ]
    );
    assert_eq!(
        footfall(3, |f| f.limb = Limb::TrailingHind),
        [
            "footfall `f4` of approach `a1` on frame 137: it is a second take-off by the trailing hind (one needed)"
        ]
    );
    assert_eq!(
        footfall(0, |f| f.mark.frame = FrameNumber(118)),
        [
            "footfall `f2` of approach `a1` on frame 118: the leading hind meets the ground twice on this frame"
        ]
    );
}

#[test]
fn events_come_in_order() {
    assert_eq!(
        breaches(|file| file.approaches[0].footfalls[0].mark.frame = FrameNumber(155)),
        [
            "footfall `f1` of approach `a1` on frame 155: a stride comes after the take-off on frame 137 (it must come before)"
        ]
    );
    assert_eq!(
        breaches(|file| file.approaches[0].footfalls[4].mark.frame = FrameNumber(136)),
        [
            "footfall `f4` of approach `a1` on frame 137: a take-off comes after the landing on frame 136 (it must come before)"
        ]
    );
    assert_eq!(
        breaches(|file| file.approaches[0].left_turn_frame = Some(FrameNumber(140))),
        ["approach `a1`: the turn is left on frame 140, after the take-off on frame 136"]
    );
}

#[test]
fn notes_and_fences() {
    assert_eq!(
        breaches(|file| file.approaches[0].stride_notes.push(StrideNote::new(0, "x"))),
        ["approach `a1`: a note is on stride 0 (−1 for the last before the fence, −2, … needed)"]
    );
    assert_eq!(
        breaches(|file| file.approaches[0].stride_notes.push(StrideNote::new(-1, "x"))),
        ["approach `a1`: stride -1 has two notes (one needed)"]
    );
    assert_eq!(
        breaches(|file| file.approaches[0].fence = "wall".into()),
        ["approach `a1`: it names fence `wall`, which is not in the file"]
    );
}

#[test]
fn what_is_missing_is_no_breach() {
    let mut file = sample();
    file.references.clear();
    file.approaches[0].footfalls.truncate(1);
    assert_eq!(file.check(), []);
    assert_eq!(
        file.missing(),
        [
            Missing::Reference,
            Missing::FarBase { fence: "oxer".into() },
            Missing::Strides { limbs: "hind limb", approach: "a1".into() },
            Missing::TakeOff { approach: "a1".into() },
            Missing::Landing { approach: "a1".into() },
        ]
    );
}
