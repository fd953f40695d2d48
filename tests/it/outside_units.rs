//! Feet and metres beside published tables (`../shared/reference-values.md`, "Good check cases" 12
//! and 17). Only the unit is checked: the rules that make these distances, and cases 13 to 16, 18
//! to 20, 22 and 23, are of things that the program does not do yet.

use groundline::quantity::{LengthUnits, Metres, Unit, written_bare};

fn metres(feet: f64) -> f64 {
    feet / LengthUnits::Feet.from_metres(1.0)
}

/// The convention of course designers in feet (R1, read) and in metres (derived).
#[test]
fn twelve_foot_strides_in_metres() {
    let rows = [
        (12.0, 3.658),
        (24.0, 7.315),
        (36.0, 10.973),
        (48.0, 14.630),
        (60.0, 18.288),
        (72.0, 21.946),
        (84.0, 25.603),
    ];
    for (feet, published) in rows {
        let found = metres(feet);
        println!("{feet} ft: {found:.4} m (published {published})");
        assert!((found - published).abs() <= 0.0005 + 1e-9, "{feet} ft: {found} m");
        let shown = written_bare(Metres::new(published), LengthUnits::Feet);
        let expected = if feet < 30.0 { format!("{feet} ft") } else { format!("{feet:.1} ft") };
        assert_eq!(shown.split_whitespace().collect::<Vec<_>>().join(" "), expected);
    }
}

/// "Distances for Jumping Exercises" (R21, read): feet and the metres it prints. One
/// decimal; it prints 10 for 33 ft, which is 10.1.
#[test]
fn feet_of_a_distance_sheet_in_metres() {
    let rows = [
        (21.0, 6.4),
        (24.5, 7.5),
        (33.0, 10.1),
        (36.0, 11.0),
        (45.0, 13.7),
        (48.0, 14.6),
        (57.0, 17.4),
        (60.0, 18.3),
        (66.0, 20.1),
    ];
    for (feet, published) in rows {
        let found = metres(feet);
        println!("{feet} ft: {found:.3} m (published {published})");
        assert!((found - published).abs() <= 0.05 + 1e-9, "{feet} ft: {found} m");
    }
}
