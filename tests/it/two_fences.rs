//! Lines of two fences laid out so that every number can be worked out by hand: worked examples of
//! our own, the arithmetic beside each. Which number of strides a distance is built for is the 12-ft
//! convention: 60 ft for four, 72 ft for five (R1, R4 of the reference values, read).

use groundline::marks::{Event, Limb};
use groundline::quantity::{Estimate, Metres, Unit};
use groundline::reading::read_line;
use groundline::scene::GroundPoint;
use groundline::stride::{Draws, LineDoubt, LineMeasurement, ShownStrides, measure};

use crate::laid_out::{Approached, Hoof, filmed, strides};

const DRAWS: Draws = Draws { count: 300, seed: 5 };

/// A jump over a vertical at 1.9 m, landing 1.70 m behind it, then `count` strides of `length` m to
/// a take-off 1.80 m before the second fence.
fn line_of(count: usize, length: f64) -> [Approached; 2] {
    line_of_strides(&vec![(length, 0.6); count])
}

/// The same with these strides: length in metres, duration in seconds.
fn line_of_strides(rows: &[(f64, f64)]) -> [Approached; 2] {
    let mut first = strides(Limb::LeadingHind, &[(3.4, 0.6); 3]);
    let take_off_s = first.hooves.last().unwrap().at_s;
    first.fence_x = 1.9;
    let landing = GroundPoint::new(3.6, 0.0);
    let landed = Hoof {
        limb: Limb::TrailingFore,
        event: Event::Landing,
        place: landing,
        at_s: take_off_s + 0.55,
    };
    first.hooves.push(landed);
    // The hind comes down where the fore did, 0.4 of a stride later.
    let mut second = strides(Limb::LeadingHind, rows);
    let begins = second.hooves[0];
    for hoof in &mut second.hooves {
        hoof.place.x += landing.x - begins.place.x;
        hoof.at_s += landed.at_s + 0.24 - begins.at_s;
    }
    second.fence_x = second.hooves.last().unwrap().place.x + 1.80;
    [first, second]
}

fn measured(laid: &[Approached]) -> Vec<LineMeasurement> {
    let (_, measurement) = measure(&filmed(laid, 1.0 / 240.0), DRAWS).unwrap();
    measurement.lines
}

#[track_caller]
fn near(found: Estimate<Metres>, expected: f64) {
    assert!((found.value.get() - expected).abs() < 0.02, "{found:?} against {expected}");
}

#[test]
fn five_in_the_five_and_what_four_and_six_would_have_needed() {
    let laid = line_of(5, 3.40);
    let [line] = &measured(&laid)[..] else { panic!() };
    // 1.70 + 5 · 3.40 + 1.80 m.
    near(line.distance_m, 20.5);
    near(line.landing_m, 1.70);
    near(line.take_off_m, 1.80);
    near(line.mean_stride_m.unwrap(), 3.40);
    assert_eq!((line.strides_taken, &line.strides[..]), (5, &[-5, -4, -3, -2, -1][..]));
    assert!(line.doubts.is_empty(), "{:?}", line.doubts);
    // 17.0 m in four, five and six.
    for (needed, (count, length)) in line.needed.iter().zip([(4, 4.25), (5, 3.40), (6, 2.8333)]) {
        assert_eq!(needed.strides, count);
        near(needed.stride_m, length);
    }
    // 72 ft are 21.95 m, 60 ft 18.29 m: 20.5 m lies nearer to five.
    let (_, measurement) = measure(&filmed(&laid, 1.0 / 240.0), DRAWS).unwrap();
    let read = read_line(line, ShownStrides::of_approaches(&measurement.approaches).as_ref());
    assert_eq!(read.built_for, 5);
    let shown: Vec<bool> = read.needed.iter().map(|needed| needed.is_shown).collect();
    assert_eq!(shown, [false, true, false]);
}

#[test]
fn five_in_the_four_is_told_from_five_in_the_five() {
    // 1.70 + 5 · 3.00 + 1.80 = 18.5 m: 60 ft, 18.29 m, is a four.
    let laid = line_of(5, 3.00);
    let (_, measurement) = measure(&filmed(&laid, 1.0 / 240.0), DRAWS).unwrap();
    let read = read_line(
        &measurement.lines[0],
        ShownStrides::of_approaches(&measurement.approaches).as_ref(),
    );
    assert_eq!((read.measured.strides_taken, read.built_for), (5, 4));
}

#[test]
fn strides_that_were_not_marked_are_counted_by_time() {
    let mut laid = line_of(5, 3.40);
    // Only the last two strides are marked.
    laid[1].hooves.drain(..3);
    let [line] = &measured(&laid)[..] else { panic!() };
    assert_eq!(line.strides_taken, 5);
    assert_eq!(line.doubts, [LineDoubt::CountedByTime { marked: 2 }]);
    assert_eq!((line.mean_stride_m, &line.strides[..]), (None, &[-2, -1][..]));
}

#[test]
fn strides_that_are_all_marked_are_counted_whatever_the_time_says() {
    // Three quick strides and four slow ones: 0.24 + 3 · 0.45 + 4 · 0.62 s are 6.2 of the usual 0.62 s
    // beyond the 0.4 of landing.
    let laid = line_of_strides(&[[(3.0, 0.45); 3].as_slice(), &[(3.6, 0.62); 4]].concat());
    let [line] = &measured(&laid)[..] else { panic!() };
    assert_eq!((line.strides_taken, &line.doubts[..]), (7, &[][..]));
}

#[test]
fn two_rounds_over_fences_far_apart_are_no_line() {
    let mut laid = line_of(5, 3.40);
    for hoof in &mut laid[1].hooves {
        hoof.at_s += 30.0;
    }
    assert!(measured(&laid).is_empty());
    // Nor is one fence, or one without a landing.
    assert!(measured(&laid[..1]).is_empty());
    let mut unlanded = line_of(5, 3.40);
    unlanded[0].hooves.pop();
    assert!(measured(&unlanded).is_empty());
}
