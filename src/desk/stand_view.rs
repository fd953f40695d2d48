//! Where to stand before filming, as the page shows it.

use super::measured::Measured;
use super::wire::{StandChange, StandQuery, StandRow, StandView};
use crate::draw::{StandPlanInput, Theme, stand_picture};
use crate::quantity::LengthUnits;
use crate::stand::{
    Bounds, Handling, Lesson, LevelStrides, Phone, PolesLaid, Side, StandError, StandPlan,
    place_words, stand, stood,
};
use crate::stride::Draws;

/// Width, greatest height and type of the picture, in its own units.
const SIZE: (f64, f64, f64) = (660.0, 600.0, 12.0);
/// A sway of steady hands, as a marks file that is begun for a turning phone has it.
const STEADY_HANDS_M: f64 = 0.03;

/// The plan of what was typed.
pub(super) fn stand_view(
    asked: &StandQuery,
    units: LengthUnits,
    theme: Theme,
) -> Result<StandView, StandError> {
    let usual = Lesson::usual();
    let poles = PolesLaid {
        before_fence_m: asked.last_pole_m,
        ..PolesLaid::usual(asked.poles, asked.spacing_m, usual.poles.length_m.value)
    };
    let lesson = Lesson {
        poles: if asked.paced { poles.paced() } else { poles },
        strides: LevelStrides { count: asked.strides, ..LevelStrides::USUAL },
        ..usual
    };
    let handling = match asked.turning {
        true => Handling::Turning { sway_sd_m: STEADY_HANDS_M },
        false => Handling::Fixed,
    };
    let phone = Phone {
        height_m: asked.height_m,
        side: if asked.left { Side::Left } else { Side::Right },
        handling,
        ..Phone::usual(asked.along_m, asked.distance_m)
    };
    let plan = stand(&lesson, &phone, &Bounds::USUAL, Draws::default())?;
    Ok(view(&plan, units, theme))
}

/// The plan of an approach that was filmed: how to stand better the next time.
pub(super) fn stood_view(
    measured: &Measured,
    approach: Option<&str>,
    units: LengthUnits,
    theme: Theme,
) -> Result<StandView, StandError> {
    let lacking = || StandError::Lacking {
        what: "an approach with strides is needed".to_owned(),
        hint: "mark poles, the fence and two hooves at least",
    };
    let (survey, measurement) = measured.numbers.as_ref().ok_or_else(lacking)?;
    let approaches = &measurement.approaches;
    let named = approaches.iter().find(|known| Some(known.approach.as_str()) == approach);
    let approach = named.or(approaches.last()).ok_or_else(lacking)?;
    let stood = stood(&measured.file, survey, approach)?;
    let mut plan = stand(&stood.lesson, &stood.phone, &Bounds::USUAL, Draws::default())?;
    plan.doubts = stood.doubts;
    Ok(view(&plan, units, theme))
}

fn view(plan: &StandPlan, units: LengthUnits, theme: Theme) -> StandView {
    let (width, max_height, text) = SIZE;
    // The words stand beside it.
    let captioned = false;
    let input = StandPlanInput { plan, units, theme, width, max_height, text, captioned };
    let rows = plan.figures(units).into_iter().map(|figure| StandRow {
        name: figure.name,
        now: figure.now,
        better: figure.better,
    });
    let changes = plan.helping(units).into_iter();
    let cautions = [plan.safety].into_iter().chain(plan.cautions.iter().copied());
    StandView {
        sentence: plan.advice.sentence(units),
        now: place_words(&plan.here.phone, units),
        better: plan.better().map(|better| place_words(&better.phone, units)),
        rows: rows.collect(),
        unseen: plan.here.unseen.sentence(),
        changes: changes.map(|(words, half)| StandChange { words, half }).collect(),
        doubts: plan.doubt_sentences(),
        cautions: cautions.map(str::to_owned).collect(),
        svg: stand_picture(&input).drawing.svg,
    }
}
