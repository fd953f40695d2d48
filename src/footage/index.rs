//! The frame index: every frame of the clip in presentation order, its exact time, and where decoding must start.
//!
//! A frame that is shown before its key frame but coded after it may refer to pictures of the group before (open
//! GOP); decoding it starts one key frame earlier. Decoding from `start` gives the same pixels as decoding from the
//! beginning. Invariant: frames are numbered 0.. in the order they are shown, without those an edit list hides or
//! that cannot be decoded because the recording starts in the middle of a group.
//! Memory: 24 bytes a frame and about 60 a packet, whatever the picture size.

use ffmpeg_next as ff;

use super::order::{self, Picture, ShownOrder};
use super::parser;
use super::scan::Coded;
use super::source::Source;
use super::times::{self, Origin};
use crate::quantity::time::{FrameNumber, FrameTime, TimeBase};

/// One frame.
#[derive(Clone, Copy, Debug)]
pub struct FrameRow {
    pub ticks: i64,
    pub packet: u32,
    /// The packet from which a decode gives this frame with its true pixels.
    pub start: u32,
    /// Nothing before its own packet is needed.
    pub random_access: bool,
}

/// One packet, as far as it is needed to know it again after a seek.
#[derive(Clone, Copy, Debug)]
pub struct PacketRow {
    pts: Option<i64>,
    dts: Option<i64>,
    position: i64,
    size: u32,
}

/// What the scan found that a reader of numbers should hear about.
#[derive(Clone, Debug)]
pub struct ScanNotes {
    pub hidden: u32,
    pub field_pairs: u32,
    pub undecodable_start: u32,
    pub origin: Origin,
}

#[derive(Debug)]
pub struct Index {
    pub base: TimeBase,
    pub frames: Vec<FrameRow>,
    /// How long the last frame is shown, in ticks; 0 where the container does not say.
    pub last_duration: i64,
    pub packets: Vec<PacketRow>,
    /// The frame of every packet; `u32::MAX` where it has none.
    frame_of_packet: Vec<u32>,
    /// How many frames the decoder must hold back to put them in order.
    pub held_back: usize,
    /// Frames whose packets are damaged on the face of it.
    pub damaged: Vec<FrameNumber>,
    /// The decoder emits frames in the order of this index.
    pub certain: bool,
}

impl PacketRow {
    /// The time to seek to for this packet.
    pub fn seek_ticks(&self) -> Option<i64> {
        self.dts.or(self.pts)
    }

    fn is(&self, packet: &ff::Packet) -> bool {
        let same_time = |known: Option<i64>, found: Option<i64>| known.is_some() && known == found;
        self.size as usize == packet.size()
            && self.position == packet.position() as i64
            && (same_time(self.pts, packet.pts()) || same_time(self.dts, packet.dts()))
    }
}

impl Index {
    pub fn time(&self, row: &FrameRow) -> FrameTime {
        FrameTime::new(row.ticks, self.base)
    }

    /// How long a frame is shown, in ticks: until the next one. Containers' own durations are those of decoding.
    pub fn duration(&self, number: FrameNumber) -> Option<i64> {
        let place = number.0 as usize;
        let ticks = match (self.frames.get(place)?, self.frames.get(place + 1)) {
            (row, Some(next)) => next.ticks.saturating_sub(row.ticks),
            (_, None) => self.last_duration,
        };
        (ticks > 0).then_some(ticks)
    }

    pub fn frame_of(&self, packet: u32) -> Option<FrameNumber> {
        let number = *self.frame_of_packet.get(packet as usize)?;
        (number != u32::MAX).then_some(FrameNumber(number))
    }

    /// The number of a packet met after a seek.
    pub fn number_of(&self, packet: &ff::Packet) -> Option<u32> {
        let place = self.packets.iter().position(|row| row.is(packet))?;
        u32::try_from(place).ok()
    }

    /// The packet from which the pictures coded around `packet` are decoded.
    pub fn group_of(&self, packet: u32) -> u32 {
        let starts = self.frames.iter().map(|row| row.start).filter(|start| *start <= packet);
        starts.max().unwrap_or(0)
    }

    /// The start that comes before `start`, for a frame that did not come out of a decode from there.
    pub fn earlier_start(&self, start: u32) -> Option<u32> {
        let earlier = self.frames.iter().map(|row| row.start).filter(|other| *other < start);
        earlier.max().or((start > 0).then_some(0))
    }
}

