use std::path::Path;

use groundline::marks::{Edit, Round};
use groundline::store::{
    OpenMarks, StoreError, backup_path, clip_matches, clip_path, load, save, undo_path,
};
use serde_json::{Value, json};

use crate::sample::{Stable, marks_json};

fn refusal(text: &str) -> String {
    let stable = Stable::with(text);
    let error = load(&stable.marks()).unwrap_err().to_string();
    assert_eq!(stable.text(), text);
    error.replace(&stable.marks().display().to_string(), "FILE")
}

/// The refusal of the usual file after `spoil`.
fn refusal_of(spoil: impl FnOnce(&mut Value)) -> String {
    let mut value = marks_json();
    spoil(&mut value);
    refusal(&value.to_string())
}

#[test]
fn what_is_no_marks_file_is_told_apart() {
    assert_eq!(refusal(""), "cannot read `FILE`: the file is empty (a marks file needed)");
    assert_eq!(refusal(" \n"), "cannot read `FILE`: the file is empty (a marks file needed)");
    assert_eq!(
        refusal("{\n  \"a\": 1,\n  oops\n}"),
        "cannot read `FILE`: it is not JSON at line 3, column 3: key must be a string"
    );
    assert_eq!(
        refusal("\u{0}\u{1}binary"),
        "cannot read `FILE`: it is not JSON at line 1, column 1: expected value"
    );
    let no_marks = "cannot read `FILE`: it is JSON but no marks file (a number under `groundline_marks` needed)";
    assert_eq!(refusal("[1, 2]"), no_marks);
    assert_eq!(refusal("{\"type\": \"other\"}"), no_marks);
}

#[test]
fn missing_file_and_folder_are_told_apart() {
    let stable = Stable::new();
    let gone = load(&stable.path("gone.marks.json")).unwrap_err();
    assert!(matches!(gone, StoreError::NotThere { .. }), "{gone}");
    assert!(gone.hint().unwrap().contains("groundline begin"));
    std::fs::create_dir(stable.path("folder.marks.json")).unwrap();
    let folder = load(&stable.path("folder.marks.json")).unwrap_err();
    assert!(matches!(folder, StoreError::Folder { .. }), "{folder}");
}

#[test]
fn a_newer_file_is_refused_whatever_is_in_it() {
    assert_eq!(
        refusal("{\"groundline_marks\": 2, \"all\": \"new\"}"),
        "cannot read `FILE`: it is of version 2 (version 1 or older needed)"
    );
}

#[test]
fn a_misfit_is_located() {
    assert_eq!(
        refusal_of(|file| file["references"][0]["spacing_m"] = json!({ "value": 3.0 })),
        "cannot read `FILE`: `references[0]` does not fit: `sd` is missing"
    );
    assert_eq!(
        refusal_of(|file| file["approaches"][0]["footfalls"][0]["limb"] = json!("left_hind")),
        "cannot read `FILE`: `approaches[0].footfalls[0]` does not fit: `left_hind` is not known (one of `trailing_hind`, `leading_hind`, `trailing_fore`, `leading_fore` needed)"
    );
    assert_eq!(
        refusal_of(|file| file["camera"] = Value::Null),
        "cannot read `FILE`: `camera` does not fit: null found (an object needed)"
    );
}

#[test]
fn keys_that_cannot_be_kept_are_refused() {
    assert_eq!(
        refusal_of(|file| file["references"][0]["spacing_m"]["taped_by"] = json!("Jo")),
        "cannot read `FILE`: `references[0].spacing_m.taped_by` is not known to this version and would be lost on saving"
    );
}

#[test]
fn the_first_breaches_are_listed() {
    let spoil = |file: &mut Value| {
        file["round"]["date"] = json!("31.12.2025");
        file["round"]["slope_percent"] = json!(60);
        file["clip"]["frame_count"] = json!(20);
    };
    assert_eq!(
        refusal_of(spoil),
        "cannot use `FILE`: \
         frame 40 of the clip: frame 40 is not in the clip (frames 0 to 19); \
         frame 90 of the clip: frame 90 is not in the clip (frames 0 to 19); \
         the round: the date is `31.12.2025` (a day of the calendar as YYYY-MM-DD needed); and 3 more"
    );
}

