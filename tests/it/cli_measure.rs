//! What `measure` prints, as text, table and JSON, and in which time.

use groundline::marks::{Limb, MarksFile};
use serde_json::{Value, json};

use crate::laid_out::{filmed, strides};
use crate::refusal::{measurable, say, stable_with};
use crate::support::awkward;

#[test]
fn the_table_holds_all_that_is_printed() {
    let mut file = measurable();
    file["approaches"][0]["stride_notes"] =
        json!([{ "stride": -1, "text": "close, \"deep\"" }, { "stride": -9, "text": "x" }]);
    let stable = stable_with(&file);
    let table = |units: &str| {
        let words = ["measure", "@lesson.marks.json", "--csv", "@t.csv", "--units", units];
        let said = say(&stable, &words);
        assert!(said.out.ends_with("\nwrote `t.csv`\n"), "{}", said.out);
        (said.out, std::fs::read_to_string(stable.path("t.csv")).unwrap())
    };
    let (printed, metres) = table("m");
    assert!(printed.contains(
        "doubt: the note on stride −9 of approach `approach 0` is shown nowhere: it has 6 strides\n"
    ));
    let lines: Vec<&str> = metres.split_terminator("\r\n").collect();
    assert!(
        lines[0].starts_with("row,approach,fence,stride,length_m,length_m_low95,"),
        "{}",
        lines[0]
    );
    assert!(lines[6].ends_with(",\"close, \"\"deep\"\"\""), "{}", lines[6]);
    let mut reader = csv::Reader::from_reader(metres.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    for kind in ["stride", "take_off", "doubt"] {
        assert!(rows.iter().any(|row| &row[0] == kind), "{kind}: {metres}");
    }
    let length: f64 = rows[0][4].parse().unwrap();
    assert!(
        rows.iter().flatten().all(|cell| cell.parse::<f64>().is_err() || cell.len() <= 9),
        "{metres}"
    );
    let (printed, feet) = table("ft");
    assert!(feet.contains("length_ft,") && feet.contains("speed_ft_per_s,"), "{feet}");
    assert!(printed.contains(" ft/s") && printed.contains(" m/min") && !printed.contains(" m/s"));
    let mut reader = csv::Reader::from_reader(feet.as_bytes());
    let in_feet: f64 = reader.records().next().unwrap().unwrap()[4].parse().unwrap();
    assert!((in_feet * 0.3048 - length).abs() < 1e-4, "{in_feet} ft, {length} m");
    // Every line of the strides is as long as their heading, but for the notes.
    let columns =
        printed.lines().skip(1).take(7).map(|line| line.find(" ft/s").or(line.find("   speed")));
    assert!(columns.skip(1).collect::<std::collections::BTreeSet<_>>().len() == 1, "{printed}");
}

#[test]
fn places_on_the_ground_carry_their_unit() {
    let stable = stable_with(&measurable());
    let said = say(&stable, &["measure", "@lesson.marks.json", "--json", "--csv", "@t.csv"]);
    let found: Value = serde_json::from_str(&said.out).unwrap();
    assert!(found["ground_frame"].as_str().unwrap().contains("x runs the way the horse goes"));
    let place = &found["approaches"][0]["footfalls"][1]["place"];
    assert!(place["x_m"].is_f64() && place["y_m"].is_f64() && place.get("x").is_none(), "{place}");
}

#[test]
fn slow_motion_is_measured_in_capture_time() {
    let Some(source) = awkward("slomo_240_samsung_sef.mp4") else {
        return;
    };
    // The clip plays at 30 frames a second: strides of 0.6 s at the fence take 4.8 s of playing.
    let laid: MarksFile = filmed(&[strides(Limb::LeadingHind, &[(3.5, 4.8); 6])], 1.0 / 30.0);
    let measured = |begin: &[&str], measure: &[&str]| {
        let stable = stable_with(&serde_json::to_value(&laid).unwrap());
        std::fs::copy(&source, stable.path("slow.mp4")).unwrap();
        let begin = [&["begin", "@slow.mp4"], begin].concat();
        assert_eq!(say(&stable, &begin).code, Some(0));
        let begun = std::fs::read_to_string(stable.path("slow.marks.json")).unwrap();
        let begun: Value = serde_json::from_str(&begun).unwrap();
        let mut file = stable.json();
        for key in ["file", "size_bytes", "blake3", "frame_count", "capture_seconds_per_second"] {
            file["clip"][key] = begun["clip"][key].clone();
        }
        std::fs::write(stable.marks(), file.to_string()).unwrap();
        let said = say(&stable, &[&["measure", "@lesson.marks.json", "--json"], measure].concat());
        let found: Value = serde_json::from_str(&said.out).unwrap();
        found["approaches"][0]["strides"][0]["duration_s"]["value"].as_f64().unwrap()
    };
    let near = |found: f64, wanted: f64| assert!((found - wanted).abs() < 0.001, "{found}");
    near(measured(&[], &[]), 0.6);
    near(measured(&["--capture-rate", "120"], &[]), 1.2);
    near(measured(&["--slowed", "1"], &[]), 4.8);
    near(measured(&[], &["--capture-rate", "120"]), 1.2);
    near(measured(&["--slowed", "1"], &["--capture-rate", "240"]), 0.6);
}
