//! Reading the approach: what the numbers support, and how surely; never more.
//!
//! [`read`] makes a [`Reading`] of the numbers and their draws against the coach's [`Settings`];
//! [`sentences`] words it for coach or rider from one table of [`Texts`]. Every answer is yes, no or
//! cannot tell ([`Answer`]), with its probability among the draws.
//!
//! What makes a good or a spoilt approach is a fact of the trade (common practice, no source): one
//! change, either way, is fine; easing and then pushing, or the reverse, spoils the approach; with
//! a good canter about three feet either way at take-off still jump.
//!
//! Invariant: no file, no clock; nothing is read that was not measured. Not handled: lateral gaits,
//! lead changes, what the rider does with hand and leg.

mod answer;
mod asks;
mod fault;
mod level;
mod line;
mod one_approach;
mod pace;
mod settings;
mod track;
mod whole_round;
mod wording;
mod zone;

#[cfg(test)]
mod sample;

pub use answer::{Answer, Lack};
pub use asks::FenceAsks;
pub use fault::{Fault, FaultReading};
pub use level::LevelReading;
pub use line::{LineReading, LineRule, NeededReading, read_line};
pub use one_approach::{Reading, read};
pub use pace::{PaceMove, PacePattern, PaceReading};
pub use settings::{Settings, Zone};
pub use track::TrackReading;
pub use whole_round::RoundReading;
pub use wording::{Audience, Sentence, TextError, TextKey, Texts, sentences};
pub use zone::{PUBLISHED_TAKE_OFF, PublishedTakeOff, ZonePlace, ZoneReading};
