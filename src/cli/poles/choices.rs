//! Words that can be typed for what a plan asks.

use crate::cli::choices::ToldWord;
use crate::poles::{Gait, Going, PonyClass, Readiness, Size};

pub(super) const GAITS: [ToldWord<Gait>; 2] =
    [("trot", "In trot", Gait::Trot), ("canter", "In canter", Gait::Canter)];

pub(super) const SIZES: [ToldWord<Size>; 5] = [
    ("horse", "A horse", Size::Horse),
    ("pony", "A pony of no stated height", Size::Pony(None)),
    ("small-pony", "A pony to about 1.30 m", Size::Pony(Some(PonyClass::Small))),
    ("medium-pony", "A pony to about 1.40 m", Size::Pony(Some(PonyClass::Medium))),
    ("large-pony", "A pony to about 1.50 m", Size::Pony(Some(PonyClass::Large))),
];

pub(super) const GOINGS: [ToldWord<Going>; 3] = [
    ("good", "Nothing to allow for", Going::Good),
    ("deep", "Deep or heavy", Going::Deep),
    ("slippery", "Slippery or hard", Going::Slippery),
];

pub(super) const READINESSES: [ToldWord<Readiness>; 3] = [
    ("ready", "Fresh and used to such exercises", Readiness::Ready),
    ("tired", "Tired", Readiness::Tired),
    ("green", "New to such exercises", Readiness::Green),
];
