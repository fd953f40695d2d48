//! Nothing on a still collides, whatever the camera and the picture.

use proptest::prelude::*;

use super::area::{Area, Spot};
use super::crop::Crop;
use super::placement::covers;
use super::sample::{self, SEVEN, Sample};
use super::still::{
    Detail, Moment, Names, RawMark, Still, StillError, StillInput, still, still_overlay,
};
use super::theme::Theme;
use crate::marks::{MarkAddress, Round};
use crate::quantity::LengthUnits;
use crate::scene::{Camera, FramePoint, PictureSize};
use crate::stride::ApproachMeasurement;

const HD: PictureSize = PictureSize { width: 1920, height: 1080 };

pub(super) fn input<'a>(
    camera: &'a Camera,
    picture: PictureSize,
    approach: &'a ApproachMeasurement,
    round: &'a Round,
) -> StillInput<'a> {
    StillInput {
        picture,
        camera,
        approach,
        moment: Moment::Time(99.0),
        round,
        names: Names::Shown,
        poles: &[],
        suspects: &[],
        raw_marks: &[],
        bodies: &[],
        units: LengthUnits::Metres,
        theme: Theme::LIGHT,
        detail: Detail::Full,
    }
}

/// Labels of measured lengths leave horse and fence alone where there is sand for them.
#[test]
fn no_plate_covers_horse_or_fence() {
    let approach = sample::approach(SEVEN);
    let round = sample::round();
    for units in [LengthUnits::Metres, LengthUnits::Feet] {
        for size in [(854, 480), (1280, 720), (1920, 1080), (3840, 2160)] {
            let whole = PictureSize { width: size.0, height: size.1 };
            let camera = sample::camera(whole, 5.0, 24.0);
            for footfall in &approach.footfalls {
                let Some(crop) = Crop::of_track(whole, &camera, &approach, footfall) else {
                    continue;
                };
                let cropped = crop.camera(&camera);
                for (camera, picture) in [(&cropped, crop.shown()), (&camera, whole)] {
                    let input = StillInput {
                        units,
                        moment: Moment::Footfall(&footfall.footfall),
                        ..input(camera, picture, &approach, &round)
                    };
                    let drawn = still(&input).unwrap();
                    check_free(&drawn, picture);
                    assert_eq!(drawn.left_out, 0, "{size:?} {}", footfall.footfall);
                    for plate in &drawn.plates {
                        let hidden = drawn.bodies.iter().any(|body| covers(plate, body));
                        assert!(!hidden, "{plate:?} at {} of {size:?}", footfall.footfall);
                    }
                }
            }
        }
    }
}

#[test]
fn names_left_off_are_not_in_the_picture_either() {
    let camera = sample::camera(HD, 4.0, 24.0);
    let approach = sample::approach(SEVEN);
    let round = sample::round();
    let input = StillInput { names: Names::LeftOff, ..input(&camera, HD, &approach, &round) };
    let svg = still_overlay(&input).unwrap();
    for name in [&round.horse, &round.rider, &round.place] {
        assert!(!name.is_empty() && !svg.contains(name.as_str()), "{name}");
    }
}

#[test]
fn the_measured_hoof_lies_on_top_and_its_line_on_the_others() {
    let camera = sample::camera(HD, 8.0, 12.0);
    let approach = sample::approach(SEVEN);
    let round = sample::round();
    let input =
        StillInput { moment: Moment::Footfall("h7"), ..input(&camera, HD, &approach, &round) };
    let drawn = still(&input).unwrap().drawing.svg;
    // Take-off is measured from the leading hind; what is drawn later lies on top.
    let theme = Theme::LIGHT;
    let fill = |colour: super::theme::Colour| format!("fill=\"{}\"", colour.hex());
    let trailing = drawn.rfind(&fill(theme.trailing)).unwrap();
    let leading = drawn.rfind(&fill(theme.leading)).unwrap();
    let line = format!("stroke=\"{}\"", theme.take_off.hex());
    assert!(drawn.match_indices(&line).any(|(at, _)| trailing < at && at < leading));
}

