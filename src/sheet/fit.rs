//! Finds how dense an approach must be set to fit its one page: as roomy as possible, and only
//! when nothing else helps with less prose.

use std::collections::BTreeSet;

use typst_layout::PagedDocument;

use super::cover::{self, Cover};
use super::data::{
    DENSITIES, Density, Files, Page, document, lesson_document, page, weeks_document,
};
use super::error::SheetError;
use super::fonts::Fonts;
use super::input::SheetInput;
use super::lesson::{self, LessonInput, lesson_page};
use super::printed::compile;
use super::weeks::{self, WeeksPage, WeeksSheetInput, weeks_page};
use crate::weeks::FenceWeeks;

/// An approach that fits its page.
pub(super) struct Fitted {
    pub page: Page,
    pub files: Files,
    /// The page by itself.
    pub alone: PagedDocument,
    /// Letters on it that no font has.
    pub missing: BTreeSet<char>,
}

/// The most prose a sheet ever carries, characters.
const MOST_PROSE: usize = 6000;
/// What is left of it when the page is full: about nine notes of a sentence or two, for which the
/// second row of stills gives way; only where even that does not fit a few lines.
const LEAST_PROSE: [usize; 2] = [1400, 500];
/// Densities up to this one are preferred to cutting the prose.
const COMFORTABLE: usize = 9;
/// Bars and plan are at most that much higher than their density says.
const MOST_STRETCHED: f64 = 1.5;

/// What is tried on paper: one approach whose files are called by its place among several.
struct Trial<'a> {
    input: &'a SheetInput<'a>,
    fonts: &'a Fonts,
    folder: String,
}

/// Sets an approach on one page; its files are called `NUMBER/…`.
pub(super) fn fit(input: &SheetInput, fonts: &Fonts, number: usize) -> Result<Fitted, SheetError> {
    let trial = Trial { input, fonts, folder: format!("{number}/") };
    let mut pages = 0;
    for density in &DENSITIES[..=COMFORTABLE] {
        let tried = trial.at(*density, MOST_PROSE)?;
        pages = tried.alone.pages().len();
        if pages == 1 {
            return trial.tallest_charts(*density, tried);
        }
    }
    for prose in LEAST_PROSE {
        for density in &DENSITIES[COMFORTABLE - 1..] {
            let tried = trial.at(*density, prose)?;
            pages = tried.alone.pages().len();
            if pages == 1 {
                return trial.longest_prose(*density, prose, tried);
            }
        }
    }
    Err(SheetError::TooLong { pages })
}

impl Trial<'_> {
    fn at(&self, density: Density, prose: usize) -> Result<Fitted, SheetError> {
        let mut files = Files::new();
        let page = page(self.input, density, prose, &self.folder, &mut files)?;
        let data = document(self.input, None, vec![page.clone()]);
        let (alone, missing) = compile(&data, files.clone(), self.fonts)?;
        Ok(Fitted { page, files, alone, missing })
    }

    /// Gives the charts what the page has to spare, to a few per cent; `fitting` has them as low
    /// as the density says.
    fn tallest_charts(&self, density: Density, mut fitting: Fitted) -> Result<Fitted, SheetError> {
        let (mut fits, mut too_high) = (1.0, MOST_STRETCHED);
        while too_high - fits > 0.04 {
            let middle = f64::midpoint(fits, too_high);
            let tried = self.at(density.stretched(middle), MOST_PROSE)?;
            if tried.alone.pages().len() == 1 {
                (fits, fitting) = (middle, tried);
            } else {
                too_high = middle;
            }
        }
        Ok(fitting)
    }

    /// Halves the doubt about how much prose fits beside the rest; `fitting` carries
    /// `fits` characters.
    fn longest_prose(
        &self,
        density: Density,
        mut fits: usize,
        mut fitting: Fitted,
    ) -> Result<Fitted, SheetError> {
        let mut too_long = MOST_PROSE;
        while too_long - fits > 150 {
            let middle = fits.midpoint(too_long);
            let tried = self.at(density, middle)?;
            if tried.alone.pages().len() == 1 {
                (fits, fitting) = (middle, tried);
            } else {
                too_long = middle;
            }
        }
        Ok(fitting)
    }
}

/// Rows of a table over the weeks, from all that may fit down to what always does.
const WEEKS_ROWS: [usize; 6] = [40, 32, 26, 20, 14, 9];

/// A fence over the weeks on one page; its files are called `NUMBER/…`. Rather than cutting notes
/// short its table is: what stands between the first and the latest is counted.
pub(super) fn fit_weeks(
    input: &WeeksSheetInput,
    weeks: &FenceWeeks,
    fonts: &Fonts,
    number: usize,
) -> Result<(WeeksPage, Files), SheetError> {
    let folder = format!("{number}/");
    let mut pages = 0;
    let mut tried = |density, rows, prose| {
        let mut files = Files::new();
        let page = weeks_page(input, weeks, density, (rows, prose), &folder, &mut files);
        let data = weeks_document(input, vec![page.clone()]);
        pages = compile(&data, files.clone(), fonts)?.0.pages().len();
        Ok::<_, SheetError>((pages == 1).then_some((page, files)))
    };
    for density in weeks::DENSITIES {
        // What a page has to spare is the charts'.
        for times in [MOST_STRETCHED, 1.3, 1.15, 1.0] {
            if let Some(fitted) = tried(density.stretched(times), WEEKS_ROWS[0], MOST_PROSE)? {
                return Ok(fitted);
            }
        }
    }
    let densest = weeks::DENSITIES[weeks::DENSITIES.len() - 2..].iter();
    for prose in [2200, LEAST_PROSE[0], LEAST_PROSE[1]] {
        for rows in &WEEKS_ROWS[1..] {
            for density in densest.clone() {
                if let Some(fitted) = tried(*density, *rows, prose)? {
                    return Ok(fitted);
                }
            }
        }
    }
    Err(SheetError::TooLong { pages })
}

/// The page of the next lesson, as roomy as fits; notes are cut only where nothing else helps.
pub(super) fn fit_lesson(
    input: &LessonInput,
    fonts: &Fonts,
) -> Result<(PagedDocument, BTreeSet<char>), SheetError> {
    let mut pages = 0;
    for prose in [MOST_PROSE, 2200, LEAST_PROSE[0], LEAST_PROSE[1]] {
        for density in lesson::DENSITIES {
            let mut files = Files::new();
            let page = lesson_page(input, density, prose, &mut files);
            let (set, missing) = compile(&lesson_document(input, page), files, fonts)?;
            pages = set.pages().len();
            if pages == 1 {
                return Ok((set, missing));
            }
        }
    }
    Err(SheetError::TooLong { pages })
}

/// The cover with its files, on one page if it can be, and how many pages it takes.
pub(super) fn fit_cover(
    inputs: &[SheetInput],
    fonts: &Fonts,
) -> Result<(Cover, Files), SheetError> {
    let [first, ..] = inputs else { return Err(SheetError::NoApproach) };
    let mut before = 1;
    loop {
        let mut tried = None;
        for density in cover::DENSITIES {
            let mut files = Files::new();
            let cover = cover::cover(inputs, density, before, &mut files);
            let data = document(first, Some(cover.clone()), Vec::new());
            let pages = compile(&data, files.clone(), fonts)?.0.pages().len();
            tried = Some((cover, files, pages));
            if pages <= before {
                break;
            }
        }
        match tried {
            Some((cover, files, pages)) if pages <= before => return Ok((cover, files)),
            // The page numbers it names depend on how many pages it takes itself.
            Some((.., pages)) => before = pages,
            None => return Err(SheetError::NoApproach),
        }
    }
}
