//! `groundline demo`: a schooling clip of a scene of our own, whose truth is known, and the
//! whole job run on it: look, measure beside true, pictures, charts, tables and sheet.

use std::io::Write;
use std::path::Path;

use image::RgbImage;
use indicatif::{ProgressBar, ProgressStyle};
use rayon::prelude::*;

use super::args::{
    ApproachPictureArgs, BandArgs, ChartsArgs, DemoArgs, LookArgs, MeasureArgs, MeasuredArgs,
    PlanArgs, SheetArgs, StillsArgs, UnitsChoice,
};
use super::measured_round::MeasuredRound;
use super::{Failure, approach_picture, charts, look, measure, plan, sheet, stills};
use crate::arena::render::Renderer;
use crate::arena::{Clicking, Scene, Truth, marks};
use crate::footage::write::{ClipWriter, Preset, WriteOptions};
use crate::marks::{MarksFile, StrideNote};
use crate::quantity::{FrameNumber, LengthUnits, written};
use crate::store::{StoreError, hash_of_file, load, save, undo_path, write_whole};

/// Seeds of the demo's scene and of its clicking errors.
const SCENE_SEED: u64 = 11;
const CLICK_SEED: u64 = 12;
/// Frames painted side by side before they are written.
const BATCH: u32 = 16;

pub(super) fn run(args: DemoArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let folder = &args.folder;
    let earlier = demo_folder(folder)?;
    let mut scene = Scene::eased_then_pushed(SCENE_SEED);
    if args.turning {
        scene = scene.filmed_from_the_hand();
    }
    let truth = Truth::of(&scene).map_err(Failure::new)?;
    let clip = folder.join("schooling.mp4");
    let marks_path = folder.join("schooling.marks.json");
    if earlier {
        writeln!(out, "replacing the earlier demo in `{}`\n", folder.display())?;
    }

    writeln!(out, "1. a schooling clip of known truth: `{}`", clip.display())?;
    film(&scene, &truth, &clip)?;
    look::run(
        LookArgs {
            clip: clip.clone(),
            json: false,
            frames: false,
            decode: false,
            capture_rate: None,
            stream: None,
        },
        out,
    )?;

    writeln!(out, "\n2. marks with realistic clicking errors: `{}`", marks_path.display())?;
    let mut file = marks(&scene, &truth, &Clicking::usual(CLICK_SEED));
    describe(&mut file, &clip)?;
    save(&marks_path, &file)?;

    writeln!(out, "\n3. measured beside true")?;
    let measured =
        || MeasuredArgs { marks: marks_path.clone(), units: UnitsChoice::M, capture_rate: None };
    compare(&MeasuredRound::of(&measured())?, &truth, out)?;

    writeln!(out, "\n4. pictures, charts, tables and sheet")?;
    let stills_folder = folder.join("stills");
    stills::run(
        StillsArgs {
            measured: measured(),
            output: stills_folder,
            whole: false,
            jpeg: false,
            no_names: false,
        },
        out,
    )?;
    let (output, approach) = (folder.join("approach.jpg"), None);
    approach_picture::run(
        ApproachPictureArgs { measured: measured(), output, approach, width: 3000 },
        out,
    )?;
    let (output, approach) = (folder.join("plan.png"), None);
    plan::run(PlanArgs { measured: measured(), output, approach }, out)?;
    let (output, approach) = (folder.join("charts.png"), None);
    let band = BandArgs::default();
    charts::run(ChartsArgs { measured: measured(), band, output, approach }, out)?;
    let xlsx = Some(folder.join("numbers.xlsx"));
    let tables =
        MeasureArgs { measured: measured(), json: false, csv: None, xlsx, no_names: false };
    // What it prints was said under 3.
    measure::run(tables, &mut std::io::sink())?;
    writeln!(out, "wrote the numbers → `{}`", folder.join("numbers.xlsx").display())?;
    sheet::run(
        SheetArgs {
            measured: measured(),
            output: folder.join("sheet.pdf"),
            band,
            stills: false,
            letter: false,
            approach: None,
            no_names: false,
        },
        out,
    )
}

/// Who rides in every demo, and nowhere else.
const RIDER: &str = "Demo rider";
/// Says what lies in the folder, and that it is the demo's to replace.
const ABOUT_FILE: &str = "about-this-demo.txt";
const ABOUT: &str = "Made by `groundline demo`, and replaced when it is run again into this folder.

schooling.mp4                 a rendered clip: horse, rider and numbers are invented
schooling.marks.json          the marks on it, with realistic clicking errors
schooling.marks.json.backup   the marks before the last change
schooling.marks.undo.json     what `groundline mark … undo` can take back
stills, approach.jpg, plan.png, charts.png, numbers.xlsx, sheet.pdf
                              what the commands of those names make of them

Marks of your own belong in a file of another name:
groundline begin schooling.mp4 -o mine.marks.json
";
/// What the demo puts into its folder.
const MADE: [&str; 8] = [
    "schooling.mp4",
    "schooling.marks.json",
    "stills",
    "approach.jpg",
    "plan.png",
    "charts.png",
    "numbers.xlsx",
    "sheet.pdf",
];

