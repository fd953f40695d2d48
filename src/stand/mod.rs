//! Where to stand before filming: the ± that strides and take-off will have, from what lies on the
//! ground and from where the phone is put, and the place from which it is least.
//!
//! Nothing is reckoned twice: level strides are laid on the ground, put into the picture by the
//! phone's own camera, marked there as a coach would mark them, and measured by the survey that
//! will measure the real ones. What the picture does not hold is data, never a number.
//!
//! Ground frame: origin at the middle of the fence's ground line, x the way the horse goes, y to its
//! left. Invariant: no file, no clock; the same plan gives the same answer. Not handled: what hides
//! a hoof (wings, people, poles), bent tracks, ground that is not flat.

mod advice;
mod aiming;
mod bounds;
mod changes;
mod doubt;
mod error;
mod expectation;
mod expected_marks;
mod fewer;
mod figures;
mod from_marks;
mod lesson;
mod phone;
mod plan;
mod search;
mod seen;
mod sureness;
mod wording;

#[cfg(test)]
mod tests;

pub use advice::{Advice, Move, Worse};
pub use aiming::View;
pub use bounds::{Bounds, Within};
pub use changes::{Change, Changed};
pub use doubt::StandDoubt;
pub use error::{Checked, CountedIn, StandError};
pub use expectation::{Expectation, ExpectedContact, ExpectedRow, expect};
pub use fewer::{Fewer, ForAll};
pub use figures::StandFigure;
pub use from_marks::{Surveyed, stood};
pub use lesson::{Lesson, LevelStrides, PolesLaid};
pub use phone::{Handling, Phone, Side, Start};
pub use plan::{StandPlan, StandTold, stand, stand_schema};
pub use seen::{Unseen, UnseenThing};
pub use sureness::{JUDGED_BY, Named, Sureness};
pub use wording::{along_words, height_words, place_words};
