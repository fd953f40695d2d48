//! From what was typed and what the marks file states to the question a plan answers.

use std::path::Path;

use super::args::PolesArgs;
use crate::cli::Failure;
use crate::cli::chosen_approach::{Unnamed, chosen_approach, chosen_marked};
use crate::cli::measured_args::MeasuredArgs;
use crate::cli::measured_round::MeasuredRound;
use crate::cli::shown_in::Shown;
use crate::poles::{
    ASSUMED_HEIGHT_M, Asked, Stated, Stride, laid_words, measured_stride, slope_words,
};
use crate::quantity::{LengthUnits, Metres, Unit};
use crate::store::load;

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
                let (stated, horse) = match marks {
                    Some(marks) => stated(marks, args.approach.as_deref())?,
                    None => (Stated::default(), String::new()),
                };
                (Stride::typed(length_m, args.stride_within), stated, horse)
            }
            (Some(marks), None) => of_marks(marks, args, &mut taken)?,
            (None, None) => {
                let why = "cannot plan: no stride is given (a marks file or --stride needed)";
                return Err(
                    Failure::usage(why).hint("`groundline poles --stride 3.5 --height 1.0`")
                );
            }
        };
        let height_m = height(args, &stated, &mut taken)?;
        let slope = stated.slope_percent.filter(|_| args.slope.is_none());
        if let Some(slope) = slope.and_then(slope_words) {
            taken.push(format!("{slope}: that of the round"));
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

/// Height of the fences, metres: as typed, else as stated. A walked line is no plan, so that it is
/// counted for an assumed one.
fn height(args: &PolesArgs, stated: &Stated, taken: &mut Vec<String>) -> Result<f64, Failure> {
    if let Some(typed) = args.height {
        return Ok(typed);
    }
    let units: LengthUnits = args.units;
    let laid = |metres: f64| laid_words(Metres::new(metres), units);
    match (stated.height_m, args.walked) {
        (Some(height), _) => {
            taken.push(format!("height {}: that of the fence in the marks file", laid(height)));
            Ok(height)
        }
        (None, Some(_)) => {
            taken.push(format!("fences of {}: assumed", laid(ASSUMED_HEIGHT_M)));
            Ok(ASSUMED_HEIGHT_M)
        }
        (None, None) => {
            let found = if args.marks.is_some() { " and the marks file states none" } else { "" };
            let why = format!("cannot plan: no height of the fences is given{found}");
            Err(Failure::usage(why).hint("`--height 1.00` or `3ft3in`; 0 for poles on the ground"))
        }
    }
}

/// What the file states for an approach, and the horse; nothing is measured.
fn stated(marks: &Path, approach: Option<&str>) -> Result<(Stated, String), Failure> {
    let file = load(marks)?;
    let stated = match (approach, &file.approaches[..]) {
        // Without an approach a file still states its ground.
        (None, []) => Stated::of(&file, ""),
        (approach, _) => Stated::of(&file, &chosen_marked(&file, approach, Unnamed::Last)?.id),
    };
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
    let approaches = &round.measurement.approaches;
    let chosen = chosen_approach(approaches, args.approach.as_deref(), Unnamed::Last)?;
    let shown = Shown::of(&round, marks, args.shown_in.as_deref())?;
    notes.extend(shown.notes);
    let stride = measured_stride(&round.file, chosen, shown.strides).map_err(|error| {
        Failure::new(error).hint("mark more footfalls, or type a stride with --stride")
    })?;
    let stated = Stated::of(&round.file, &chosen.approach);
    Ok((stride, stated, round.file.round.horse.clone()))
}
