//! A reading in sentences: short, plain, what matters first, each with its evidence.
//!
//! All words come from one table, `en.json`; another language is another such file.

mod about_limits;
mod about_line;
mod about_pace;
mod about_track;
mod about_zone;
mod audience;
mod sentence;
mod text_key;
mod texts;
mod values;

#[cfg(test)]
mod tests;

pub use audience::Audience;
pub use sentence::{Sentence, sentences};
pub use text_key::TextKey;
pub use texts::{TextError, Texts};
