//! `groundline demo`: three weeks of one horse at one fence, filmed in scenes of our own whose
//! truth is known, and the whole job run on them: look, measure beside true, readings, pictures, charts,
//! tables and sheet of the first, then the weeks compared, a reel of the first above the last, and the next lesson.

mod compare;
mod filming;
mod folder;
mod week;

use std::io::Write;
use std::path::Path;

use super::args::DemoArgs;
use super::clip_args::LookArgs;
use super::measured_args::MeasureArgs;
use super::measured_round::MeasuredRound;
use super::picture_args::{
    ApproachPictureArgs, ChartsArgs, PlanArgs, ReelArgs, ReelSize, StillsArgs,
};
use super::poles::PolesArgs;
use super::reading_args::{JudgeArgs, ReadingArgs, TellerArgs};
use super::sheet_args::{BandArgs, SheetArgs};
use super::shown_in::ShownArgs;
use super::stand_args::{BoundsArgs, LessonArgs, PhoneArgs, StandArgs};
use super::weeks_args::WeeksArgs;
use super::{
    Failure, approach_picture, charts, look, measure, plan, poles, reading, reel, sheet, stand,
    stills, weeks,
};
use crate::arena::Scene;
use crate::poles::{Gait, Readiness, Size};
use crate::quantity::LengthUnits;
use crate::weeks::GroupBy;
use compare::compare;
use folder::demo_folder;
use week::{FENCE, WEEKS, Week};

/// Seed of the demo's scenes.
const SCENE_SEED: u64 = 11;

pub(super) fn run(args: DemoArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let folder = &args.folder;
    if demo_folder(folder)? {
        writeln!(out, "replacing the earlier demo in `{}`\n", folder.display())?;
    }
    let scenes = Scene::three_weeks(SCENE_SEED)
        .map(|scene| if args.turning { scene.filmed_from_the_hand() } else { scene });
    let [first, later @ ..] = &WEEKS;
    let [first_scene, later_scenes @ ..] = &scenes;

    let staged = first.staged(first_scene, folder)?;
    write!(out, "1. ")?;
    staged.film(out)?;
    look(first, folder, out)?;
    write!(out, "\n2. ")?;
    staged.mark(out)?;
    writeln!(out, "\n3. measured beside true")?;
    compare(&MeasuredRound::of(&first.measured(folder))?, &staged.truth, out)?;
    writeln!(out, "\n4. what the numbers support")?;
    say(first, folder, out)?;
    writeln!(out, "\n5. pictures, charts, tables and sheet")?;
    hand_out(first, folder, out)?;

    writeln!(out, "\n6. the same fence, two more weeks")?;
    for (week, scene) in later.iter().zip(later_scenes) {
        let staged = week.staged(scene, folder)?;
        staged.film(out)?;
        staged.mark(out)?;
    }
    writeln!(out)?;
    compare_weeks(folder, out)?;
    writeln!(out, "\n7. a reel, the first week above the last")?;
    make_reel(folder, out)?;
    writeln!(out, "\n8. the next lesson: what to lay after the last week, where to stand")?;
    plan_next_lesson(folder, out)
}

fn look(week: &Week, folder: &Path, out: &mut dyn Write) -> Result<(), Failure> {
    let clip = week.clip(folder);
    let (capture_rate, stream) = (None, None);
    look::run(
        LookArgs { clip, json: false, frames: false, decode: false, capture_rate, stream },
        out,
    )
}

fn say(week: &Week, folder: &Path, out: &mut dyn Write) -> Result<(), Failure> {
    let (band, judge, teller) = (BandArgs::default(), JudgeArgs::default(), TellerArgs::default());
    let measured = week.measured(folder);
    let (approach, no_names, json) = (None, false, false);
    let shown = ShownArgs::default();
    let args = ReadingArgs { measured, approach, band, judge, teller, shown, no_names, json };
    reading::run(args, out)
}

/// All that the commands make of one round.
fn hand_out(week: &Week, folder: &Path, out: &mut dyn Write) -> Result<(), Failure> {
    let measured = || week.measured(folder);
    let band = BandArgs::default();
    let output = folder.join("stills");
    let pictures =
        StillsArgs { measured: measured(), output, whole: false, jpeg: false, no_names: false };
    stills::run(pictures, out)?;
    let (output, approach) = (folder.join("approach.jpg"), None);
    let joined = ApproachPictureArgs { measured: measured(), output, approach, width: 3000 };
    approach_picture::run(joined, out)?;
    let (output, approach) = (folder.join("plan.png"), None);
    plan::run(PlanArgs { measured: measured(), output, approach }, out)?;
    let (output, approach) = (folder.join("charts.png"), None);
    let judge = JudgeArgs::default();
    charts::run(ChartsArgs { measured: measured(), band, judge, output, approach }, out)?;
    let xlsx = Some(folder.join("numbers.xlsx"));
    let tables =
        MeasureArgs { measured: measured(), json: false, csv: None, xlsx, no_names: false };
    // What it prints was said under 3.
    measure::run(tables, &mut std::io::sink())?;
    writeln!(out, "wrote the numbers → `{}`", folder.join("numbers.xlsx").display())?;
    sheet::run(
        SheetArgs {
            no_next_lesson: false,
            measured: measured(),
            output: folder.join("sheet.pdf"),
            band,
            judge: JudgeArgs::default(),
            teller: TellerArgs::default(),
            shown: ShownArgs::default(),
            no_reading: false,
            stills: false,
            letter: false,
            approach: None,
            no_names: false,
        },
        out,
    )
}

fn compare_weeks(folder: &Path, out: &mut dyn Write) -> Result<(), Failure> {
    weeks::run(
        WeeksArgs {
            folder: folder.to_owned(),
            fence: Some(FENCE.to_owned()),
            horse: None,
            rider: Some(week::RIDER.to_owned()),
            group_by: GroupBy::Fence,
            units: LengthUnits::Metres,
            output: Some(folder.join("weeks.pdf")),
            letter: false,
            json: false,
            csv: None,
            no_names: false,
        },
        out,
    )
}

fn make_reel(folder: &Path, out: &mut dyn Write) -> Result<(), Failure> {
    let [first, .., last] = &WEEKS;
    reel::run(
        ReelArgs {
            marks: vec![first.marks(folder), last.marks(folder)],
            output: folder.join("reel.mp4"),
            slow: 1,
            size: ReelSize::Full,
            approach: Vec::new(),
            units: LengthUnits::Metres,
            no_names: false,
        },
        out,
    )
}

fn plan_next_lesson(folder: &Path, out: &mut dyn Write) -> Result<(), Failure> {
    let [first, .., last] = &WEEKS;
    poles::run(
        PolesArgs {
            marks: Some(last.marks(folder)),
            shown_in: Some(folder.to_owned()),
            stride: None,
            stride_within: 0.0,
            approach: None,
            height: None,
            walked: None,
            strides: None,
            gait: Gait::Canter,
            size: Size::Horse,
            slope: None,
            going: None,
            readiness: Readiness::Ready,
            units: LengthUnits::Metres,
            output: Some(folder.join("lesson.pdf")),
            letter: false,
            no_names: false,
            sources: false,
            json: false,
        },
        out,
    )?;
    stand::run(
        StandArgs {
            marks: Some(first.marks(folder)),
            approach: None,
            lesson: LessonArgs::default(),
            phone: PhoneArgs::default(),
            bounds: BoundsArgs::default(),
            units: LengthUnits::Metres,
            json: false,
            output: Some(folder.join("stand.png")),
        },
        out,
    )
}
