//! Changes that the page asks for: each is on disk once, before it is answered, and nobody's is lost.

use axum::http::{Method, StatusCode};
use groundline::store::load;
use serde_json::{Value, json};

use crate::served::Served;

#[test]
fn a_change_is_on_disk_before_it_is_answered_and_once() {
    let served = Served::new();
    assert_eq!(served.get("/api/folder").json()["clips"][0]["state"], "not begun");
    let poles =
        json!({ "act": "set_poles", "count": 4, "spacing_m": 3.0, "length_m": 3.5, "taped": true });
    // Looking begins nothing.
    assert_eq!(served.get("/api/rounds/ride.mp4").status, StatusCode::NOT_FOUND);
    assert!(!served.marks().exists());
    let before = served.revision();
    let done = served.act(&before, "k1", poles.clone()).json();
    let on_disk = || load(&served.marks()).unwrap();
    assert_eq!(on_disk().references.len(), 1);
    assert_eq!(done["round"]["poles"]["count"], 4);
    assert_eq!(done["round"]["steps"][0]["wanted"].as_array().unwrap().len(), 8);
    // The answer got lost and the page sends it once more: done once.
    let again = served.act(&before, "k1", poles);
    assert_eq!(again.status, StatusCode::OK);
    assert_eq!(again.json()["round"]["revision"], done["round"]["revision"]);
    // A place, moved by a tenth of a pixel, taken back step by step.
    let placed = served.done(
        "k2",
        json!({ "act": "place_pole_end", "pole": 1, "end": "left", "snap": false,
                "at": { "frame": 3, "x": 100.0, "y": 90.0 } }),
    );
    let spot = placed["selected"]["spot"].clone();
    assert_eq!(spot, json!({ "of": "pole_end", "pole": 1, "end": "left" }));
    let nudge = json!({ "act": "nudge", "spot": spot, "frame": 3, "dx": 0.1, "dy": -0.1 });
    let nudged = served.done("k3", nudge);
    let mark = &nudged["round"]["marks"][0];
    assert_eq!((&mark["x"], &mark["y"], &mark["frame"]), (&json!(100.1), &json!(89.9), &json!(3)));
    for (key, marks) in [("k4", 1), ("k5", 0), ("k6", 0)] {
        let undone = served.done(key, json!({ "act": "undo" }));
        assert_eq!(undone["round"]["marks"].as_array().unwrap().len(), marks);
    }
    assert!(on_disk().references.is_empty());
    let nothing = served.act(&served.revision(), "k7", json!({ "act": "undo" }));
    assert_eq!(nothing.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(nothing.json()["error"], "cannot undo: there is nothing to undo");
    for key in ["k8", "k9", "k10"] {
        served.done(key, json!({ "act": "redo" }));
    }
    assert_eq!(on_disk().places().len(), 1);
}

#[test]
fn nobodys_change_is_lost() {
    let served = Served::new();
    let both = served.revision();
    let note = |text: &str| {
        json!({ "act": "set_round", "about": { "rider": text, "horse": "", "place": "", "date": "",
                "surface": "", "note": "" } })
    };
    assert_eq!(served.act(&both, "mine", note("Ada")).status, StatusCode::OK);
    // The other window still shows the round as it was.
    let late = served.act(&both, "theirs", note("Berta"));
    assert_eq!(late.status, StatusCode::CONFLICT);
    assert_eq!(late.json()["round"]["about"]["rider"], "Ada");
    assert_eq!(load(&served.marks()).unwrap().round.rider, "Ada");
    // A command changes the file meanwhile.
    let shown = served.revision();
    let mut marking = crate::program::groundline();
    let marked =
        marking.args(["mark", "MARKS", "round", "--horse", "Copper"].map(|word| {
            if word == "MARKS" { served.marks().into_os_string() } else { word.into() }
        }));
    assert!(marked.output().unwrap().status.success());
    let stale = served.act(&shown, "stale", note("Clara"));
    assert_eq!(stale.status, StatusCode::CONFLICT);
    let now = stale.json()["round"].clone();
    assert_eq!((&now["about"]["rider"], &now["about"]["horse"]), (&json!("Ada"), &json!("Copper")));
    let again = served.act(now["revision"].as_str().unwrap(), "again", note("Clara"));
    assert_eq!(again.status, StatusCode::OK);
    // What the command did can still be undone, step by step.
    served.done("u1", json!({ "act": "undo" }));
    let before = served.done("u2", json!({ "act": "undo" }));
    assert_eq!(before["round"]["about"]["horse"], "");
}

#[test]
fn marks_that_were_taken_away_are_begun_anew() {
    let served = Served::new();
    let about =
        json!({ "rider": "Ada", "horse": "", "place": "", "date": "", "surface": "", "note": "" });
    served.done("a", json!({ "act": "set_round", "about": about }));
    std::fs::remove_file(served.marks()).unwrap();
    assert_eq!(served.get("/api/rounds/ride.mp4").status, StatusCode::NOT_FOUND);
    let anew = served.send(Method::POST, "/api/rounds/ride.mp4", &json!(null));
    assert_eq!((anew.status, &anew.json()["about"]["rider"]), (StatusCode::OK, &json!("")));
}

#[test]
fn what_cannot_be_saved_is_not_there() {
    let served = Served::new();
    let revision = served.revision();
    let path = served.marks();
    let mut permissions = std::fs::metadata(&path).unwrap().permissions();
    permissions.set_readonly(true);
    std::fs::set_permissions(&path, permissions).unwrap();
    let poles =
        json!({ "act": "set_poles", "count": 4, "spacing_m": 3.0, "length_m": 3.5, "taped": true });
    let refused = served.act(&revision, "k", poles);
    assert_eq!(refused.status, StatusCode::INTERNAL_SERVER_ERROR);
    assert!(refused.json()["error"].as_str().unwrap().starts_with("cannot save"));
    let round = served.get("/api/rounds/ride.mp4").json();
    assert_eq!((&round["poles"], &round["revision"]), (&Value::Null, &json!(revision)));
}

#[test]
fn bodies_too_large_or_not_understood_are_refused() {
    let served = Served::new();
    let revision = served.revision();
    let large = json!({ "act": "set_stride_note", "approach": "a", "stride": -1, "text": "x".repeat(400_000) });
    assert_eq!(served.act(&revision, "k", large).status, StatusCode::PAYLOAD_TOO_LARGE);
    let odd = served.act(&revision, "k", json!({ "act": "fly" }));
    assert_eq!(odd.status, StatusCode::UNPROCESSABLE_ENTITY);
    for act in [
        json!({ "act": "place_base", "fence": null, "end": "take_off_left", "at": { "frame": 99, "x": 1.0, "y": 1.0 } }),
        json!({ "act": "set_poles", "count": 0, "spacing_m": 3.0, "length_m": 3.5, "taped": true }),
        json!({ "act": "set_poles", "count": 4, "spacing_m": -3.0, "length_m": 3.5, "taped": true }),
        json!({ "act": "set_stride_note", "approach": "nobody", "stride": -1, "text": "x" }),
    ] {
        let refused = served.act(&revision, "k", act.clone());
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{act}");
        assert!(refused.json()["error"].as_str().unwrap().starts_with("cannot"), "{act}");
    }
    assert_eq!(served.revision(), revision);
}
