//! The time of every picture, in ticks, as the container publishes it; filled in only where it publishes none.
//!
//! Pure. Invariant: a published presentation time is never changed, except where all of them are decoding times:
//! then the k-th picture shown gets the k-th time, because the recorder lost only the pairing.
//!
//! What such a file looks like: a webcam's 456 packets (x264, up to two pictures held back) carry one time each,
//! 32 to 34 ms apart, that grows from packet to packet although every second picture is shown out of turn. ffprobe
//! lists gaps of −33 to 101 ms for it, because it takes some of these times for presentation times and jumps at both
//! ends. Nothing in the packets is irregular, so neither are the frames: dealt out, the gaps are 32 to 34 ms, and
//! 67 ms once, where the edit list hides a picture.
//! What dealing out cannot know: an encoder's decoding times are the presentation times of the pictures it held back,
//! so the k-th one is that of a picture as many places earlier (that file's sound starts 67 ms, two pictures, after
//! its first decoding time). All frames are early by the same amount, which no duration feels, but where the rate
//! varies a long gap stands up to `held_back` frames late. The encoder may also have made other times, and the last
//! pictures would be left without one, so the times are kept as they are; the doubt says what it means.

use super::order::{Basis, Picture};

/// Where the times come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    Published,
    /// Decoding times dealt out in the order of display.
    DecodeTimes,
    /// This many pictures had no time; they got one from their neighbours.
    FilledIn(u32),
    /// The file holds no times; the nominal rate was used.
    Nominal,
}

/// The times of the pictures, which come in the order they are shown.
pub fn of_shown(shown: &[&Picture], basis: Basis, nominal_gap: i64) -> (Vec<i64>, Origin) {
    let published: Vec<Option<i64>> = shown.iter().map(|picture| picture.coded.pts).collect();
    let missing = published.iter().filter(|time| time.is_none()).count() as u32;
    if missing == 0 {
        let mut times: Vec<i64> = published.into_iter().flatten().collect();
        if basis == Basis::CodecDespiteDecodeTimes {
            times.sort_unstable();
            return (times, Origin::DecodeTimes);
        }
        return (times, Origin::Published);
    }
    let decode: Option<Vec<i64>> = shown.iter().map(|picture| picture.coded.dts).collect();
    let nothing_known = missing as usize == shown.len();
    match decode {
        Some(decode) if nothing_known => (dealt_out(decode, &published), Origin::DecodeTimes),
        Some(decode) => (dealt_out(decode, &published), Origin::FilledIn(missing)),
        None if nothing_known => (stepped(&published, nominal_gap), Origin::Nominal),
        None => (stepped(&published, nominal_gap), Origin::FilledIn(missing)),
    }
}

/// Sorted decoding times, moved by the usual distance to the known presentation times.
fn dealt_out(mut decode: Vec<i64>, published: &[Option<i64>]) -> Vec<i64> {
    decode.sort_unstable();
    let mut distances: Vec<i64> = decode
        .iter()
        .zip(published)
        .filter_map(|(decode, time)| time.map(|time| time.saturating_sub(*decode)))
        .collect();
    let distance = median(&mut distances).unwrap_or(0);
    decode
        .iter()
        .zip(published)
        .map(|(decode, time)| time.unwrap_or(decode.saturating_add(distance)))
        .collect()
}

/// Each missing time is one nominal gap after the time before it.
fn stepped(published: &[Option<i64>], gap: i64) -> Vec<i64> {
    let mut next = 0_i64;
    published
        .iter()
        .map(|time| {
            let time = time.unwrap_or(next);
            next = time.saturating_add(gap);
            time
        })
        .collect()
}

/// The middle value (the upper one of two); sorts the values.
pub fn median(values: &mut [i64]) -> Option<i64> {
    values.sort_unstable();
    values.get(values.len() / 2).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn missing_times_are_dealt_from_decoding_times_at_the_usual_distance() {
        let times = dealt_out(vec![0, 20, 10, 30], &[Some(25), None, None, Some(55)]);
        assert_eq!(times, vec![25, 35, 45, 55]);
    }

    #[test]
    fn without_any_clock_the_nominal_gap_is_stepped() {
        assert_eq!(stepped(&[None, Some(7), None, None], 3), vec![0, 7, 10, 13]);
    }
}
