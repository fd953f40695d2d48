//! `groundline poles`: distances for the next lesson.

use std::io::Write;

use super::Failure;
use super::args::{
    GaitChoice, GoingChoice, MeasuredArgs, PolesArgs, ReadinessChoice, SizeChoice, UnitsChoice,
};
use super::measured_round::MeasuredRound;
use crate::poles::{
    Asked, Beside, Distance, Gait, Going, Plan, PonyClass, Published, Readiness, Size, Standing,
    Stride, Version, distance_words, feet_and_inches, plan,
};
use crate::quantity::{Given, LengthUnits, Metres, Unit, written, written_bare};
use crate::stride::ApproachMeasurement;

pub(super) fn run(args: PolesArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let stride = match (&args.marks, args.stride) {
        (_, Some(length_m)) => {
            Stride::Typed { length_m: Given::new(length_m, args.stride_within / 1.96) }
        }
        (Some(marks), None) => {
            let measured =
                MeasuredArgs { marks: marks.clone(), units: UnitsChoice::M, capture_rate: None };
            measured_stride(&MeasuredRound::of(&measured)?, args.approach.as_deref())?
        }
        (None, None) => {
            let why = "cannot plan: no stride is given (a marks file or --stride needed)";
            return Err(Failure::usage(why).hint("`groundline poles --stride 3.5 --height 1.0`"));
        }
    };
    let asked = Asked {
        stride,
        height_m: args.height,
        gait: args.gait.into(),
        size: args.size.into(),
        slope_percent: args.slope,
        going: args.going.into(),
        readiness: args.readiness.into(),
    };
    let published = Published::built_in().map_err(Failure::new)?;
    let plan = plan(&asked, &published).map_err(Failure::new)?;
    if args.json {
        writeln!(out, "{}", serde_json::to_string_pretty(&plan).map_err(Failure::new)?)?;
        return Ok(());
    }
    print(&plan, args.sources, out)?;
    if args.sources { print_sources(&plan, &published, out) } else { Ok(()) }
}

/// The strides of one approach as a plan takes them.
fn measured_stride(round: &MeasuredRound, approach: Option<&str>) -> Result<Stride, Failure> {
    let all = &round.measurement.approaches;
    let chosen: Option<&ApproachMeasurement> = match approach {
        Some(id) => all.iter().find(|known| known.approach == id),
        None => all.last(),
    };
    let chosen = chosen.ok_or_else(|| {
        let named: Vec<&str> = all.iter().map(|known| known.approach.as_str()).collect();
        Failure::new(format!(
            "cannot plan for approach `{}`: the file holds {}",
            approach.unwrap_or_default(),
            named.join(", ")
        ))
    })?;
    let levelness = chosen.levelness.as_ref().ok_or_else(|| {
        Failure::new("cannot plan from these marks: fewer than two strides have a length")
            .hint("mark more footfalls, or type a stride with --stride")
    })?;
    let scatter = levelness.variation_percent.value.get() / 100.0 * levelness.mean_m.value.get();
    let shown_m = chosen.strides.iter().filter_map(|row| row.length_m).collect();
    Ok(Stride::Measured { mean_m: levelness.mean_m, scatter_sd_m: Metres::new(scatter), shown_m })
}

fn print(plan: &Plan, sources: bool, out: &mut dyn Write) -> Result<(), Failure> {
    let metres = |length| written_bare(length, LengthUnits::Metres);
    let stride = match &plan.asked.stride {
        Stride::Measured { mean_m, shown_m, .. } => {
            let mean = written(mean_m, LengthUnits::Metres);
            format!("{mean}, the mean of {} measured strides", shown_m.len())
        }
        Stride::Typed { .. } => {
            format!("{} ± {}, as typed", metres(plan.stride_m), metres(plan.stride_plus_minus_m))
        }
    };
    writeln!(out, "stride {stride} ({})\n", feet_and_inches(plan.stride_m))?;
    for distance in &plan.distances {
        print_distance(distance, sources, out)?;
    }
    writeln!(
        out,
        "\nIn brackets the room around the distance: half the step between the published tables, and \
         the stride's ±. A walked pace is 3 ft, four to a 12-ft stride. --sources lists the tables."
    )?;
    for caution in plan.cautions {
        writeln!(out, "{caution}")?;
    }
    Ok(())
}

