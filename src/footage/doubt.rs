//! Reasons to trust a clip's frames or times less than usual, as data with a sentence each.
//!
//! Invariant: a doubt never changes a number; it says what was found and what it means for a measurement.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::colour::DynamicRange;
use crate::quantity::time::FrameNumber;

/// A reason to trust a clip's frames or times less.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "doubt", rename_all = "kebab-case")]
#[expect(
    missing_docs,
    reason = "the sentence of each doubt says what it is and what its fields are"
)]
pub enum FootageDoubt {
    SeveralVideoStreams { used: usize, streams: Vec<usize> },
    HeaderCount { promised: u64, found: u64 },
    DamagedFrames { count: u32, first: FrameNumber },
    UndecodableStart { count: u32 },
    Gaps { count: u32, after: FrameNumber, largest_s: f64, median_s: f64 },
    TimesGoBackwards { count: u32, first: FrameNumber },
    TimesAreDecodeTimes,
    TimesFilledIn { count: u32 },
    TimesFromNominalRate { rate_hz: f64 },
    Interlaced,
    SlowMotion { playback_hz: f64, capture_hz: f64, time_scale: f64 },
    SlowMotionRateUnknown,
    UnusualAspect { width: u32, height: u32 },
    UnusualRotation,
    BroughtDownToSdr { from: DynamicRange },
    NoCompatibleBaseLayer,
}

impl FootageDoubt {
    /// Whether it is about how fast time passes in the clip.
    pub fn is_about_slow_motion(&self) -> bool {
        matches!(self, Self::SlowMotion { .. } | Self::SlowMotionRateUnknown)
    }

    /// What was found and what it means, as one sentence without a final stop.
    pub fn sentence(&self) -> String {
        match self {
            FootageDoubt::SeveralVideoStreams { used, streams } => format!(
                "the file holds {} video streams ({}); stream {used} is used",
                streams.len(),
                streams.iter().map(usize::to_string).collect::<Vec<_>>().join(", "),
            ),
            FootageDoubt::HeaderCount { promised, found } => {
                format!("the file's header promises {promised} frames and {found} were found")
            }
            FootageDoubt::DamagedFrames { count, first } => format!(
                "{count} {} damaged (the first is frame {first}); pictures after them may show traces",
                if *count == 1 { "frame is" } else { "frames are" },
            ),
            FootageDoubt::UndecodableStart { count } => {
                format!("the recording starts in the middle of a group of pictures; {count} frames were left out")
            }
            FootageDoubt::Gaps {
                count,
                after,
                largest_s,
                median_s,
            } => format!(
                "time jumps {count} {} between frames: after frame {after} by {largest_s:.3} s, where {median_s:.3} s \
                 is usual, so a contact may be missing there",
                if *count == 1 { "time" } else { "times" },
            ),
            FootageDoubt::TimesGoBackwards { count, first } => format!(
                "the time does not go forward at {count} {} (the first is frame {first}); durations across them are \
                 not to be trusted",
                if *count == 1 { "frame" } else { "frames" },
            ),
            FootageDoubt::TimesAreDecodeTimes => "the file gives times in the order of decoding only; they were dealt \
                out in the order of display, so where the rate varies a frame may carry its neighbour's time"
                .to_owned(),
            FootageDoubt::TimesFilledIn { count } => {
                format!("{count} frames carry no time; theirs was taken from their neighbours")
            }
            FootageDoubt::TimesFromNominalRate { rate_hz } => {
                format!("the file holds no times; {rate_hz:.2} frames per second are assumed, so durations are nominal")
            }
            FootageDoubt::Interlaced => {
                "the clip is interlaced: moving edges show combs, and a frame mixes two moments \
                half a frame apart"
                    .to_owned()
            }
            FootageDoubt::SlowMotion {
                playback_hz,
                capture_hz,
                time_scale,
            } => format!(
                "the clip was recorded at {capture_hz:.2} frames per second and plays at {playback_hz:.2}; times are \
                 multiplied by {time_scale:.5}"
            ),
            FootageDoubt::SlowMotionRateUnknown => "the file says it is slow motion but not at what rate it was \
                recorded; durations are those of the playback"
                .to_owned(),
            FootageDoubt::UnusualAspect { width, height } => format!(
                "the file says its pixels are {width}:{height} wide, which no camera makes; square pixels are assumed"
            ),
            FootageDoubt::UnusualRotation => {
                "the file asks for a rotation that is no quarter turn; the nearest quarter turn is used".to_owned()
            }
            FootageDoubt::BroughtDownToSdr { from } => {
                let name = match from {
                    DynamicRange::Pq => "HDR (PQ)",
                    DynamicRange::Hlg => "HDR (HLG)",
                    DynamicRange::Sdr => "wide-colour",
                };
                format!("the clip is {name}; its pictures are brought down to ordinary brightness and colours")
            }
            FootageDoubt::NoCompatibleBaseLayer => "the clip's colours need a Dolby Vision decoder and are shown \
                wrong; positions and times are not affected"
                .to_owned(),
        }
    }
}
