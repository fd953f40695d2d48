//! `groundline sheet`: one page to hand out an approach, several behind a cover, as PDF or pictures.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};

use super::Failure;
use super::approach_picture::approach_picture;
use super::chosen_approach::{Unnamed, chosen_approach};
use super::file_kind::FileKind;
use super::measured_round::MeasuredRound;
use super::next_lesson::{next_distances_of, pace_beside, where_to_stand};
use super::pictures::{Style, clip_of, jpeg, strip_stills};
use super::reading::RoundTeller;
use super::sheet_args::SheetArgs;
use super::shown_in::Shown;
use crate::draw::{ApproachPictureText, StrideBracket};
use crate::footage::Reader;
use crate::quantity::whole_numbers;
use crate::reading::{Audience, Reading};
use crate::sheet::{Fonts, Paper, Sheet, SheetInput, SheetStill, headline, set_sheet};
use crate::store::{StoreError, write_whole};
use crate::stride::{ApproachMeasurement, ShownStrides};

/// Dots per inch of the sheet as a picture: still sharp when a printer gets it.
const PRINTED_DPI: f64 = 200.0;

pub(super) fn run(args: SheetArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let kind = FileKind::of(&args.output, &[FileKind::Pdf, FileKind::Png])?;
    let round = MeasuredRound::of(&args.measured)?;
    let approaches = wanted(&round, args.approach.as_deref())?;
    let clip = clip_of(&args.measured.marks, &round.file)?;
    let style = Style::of(&args.measured, args.no_names);
    let mut reader = clip.reader()?;
    let mut pictures: Vec<Pictures> = Vec::new();
    for approach in &approaches {
        let wanted = !args.stills;
        pictures.push(Pictures::of(&round, approach, &mut reader, style, wanted, out)?);
    }
    let shown = Shown::of(&round, &args.measured.marks, args.shown.shown_in.as_deref())?;
    for note in &shown.notes {
        writeln!(out, "note: {note}")?;
    }
    let said = said(&args, &round, shown.strides.as_ref())?;
    let mut next: Vec<Vec<String>> = Vec::new();
    for approach in &approaches {
        if args.no_next_lesson {
            next.push(Vec::new());
            continue;
        }
        let mut said =
            next_distances_of(&round.file, approach, shown.strides.clone(), style.units)?;
        said.extend(pace_beside(approach, style.units)?);
        // The phone stood where it stood for all of them.
        if next.is_empty() {
            said.extend(where_to_stand(&round, approach, style.units));
        }
        next.push(said.iter().map(|sentence| whole_numbers(sentence)).collect());
    }
    let printed = jiff::ZonedDateTime::now().date().to_string();
    let each = approaches.iter().zip(&pictures).zip(&next);
    let inputs = each.map(|((approach, pictures), next_lesson)| SheetInput {
        approach,
        poles: &round.survey.poles,
        suspects: &round.survey.suspects,
        marks_doubts: &round.doubts,
        survey_doubts: &round.survey.doubts,
        round: &round.file.round,
        approach_picture: pictures.joined.as_ref(),
        stills: &pictures.strip,
        readings: said.get(&approach.approach).map_or(&[], |said| &said.readings),
        next_lesson,
        brackets: said.get(&approach.approach).map_or(&[], |said| &said.brackets),
        tolerance: args.band.tolerance(),
        units: style.units,
        names: style.names,
        printed: &printed,
        paper: if args.letter { Paper::Letter } else { Paper::A4 },
    });
    let inputs: Vec<SheetInput> = inputs.collect();
    let fonts = Fonts::embedded().with_scanned(typst_kit::fonts::system());
    let sheet = set_sheet(&inputs, &fonts).map_err(Failure::new)?;
    hand_out(&sheet, kind, &args.output, out)
}

/// What the sheet says of an approach beside its numbers.
struct Said {
    readings: Vec<String>,
    brackets: Vec<StrideBracket>,
}

/// By the approach's id.
fn said(
    args: &SheetArgs,
    round: &MeasuredRound,
    shown: Option<&ShownStrides>,
) -> Result<BTreeMap<String, Said>, Failure> {
    if args.no_reading {
        return Ok(BTreeMap::new());
    }
    let teller = RoundTeller::of(&args.teller, Audience::Rider, args.measured.units)?;
    let all = round.reading(shown, &args.judge.settings(args.band));
    let of = |reading: &Reading| Said {
        // The box beside the bars holds those that are numbers only.
        readings: teller
            .sentences(reading, &all.lines)
            .into_iter()
            .filter(|sentence| !sentence.key.is_plain_number())
            .map(|sentence| whole_numbers(&sentence.text))
            .collect(),
        brackets: StrideBracket::of_pace(&reading.pace, &teller.texts),
    };
    Ok(all.readings.iter().map(|reading| (reading.approach.clone(), of(reading))).collect())
}

