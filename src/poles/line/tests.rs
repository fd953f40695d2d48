use super::*;
use crate::poles::sample::{measured, typed};
use crate::poles::{
    Aside, Beside, Going, PonyClass, Readiness, ShortenedBy, Shortening, Size, Standing, Stride,
    distance_words, plan,
};
use crate::quantity::{Given, LengthUnits};

fn published() -> Published {
    Published::built_in().unwrap()
}

#[test]
fn a_row_from_memory_stands_aside_and_alone_it_is_a_warning() {
    let asked = Asked { size: Size::Pony(Some(PonyClass::Small)), ..typed(2.95) };
    let one = line(&asked, 1, &published()).unwrap();
    let memory: Vec<_> =
        one.beside.iter().filter(|b| b.row.provenance.seen == Seen::Memory).collect();
    assert_eq!(memory.len(), 1);
    assert_eq!(memory[0].standing, Standing::Aside { aside: Aside::Memory });
    let mut only = published();
    only.rows.retain(|row| row.provenance.seen == Seen::Memory);
    let alone = line(&asked, 1, &only).unwrap();
    assert!(alone.warnings.contains(&PlanWarning::MemoryOnly));
    assert!(line(&asked, 3, &only).unwrap().warnings.contains(&PlanWarning::NonePublished));
}

#[test]
fn a_distance_outside_the_tables_says_by_how_much() {
    // 4.2 m × 2 = 8.4 m; the widest read row for one stride is 24–26.5 ft (R20), 8.08 m.
    let one = line(&typed(4.2), 1, &published()).unwrap();
    let [PlanWarning::OutsidePublished { low_m, high_m, by_m }] = &one.warnings[..] else {
        panic!("{:?}", one.warnings)
    };
    // R21 and R12 begin at 21 ft (6.4008 m); 26.5 ft are 8.0772 m.
    assert!((low_m.get() - 6.4008).abs() < 1e-9 && (high_m.get() - 8.0772).abs() < 1e-9);
    assert!((by_m.get() - 0.3228).abs() < 1e-9);
    assert_eq!(
        one.warnings[0].sentence(LengthUnits::Metres),
        "0.32 m longer than any published table for it (6.40 to 8.08 m)"
    );
}

#[test]
fn a_stride_the_horse_has_never_shown_is_named() {
    let level = measured(3.5, &[3.46, 3.5, 3.54]);
    let five = line(&level, 5, &published()).unwrap();
    let is_never = |w: &PlanWarning| matches!(w, PlanWarning::NeverShown { .. });
    assert!(!five.warnings.iter().any(is_never));
    // 3.5 × (1 ± 1/24) = 3.35 and 3.65 m; shown are 3.40 to 3.60.
    for version in [five.shorter.as_ref().unwrap(), five.longer.as_ref().unwrap()] {
        assert!(version.warnings.iter().any(is_never), "{version:?}");
    }
    let flags: Vec<_> = five.needed.iter().map(|n| (n.strides, n.is_never_shown)).collect();
    assert_eq!(flags, [(4, Some(true)), (5, Some(false)), (6, Some(true))]);
    // A horse that has shown both ends has none of these.
    let uneven = line(&measured(3.5, &[3.35, 3.65]), 5, &published()).unwrap();
    assert!(!uneven.shorter.unwrap().warnings.iter().any(is_never));
    // A typed stride has shown nothing, so nothing can be said.
    let typed = line(&typed(3.5), 5, &published()).unwrap();
    assert!(typed.needed.iter().all(|needed| needed.is_never_shown.is_none()));
}

