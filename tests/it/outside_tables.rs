//! The tables opened by pandas and openpyxl, and the JSON validated by jsonschema: general-purpose
//! programs that share no code with what writes them. Every number is compared with `measure
//! --json`: bit for bit in the workbook, to its decimals in the CSV table.

use std::collections::BTreeMap;
use std::path::Path;

use groundline::arena::{Clicking, Scene, Truth, marks};
use groundline::marks::Limb;
use serde::Deserialize;
use serde_json::{Map, Value, json};

use crate::laid_out::{filmed, strides};
use crate::program::{Said, groundline, run};
use crate::reference_python::ask_python;
use crate::sample::Stable;

/// Notes that have gone wrong in one table or another.
const AWKWARD: [&str; 7] = [
    "=HYPERLINK(\"http://example.invalid\",\"x\")",
    "close, \"deep\"\nand quiet\r\nthen waited",
    "-2 from the corner",
    "@home; +1",
    "'quoted', it's",
    "NA",
    "  é ± − 🐎 _x0041_ \t00123 ",
];
const FOOT_M: f64 = 0.3048;

/// A table as pandas has it.
#[derive(Deserialize)]
struct Table {
    heads: Vec<String>,
    types: BTreeMap<String, String>,
    rows: Vec<Map<String, Value>>,
}

#[derive(Deserialize)]
struct Opened {
    csv: Table,
    sheets: BTreeMap<String, Table>,
    workbook: Value,
}

/// The demo's scene with one pole's end clicked far off, one hoof not seen, and awkward notes.
fn arena_file() -> Value {
    let scene = Scene::eased_then_pushed(11);
    let truth = Truth::of(&scene).unwrap();
    let mut file = serde_json::to_value(marks(&scene, &truth, &Clicking::usual(12))).unwrap();
    let end = &mut file["references"][0]["ends"][0]["marks"][0];
    end["x"] = json!(end["x"].as_f64().unwrap() + 45.0);
    file["approaches"][0]["footfalls"][1]["hidden"] = json!(true);
    file["approaches"][0]["note"] = json!(AWKWARD[1]);
    file["round"] = json!({
        "date": "2026-09-18", "rider": "+Ada", "horse": "=Copper", "place": "@school",
        "surface": "sand", "slope_percent": 1.25, "note": AWKWARD[0],
    });
    file["fences"][0]["name"] = json!("-Planks, \"blue\"");
    let notes = (1..).zip(AWKWARD);
    let notes: Vec<Value> =
        notes.map(|(stride, text)| json!({ "stride": -stride, "text": text })).collect();
    file["approaches"][0]["stride_notes"] = json!(notes);
    file
}

/// Two approaches without landing; the survey of exact clicks.
fn laid_file() -> Value {
    let rows = [(3.5, 0.6), (3.3, 0.58), (3.6, 0.62)];
    let first = strides(Limb::LeadingHind, &rows);
    let mut second = strides(Limb::TrailingHind, &rows);
    second.hooves.iter_mut().for_each(|hoof| hoof.at_s += 10.0);
    let file = filmed(&[first, second], 0.02);
    serde_json::to_value(file).unwrap()
}

fn measured(stable: &Stable, words: &str) -> Value {
    let said = run(stable, "measure", &format!("--json {words}"));
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
    serde_json::from_str(&said.out).unwrap()
}

/// Writes both tables and opens them elsewhere.
fn opened(stable: &Stable, words: &str) -> Option<(Value, Opened)> {
    let (csv, xlsx) = (stable.path("t.csv"), stable.path("t.xlsx"));
    let files = format!("--csv {} --xlsx {} {words}", csv.display(), xlsx.display());
    let json = measured(stable, &files);
    let found = ask_python("open_tables.py", &json!({ "csv": csv, "xlsx": xlsx }))?;
    Some((json, serde_json::from_value(found).unwrap()))
}

