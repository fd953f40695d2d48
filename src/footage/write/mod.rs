//! Writing a clip: pictures and exact times to an MP4 file that any phone plays.
//!
//! H.264, 4:2:0, BT.709 limited range and tagged so, index at the front. Nothing but pictures is written: no date, no
//! name, no place, no device; only the encoder's own note of its settings stays inside the stream.
//! Invariant: the target appears complete or not at all; until `finish` everything is in a temporary file beside it.
//! Not handled: sound.

mod encoder;
mod error;
mod writer;

pub use encoder::{Colours, Preset, WriteCodec, WriteOptions};
pub use error::WriteError;
pub use writer::ClipWriter;