/// Writes a sheet as the kind of file asked for, and says so.
pub(super) fn hand_out(
    sheet: &Sheet,
    kind: FileKind,
    path: &Path,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let written = match kind {
        FileKind::Png => write_pages(path, &sheet.pngs(PRINTED_DPI).map_err(Failure::new)?),
        _ => write(path, &sheet.pdf().map_err(Failure::new)?),
    }?;
    let missing: Vec<String> = sheet.missing_letters().map(|letter| letter.to_string()).collect();
    if !missing.is_empty() {
        writeln!(
            out,
            "note: no font on this computer has {}: \u{fffd} stands there instead; install a font \
             that has them, and it is found by itself",
            missing.join(" ")
        )?;
    }
    writeln!(out, "set the sheet → {written}")?;
    Ok(())
}

/// The pictures of one approach: joined into one, or where they cannot be, side by side.
struct Pictures {
    joined: Option<SheetStill>,
    strip: Vec<SheetStill>,
}

/// Widest approach picture on a page: 300 dots an inch.
const JOINED_WIDTH: u32 = 2200;

impl Pictures {
    fn of(
        round: &MeasuredRound,
        approach: &ApproachMeasurement,
        reader: &mut Reader,
        style: Style,
        joined: bool,
        out: &mut dyn Write,
    ) -> Result<Self, Failure> {
        let refused = if joined {
            let text = ApproachPictureText::Paper;
            let size = (JOINED_WIDTH, text);
            match approach_picture(round, approach, reader, style.units, size)? {
                Ok(joined) => {
                    joined.tell(out)?;
                    let still = SheetStill {
                        image: jpeg(&joined.picture)?,
                        caption: String::new(),
                        alt: format!(
                            "The approach in one picture, the horse once per stride. {}",
                            headline(approach, style.units)
                        ),
                    };
                    return Ok(Self { joined: Some(still), strip: Vec::new() });
                }
                Err(refused) => Some(refused),
            }
        } else {
            None
        };
        if let Some(refused) = refused {
            writeln!(
                out,
                "note: {refused}; the page of `{}` shows stills instead",
                approach.approach
            )?;
        }
        Ok(Self { joined: None, strip: strip_stills(round, approach, reader, style)? })
    }
}

/// The approach of that id, or all.
fn wanted<'a>(
    round: &'a MeasuredRound,
    id: Option<&str>,
) -> Result<Vec<&'a ApproachMeasurement>, Failure> {
    let all = &round.measurement.approaches;
    match id {
        Some(_) => Ok(vec![chosen_approach(all, id, Unnamed::First)?]),
        None => Ok(all.iter().collect()),
    }
}

/// Writes one page under the very name asked for, several under that name with their numbers.
fn write_pages(path: &Path, pngs: &[Vec<u8>]) -> Result<String, Failure> {
    if let [only] = pngs {
        return write(path, only);
    }
    let mut names = Vec::new();
    for (png, number) in pngs.iter().zip(1..) {
        names.push(write(&numbered(path, number), png)?);
    }
    match &names[..] {
        [first, .., last] => Ok(format!("{first} to {last}")),
        _ => Ok(names.concat()),
    }
}

/// `sheet.png` as `sheet-2.png`.
fn numbered(path: &Path, number: usize) -> PathBuf {
    let mut name = path.file_stem().unwrap_or_default().to_owned();
    name.push(format!("-{number}."));
    name.push(path.extension().unwrap_or_default());
    path.with_file_name(name)
}

fn write(path: &Path, bytes: &[u8]) -> Result<String, Failure> {
    write_whole(path, bytes)
        .map_err(|source| StoreError::Unwritable { path: path.to_owned(), source })?;
    Ok(format!("`{}`", path.display()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_keeps_folder_and_ending() {
        let numbered = |path| numbered(Path::new(path), 2);
        assert_eq!(numbered("out/lesson.PNG"), Path::new("out/lesson-2.PNG"));
        assert_eq!(numbered("a.b.png"), Path::new("a.b-2.png"));
    }
}