impl Table {
    fn number(&self, row: usize, head: &str) -> Option<f64> {
        let kind = &self.types[head];
        assert!(["float64", "int64", "object"].contains(&kind.as_str()), "{head}: {kind}");
        let value = &self.rows[row][head];
        // A column without any number has no type either.
        assert!(kind != "object" || value.is_null(), "{head}: {value}");
        value.as_f64()
    }

    fn text(&self, row: usize, head: &str) -> &str {
        self.rows[row][head].as_str().unwrap_or_default()
    }

    /// The three columns of `head` hold just the estimate, each number times `scale`.
    fn same(&self, row: usize, head: &str, estimate: &Value, scale: f64, within: f64) {
        for (end, key) in [("", "value"), ("_low95", "low95"), ("_high95", "high95")] {
            let found = self.number(row, &format!("{head}{end}"));
            let wanted = estimate[key].as_f64().map(|number| number / scale);
            match (found, wanted) {
                (Some(found), Some(wanted)) => {
                    assert!((found - wanted).abs() <= within, "{head}{end}: {found}, {wanted}");
                }
                _ => assert_eq!(found, wanted, "{head}{end}"),
            }
        }
    }
}

/// As XLSX spells the one control letter that XML cannot hold (ECMA-376, 22.9.2.19).
fn unescaped(words: &str) -> String {
    words.replace("_x000D_", "\r")
}

fn array(value: &Value) -> impl Iterator<Item = &Value> {
    value.as_array().unwrap().iter()
}

/// Unit of lengths and what a metre is divided by.
const UNITS: [(&str, f64); 2] = [("m", 1.0), ("ft", FOOT_M)];

#[test]
fn every_number_is_that_of_the_json() {
    for file in [arena_file(), laid_file()] {
        let stable = Stable::with(&file.to_string());
        for (unit, scale) in UNITS {
            let Some((json, tables)) = opened(&stable, &format!("--units {unit}")) else { return };
            check_csv(&json, &tables.csv, unit, scale);
            check_strides(&json, &tables.sheets["strides"], unit, scale);
            check_footfalls(&json, &tables.sheets["footfalls"], unit, scale);
            check_approaches(&json, &tables.sheets["approaches"], unit, scale);
            check_doubts(&json, &tables.sheets["doubts"]);
        }
    }
}

fn check_csv(json: &Value, csv: &Table, unit: &str, scale: f64) {
    // Half of the last of four decimals, and the rounding of the sum.
    const HALF: f64 = 0.000_050_000_01;
    let mut heads = vec!["row".to_owned(), "approach".into(), "fence".into(), "stride".into()];
    let quantities = [
        format!("length_{unit}"),
        "duration_s".into(),
        "tempo_strides_per_min".into(),
        format!("speed_{unit}_per_s"),
    ];
    let ends =
        quantities.iter().flat_map(|q| ["", "_low95", "_high95"].map(|end| format!("{q}{end}")));
    heads.extend(ends);
    heads.push("note".into());
    assert_eq!(csv.heads, heads);
    let plain = |row, head| {
        let cell = csv.text(row, head);
        cell.strip_prefix('\'').unwrap_or(cell)
    };
    let mut row = 0;
    for approach in array(&json["approaches"]) {
        for stride in array(&approach["strides"]) {
            assert_eq!(csv.text(row, "row"), "stride");
            assert_eq!(plain(row, "fence"), approach["fence"]["name"]);
            assert_eq!(csv.number(row, "stride"), stride["number"].as_f64());
            csv.same(row, &quantities[0], &stride["length_m"], scale, HALF);
            csv.same(row, &quantities[1], &stride["duration_s"], 1.0, HALF);
            csv.same(row, &quantities[2], &stride["tempo_strides_per_min"], 1.0, HALF);
            csv.same(row, &quantities[3], &stride["speed_m_per_s"], scale, HALF);
            assert_eq!(plain(row, "note"), stride["note"]);
            assert!(!csv.text(row, "note").starts_with(['=', '+', '-', '@']));
            row += 1;
        }
        for edge in ["take_off", "landing"] {
            if approach[edge].is_object() {
                assert_eq!(csv.text(row, "row"), edge);
                csv.same(row, &quantities[0], &approach[edge]["distance_m"], scale, HALF);
                row += 1;
            }
        }
        row += approach["doubts"].as_array().unwrap().len();
    }
    let said = ["suspects", "doubt_sentences"].map(|key| json[key].as_array().unwrap().len());
    assert_eq!(csv.rows.len(), row + said[0] + said[1]);
}

