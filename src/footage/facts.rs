//! What a clip is: container, codec, sizes, frames, rates, colours, lens.
//!
//! Everything here can be printed as JSON, with the unit in every key. The facts about device and lens are for
//! looking at only: nothing may copy them into a file that leaves the coach's computer.
//! Invariant: facts come from the file's own words and from the frame index; nothing is decoded for them.

use ffmpeg_next as ff;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::colour::Colour;
use super::index::{FrameRow, Index};
use super::orientation::Orientation;
use super::tags::Tags;
use super::times::median;
use crate::quantity::time::TimeBase;

/// From this ratio on, two rates are different rates and not a camera's wobble.
const SLOW_MOTION_RATIO: f64 = 1.5;

/// Everything a file says of itself that bears on measuring.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ClipFacts {
    /// The container, as ffmpeg names it.
    pub container: String,
    /// The codec, as ffmpeg names it.
    pub codec: String,
    /// The stream that is used, counted from 0 over all streams.
    pub stream: usize,
    /// Size of the file.
    pub size_bytes: u64,
    /// BLAKE3 of the file, in hexadecimal; absent if opening was asked not to compute it.
    pub content_hash: Option<String>,
    /// Width of the pictures as they are stored.
    pub stored_width_px: u32,
    /// Height of the pictures as they are stored.
    pub stored_height_px: u32,
    /// Width of the pictures as they are handed out.
    pub upright_width_px: u32,
    /// Height of the pictures as they are handed out.
    pub upright_height_px: u32,
    /// The shape of the stored pixels.
    pub pixel_aspect: PixelAspect,
    /// The way from the stored picture to the upright one.
    #[serde(flatten)]
    pub orientation: Orientation,
    /// Frames that were found.
    pub frames: u32,
    /// What the header says, where it says anything.
    pub frames_promised: Option<u64>,
    /// Frames of the file that its edit list does not show.
    pub frames_hidden: u32,
    /// Container time of the first frame.
    pub first_time_s: f64,
    /// Container time of the last frame.
    pub last_time_s: f64,
    /// From the first frame to the end of the last one.
    pub duration_s: f64,
    /// Absent for a clip of one frame.
    pub rate: Option<Rate>,
    /// Playback against time at the fence.
    pub capture: Capture,
    /// Bits of one luma sample.
    pub bit_depth: u32,
    /// How the pictures' numbers are read.
    pub colour: Colour,
    /// Whether a frame is one moment or two.
    pub scan: Scan,
    /// Device and lens.
    pub lens: Lens,
}

/// The shape of a stored pixel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct PixelAspect {
    /// Width, in parts of the height.
    pub width: u32,
    /// Height, in parts of the width.
    pub height: u32,
}

impl PixelAspect {
    /// As wide as high.
    pub const SQUARE: PixelAspect = PixelAspect { width: 1, height: 1 };

    /// The size with square pixels; the axis with the wider pixels is enlarged.
    pub fn square_size(self, (width, height): (u32, u32)) -> (u32, u32) {
        let ratio = f64::from(self.width) / f64::from(self.height);
        if ratio >= 1.0 {
            ((f64::from(width) * ratio).round() as u32, height)
        } else {
            (width, (f64::from(height) / ratio).round() as u32)
        }
    }

    /// Whether a camera could have made it.
    pub fn is_usual(self) -> bool {
        let ratio = f64::from(self.width) / f64::from(self.height);
        (0.2..=5.0).contains(&ratio)
    }
}

/// The distances between frame times.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Rate {
    /// All gaps are equal within one tick of the container's clock, or within its rounding to milliseconds.
    pub constant: bool,
    /// Frames a second over the whole clip.
    pub mean_hz: f64,
    /// The mean without gaps that are far from the usual one; what a viewer would call the rate.
    pub usual_hz: f64,
    /// The smallest gap between two frames.
    pub smallest_gap_s: f64,
    /// The gap with as many smaller as larger ones.
    pub median_gap_s: f64,
    /// The largest gap between two frames.
    pub largest_gap_s: f64,
}

impl Rate {
    /// The rate of a clip; `None` where there is one frame, or no time passes.
    pub fn of(index: &Index) -> Option<Rate> {
        let ticks = |rows: &[FrameRow]| rows[1].ticks.saturating_sub(rows[0].ticks);
        let mut gaps: Vec<i64> = index.frames.windows(2).map(ticks).collect();
        let median = median(&mut gaps)?;
        let (smallest, largest) = (*gaps.first()?, *gaps.last()?);
        let rate_of = |gaps: &[i64]| {
            let ticks = gaps.iter().map(|gap| i128::from(*gap)).sum();
            index.base.rate_hz(gaps.len() as u64, ticks)
        };
        let near = |gap: i64| {
            gap.saturating_mul(2) >= median && gap.saturating_mul(2) <= median.saturating_mul(3)
        };
        let usual: Vec<i64> = gaps.iter().copied().filter(|gap| near(*gap)).collect();
        let mean_hz = rate_of(&gaps)?;
        Some(Rate {
            constant: is_constant(index.base, smallest, largest),
            mean_hz,
            usual_hz: rate_of(&usual).unwrap_or(mean_hz),
            smallest_gap_s: index.base.seconds(smallest),
            median_gap_s: index.base.seconds(median),
            largest_gap_s: index.base.seconds(largest),
        })
    }
}