#[test]
fn saving_keeps_unknown_keys_and_every_digit() {
    let stable = Stable::new();
    let before = stable.json();
    let mut file = load(&stable.marks()).unwrap();
    file.round.horse = "Flint".into();
    save(&stable.marks(), &file).unwrap();
    let mut expected = before;
    expected["round"]["horse"] = json!("Flint");
    let after = stable.json();
    assert_eq!(lacking(&expected, &after), None);
    assert!(stable.text().ends_with("}\n"));
    save(&stable.path("copy.marks.json"), &load(&stable.marks()).unwrap()).unwrap();
    assert_eq!(std::fs::read_to_string(stable.path("copy.marks.json")).unwrap(), stable.text());
}

/// The first thing in `part` that is not the same in `whole`.
fn lacking(part: &Value, whole: &Value) -> Option<String> {
    match (part, whole) {
        (Value::Object(part), Value::Object(whole)) => part.iter().find_map(|(key, value)| {
            let found = whole.get(key).unwrap_or(&Value::Null);
            lacking(value, found).map(|at| format!("{key}.{at}"))
        }),
        (Value::Array(part), Value::Array(whole)) if part.len() == whole.len() => {
            part.iter().zip(whole).find_map(|(part, whole)| lacking(part, whole))
        }
        _ => (part != whole).then(|| format!("{part} is {whole}")),
    }
}

#[test]
fn the_file_before_is_the_backup() {
    let stable = Stable::new();
    let before = stable.text();
    let mut file = load(&stable.marks()).unwrap();
    file.round.place = "indoor school".into();
    save(&stable.marks(), &file).unwrap();
    let backup = backup_path(&stable.marks());
    assert_eq!(std::fs::read_to_string(&backup).unwrap(), before);
    // Saving the same again leaves the backup alone, and nothing is left lying about.
    save(&stable.marks(), &file).unwrap();
    assert_eq!(std::fs::read_to_string(&backup).unwrap(), before);
    assert_eq!(stable.names(), ["lesson.marks.json", "lesson.marks.json.backup"]);
}

#[test]
fn a_file_that_breaks_a_rule_is_not_saved() {
    let stable = Stable::new();
    let before = stable.text();
    let mut file = load(&stable.marks()).unwrap();
    file.clip.frame_count = 5;
    assert!(matches!(save(&stable.marks(), &file), Err(StoreError::Breaches { .. })));
    assert_eq!(stable.text(), before);
}

#[test]
fn saving_where_it_cannot_be_done_says_why() {
    let stable = Stable::new();
    let file = load(&stable.marks()).unwrap();
    let error = save(&stable.path("none/x.marks.json"), &file).unwrap_err().to_string();
    let folder = stable.path("none").display().to_string();
    assert!(error.contains(&format!("there is no folder `{folder}`")), "{error}");
    std::fs::create_dir(stable.path("dir.marks.json")).unwrap();
    assert!(matches!(save(&stable.path("dir.marks.json"), &file), Err(StoreError::Folder { .. })));
}

#[cfg(unix)]
#[test]
fn links_and_permissions_stay() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let stable = Stable::new();
    std::fs::set_permissions(stable.marks(), PermissionsExt::from_mode(0o640)).unwrap();
    let link = stable.path("today.marks.json");
    symlink(stable.marks(), &link).unwrap();
    let mut file = load(&link).unwrap();
    file.round.note = "again".into();
    save(&link, &file).unwrap();
    assert!(link.symlink_metadata().unwrap().is_symlink());
    assert_eq!(load(&stable.marks()).unwrap().round.note, "again");
    assert_eq!(stable.marks().metadata().unwrap().permissions().mode() & 0o777, 0o640);
    std::fs::set_permissions(stable.marks(), PermissionsExt::from_mode(0o440)).unwrap();
    file.round.note = "never".into();
    assert!(matches!(save(&link, &file), Err(StoreError::Protected { .. })));
}

fn rider(name: &str) -> Edit {
    Edit::SetRound { round: Round { rider: name.into(), ..Round::default() } }
}

