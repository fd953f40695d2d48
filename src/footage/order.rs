//! The order in which pictures are shown, from what packets say before anything is decoded.
//!
//! Containers give presentation times, codecs give picture order, and either may be missing or wrong: AVI has no
//! presentation times, some recorders write decoding times in their place, clocks jump. Where the two agree there is
//! nothing to decide; where they differ, the codec is believed unless its order is impossible.
//! Pure. Invariant: `shown` is a permutation of the pictures; the decoder emits pictures in this order if `certain`.

use super::parser::{Field, Headers};
use super::scan::Coded;

/// Decoders hold back at most 16 frames (H.264 A.3.1, H.265 A.4.2); an order that needs more is not a real one.
const MOST_HELD_BACK: usize = 32;

/// One picture: a packet, or the two packets of its two fields.
#[derive(Clone, Copy, Debug)]
pub struct Picture {
    pub packet: u32,
    pub second_field: Option<u32>,
    pub coded: Coded,
    /// Counts restarts of the picture order.
    pub epoch: u32,
}

/// Where the order was taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// Presentation times, and nothing contradicts them.
    Times,
    /// The codec's own order; the presentation times contradict it or are missing.
    Codec,
    /// The codec's own order, because the times are decoding times.
    CodecDespiteDecodeTimes,
    /// Pictures are shown as they are coded.
    Coding,
}

#[derive(Clone, Debug)]
pub struct ShownOrder {
    /// Indices into the pictures, first shown first.
    pub shown: Vec<usize>,
    pub basis: Basis,
    pub certain: bool,
}

/// Joins field pairs and counts the restarts of the picture order.
pub fn pictures(packets: &[Coded], fields_in_packets: bool) -> Vec<Picture> {
    let mut pictures: Vec<Picture> = Vec::with_capacity(packets.len());
    let mut waiting_for: Option<Field> = None;
    let mut epoch = 0;
    for (number, coded) in packets.iter().enumerate() {
        let number = number as u32;
        let field = if fields_in_packets { coded.headers.field } else { Field::Whole };
        if field != Field::Whole && waiting_for == Some(field) {
            waiting_for = None;
            if let Some(first) = pictures.last_mut() {
                first.second_field = Some(number);
                first.coded.damaged |= coded.damaged;
                first.coded.duration = first.coded.duration.saturating_add(coded.duration);
                continue;
            }
        }
        waiting_for = match field {
            Field::Top => Some(Field::Bottom),
            Field::Bottom => Some(Field::Top),
            Field::Whole => None,
        };
        epoch += u32::from(coded.glimpse.restarts_order);
        pictures.push(Picture { packet: number, second_field: None, coded: *coded, epoch });
    }
    pictures
}

/// Decides the order in which the pictures are shown.
pub fn shown_order(pictures: &[Picture], may_reorder: bool) -> ShownOrder {
    let coding = || (0..pictures.len()).collect::<Vec<_>>();
    if !may_reorder {
        return ShownOrder { shown: coding(), basis: Basis::Coding, certain: true };
    }
    let codec = by_order_count(pictures).or_else(|| by_kind(pictures));
    match (by_time(pictures), codec) {
        (Some(times), None) => ShownOrder { shown: times, basis: Basis::Times, certain: true },
        (None, Some(codec)) => ShownOrder { shown: codec, basis: Basis::Codec, certain: true },
        (None, None) => ShownOrder { shown: coding(), basis: Basis::Coding, certain: false },
        (Some(times), Some(codec)) => settle(pictures, times, codec),
    }
}

fn settle(pictures: &[Picture], times: Vec<usize>, codec: Vec<usize>) -> ShownOrder {
    if times == codec {
        return ShownOrder { shown: times, basis: Basis::Times, certain: true };
    }
    let decode_times = pictures.windows(2).all(|pair| pair[0].coded.pts <= pair[1].coded.pts);
    let (shown, basis) = if decode_times {
        (codec, Basis::CodecDespiteDecodeTimes)
    } else if held_back(&codec) <= MOST_HELD_BACK {
        (codec, Basis::Codec)
    } else {
        (times, Basis::Times)
    };
    let certain = basis != Basis::Times;
    ShownOrder { shown, basis, certain }
}

/// How many pictures at most are coded before one that is shown before them.
pub fn held_back(shown: &[usize]) -> usize {
    // A picture coded at `place` and shown at `rank` was overtaken by at least `place - rank` others.
    shown.iter().enumerate().map(|(rank, place)| place.saturating_sub(rank)).max().unwrap_or(0)
}

fn by_time(pictures: &[Picture]) -> Option<Vec<usize>> {
    let times: Option<Vec<i64>> = pictures.iter().map(|picture| picture.coded.pts).collect();
    let times = times?;
    Some(sorted_by_key(pictures.len(), |place| times[place]))
}

/// By picture order count. A picture whose count could not be read (damaged) stays behind the one coded before it.
fn by_order_count(pictures: &[Picture]) -> Option<Vec<usize>> {
    let known = pictures.iter().filter(|picture| picture.coded.headers.order.is_some()).count();
    if known == 0 || known * 10 < pictures.len() * 9 {
        return None;
    }
    let mut last = i32::MIN;
    let keys: Vec<(u32, i32)> = pictures
        .iter()
        .map(|picture| {
            last = match picture.coded.headers.order {
                Some(order) => order,
                None if picture.coded.glimpse.restarts_order => i32::MIN,
                None => last,
            };
            (picture.epoch, last)
        })
        .collect();
    let by_count = sorted_by_key(pictures.len(), |place| keys[place]);
    // Where a count is missing, a time is a better guide than the place behind the neighbour.
    let times = by_time(pictures)
        .filter(|times| known < pictures.len() && agree_where_known(pictures, times));
    Some(times.unwrap_or(by_count))
}

fn agree_where_known(pictures: &[Picture], times: &[usize]) -> bool {
    let keys = times.iter().filter_map(|place| {
        let picture = &pictures[*place];
        picture.coded.headers.order.map(|order| (picture.epoch, order))
    });
    keys.is_sorted()
}

/// The classic rule: a B picture is shown at once, any other when the next such picture arrives. It does not hold
/// for codecs with order counts, whose B pictures may be referred to.
fn by_kind(pictures: &[Picture]) -> Option<Vec<usize>> {
    let kind_unknown =
        |headers: &Headers| headers.bidirectional.is_none() || headers.order.is_some();
    if pictures.iter().any(|picture| kind_unknown(&picture.coded.headers)) {
        return None;
    }
    let mut shown = Vec::with_capacity(pictures.len());
    let mut held = None;
    for (place, picture) in pictures.iter().enumerate() {
        if picture.coded.headers.bidirectional == Some(true) {
            shown.push(place);
        } else {
            shown.extend(held.replace(place));
        }
    }
    shown.extend(held);
    Some(shown)
}

fn sorted_by_key<K: Ord>(len: usize, key: impl Fn(usize) -> K) -> Vec<usize> {
    let mut places: Vec<usize> = (0..len).collect();
    places.sort_by_key(|place| key(*place));
    places
}

#[cfg(test)]
#[path = "order_tests.rs"]
mod tests;