fn print_distance(distance: &Distance, sources: bool, out: &mut dyn Write) -> Result<(), Failure> {
    let words = distance_words(distance);
    writeln!(out, "{:<31} {:<25} {:<38} {}", words.name, words.metres, words.feet, words.walked)?;
    let version = |name: &str, version: &Option<Version>| {
        version.as_ref().map(|version| {
            let length = written_bare(version.length.aim_m, LengthUnits::Metres);
            format!("{name} {length} ({})", feet_and_inches(version.length.aim_m))
        })
    };
    let versions: Vec<String> =
        [version("shorter", &distance.shorter), version("longer", &distance.longer)]
            .into_iter()
            .flatten()
            .collect();
    if !versions.is_empty() {
        writeln!(out, "{:5}to adjust: {}", "", versions.join(", "))?;
    }
    for warning in &distance.warnings {
        writeln!(out, "{:5}note: {}", "", warning.sentence(LengthUnits::Metres))?;
    }
    if sources {
        writeln!(out, "{:5}{}", "", words.rule)?;
        for beside in &distance.beside {
            writeln!(out, "{:5}· {}", "", row_words(beside))?;
        }
    }
    Ok(())
}

/// What the tags beside the rows stand for.
fn print_sources(plan: &Plan, published: &Published, out: &mut dyn Write) -> Result<(), Failure> {
    let used = |tag: &str| {
        let mut rows = plan.distances.iter().flat_map(|distance| &distance.beside);
        rows.any(|beside| beside.row.sources.iter().any(|known| known == tag))
    };
    writeln!(out)?;
    for source in published.sources.iter().filter(|source| used(&source.tag)) {
        writeln!(
            out,
            "{:<4} {} ({}; grade {})",
            source.tag,
            source.what,
            source.place,
            source.grade.words()
        )?;
    }
    Ok(())
}

fn row_words(beside: &Beside) -> String {
    let row = &beside.row;
    let from = match row.sources.is_empty() {
        true => "from memory".to_owned(),
        false => format!("{}, grade {}", row.sources.join(" "), row.grade.words()),
    };
    let whom = row.population_printed.as_deref().unwrap_or("");
    let aside = match &beside.standing {
        Standing::Compared { .. } => String::new(),
        Standing::Aside { aside } => format!("; {}", aside.words()),
    };
    format!("{} {whom} ({from}{aside})", row.printed).replace("  ", " ")
}

impl From<GaitChoice> for Gait {
    fn from(choice: GaitChoice) -> Self {
        match choice {
            GaitChoice::Trot => Self::Trot,
            GaitChoice::Canter => Self::Canter,
        }
    }
}

impl From<SizeChoice> for Size {
    fn from(choice: SizeChoice) -> Self {
        match choice {
            SizeChoice::Horse => Self::Horse,
            SizeChoice::Pony => Self::Pony(None),
            SizeChoice::SmallPony => Self::Pony(Some(PonyClass::Small)),
            SizeChoice::MediumPony => Self::Pony(Some(PonyClass::Medium)),
            SizeChoice::LargePony => Self::Pony(Some(PonyClass::Large)),
        }
    }
}

impl From<GoingChoice> for Going {
    fn from(choice: GoingChoice) -> Self {
        match choice {
            GoingChoice::Good => Self::Good,
            GoingChoice::Deep => Self::Deep,
            GoingChoice::Slippery => Self::Slippery,
        }
    }
}

impl From<ReadinessChoice> for Readiness {
    fn from(choice: ReadinessChoice) -> Self {
        match choice {
            ReadinessChoice::Ready => Self::Ready,
            ReadinessChoice::Tired => Self::Tired,
            ReadinessChoice::Green => Self::Green,
        }
    }
}
