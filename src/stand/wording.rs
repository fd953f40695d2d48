//! The advice in words that terminal, page and picture share.

use super::advice::{Advice, Move, Worse};
use super::changes::{Change, Changed};
use super::expectation::Expectation;
use super::phone::{Phone, Side};
use super::seen::{Unseen, UnseenThing};
use crate::quantity::{
    LengthUnits, Metres, Unit, capital, written_half, written_held, written_place,
};

fn place(metres: f64, units: LengthUnits) -> String {
    written_place(Metres::new(metres), units)
}

/// Where a phone is: "12 m from the track on its right, 8 m before the fence, at eye level (1.6 m)".
pub fn place_words(phone: &Phone, units: LengthUnits) -> String {
    let along = match phone.before_fence_m {
        before if before.abs() < 0.25 => "level with the fence".to_owned(),
        before if before > 0.0 => format!("{} before the fence", place(before, units)),
        before => format!("{} beyond the fence", place(-before, units)),
    };
    format!(
        "{} from the track on its {}, {along}, {}",
        place(phone.distance_m, units),
        phone.side.words(),
        height_words(phone.height_m, units)
    )
}

/// A height as a standing person feels it (common practice, no source).
pub fn height_words(height_m: f64, units: LengthUnits) -> String {
    let held = written_held(Metres::new(height_m), units);
    let felt = match height_m {
        h if h < 0.85 => return format!("{held} above the ground"),
        h if h < 1.15 => "at waist height",
        h if h < 1.45 => "at chest height",
        h if h < 1.65 => "at eye level",
        h if h < 1.85 => "at head height",
        h if h < 2.35 => "above your head",
        _ => return format!("{held} above the ground"),
    };
    format!("{felt} ({held})")
}

/// Left or right of somebody who stands at `side` and looks at the track.
fn hand(onward: bool, side: Side) -> &'static str {
    if onward == (side == Side::Right) { "right" } else { "left" }
}

impl Move {
    /// The steps, such as "2 m farther left, away from the fence".
    fn parts(&self, units: LengthUnits) -> Vec<String> {
        let mut parts = Vec::new();
        if self.onward_m.abs() >= 0.25 {
            let onward = self.onward_m > 0.0;
            let whither = match (self.stays_before_fence, onward) {
                (true, true) => "towards the fence",
                (true, false) => "away from the fence",
                (false, true) => "the way the horse goes",
                (false, false) => "against the way the horse goes",
            };
            let far = place(self.onward_m.abs(), units);
            parts.push(format!("{far} farther {} ({whither})", hand(onward, self.side)));
        }
        if self.nearer_m.abs() >= 0.25 {
            let way = if self.nearer_m > 0.0 { "nearer to" } else { "farther from" };
            parts.push(format!("{} {way} the track", place(self.nearer_m.abs(), units)));
        }
        parts
    }

    fn words(&self, units: LengthUnits) -> String {
        let steps = self.parts(units).join(" and ");
        let lifted = self.higher_m.abs() >= 0.05;
        let put = if self.in_hand { "hold" } else { "put" };
        let height = format!("{put} the phone {}", height_words(self.height_m, units));
        match (steps.is_empty(), lifted) {
            (false, true) => format!("stand {steps}, and {height}"),
            (false, false) => format!("stand {steps}"),
            (true, _) => height,
        }
    }
}

impl Advice {
    /// The advice in a sentence.
    pub fn sentence(&self, units: LengthUnits) -> String {
        match self {
            Self::Stay { worst_plus_minus_m } => format!(
                "No place within the bounds is much better: {}.",
                written_half(*worst_plus_minus_m, units)
            ),
            Self::Go { go, here_plus_minus_m, there_plus_minus_m, worse } => {
                let there = written_half(*there_plus_minus_m, units);
                let against = match here_plus_minus_m {
                    Some(here) => format!("{there} instead of {}", written_half(*here, units)),
                    None => format!("{there}; from where you stand now not all can be measured"),
                };
                let worse = worse.iter().map(|one| one.words(units)).collect::<Vec<_>>().join(", ");
                let but = match worse.as_str() {
                    "" => String::new(),
                    worse => format!(", at the cost of {worse}"),
                };
                capital(&format!("{}: {against}{but}.", go.words(units)))
            }
            Self::Nowhere { poles_lack: true, .. } => "From no place within the bounds can the \
                 strides be measured: lay more poles, farther apart, near the strides and in view."
                .into(),
            Self::Nowhere { seen_from_m, turns, .. } => {
                let from = place(*seen_from_m, units);
                let turn = if *turns { "" } else { ", turn the phone with the horse" };
                format!(
                    "From no place within the bounds are all strides, the take-off and the fence in \
                     the picture: stand about {from} away, square to their middle{turn}, or ask for \
                     fewer strides."
                )
            }
        }
    }
}

