//! The finished sheet, and its ways onto paper and screens.

use std::collections::BTreeSet;

use rayon::prelude::*;
use typst::foundations::{Bytes, Smart};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};
use typst_render::RenderOptions;

use super::data::{Files, SheetData, document, weeks_document};
use super::error::SheetError;
use super::fit::{fit, fit_cover, fit_lesson, fit_weeks};
use super::fonts::Fonts;
use super::input::SheetInput;
use super::legible::legible;
use super::lesson::LessonInput;
use super::weeks::WeeksSheetInput;
use super::world::SheetWorld;
use crate::marks::Round;

/// A sheet that is set and can be handed out.
#[derive(Debug)]
pub struct Sheet {
    document: PagedDocument,
    missing_letters: BTreeSet<char>,
}

/// Sets a sheet: of one approach one page; of several a cover with a row for each, then a page
/// for each in the order given.
pub fn set_sheet(approaches: &[SheetInput], fonts: &Fonts) -> Result<Sheet, SheetError> {
    let [first, ..] = approaches else { return Err(SheetError::NoApproach) };
    if let [only] = approaches {
        let fitted = fit(only, fonts, 0)?;
        return Ok(Sheet { document: fitted.alone, missing_letters: fitted.missing });
    }
    // A note on the whole round stands on the cover, not on every page behind it.
    let round = Round { note: String::new(), ..first.round.clone() };
    let (cover, mut files) = fit_cover(approaches, fonts)?;
    let fitted = approaches.par_iter().enumerate().map(|(number, input)| {
        let fitted = fit(&SheetInput { round: &round, ..*input }, fonts, number)?;
        // The page by itself is no longer needed.
        Ok((fitted.page, fitted.files))
    });
    let mut pages = Vec::new();
    for (page, its_files) in fitted.collect::<Result<Vec<_>, SheetError>>()? {
        pages.push(page);
        files.extend(its_files);
    }
    let data = document(first, Some(cover), pages);
    let (document, missing_letters) = compile(&data, files, fonts)?;
    Ok(Sheet { document, missing_letters })
}

/// Sets the fences over the weeks, a page each.
pub fn set_weeks(input: &WeeksSheetInput, fonts: &Fonts) -> Result<Sheet, SheetError> {
    if input.weeks.is_empty() {
        return Err(SheetError::NoApproach);
    }
    let fitted = input
        .weeks
        .par_iter()
        .enumerate()
        .map(|(number, weeks)| fit_weeks(input, weeks, fonts, number));
    let (mut pages, mut files) = (Vec::new(), Files::new());
    for (page, its_files) in fitted.collect::<Result<Vec<_>, SheetError>>()? {
        pages.push(page);
        files.extend(its_files);
    }
    let (document, missing_letters) = compile(&weeks_document(input, pages), files, fonts)?;
    Ok(Sheet { document, missing_letters })
}

/// Sets the page of the next lesson.
pub fn set_lesson(input: &LessonInput, fonts: &Fonts) -> Result<Sheet, SheetError> {
    let (document, missing_letters) = fit_lesson(input, fonts)?;
    Ok(Sheet { document, missing_letters })
}

impl Sheet {
    /// How many pages it has.
    pub fn page_count(&self) -> usize {
        self.document.pages().len()
    }

    /// Letters on it that none of the fonts has, so that a sign stands for them.
    pub fn missing_letters(&self) -> impl Iterator<Item = char> {
        self.missing_letters.iter().copied()
    }

    /// As a tagged PDF that keeps the rules of PDF/UA-1; only where a letter or font does not let
    /// it (a font that may not be embedded, a letter without a meaning of its own) as a tagged PDF
    /// that does not claim to.
    pub fn pdf(&self) -> Result<Vec<u8>, SheetError> {
        let accessible = PdfStandards::new(&[PdfStandard::Ua_1])
            .ok()
            .and_then(|standards| typst_pdf::pdf(&self.document, &options(standards)).ok());
        match accessible {
            Some(pdf) => Ok(pdf),
            None => typst_pdf::pdf(&self.document, &options(PdfStandards::default()))
                .map_err(|errors| SheetError::of_typst(&errors)),
        }
    }

    /// Its pages as PNGs of `dots_per_inch` (110 suits a screen, 300 a printer; held to 20 to
    /// 1200), in order.
    pub fn pngs(&self, dots_per_inch: f64) -> Result<Vec<Vec<u8>>, SheetError> {
        let scale = dots_per_inch.clamp(20.0, 1200.0) / 72.0;
        let options = RenderOptions { pixel_per_pt: scale.into(), ..RenderOptions::default() };
        let pages = self.document.pages().iter().map(|page| {
            let pixels = typst_render::render(page, &options);
            pixels.encode_png().map_err(|error| SheetError::Template { reason: error.to_string() })
        });
        pages.collect()
    }
}

fn options(standards: PdfStandards) -> PdfOptions {
    let creator = Smart::Custom(Some("Groundline".to_owned()));
    PdfOptions { creator, standards, ..PdfOptions::default() }
}

/// Sets `data` with its `files`; the letters that no font has beside it.
pub(super) fn compile(
    data: &SheetData,
    mut files: Files,
    fonts: &Fonts,
) -> Result<(PagedDocument, BTreeSet<char>), SheetError> {
    let ours = |reason: String| SheetError::Template { reason };
    let mut missing = BTreeSet::new();
    let mut json = serde_json::to_value(data).map_err(|error| ours(error.to_string()))?;
    legible(&mut json, fonts.book(), &mut missing);
    files.insert("sheet.json".to_owned(), Bytes::from_string(json.to_string()));
    let world = SheetWorld::new(fonts, files)
        .ok_or_else(|| ours("a template has no valid name".to_owned()))?;
    let document = typst::compile::<PagedDocument>(&world).output;
    Ok((document.map_err(|errors| SheetError::of_typst(&errors))?, missing))
}
