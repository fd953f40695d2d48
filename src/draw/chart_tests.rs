//! Charts say what was measured and nothing on them collides.

use proptest::prelude::*;

use super::placement::covers;
use super::plan::{PlanInput, plan, plan_parts};
use super::raster::raster;
use super::sample::{self, SEVEN, Sample};
use super::stride_bars::{StrideBarsInput, stride_bars};
use super::stride_bracket::StrideBracket;
use super::theme::Theme;
use super::tolerance::Tolerance;
use crate::quantity::{LengthUnits, Metres, Unit};
use crate::scene::GroundPoint;
use crate::stride::ApproachMeasurement;
use crate::survey::{GroundEllipse, PlacedPole};

fn bars_of(approach: &ApproachMeasurement) -> StrideBarsInput<'_> {
    StrideBarsInput {
        approach,
        suspects: &[],
        tolerance: None,
        brackets: &[],
        units: LengthUnits::Metres,
        theme: Theme::LIGHT,
        width: 360.0,
        height: 220.0,
        text: 8.0,
        until_s: None,
        scale: None,
    }
}

fn plan_of<'a>(approach: &'a ApproachMeasurement, poles: &'a [PlacedPole]) -> PlanInput<'a> {
    PlanInput {
        approach,
        poles,
        suspects: &[],
        units: LengthUnits::Metres,
        theme: Theme::LIGHT,
        width: 520.0,
        max_height: 160.0,
        text: 8.0,
    }
}

#[test]
fn bars_carry_values_whiskers_and_the_band_as_a_setting() {
    let approach = sample::approach(SEVEN);
    let svg = stride_bars(&bars_of(&approach)).svg;
    for text in [">3.71<", ">±0.08<", ">−7<", ">shaded: within 0.30 m of the mean<", ">fence<"] {
        assert!(svg.contains(text), "{text}");
    }
    let set = Tolerance { middle: Some(Metres::new(3.6)), half: Metres::new(0.05) };
    let svg = stride_bars(&StrideBarsInput { tolerance: Some(set), ..bars_of(&approach) }).svg;
    let words = "shaded: 3.60 m, 0.05 m either way (your setting); paler: ± wholly outside";
    assert!(svg.contains(words));
}

#[test]
fn a_stride_not_seen_says_so_and_a_bracket_its_word() {
    let mut approach = sample::approach(SEVEN);
    approach.strides[2].length_m = None;
    approach.strides[2].speed_m_per_s = None;
    let brackets = [StrideBracket { from: -4, to: -3, word: "quicker".into() }];
    let svg = stride_bars(&StrideBarsInput { brackets: &brackets, ..bars_of(&approach) }).svg;
    assert!(svg.contains(">not<") && svg.contains(">seen<") && svg.contains(">quicker<"));
}

#[test]
fn a_stride_whose_mark_was_left_out_is_not_called_unseen() {
    let mut approach = sample::approach(SEVEN);
    approach.strides[2].length_m = None;
    let suspects = [sample::suspect("h3")];
    let svg = stride_bars(&StrideBarsInput { suspects: &suspects, ..bars_of(&approach) }).svg;
    assert!([">mark<", ">left<", ">out<"].iter().all(|word| svg.contains(word)));
    assert!(!svg.contains(">seen<"));
}

#[test]
fn speed_is_in_the_unit_of_the_lengths() {
    let approach = sample::approach(SEVEN);
    let metres = stride_bars(&bars_of(&approach)).svg;
    let feet = stride_bars(&StrideBarsInput { units: LengthUnits::Feet, ..bars_of(&approach) }).svg;
    assert!(metres.contains(">, m/min<") && !metres.contains("ft"));
    assert!(feet.contains(">, ft/s<") && !feet.contains("m/min"));
}

#[test]
fn the_legend_of_the_plan_names_what_is_drawn_and_nothing_else() {
    let mut approach = sample::approach(SEVEN);
    let suspects = [sample::suspect("h3")];
    let legend = |approach: &ApproachMeasurement| {
        plan(&PlanInput { suspects: &suspects, ..plan_of(approach, &[]) }).svg
    };
    let drawn = legend(&approach);
    assert!(drawn.contains(">mark left out<") && drawn.contains(">fence<"));
    assert!(!drawn.contains(">pole<"));
    // A mark that was left out has no place, so nothing of it is on the plan.
    for footfall in approach.footfalls.iter_mut().filter(|f| f.footfall == "h3") {
        (footfall.place, footfall.ellipse) = (None, None);
    }
    approach.fence.take_off_base = [None, None];
    approach.fence.landing_base = [None, None];
    let drawn = legend(&approach);
    assert!(!drawn.contains(">mark left out<") && !drawn.contains(">fence<"));
}

