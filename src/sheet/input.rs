//! What a sheet is made of.

use crate::draw::{Names, StrideBracket, Tolerance};
use crate::marks::{MarksDoubt, Round};
use crate::quantity::LengthUnits;
use crate::stride::ApproachMeasurement;
use crate::survey::{PlacedPole, SurveyDoubt, Suspect};

/// Everything on the page of one approach. Paper, units, names and the day of printing of a sheet
/// with several are those of the first.
#[derive(Clone, Copy, Debug)]
pub struct SheetInput<'a> {
    /// The approach.
    pub approach: &'a ApproachMeasurement,
    /// The surveyed poles, for the plan.
    pub poles: &'a [PlacedPole],
    /// Marks that do not fit.
    pub suspects: &'a [Suspect],
    /// Reasons to trust the marks less.
    pub marks_doubts: &'a [MarksDoubt],
    /// Reasons to trust the survey less.
    pub survey_doubts: &'a [SurveyDoubt],
    /// Who, where, when.
    pub round: &'a Round,
    /// All strides in one picture, printed whole in place of the stills and as wide as the page;
    /// only on a page that is full otherwise, and of a shape of 2 : 1 or so, smaller. Between 2
    /// and 8 times as wide as high. `None` where there is none: then the stills are printed.
    pub approach_picture: Option<&'a SheetStill>,
    /// Pictures with their overlays, in the order ridden; of more than six the last
    /// six are printed, of fewer or on a full page the last three.
    pub stills: &'a [SheetStill],
    /// What the numbers support, a sentence each, what matters first: that one is printed below the
    /// headline, the others with the notes.
    pub readings: &'a [String],
    /// The next lesson, a sentence each: pole distances, course speeds, where to stand.
    pub next_lesson: &'a [String],
    /// Brackets over the bars, for changes of pace.
    pub brackets: &'a [StrideBracket],
    /// The coach's band; `None` for the mean ± 0.30 m.
    pub tolerance: Option<Tolerance>,
    /// Metres or feet.
    pub units: LengthUnits,
    /// Whether rider and horse are named.
    pub names: Names,
    /// The day of printing, as it shall be printed; empty for none.
    pub printed: &'a str,
    /// The paper.
    pub paper: Paper,
}

/// A picture for the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetStill {
    /// PNG or JPEG.
    pub image: Vec<u8>,
    /// Printed below it.
    pub caption: String,
    /// What a screen reader says of it; the caption when empty.
    pub alt: String,
}

/// The papers of the world.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 × 297 mm.
    #[default]
    A4,
    /// 8.5 × 11 in.
    Letter,
}

impl Paper {
    /// As typst names it.
    pub(super) fn typst_name(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "us-letter",
        }
    }

    /// Width in points (1/72 in).
    pub(super) fn width_pt(self) -> f64 {
        match self {
            Self::A4 => 595.28,
            Self::Letter => 612.0,
        }
    }
}
