//! What the first bytes of a packet tell without decoding: does it restart the picture order, can it be shown, is it
//! cut short.
//!
//! H.264 and HEVC packets are lists of NAL units (ITU-T H.264 7.3.1, H.265 7.3.1), split by start codes in streams
//! and by lengths in MP4 and Matroska. Pure: bytes in, facts out. Invariant: never panics on any bytes.
//! Not handled: anything inside a slice; picture order comes from ffmpeg's parser, see `parser`.

/// How the units of a packet are split.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Split {
    StartCodes,
    Lengths { bytes: usize },
}

/// The codings whose packets we can look into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Coding {
    H264(Split),
    Hevc(Split),
    Vp8,
    Vp9,
    Other,
}

/// What was seen in one packet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Glimpse {
    /// The unit lengths run past the end of the packet.
    pub cut_short: bool,
    /// Picture order starts anew here (IDR, or a broken link).
    pub restarts_order: bool,
    /// Shown before its key frame but refers to pictures before it (HEVC RASL): cannot be decoded from that key.
    pub needs_earlier_key: bool,
    /// Decoded only for others to refer to, never shown.
    pub never_shown: bool,
}

impl Split {
    /// Reads the split from the stream's codec configuration, as AVC and HEVC configuration records give it.
    pub fn of_h264(config: &[u8]) -> Split {
        match config {
            [1, _, _, _, lengths, _, _, ..] => {
                Split::Lengths { bytes: usize::from(lengths & 3) + 1 }
            }
            _ => Split::StartCodes,
        }
    }

    pub fn of_hevc(config: &[u8]) -> Split {
        let is_record = matches!(config, [a, b, c, ..] if *a != 0 || *b != 0 || *c > 1);
        match config.get(21) {
            Some(lengths) if is_record => Split::Lengths { bytes: usize::from(lengths & 3) + 1 },
            _ => Split::StartCodes,
        }
    }
}

/// Looks into a packet.
pub fn look(coding: Coding, data: &[u8]) -> Glimpse {
    match coding {
        Coding::H264(split) => look_at_units(split, data, |header| {
            let kind = header & 0x1f;
            (1..=5)
                .contains(&kind)
                .then_some(Glimpse { restarts_order: kind == 5, ..Glimpse::default() })
        }),
        Coding::Hevc(split) => look_at_units(split, data, |header| {
            let kind = (header >> 1) & 0x3f;
            (kind < 32).then_some(Glimpse {
                restarts_order: (16..=20).contains(&kind),
                needs_earlier_key: kind == 8 || kind == 9,
                ..Glimpse::default()
            })
        }),
        Coding::Vp8 => Glimpse {
            never_shown: data.first().is_some_and(|byte| byte & 0x10 == 0),
            ..Glimpse::default()
        },
        Coding::Vp9 => Glimpse { never_shown: vp9_never_shown(data), ..Glimpse::default() },
        Coding::Other => Glimpse::default(),
    }
}

/// The glimpse of the first unit that holds picture data, and whether the lengths fit the packet.
fn look_at_units(split: Split, data: &[u8], picture: impl Fn(u8) -> Option<Glimpse>) -> Glimpse {
    match split {
        Split::StartCodes => {
            let headers =
                data.windows(4).filter(|bytes| bytes[..3] == [0, 0, 1]).map(|bytes| bytes[3]);
            headers.filter_map(picture).next().unwrap_or_default()
        }
        Split::Lengths { bytes } => {
            let mut found = None;
            let mut rest = data;
            while rest.len() > bytes {
                let (length, unit) = rest.split_at(bytes);
                let length =
                    length.iter().fold(0_usize, |sum, byte| (sum << 8) | usize::from(*byte));
                found = found.or_else(|| unit.first().copied().and_then(&picture));
                match unit.get(length..) {
                    Some(after) => rest = after,
                    None => {
                        return Glimpse { cut_short: true, ..found.unwrap_or_default() };
                    }
                }
            }
            found.unwrap_or_default()
        }
    }
}

/// A lone VP9 frame with `show_frame` unset; a superframe always shows one of its frames.
fn vp9_never_shown(data: &[u8]) -> bool {
    let (Some(&first), Some(&last)) = (data.first(), data.last()) else {
        return false;
    };
    let is_superframe = last & 0xe0 == 0xc0;
    // frame_marker (2 bits), profile (2 bits, a reserved zero more for profile 3), show_existing_frame, frame_type,
    // show_frame: VP9 bitstream specification 6.2.
    let profile_is_3 = first & 0x30 == 0x30;
    let (existing, shown) =
        if profile_is_3 { (first & 0x04, first & 0x01) } else { (first & 0x08, first & 0x02) };
    first & 0xc0 == 0x80 && !is_superframe && existing == 0 && shown == 0
}

#[cfg(test)]
mod tests {
    use super::*;

    const LENGTHS: Split = Split::Lengths { bytes: 4 };

    #[test]
    fn an_idr_restarts_the_order_and_a_later_slice_does_not() {
        let idr = [0, 0, 0, 2, 0x67, 1, 0, 0, 0, 3, 0x65, 7, 8];
        let plain = [0, 0, 1, 0x09, 9, 0, 0, 1, 0x41, 7, 8];
        assert!(look(Coding::H264(LENGTHS), &idr).restarts_order);
        assert!(!look(Coding::H264(Split::StartCodes), &plain).restarts_order);
    }

    #[test]
    fn a_length_past_the_end_is_cut_short() {
        assert!(look(Coding::H264(LENGTHS), &[0, 0, 2, 2, 0x41, 7, 8]).cut_short);
        assert!(look(Coding::H264(LENGTHS), &[255, 255, 255, 255, 0x41]).cut_short);
        assert!(!look(Coding::H264(LENGTHS), &[0, 0, 0, 3, 0x41, 7, 8]).cut_short);
    }

    #[test]
    fn hevc_leading_pictures_are_told_from_the_others() {
        let rasl = [0, 0, 0, 3, 8 << 1, 1, 5];
        let cra = [0, 0, 0, 3, 21 << 1, 1, 5];
        let idr = [0, 0, 0, 3, 19 << 1, 1, 5];
        assert!(look(Coding::Hevc(LENGTHS), &rasl).needs_earlier_key);
        assert_eq!(look(Coding::Hevc(LENGTHS), &cra), Glimpse::default());
        assert!(look(Coding::Hevc(LENGTHS), &idr).restarts_order);
    }

    #[test]
    fn no_bytes_at_all_are_no_picture() {
        for coding in
            [Coding::H264(LENGTHS), Coding::Hevc(Split::StartCodes), Coding::Vp8, Coding::Vp9]
        {
            assert_eq!(look(coding, &[]), Glimpse::default());
        }
    }
}
