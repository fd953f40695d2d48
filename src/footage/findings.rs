//! From what opening found to facts about time, and to doubts.
//!
//! Invariant: doubts come in a fixed order, so the same clip always prints the same list.

use ffmpeg_next as ff;
use ffmpeg_next::packet::side_data::Type as SideData;

use super::colour::DynamicRange;
use super::doubt::FootageDoubt;
use super::facts::{CaptureSource, ClipFacts, PixelAspect, Rate, Scan};
use super::index::{Index, ScanNotes};
use super::orientation::Orientation;
use super::source::{Source, video_streams};
use super::tags::Tags;
use super::times::Origin;
use crate::quantity::time::FrameNumber;

/// A gap this many times the usual one is worth a doubt.
const LARGE_GAP: f64 = 1.5;
/// The Dolby Vision profile whose base layer no ordinary decoder shows right.
const PROFILE_WITHOUT_BASE: u8 = 5;

/// Everything doubts are drawn from.
pub struct Findings<'a> {
    pub source: &'a Source,
    pub index: &'a Index,
    pub notes: &'a ScanNotes,
    pub facts: &'a ClipFacts,
    pub tags: &'a Tags,
    pub stated_aspect: Option<PixelAspect>,
    pub exact_turn: bool,
}

pub fn doubts(findings: &Findings<'_>) -> Vec<FootageDoubt> {
    let mut doubts = Vec::new();
    doubts.extend(several_streams(findings));
    doubts.extend(header_count(findings));
    doubts.extend(damage(findings.index, findings.notes));
    doubts.extend(times(findings));
    doubts.extend(capture(findings));
    doubts.extend(pictures(findings));
    doubts
}

fn several_streams(findings: &Findings<'_>) -> Option<FootageDoubt> {
    let streams = video_streams(findings.source.input());
    (streams.len() > 1)
        .then_some(FootageDoubt::SeveralVideoStreams { used: findings.facts.stream, streams })
}

fn header_count(findings: &Findings<'_>) -> Option<FootageDoubt> {
    let promised = findings.facts.frames_promised?;
    let notes = findings.notes;
    let found = u64::from(findings.facts.frames)
        + u64::from(notes.hidden)
        + u64::from(notes.undecodable_start);
    (promised != found).then_some(FootageDoubt::HeaderCount { promised, found })
}

fn damage(index: &Index, notes: &ScanNotes) -> Vec<FootageDoubt> {
    let mut doubts = Vec::new();
    if let Some(first) = index.damaged.first() {
        doubts
            .push(FootageDoubt::DamagedFrames { count: index.damaged.len() as u32, first: *first });
    }
    if notes.undecodable_start > 0 {
        doubts.push(FootageDoubt::UndecodableStart { count: notes.undecodable_start });
    }
    doubts
}

fn times(findings: &Findings<'_>) -> Vec<FootageDoubt> {
    let mut doubts = Vec::new();
    match findings.notes.origin {
        Origin::Published => {}
        Origin::DecodeTimes if findings.index.held_back == 0 => {}
        Origin::DecodeTimes => doubts.push(FootageDoubt::TimesAreDecodeTimes),
        Origin::FilledIn(count) => doubts.push(FootageDoubt::TimesFilledIn { count }),
        Origin::Nominal => {
            let rate_hz = findings.facts.rate.map_or(0.0, |rate| rate.mean_hz);
            doubts.push(FootageDoubt::TimesFromNominalRate { rate_hz });
        }
    }
    doubts.extend(gaps(findings.index, findings.facts.rate));
    doubts.extend(backwards(findings.index));
    doubts
}

fn gaps(index: &Index, rate: Option<Rate>) -> Option<FootageDoubt> {
    let median_s = rate?.median_gap_s;
    let (mut count, mut largest_s, mut after) = (0, 0.0, FrameNumber(0));
    for (number, pair) in index.frames.windows(2).enumerate() {
        let gap_s = index.base.seconds(pair[1].ticks.saturating_sub(pair[0].ticks));
        if gap_s > LARGE_GAP * median_s {
            count += 1;
            if gap_s > largest_s {
                (largest_s, after) = (gap_s, FrameNumber(number as u32));
            }
        }
    }
    (count > 0).then_some(FootageDoubt::Gaps { count, after, largest_s, median_s })
}

