//! Nothing that the phone wrote into the clip besides its pictures reaches an output, and with
//! `--no-names` no name does.

use std::path::Path;
use std::process::Command;

use groundline::arena::render::Renderer;
use groundline::arena::{Clicking, Scene, Truth, marks};
use groundline::footage::write::{ClipWriter, Preset, WriteOptions};
use groundline::quantity::FrameNumber;
use groundline::scene::PictureSize;
use groundline::store::{hash_of_file, save};

use crate::program::groundline;
use crate::support::folder;

/// What the tags of the clip say; none of it may be found again.
const TAGS: [(&str, &str); 5] = [
    ("location", "+51.4778-0.0014/"),
    ("make", "Maker of phones"),
    ("model", "Phone model nine"),
    ("title", "Private title"),
    ("creation_time", "2026-05-17T18:04:05Z"),
];
const NAMES: [&str; 4] = ["Rosalind Ferrow", "Thistledown", "Upper Yard", "evening-canter"];

/// A short clip with tags and its marks file.
fn tagged_round(at: &Path) {
    let mut scene = Scene::level(8);
    scene.ride.strides_m = vec![3.5, 3.4];
    scene.ride.away_strides = 0;
    scene.filming.picture = PictureSize { width: 480, height: 270 };
    scene.filming.frames_per_s = 25.0;
    scene.filming.exposure_s = 0.0;
    let truth = Truth::of(&scene).unwrap();
    let plain = at.join("plain.mp4");
    let options = WriteOptions { preset: Preset::Ultrafast, ..WriteOptions::default() };
    let mut writer = ClipWriter::at_rate(&plain, (480, 270), (25, 1), &options).unwrap();
    let renderer = Renderer::new(&scene, &truth);
    for number in 0..truth.frames.len() as u32 {
        writer.write(&renderer.frame(FrameNumber(number))).unwrap();
    }
    writer.finish().unwrap();
    let clip = at.join("evening-canter.mp4");
    let mut ffmpeg = Command::new("ffmpeg");
    ffmpeg.args(["-v", "error", "-i"]).arg(&plain).args(["-c", "copy", "-movflags"]);
    ffmpeg.arg("use_metadata_tags");
    for (key, value) in TAGS {
        ffmpeg.args(["-metadata", &format!("{key}={value}")]);
    }
    assert!(ffmpeg.arg(&clip).status().unwrap().success());
    let bytes = std::fs::read(&clip).unwrap();
    assert!(holds(&bytes, TAGS[1].1), "the clip has no tags to lose");
    let mut file = marks(&scene, &truth, &Clicking::usual(2));
    file.clip.file = "evening-canter.mp4".into();
    file.clip.size_bytes = bytes.len() as u64;
    file.clip.blake3 = hash_of_file(&clip).unwrap();
    file.round.rider = NAMES[0].into();
    file.round.horse = NAMES[1].into();
    file.round.place = NAMES[2].into();
    save(&at.join("round.marks.json"), &file).unwrap();
}

fn holds(bytes: &[u8], words: &str) -> bool {
    bytes.windows(words.len()).any(|window| window == words.as_bytes())
}

/// The kinds of a PNG's chunks (PNG, third edition, 5.3), each once.
fn chunks(png: &[u8]) -> Vec<String> {
    let mut kinds = Vec::new();
    let mut at = 8;
    while at + 8 <= png.len() {
        let length = u32::from_be_bytes(png[at..at + 4].try_into().unwrap()) as usize;
        kinds.push(String::from_utf8(png[at + 4..at + 8].to_vec()).unwrap());
        at += 12 + length;
    }
    kinds.dedup();
    kinds
}

/// The markers of a JPEG before its scan (ITU-T T.81, B.1.1.3).
fn markers(jpeg: &[u8]) -> Vec<u8> {
    let mut found = Vec::new();
    let mut at = 2;
    while jpeg[at] == 0xff && jpeg[at + 1] != 0xda {
        found.push(jpeg[at + 1]);
        at += 2 + usize::from(u16::from_be_bytes([jpeg[at + 2], jpeg[at + 3]]));
    }
    found
}

#[test]
fn no_tag_of_the_clip_and_no_name_reaches_an_output() {
    let kept = folder();
    let at = kept.path();
    tagged_round(at);
    let out = at.join("out");
    let ask = |words: &[&str]| {
        let output = groundline().current_dir(at).args(words).output().unwrap();
        assert!(output.status.success(), "{words:?}: {}", String::from_utf8_lossy(&output.stderr));
        output.stdout
    };
    let marks = "round.marks.json";
    ask(&["stills", marks, "--no-names", "-o", "out"]);
    ask(&["stills", marks, "--no-names", "--jpeg", "-o", "out"]);
    ask(&["approach-picture", marks, "-o", "out/approach.png"]);
    ask(&["approach-picture", marks, "-o", "out/approach.jpg"]);
    for drawn in ["plan.svg", "plan.png"] {
        ask(&["plan", marks, "-o", &format!("out/{drawn}")]);
    }
    ask(&["charts", marks, "-o", "out/charts.svg"]);
    ask(&["sheet", marks, "--no-names", "-o", "out/sheet.pdf"]);
    ask(&["sheet", marks, "--no-names", "-o", "out/sheet.png"]);
    let tables = ["--csv", "out/strides.csv", "--xlsx", "out/strides.xlsx"];
    ask(&[&["measure", marks, "--no-names"], &tables[..]].concat());
    let json = ask(&["measure", marks, "--no-names", "--json"]);
    std::fs::write(out.join("numbers.json"), json).unwrap();

    let mut seen = 0;
    for entry in std::fs::read_dir(&out).unwrap() {
        let path = entry.unwrap().path();
        let bytes = std::fs::read(&path).unwrap();
        let shown = path.display();
        for words in TAGS.iter().map(|(_, value)| *value).chain(NAMES) {
            assert!(!holds(&bytes, words), "{shown} holds `{words}`");
        }
        match path.extension().and_then(|ending| ending.to_str()) {
            Some("png") => {
                let kinds = chunks(&bytes);
                let plain = ["IHDR", "pHYs", "sRGB", "IDAT", "IEND"];
                assert!(
                    kinds.iter().all(|kind| plain.contains(&kind.as_str())),
                    "{shown} {kinds:?}"
                );
            }
            // APP1 holds Exif and XMP, APP13 captions, COM comments; APP0 is the plain header.
            Some("jpg") => {
                let found = markers(&bytes);
                let tagged = |marker: &u8| (0xe1..=0xef).contains(marker) || *marker == 0xfe;
                assert!(!found.iter().any(tagged), "{shown} {found:x?}");
            }
            _ => {}
        }
        seen += 1;
    }
    assert!(seen > 20, "{seen} files");
}