fn is_constant(base: TimeBase, smallest: i64, largest: i64) -> bool {
    // Some writers round to milliseconds and then store ticks of a finer clock.
    let rounding = base.ticks_near(0.001).max(1);
    smallest > 0 && largest.saturating_sub(smallest) <= rounding
}

/// How the clip's time relates to time at the fence.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Capture {
    /// Frames a second as the clip plays.
    pub playback_hz: Option<f64>,
    /// Frames a second as the camera recorded.
    pub capture_hz: Option<f64>,
    /// Who says what the camera recorded.
    pub source: CaptureSource,
    /// Seconds at the fence = seconds of playback x this.
    pub time_scale: f64,
}

/// Where a capture rate comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum CaptureSource {
    /// The caller said so.
    Given,
    /// A tag of the file.
    Tag,
    /// Nothing says otherwise: the clip plays as fast as it was recorded.
    Playback,
}

impl Capture {
    /// What follows from the playing rate, the file's tag and what the caller gave, which goes before the tag.
    pub fn of(playback_hz: Option<f64>, tag_hz: Option<f64>, given_hz: Option<f64>) -> Capture {
        let (capture_hz, source) = match (given_hz, tag_hz) {
            (Some(given), _) => (Some(given), CaptureSource::Given),
            (None, Some(tag)) => (Some(tag), CaptureSource::Tag),
            (None, None) => (playback_hz, CaptureSource::Playback),
        };
        let ratio = match (playback_hz, capture_hz) {
            (Some(playback), Some(capture)) => playback / capture,
            _ => 1.0,
        };
        // Phones tag ordinary clips with a rounded rate; only a clearly different one means slow motion. What the
        // caller gives is meant as it is.
        let differs = !(1.0 / SLOW_MOTION_RATIO..=SLOW_MOTION_RATIO).contains(&ratio);
        let time_scale = if source == CaptureSource::Given || differs { ratio } else { 1.0 };
        Capture { playback_hz, capture_hz, source, time_scale }
    }
}

/// Whether a frame shows one moment or, in alternating rows, two.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Scan {
    /// One moment.
    Progressive,
    /// Two moments, half a frame apart.
    Interlaced,
    /// The file does not say.
    NotStated,
}

/// Device and lens, to be looked at and never written to a file.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Lens {
    /// Maker of the device.
    pub make: Option<String>,
    /// The device.
    pub model: Option<String>,
    /// The lens, where it says so.
    pub lens: Option<String>,
    /// Focal length of a 35 mm camera with the same field.
    pub focal_length_35mm_mm: Option<f64>,
}

impl From<&Tags> for Lens {
    fn from(tags: &Tags) -> Lens {
        Lens {
            make: tags.make.clone(),
            model: tags.model.clone(),
            lens: tags.lens.clone(),
            focal_length_35mm_mm: tags.focal_length_35mm_mm,
        }
    }
}

/// Plain numbers of a stream for which ffmpeg-next has no getters.
#[derive(Clone, Copy, Debug)]
pub struct StreamNumbers {
    pub width: u32,
    pub height: u32,
    pub field_order: Scan,
    pub aspect: Option<PixelAspect>,
}

impl StreamNumbers {
    pub fn read(stream: &ff::Stream<'_>) -> StreamNumbers {
        let parameters = stream.parameters();
        // SAFETY: plain fields of a stream and its parameters, both owned by the open file that `stream` borrows.
        let (raw, stream_aspect) =
            unsafe { (&*parameters.as_ptr(), (*stream.as_ptr()).sample_aspect_ratio) };
        use ff::ffi::AVFieldOrder;
        StreamNumbers {
            width: u32::try_from(raw.width).unwrap_or(0),
            height: u32::try_from(raw.height).unwrap_or(0),
            field_order: match raw.field_order {
                AVFieldOrder::AV_FIELD_UNKNOWN => Scan::NotStated,
                AVFieldOrder::AV_FIELD_PROGRESSIVE => Scan::Progressive,
                _ => Scan::Interlaced,
            },
            // The container's word goes before the codec's, as in ffmpeg's own tools.
            aspect: aspect(stream_aspect).or_else(|| aspect(raw.sample_aspect_ratio)),
        }
    }
}

fn aspect(ratio: ff::ffi::AVRational) -> Option<PixelAspect> {
    let (width, height) = (u32::try_from(ratio.num).ok()?, u32::try_from(ratio.den).ok()?);
    (width > 0 && height > 0).then_some(PixelAspect { width, height })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_clearly_different_tag_is_slow_motion() {
        let scale = |playback, tag, given| Capture::of(Some(playback), tag, given).time_scale;
        assert_eq!(scale(30.0, Some(240.0), None), 0.125);
        assert_eq!(scale(29.97, Some(30.0), None), 1.0);
        assert_eq!(scale(24.0, Some(30.0), None), 1.0);
        assert_eq!(scale(30.0, Some(1.0), None), 30.0);
        assert_eq!(scale(30.0, None, None), 1.0);
        assert_eq!(scale(30.0, Some(240.0), Some(120.0)), 0.25);
        assert_eq!(scale(30.0, None, Some(25.0)), 1.2);
    }

    #[test]
    fn wide_pixels_widen_and_narrow_pixels_heighten() {
        assert_eq!(PixelAspect { width: 64, height: 45 }.square_size((800, 640)), (1138, 640));
        assert_eq!(PixelAspect { width: 1, height: 2 }.square_size((640, 241)), (640, 482));
        assert!(!PixelAspect { width: 1, height: 1000 }.is_usual());
    }
}
