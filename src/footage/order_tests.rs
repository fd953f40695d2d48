//! The order of pictures, on hand-made lists of packets.

use super::*;
use crate::footage::bitstream::Glimpse;

fn packet(pts: Option<i64>, order: Option<i32>) -> Coded {
    Coded {
        pts,
        dts: None,
        duration: 1,
        position: 0,
        size: 10,
        key: false,
        hidden: false,
        damaged: false,
        glimpse: Glimpse::default(),
        headers: Headers { order, bidirectional: None, field: Field::Whole },
    }
}

fn restart(pts: i64) -> Coded {
    let mut coded = packet(Some(pts), Some(0));
    coded.glimpse.restarts_order = true;
    coded
}

fn order(packets: &[Coded]) -> ShownOrder {
    shown_order(&pictures(packets, true), true)
}

#[test]
fn times_and_codec_that_agree_need_no_decision() {
    let order = order(&[
        restart(0),
        packet(Some(90), Some(6)),
        packet(Some(30), Some(2)),
        packet(Some(60), Some(4)),
    ]);
    assert_eq!((order.shown, order.basis, order.certain), (vec![0, 2, 3, 1], Basis::Times, true));
}

#[test]
fn decoding_times_in_place_of_presentation_times_are_seen_through() {
    let order = order(&[
        restart(0),
        packet(Some(34), Some(6)),
        packet(Some(67), Some(2)),
        packet(Some(101), Some(4)),
    ]);
    assert_eq!((order.shown, order.basis), (vec![0, 2, 3, 1], Basis::CodecDespiteDecodeTimes));
}

#[test]
fn a_clock_that_jumps_back_does_not_shuffle_pictures() {
    let order = order(&[
        restart(500),
        packet(Some(533), Some(2)),
        restart(500),
        packet(Some(533), Some(2)),
    ]);
    assert_eq!((order.shown, order.basis), (vec![0, 1, 2, 3], Basis::Codec));
}

#[test]
fn without_times_the_codec_order_counts() {
    let order = order(&[
        packet(None, Some(0)),
        packet(None, Some(8)),
        packet(None, Some(4)),
        packet(None, Some(12)),
    ]);
    assert_eq!((order.shown, order.basis), (vec![0, 2, 1, 3], Basis::Codec));
}

#[test]
fn a_damaged_picture_is_placed_by_its_time() {
    let order = order(
        &std::iter::once(restart(0))
            .chain((1..20).map(|n| {
                let mut coded = packet(Some(n * 10), (n != 7).then_some(n as i32 * 2));
                coded.headers.bidirectional = Some(n % 3 == 0);
                coded
            }))
            .collect::<Vec<_>>(),
    );
    assert_eq!((order.shown, order.basis), ((0..20).collect(), Basis::Times));
}

#[test]
fn b_pictures_are_shown_before_the_picture_they_follow() {
    let kinds = [false, false, true, true, false, true];
    let packets: Vec<Coded> = kinds
        .iter()
        .map(|bidirectional| {
            let mut coded = packet(None, None);
            coded.headers.bidirectional = Some(*bidirectional);
            coded
        })
        .collect();
    assert_eq!(order(&packets).shown, vec![0, 2, 3, 1, 5, 4]);
}

#[test]
fn two_fields_make_one_picture() {
    let fields = [Field::Top, Field::Bottom, Field::Whole, Field::Bottom, Field::Top, Field::Top];
    let packets: Vec<Coded> = fields
        .iter()
        .map(|field| {
            let mut coded = packet(Some(0), None);
            coded.headers.field = *field;
            coded
        })
        .collect();
    let pairs: Vec<_> =
        pictures(&packets, true).iter().map(|p| (p.packet, p.second_field)).collect();
    assert_eq!(pairs, vec![(0, Some(1)), (2, None), (3, Some(4)), (5, None)]);
    assert_eq!(pictures(&packets, false).len(), 6);
}
