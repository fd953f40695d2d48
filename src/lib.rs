//! Groundline: from a clip of a horse cantering to a fence, and a few poles of known spacing,
//! to stride lengths, tempo, pace, take-off and landing distance, each with an honest ±.
//!
//! Core folders know no files, sockets, clocks or ffmpeg, and may use those listed before them:
//! [`quantity`] → [`scene`] → [`marks`] → [`pan`] → [`survey`] → [`stride`] → [`poles`] → [`reading`] →
//! [`stand`] → [`weeks`] → [`tables`] → [`draw`] → [`sheet`]; [`snap`], which needs [`scene`] alone; and
//! [`arena`], which makes scenes whose truth is known. The edges do I/O: [`footage`] (the only folder
//! that names ffmpeg), [`store`] (marks files on disk), [`desk`] (the page, over HTTP on this computer)
//! and [`cli`].

pub mod arena;
pub mod cli;
pub mod desk;
pub mod draw;
#[expect(unsafe_code, reason = "fields of FFmpeg's structures that its bindings do not hand out")]
pub mod footage;
pub mod marks;
pub mod pan;
pub mod poles;
pub mod quantity;
pub mod reading;
pub mod scene;
pub mod sheet;
pub mod snap;
pub mod stand;
pub mod store;
pub mod stride;
pub mod survey;
pub mod tables;
pub mod weeks;
