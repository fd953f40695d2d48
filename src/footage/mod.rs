//! Clips: opening a file, knowing its frames and their exact times, reading upright pictures, writing clips.
//!
//! This is the only folder that names ffmpeg. Outside it a frame is an upright, square-pixel, 8-bit picture with one
//! exact time: rotation, pixel aspect, colour matrix and range, bit depth, edit lists and frame order end here.
//! Known to work: H.264, HEVC (8 and 10 bit), VP9, AV1, MJPEG; MP4, MOV, 3GP, WebM, AVI, MPEG-TS.
//! Not handled: deinterlacing (a doubt says so), rotations that are no quarter turn, clean-aperture boxes,
//! Dolby Vision without a compatible base layer, frames that change size within a clip.

mod error;
mod ffmpeg;
mod io_words;

// From a file to a list of frames.
mod bitstream;
mod index;
mod order;
mod parser;
mod scan;
mod source;
mod times;

// What the file says about itself.
mod doubt;
mod facts;
mod findings;
mod hash;
mod tags;

// From a frame number to a picture.
mod cache;
mod check;
mod clip;
mod colour;
mod decode;
mod fetch;
mod hdr;
mod jpeg;
mod jpeg_planes;
mod luma;
mod orientation;
mod picture;
mod reader;
mod scale;

pub mod write;

pub use check::CheckReport;
pub use clip::{Clip, OpenOptions};
pub use colour::{Colour, DynamicRange, Matrix};
pub use doubt::FootageDoubt;
pub use error::FootageError;
pub use facts::{Capture, CaptureSource, ClipFacts, Lens, PixelAspect, Rate, Scan};
pub use io_words::io_words;
pub use orientation::Orientation;
pub use reader::{Frame, RawFrame, Reader, ReaderOptions};
