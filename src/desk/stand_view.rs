//! Where to stand before filming, as the page shows it.

use super::field_numbers::{field_length, field_number};
use super::measured::Measured;
use super::wire::{StandChange, StandQuery, StandRow, StandUsed, StandView};
use crate::draw::{StandPlanInput, Theme, stand_picture};
use crate::quantity::{LengthUnits, Metres, Unit};
use crate::stand::{
    Bounds, Expectation, Handling, Lesson, LevelStrides, Phone, PolesLaid, Side, StandError,
    StandPlan, Start, Within, place_words, stand, stood,
};
use crate::stride::Draws;

/// Width, greatest height and type of the picture, in its own units.
const SIZE: (f64, f64, f64) = (660.0, 600.0, 12.0);
/// The plan of what was typed.
pub(super) fn stand_view(
    asked: &StandQuery,
    units: LengthUnits,
    theme: Theme,
) -> Result<StandView, StandError> {
    let lesson = lesson(asked);
    let start = start(asked)?;
    let usual = Bounds::usual(start.phone().handling);
    let held = asked.height_m.filter(|_| start.here().is_none());
    let bounds = Bounds {
        distance: Within::new(
            asked.nearest_m.unwrap_or(usual.distance.low_m),
            asked.farthest_m.unwrap_or(usual.distance.high_m),
        ),
        height: held.map_or(usual.height, |held| Within::new(held, held)),
        ..usual
    };
    let plan = stand(&lesson, &start, &bounds, Draws::default())?;
    Ok(view(&plan, units, theme))
}

fn lesson(asked: &StandQuery) -> Lesson {
    let usual = Lesson::usual();
    let laid = PolesLaid::usual(
        asked.poles.unwrap_or(usual.poles.count),
        asked.spacing_m.unwrap_or(usual.poles.spacing_m.value),
        asked.pole_length_m.unwrap_or(usual.poles.length_m.value),
    );
    let before_fence_m = asked.last_pole_m.unwrap_or(usual.poles.before_fence_m);
    let mut poles = PolesLaid { before_fence_m, ..laid };
    if asked.paced {
        poles = poles.paced();
    }
    if asked.snapped {
        poles = poles.snapped();
    }
    let strides = LevelStrides {
        count: asked.strides.unwrap_or(usual.strides.count),
        length_m: asked.stride_m.unwrap_or(usual.strides.length_m),
        ..usual.strides
    };
    Lesson { poles, strides, ..usual }
}

/// Errors: half a place.
fn start(asked: &StandQuery) -> Result<Start, StandError> {
    let usual = Phone::unplaced();
    let phone = Phone {
        height_m: asked.height_m.unwrap_or(usual.height_m),
        side: if asked.left { Side::Left } else { Side::Right },
        handling: if asked.turning { Handling::STEADY_HANDS } else { Handling::Fixed },
        field_deg: asked.field_deg.unwrap_or(usual.field_deg),
        frames_per_s: asked.frames_per_s.unwrap_or(usual.frames_per_s),
        ..usual
    };
    match (asked.distance_m, asked.along_m) {
        (Some(distance_m), Some(before_fence_m)) => {
            Ok(Start::Here(Phone { distance_m, before_fence_m, ..phone }))
        }
        (None, None) => Ok(Start::Open(phone)),
        _ => Err(StandError::HalfAPlace),
    }
}

/// What is taken of a field that is empty.
fn used(handling: Handling, units: LengthUnits) -> StandUsed {
    let Lesson { poles, strides, .. } = Lesson::usual();
    let length = |metres: f64| field_length(Metres::new(metres), units);
    let phone = Phone::unplaced();
    let distance = Bounds::usual(handling).distance;
    StandUsed {
        poles: poles.count.to_string(),
        spacing: length(poles.spacing_m.value),
        pole_length: length(poles.length_m.value),
        last_pole: length(poles.before_fence_m),
        strides: strides.count.to_string(),
        stride: length(strides.length_m),
        field: field_number(phone.field_deg),
        frames_per_s: field_number(phone.frames_per_s),
        nearest: length(distance.low_m),
        farthest: length(distance.high_m),
    }
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
    let (bounds, start) = (Bounds::usual(stood.phone.handling), Start::Here(stood.phone));
    let mut plan = stand(&stood.lesson, &start, &bounds, Draws::default())?;
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
        advised: figure.advised,
    });
    let changes = plan.helping(units).into_iter();
    let cautions = plan.cautions.iter().map(|caution| (*caution).to_owned());
    let place = |from: &Expectation| place_words(&from.phone, units);
    StandView {
        sentence: plan.sentence(units),
        now: plan.here.as_ref().map(place),
        advised: plan.advised().map(place),
        rows: rows.collect(),
        unseen: plan.unseen_sentence(),
        view: plan.view_sentences(units),
        changes_head: plan.helping_head(),
        changes: changes.map(|(words, half)| StandChange { words, half }).collect(),
        doubts: plan.doubt_sentences(units),
        cautions: [plan.safety(units)].into_iter().chain(cautions).collect(),
        svg: stand_picture(&input).drawing.svg,
        used: used(plan.changed_from().map_or(Handling::Fixed, |from| from.phone.handling), units),
    }
}
