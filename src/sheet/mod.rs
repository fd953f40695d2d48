//! One page to take home: an approach as an A4 or Letter PDF, through typst as a library; several
//! approaches as a page each behind a cover that compares them.
//!
//! Invariant: bytes and values in, bytes out; no file, no clock, no network. What is printed is
//! worded in [`headline`], [`facts`], [`cover`] and [`words`], laid out by the templates:
//! `sheet.typ` is the document, `approach.typ`, `cover.typ`, `weeks.typ` and `lesson.typ` its pages, `look.typ`
//! what they share.

mod cover;
mod data;
mod direction;
mod error;
mod facts;
mod fit;
mod fonts;
mod free_text;
mod headline;
mod input;
mod legible;
mod lesson;
mod printed;
mod prose;
mod strip;
mod table;
mod weeks;
mod words;
mod world;

#[cfg(test)]
mod tests;

pub use error::SheetError;
pub use facts::{Fact, facts};
pub use fonts::Fonts;
pub use headline::headline;
pub use input::{Paper, SheetInput, SheetStill};
pub use lesson::LessonInput;
pub use printed::{Sheet, set_lesson, set_sheet, set_weeks};
pub use weeks::WeeksSheetInput;
