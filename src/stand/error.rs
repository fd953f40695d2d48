//! Plans that cannot be made.

use crate::quantity::{LengthUnits, Metres, Unit, written_laid, written_tick};

/// Why no place can be judged.
#[derive(Clone, Debug, PartialEq)]
pub enum StandError {
    /// A number is out of what makes sense.
    OutOfRange {
        /// What it is.
        what: Checked,
        /// What was given.
        found: f64,
    },
    /// A range whose ends are exchanged.
    Reversed {
        /// Which.
        what: &'static str,
        /// Lower end as given, metres.
        low_m: f64,
        /// Upper end as given, metres.
        high_m: f64,
    },
    /// Away from the track without along it, or the other way round.
    HalfAPlace,
    /// The marks file lacks something that a plan rests on.
    Lacking {
        /// What is missing.
        what: String,
        /// What to do about it.
        hint: &'static str,
    },
}

/// A number that is checked: its name, what makes sense, and what to do otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Checked {
    /// As in "the poles' spacing".
    pub name: &'static str,
    /// What it is counted in.
    pub counted_in: CountedIn,
    /// The least.
    pub least: f64,
    /// The most.
    pub most: f64,
    /// What to do about it.
    pub hint: &'static str,
}

/// What a number is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CountedIn {
    /// Metres, or feet where those are wanted.
    Metres,
    /// Degrees, which stand close to their number.
    Degrees,
    /// Whole things that the name names.
    Things,
    /// Anything else, after a space.
    Other(&'static str),
}

impl CountedIn {
    fn number(self, value: f64, units: LengthUnits) -> String {
        if !value.is_finite() {
            return "no number".to_owned();
        }
        let plain = |value: f64| {
            let thousandths = (value * 1000.0).round() / 1000.0;
            written_tick(thousandths, thousandths)
        };
        match self {
            Self::Metres => written_laid(Metres::new(value), units),
            Self::Degrees => format!("{}°", plain(value)),
            Self::Things => plain(value),
            Self::Other(unit) => format!("{} {unit}", plain(value)),
        }
    }
}

impl Checked {
    /// `value`, if it makes sense; a number that is none makes none.
    pub(super) fn take(self, value: f64) -> Result<(), StandError> {
        match (self.least..=self.most).contains(&value) {
            true => Ok(()),
            false => Err(StandError::OutOfRange { what: self, found: value }),
        }
    }
}

impl StandError {
    /// The message with lengths in `units`.
    pub fn words(&self, units: LengthUnits) -> String {
        match self {
            Self::OutOfRange { what, found } => {
                let number = |value| what.counted_in.number(value, units);
                let (least, most) = (number(what.least), number(what.most));
                // The unit once, where both have the same behind a space.
                let least = match (least.rsplit_once(' '), most.rsplit_once(' ')) {
                    (Some((alone, unit)), Some((_, of_most))) if unit == of_most => alone,
                    _ if what.counted_in == CountedIn::Degrees => least.trim_end_matches('°'),
                    _ => &least,
                };
                let (name, found) = (what.name, number(*found));
                format!("cannot plan where to stand: {name} is {found} ({least} to {most} needed)")
            }
            Self::Reversed { what, low_m, high_m } => {
                let number = |metres| CountedIn::Metres.number(metres, units);
                format!(
                    "cannot plan where to stand: {what} runs from {} to {} (the smaller first)",
                    number(*low_m),
                    number(*high_m)
                )
            }
            Self::HalfAPlace => {
                "cannot tell where you stand now: a place is how far from the track \
                                 and how far before the fence"
                    .to_owned()
            }
            Self::Lacking { what, .. } => format!("cannot plan from these marks: {what}"),
        }
    }

    /// What to do about it.
    pub fn hint(&self) -> String {
        match self {
            Self::OutOfRange { what, .. } => what.hint.to_owned(),
            Self::Reversed { .. } => "exchange the two".to_owned(),
            Self::HalfAPlace => "leave both away to be told the best place".to_owned(),
            Self::Lacking { hint, .. } => (*hint).to_owned(),
        }
    }
}

/// In metres; [`StandError::words`] writes feet.
impl std::fmt::Display for StandError {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(&self.words(LengthUnits::Metres))
    }
}

impl std::error::Error for StandError {}
