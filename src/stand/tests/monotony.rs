//! What must make a ± smaller.

use crate::quantity::Unit;
use crate::stand::{Lesson, Phone, PolesLaid, expect};
use crate::stride::Draws;

fn worst_m(lesson: &Lesson, phone: &Phone) -> f64 {
    let draws = Draws { count: 400, seed: 7 };
    expect(lesson, phone, draws).sureness.unwrap().largest.plus_minus_m.get()
}

#[test]
fn nearer_is_better_as_long_as_all_is_in_view() {
    let lesson = Lesson::usual();
    let found: Vec<f64> =
        [18.0, 22.0, 27.0].map(|away| worst_m(&lesson, &Phone::usual(9.0, away))).into();
    println!("{found:?}");
    assert!(found[0] < found[1] && found[1] < found[2], "{found:?}");
}

#[test]
fn more_poles_sharper_clicks_and_a_tape_are_better() {
    let phone = Phone::usual(9.0, 20.0);
    let with = |poles: PolesLaid| worst_m(&Lesson { poles, ..Lesson::usual() }, &phone);
    let four = Lesson::usual().poles;
    let three = with(PolesLaid { count: 3, ..four });
    let base = with(four);
    let five = with(PolesLaid { count: 5, ..four });
    println!("three {three}, four {base}, five {five}");
    assert!(five < base && base < three);
    assert!(with(PolesLaid { end_sd_px: 0.4, ..four }) < base);
    assert!(with(four.paced()) > 1.2 * base);
}

#[test]
fn frames_closer_in_time_make_tempo_better_and_leave_lengths_alone() {
    let lesson = Lesson::usual();
    let at = |frames_per_s: f64| {
        let phone = Phone { frames_per_s, ..Phone::usual(9.0, 20.0) };
        let draws = Draws { count: 2000, seed: 7 };
        let expected = expect(&lesson, &phone, draws);
        let row = expected.strides[2];
        (row.duration_plus_minus_s.unwrap().get(), row.length_plus_minus_m.unwrap().get())
    };
    let (slow, fast) = (at(30.0), at(120.0));
    // Two contacts, each late by anything up to a gap: their difference has a triangular
    // distribution between −gap and +gap, and 95 % of it lie within (1 − √0.05) gap = 0.776 gap.
    assert!((slow.0 * 30.0 - 0.776).abs() < 0.04, "{}", slow.0 * 30.0);
    assert!((fast.0 * 120.0 - 0.776).abs() < 0.04, "{}", fast.0 * 120.0);
    assert!((slow.1 - fast.1).abs() < 1e-6, "{slow:?} {fast:?}");
}
