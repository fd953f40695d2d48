//! `poles`: distances for the next lesson, from a typed stride and from measured ones.

use groundline::marks::{Limb, MarksFile};
use serde_json::{Value, json};

use crate::laid_out::{filmed, strides};
use crate::program::{groundline, run};
use crate::reference_python::ask_python;
use crate::sample::Stable;

fn poles(words: &str) -> (Option<i32>, String, String) {
    let output = groundline().arg("poles").args(words.split_whitespace()).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (output.status.code(), text(output.stdout), text(output.stderr))
}

#[test]
fn a_typed_twelve_foot_stride_gives_the_course_builders_lines() {
    // (n+1) × 12 ft: 24, 36, 48, 60, 72, 84 ft (R1, R4 of the reference values, read).
    let (code, out, err) = poles("--stride 3.6576 --height 1.0");
    assert_eq!((code, err.as_str()), (Some(0), ""));
    for (name, feet) in [
        ("1 stride", "24 ft ("),
        ("2 strides", "36 ft ("),
        ("3 strides", "48 ft ("),
        ("4 strides", "60 ft ("),
        ("5 strides", "72 ft ("),
        ("6 strides", "84 ft ("),
    ] {
        let line = out.lines().find(|line| line.starts_with(name)).unwrap();
        assert!(line.contains(feet), "{line}");
    }
    // Eight of its four-to-a-stride paces are one stride with landing and take-off (R2, R11).
    assert!(
        out.lines().any(|line| line.starts_with("1 stride") && line.ends_with("8 walked paces"))
    );
    // Cautions stand on every plan.
    assert!(
        out.contains("not a permit to jump") && out.contains("the person on the ground decides")
    );
}

#[test]
fn tables_are_listed_with_source_and_grade_and_the_whole_plan_is_json() {
    let (_, out, _) = poles("--stride 3.5 --height 0.8 --gait trot --size medium-pony --sources");
    assert!(out.contains("· 9–10 ft (R20, grade B)"), "{out}");
    assert!(out.contains("\nR20 "), "{out}");
    assert!(out.contains("note: shortened by"), "{out}");
    let (_, json, _) = poles("--stride 3.5 --height 0.8 --json");
    let plan: Value = serde_json::from_str(&json).unwrap();
    assert_eq!(plan["stride_m"], 3.5);
    assert!(plan["distances"].as_array().unwrap().len() > 8);
    assert!(plan["cautions"].as_array().unwrap().len() > 5);
}

#[test]
fn what_no_plan_is_made_for_is_refused() {
    let (code, out, err) = poles("--stride 9 --height 1.0");
    assert_eq!((code, out.as_str()), (Some(1), ""));
    assert!(err.starts_with("error: cannot plan for a stride of 9.00 m"), "{err}");
    assert!(err.contains("\nhint: "), "{err}");
    let (code, _, err) = poles("--stride 3.5 --stride-within 2 --height 1.0 --units ft");
    assert_eq!(code, Some(1));
    let said =
        "error: cannot plan for a stride within ±6 ft 7 in: ±3 ft 3 in at most is planned for";
    assert!(err.starts_with(said), "{err}");
    let (code, _, err) = poles("--height 1.0");
    assert_eq!(code, Some(2));
    assert!(err.contains("--stride"), "{err}");
}

#[test]
fn marks_without_strides_are_told_what_is_needed() {
    let stable = Stable::new();
    let said = run(&stable, "poles", "--height 1.0 --approach none");
    assert_eq!(said.code, Some(1), "{}", said.out);
    assert!(said.err.starts_with("error: cannot "), "{}", said.err);
}

#[test]
fn an_approach_that_is_not_there_is_refused_with_a_typed_stride_too() {
    let stable = approached(&[3.5, 3.5, 3.5]);
    for words in ["--approach typo", "--approach typo --stride 3.5"] {
        let said = run(&stable, "poles", words);
        assert_eq!((said.code, said.out.as_str()), (Some(1), ""), "{words}");
        assert!(said.err.contains("no such approach (it holds `"), "{words}: {}", said.err);
        assert!(said.err.contains("\nhint: "), "{words}: {}", said.err);
    }
    assert_eq!(run(&stable, "poles", "--stride 3.5").code, Some(0));
}

