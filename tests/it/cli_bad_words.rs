//! Numbers and names that were typed and cannot be used.

use crate::refusal::{made_clip, measurable, refused, stable_with};

#[test]
fn typed_numbers_and_names() {
    let stable = stable_with(&measurable());
    made_clip(&stable.path("clip.mp4"));
    std::fs::write(stable.path("edits.json"), "[{\"edit\": \"set_round\"}]").unwrap();
    std::fs::write(stable.path("cut.json"), "[{").unwrap();
    let footfall =
        |rest: &'static str| format!("mark @lesson.marks.json footfall --limb leading-hind {rest}");
    for (words, code, error) in [
        (
            "frame @clip.mp4 99999 -o @f.png",
            1,
            "the clip ends at frame 11 (0.4 s) in clip.mp4\nhint: use a frame from 0 to 11",
        ),
        ("frame @clip.mp4 -1 -o @f.png", 2, "a whole number, 0 or more, needed"),
        ("frame @clip.mp4 3.5 -o @f.png", 2, "a whole number, 0 or more, needed"),
        ("frame @clip.mp4 0 -o @f.png --crop nan,0,1,1", 2, "four whole numbers as X,Y,W,H needed"),
        (
            "frame @clip.mp4 0 -o @f.png --crop 500,0,1,1",
            1,
            "cannot crop at 500,0: the picture has 64 × 48 px",
        ),
        ("frame @clip.mp4 0 -o @f.png --stream 7", 1, "its only video stream is 0"),
        ("look @clip.mp4 --stream -1", 2, "a whole number, 0 or more, needed"),
        ("look @clip.mp4 --frames", 2, "--json"),
        (
            "mark @lesson.marks.json footfall --limb leading-hind --frame 5000 --at 5,5",
            1,
            "frame 5000 is not in the clip (frames 0 to 7)",
        ),
        (
            &footfall("--frame 0 --at 50000,5"),
            1,
            "it lies at (50000, 5), outside the picture of 3840 × 2160 px",
        ),
        (&footfall("--frame 0 --at nan,5"), 2, "two numbers as X,Y needed"),
        (&footfall("--frame 0 --at 1e999,5"), 2, "two numbers as X,Y needed"),
        (&footfall("--frame 0 --at 5,5 --sd 0"), 2, "a number above 0 needed"),
        (&footfall("--frame 0 --at 5,5 --sd -1"), 2, "a number above 0 needed"),
        (
            &footfall("--frame 0 --at 5,5 --sd 1e9"),
            1,
            "the placing error is 1000000000 px (0.01 to 200 px needed)",
        ),
        (&footfall("--frame 0 --at 5,5 --time inf --gap 1"), 2, "a number needed"),
        (
            "mark @lesson.marks.json poles poles --spacing -3",
            1,
            "the spacing is -3 m (0.3 to 50 m needed)",
        ),
        ("mark @lesson.marks.json poles poles --spacing nan", 2, "a number needed"),
        ("mark @lesson.marks.json poles poles --spacing 1e300", 1, "(0.3 to 50 m needed)"),
        ("mark @lesson.marks.json poles poles --count -4", 2, "a whole number, 0 or more, needed"),
        (
            "mark @lesson.marks.json poles poles --spacing-sd 5",
            1,
            "the sd of the spacing is 5 (0 or more and less than 3 needed)",
        ),
        (
            "mark @lesson.marks.json camera --height -1",
            1,
            "the height of the camera is -1 m (0.05 to 50 m needed)",
        ),
        ("mark @lesson.marks.json camera --focal 0", 2, "a number above 0 needed"),
        ("mark @lesson.marks.json slow-motion 0", 2, "a number from 0.01 to 1000 needed"),
        ("mark @lesson.marks.json slow-motion -8", 2, "a number from 0.01 to 1000 needed"),
        (
            "mark @lesson.marks.json distance poles --length 5",
            1,
            "it is a reference of another kind",
        ),
        ("mark @lesson.marks.json tie a/b --frame 0 --at 5,5", 1, "its id is not usable"),
        ("mark @lesson.marks.json note x --stride 0", 1, "a note is on stride 0"),
        ("mark @lesson.marks.json round --date 2026-13-01", 1, "the date is `2026-13-01`"),
        (
            "mark @lesson.marks.json --edits @edits.json",
            1,
            "cannot read the edits: `round` is missing at line 1",
        ),
        ("mark @lesson.marks.json --edits @cut.json", 1, "it ends in the middle"),
        (
            "mark @lesson.marks.json --edits @clip.mp4",
            1,
            "cannot read the edits: it is not text (`clip.mp4`)",
        ),
        (
            "mark @lesson.marks.json --edits @gone.json",
            1,
            "there is no such file or folder (`gone.json`)",
        ),
        (
            "sheet @lesson.marks.json -o @s.jpg",
            2,
            "cannot write `s.jpg`: its name has `.jpg` (.pdf or .png needed)",
        ),
        (
            "measure @lesson.marks.json --csv @t.csv --xlsx @t.xls",
            2,
            "cannot write `t.xls`: its name has `.xls` (.xlsx needed)",
        ),
        ("schema --edits --measurement", 2, "cannot be used with"),
        (
            "sheet @lesson.marks.json -o @s.pdf --approach nix",
            1,
            "holds no such approach (it holds `approach 0`)",
        ),
        (
            "stills @lesson.marks.json -o @s",
            1,
            "cannot find the clip `laid-out.mp4`: there is no such file",
        ),
        ("schema --edit", 2, "unexpected argument"),
        ("leap", 2, "unrecognized subcommand"),
    ] {
        refused(&stable, &words.split(' ').collect::<Vec<_>>(), code, error);
    }
}

#[test]
fn absurd_capture_rates_are_refused() {
    let stable = stable_with(&measurable());
    made_clip(&stable.path("clip.mp4"));
    let (needed, most) = ("a number above 0 and up to 100000 needed", "100000");
    for command in [
        "look @clip.mp4",
        "begin @clip.mp4",
        "measure @lesson.marks.json",
        "stills @lesson.marks.json -o @s",
        "sheet @lesson.marks.json -o @s.pdf",
    ] {
        for rate in ["0", "-240", "nan", "inf", "1e9", "fast"] {
            let words = format!("{command} --capture-rate {rate}");
            refused(&stable, &words.split(' ').collect::<Vec<_>>(), 2, needed);
        }
        // Sane as a number, but no clip that plays at 25 or 50 frames a second comes from it.
        if !command.starts_with("look") {
            for rate in ["0.01", most] {
                let words = format!("{command} --capture-rate {rate}");
                let error = format!(
                    "cannot use a capture rate of {rate} frames per second: the captured time per second of playing is "
                );
                refused(&stable, &words.split(' ').collect::<Vec<_>>(), 1, &error);
            }
        }
    }
    refused(
        &stable,
        &["begin", "@clip.mp4", "--slowed", "8", "--capture-rate", "240"],
        2,
        "cannot be used with",
    );
}