#[test]
fn versions_differ_by_half_a_foot_of_a_twelve_foot_stride() {
    let five = line(&typed(3.6576), 5, &published()).unwrap();
    let (shorter, longer) = (five.shorter.unwrap(), five.longer.unwrap());
    // 72 ft in five: 11 ft 6 in and 12 ft 6 in of stride, 69 and 75 ft.
    assert!((shorter.stride_m.get() - 11.5 * 0.3048).abs() < 1e-9);
    assert!((longer.stride_m.get() - 12.5 * 0.3048).abs() < 1e-9);
    assert!((shorter.length.aim_m.get() - 69.0 * 0.3048).abs() < 1e-9);
    assert!((longer.length.aim_m.get() - 75.0 * 0.3048).abs() < 1e-9);
    assert!((ADJUSTING_SHARE - 1.0 / 24.0).abs() < 1e-15);
    let four_five_six: Vec<f64> = five.needed.iter().map(|n| n.by_convention_m.get()).collect();
    for (found, feet) in four_five_six.iter().zip([72.0 / 5.0, 12.0, 72.0 / 7.0]) {
        assert!((found - feet * 0.3048).abs() < 1e-9);
    }
    // A line of one stride has no version without a stride.
    let one = line(&typed(3.6576), 1, &published()).unwrap();
    assert_eq!(one.needed.iter().map(|n| n.strides).collect::<Vec<_>>(), [1, 2]);
}

#[test]
fn a_low_fence_says_why_it_is_short() {
    let three = line(&Asked { height_m: 0.8, ..typed(3.6576) }, 3, &published()).unwrap();
    // A quarter of the stride: 3 ft of 48.
    assert_eq!(parts(&three), [(vec![ShortenedBy::LowFence], 914)]);
    assert_eq!(three.warnings[0].sentence(LengthUnits::Feet), "shortened by 3 ft: low fence");
}

#[test]
fn the_range_grows_with_the_uncertainty_of_the_stride() {
    let exact = line(&typed(3.6), 4, &published()).unwrap().length;
    // Half a 3-ft step of a 12-ft stride, 3.6 / 8, either way.
    assert!((exact.high_m.get() - exact.aim_m.get() - 0.45).abs() < 1e-9);
    let stride = Stride::Typed { length_m: Given::new(3.6, 0.1) };
    let paced = line(&Asked { stride, ..typed(3.6) }, 4, &published()).unwrap().length;
    let half = paced.high_m.get() - paced.aim_m.get();
    // Five spans of 0.196 m, joined with the half step.
    assert!((half - 0.45f64.hypot(0.98)).abs() < 1e-9, "{half}");
    assert_eq!(paced.aim_m, exact.aim_m);
}

#[test]
fn poles_on_the_ground_are_compared_with_poles_only() {
    let asked = Asked { height_m: 0.0, ..typed(3.6576) };
    let four = line(&asked, 4, &published()).unwrap();
    let compared = |b: &&Beside| matches!(b.standing, Standing::Compared { .. });
    let tags: Vec<_> =
        four.beside.iter().filter(compared).map(|b| &b.row.provenance.sources).collect();
    assert_eq!(tags, [&vec!["R11".to_owned()]]);
    assert!(!four.warnings.iter().any(|w| matches!(w, PlanWarning::OutsidePublished { .. })));
}

#[test]
fn a_line_of_no_or_too_many_strides_is_refused() {
    for strides in [0, 13] {
        let refused = line(&typed(3.5), strides, &published());
        assert_eq!(refused, Err(AskedError::Strides { found: strides }));
    }
    assert!(plan(&typed(0.9), &published()).is_err());
    // Seven strides are planned, with no table beside them for horses.
    let seven = line(&typed(3.5), 7, &published()).unwrap();
    assert!(seven.warnings.contains(&PlanWarning::NonePublished));
}

#[test]
fn words_carry_metres_feet_and_walked_paces() {
    let two = line(&typed(3.6576), 2, &published()).unwrap();
    let words = distance_words(&two);
    assert_eq!(words.name, "2 strides");
    assert_eq!(words.metres, "10.97 m (10.52 to 11.43 m)");
    assert_eq!(words.feet, "36 ft (34 ft 6 in to 37 ft 6 in)");
    assert_eq!(words.walked, "12 walked paces");
    assert_eq!(words.rule, "landing + take-off + n × this horse's stride");
}