#[test]
fn strides_before_the_turn_are_neither_reckoned_with_nor_counted() {
    let mut file = approached_file(&[4.4, 4.4, 3.5, 3.5, 3.5, 3.5]);
    let frame = |at: usize, file: &MarksFile| file.approaches[0].footfalls[at].mark.frame;
    file.approaches[0].left_turn_frame = Some(frame(2, &file));
    let said = run(&Stable::with(&serde_json::to_string(&file).unwrap()), "poles", "");
    let mean = " m, the mean of 4 measured strides from the turn on (2 before it not counted)";
    assert!(said.out.starts_with("stride 3.5") && said.out.contains(mean), "{}", said.out);
    file.approaches[0].left_turn_frame = Some(frame(4, &file));
    let late = run(&Stable::with(&serde_json::to_string(&file).unwrap()), "poles", "");
    assert!(
        late.err.starts_with(
            "error: cannot plan from this approach: 2 of its strides from the turn on have a length \
             (3 needed)"
        ),
        "{}",
        late.err
    );
}

#[test]
fn a_walked_line_is_counted_and_told_for_this_horse() {
    // R2, R11 (read): 20 paces are four strides, 60 ft.
    let (code, out, err) = poles("--walked 20");
    assert_eq!((code, err.as_str()), (Some(0), ""));
    assert!(
        out.starts_with("20 walked paces, 18.29 m (60 ft): 4 strides by the 12-ft count"),
        "{out}"
    );
    assert!(out.contains("not a permit to jump"), "{out}");
    let (_, out, _) = poles("--walked 20 --stride 3.6576 --units ft");
    assert!(out.contains("fences of 3 ft 3 in: assumed\n3 strides would be 15 ft each"), "{out}");
    let stable = approached(&[3.5, 3.5, 3.5, 3.5]);
    let said = run(&stable, "poles", "--walked 23").out;
    assert!(
        said.contains("3 over, 1 short of 5 strides.") && said.contains("on a curve"),
        "{said}"
    );
    assert!(said.contains("stride 3.50 ± ") && said.contains("than its own"), "{said}");
    let (code, _, err) = poles("--walked 3");
    assert_eq!(code, Some(1));
    assert!(err.contains("4 (landing and take-off) to 55 are counted"), "{err}");
    assert_eq!(poles("--walked 20 --json").0, Some(2));
}

/// An approach of these strides (metres; 0.6 s each) to a fence 1.10 m high, on deep sand uphill.
fn approached(lengths: &[f64]) -> Stable {
    Stable::with(&serde_json::to_string(&approached_file(lengths)).unwrap())
}

fn approached_file(lengths: &[f64]) -> MarksFile {
    let rows: Vec<(f64, f64)> = lengths.iter().map(|length| (*length, 0.6)).collect();
    let mut file: MarksFile = filmed(&[strides(Limb::LeadingHind, &rows)], 0.02);
    file.fences[0].height_m = Some(1.1);
    file.round.surface = "deep sand".into();
    file.round.slope_percent = Some(2.0);
    file.round.horse = "Juniper".into();
    file
}

#[test]
fn a_plan_takes_fence_and_ground_from_the_marks_file_and_flags_override_them() {
    let stable = approached(&[3.5, 3.5, 3.5, 3.5, 3.5]);
    let said = run(&stable, "poles", "");
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
    for line in [
        "height 1.10 m: that of the fence in the marks file",
        "2 % uphill: that of the round",
        "going deep: from the surface of the round",
    ] {
        assert!(said.out.contains(line), "{}", said.out);
    }
    assert!(said.out.contains("note: shortened by") && said.out.contains("uphill, deep going"));
    // The room below is that of the stride's own ±: the aim is no longer its end.
    let json: Value = serde_json::from_str(&run(&stable, "poles", "--json").out).unwrap();
    for distance in json["distances"].as_array().unwrap().iter().skip(1) {
        let length = |end: &str| distance["length"][end].as_f64().unwrap();
        assert!(length("low_m") < length("aim_m") - 0.001, "{distance}");
    }
    let feet = run(&stable, "poles", "--units ft").out;
    for line in ["height 3 ft 7 in: that of the fence", " ft/s (350 ± "] {
        assert!(feet.contains(line), "{feet}");
    }
    let flat = run(&stable, "poles", "--slope 0 --going good --height 1.0");
    assert!(!flat.out.contains("shortened") && !flat.out.contains("marks file"), "{}", flat.out);
    // 3.5 m in 0.6 s is 350 m/min.
    assert!(flat.out.contains("Pace beside course speeds\n350 ± "), "{}", flat.out);
    let typed = poles("--stride 3.5");
    assert_eq!(typed.0, Some(2));
    assert!(typed.2.contains("no height of the fences"), "{}", typed.2);
}

