//! All approaches and lines of a round, read.

use super::line::{LineReading, read_line};
use super::one_approach::{Reading, read};
use super::settings::Settings;
use crate::marks::MarksFile;
use crate::stride::{ApproachDraws, Measurement, ShownStrides};

/// What the numbers of a round support.
#[derive(Clone, Debug, PartialEq)]
pub struct RoundReading {
    /// One an approach, in file order.
    pub readings: Vec<Reading>,
    /// Lines of two fences.
    pub lines: Vec<LineReading>,
}

impl RoundReading {
    /// Reads all of `file`, measured; `draws` are those of its approaches in order. `shown` is what
    /// the horse has shown in it and in whatever other rounds are known.
    pub fn of(
        file: &MarksFile,
        measurement: &Measurement,
        draws: &[ApproachDraws],
        shown: Option<&ShownStrides>,
        settings: &Settings,
    ) -> Self {
        let both = measurement.approaches.iter().zip(draws);
        Self {
            readings: both.map(|(one, draws)| read(file, one, draws, settings)).collect(),
            lines: measurement.lines.iter().map(|line| read_line(line, shown)).collect(),
        }
    }

    /// The reading of that approach.
    pub fn approach(&self, id: &str) -> Option<&Reading> {
        self.readings.iter().find(|reading| reading.approach == id)
    }
}