fn check_strides(json: &Value, page: &Table, unit: &str, scale: f64) {
    let mut row = 0;
    for approach in array(&json["approaches"]) {
        for stride in array(&approach["strides"]) {
            assert_eq!(page.text(row, "approach"), approach["approach"]);
            assert_eq!(page.text(row, "fence"), approach["fence"]["name"]);
            assert_eq!(page.number(row, "stride"), stride["number"].as_f64());
            assert_eq!(page.text(row, "to_footfall"), stride["to_footfall"]);
            page.same(row, &format!("length_{unit}"), &stride["length_m"], scale, 0.0);
            page.same(row, "duration_s", &stride["duration_s"], 1.0, 0.0);
            page.same(row, "tempo_strides_per_min", &stride["tempo_strides_per_min"], 1.0, 0.0);
            page.same(row, &format!("speed_{unit}_per_s"), &stride["speed_m_per_s"], scale, 0.0);
            assert_eq!(unescaped(page.text(row, "note")), stride["note"]);
            row += 1;
        }
    }
    assert_eq!(page.rows.len(), row);
}

fn check_footfalls(json: &Value, page: &Table, unit: &str, scale: f64) {
    let hooves = array(&json["approaches"]).flat_map(|approach| {
        array(&approach["footfalls"]).map(move |hoof| (&approach["approach"], hoof))
    });
    let mut rows = 0;
    for (row, (approach, hoof)) in hooves.enumerate() {
        rows += 1;
        assert_eq!(page.text(row, "approach"), approach);
        assert_eq!(page.text(row, "footfall"), hoof["footfall"]);
        let limb = hoof["limb"].as_str().unwrap().replace('_', " ");
        assert_eq!(page.text(row, "limb"), limb);
        assert_eq!(page.number(row, "frame"), hoof["frame"].as_f64());
        assert_eq!(page.number(row, "time_s"), hoof["time_s"].as_f64());
        for axis in ["x", "y"] {
            let place = hoof["place"][format!("{axis}_m")].as_f64().map(|place| place / scale);
            assert_eq!(page.number(row, &format!("{axis}_{unit}")), place);
        }
        if let Value::Object(ellipse) = &hoof["ellipse"] {
            let of = |key: &str| ellipse[key].as_f64().unwrap();
            let (long, short, turn) = (of("major_sd_m"), of("minor_sd_m"), of("turn_rad"));
            let (c, s) = (turn.cos(), turn.sin());
            let xx = long * long * c * c + short * short * s * s;
            let yy = long * long * s * s + short * short * c * c;
            let xy = (long * long - short * short) * s * c;
            for (head, wanted) in [
                (format!("x_{unit}_sd"), xx.sqrt() / scale),
                (format!("y_{unit}_sd"), yy.sqrt() / scale),
                ("x_y_correlation".into(), xy / (xx * yy).sqrt()),
            ] {
                let found = page.number(row, &head).unwrap();
                assert!((found - wanted).abs() < 1e-9, "{head}: {found}, {wanted}");
            }
        } else {
            assert_eq!(page.number(row, "x_y_correlation"), None);
        }
    }
    assert_eq!(page.rows.len(), rows);
}

