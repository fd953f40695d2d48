//! The strip of stills: which are shown, in which rows and how large.
//!
//! A row is as wide as the page. Stills are never cut here: their lengths are drawn on them, and a
//! cut could go through a number.

use std::collections::BTreeMap;
use std::ops::Range;

use serde::Serialize;
use typst::foundations::Bytes;

use super::data::Picture;
use super::fit::SheetError;
use super::free_text::printable;
use super::input::{SheetInput, SheetStill};
use super::prose::cut;

/// Space between two stills, points.
pub(super) const GAP: f64 = 6.0;

/// A picture with what stands below it.
#[derive(Serialize)]
pub(super) struct Still {
    picture: Picture,
    caption: String,
}

/// The rows of a strip `width` wide and at most `most_height` high; their pictures go to `files`.
pub(super) fn rows(
    input: &SheetInput,
    most_height: f64,
    width: f64,
    files: &mut BTreeMap<String, Bytes>,
) -> Result<Vec<Vec<Still>>, SheetError> {
    let looks: Vec<(f64, &str)> = input
        .stills
        .iter()
        .enumerate()
        .map(|(i, still)| look_at(i, still))
        .collect::<Result<_, _>>()?;
    let aspects: Vec<f64> = looks.iter().map(|(aspect, _)| *aspect).collect();
    let laid = layout(&aspects, most_height, width).into_iter().map(|row| {
        row.stills
            .map(|i| {
                let (still, (aspect, ending)) = (&input.stills[i], looks[i]);
                let file = format!("still-{i}.{ending}");
                files.insert(file.clone(), Bytes::new(still.image.clone()));
                let alt = if still.alt.is_empty() { &still.caption } else { &still.alt };
                let alt = printable(input, alt);
                let picture = Picture { file, alt, width: aspect * row.height, height: row.height };
                Still { picture, caption: printable(input, &cut(&still.caption, 90)) }
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

/// Width over height of a still and the ending of its file name.
fn look_at(index: usize, still: &SheetStill) -> Result<(f64, &'static str), SheetError> {
    let reader = image::ImageReader::new(std::io::Cursor::new(&still.image))
        .with_guessed_format()
        .map_err(|error| SheetError::Still { number: index + 1, reason: error.to_string() })?;
    let ending = match reader.format() {
        Some(image::ImageFormat::Png) => "png",
        Some(image::ImageFormat::Jpeg) => "jpg",
        _ => {
            let reason = "it is neither PNG nor JPEG".to_owned();
            return Err(SheetError::Still { number: index + 1, reason });
        }
    };
    let (width, height) = reader
        .into_dimensions()
        .map_err(|error| SheetError::Still { number: index + 1, reason: error.to_string() })?;
    if width == 0 || height == 0 {
        let reason = format!("it has {width} × {height} pixels");
        return Err(SheetError::Still { number: index + 1, reason });
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
