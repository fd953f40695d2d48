//! One page to take home: an approach as an A4 or Letter PDF, through typst as a library.
//!
//! Invariant: bytes and values in, bytes out; no file, no clock, no network. What is printed is
//! worded in [`headline`], [`facts`] and [`words`], laid out by `sheet.typ`.

mod data;
mod facts;
mod fit;
mod fonts;
mod free_text;
mod headline;
mod input;
mod prose;
mod strip;
mod table;
mod words;
mod world;

#[cfg(test)]
mod tests;

pub use fit::{SheetError, sheet_pdf, sheet_png};
pub use fonts::Fonts;
pub use headline::headline;
pub use input::{Paper, SheetInput, SheetStill};
