//! What will be known of the strides from one place.

use schemars::JsonSchema;
use serde::Serialize;

use super::aiming::{View, view};
use super::doubt::StandDoubt;
use super::expected_marks::{ExpectedMarks, expected_marks};
use super::lesson::{LaidFootfall, Lesson};
use super::phone::Phone;
use super::seen::Unseen;
use super::sureness::{Sureness, Wanted};
use crate::marks::Limb;
use crate::quantity::{Metres, Seconds, StridesPerMinute, Unit};
use crate::scene::GroundPoint;
use crate::stride::{ApproachMeasurement, Draws, MeasureError, measure};
use crate::survey::{GroundEllipse, SurveyDoubt};

/// What one place gives.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Expectation {
    /// The phone there.
    pub phone: Phone,
    /// The strides in the order ridden, −1 last.
    pub strides: Vec<ExpectedRow>,
    /// Half the 95 % interval of the take-off distance; `None` where it cannot be measured.
    pub take_off_plus_minus_m: Option<Metres>,
    /// The same of the landing distance.
    pub landing_plus_minus_m: Option<Metres>,
    /// What the place is judged by; `None` unless all strides and the take-off can be measured.
    pub sureness: Option<Sureness>,
    /// Contacts of the hind limb that delimits the strides, first to last, then the landing.
    pub contacts: Vec<ExpectedContact>,
    /// What it sees.
    pub view: View,
    /// What the picture does not hold.
    pub unseen: Unseen,
    /// Reasons to trust this less.
    pub doubts: Vec<StandDoubt>,
}

/// One stride.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ExpectedRow {
    /// Counted back from the fence; −1 is the last.
    pub number: i32,
    /// Half the 95 % interval of its length; `None` where it cannot be measured.
    pub length_plus_minus_m: Option<Metres>,
    /// The same of its duration, from the time between frames.
    pub duration_plus_minus_s: Option<Seconds>,
    /// The same of its tempo.
    pub tempo_plus_minus_strides_per_min: Option<StridesPerMinute>,
}

/// A contact and how well its place will be known.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ExpectedContact {
    /// The stride it begins; 0 is take-off, 1 the landing.
    pub stride: i32,
    /// Where it is laid: x the way the horse goes from the ground line, y to the left.
    pub place: GroundPoint,
    /// One-sd ellipse of its place among the poles; `None` where it is out of the picture.
    pub ellipse: Option<GroundEllipse>,
}

/// What will be known of the strides of `lesson` when `phone` films it.
pub fn expect(lesson: &Lesson, phone: &Phone, draws: Draws) -> Expectation {
    let ExpectedMarks { file, unseen } = expected_marks(lesson, phone);
    let measured = measure(&file, draws);
    let mut doubts: Vec<StandDoubt> = StandDoubt::of_phone(phone).into_iter().collect();
    let approach = match &measured {
        Ok((survey, measurement)) => {
            let told = survey.doubts.iter().filter(|doubt| says_what_is_open(doubt));
            doubts.extend(told.map(|doubt| StandDoubt::Survey { of_survey: doubt.clone() }));
            measurement.approaches.first()
        }
        Err(MeasureError::Survey(refused)) => {
            let hint = refused.hint().unwrap_or_default();
            doubts.push(StandDoubt::NotMeasurable { reason: refused.to_string(), hint });
            None
        }
        Err(other) => {
            let hint = other.hint().unwrap_or_default();
            doubts.push(StandDoubt::NotMeasurable { reason: other.to_string(), hint });
            None
        }
    };
    let strides = rows(lesson, approach);
    let take_off = approach.and_then(|of| of.take_off.as_ref());
    let take_off_m = take_off
        .filter(|_| unseen.holds_the_take_off())
        .map(|distance| Metres::new(distance.distance_m.plus_minus()));
    let landing = approach.and_then(|of| of.landing.as_ref());
    let mut found = Expectation {
        phone: *phone,
        strides,
        take_off_plus_minus_m: take_off_m,
        landing_plus_minus_m: landing.map(|d| Metres::new(d.distance_m.plus_minus())),
        sureness: None,
        contacts: contacts(lesson, approach),
        view: view(lesson, phone),
        unseen,
        doubts,
    };
    found.sureness = Wanted::of(&found).and_then(|wanted| wanted.sureness());
    found
}

/// Exact marks fit, so that only doubts about what is marked at all are told.
fn says_what_is_open(doubt: &SurveyDoubt) -> bool {
    matches!(doubt, SurveyDoubt::ReferencesOnOneLine { .. })
}

fn rows(lesson: &Lesson, approach: Option<&ApproachMeasurement>) -> Vec<ExpectedRow> {
    let count = lesson.strides.count as i32;
    let row = |number: i32| {
        let found = approach.and_then(|of| of.strides.iter().find(|row| row.number == number));
        ExpectedRow {
            number,
            length_plus_minus_m: found
                .and_then(|row| row.length_m)
                .map(|length| Metres::new(length.plus_minus())),
            duration_plus_minus_s: found.map(|row| Seconds::new(row.duration_s.plus_minus())),
            tempo_plus_minus_strides_per_min: found
                .map(|row| StridesPerMinute::new(row.tempo_strides_per_min.plus_minus())),
        }
    };
    (-count..0).map(row).collect()
}

fn contacts(lesson: &Lesson, approach: Option<&ApproachMeasurement>) -> Vec<ExpectedContact> {
    let shown =
        |laid: &LaidFootfall| laid.limb == Limb::LeadingHind || laid.limb == Limb::TrailingFore;
    let footfalls = lesson.strides.footfalls();
    let contact = |(at, laid): (usize, &LaidFootfall)| {
        let mut places = approach.iter().flat_map(|of| &of.footfalls);
        let found = places.find(|place| place.footfall == at.to_string());
        let ellipse = found.and_then(|place| place.ellipse);
        ExpectedContact { stride: laid.stride, place: laid.place, ellipse }
    };
    let all = footfalls.iter().enumerate().filter(|(_, laid)| shown(laid));
    all.map(contact).collect()
}