/// Builds the index from the packets of a clip.
pub fn build(source: &Source, packets: &[Coded], base: TimeBase) -> (Index, ScanNotes) {
    let id = source.stream().parameters().id();
    // Only H.264 in streams without frame boundaries delivers the fields of a picture as two packets.
    let pictures = order::pictures(packets, id == ff::codec::Id::H264);
    let order = order::shown_order(&pictures, parser::reorders(id));
    let all_shown: Vec<&Picture> = order.shown.iter().map(|place| &pictures[*place]).collect();
    let gap = nominal_gap(source, packets, base);
    let (ticks, origin) = times::of_shown(&all_shown, order.basis, gap);
    let starts = starts(&pictures, &order, id);
    number_frames(packets, base, &pictures, &order, &ticks, &starts, origin)
}

fn number_frames(
    packets: &[Coded],
    base: TimeBase,
    pictures: &[Picture],
    order: &ShownOrder,
    ticks: &[i64],
    starts: &[Start],
    origin: Origin,
) -> (Index, ScanNotes) {
    let mut index = Index {
        base,
        frames: Vec::with_capacity(pictures.len()),
        last_duration: 0,
        packets: packets.iter().map(packet_row).collect(),
        frame_of_packet: vec![u32::MAX; packets.len()],
        held_back: order::held_back(&order.shown),
        damaged: Vec::new(),
        certain: order.certain,
    };
    let mut notes = ScanNotes { hidden: 0, field_pairs: 0, undecodable_start: 0, origin };
    for (place, ticks) in order.shown.iter().zip(ticks) {
        let (picture, start) = (&pictures[*place], &starts[*place]);
        if picture.coded.glimpse.never_shown {
            continue;
        }
        if picture.coded.hidden {
            notes.hidden += 1;
            continue;
        }
        let Start::At { packet: start } = *start else {
            notes.undecodable_start += 1;
            continue;
        };
        notes.field_pairs += u32::from(picture.second_field.is_some());
        index.last_duration = picture.coded.duration.max(0);
        let number = index.frames.len() as u32;
        if picture.coded.damaged {
            index.damaged.push(FrameNumber(number));
        }
        for packet in [Some(picture.packet), picture.second_field].into_iter().flatten() {
            index.frame_of_packet[packet as usize] = number;
        }
        index.frames.push(FrameRow {
            ticks: *ticks,
            packet: picture.packet,
            start,
            random_access: start == picture.packet,
        });
    }
    (index, notes)
}

fn packet_row(coded: &Coded) -> PacketRow {
    PacketRow { pts: coded.pts, dts: coded.dts, position: coded.position, size: coded.size }
}

/// Where decoding must start for a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Start {
    At {
        packet: u32,
    },
    /// It refers to pictures from before the recording began.
    Nowhere,
}

/// The start of every picture, by coding place.
fn starts(pictures: &[Picture], order: &ShownOrder, id: ff::codec::Id) -> Vec<Start> {
    let mut ranks = vec![0_usize; pictures.len()];
    for (rank, place) in order.shown.iter().enumerate() {
        ranks[*place] = rank;
    }
    let any_key = pictures.iter().any(|picture| picture.coded.key);
    let (mut key, mut key_before): (Option<usize>, Option<usize>) = (None, None);
    let mut starts = Vec::with_capacity(pictures.len());
    for (place, picture) in pictures.iter().enumerate() {
        if picture.coded.key {
            (key_before, key) = (key, Some(place));
        }
        let leading = key.is_some_and(|key| ranks[place] < ranks[key]);
        let from = if leading { key_before } else { key };
        starts.push(match from {
            Some(from) => Start::At { packet: pictures[from].packet },
            None if any_key && (key.is_none() || is_dropped(picture, id)) => Start::Nowhere,
            None => Start::At { packet: 0 },
        });
    }
    starts
}

/// Whether a decoder drops this picture when it is shown before the clip's first key frame.
fn is_dropped(picture: &Picture, id: ff::codec::Id) -> bool {
    match id {
        ff::codec::Id::H264 => false,
        ff::codec::Id::HEVC => picture.coded.glimpse.needs_earlier_key,
        _ => true,
    }
}

/// The usual distance of frames for files without times.
fn nominal_gap(source: &Source, packets: &[Coded], base: TimeBase) -> i64 {
    let mut durations: Vec<i64> =
        packets.iter().map(|coded| coded.duration).filter(|ticks| *ticks > 0).collect();
    if let Some(duration) = times::median(&mut durations) {
        return duration;
    }
    let rate = source.stream().avg_frame_rate();
    let rate = f64::from(rate.numerator()) / f64::from(rate.denominator());
    let rate = if rate.is_finite() && rate > 0.0 { rate } else { 25.0 };
    base.ticks_near(1.0 / rate).max(1)
}