#[test]
fn undo_and_redo_work_across_openings() {
    let stable = Stable::new();
    let first = load(&stable.marks()).unwrap();
    for name in ["Ada", "Bea"] {
        let mut open = OpenMarks::open(&stable.marks()).unwrap();
        open.make(rider(name)).unwrap();
        open.save().unwrap();
    }
    for expected in ["Ada", "Mira"] {
        let mut open = OpenMarks::open(&stable.marks()).unwrap();
        assert!(open.undo().unwrap().is_some());
        open.save().unwrap();
        assert_eq!(load(&stable.marks()).unwrap().round.rider, expected);
    }
    let mut open = OpenMarks::open(&stable.marks()).unwrap();
    assert_eq!(open.file(), &first);
    assert_eq!(open.undo().unwrap(), None);
    assert!(open.redo().unwrap().is_some());
    assert_eq!(open.file().round.rider, "Ada");
}

#[test]
fn an_undo_list_of_another_state_is_refused() {
    let stable = Stable::new();
    let mut open = OpenMarks::open(&stable.marks()).unwrap();
    open.make(rider("Ada")).unwrap();
    open.save().unwrap();
    let by_hand = stable.text().replace("Ada", "Ida");
    std::fs::write(stable.marks(), &by_hand).unwrap();
    let mut open = OpenMarks::open(&stable.marks()).unwrap();
    let error = open.undo().unwrap_err();
    assert!(error.to_string().contains("belongs to another state of the file"), "{error}");
    assert_eq!(stable.text(), by_hand);
    // New changes start a new list.
    open.make(rider("Bea")).unwrap();
    open.save().unwrap();
    let mut open = OpenMarks::open(&stable.marks()).unwrap();
    assert!(open.undo().unwrap().is_some());
    assert_eq!(open.file().round.rider, "Ida");
    std::fs::write(undo_path(&stable.marks()), "{").unwrap();
    let error = OpenMarks::open(&stable.marks()).unwrap().undo().unwrap_err();
    assert!(error.to_string().ends_with("is damaged"), "{error}");
}

#[test]
fn a_file_changed_by_somebody_else_is_not_overwritten() {
    let stable = Stable::new();
    let mut open = OpenMarks::open(&stable.marks()).unwrap();
    open.make(rider("Ada")).unwrap();
    let theirs = stable.text().replace("drizzle", "sun");
    std::fs::write(stable.marks(), &theirs).unwrap();
    assert!(matches!(open.save(), Err(StoreError::ChangedMeanwhile { .. })));
    assert_eq!(stable.text(), theirs);
}

#[test]
fn beginning_does_not_overwrite() {
    let stable = Stable::new();
    let file = load(&stable.marks()).unwrap();
    let error = OpenMarks::begin(&stable.marks(), file.clone()).unwrap_err();
    assert!(matches!(error, StoreError::AlreadyThere { .. }), "{error}");
    let mut fresh = OpenMarks::begin(&stable.path("fresh.marks.json"), file.clone()).unwrap();
    fresh.save().unwrap();
    assert_eq!(load(&stable.path("fresh.marks.json")).unwrap(), file);
}

#[test]
fn another_clip_is_refused() {
    let stable = Stable::new();
    let note = load(&stable.marks()).unwrap().clip;
    let clip = clip_path(&stable.marks(), &note);
    assert_eq!(clip, stable.path("lesson.mp4"));
    let refusal = |path: &Path| clip_matches(path, &note).unwrap_err().to_string();
    assert!(refusal(&clip).starts_with("cannot find the clip"));
    std::fs::write(&clip, "hello cl").unwrap();
    assert!(refusal(&clip).ends_with("(it has 8 bytes, 11 needed)"));
    std::fs::write(&clip, "jello clip\n").unwrap();
    assert!(refusal(&clip).ends_with("another file (the same length, other content)"));
    std::fs::write(&clip, "hello clip\n").unwrap();
    clip_matches(&clip, &note).unwrap();
}

#[test]
fn what_the_arena_marks_keeps_the_rules_and_comes_back() {
    use groundline::arena::{Clicking, Scene, Truth, marks};
    let stable = Stable::new();
    for (name, scene) in Scene::stories(11) {
        for scene in [scene.clone(), scene.filmed_from_the_hand()] {
            let truth = Truth::of(&scene).unwrap();
            let file = marks(&scene, &truth, &Clicking::usual(4));
            assert_eq!(file.check(), [], "{name}");
            let path = stable.path("arena.marks.json");
            save(&path, &file).unwrap();
            assert_eq!(load(&path).unwrap(), file, "{name}");
        }
    }
}
