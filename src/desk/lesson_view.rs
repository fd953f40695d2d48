//! A plan for the next lesson as the page shows it.

use super::field_numbers::field_length;
use super::measured::Measured;
use super::open_round::{Others, Shown};
use super::wire::{
    LessonDistance, LessonGait, LessonGoing, LessonReadiness, LessonSize, LessonUsed, LessonView,
    LessonWish,
};
use crate::draw::{LessonPlanInput, Theme, lesson_plan};
use crate::poles::{
    ASSUMED_HEIGHT_M, Asked, Distance, Gait, Going, Plan, PonyClass, Published, Readiness, Size,
    SpeedTables, Stated, Stride, TYPED_WITHIN_M, Version, grouped_notes, laid_words,
    measured_stride, plan, plan_line, published_beside, slope_words, span_words, stride_words,
    versions, walked_words,
};
use crate::quantity::{LengthUnits, Metres, Unit, as_sentence, written_percent};
use crate::stride::ShownStrides;

/// Width and type of the drawing, in its own units.
const DRAWING: (f64, f64) = (860.0, 13.0);

/// The plan that is wished for, from the numbers of a revision. Errors are faults of the program.
pub(super) fn lesson_view(
    measured: &Measured,
    shown: &Shown,
    wish: &LessonWish,
    (units, theme): (LengthUnits, Theme),
) -> Result<LessonView, serde_json::Error> {
    let published = Published::built_in()?;
    let (stated, stride) = stride_of(measured, shown.strides.clone(), wish);
    let height_m = wish.height_m.or(stated.height_m).unwrap_or(ASSUMED_HEIGHT_M);
    let slope_percent = wish.slope_percent.or(stated.slope_percent).unwrap_or(0.0);
    let going = wish.going.map(Going::from).or(stated.going).unwrap_or_default();
    let used = LessonUsed {
        stride: String::new(),
        height: field_length(Metres::new(height_m), units),
        height_m,
        slope: written_percent(slope_percent).trim_end_matches(" %").to_owned(),
        going: going.words().to_owned(),
    };
    let stride = match stride {
        Ok(stride) => stride,
        Err(cannot) => {
            return Ok(LessonView { cannot: Some(cannot), used, ..LessonView::default() });
        }
    };
    let asked = Asked {
        stride,
        height_m,
        gait: wish.gait.into(),
        size: wish.size.into(),
        slope_percent,
        going,
        readiness: wish.readiness.into(),
    };
    let made = match wish.strides {
        Some(strides) => plan_line(&asked, strides, &published),
        None => plan(&asked, &published),
    };
    let plan = match made {
        Ok(plan) => plan.with_speeds(&SpeedTables::built_in()?),
        Err(error) => {
            let cannot = Some(as_sentence(&error.words(units)));
            return Ok(LessonView { cannot, used, ..LessonView::default() });
        }
    };
    let mut taken = taken(wish, &stated, &asked, units);
    let counts = wish.stride_m.is_none();
    if counts {
        taken.extend(about_others(&shown.others));
    }
    let unsettled = counts && matches!(shown.others, Others::BeingLookedAt);
    let used = LessonUsed { stride: field_length(plan.stride_m, units), ..used };
    Ok(LessonView { taken, unsettled, used, ..written_plan(&plan, &published, units, theme) })
}

fn written_plan(
    plan: &Plan,
    published: &Published,
    units: LengthUnits,
    theme: Theme,
) -> LessonView {
    let (width, text) = DRAWING;
    let pace = plan.pace_beside.iter();
    LessonView {
        stride: stride_words(plan, units),
        notes: grouped_notes(plan, units),
        distances: plan.distances.iter().map(|one| written_distance(one, units)).collect(),
        pace: pace
            .flat_map(|pace| std::iter::once(pace.sentence(units)).chain(pace.lines()))
            .collect(),
        cautions: plan.cautions.iter().map(|caution| (*caution).to_owned()).collect(),
        sources: plan.sources(published).into_iter().map(|source| source.words()).collect(),
        drawing: lesson_plan(&LessonPlanInput { plan, units, theme, width, text }).svg,
        ..LessonView::default()
    }
}

