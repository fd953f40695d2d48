//! The figures of a plan as they are written, for terminal and page alike.

use super::advice::Advice;
use super::expectation::Expectation;
use super::plan::StandPlan;
use crate::quantity::{LengthUnits, Metres, written_half, written_half_of};

/// One number from where she stands and from the better place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StandFigure {
    /// "stride −1", "take-off", "landing", "tempo".
    pub name: String,
    /// Its ± from where she stands; "–" where it cannot be measured.
    pub now: String,
    /// From the better place.
    pub better: Option<String>,
}

/// What writes one number of a place.
type Cell<'a> = Box<dyn Fn(&Expectation) -> String + 'a>;

impl StandPlan {
    /// The better place, where there is one worth the walk.
    pub fn better(&self) -> Option<&Expectation> {
        match self.advice {
            Advice::Go { .. } => self.best.as_ref(),
            Advice::Stay { .. } | Advice::Nowhere { .. } => None,
        }
    }

    /// Strides, take-off, landing and tempo in the order ridden.
    pub fn figures(&self, units: LengthUnits) -> Vec<StandFigure> {
        let half = move |half: Option<Metres>| match half {
            Some(half) => written_half(half, units),
            None => "–".to_owned(),
        };
        let strides = self.here.strides.iter().enumerate().map(|(at, row)| {
            let name = format!("stride \u{2212}{}", row.number.unsigned_abs());
            let cell: Cell = Box::new(move |of| half(of.strides[at].length_plus_minus_m));
            (name, cell)
        });
        let rest: [(&str, Cell); 3] = [
            ("take-off", Box::new(move |of| half(of.take_off_plus_minus_m))),
            ("landing", Box::new(move |of| half(of.landing_plus_minus_m))),
            ("tempo", Box::new(tempo)),
        ];
        let rest = rest.into_iter().map(|(name, cell)| (name.to_owned(), cell));
        let figure = |(name, cell): (String, Cell)| StandFigure {
            name,
            now: cell(&self.here),
            better: self.better().map(&cell),
        };
        strides.chain(rest).map(figure).collect()
    }

    /// Single changes that help, in words and with the largest ± then.
    pub fn helping(&self, units: LengthUnits) -> Vec<(String, String)> {
        let helping = self.changes.iter().filter(|changed| changed.helps(&self.here));
        let told = helping.filter_map(|changed| {
            let half = written_half(changed.worst_plus_minus_m?, units);
            Some((changed.change.words(&self.here.phone, units), half))
        });
        told.collect()
    }
}

fn tempo(of: &Expectation) -> String {
    let found = of.strides.iter().find_map(|row| row.tempo_plus_minus_strides_per_min);
    found.map_or_else(|| "–".to_owned(), written_half_of)
}