fn check_approaches(json: &Value, page: &Table, unit: &str, scale: f64) {
    assert_eq!(page.rows.len(), json["approaches"].as_array().unwrap().len());
    for (row, approach) in array(&json["approaches"]).enumerate() {
        assert_eq!(page.text(row, "approach"), approach["approach"]);
        let (level, track) = (&approach["levelness"], &approach["track"]);
        for (head, estimate, scale) in [
            (format!("take_off_{unit}"), &approach["take_off"]["distance_m"], scale),
            (format!("landing_{unit}"), &approach["landing"]["distance_m"], scale),
            (format!("track_offset_{unit}"), &track["offset_m"], scale),
            ("track_angle_deg".into(), &track["angle_deg"], 1.0),
            (format!("mean_length_{unit}"), &level["mean_m"], scale),
            (format!("range_{unit}"), &level["range_m"], scale),
            ("variation_percent".into(), &level["variation_percent"], 1.0),
            (format!("trend_{unit}_per_stride"), &level["trend_m_per_stride"], scale),
            ("mean_tempo_strides_per_min".into(), &level["mean_tempo_strides_per_min"], 1.0),
            (format!("mean_speed_{unit}_per_s"), &level["mean_speed_m_per_s"], scale),
        ] {
            page.same(row, &head, estimate, scale, 0.0);
        }
        let bend = track["bend_per_m"].as_f64().map(|bend| bend * scale);
        assert_eq!(page.number(row, &format!("track_bend_per_{unit}")), bend);
        for (base, side, name) in [("take_off_base", 0, "left"), ("landing_base", 1, "right")] {
            let end = &approach["fence"][base][side];
            for axis in ["x", "y"] {
                let wanted = end[format!("{axis}_m")].as_f64().map(|metres| metres / scale);
                assert_eq!(page.number(row, &format!("{base}_{name}_{axis}_{unit}")), wanted);
            }
        }
        for edge in ["take_off", "landing"] {
            let hoof = approach[edge]["limb"].as_str().unwrap_or_default().replace('_', " ");
            assert_eq!(page.text(row, &format!("{edge}_hoof")), hoof);
            let named = page.text(row, &format!("{edge}_edge"));
            assert_eq!(named.is_empty(), approach[edge].is_null(), "{named}");
        }
        assert_eq!(unescaped(page.text(row, "note")), approach["note"]);
    }
}

fn check_doubts(json: &Value, page: &Table) {
    let said: Vec<&str> = (0..page.rows.len())
        .filter(|row| page.text(*row, "kind") == "doubt")
        .map(|row| page.text(row, "sentence"))
        .collect();
    let of_approaches =
        array(&json["approaches"]).flat_map(|approach| array(&approach["doubt_sentences"]));
    let wanted: Vec<&str> = of_approaches
        .chain(array(&json["doubt_sentences"]))
        .map(|sentence| sentence.as_str().unwrap())
        .collect();
    assert_eq!(said, wanted);
    let rows = (0..page.rows.len()).filter(|row| page.text(*row, "kind") == "suspect");
    let suspects: Vec<[Option<f64>; 3]> =
        rows.map(|row| ["frame", "off_px", "off_sds"].map(|head| page.number(row, head))).collect();
    let wanted: Vec<[Option<f64>; 3]> = array(&json["suspects"])
        .map(|suspect| ["frame", "off_px", "off_sds"].map(|key| suspect[key].as_f64()))
        .collect();
    assert_eq!(suspects, wanted);
}

