//! From what was typed and what the marks file states to the question a plan answers.

use std::path::Path;

use super::args::PolesArgs;
use crate::cli::Failure;
use crate::cli::measured_args::MeasuredArgs;
use crate::cli::measured_round::MeasuredRound;
use crate::cli::shown_in::Shown;
use crate::poles::{Asked, Stated, Stride, measured_stride};
use crate::quantity::{Given, LengthUnits, written_percent};
use crate::store::load;
use crate::stride::ApproachMeasurement;

/// A question with where its parts come from.
pub(super) struct Asking {
    pub asked: Asked,
    /// What the marks file decided, a line each.
    pub taken: Vec<String>,
    /// The horse, where the marks file names it.
    pub horse: String,
}

impl Asking {
    pub fn of(args: &PolesArgs) -> Result<Self, Failure> {
        let mut taken = Vec::new();
        let (stride, stated, horse) = match (&args.marks, args.stride) {
            (marks, Some(length_m)) => {
                let length_m = Given::new(length_m, args.stride_within / 1.96);
                let (stated, horse) = match marks {
                    Some(marks) => stated(marks, args.approach.as_deref())?,
                    None => (Stated::default(), String::new()),
                };
                (Stride::Typed { length_m }, stated, horse)
            }
            (Some(marks), None) => of_marks(marks, args, &mut taken)?,
            (None, None) => {
                let why = "cannot plan: no stride is given (a marks file or --stride needed)";
                return Err(
                    Failure::usage(why).hint("`groundline poles --stride 3.5 --height 1.0`")
                );
            }
        };
        let height_m = args.height.or(stated.height_m).ok_or_else(|| {
            let found = if args.marks.is_some() { " and the marks file states none" } else { "" };
            let why =
                format!("cannot plan: no height of the fences is given{found} (metres needed)");
            Failure::usage(why).hint("`--height 1.00`; 0 for poles on the ground")
        })?;
        if args.height.is_none() {
            taken.push(format!("height {height_m} m: that of the fence in the marks file"));
        }
        let slope = stated.slope_percent.filter(|_| args.slope.is_none());
        if let Some(slope) = slope.filter(|slope| *slope != 0.0) {
            taken.push(format!("slope {}: that of the round", written_percent(slope)));
        }
        let going = stated.going.filter(|_| args.going.is_none());
        if let Some(going) = going {
            taken.push(format!("going {}: from the surface of the round", going.words()));
        }
        let asked = Asked {
            stride,
            height_m,
            gait: args.gait,
            size: args.size,
            slope_percent: args.slope.or(slope).unwrap_or(0.0),
            going: args.going.or(going).unwrap_or_default(),
            readiness: args.readiness,
        };
        Ok(Self { asked, taken, horse })
    }
}

/// What the file states for an approach, and the horse; nothing is measured.
fn stated(marks: &Path, approach: Option<&str>) -> Result<(Stated, String), Failure> {
    let file = load(marks)?;
    let last = file.approaches.last().map(|last| last.id.as_str());
    let stated = Stated::of(&file, approach.or(last).unwrap_or_default());
    Ok((stated, file.round.horse))
}

/// The strides of one approach as a plan takes them, what the file states for it, and the horse;
/// `notes` gets what could not be counted.
fn of_marks(
    marks: &Path,
    args: &PolesArgs,
    notes: &mut Vec<String>,
) -> Result<(Stride, Stated, String), Failure> {
    let measured =
        MeasuredArgs { marks: marks.to_owned(), units: LengthUnits::Metres, capture_rate: None };
    let round = MeasuredRound::of(&measured)?;
    let chosen = chosen(&round.measurement.approaches, args.approach.as_deref())?;
    let shown = Shown::of(&round, marks, args.shown_in.as_deref())?;
    notes.extend(shown.notes);
    let stride = measured_stride(chosen, shown.strides).map_err(|error| {
        Failure::new(error).hint("mark more footfalls, or type a stride with --stride")
    })?;
    let stated = Stated::of(&round.file, &chosen.approach);
    Ok((stride, stated, round.file.round.horse.clone()))
}

fn chosen<'a>(
    all: &'a [ApproachMeasurement],
    approach: Option<&str>,
) -> Result<&'a ApproachMeasurement, Failure> {
    let found = match approach {
        Some(id) => all.iter().find(|known| known.approach == id),
        None => all.last(),
    };
    found.ok_or_else(|| {
        let named: Vec<&str> = all.iter().map(|known| known.approach.as_str()).collect();
        Failure::new(format!(
            "cannot plan for approach `{}`: the file holds {}",
            approach.unwrap_or_default(),
            named.join(", ")
        ))
    })
}
