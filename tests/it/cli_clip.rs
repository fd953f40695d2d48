use groundline::footage::write::{ClipWriter, WriteOptions};
use image::{Rgb, RgbImage};
use serde_json::json;

use crate::program::{Said, groundline, mark, run};
use crate::sample::Stable;

/// Size and length of the clip that the tests make.
const SIZE: (u32, u32) = (192, 108);
const FRAMES: u8 = 12;

/// A folder with a clip of twelve plain frames, 25 a second, and no marks file.
fn stable_with_clip() -> Stable {
    let stable = Stable::new();
    std::fs::remove_file(stable.marks()).unwrap();
    let options = WriteOptions::default();
    let mut writer =
        ClipWriter::at_rate(&stable.path("lesson.mp4"), SIZE, (25, 1), &options).unwrap();
    for frame in 0..FRAMES {
        let picture = RgbImage::from_pixel(SIZE.0, SIZE.1, Rgb([20 * frame, 120, 90]));
        writer.write(&picture).unwrap();
    }
    writer.finish().unwrap();
    stable
}

fn begin(stable: &Stable, options: &str) -> Said {
    let mut program = groundline();
    program.arg("begin").arg(stable.path("lesson.mp4")).args(options.split_whitespace());
    Said::of(program.output().unwrap(), stable)
}

#[test]
fn begin_notes_the_clip_and_marking_reads_its_times() {
    let stable = stable_with_clip();
    begin(&stable, "--turning").done(
        "began `lesson.marks.json`\nclip: 192 × 108 px, 12 frames, 0.48 s, 25.00 frames a second",
    );
    let clip = stable.json()["clip"].clone();
    assert_eq!(clip["file"], "lesson.mp4");
    assert_eq!(clip["picture"], json!({ "width": 192, "height": 108 }));
    assert_eq!((&clip["frame_count"], &clip["frames"]), (&json!(12), &json!([])));
    mark(&stable, "tie post --frame 7 --at 3,4")
        .done("added tie `post`, marked tie `post` on frame 7 at (3, 4)");
    mark(&stable, "tie post --frame 0 --at 5,6").done("marked tie `post` on frame 0 at (5, 6)");
    let frames = stable.json()["clip"]["frames"].clone();
    assert_eq!(
        frames,
        json!([
            { "frame": 0, "time_s": 0.0, "gap_s": 0.04 },
            { "frame": 7, "time_s": 0.28, "gap_s": 0.04 }
        ])
    );
}

#[test]
fn begin_does_not_overwrite() {
    let stable = stable_with_clip();
    begin(&stable, "--slowed 8").done(
        "began `lesson.marks.json`\nclip: 192 × 108 px, 12 frames, 0.48 s, 25.00 frames a second\nslow motion: plays 8 times slower than life",
    );
    let before = stable.text();
    begin(&stable, "")
        .refused(1, "error: cannot begin `lesson.marks.json`: there already is such a file");
    assert_eq!(stable.text(), before);
}

#[test]
fn begin_elsewhere_finds_the_clip_again() {
    let stable = stable_with_clip();
    std::fs::create_dir(stable.path("marks")).unwrap();
    let marks = stable.path("marks/spring.marks.json");
    let said = begin(&stable, &format!("--output {}", marks.display()));
    assert_eq!(said.code, Some(0), "{}", said.err);
    let mut program = groundline();
    program.arg("mark").arg(&marks).args(["tie", "post", "--frame", "3", "--at", "1,2"]);
    Said::of(program.output().unwrap(), &stable)
        .done("added tie `post`, marked tie `post` on frame 3 at (1, 2)");
}

