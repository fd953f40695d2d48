use proptest::collection::vec;
use proptest::prelude::*;
use serde_json::json;

use super::super::sample::{mark, sample};
use super::super::*;
use crate::quantity::{FrameNumber, Given};

/// Ids that are in the sample, and some that are not.
fn id() -> impl Strategy<Value = String> {
    proptest::sample::select(vec!["rails", "tape", "letter-b", "oxer", "a1", "f1", "f2", "f4", "n"])
        .prop_map(str::to_owned)
}

/// Mostly frames whose time the sample knows.
fn frame() -> impl Strategy<Value = FrameNumber> {
    proptest::sample::select(vec![40, 55, 70, 100, 118, 136, 137, 155, 156, 160, 399, 400])
        .prop_map(FrameNumber)
}

fn any_mark() -> impl Strategy<Value = Mark> {
    (frame(), -20.0..2000.0, 0.0..1100.0).prop_map(|(frame, x, y)| mark(frame.0, x, y))
}

fn end() -> impl Strategy<Value = PoleEnd> {
    proptest::sample::select(PoleEnd::BOTH.to_vec())
}

fn limb() -> impl Strategy<Value = Limb> {
    proptest::sample::select(Limb::ALL.to_vec())
}

fn event() -> impl Strategy<Value = Event> {
    proptest::sample::select(vec![Event::Stride, Event::TakeOff, Event::Landing, Event::Away])
}

fn place() -> impl Strategy<Value = MarkAddress> {
    prop_oneof![
        (0..5u32, end()).prop_map(|(pole, end)| MarkAddress::PoleEnd {
            reference: "rails".into(),
            pole,
            end
        }),
        id().prop_map(|reference| MarkAddress::DistanceFrom { reference }),
        id().prop_map(|reference| MarkAddress::VerticalTop { reference }),
        (0..3u32, end()).prop_map(|(rail, end)| MarkAddress::Rail {
            reference: "n".into(),
            rail,
            end
        }),
        proptest::sample::select(BaseCorner::ALL.to_vec())
            .prop_map(|corner| MarkAddress::FenceBase { fence: "oxer".into(), corner }),
        Just(MarkAddress::Tie { tie: "letter-b".into() }),
        id().prop_map(|footfall| MarkAddress::Footfall { approach: "a1".into(), footfall }),
    ]
}

fn at() -> impl Strategy<Value = Option<usize>> {
    proptest::option::of(0..4usize)
}

fn change<T: std::fmt::Debug + Clone>(
    thing: impl Strategy<Value = T> + Clone,
) -> impl Strategy<Value = ListChange<T>> {
    prop_oneof![
        (thing.clone(), at()).prop_map(|(thing, at)| ListChange::Add { thing, at }),
        (id(), thing).prop_map(|(id, thing)| ListChange::Replace { id, thing }),
        id().prop_map(ListChange::remove),
    ]
}

fn reference() -> impl Strategy<Value = Reference> + Clone {
    let rails = |height: f64, marks: Vec<Mark>| ReferenceKind::FenceRails {
        fence: "oxer".into(),
        rails: vec![RailMarks { left: marks, ..RailMarks::new(Given::new(height, 0.01)) }],
        other: [("of".to_owned(), json!("another version"))].into_iter().collect(),
    };
    let kind = (0.0..3.5, vec(any_mark(), 0..2)).prop_map(move |(h, marks)| rails(h, marks));
    (id(), kind).prop_map(|(id, kind)| Reference { id, kind }).boxed()
}

fn footfall() -> impl Strategy<Value = Footfall> + Clone {
    (id(), limb(), event(), any_mark())
        .prop_map(|(id, limb, event, mark)| Footfall::new(id, limb, event, mark))
        .boxed()
}

fn footfall_fact() -> impl Strategy<Value = FootfallFact> {
    prop_oneof![
        event().prop_map(FootfallFact::Event),
        limb().prop_map(FootfallFact::Limb),
        any::<bool>().prop_map(FootfallFact::Hidden),
    ]
}

fn approach_fact() -> impl Strategy<Value = ApproachFact> {
    prop_oneof![
        proptest::option::of(limb()).prop_map(ApproachFact::ReferenceLimb),
        Just(ApproachFact::Lead(Some(Lead::Right))),
        proptest::option::of(frame()).prop_map(ApproachFact::LeftTurnFrame),
        "[a-z]{0,4}".prop_map(ApproachFact::Note),
        vec((-9..2i32).prop_map(|n| StrideNote::new(n, "x")), 0..3)
            .prop_map(ApproachFact::StrideNotes),
    ]
}

fn facts() -> impl Strategy<Value = Edit> {
    prop_oneof![
        "[a-z]{0,4}"
            .prop_map(|rider| Edit::SetRound { round: Round { rider, ..Round::default() } }),
        (-0.5..6.0)
            .prop_map(|sway_sd_m| CameraPrior::usual(Motion::Turning { sway_sd_m }))
            .prop_map(|camera| Edit::SetCamera { camera }),
        (-0.1..1.0).prop_map(|rate| Edit::SetCapture { capture_seconds_per_second: rate }),
        (frame(), at()).prop_map(|(frame, at)| {
            let time = MarkedFrame::new(frame, f64::from(frame.0) / 30.0, 0.04);
            Edit::NoteFrame { time, at }
        }),
        frame().prop_map(|frame| Edit::ForgetFrame { frame }),
        (frame(), any::<bool>())
            .prop_map(|(frame, concealed)| Edit::NoteConcealed { frame, concealed }),
    ]
}