#[test]
fn the_workbook_is_as_a_spreadsheet_wants_it() {
    let stable = Stable::with(&arena_file().to_string());
    let Some((json, tables)) = opened(&stable, "") else { return };
    assert!(!json["suspects"].as_array().unwrap().is_empty(), "or the page shows nothing");
    let lengths = array(&json["approaches"][0]["strides"]).filter(|row| row["length_m"].is_null());
    assert!(lengths.count() > 0, "or no cell is empty");
    let book = &tables.workbook;
    for key in ["created", "modified"] {
        assert_eq!(book[key], "2026-09-18T00:00:00", "the round's day, no clock");
    }
    for key in ["creator", "last_modified_by"] {
        assert!(book[key].as_str().unwrap_or_default().is_empty(), "{}", book[key]);
    }
    let sheets = book["sheets"].as_object().unwrap();
    let mut names: Vec<&str> = sheets.keys().map(String::as_str).collect();
    names.sort_unstable();
    assert_eq!(names, ["about", "approaches", "doubts", "footfalls", "strides"]);
    for (name, sheet) in sheets {
        assert_eq!(sheet["frozen"], "A2", "{name}");
        // Numbers and strings, never a formula, for all that the notes begin with.
        let mut kinds = array(&sheet["kinds"]).flat_map(array);
        assert!(kinds.all(|kind| kind == "n" || kind == "s"), "{name}");
        for width in array(&sheet["widths"]) {
            assert!((8.0..=72.0).contains(&width.as_f64().unwrap()), "{name}: {width}");
        }
    }
    // The length's ± decides what is shown; the cell keeps the rest.
    let heads = &tables.sheets["strides"].heads;
    let length = heads.iter().position(|head| head == "length_m").unwrap();
    let last = json["approaches"][0]["strides"].as_array().unwrap().len();
    let formats = &sheets["strides"]["formats"];
    assert_eq!((&formats[last][length], &formats[last][2]), (&json!("0.00"), &json!("0")));
    // What was stated about the round.
    let about = &tables.sheets["about"];
    let said = |what: &str| {
        let row = (0..about.rows.len()).find(|row| about.text(*row, "what") == what);
        row.map(|row| about.rows[row]["said"].clone())
    };
    for (what, wanted) in [
        ("rider", json!("+Ada")),
        ("horse", json!("=Copper")),
        ("place", json!("@school")),
        ("slope_percent", json!(1.25)),
        ("note", json!(AWKWARD[0])),
        ("date", json!("2026-09-18")),
        ("program", json!(concat!("groundline ", env!("CARGO_PKG_VERSION")))),
    ] {
        assert_eq!(said(what), Some(wanted), "{what}");
    }
}

#[test]
fn the_same_marks_give_the_same_bytes() {
    let stable = Stable::with(&laid_file().to_string());
    let [first, second] = ["a.xlsx", "b.xlsx"].map(|name| {
        let path = stable.path(name);
        let said = run(&stable, "measure", &format!("--xlsx {}", path.display()));
        assert!(said.out.ends_with(&format!("\nwrote `{name}`\n")), "{}{}", said.out, said.err);
        std::fs::read(path).unwrap()
    });
    assert!(first == second);
}

/// Every text that a file can hold, with the names in all of them; the clip beside is another.
fn full_of_names() -> Stable {
    let mut file = arena_file();
    file["round"] = json!({ "rider": "Maren Holt", "horse": "Juniper", "place": "Lower school" });
    file["clip"]["file"] = json!("friday-ride.mp4");
    file["clip"]["size_bytes"] = json!(11);
    file["clip"]["blake3"] = json!("0".repeat(64));
    file["fences"][0]["name"] = json!("Juniper's planks");
    file["approaches"][0]["note"] = json!("");
    file["approaches"][0]["stride_notes"] = json!([{ "stride": -2, "text": "Juniper waited" }]);
    file["references"][0]["id"] = json!("Maren's rails");
    file["fences"][0]["id"] = json!("Juniper A");
    file["approaches"][0]["fence"] = json!("Juniper A");
    file["approaches"][0]["id"] = json!("Holt 1");
    file["approaches"][0]["footfalls"][1]["id"] = json!("Juniper lh");
    let stable = Stable::with(&file.to_string());
    std::fs::write(stable.path("friday-ride.mp4"), "another clip").unwrap();
    stable
}

#[test]
fn no_names_means_none_in_any_output() {
    let stable = full_of_names();
    let files = |words: &str| {
        let path = |name: &str| stable.path(name).display().to_string();
        format!("--csv {} --xlsx {} {words}", path("t.csv"), path("t.xlsx"))
    };
    let outputs = |words: &str| -> Vec<String> {
        let said = run(&stable, "measure", &files(words));
        assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
        let json = run(&stable, "measure", &format!("--json {words}")).out;
        vec![said.out, std::fs::read_to_string(stable.path("t.csv")).unwrap(), json]
    };
    let has = |text: &str, name: &str| text.replace("Juniper waited", "").contains(name);
    let named = outputs("");
    for name in ["Maren", "Holt", "Juniper", "friday-ride"] {
        assert!(
            named.iter().all(|text| has(text, name)),
            "{name} is shown, or this proves nothing"
        );
    }
    let mut unnamed = outputs("--no-names");
    if let Some(found) = ask_python(
        "open_tables.py",
        &json!({ "csv": stable.path("t.csv"), "xlsx": stable.path("t.xlsx") }),
    ) {
        unnamed.push(found.to_string());
    }
    for text in unnamed {
        for name in ["Maren", "Holt", "Juniper", "Lower school", "friday", ".mp4", "lesson"] {
            assert!(!has(&text, name), "{name} in {text}");
        }
        assert!(text.contains("Juniper waited"), "notes stay: {text}");
        assert!(text.contains("the rider's rails") || text.contains("the horse"), "{text}");
    }
}

