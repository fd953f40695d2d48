//! Columns of a page, each with its head and what fills it, so that neither can be without the
//! other.

use super::cell::{Cell, Page};
use super::unit_word::{in_units, unit_word};
use crate::quantity::{Estimate, LengthUnits, Unit, written_decimals};

/// What is appended to a head for the value and the ends of its 95 % interval.
pub(super) const ENDS: [&str; 3] = ["", "_low95", "_high95"];

/// The cells that one declaration puts into a row.
type Fill<'a, T> = Box<dyn Fn(&T) -> Vec<Cell> + 'a>;

/// The columns of a page whose rows are made of one `T` each.
pub(super) struct Columns<'a, T> {
    units: LengthUnits,
    heads: Vec<String>,
    fills: Vec<Fill<'a, T>>,
}

impl<'a, T> Columns<'a, T> {
    pub(super) fn new(units: LengthUnits) -> Self {
        Self { units, heads: Vec::new(), fills: Vec::new() }
    }

    /// A column of cells.
    pub(super) fn cell(mut self, head: impl Into<String>, fill: impl Fn(&T) -> Cell + 'a) -> Self {
        self.heads.push(head.into());
        self.fills.push(Box::new(move |row| vec![fill(row)]));
        self
    }

    /// A column of words.
    pub(super) fn text(self, head: &str, fill: impl Fn(&T) -> String + 'a) -> Self {
        self.cell(head, move |row| Cell::text(fill(row)))
    }

    /// A column of counts.
    pub(super) fn whole(self, head: &str, fill: impl Fn(&T) -> Option<i64> + 'a) -> Self {
        self.cell(head, move |row| fill(row).map_or(Cell::Empty, Cell::Whole))
    }

    /// A column of numbers of unit `U` that have no interval of their own.
    pub(super) fn number<U: Unit + 'a>(
        self,
        name: &str,
        decimals: usize,
        fill: impl Fn(&T) -> Option<U> + 'a,
    ) -> Self {
        let units = self.units;
        self.cell(format!("{name}_{}", unit_word::<U>(units)), move |row| {
            Cell::number(fill(row).map(|number| in_units(number, units)), decimals)
        })
    }

    /// Three columns: the value and both ends of its 95 % interval.
    pub(super) fn estimate<U: Unit + 'a>(
        self,
        name: &str,
        fill: impl Fn(&T) -> Option<Estimate<U>> + 'a,
    ) -> Self {
        self.estimate_per(name, "", fill)
    }

    /// The same of a quantity per something, such as `_per_stride`.
    pub(super) fn estimate_per<U: Unit + 'a>(
        mut self,
        name: &str,
        per: &str,
        fill: impl Fn(&T) -> Option<Estimate<U>> + 'a,
    ) -> Self {
        let units = self.units;
        let head = format!("{name}_{}{per}", unit_word::<U>(units));
        self.heads.extend(ENDS.map(|end| format!("{head}{end}")));
        self.fills.push(Box::new(move |row| match fill(row) {
            Some(estimate) => interval(&estimate, units).into(),
            None => vec![Cell::Empty; ENDS.len()],
        }));
        self
    }

    /// The page of these columns with a row for each of `rows`.
    pub(super) fn page(self, name: &'static str, rows: impl Iterator<Item = T>) -> Page {
        let cells = |row: T| self.fills.iter().flat_map(|fill| fill(&row)).collect();
        let rows = rows.map(cells).collect();
        Page { name, heads: self.heads, rows }
    }
}

/// Value and ends, showing the decimals that the ± deserves.
fn interval<U: Unit>(estimate: &Estimate<U>, units: LengthUnits) -> [Cell; ENDS.len()] {
    let half = in_units(U::new(estimate.plus_minus()), units);
    let decimals = written_decimals::<U>(half);
    [estimate.value, estimate.low95, estimate.high95]
        .map(|number| Cell::number(Some(in_units(number, units)), decimals))
}
