//! Reading a whole clip to find out which frames are damaged.
//!
//! Invariant: memory does not grow with the clip beyond one bit per frame, and a number per damaged one.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::error::FootageError;
use super::reader::Reader;
use crate::quantity::time::FrameNumber;

/// Which frames of a clip can be read.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct CheckReport {
    /// Frames that come out of the decoder, the concealed ones among them.
    pub readable: u32,
    /// Frames that do not come out.
    pub damaged: Vec<FrameNumber>,
    /// Frames that come out with damaged parts, which are guessed.
    pub concealed: Vec<FrameNumber>,
    /// How often the decoder complained about damaged data.
    pub decoder_errors: u32,
}

pub fn check(reader: &mut Reader) -> Result<CheckReport, FootageError> {
    let mut seen = Bits::new(reader.frame_count());
    let mut concealed = Vec::new();
    let decoder_errors = reader.decode_all(|number, _, raw| {
        seen.set(number);
        if raw.is_concealed() {
            concealed.push(number);
        }
    })?;
    let damaged: Vec<FrameNumber> =
        (0..reader.frame_count()).map(FrameNumber).filter(|number| !seen.get(*number)).collect();
    Ok(CheckReport {
        readable: reader.frame_count() - damaged.len() as u32,
        damaged,
        concealed,
        decoder_errors,
    })
}

struct Bits(Vec<u64>);

impl Bits {
    fn new(count: u32) -> Bits {
        Bits(vec![0; (count as usize).div_ceil(64)])
    }

    fn set(&mut self, number: FrameNumber) {
        self.0[number.0 as usize / 64] |= 1 << (number.0 % 64);
    }

    fn get(&self, number: FrameNumber) -> bool {
        self.0[number.0 as usize / 64] & (1 << (number.0 % 64)) != 0
    }
}
