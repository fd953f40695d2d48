//! Frames that are damaged in the clip: marks on a guessed picture are doubted.

use serde_json::{Value, json};

use crate::refusal::{measurable, refused, say, stable_with};
use crate::sample::Stable;
use crate::support::awkward;

#[test]
fn a_mark_on_a_guessed_picture_is_doubted() {
    let Some(source) = awkward("corrupt_middle.mp4") else {
        return;
    };
    let stable = Stable::new();
    std::fs::copy(source, stable.path("lesson.mp4")).unwrap();
    std::fs::remove_file(stable.marks()).unwrap();
    assert_eq!(say(&stable, &["begin", "@lesson.mp4"]).code, Some(0));
    let tie = |frame| {
        say(
            &stable,
            &["mark", "@lesson.marks.json", "tie", "post", "--frame", frame, "--at", "5,6"],
        )
    };
    tie("31").done("added tie `post`, marked tie `post` on frame 31 at (5, 6)");
    let doubt = "doubt: frame 32 is damaged in the clip and parts of its picture are guessed: the mark on it may stand on a guess";
    tie("32").done(&format!("marked tie `post` on frame 32 at (5, 6)\n{doubt}"));
    assert_eq!(stable.json()["concealed_frames"], json!([32]));
    assert!(say(&stable, &["check", "@lesson.marks.json"]).out.contains(doubt));
    say(&stable, &["frame", "@lesson.mp4", "32", "-o", "@f.png"]).done(
        "drew frame 32 → `f.png`\ndoubt: frame 32 is damaged in the clip and parts of its picture are guessed",
    );
    let error = "cannot read frame 30: its data is damaged (at 3.000 s) in lesson.mp4\nhint: use the frame before or after it";
    refused(
        &stable,
        &["mark", "@lesson.marks.json", "tie", "post", "--frame", "30", "--at", "5,6"],
        1,
        error,
    );
    assert_eq!(say(&stable, &["mark", "@lesson.marks.json", "undo"]).code, Some(0));
    assert_eq!(stable.json().get("concealed_frames"), None);
}

#[test]
fn measuring_from_a_guessed_picture_is_doubted() {
    let mut file = measurable();
    file["concealed_frames"] = json!([0, 3]);
    let stable = stable_with(&file);
    let said = say(&stable, &["measure", "@lesson.marks.json"]);
    assert_eq!(said.code, Some(0));
    for doubt in [
        "doubt: frame 0 is damaged in the clip and parts of its picture are guessed: the 10 marks on it may stand on a guess\n",
        "doubt: frame 3 is damaged in the clip and parts of its picture are guessed: the mark on it may stand on a guess\n",
    ] {
        assert!(said.out.contains(doubt), "{}", said.out);
    }
    let said = say(&stable, &["measure", "@lesson.marks.json", "--json"]);
    let found: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(
        found["marks_doubts"][1],
        json!({ "doubt": "concealed_frame", "frame": 3, "marks": 1 })
    );
    assert!(found["doubt_sentences"][1].as_str().unwrap().starts_with("frame 3 is damaged"));
}
