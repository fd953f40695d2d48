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
        "done: begin `lesson.marks.json`\nclip: 192 × 108 px, 12 frames, 0.48 s, 25.00 frames a second",
    );
    let clip = stable.json()["clip"].clone();
    assert_eq!(clip["file"], "lesson.mp4");
    assert_eq!(clip["picture"], json!({ "width": 192, "height": 108 }));
    assert_eq!((&clip["frame_count"], &clip["frames"]), (&json!(12), &json!([])));
    mark(&stable, "tie post --frame 7 --at 3,4")
        .done("done: add tie `post`, mark tie `post` on frame 7 at (3, 4)");
    mark(&stable, "tie post --frame 0 --at 5,6").done("done: mark tie `post` on frame 0 at (5, 6)");
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
        "done: begin `lesson.marks.json`\nclip: 192 × 108 px, 12 frames, 0.48 s, 25.00 frames a second\nslow motion: plays 8 times slower than life",
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
        .done("done: add tie `post`, mark tie `post` on frame 3 at (1, 2)");
}

#[test]
fn frame_draws_rulers_around_the_picture() {
    let stable = stable_with_clip();
    begin(&stable, "");
    let target = stable.path("frame.png");
    let words = format!("11 -o {} --crop 100,50,80,40 --enlarge 10", target.display());
    run(&stable, "frame", &words).done("done: draw frame 11 to `frame.png`");
    let drawn = image::open(&target).unwrap().to_rgb8();
    assert_eq!(drawn.dimensions(), (80 * 10 + 2 * 58, 40 * 10 + 58 + 34));
    // Off the grid the picture is as the clip has it, but for the encoder's rounding.
    let found = drawn.get_pixel(58 + 123, 58 + 77).0;
    let near = found.iter().zip([220u8, 120, 90]).all(|(a, b)| a.abs_diff(b) < 8);
    assert!(near, "{found:?}");
    run(&stable, "frame", "12 -o never.png").refused(
        1,
        "error: cannot read frame 12: the clip ends at frame 11 (0.4 s) in lesson.mp4\nhint: use a frame from 0 to 11",
    );
    let words = format!("3 -o {} --crop 192,0,5,5", target.display());
    run(&stable, "frame", &words)
        .refused(1, "error: cannot crop at 192,0: the picture has 192 × 108 px");
}