/// What the round states for the approach, and the stride or why there is none.
fn stride_of(
    measured: &Measured,
    shown: Option<ShownStrides>,
    wish: &LessonWish,
) -> (Stated, Result<Stride, String>) {
    let approaches = measured.numbers.iter().flat_map(|(_, numbers)| &numbers.approaches);
    let approach = match &wish.approach {
        Some(id) => approaches.into_iter().find(|known| known.approach == *id),
        None => approaches.into_iter().next_back(),
    };
    let in_file = measured.file.approaches.last().map(|approach| approach.id.clone());
    let id = wish.approach.clone().or(in_file).unwrap_or_default();
    let stride = match (wish.stride_m, approach) {
        (Some(length), _) => Ok(Stride::typed(length, TYPED_WITHIN_M)),
        (None, Some(approach)) => {
            measured_stride(&measured.file, approach, shown).map_err(|error| error.to_string())
        }
        (None, None) => Err("no stride is measured yet".to_owned()),
    };
    let stride =
        stride.map_err(|why| format!("{} Type a stride, or mark more.", as_sentence(&why)));
    (Stated::of(&measured.file, &id), stride)
}

/// What the fields leave to the round.
fn taken(wish: &LessonWish, stated: &Stated, asked: &Asked, units: LengthUnits) -> Vec<String> {
    let mut taken = Vec::new();
    if wish.height_m.is_none() {
        let whence = if stated.height_m.is_some() { "as stated" } else { "assumed" };
        let height = laid_words(Metres::new(asked.height_m), units);
        taken.push(format!("fences of {height}, {whence}"));
    }
    let slope = stated.slope_percent.filter(|_| wish.slope_percent.is_none());
    taken.extend(slope.and_then(slope_words).map(|slope| format!("{slope}, as stated")));
    if wish.going.is_none() && stated.going.is_some() {
        taken.push(format!("going {}, from the surface", asked.going.words()));
    }
    taken
}

/// What is to be known of the horse's other rounds beside the range they have shown.
fn about_others(others: &Others) -> Option<String> {
    let alone = |why| Some(format!("strides shown by this round alone: {why}"));
    match others {
        Others::NoName => alone("it names no horse"),
        Others::BeingLookedAt => alone("others of the horse are being measured"),
        Others::LookedAt => None,
    }
}

fn written_distance(distance: &Distance, units: LengthUnits) -> LessonDistance {
    let length = distance.length;
    let version = |(name, version): (&str, &Version)| {
        let beware: String = version.beware().map(|words| format!(", {words}")).collect();
        format!("{name} {}{beware}", laid_words(version.length.aim_m, units))
    };
    LessonDistance {
        name: distance.exercise.words(),
        first: laid_words(length.aim_m, units),
        second: laid_words(length.aim_m, units.other()),
        walked: walked_words(length.aim_m),
        room: span_words(length.low_m, length.high_m, units),
        versions: versions(distance).map(version).collect(),
        warnings: distance.warnings.iter().map(|warning| warning.sentence(units)).collect(),
        published: published_beside(distance)
            .map_or_else(|| "none read".to_owned(), |beside| beside.words(units)),
        rows: distance.beside.iter().map(|beside| beside.words()).collect(),
    }
}

impl From<LessonGait> for Gait {
    fn from(gait: LessonGait) -> Self {
        match gait {
            LessonGait::Canter => Self::Canter,
            LessonGait::Trot => Self::Trot,
        }
    }
}

impl From<LessonSize> for Size {
    fn from(size: LessonSize) -> Self {
        match size {
            LessonSize::Horse => Self::Horse,
            LessonSize::Pony => Self::Pony(None),
            LessonSize::SmallPony => Self::Pony(Some(PonyClass::Small)),
            LessonSize::MediumPony => Self::Pony(Some(PonyClass::Medium)),
            LessonSize::LargePony => Self::Pony(Some(PonyClass::Large)),
        }
    }
}

impl From<LessonGoing> for Going {
    fn from(going: LessonGoing) -> Self {
        match going {
            LessonGoing::Good => Self::Good,
            LessonGoing::Deep => Self::Deep,
            LessonGoing::Slippery => Self::Slippery,
        }
    }
}

impl From<LessonReadiness> for Readiness {
    fn from(readiness: LessonReadiness) -> Self {
        match readiness {
            LessonReadiness::Ready => Self::Ready,
            LessonReadiness::Tired => Self::Tired,
            LessonReadiness::Green => Self::Green,
        }
    }
}