fn check_free(still: &Still, picture: PictureSize) {
    let frame = Area::at(0.0, 0.0, f64::from(picture.width), f64::from(picture.height));
    for (i, plate) in still.plates.iter().enumerate() {
        assert!(frame.contains(plate), "{plate:?} leaves {frame:?}");
        for other in &still.plates[i + 1..] {
            assert!(!plate.overlaps(other), "{plate:?} on {other:?}");
        }
        for print in &still.prints {
            assert!(!plate.overlaps(print), "{plate:?} on the print {print:?}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..Default::default() })]
    #[test]
    fn labels_stay_inside_and_cover_neither_hooves_nor_each_other(
        size in prop::sample::select(vec![(854, 480), (1920, 1080), (3840, 2160), (1080, 1920)]),
        strides in 1_usize..=15,
        jump: bool,
        all_limbs: bool,
        look in -15.0..20.0_f64,
        back in 7.0..35.0_f64,
        feet: bool,
        strip: bool,
    ) {
        let picture = PictureSize { width: size.0, height: size.1 };
        let camera = sample::camera(picture, look, back);
        let approach = sample::approach(Sample { strides, jump, all_limbs });
        let round = sample::round();
        let mut input = input(&camera, picture, &approach, &round);
        if strip {
            input.detail = Detail::Strip;
        }
        if feet {
            input.units = LengthUnits::Feet;
        }
        let drawn = still(&input).unwrap();
        check_free(&drawn, picture);
    }
}

#[test]
fn every_length_is_labelled_when_the_picture_shows_them() {
    let camera = sample::camera(HD, 4.0, 24.0);
    let approach = sample::approach(SEVEN);
    let round = sample::round();
    let drawn = still(&input(&camera, HD, &approach, &round)).unwrap();
    assert_eq!(drawn.left_out, 0);
    for text in ["3.42", "3.71", " ± 0.06 m", "take-off ", "landing ", "Juniper · Maren Holt"] {
        assert!(drawn.drawing.svg.contains(&format!(">{text}<")), "no {text}");
    }
}

#[test]
fn only_what_has_happened_is_drawn() {
    let camera = sample::camera(HD, -6.0, 24.0);
    let approach = sample::approach(SEVEN);
    let round = sample::round();
    let mut input = input(&camera, HD, &approach, &round);
    input.moment = Moment::Footfall("h2");
    input.names = Names::LeftOff;
    let drawn = still(&input).unwrap();
    assert_eq!(drawn.prints.len(), 10, "two strides of four prints and the hinds of the third");
    assert!(!drawn.drawing.svg.contains("take-off ") && !drawn.drawing.svg.contains("Juniper"));
    assert!(drawn.drawing.svg.contains("Stride −6, sixth"), "{}", drawn.drawing.svg);
    assert_eq!(still_overlay(&input).unwrap(), drawn.drawing.svg, "same input, same output");
}

#[test]
fn a_suspect_is_hatched_and_queried() {
    let camera = sample::camera(HD, 4.0, 24.0);
    let approach = sample::approach(SEVEN);
    let round = sample::round();
    let mut input = input(&camera, HD, &approach, &round);
    let plain = still_overlay(&input).unwrap();
    let suspects = [sample::suspect("h3")];
    let raw_marks = [
        RawMark { mark: suspects[0].mark.clone(), at: FramePoint::new(700.0, 640.0) },
        RawMark { mark: MarkAddress::Tie { tie: "post".into() }, at: FramePoint::new(90.0, 80.0) },
    ];
    input.suspects = &suspects;
    input.raw_marks = &raw_marks;
    let hatched = still_overlay(&input).unwrap();
    assert!(!plain.contains(">?<"));
    let queried = FramePoint::new(700.0, 640.0);
    for plate in still(&input).unwrap().plates {
        assert!(!plate.holds(Spot::new(queried.x, queried.y)), "{plate:?} covers the query");
    }
    assert_eq!(hatched.matches(">?<").count(), 2);
}

#[test]
fn an_unknown_footfall_is_named() {
    let camera = sample::camera(HD, 4.0, 24.0);
    let approach = sample::approach(SEVEN);
    let round = sample::round();
    let mut input = input(&camera, HD, &approach, &round);
    input.moment = Moment::Footfall("h99");
    let refused = still_overlay(&input).unwrap_err();
    assert!(matches!(&refused, StillError::UnknownFootfall { footfall, .. } if footfall == "h99"));
    assert_eq!(
        refused.to_string(),
        "cannot draw the still: approach `first` has no footfall `h99`"
    );
}
