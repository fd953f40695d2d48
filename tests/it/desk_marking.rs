//! What of a round is stated and marked on the desk, and what is wanted next.

use axum::http::StatusCode;
use groundline::marks::ReferenceKind;
use groundline::store::load;
use serde_json::{Value, json};

use crate::served::{Served, labels, step};

#[test]
fn other_things_of_known_length_are_stated_marked_and_taken_away() {
    let served = Served::new();
    let stated = |kind: &str, length_m: f64, known_by: &str| {
        json!({ "act": "set_length", "reference": null, "kind": kind, "fence": null,
                "length_m": length_m, "known_by": known_by })
    };
    served.done("a", stated("upright", 1.6, "tape"));
    served.done("b", stated("distance", 10.0, "paces"));
    // The width is of a fence: where there is none yet, it is made.
    let round = served.done("c", stated("fence_width", 3.5, "eye"))["round"].clone();
    assert_eq!(round["fences"].as_array().unwrap().len(), 1);
    assert_eq!(
        step(&round, "lengths")["wanted"]
            .as_array()
            .map(|_| labels(&step(&round, "lengths")["wanted"])),
        Some(vec![
            "upright, foot",
            "upright, top",
            "distance, first point",
            "distance, second point"
        ])
    );
    let known: Vec<_> = round["lengths"]
        .as_array()
        .unwrap()
        .iter()
        .map(|known| (known["label"].as_str().unwrap(), known["known_by"].as_str().unwrap()))
        .collect();
    assert_eq!(known, [("upright", "tape"), ("distance", "paces"), ("width of the fence", "eye")]);

    let place = |end: &str, y: f64| {
        json!({ "act": "place_length_end", "reference": "upright", "end": end,
                "at": { "frame": 3, "x": 40.0, "y": y } })
    };
    served.done("d", place("foot", 100.0));
    let done = served.done("e", place("top", 40.0));
    assert_eq!(
        done["selected"]["spot"],
        json!({ "of": "length_end", "reference": "upright", "end": "top" })
    );
    assert_eq!(step(&done["round"], "lengths")["count"], "2 of 4 ends");
    let file = load(&served.marks()).unwrap();
    let ReferenceKind::Vertical { height_m, foot, top, .. } = &file.references[0].kind else {
        panic!("{:?}", file.references[0])
    };
    assert_eq!((height_m.value, height_m.sd), (1.6, 0.01));
    assert_eq!((foot[0].y, top[0].y), (100.0, 40.0));

    // Stated anew the marks stay; taken away they go, and come back with undo.
    let again = json!({ "act": "set_length", "reference": "upright", "kind": "upright",
                        "fence": null, "length_m": 1.5, "known_by": "eye" });
    let round = served.done("f", again)["round"].clone();
    assert_eq!(round["lengths"][0]["length_m"], 1.5);
    assert_eq!(round["marks"].as_array().unwrap().len(), 2);
    let round =
        served.done("g", json!({ "act": "remove_length", "reference": "upright" }))["round"]
            .clone();
    assert_eq!(round["marks"].as_array().unwrap().len(), 0);
    let round = served.done("h", json!({ "act": "undo" }))["round"].clone();
    assert_eq!(round["marks"].as_array().unwrap().len(), 2);

    // An end that such a thing has not, and a thing that is not there.
    let wrong = json!({ "act": "place_length_end", "reference": "upright", "end": "from",
                        "at": { "frame": 3, "x": 1.0, "y": 1.0 } });
    let refused = served.act(&served.revision(), "i", wrong);
    assert!(refused.json()["error"].as_str().unwrap().contains("thing of known length"));
}

#[test]
fn hooves_and_fence_need_nothing_stated_before() {
    let served = Served::new();
    let at = |frame: u32| json!({ "frame": frame, "x": 50.0 + 5.0 * f64::from(frame), "y": 120.0 });
    let footfall = |frame: u32, limb: &str, event: &str| {
        json!({ "act": "place_footfall", "approach": null, "limb": limb, "event": event,
                "at": at(frame), "hidden": false })
    };
    served.done("a", footfall(2, "leading_hind", "stride"));
    served.done("b", footfall(12, "leading_hind", "stride"));
    served.done("c", footfall(22, "leading_hind", "take_off"));
    let after = served.done(
        "d",
        json!({ "act": "place_base", "fence": "", "end": "take_off_left", "at": at(22) }),
    );
    let round = &after["round"];
    assert_eq!(round["fences"].as_array().unwrap().len(), 1);
    assert_eq!(round["approaches"][0]["id"], "fence-1");
    let hooves = step(round, "hooves");
    assert_eq!(hooves["count"], "2 strides");
    let wanted = labels(&hooves["wanted"]);
    assert_eq!(
        wanted,
        ["trailing hind, take-off", "trailing fore, landing", "leading fore, landing"]
    );
    // Without poles there is no number, and it is said what is wanting.
    let numbers = served.get("/api/rounds/ride.mp4/numbers").json();
    let cannot = numbers["cannot"].as_str().unwrap();
    assert!(cannot.contains("how many poles"), "{cannot}");
    let refused = served.act(
        &served.revision(),
        "e",
        json!({ "act": "place_pole_end", "pole": 1, "end": "left", "snap": false, "at": at(0) }),
    );
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.json()["error"].as_str().unwrap().contains("no poles are stated"));
}

#[test]
fn the_camera_is_followed_where_it_turned_and_marks_are_carried_to_other_frames() {
    let served = Served::new();
    // Looking at it begins to follow it; of a phone that stood still nobody need know.
    served.done("a", json!({ "act": "set_turning", "turning": false }));
    assert_eq!(served.get("/api/rounds/ride.mp4/motion").json()["words"], "");
    served.done("b", json!({ "act": "set_turning", "turning": true }));
    let mut motion = Value::Null;
    for _ in 0..600 {
        motion = served.get("/api/rounds/ride.mp4/motion").json();
        if motion["state"] != "following" {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(100));
    }
    assert_eq!(motion["state"], "followed", "{motion}");
    assert!(served.folder.path().join("ride.motion").exists());
    // The made scene slides 3 px to the left a frame and 1 px up.
    let at = json!({ "frame": 3, "x": 120.0, "y": 90.0 });
    let round =
        served.done("c", json!({ "act": "place_tie", "tie": null, "at": at }))["round"].clone();
    assert_eq!(step(&round, "ties")["done"], true);
    let overlay = served.get("/api/rounds/ride.mp4/overlay/13").json();
    let carried = &overlay["carried"][0];
    assert_eq!(carried["spot"], json!({ "of": "tie", "tie": "1" }));
    let (x, y) = (carried["x"].as_f64().unwrap(), carried["y"].as_f64().unwrap());
    assert!((x - 90.0).hypot(y - 80.0) < 3.0, "{x} {y}");
    // Where it is marked it is not carried to.
    assert_eq!(served.get("/api/rounds/ride.mp4/overlay/3").json()["carried"], json!([]));
    // Frame 13 laid over frame 3 is shifted back.
    let steady = served.get("/api/rounds/ride.mp4/steady/3").json();
    let map: Vec<f64> = steady["maps"][13]
        .as_array()
        .unwrap()
        .iter()
        .map(|value| value.as_f64().unwrap())
        .collect();
    let carry = |x: f64, y: f64| {
        let w = map[6] * x + map[7] * y + map[8];
        ((map[0] * x + map[1] * y + map[2]) / w, (map[3] * x + map[4] * y + map[5]) / w)
    };
    let (x, y) = carry(90.0, 80.0);
    assert!((x - 120.0).hypot(y - 90.0) < 3.0, "{x} {y}");
}
