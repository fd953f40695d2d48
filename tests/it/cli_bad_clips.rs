//! Clips that are none, and clips that are not the one the marks were placed on.

use image::{Rgb, RgbImage};
use serde_json::json;

use crate::refusal::{made_clip, measurable, refused, say, stable_with};
use crate::support::awkward;

#[test]
fn clips_that_are_none() {
    let stable = stable_with(&measurable());
    std::fs::write(stable.path("empty.mp4"), "").unwrap();
    std::fs::create_dir(stable.path("folder.mp4")).unwrap();
    std::fs::write(stable.path("notes.mp4"), "hello\n").unwrap();
    RgbImage::from_pixel(32, 32, Rgb([9, 9, 9])).save(stable.path("photo.png")).unwrap();
    let mut cases = vec![
        ("gone.mp4", "there is no such file\nhint: check the spelling and the folder"),
        ("empty.mp4", "the file is empty (0 bytes)\nhint: copy the clip from the phone again"),
        ("folder.mp4", "it is a folder, not a file\nhint: name a clip inside the folder"),
        (
            "notes.mp4",
            "no video was found in it (it is damaged or of an unknown kind)\nhint: choose the clip itself, as the phone saved it",
        ),
        ("photo.png", "no video was found in it (it is a still picture)\nhint: "),
    ];
    if let Some(path) = awkward("corrupt_bitstream.webm") {
        std::fs::copy(path, stable.path("cut.webm")).unwrap();
        cases.push(("cut.webm", "the file is damaged, it promises 51 frames and none can be read\nhint: copy the clip from the phone again"));
    }
    for (name, error) in cases {
        let clip = format!("@{name}");
        let error = format!("error: cannot open {}: {error}", stable.path(name).display())
            .replace(&stable.path("").display().to_string(), "");
        refused(&stable, &["look", &clip], 1, &error);
        refused(&stable, &["look", &clip, "--json", "--decode"], 1, &error);
        refused(&stable, &["begin", &clip, "-o", "@new.marks.json"], 1, &error);
        refused(&stable, &["frame", &clip, "0", "-o", "@f.png"], 1, &error);
    }
}

#[test]
fn a_clip_in_place_of_its_marks_file() {
    let stable = stable_with(&measurable());
    made_clip(&stable.path("ride.mp4"));
    for command in
        [&["measure", "@ride.mp4"][..], &["check", "@ride.mp4"], &["mark", "@ride.mp4", "undo"]]
    {
        refused(
            &stable,
            command,
            1,
            "error: cannot use `ride.mp4`: it is a clip (its marks file needed)\nhint: `groundline begin ",
        );
    }
    std::fs::write(stable.path("ride.marks.json"), "{}").unwrap();
    refused(&stable, &["measure", "@ride.mp4"], 1, "hint: beside it lies `ride.marks.json`");
}

#[test]
fn a_clip_that_changed() {
    let mut file = measurable();
    let stable = stable_with(&file);
    made_clip(&stable.path("laid-out.mp4"));
    let bytes = std::fs::read(stable.path("laid-out.mp4")).unwrap();
    let doubt = "doubt: the clip `laid-out.mp4` is not the file that the marks were placed on";
    for (size, hash, error) in [
        (bytes.len() + 1, blake3::hash(&bytes), "needed)"),
        (bytes.len(), blake3::hash(b"other"), "(the same length, other content)"),
    ] {
        file["clip"]["size_bytes"] = json!(size);
        file["clip"]["blake3"] = json!(hash.to_hex().to_string());
        std::fs::write(stable.marks(), file.to_string()).unwrap();
        for words in [
            "frame @lesson.marks.json 0 -o @f.png",
            "stills @lesson.marks.json -o @s",
            "sheet @lesson.marks.json -o @s.pdf",
        ] {
            refused(&stable, &words.split(' ').collect::<Vec<_>>(), 1, error);
        }
        for command in ["measure", "check"] {
            let said = say(&stable, &[command, "@lesson.marks.json"]);
            assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
            assert_eq!(said.out.matches(doubt).count(), 1, "{}", said.out);
        }
    }
}

#[test]
fn another_clip_in_place_of_one_without_hash() {
    let mut file = measurable();
    file["clip"]["size_bytes"] = json!(0);
    let stable = stable_with(&file);
    made_clip(&stable.path("laid-out.mp4"));
    for words in [
        "frame @lesson.marks.json 0 -o @f.png",
        "stills @lesson.marks.json -o @s",
        "sheet @lesson.marks.json -o @s.pdf",
    ] {
        let error = "cannot use the clip `laid-out.mp4`: it has 12 frames of 64 × 48 px (8 frames of 3840 × 2160 px needed)";
        refused(&stable, &words.split(' ').collect::<Vec<_>>(), 1, error);
    }
}