#[test]
fn no_plan_label_covers_an_ellipse_where_there_is_sand() {
    let mut approach = sample::approach(SEVEN);
    for one_end in [false, true] {
        if one_end {
            approach.fence.landing_base[0] = None;
        }
        for units in [LengthUnits::Metres, LengthUnits::Feet] {
            let parts = plan_parts(&PlanInput { units, ..plan_of(&approach, &sample::poles()) });
            for label in &parts.labels {
                let hidden = parts.ellipses.iter().any(|ellipse| covers(label, ellipse));
                assert!(!hidden, "{label:?}");
            }
        }
    }
}

#[test]
fn charts_without_anything_to_show_are_still_drawings() {
    let mut approach = sample::approach(Sample { strides: 1, jump: false, all_limbs: false });
    approach.strides.clear();
    approach.footfalls.clear();
    approach.track_line.clear();
    approach.fence.take_off_base = [None, None];
    approach.fence.landing_base = [None, None];
    let bars = stride_bars(&bars_of(&approach));
    let plan = plan(&plan_of(&approach, &[]));
    for drawing in [bars, plan] {
        assert!(raster(&drawing.svg, 1.0).is_ok());
        assert!(!drawing.svg.contains("NaN"));
    }
}

#[test]
fn an_ellipse_larger_than_the_plan_is_cut_at_its_edge() {
    let mut approach = sample::approach(SEVEN);
    approach.footfalls[0].ellipse =
        Some(GroundEllipse { major_sd_m: 400.0, minor_sd_m: 0.3, turn_rad: 1.2 });
    let parts = plan_parts(&plan_of(&approach, &[]));
    assert!(parts.drawing.height <= 170.0);
    assert!(raster(&parts.drawing.svg, 1.0).is_ok());
}

#[test]
fn the_plan_is_to_scale() {
    let approach = sample::approach(SEVEN);
    let poles = [(0.0, "a"), (10.0, "b")].map(|(x, id)| PlacedPole {
        reference: id.into(),
        pole: 1,
        left: GroundPoint::new(x, -2.0),
        right: GroundPoint::new(x, -5.0),
        diameter_m: 0.1,
    });
    let input = plan_of(&approach, &poles);
    let map = super::plan_map::PlanMap::fit(&input, 10.0);
    let across = map.spot(poles[0].left).distance(map.spot(poles[0].right));
    let along = map.spot(poles[0].left).distance(map.spot(poles[1].left));
    assert!((along / across - 10.0 / 3.0).abs() < 1e-9);
    assert!((across - 3.0 * map.per_metre).abs() < 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 80, failure_persistence: None, ..Default::default() })]
    #[test]
    fn plan_labels_stay_on_the_sand_and_cover_neither_hooves_nor_each_other(
        strides in 1_usize..=15,
        jump: bool,
        all_limbs: bool,
        feet: bool,
        with_poles: bool,
        width in 300.0..900.0_f64,
        max_height in 90.0..300.0_f64,
        text in 6.0..14.0_f64,
    ) {
        let approach = sample::approach(Sample { strides, jump, all_limbs });
        let poles = if with_poles { sample::poles() } else { Vec::new() };
        let units = if feet { LengthUnits::Feet } else { LengthUnits::Metres };
        let input =
            PlanInput { units, width, max_height, text, ..plan_of(&approach, &poles) };
        let parts = plan_parts(&input);
        for (i, label) in parts.labels.iter().enumerate() {
            prop_assert!(parts.sand.contains(label), "{label:?} leaves {:?}", parts.sand);
            for other in &parts.labels[i + 1..] {
                prop_assert!(!label.overlaps(other), "{label:?} on {other:?}");
            }
            for print in &parts.prints {
                prop_assert!(!label.overlaps(print), "{label:?} on the print {print:?}");
            }
        }
        prop_assert!(parts.prints.iter().all(|print| parts.sand.contains(print)));
    }
}