#[test]
fn an_uneven_stride_is_left_out_and_said_to_be() {
    let stable = approached(&[3.5, 3.5, 3.5, 3.5, 2.6]);
    let said = run(&stable, "poles", "--slope 0 --going good");
    assert!(said.out.contains("the mean of 4 of 5 measured strides"), "{}", said.out);
    assert!(said.out.contains("note: stride −1 of this approach is more than 5 % off"));
    let plan: Value = serde_json::from_str(&run(&stable, "poles", "--json").out).unwrap();
    assert_eq!(plan["warnings"][0], json!({ "warning": "strides_left_out", "numbers": [-1] }));
    assert!((plan["stride_m"].as_f64().unwrap() - 3.5).abs() < 0.03, "{}", plan["stride_m"]);
}

#[test]
fn a_line_of_n_strides_comes_with_its_shorter_and_longer_version() {
    // 8 × 12 ft in seven strides (R1, R4); ± 6 in a stride (R16): 92 and 100 ft.
    let (code, out, _) = poles("--stride 3.6576 --height 1.0 --strides 7 --units ft");
    assert_eq!(code, Some(0));
    assert!(out.contains("7 strides  96 ft (93 ft to 99 ft)  29.26 m"), "{out}");
    assert!(
        out.contains("to adjust: shorter 92 ft (28.04 m, 30½ walked paces), strides of 11 ft 6 in")
    );
    assert!(
        out.contains("to adjust: longer 100 ft (30.48 m, 33½ walked paces), strides of 12 ft 6 in")
    );
    assert!(out.contains("as it lies, 8 strides would be"), "{out}");
    let (code, _, err) = poles("--stride 3.5 --height 1.0 --strides 13");
    assert_eq!(code, Some(1));
    assert!(
        err.starts_with("error: cannot plan a line of 13 strides: 1 to 12 are planned"),
        "{err}"
    );
}

#[test]
fn plans_as_json_keep_their_schema() {
    let kept = include_str!("../../fixtures/plan.schema.json");
    let schema: Value = serde_json::from_str(kept).unwrap();
    let of_words = |words: &str| -> Value { serde_json::from_str(&poles(words).1).unwrap() };
    let stable = approached(&[3.5, 3.5, 3.4, 3.5, 2.6]);
    let measured: Value = serde_json::from_str(&run(&stable, "poles", "--json").out).unwrap();
    let typed = of_words("--stride 3.5 --height 0.8 --gait trot --size pony --json");
    let line = of_words("--stride 3.5 --height 1.0 --strides 5 --json");
    let mut spoilt = typed.clone();
    spoilt["stride_m"] = json!("long");
    let asked = json!({ "schema": schema, "documents": [measured, typed, line, spoilt] });
    let Some(found) = ask_python("validate_json.py", &asked) else { return };
    let count = |kind: &str| -> Vec<usize> {
        found[kind]
            .as_array()
            .unwrap()
            .iter()
            .map(|errors| errors.as_array().unwrap().len())
            .collect()
    };
    assert_eq!(count("open"), [0, 0, 0, 1], "{found}");
}

#[test]
fn a_page_and_its_drawing_are_written_by_name_and_names_can_be_left_off() {
    let stable = approached(&[3.5, 3.5, 3.5, 3.5]);
    let written = |words: &str, name: &str| -> Vec<u8> {
        let mut program = groundline();
        program.arg("poles").arg(stable.marks()).args(words.split_whitespace());
        let output = program.arg("-o").arg(stable.path(name)).output().unwrap();
        assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
        let said = String::from_utf8(output.stdout).unwrap();
        assert!(
            words.contains("--json") || said.trim_end().ends_with(&format!("{name}`")),
            "{said}"
        );
        std::fs::read(stable.path(name)).unwrap()
    };
    assert!(written("", "lesson.pdf").starts_with(b"%PDF"));
    assert!(written("--letter --units ft --no-names", "lesson.png").starts_with(b"\x89PNG"));
    let svg = String::from_utf8(written("--json", "lesson.svg")).unwrap();
    assert!(svg.starts_with("<svg") && svg.contains("placing pole, canter") && svg.contains(" m"));
    let said = run(&stable, "poles", "-o lesson.docx");
    assert_eq!(said.code, Some(2));
    assert!(said.err.contains(".pdf or .png or .svg needed"), "{}", said.err);
}