#[test]
fn frame_draws_rulers_around_the_picture() {
    let stable = stable_with_clip();
    begin(&stable, "");
    let target = stable.path("frame.png");
    let words = format!("11 -o {} --crop 100,50,80,40 --enlarge 10", target.display());
    run(&stable, "frame", &words).done("drew frame 11 → `frame.png`");
    let drawn = image::open(&target).unwrap().to_rgb8();
    assert_eq!(drawn.dimensions(), (80 * 10 + 2 * 58, 40 * 10 + 58 + 34));
    // Off the grid the picture is as the clip has it, but for the encoder's rounding.
    let found = drawn.get_pixel(58 + 123, 58 + 77).0;
    let near = found.iter().zip([220u8, 120, 90]).all(|(a, b)| a.abs_diff(b) < 8);
    assert!(near, "{found:?}");
    let words = format!("11 -o {} --crop 100,50,800,40", target.display());
    run(&stable, "frame", &words).done(
        "drew frame 11 → `frame.png`\nnote: the crop reaches past the picture; what lies on it was drawn: 100,50,92,40",
    );
    run(&stable, "frame", "12 -o never.png").refused(
        1,
        "error: cannot read frame 12: the clip ends at frame 11 (0.4 s) in lesson.mp4\nhint: use a frame from 0 to 11",
    );
    let words = format!("3 -o {} --crop 192,0,5,5", target.display());
    run(&stable, "frame", &words)
        .refused(1, "error: cannot crop at 192,0: the picture has 192 × 108 px");
}

#[test]
fn the_ending_decides_what_a_frame_is_written_as() {
    let stable = stable_with_clip();
    let frame = |name: &str| {
        let mut program = groundline();
        program.arg("frame").arg(stable.path("lesson.mp4")).args(["3", "-o"]);
        Said::of(program.arg(stable.path(name)).output().unwrap(), &stable)
    };
    frame("f.jpg").done("drew frame 3 → `f.jpg`");
    let bytes = std::fs::read(stable.path("f.jpg")).unwrap();
    assert_eq!(bytes[..3], [0xff, 0xd8, 0xff]);
    for (name, found) in [("f.gif", "`.gif`"), ("f", "no ending")] {
        frame(name).refused(
            2,
            &format!(
                "error: cannot write `{name}`: its name has {found} (.png or .jpg needed)\n\
                 hint: the ending of the name decides what is written"
            ),
        );
    }
}

#[test]
fn a_contact_sheet_shows_a_stretch_of_frames() {
    let stable = stable_with_clip();
    begin(&stable, "");
    let target = stable.path("sheet.png");
    let words = format!("2-11 -o {} --every 3 --crop 100,50,80,40", target.display());
    run(&stable, "frame", &words).done("drew 4 frames from 2 to 11 → `sheet.png`");
    let drawn = image::open(&target).unwrap().to_rgb8();
    // Two by two, each pixel five wide: frame 2, 5, then 8 and 11.
    assert_eq!(drawn.dimensions(), (2 * 28 + 2 * 400 + 16, 2 * 28 + 44 + 2 * 230 + 16));
    for (at, red) in [((200, 200), 40_u8), ((600, 200), 100), ((200, 450), 160), ((600, 450), 220)]
    {
        let found = drawn.get_pixel(at.0, at.1).0;
        let near = found.iter().zip([red, 120, 90]).all(|(a, b)| a.abs_diff(b) < 8);
        assert!(near, "{at:?}: {found:?}");
    }
    run(&stable, "frame", "2-12 -o never.png").refused(
        1,
        "error: cannot read frame 12: the clip ends at frame 11 (0.4 s) in lesson.mp4\nhint: use a frame from 0 to 11",
    );
}

#[test]
fn marks_are_seen_before_anything_can_be_measured() {
    let stable = stable_with_clip();
    begin(&stable, "");
    mark(&stable, "poles bars --count 2 --spacing 3");
    for (end, at) in [("left", "20.5,30.5"), ("right", "20.5,90.5")] {
        mark(&stable, &format!("pole-end bars 1 {end} --frame 0 --at {at}"));
    }
    let drawn = |frame: &str| {
        let target = stable.path("f.png");
        let words = format!("{frame} -o {}", target.display());
        assert_eq!(run(&stable, "frame", &words).code, Some(0));
        image::open(&target).unwrap().to_rgb8()
    };
    // The thin line between the ends, and an arm of the cross.
    let (marked, bare) = (drawn("0"), drawn("1"));
    for (x, y) in [(20, 60), (26, 30)] {
        let (x, y) = (58 + x, 58 + y);
        assert!(marked.get_pixel(x, y).0[2] > 160, "{:?}", marked.get_pixel(x, y));
        assert!(bare.get_pixel(x, y).0[2] < 110, "{:?}", bare.get_pixel(x, y));
    }
}
