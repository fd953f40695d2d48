//! The figures of a plan as they are written, for terminal, page and picture alike.

use super::expectation::Expectation;
use super::plan::StandPlan;
use super::wording::{number_words, what_is_judged};
use crate::quantity::{LengthUnits, Metres, written_half, written_half_of};

/// One number from where she stands and from the place that is advised.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StandFigure {
    /// "stride −1", "take-off", "landing", "tempo".
    pub name: String,
    /// Its ± from where she stands, if she stands anywhere; "–" where it cannot be measured.
    pub now: Option<String>,
    /// From the place that is advised, if one is.
    pub advised: Option<String>,
}

/// What writes one number of a place.
type Cell<'a> = Box<dyn Fn(&Expectation) -> String + 'a>;

impl StandPlan {
    /// Strides, take-off, landing and tempo in the order ridden.
    pub fn figures(&self, units: LengthUnits) -> Vec<StandFigure> {
        let half = move |half: Option<Metres>| match half {
            Some(half) => written_half(half, units),
            None => "–".to_owned(),
        };
        let numbers = (1..=self.lesson.strides.count).rev().map(|back| -(back as i32));
        let strides = numbers.map(|number| {
            let row =
                move |of: &Expectation| of.strides.iter().find(|row| row.number == number).copied();
            let cell: Cell =
                Box::new(move |of| half(row(of).and_then(|row| row.length_plus_minus_m)));
            (number_words(Some(number)), cell)
        });
        let rest: [(&str, Cell); 3] = [
            ("take-off", Box::new(move |of| half(of.take_off_plus_minus_m))),
            ("landing", Box::new(move |of| half(of.landing_plus_minus_m))),
            ("tempo", Box::new(tempo)),
        ];
        let rest = rest.into_iter().map(|(name, cell)| (name.to_owned(), cell));
        let figure = |(name, cell): (String, Cell)| StandFigure {
            name,
            now: self.here.as_ref().map(&cell),
            advised: self.advised().map(&cell),
        };
        strides.chain(rest).map(figure).collect()
    }

    /// Single changes that help, in words and with the largest ± of take-off and the last three
    /// strides then.
    pub fn helping(&self, units: LengthUnits) -> Vec<(String, String)> {
        let Some(from) = self.changed_from() else { return Vec::new() };
        let helping = self.changes.iter().filter(|changed| changed.helps(from));
        let told = helping.filter_map(|changed| {
            let half = written_half(changed.sureness?.judged.plus_minus_m, units);
            Some((changed.change.words(&from.phone, units), half))
        });
        told.collect()
    }

    /// What the single changes are headed by.
    pub fn helping_head(&self) -> String {
        let from = if self.here.is_some() { "from now" } else { "from there" };
        let known = what_is_judged(self.lesson.strides.count);
        format!("One thing alone done differently {from}, {known} then at worst")
    }
}

fn tempo(of: &Expectation) -> String {
    let found = of.strides.iter().find_map(|row| row.tempo_plus_minus_strides_per_min);
    found.map_or_else(|| "–".to_owned(), written_half_of)
}
