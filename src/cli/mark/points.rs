//! Many marks at once from a table: `place,frame,x,y`, as it comes out of a spreadsheet.

use std::io::Read;
use std::path::Path;

use super::jump;
use super::path::place_at;
use super::places::placed_at;
use super::thing_args::FootfallArgs;
use crate::cli::spots::{Spot, number, positive, whole};
use crate::cli::{Failure, choices};
use crate::footage::io_words;
use crate::marks::{Edit, ListChange, MarksFile};

/// One edit for the whole table.
pub(super) fn all(table: &Path, file: &MarksFile) -> Result<Edit, Failure> {
    let rows = rows(table)?;
    let mut edits = Vec::new();
    // Footfalls may belong to an approach that the first of them begins.
    let mut draft = file.clone();
    for row in &rows {
        let edit = edit_of(row, &draft).map_err(|why| why.before(&row.line))?;
        for begun in flat(edit) {
            if let Edit::Approach(ListChange::Add { thing, .. }) = &begun {
                draft.approaches.push(thing.clone());
            }
            edits.push(begun);
        }
    }
    Ok(Edit::Several { edits })
}

fn flat(edit: Edit) -> Vec<Edit> {
    match edit {
        Edit::Several { edits } => edits,
        edit => vec![edit],
    }
}

/// One row, as typed; what is empty was not typed.
struct Row {
    /// "cannot use line 3 of `t.csv`".
    line: String,
    place: String,
    frame: String,
    x: Option<String>,
    y: Option<String>,
    sd: Option<String>,
    event: Option<String>,
    approach: Option<String>,
}

fn rows(table: &Path) -> Result<Vec<Row>, Failure> {
    let name = table.display();
    let cannot = |why: &str| Failure::new(format!("cannot read the points of `{name}`: {why}"));
    let mut text = String::new();
    let read = if table == Path::new("-") {
        std::io::stdin().read_to_string(&mut text)
    } else {
        std::fs::File::open(table).and_then(|mut file| file.read_to_string(&mut text))
    };
    read.map_err(|error| cannot(&io_words(&error)))?;
    // Spreadsheets put a byte order mark first.
    let text = text.trim_start_matches('\u{feff}');
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .comment(Some(b'#'))
        .flexible(true)
        .from_reader(text.as_bytes());
    let heads = reader.headers().map_err(|_| cannot("it is no table"))?.clone();
    let columns = "a first line of place,frame,x,y and, as you like, sd,event,approach";
    let column = |head: &str| heads.iter().position(|known| known == head);
    let known = ["place", "frame", "x", "y", "sd", "event", "approach"];
    if let Some(other) = heads.iter().find(|head| !known.contains(head)) {
        return Err(cannot(&format!("its first line has `{other}` ({columns} needed)")));
    }
    let needed = |head: &str| {
        column(head).ok_or_else(|| cannot(&format!("it has no column `{head}` ({columns} needed)")))
    };
    let (place, frame) = (needed("place")?, needed("frame")?);
    let (x, y) = (needed("x")?, needed("y")?);
    let (sd, event, approach) = (column("sd"), column("event"), column("approach"));
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|_| cannot("it is no table"))?;
        let cell = |at: usize| record.get(at).filter(|cell| !cell.is_empty()).map(str::to_owned);
        rows.push(Row {
            line: format!(
                "cannot use line {} of `{name}`",
                record.position().map_or(0, csv::Position::line)
            ),
            place: cell(place).unwrap_or_default(),
            frame: cell(frame).unwrap_or_default(),
            x: cell(x),
            y: cell(y),
            sd: sd.and_then(cell),
            event: event.and_then(cell),
            approach: approach.and_then(cell),
        });
    }
    if rows.is_empty() {
        return Err(cannot("it holds no point"));
    }
    Ok(rows)
}

fn edit_of(row: &Row, file: &MarksFile) -> Result<Edit, Failure> {
    let typed = |column: &str, why: String| Failure::new(format!("its {column}: {why}"));
    let frame = whole::<u32>(&row.frame).map_err(|why| typed("frame", why))?;
    let sd = row.sd.as_deref().map(positive).transpose().map_err(|why| typed("sd", why))?;
    let coordinate = |name: &str, text: &Option<String>| {
        text.as_deref().map(number).transpose().map_err(|why| typed(name, why))
    };
    let at = match (coordinate("x", &row.x)?, coordinate("y", &row.y)?) {
        (Some(x), Some(y)) => Some(Spot { x, y }),
        (None, None) => None,
        _ => return Err(typed("x and y", "both or, for a hidden hoof, none needed".into())),
    };
    if let Some(limb) = choices::meant(&choices::LIMBS, &row.place) {
        let event = match row.event.as_deref() {
            Some(word) => Some(choices::meant(&choices::EVENTS, word).ok_or_else(|| {
                typed("event", "stride, take-off, landing or away needed".into())
            })?),
            None => None,
        };
        let hidden = at.is_none();
        return jump::footfall(
            FootfallArgs {
                limb: Some(limb),
                event,
                frame: Some(frame),
                at,
                sd,
                hidden,
                approach: row.approach.clone(),
                ..FootfallArgs::default()
            },
            file,
        );
    }
    if row.event.is_some() || row.approach.is_some() {
        return Err(typed("event or approach", "only a limb's contact has one".into()));
    }
    let place = place_at(&row.place, file)?;
    let spot = at.ok_or_else(|| typed("x and y", "two numbers needed".into()))?;
    Ok(placed_at(place, frame, spot, sd))
}
