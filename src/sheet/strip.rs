//! The pictures of a page: the approach picture, or the strip of stills; which are shown, in which
//! rows and how large.
//!
//! A row is as wide as the page. No picture is cut here: lengths are drawn on them, and a cut
//! could go through a number.

use std::ops::Range;

use serde::Serialize;
use typst::foundations::Bytes;

use super::data::{Files, Picture};
use super::direction::Words;
use super::error::SheetError;
use super::free_text::printable;
use super::input::{SheetInput, SheetStill};
use super::prose::cut;

/// Space between two stills, points.
pub(super) const GAP: f64 = 6.0;

/// A picture with what stands below it.
#[derive(Clone, Serialize)]
pub(super) struct Still {
    picture: Picture,
    caption: Words,
}

/// The approach picture, `width` wide or at most `most_height` high; its bytes go to `files`.
pub(super) fn approach_picture(
    input: &SheetInput,
    most_height: f64,
    width: f64,
    folder: &str,
    files: &mut Files,
) -> Result<Option<Still>, SheetError> {
    let Some(still) = input.approach_picture else { return Ok(None) };
    let (aspect, ending) =
        look_at(still).map_err(|reason| SheetError::ApproachPicture { reason })?;
    let height = (width / aspect).min(most_height);
    let file = format!("{folder}approach.{ending}");
    Ok(Some(placed(input, still, file, (aspect * height, height), files)))
}

/// A picture among the files, at its printed size, with its words.
fn placed(
    input: &SheetInput,
    still: &SheetStill,
    file: String,
    (width, height): (f64, f64),
    files: &mut Files,
) -> Still {
    files.insert(file.clone(), Bytes::new(still.image.clone()));
    let alt = if still.alt.is_empty() { &still.caption } else { &still.alt };
    let alt = printable(input, alt);
    // No figure may be without words, or a screen reader passes over it.
    let alt = if alt.is_empty() { "A picture of the approach".to_owned() } else { alt };
    let caption = Words::new(printable(input, &cut(&still.caption, 90)));
    Still { picture: Picture { file, alt, width, height }, caption }
}

/// The rows of a strip `width` wide and at most `most_height` high; their pictures go to `files`.
pub(super) fn rows(
    input: &SheetInput,
    most_height: f64,
    width: f64,
    folder: &str,
    files: &mut Files,
) -> Result<Vec<Vec<Still>>, SheetError> {
    let numbered = input.stills.iter().zip(1..);
    let looks: Vec<(f64, &str)> = numbered
        .map(|(still, number)| {
            look_at(still).map_err(|reason| SheetError::Still { number, reason })
        })
        .collect::<Result<_, _>>()?;
    let aspects: Vec<f64> = looks.iter().map(|(aspect, _)| *aspect).collect();
    let laid = layout(&aspects, most_height, width).into_iter().map(|row| {
        row.stills
            .map(|i| {
                let (aspect, ending) = looks[i];
                let file = format!("{folder}still-{i}.{ending}");
                placed(input, &input.stills[i], file, (aspect * row.height, row.height), files)
            })
            .collect()
    });
    Ok(laid.collect())
}

/// Stills side by side, all of one height.
#[derive(Clone, Debug, PartialEq)]
struct Row {
    stills: Range<usize>,
    height: f64,
}

/// Three stills make a row: with four side by side the numbers drawn on them would be set under
/// six points. Six or more make two rows; what is over is left out from the start, since what
/// comes last is nearest the fence. Where two rows are too high the last one stays. A row too high
/// even so is made smaller than the page is wide.
fn layout(aspects: &[f64], most_height: f64, width: f64) -> Vec<Row> {
    let count = aspects.len();
    let last = count.saturating_sub(3)..count;
    let parts = match count {
        0 => vec![],
        1..=5 => vec![last],
        _ => vec![count - 6..count - 3, last],
    };
    let row = |stills: Range<usize>| {
        let gaps = GAP * (stills.len() - 1) as f64;
        let across: f64 = aspects[stills.clone()].iter().sum();
        Row { stills, height: (width - gaps) / across }
    };
    let mut rows: Vec<Row> = parts.into_iter().map(row).collect();
    let total: f64 = rows.iter().map(|row| row.height).sum();
    if total > most_height {
        rows.drain(..rows.len().saturating_sub(1));
    }
    for row in &mut rows {
        row.height = row.height.min(most_height);
    }
    rows
}

/// Width over height of a picture and the ending of its file name, or what is wrong with it.
fn look_at(still: &SheetStill) -> Result<(f64, &'static str), String> {
    let reader = image::ImageReader::new(std::io::Cursor::new(&still.image))
        .with_guessed_format()
        .map_err(|error| error.to_string())?;
    let ending = match reader.format() {
        Some(image::ImageFormat::Png) => "png",
        Some(image::ImageFormat::Jpeg) => "jpg",
        _ => return Err("it is neither PNG nor JPEG".to_owned()),
    };
    let (width, height) = reader.into_dimensions().map_err(|error| error.to_string())?;
    if width == 0 || height == 0 {
        return Err(format!("it has {width} × {height} pixels"));
    }
    Ok((f64::from(width) / f64::from(height), ending))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::Paper;
    use crate::sheet::data::DENSITIES;

    const WIDE: f64 = 16.0 / 9.0;

    /// Width of a row with its gaps.
    fn across(row: &Row, aspects: &[f64]) -> f64 {
        let pictures: f64 = aspects[row.stills.clone()].iter().map(|a| a * row.height).sum();
        pictures + GAP * (row.stills.len() - 1) as f64
    }

    #[test]
    fn three_stills_or_more_fill_the_width_on_every_paper_however_full() {
        for paper in [Paper::A4, Paper::Letter] {
            let width = paper.width_pt() - 72.0;
            for density in DENSITIES {
                for count in 3..=9 {
                    let aspects = vec![WIDE; count];
                    let rows = layout(&aspects, density.strip, width);
                    assert_eq!(rows.last().unwrap().stills.end, count, "the landing is shown");
                    for row in rows {
                        assert!((across(&row, &aspects) - width).abs() < 1e-9, "{count}: {row:?}");
                    }
                }
            }
        }
    }

    #[test]
    fn six_stills_take_two_rows_while_there_is_room_and_one_when_there_is_not() {
        let stills = |most_height| {
            let rows = layout(&[WIDE; 6], most_height, 523.28);
            rows.into_iter().map(|row| row.stills).collect::<Vec<_>>()
        };
        let (first, second) = (0..3, 3..6);
        assert_eq!(stills(200.0), [first, second.clone()]);
        assert_eq!(stills(150.0), [second]);
    }

    #[test]
    fn a_row_too_high_is_made_smaller_and_keeps_its_shape() {
        let rows = layout(&[0.5, 0.5], 100.0, 500.0);
        assert_eq!(rows, [Row { stills: 0..2, height: 100.0 }]);
        assert_eq!(layout(&[], 100.0, 500.0), []);
    }
}
