//! Real paving with tape-measured lengths written on it: the students03 ground-plane picture of
//! the UCY crowd data (`../shared/footage/paving-measured`, pixel places in the README there).
//! The survey knows the two lengths of a 295 × 300 cm slab;
//! two pieces measured at 195 cm must lie inside its 95 % intervals.

use groundline::marks::*;
use groundline::quantity::{FrameNumber, Given, Percentile95};
use groundline::scene::{FramePoint, PictureSize};
use groundline::survey::survey;
use serde_json::Map;

use crate::support::shared;

const FRAME: FrameNumber = FrameNumber(0);
/// "Each about ±1 px."
const CLICK_SD_PX: f64 = 1.0;
/// The picture is 720 × 576, a 4:3 television frame: its pixels are not square, and the survey
/// wants square ones.
const SQUARE: f64 = 768.0 / 720.0;
const CORNERS: [(f64, f64); 4] = [(322.5, 253.0), (465.5, 255.5), (476.5, 387.5), (318.0, 382.5)];

fn mark((x, y): (f64, f64)) -> Mark {
    Mark::new(FRAME, FramePoint::new(x * SQUARE, y), CLICK_SD_PX)
}

fn picture() -> ClipNote {
    ClipNote {
        file: "ground_plane_measurements_003.png".into(),
        size_bytes: 1,
        blake3: String::new(),
        picture: PictureSize { width: 768, height: 576 },
        frame_count: 1,
        stream: None,
        capture_seconds_per_second: 1.0,
        frames: vec![MarkedFrame { frame: FRAME, time_s: 0.0, gap_s: 0.04, other: Map::new() }],
        other: Map::new(),
    }
}

fn tie(id: &str, place: (f64, f64)) -> Tie {
    Tie { marks: vec![mark(place)], ..Tie::new(id, TiePlace::Ground) }
}

#[test]
fn two_taped_pieces_lie_inside_their_stated_intervals() {
    if shared("footage/paving-measured").is_none() {
        return;
    }
    let mut camera = CameraPrior::usual(Motion::Fixed);
    // From an upper floor, nobody says how high; the picture was not levelled.
    camera.height_m = Given::new(8.0, 8.0);
    camera.roll_deg = Given::new(0.0, 10.0);
    let mut file = MarksFile::new(picture(), camera);
    // The slab as two parallel poles on the ground, 300 cm apart, 295 cm long: a rectangle. The
    // tape reads whole multiples of 5 cm, so ±1 cm is the least it can be trusted to.
    let ends = [
        (1, PoleEnd::Left, 3),
        (1, PoleEnd::Right, 2),
        (2, PoleEnd::Right, 1),
        (2, PoleEnd::Left, 0),
    ]
    .map(|(pole, end, corner)| PoleEndMarks::new(pole, end, vec![mark(CORNERS[corner])]));
    file.references.push(Reference {
        id: "slab".into(),
        kind: ReferenceKind::Poles {
            count: 2,
            spacing_m: Given::new(3.00, 0.01),
            length_m: Given::new(2.95, 0.01),
            diameter_m: 0.0,
            ends: ends.into(),
            other: Map::new(),
        },
    });
    file.ties = vec![
        tie("corner", (321.0, 183.0)),
        tie("right", (413.0, 184.5)),
        tie("below", (322.5, 253.0)),
    ];
    let survey = survey(&file).unwrap();
    println!("camera {:?}", survey.cameras.values().next().unwrap());
    println!("suspects {:?}, doubts {:?}", survey.suspects, survey.doubts);
    let at = |id: &str| MarkAddress::Tie { tie: id.into() };
    for other in ["right", "below"] {
        let (from, to) = (at("corner"), at(other));
        let best = survey.places[&from].distance(survey.places[&to]);
        let sd = survey.posterior.distance_sd(&from, &to).unwrap();
        let draws = survey.posterior.draws(&[from.clone(), to.clone()], 4000, 1).unwrap();
        let mut lengths: Vec<f64> = (0..draws.count())
            .map(|i| draws.place(&from, i).unwrap().distance(draws.place(&to, i).unwrap()))
            .collect();
        let interval = Percentile95::of(&mut lengths).unwrap();
        println!(
            "corner to {other}: {best:.3} m, sd {sd:.3}, 95 % {:.3} to {:.3} (taped 1.95)",
            interval.low, interval.high
        );
        assert!((interval.low..=interval.high).contains(&1.95), "{other}: {best}");
        // An interval that holds everything would pass too: it must be worth printing.
        assert!(interval.high - interval.low < 0.5, "{other}: {interval:?}");
    }
}