impl Worse {
    /// "take-off ± 17 cm instead of ± 14 cm".
    fn words(&self, units: LengthUnits) -> String {
        let what = match self.stride {
            Some(number) => format!("stride \u{2212}{}", number.unsigned_abs()),
            None => "take-off".to_owned(),
        };
        let half = |metres| written_half(metres, units);
        format!(
            "{what} {} instead of {}",
            half(self.there_plus_minus_m),
            half(self.here_plus_minus_m)
        )
    }
}

impl Change {
    /// What is done, in words; `phone` is the one that is changed.
    pub fn words(self, phone: &Phone, units: LengthUnits) -> String {
        let along = |onward: bool, by_m: f64| {
            let after = phone.before_fence_m + if onward { -by_m } else { by_m };
            let there = Phone { before_fence_m: after, ..*phone };
            Move::between(phone, &there).parts(units).join(" and ")
        };
        match self {
            Self::Nearer { by_m } => format!("{} nearer to the track", place(by_m, units)),
            Self::Farther { by_m } => format!("{} farther from the track", place(by_m, units)),
            Self::Onward { by_m } => along(true, by_m),
            Self::Back { by_m } => along(false, by_m),
            Self::Higher { to_m } => format!("the phone {}", height_words(to_m, units)),
            Self::OtherSide => "from the other side of the track".into(),
            Self::PointAnew => "the phone turned so that the strides lie in its middle".into(),
            Self::OnePoleMore => "one pole more, before the first".into(),
            Self::TapeThePoles => "the poles laid by the tape".into(),
            Self::SnapTheEnds => "the poles' ends drawn to their edges, as the desk does".into(),
        }
    }
}

impl Changed {
    /// Whether it is worth telling beside the ± of `here`: better by a twentieth at least.
    pub fn helps(&self, here: &Expectation) -> bool {
        match (self.worst_plus_minus_m, here.worst_plus_minus_m) {
            (Some(then), Some(now)) => then.get() < 0.95 * now.get(),
            (Some(_), None) => true,
            (None, _) => false,
        }
    }
}

impl Unseen {
    /// What is out of the picture, in a sentence; `None` when nothing is.
    pub fn sentence(&self) -> Option<String> {
        let mut parts = Vec::new();
        let strides = self.strides();
        let number = |stride: &i32| format!("\u{2212}{}", stride.unsigned_abs());
        match strides.as_slice() {
            [] => {}
            [one] => parts.push(format!("stride {}", number(one))),
            [first, .., last] if strides.len() as i32 == last - first + 1 => {
                parts.push(format!("strides {} to {}", number(first), number(last)));
            }
            several => {
                let all: Vec<String> = several.iter().map(number).collect();
                parts.push(format!("strides {}", all.join(", ")));
            }
        }
        let has = |thing: UnseenThing| self.0.contains(&thing);
        if has(UnseenThing::TakeOff) {
            parts.push("the take-off".into());
        }
        match (has(UnseenThing::Base { left: true }), has(UnseenThing::Base { left: false })) {
            (true, true) => parts.push("the fence's ground line".into()),
            (false, false) => {}
            (left, _) => {
                let end = if left { "left" } else { "right" };
                parts.push(format!("the {end} end of the fence's ground line"));
            }
        }
        if has(UnseenThing::Landing) {
            parts.push("the landing".into());
        }
        match self.pole_ends() {
            0 => {}
            1 => parts.push("one end of a pole".into()),
            several => parts.push(format!("{several} ends of poles")),
        }
        let last = parts.pop()?;
        let list = match parts.is_empty() {
            true => last,
            false => format!("{} and {last}", parts.join(", ")),
        };
        Some(format!("out of the picture, in whole or in part: {list}"))
    }
}
