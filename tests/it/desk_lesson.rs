//! The next lesson on the desk: what to lay, and where to stand.

use axum::http::StatusCode;
use groundline::store::save;
use serde_json::{Value, json};

use crate::served::Served;
use crate::shown_in::round;
use crate::support::folder;

#[test]
fn a_lesson_is_planned_from_the_round_or_from_a_typed_stride() {
    let served = Served::new();
    served.revision();
    // Nothing is measured yet.
    let none = served.get("/api/rounds/ride.mp4/lesson").json();
    assert!(none["cannot"].as_str().unwrap().contains("Type a stride"), "{none}");
    let stand = served.get("/api/rounds/ride.mp4/stand");
    assert_eq!(stand.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(stand.json()["error"].as_str().unwrap().starts_with("cannot plan from these marks"));
    let typed = "/api/rounds/ride.mp4/lesson?stride_m=3.6576&height_m=1.0&dark=1";
    let lesson = served.get(typed).json();
    assert_eq!(lesson["cannot"], Value::Null);
    let distances = lesson["distances"].as_array().unwrap();
    let two = distances.iter().find(|one| one["name"] == "2 strides").unwrap();
    // 3 × 12 ft (R1, R4), 4 n + 4 walked paces (R2, R11).
    assert_eq!((&two["first"], &two["second"]), (&json!("10.97 m"), &json!("36 ft")));
    assert_eq!(two["walked"], "12 walked paces");
    assert!(
        two["rows"].as_array().unwrap().iter().any(|row| row.as_str().unwrap().contains("grade B"))
    );
    assert!(lesson["drawing"].as_str().unwrap().starts_with("<svg"));
    assert_eq!(lesson["cautions"].as_array().unwrap().len(), 7);
    assert_eq!(lesson["used"]["height"], "1");
    let pony = served.get(&format!(
        "{typed}&size=pony&gait=trot&going=deep&readiness=green&slope_percent=3&feet=1&strides=4"
    ));
    let pony = pony.json();
    assert_eq!(pony["distances"].as_array().unwrap().len(), 1);
    // What concerns every distance first, then what each reason takes.
    let notes: Vec<&str> =
        pony["notes"].as_array().unwrap().iter().filter_map(Value::as_str).collect();
    assert!(
        notes[0].starts_with("Uphill, deep going, green horse: no source gives an amount"),
        "{notes:?}"
    );
    assert!(notes[1].starts_with("A pony's lines follow its own stride"), "{notes:?}");
    let trot = "Shortened for trot approach: 4\u{a0}strides by 4\u{a0}ft 6\u{a0}in.";
    assert!(notes.contains(&trot), "{notes:?}");
    let refused = served.get("/api/rounds/ride.mp4/lesson?stride_m=9").json();
    assert!(refused["cannot"].as_str().unwrap().starts_with("Cannot plan for a stride of 9.00 m"));
    let feet = served.get("/api/rounds/ride.mp4/lesson?stride_m=9&feet=1").json();
    assert!(feet["cannot"].as_str().unwrap().starts_with("Cannot plan for a stride of 29 ft 6 in"));
    let assumed = served.get("/api/rounds/ride.mp4/lesson?stride_m=3.5&feet=1").json();
    assert_eq!(assumed["taken"][0], "fences of 3 ft 3 in, assumed", "{assumed}");
    assert_eq!(
        served.get("/api/rounds/ride.mp4/lesson?size=donkey").status,
        StatusCode::BAD_REQUEST
    );
}

#[test]
fn what_the_horse_has_shown_in_the_folders_other_rounds_counts() {
    let served = Served::new();
    let put = |name: &str, horse: &str, length: f64, seed: u64| {
        save(&served.folder.path().join(name), &round(horse, length, seed)).unwrap();
    };
    put("ride.marks.json", "Copper", 3.5, 60);
    put("earlier.marks.json", "copper ", 3.25, 61);
    put("another.marks.json", "Flint", 3.7, 62);
    let ask = || served.get("/api/rounds/ride.mp4/lesson?strides=5&height_m=1").json();
    // Each answer waits for the other rounds a while; a busy machine may need several.
    let lesson = (0..60).map(|_| ask()).find(|lesson| lesson["unsettled"] == false).unwrap();
    let stride = lesson["stride"].as_str().unwrap();
    assert!(stride.contains("this horse has shown") && stride.ends_with("in 2 rounds"), "{stride}");
    // A round that names no horse stands alone, and it is said.
    put("ride.marks.json", "", 3.5, 60);
    let lesson = ask();
    assert!(!lesson["stride"].as_str().unwrap().contains("has shown"), "{}", lesson["stride"]);
    let taken = lesson["taken"].to_string();
    assert!(taken.contains("this round alone: it names no horse"), "{taken}");
}

#[test]
fn where_to_stand_is_told_without_a_clip_and_what_makes_no_sense_is_refused() {
    let served = Served::of(folder());
    let typed = |more: &str| {
        format!("/api/stand?poles=3&strides=1&nearest_m=13&farthest_m=14&dark=1&feet=1&{more}")
    };
    let answer = served.get(&typed("distance_m=14&along_m=6"));
    assert_eq!(answer.status, StatusCode::OK, "{}", String::from_utf8_lossy(&answer.body));
    let view = answer.json();
    // A stride, take-off, landing, tempo.
    assert_eq!(view["rows"].as_array().unwrap().len(), 4);
    assert!(view["now"].as_str().unwrap().starts_with("46 ft from the track"), "{}", view["now"]);
    assert!(view["svg"].as_str().unwrap().starts_with("<svg"));
    assert!(view["cautions"].as_array().unwrap().len() > 6);
    // Everything in feet, the safety distance and the empty fields, too: 18 m are 59 ft, 3 m 9.84 ft.
    assert!(view["cautions"][0].as_str().unwrap().contains("13 ft from the track"));
    assert_eq!((&view["used"]["spacing"], &view["used"]["field"]), (&"9.84".into(), &"66".into()));
    // No place, no "now".
    let view =
        served.get(&typed("pole_length_m=3&stride_m=3.4&field_deg=70&frames_per_s=30")).json();
    assert!(view["now"].is_null() && view["rows"][0]["now"].is_null(), "{view}");
    assert!(view["sentence"].as_str().unwrap().starts_with("Stand 4"), "{}", view["sentence"]);
    let refused = served.get(&typed("distance_m=2&along_m=6"));
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.json()["error"].as_str().unwrap().contains("(13 ft 1 in to 196.9 ft needed)"));
    let half = served.get(&typed("distance_m=14"));
    assert!(half.json()["error"].as_str().unwrap().contains("where you stand now"));
    let typed = |distance: &str| typed(&format!("along_m=6&distance_m={distance}"));
    assert_eq!(served.get(&typed("near")).status, StatusCode::BAD_REQUEST);
}