/// What each reason takes off, whole millimetres.
fn parts(distance: &Distance) -> Vec<(Vec<ShortenedBy>, i64)> {
    let parts = distance.warnings.iter().find_map(|warning| match warning {
        PlanWarning::Shortened { parts } => Some(parts.clone()),
        _ => None,
    });
    let millimetres = |part: Shortening| (part.why, (1000.0 * part.by_m.get()).round() as i64);
    parts.unwrap_or_default().into_iter().map(millimetres).collect()
}

#[test]
fn a_worse_film_widens_the_room_and_moves_no_aim() {
    let of = |within: f64| {
        let stride = Stride::typed(3.5, within);
        let deep = Asked { stride, going: Going::Deep, ..typed(3.5) };
        line(&deep, 6, &published()).unwrap()
    };
    // Half a 3-ft step of a 12-ft stride, 3.5 / 8 m, off 7 × 3.5 m: whatever the ± of the stride.
    let (exact, worst) = (of(0.0), of(1.0));
    for line in [&exact, &of(0.16), &worst] {
        assert!((line.length.aim_m.get() - (24.5 - 0.4375)).abs() < 1e-9, "{:?}", line.length);
        assert_eq!(parts(line), [(vec![ShortenedBy::DeepGoing], 438)]);
        assert!(line.length.low_m.get() > 0.0);
    }
    // An exact stride leaves no room below; any other does.
    assert_eq!(exact.length.low_m, exact.length.aim_m);
    assert!((of(0.16).length.low_m.get() - (24.0625 - 7.0 * 0.16)).abs() < 1e-9);
    // The shortest stride that is planned for, as badly known as may be.
    let short = Asked { stride: Stride::typed(1.5, 1.0), going: Going::Deep, ..typed(1.5) };
    let poles = plan(&Asked { height_m: 0.0, gait: Gait::Trot, ..short }, &published()).unwrap();
    assert!(poles.distances.iter().all(|one| one.length.low_m.get() > 0.0), "{poles:?}");
}

#[test]
fn each_reason_says_what_it_takes_and_ground_and_horse_act_once() {
    let heavy = Asked {
        gait: Gait::Trot,
        height_m: 0.6,
        going: Going::Deep,
        readiness: Readiness::Green,
        slope_percent: 4.0,
        ..typed(3.6576)
    };
    let heavy = line(&heavy, 2, &published()).unwrap();
    use ShortenedBy::{DeepGoing, GreenHorse, LowFence, TrotApproach, Uphill};
    // 3 ft for the low fence (R11, R3), half of 3 ft for the trot (R21), half of 3 ft once for the rest.
    let expected = [
        (vec![LowFence], 914),
        (vec![TrotApproach], 457),
        (vec![Uphill, DeepGoing, GreenHorse], 457),
    ];
    assert_eq!(parts(&heavy), expected);
    let said =
        heavy.warnings.iter().find(|one| matches!(one, PlanWarning::Shortened { .. })).unwrap();
    assert_eq!(
        said.sentence(LengthUnits::Feet),
        "shortened by 3 ft: low fence; by 1 ft 6 in: trot approach; by 1 ft 6 in: uphill, deep going, \
         green horse"
    );
}

#[test]
fn no_version_undoes_a_shortening() {
    let deep = |strides| {
        line(&Asked { going: Going::Deep, ..typed(3.6576) }, strides, &published()).unwrap()
    };
    assert!(deep(1).shorter.is_none() && deep(1).longer.is_some());
    assert!(deep(5).shorter.is_none() && deep(5).longer.is_none());
}

#[test]
fn arenas_that_drain_are_level() {
    let of = |slope_percent| {
        line(&Asked { slope_percent, ..typed(3.6) }, 3, &published()).unwrap().length.aim_m
    };
    // Common practice, no source: 1 to 1.5 % for drainage.
    assert_eq!([of(1.0), of(1.5), of(1.9)], [of(0.0); 3]);
    assert!(of(2.0) < of(0.0));
}