#[test]
fn what_is_written_as_json_keeps_its_schema() {
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/measurement.schema.json");
    let schema: Value = serde_json::from_str(&std::fs::read_to_string(kept).unwrap()).unwrap();
    let mut documents: Vec<Value> = [arena_file(), laid_file()]
        .iter()
        .map(|file| measured(&Stable::with(&file.to_string()), ""))
        .collect();
    documents.push(measured(&full_of_names(), "--no-names"));
    // One that must not pass: an estimate without its interval, and a key that no schema names.
    let mut spoilt = documents[0].clone();
    spoilt["approaches"][0]["strides"][0]["duration_s"] = json!({ "value": 0.6 });
    spoilt["approaches"][0]["mood"] = json!("calm");
    documents.push(spoilt);
    let asked = json!({ "schema": schema, "documents": documents });
    let Some(found) = ask_python("validate_json.py", &asked) else { return };
    let count = |kind: &str| -> Vec<usize> {
        array(&found[kind]).map(|errors| errors.as_array().unwrap().len()).collect()
    };
    assert_eq!(count("open")[..3], [0, 0, 0], "{found}");
    assert_eq!(count("closed")[..3], [0, 0, 0], "{found}");
    assert_eq!((count("open")[3], count("closed")[3]), (3, 4), "{found}");
}

#[test]
fn rounds_compared_as_json_keep_their_schema() {
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/weeks.schema.json");
    let schema: Value = serde_json::from_str(&std::fs::read_to_string(kept).unwrap()).unwrap();
    let stable = Stable::with(&arena_file().to_string());
    std::fs::write(stable.path("empty.marks.json"), "").unwrap();
    let compared = |options: &[&str]| -> Value {
        let mut command = groundline();
        command.arg("weeks").arg(stable.path("")).arg("--json").args(options);
        serde_json::from_slice(&command.output().unwrap().stdout).unwrap()
    };
    let (named, nameless) = (compared(&[]), compared(&["--no-names"]));
    assert_eq!((&named["skipped_count"], &nameless["skipped_count"]), (&json!(1), &json!(1)));
    let mut spoilt = named.clone();
    spoilt["skipped_count"] = json!("one");
    let asked = json!({ "schema": schema, "documents": [named, nameless, spoilt] });
    let Some(found) = ask_python("validate_json.py", &asked) else { return };
    let errors: Vec<usize> =
        array(&found["open"]).map(|errors| errors.as_array().unwrap().len()).collect();
    assert_eq!(errors, [0, 0, 1], "{found}");
}

#[test]
fn a_note_too_long_for_a_cell_is_refused_and_nothing_is_written() {
    let mut file = laid_file();
    file["approaches"][0]["note"] = json!("x".repeat(32_768));
    let stable = Stable::with(&file.to_string());
    let before = stable.names();
    let path = |name: &str| stable.path(name).display().to_string();
    let both = format!("--csv {} --xlsx {}", path("t.csv"), path("t.xlsx"));
    let refused: Said = run(&stable, "measure", &both);
    refused.refused(
        1,
        "error: cannot put the column `note` into a workbook: one of its texts has 32768 letters \
         (32767 at most needed)\n\
         hint: shorten the text, or write a table with --csv, which holds any length",
    );
    assert_eq!(stable.names(), before);
}
