//! The demo's folder: made, or taken over from an earlier demo and from nobody else.

use std::path::Path;

use super::week::{RIDER, WEEKS};
use crate::cli::Failure;
use crate::store::{StoreError, load, undo_path, write_whole};

/// Says what lies in the folder, and that it is the demo's to replace.
const ABOUT_FILE: &str = "about-this-demo.txt";
const ABOUT: &str = "Made by `groundline demo`, and replaced when it is run again into this folder.

schooling.mp4, second-week.mp4, third-week.mp4
                     rendered clips: horse, rider and numbers are invented
NAME.marks.json      the marks on each, with realistic clicking errors
NAME.marks.json.backup, NAME.marks.undo.json
                     the marks before the last change; what `undo` can take back
NAME.motion          how the camera moved, where it was turned (`demo --turning`)
stills, approach.jpg, plan.png, charts.png, numbers.xlsx, sheet.pdf
                     what the commands of those names make of the first week
weeks.pdf            the three weeks compared
reel.mp4             the first week's approach above the last's
lesson.pdf           distances for the next lesson, from the last week's strides
stand.png            where the phone had better stand

Marks of your own belong in a file of another name:
groundline begin schooling.mp4 -o mine.marks.json
";
/// What the demo makes of its rounds.
const HANDED_OUT: [&str; 10] = [
    "stills",
    "approach.jpg",
    "plan.png",
    "charts.png",
    "numbers.xlsx",
    "sheet.pdf",
    "weeks.pdf",
    "reel.mp4",
    "lesson.pdf",
    "stand.png",
];

/// Makes the folder; refused where something would be replaced that no demo made. Whether an
/// earlier demo is replaced.
pub(super) fn demo_folder(folder: &Path) -> Result<bool, Failure> {
    let unwritable = |source| StoreError::Unwritable { path: folder.to_owned(), source };
    std::fs::create_dir_all(folder).map_err(unwritable)?;
    let about = folder.join(ABOUT_FILE);
    let shown = folder.display();
    let rounds = WEEKS.iter().flat_map(|week| [week.clip(folder), week.marks(folder)]);
    let mut made = rounds.chain(HANDED_OUT.map(|name| folder.join(name)));
    let there = made.find(|path| path.symlink_metadata().is_ok());
    if let Some(path) = &there {
        let other = "choose another folder: `groundline demo FOLDER`";
        let of_a_demo = |marks: &Path| load(marks).is_ok_and(|file| file.round.rider == RIDER);
        if !about.is_file() && !of_a_demo(&WEEKS[0].marks(folder)) {
            let name = path.file_name().unwrap_or_default().display();
            return Err(Failure::new(format!(
                "cannot put the demo into `{shown}`: `{name}` there was not made by a demo"
            ))
            .hint(other));
        }
        // An undo list is there once somebody changed the demo's marks.
        let mut changed = WEEKS.iter().map(|week| undo_path(&week.marks(folder)));
        if let Some(undo) = changed.find(|undo| undo.exists()) {
            return Err(Failure::new(format!(
                "cannot replace the demo in `{shown}`: its marks were changed since"
            ))
            .hint(format!("{other}, or move `{}` away", undo.display())));
        }
    }
    let unwritable = |source| StoreError::Unwritable { path: about.clone(), source };
    write_whole(&about, ABOUT.as_bytes()).map_err(unwritable)?;
    Ok(there.is_some())
}