fn single_edit() -> impl Strategy<Value = Edit> {
    prop_oneof![
        2 => facts(),
        1 => change(reference()).prop_map(Edit::Reference),
        1 => change(id().prop_map(|id| Tie::new(id, TiePlace::Anywhere)).boxed()).prop_map(Edit::Tie),
        1 => change(id().prop_map(Fence::new).boxed()).prop_map(Edit::Fence),
        1 => change((id(), id()).prop_map(|(id, fence)| Approach::new(id, fence)).boxed())
            .prop_map(Edit::Approach),
        2 => change(footfall())
            .prop_map(|change| Edit::Footfall { approach: "a1".into(), change }),
        2 => (id(), footfall_fact()).prop_map(|(footfall, fact)| Edit::SetFootfall {
            approach: "a1".into(),
            footfall,
            fact
        }),
        2 => approach_fact()
            .prop_map(|fact| Edit::SetApproach { approach: "a1".into(), fact }),
        4 => (place(), any_mark(), at())
            .prop_map(|(place, mark, at)| Edit::PlaceMark { place, mark, at }),
        2 => (place(), frame(), -9.0..9.0, -9.0..9.0)
            .prop_map(|(place, frame, dx, dy)| Edit::NudgeMark { place, frame, dx, dy }),
        2 => (place(), frame()).prop_map(|(place, frame)| Edit::RemoveMark { place, frame }),
    ]
}

fn edit() -> impl Strategy<Value = Edit> {
    prop_oneof![
        5 => single_edit(),
        1 => vec(single_edit(), 0..4).prop_map(|edits| Edit::Several { edits }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn undoing_all_restores_and_redoing_all_restores_again(edits in vec(edit(), 1..60)) {
        let start = sample();
        let mut file = start.clone();
        let mut history = History::default();
        let mut states = vec![start.clone()];
        for edit in edits {
            let before = file.clone();
            match history.make(&mut file, edit) {
                Ok(()) => states.push(file.clone()),
                Err(_) => prop_assert_eq!(&file, &before),
            }
            prop_assert_eq!(file.check(), vec![]);
        }
        prop_assert_eq!(&file.other, &start.other);
        for state in states.iter().rev().skip(1) {
            prop_assert!(history.undo(&mut file).unwrap().is_some());
            prop_assert_eq!(&file, state);
        }
        prop_assert!(history.undo(&mut file).unwrap().is_none());
        for state in &states[1..] {
            prop_assert!(history.redo(&mut file).unwrap().is_some());
            prop_assert_eq!(&file, state);
        }
        prop_assert!(history.redo(&mut file).unwrap().is_none());
    }

    #[test]
    fn edits_and_files_survive_json(edits in vec(edit(), 1..12)) {
        let mut file = sample();
        for edit in edits {
            let text = serde_json::to_string(&edit).unwrap();
            prop_assert_eq!(&serde_json::from_str::<Edit>(&text).unwrap(), &edit);
            let _ = file.apply(edit);
        }
        let text = serde_json::to_string_pretty(&file).unwrap();
        prop_assert_eq!(serde_json::from_str::<MarksFile>(&text).unwrap(), file);
    }
}

#[test]
fn a_new_edit_ends_redoing() {
    let mut file = sample();
    let mut history = History::default();
    let forget = |frame| Edit::ForgetFrame { frame: FrameNumber(frame) };
    history.make(&mut file, forget(70)).unwrap();
    history.undo(&mut file).unwrap();
    let remove = Edit::Tie(ListChange::remove("letter-b"));
    history.make(&mut file, remove).unwrap();
    assert_eq!(history.redo(&mut file).unwrap(), None);
    assert_eq!(history.done.len(), 1);
}

#[test]
fn a_mark_on_an_unknown_frame_brings_its_time() {
    let mut file = sample();
    let place = MarkAddress::Tie { tie: "letter-b".into() };
    let edit = Edit::PlaceMark { place, mark: mark(160, 8.0, 9.0), at: None };
    assert_eq!(
        file.apply(edit.clone()).unwrap_err().to_string(),
        "tie `letter-b` on frame 160: the time of this frame is not known (an entry in `clip.frames` needed)"
    );
    assert_eq!(edit.frames_wanted(&file), [FrameNumber(160)]);
    let edit = edit.with_frames(vec![MarkedFrame::new(FrameNumber(160), 5.34, 0.04)]);
    assert_eq!(edit.frames_wanted(&file), []);
    assert_eq!(edit.to_string(), "mark tie `letter-b` on frame 160 at (8, 9)");
    assert_eq!(edit.as_done().to_string(), "marked tie `letter-b` on frame 160 at (8, 9)");
    file.apply(edit).unwrap();
    assert_eq!(file.clip.time_of(FrameNumber(160)).unwrap().time_s, 5.34);
}

#[test]
fn refusals_say_what_there_is() {
    let refused = |edit: Edit| sample().apply(edit).unwrap_err().to_string();
    assert_eq!(
        refused(Edit::Fence(ListChange::remove("wall"))),
        "there is no fence `wall` in the file (it has `oxer`)"
    );
    assert_eq!(
        refused(Edit::Tie(ListChange::add(Tie::new("letter-b", TiePlace::Ground)))),
        "there already is a tie `letter-b` (an id of its own needed)"
    );
    assert_eq!(
        refused(Edit::RemoveMark {
            place: MarkAddress::Tie { tie: "letter-b".into() },
            frame: FrameNumber(40)
        }),
        "there is no mark of the tie `letter-b` on frame 40 (it is marked on 100, 118)"
    );
    assert_eq!(
        refused(Edit::Fence(ListChange::remove("oxer"))),
        "approach `a1`: it names fence `oxer`, which is not in the file"
    );
}
