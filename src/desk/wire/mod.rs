//! What goes between the page and the program, as JSON. The page's types are made from these.
//!
//! Numbers that a person reads are written here, once; the page never formats one.

mod act;
mod folder;
mod hand_out;
mod numbers;
mod round;

pub use act::*;
pub use folder::*;
pub use hand_out::*;
pub use numbers::*;
pub use round::*;
