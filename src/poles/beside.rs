//! Which published rows belong beside a distance, and how it stands to them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::asked::{Asked, Gait, PonyClass, Size};
use super::exercise::Exercise;
use super::provenance::Seen;
use super::published::{Population, Published, PublishedRow, RowGait, RowKind};
use crate::quantity::{Metres, Unit};

/// Why a row is shown but not compared with.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "why", content = "words", rename_all = "snake_case")]
pub enum Aside {
    /// It is from memory.
    Memory,
    /// It holds for fences of another height.
    OtherHeight,
    /// It holds for fences, and poles on the ground are asked for.
    FencesNotPoles,
    /// It holds for cantered lines, and none for trot was read.
    Cantered,
    /// It holds for horses, and none for ponies was read.
    Horses,
    /// What the file says.
    Stated(String),
}

/// How a distance stands to a row.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "standing", rename_all = "snake_case")]
pub enum Standing {
    /// The row applies.
    Compared {
        /// How far the aim lies outside the row: above 0 longer, below 0 shorter, 0 inside. Exact
        /// for the aim; the row's own rounding is in its printed figure.
        outside_m: Metres,
    },
    /// The row is shown for information.
    Aside {
        /// Why.
        aside: Aside,
    },
}

/// A published row beside a distance.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Beside {
    /// The row, with its source and grade.
    pub row: PublishedRow,
    /// How the distance stands to it.
    pub standing: Standing,
}

/// A row that is of the asked kind and for the asked population, before anything is compared.
pub(super) type Fitting<'a> = (&'a PublishedRow, Option<Aside>);

/// Rows for `exercise`, those that apply before those that stand aside.
pub(super) fn fitting<'a>(
    exercise: Exercise,
    asked: &Asked,
    published: &'a Published,
) -> Vec<Fitting<'a>> {
    let wanted = |row: &&PublishedRow| {
        row.kind == exercise.row_kind()
            && exercise.strides().is_none_or(|strides| row.strides == Some(strides))
    };
    let rows: Vec<&PublishedRow> = published.rows.iter().filter(wanted).collect();
    let gait = exercise.gait(asked.gait);
    let height_m = matches!(exercise, Exercise::Line { .. }).then_some(asked.height_m);
    let found = |size: Size, gait: Gait, instead: Option<Aside>| -> Vec<Fitting<'a>> {
        let chosen = rows.iter().filter(|row| is_for(row, size) && is_in(row, gait));
        chosen.map(|row| (*row, aside(row, height_m).or_else(|| instead.clone()))).collect()
    };
    let mut all = found(asked.size, gait, None);
    let none_applies = |all: &[Fitting<'_>]| all.iter().all(|(_, aside)| aside.is_some());
    if none_applies(&all) && gait == Gait::Trot {
        all.extend(found(asked.size, Gait::Canter, Some(Aside::Cantered)));
    }
    if none_applies(&all) && asked.size != Size::Horse {
        all.extend(found(Size::Horse, gait, Some(Aside::Horses)));
    }
    all.sort_by_key(|(_, aside)| aside.is_some());
    all
}

/// Rows of single strides for the asked population.
pub(super) fn stride_rows<'a>(size: Size, published: &'a Published) -> Vec<Fitting<'a>> {
    let strides = published.rows.iter().filter(|row| row.kind == RowKind::Stride);
    strides.filter(|row| is_for(row, size)).map(|row| (row, aside(row, None))).collect()
}

fn is_for(row: &PublishedRow, size: Size) -> bool {
    use Population as P;
    match size {
        Size::Horse => matches!(row.population, P::NotStated | P::Horse),
        Size::Pony(None) => !matches!(row.population, P::NotStated | P::Horse),
        Size::Pony(Some(class)) => {
            let of_class = match class {
                PonyClass::Small => P::PonySmall,
                PonyClass::Medium => P::PonyMedium,
                PonyClass::Large => P::PonyLarge,
            };
            row.population == P::Pony || row.population == of_class
        }
    }
}

fn is_in(row: &PublishedRow, gait: Gait) -> bool {
    match gait {
        Gait::Trot => row.gait == RowGait::Trot,
        Gait::Canter => matches!(row.gait, RowGait::Canter | RowGait::NotStated),
    }
}

/// Why a row does not apply to fences of `height_m` (`None`: the height does not matter).
fn aside(row: &PublishedRow, height_m: Option<f64>) -> Option<Aside> {
    if row.provenance.seen == Seen::Memory {
        return Some(Aside::Memory);
    }
    if let Some(words) = &row.aside {
        return Some(Aside::Stated(words.clone()));
    }
    let height_m = height_m?;
    if height_m == 0.0 && row.fence_to_m != Some(0.0) {
        return Some(Aside::FencesNotPoles);
    }
    let holds = row.fence_from_m.is_none_or(|from| height_m >= from)
        && row.fence_to_m.is_none_or(|to| height_m <= to);
    (!holds).then_some(Aside::OtherHeight)
}

/// The rows with how `aim` stands to each.
pub(super) fn beside(rows: &[Fitting<'_>], aim: Metres) -> Vec<Beside> {
    let standing = |row: &PublishedRow, aside: &Option<Aside>| match aside {
        Some(aside) => Standing::Aside { aside: aside.clone() },
        None => Standing::Compared { outside_m: outside(aim, row.low_m, row.high_m) },
    };
    rows.iter()
        .map(|(row, aside)| Beside { row: (*row).clone(), standing: standing(row, aside) })
        .collect()
}

/// How far `aim` lies outside low to high; a range that is open at one end has no outside there.
pub(super) fn outside(aim: Metres, low: Option<Metres>, high: Option<Metres>) -> Metres {
    let over = high.map_or(0.0, |high| (aim - high).get().max(0.0));
    let under = low.map_or(0.0, |low| (aim - low).get().min(0.0));
    Metres::new(over + under)
}

/// Low and high end of all rows that apply; `None` when none does.
pub(super) fn envelope(rows: &[Fitting<'_>]) -> Option<(Metres, Metres)> {
    let applying = || rows.iter().filter(|(_, aside)| aside.is_none()).map(|(row, _)| row);
    let low = applying().filter_map(|row| row.low_m).map(Metres::get).reduce(f64::min)?;
    let high = applying().filter_map(|row| row.high_m).map(Metres::get).reduce(f64::max)?;
    Some((Metres::new(low), Metres::new(high)))
}

impl Aside {
    /// Why, in words.
    pub fn words(&self) -> &str {
        match self {
            Self::Memory => "from memory, not compared with",
            Self::OtherHeight => "for fences of another height",
            Self::FencesNotPoles => "for fences, not for poles on the ground",
            Self::Cantered => "for a canter approach",
            Self::Horses => "for horses",
            Self::Stated(words) => words,
        }
    }
}

impl Beside {
    /// The printed figure, for whom, where it was printed, and why it stands aside: "9–10 ft pony
    /// (R20, grade B)".
    pub fn words(&self) -> String {
        let from = self.row.provenance.words();
        let whom = self.row.population_printed.as_deref().unwrap_or("");
        let aside = match &self.standing {
            Standing::Compared { .. } => String::new(),
            Standing::Aside { aside } => format!("; {}", aside.words()),
        };
        format!("{} {whom} ({from}{aside})", self.row.printed).replace("  ", " ")
    }
}