/// Makes the folder; refused where something would be replaced that no demo made. Whether an
/// earlier demo is replaced.
fn demo_folder(folder: &Path) -> Result<bool, Failure> {
    let unwritable = |source| StoreError::Unwritable { path: folder.to_owned(), source };
    std::fs::create_dir_all(folder).map_err(unwritable)?;
    let about = folder.join(ABOUT_FILE);
    let shown = folder.display();
    let there = MADE.iter().find(|name| folder.join(name).symlink_metadata().is_ok());
    if let Some(name) = there {
        let other = "choose another folder: `groundline demo FOLDER`";
        let marks = folder.join("schooling.marks.json");
        let is_demo = || load(&marks).is_ok_and(|file| file.round.rider == RIDER);
        if !about.is_file() && !is_demo() {
            return Err(Failure::new(format!(
                "cannot put the demo into `{shown}`: `{name}` there was not made by a demo"
            ))
            .hint(other));
        }
        // An undo list is there once somebody changed the demo's marks.
        if undo_path(&marks).exists() {
            return Err(Failure::new(format!(
                "cannot replace the demo in `{shown}`: its marks were changed since"
            ))
            .hint(format!("{other}, or move `{}` away", undo_path(&marks).display())));
        }
    }
    let unwritable = |source| StoreError::Unwritable { path: about.clone(), source };
    write_whole(&about, ABOUT.as_bytes()).map_err(unwritable)?;
    Ok(there.is_some())
}

fn film(scene: &Scene, truth: &Truth, path: &Path) -> Result<(), Failure> {
    let renderer = Renderer::new(scene, truth);
    let size = (scene.filming.picture.width, scene.filming.picture.height);
    let count = truth.frames.len() as u32;
    let options = WriteOptions { preset: Preset::Veryfast, ..WriteOptions::default() };
    let rate = (scene.filming.frames_per_s.round() as u32, 1);
    let mut writer = ClipWriter::at_rate(path, size, rate, &options)?;
    let style =
        ProgressStyle::with_template("   {bar:30} {pos} of {len} frames").map_err(Failure::new)?;
    let bar = ProgressBar::new(u64::from(count)).with_style(style);
    for first in (0..count).step_by(BATCH as usize) {
        let batch = first..(first + BATCH).min(count);
        let pictures: Vec<RgbImage> =
            batch.into_par_iter().map(|number| renderer.frame(FrameNumber(number))).collect();
        for picture in &pictures {
            writer.write(picture)?;
            bar.inc(1);
        }
    }
    bar.finish_and_clear();
    Ok(writer.finish()?)
}

/// The demo's own round, with the clip's name, size and hash.
fn describe(file: &mut MarksFile, clip: &Path) -> Result<(), Failure> {
    let unreadable = |source| StoreError::Unwritable { path: clip.to_owned(), source };
    file.clip.file =
        clip.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    file.clip.size_bytes = std::fs::metadata(clip).map_err(unreadable)?.len();
    file.clip.blake3 = hash_of_file(clip).map_err(unreadable)?;
    file.round.rider = RIDER.into();
    file.round.horse = "Copper".into();
    file.round.place = "evening school".into();
    file.round.date = Some("2026-09-18".into());
    if let Some(fence) = file.fences.first_mut() {
        fence.name = "Vertical at the long side".into();
    }
    if let Some(approach) = file.approaches.first_mut() {
        approach.note = "Keep the canter from the corner; wait for the fence.".into();
        approach.stride_notes.push(StrideNote {
            stride: -1,
            text: "added".into(),
            other: serde_json::Map::new(),
        });
    }
    Ok(())
}

fn compare(round: &MeasuredRound, truth: &Truth, out: &mut dyn Write) -> Result<(), Failure> {
    let metres = LengthUnits::Metres;
    for approach in &round.measurement.approaches {
        let true_strides = truth.strides_of(approach.reference_limb);
        writeln!(out, "   {:>8}  {:>16}  {:>8}", "stride", "measured", "true")?;
        for row in &approach.strides {
            let measured = row.length_m.map(|length| written(&length, metres).to_string());
            let exact = true_strides.iter().find(|stride| stride.number == row.number);
            writeln!(
                out,
                "   {:>8}  {:>16}  {:>8}",
                format!("\u{2212}{}", -row.number),
                measured.unwrap_or_else(|| "not seen".into()),
                exact.map_or_else(String::new, |stride| format!("{:.2} m", stride.length_m)),
            )?;
        }
        for (name, found, exact) in [
            ("take-off", &approach.take_off, truth.take_off_m),
            ("landing", &approach.landing, truth.landing_m),
        ] {
            if let Some(found) = found {
                let measured = written(&found.distance_m, metres).to_string();
                writeln!(out, "   {name:>8}  {measured:>16}  {:>8}", format!("{exact:.2} m"))?;
            }
        }
        for doubt in &approach.doubts {
            writeln!(out, "   doubt: {}", doubt.sentence())?;
        }
    }
    for doubt in &round.measurement.doubts {
        writeln!(out, "   doubt: {}", doubt.sentence())?;
    }
    Ok(())
}