fn backwards(index: &Index) -> Option<FootageDoubt> {
    let mut late =
        index.frames.windows(2).enumerate().filter(|(_, pair)| pair[1].ticks <= pair[0].ticks);
    let (before, _) = late.next()?;
    Some(FootageDoubt::TimesGoBackwards {
        count: 1 + late.count() as u32,
        first: FrameNumber(before as u32 + 1),
    })
}

fn capture(findings: &Findings<'_>) -> Option<FootageDoubt> {
    let capture = &findings.facts.capture;
    // A rate the caller gave is no doubt; one that only a tag claims is.
    let scaled_by_tag = capture.source == CaptureSource::Tag && capture.time_scale != 1.0;
    if let (Some(playback_hz), Some(capture_hz), true) =
        (capture.playback_hz, capture.capture_hz, scaled_by_tag)
    {
        return Some(FootageDoubt::SlowMotion {
            playback_hz,
            capture_hz,
            time_scale: capture.time_scale,
        });
    }
    let unknown = findings.tags.says_slow_motion && capture.source == CaptureSource::Playback;
    unknown.then_some(FootageDoubt::SlowMotionRateUnknown)
}

fn pictures(findings: &Findings<'_>) -> Vec<FootageDoubt> {
    let mut doubts = Vec::new();
    let facts = findings.facts;
    if facts.scan == Scan::Interlaced {
        doubts.push(FootageDoubt::Interlaced);
    }
    if let Some(PixelAspect { width, height }) =
        findings.stated_aspect.filter(|aspect| !aspect.is_usual())
    {
        doubts.push(FootageDoubt::UnusualAspect { width, height });
    }
    if !findings.exact_turn {
        doubts.push(FootageDoubt::UnusualRotation);
    }
    if facts.colour.dynamic_range != DynamicRange::Sdr || facts.colour.wide_primaries {
        doubts.push(FootageDoubt::BroughtDownToSdr { from: facts.colour.dynamic_range });
    }
    if dolby_vision_profile(&findings.source.stream()) == Some(PROFILE_WITHOUT_BASE) {
        doubts.push(FootageDoubt::NoCompatibleBaseLayer);
    }
    doubts
}

/// The stream's orientation, and whether its matrix says exactly that.
pub fn orientation(stream: &ff::Stream<'_>) -> (Orientation, bool) {
    let matrix = side_data(stream, SideData::DisplayMatrix, |bytes| {
        let mut matrix = [0_i32; 9];
        let words = bytes.chunks_exact(4);
        if words.len() < matrix.len() {
            return None;
        }
        for (to, from) in matrix.iter_mut().zip(words) {
            *to = i32::from_ne_bytes([from[0], from[1], from[2], from[3]]);
        }
        Some(matrix)
    });
    matrix.map_or((Orientation::default(), true), Orientation::from_matrix)
}

/// The third byte of ffmpeg's `AVDOVIDecoderConfigurationRecord` is the profile.
fn dolby_vision_profile(stream: &ff::Stream<'_>) -> Option<u8> {
    side_data(stream, SideData::DOVI_CONF, |bytes| bytes.get(2).copied())
}

fn side_data<T>(
    stream: &ff::Stream<'_>,
    kind: SideData,
    read: impl Fn(&[u8]) -> Option<T>,
) -> Option<T> {
    stream.side_data().filter(|data| data.kind() == kind).find_map(|data| read(data.data()))
}

pub fn first_time_s(index: &Index) -> f64 {
    index.frames.first().map_or(0.0, |row| index.time(row).seconds())
}

pub fn last_time_s(index: &Index) -> f64 {
    index.frames.last().map_or(0.0, |row| index.time(row).seconds())
}

/// To the end of the last frame; where the container does not say when that is, it lasts the usual gap.
pub fn duration_s(index: &Index, rate: Option<Rate>) -> f64 {
    let shown_s = match index.last_duration {
        0 => rate.map_or(0.0, |rate| rate.median_gap_s),
        ticks => index.base.seconds(ticks),
    };
    last_time_s(index) - first_time_s(index) + shown_s
}
