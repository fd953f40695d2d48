//! The desk's folder: its clips and their frames, what is copied in, who else has it open.

use axum::body::Body;
use axum::http::{Method, StatusCode};
use groundline::desk::Presence;
use serde_json::{Value, json};

use crate::served::{FRAMES, SIZE, Served};

#[test]
fn frames_are_exact_and_end_where_the_clip_does() {
    let served = Served::new();
    let clip = served.get("/api/clips/ride.mp4").json();
    assert_eq!(clip["times_s"].as_array().unwrap().len(), FRAMES as usize);
    assert_eq!((&clip["width"], &clip["height"]), (&json!(SIZE.0), &json!(SIZE.1)));
    let opened = crate::support::open(&served.folder.path().join("ride.mp4"));
    let mut reader = crate::support::reader(&opened);
    for number in [0, 7, 6, 29, 3] {
        let answer = served.get(&format!("/api/clips/ride.mp4/frames/{number}"));
        assert_eq!(answer.heads["x-frame"], number.to_string());
        let shown = image::load_from_memory(&answer.body).unwrap().to_rgb8();
        let exact = crate::support::rgb(&mut reader, number);
        let off = crate::support::mean_difference(shown.as_raw(), exact.as_raw());
        assert!(off < 3.0, "frame {number} is {off} levels off");
    }
    let small = served.get("/api/clips/ride.mp4/frames/3?width=80");
    assert_eq!(image::load_from_memory(&small.body).unwrap().width(), 80);
    let beyond = served.get("/api/clips/ride.mp4/frames/30");
    assert_eq!(beyond.status, StatusCode::NOT_FOUND);
    assert_eq!(beyond.json()["error"], "cannot show frame 30: the last one is 29");
}

#[test]
fn a_dropped_clip_is_copied_whole_or_not_at_all() {
    let served = Served::new();
    let names = || {
        let mut names: Vec<String> = std::fs::read_dir(served.folder.path())
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    };
    let put = |name: &str, bytes: Vec<u8>| {
        let request = served.request(Method::PUT, &format!("/api/clips/{name}"));
        served.ask(request.body(Body::from(bytes)).unwrap())
    };
    let clip = std::fs::read(served.folder.path().join("ride.mp4")).unwrap();
    let broken = put("broken.mp4", b"this is no clip".to_vec());
    assert_eq!(broken.status, StatusCode::UNSUPPORTED_MEDIA_TYPE);
    let error = broken.json()["error"].as_str().unwrap().to_owned();
    assert!(error.starts_with("cannot open broken.mp4: no video was found in it"), "{error}");
    assert_eq!(put("ride.mp4", clip.clone()).status, StatusCode::CONFLICT);
    assert_eq!(put("notes.txt", clip.clone()).status, StatusCode::UNSUPPORTED_MEDIA_TYPE);
    assert_eq!(names(), ["ride.mp4"]);
    let copied = put("Evening%20ride.mp4", clip.clone());
    assert_eq!(copied.status, StatusCode::OK);
    assert_eq!(copied.json()["clips"][0]["clip"], "Evening ride.mp4");
    assert_eq!(names(), ["Evening ride.mp4", "ride.mp4"]);
    assert_eq!(std::fs::read(served.folder.path().join("Evening ride.mp4")).unwrap(), clip);
}

#[test]
fn a_folder_says_what_each_clip_is_and_lacks() {
    let served = Served::new();
    let path = served.folder.path();
    std::fs::write(path.join("broken.mov"), "no clip").unwrap();
    std::fs::write(path.join("spoilt.mp4"), "x").unwrap();
    std::fs::write(path.join("spoilt.marks.json"), "{").unwrap();
    std::fs::write(path.join("notes.txt"), "no clip either").unwrap();
    let about = json!({ "rider": "Ada", "horse": "Copper", "place": "", "date": "2026-09-04", "surface": "", "note": "" });
    served.done("a", json!({ "act": "set_round", "about": about }));
    served.done("b", json!({ "act": "set_fence", "fence": null, "name": "Blue vertical", "kind": "vertical", "height_m": 1.0, "spread_m": null }));
    assert_eq!(served.get("/api/clips/broken.mov").status, StatusCode::UNSUPPORTED_MEDIA_TYPE);
    let view = served.get("/api/folder").json();
    let names: Vec<&str> = view["clips"]
        .as_array()
        .unwrap()
        .iter()
        .map(|card| card["clip"].as_str().unwrap())
        .collect();
    assert_eq!(names, ["broken.mov", "ride.mp4", "spoilt.mp4"]);
    let card = &view["clips"][1];
    let said = ["rider", "horse", "date", "fences", "state"].map(|key| card[key].as_str().unwrap());
    assert_eq!(said, ["Ada", "Copper", "2026-09-04", "Blue vertical", "begun, no poles yet"]);
    for broken in [0, 2] {
        assert_eq!(view["clips"][broken]["progress"], "unreadable");
        assert!(view["clips"][broken]["unreadable"].as_str().unwrap().starts_with("cannot"));
    }
}

#[test]
fn a_second_desk_on_a_folder_says_so() {
    let served = Served::new();
    let second = Presence::claim(served.folder.path());
    assert_eq!(second.elsewhere(), Some("http://127.0.0.1:8765"));
    assert_eq!(served.get("/api/folder").json()["open_elsewhere"], Value::Null);
}
