//! Sets the sheet at the roomiest density that fits one page, and hands out PDF or PNG.

use typst_layout::PagedDocument;
use typst_pdf::PdfOptions;
use typst_render::RenderOptions;

use super::data::{DENSITIES, Density, files};
use super::fonts::Fonts;
use super::input::SheetInput;
use super::world::SheetWorld;

/// Why there is no sheet.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SheetError {
    /// A still is not a picture that can be printed.
    #[error("cannot print still {number}: {reason}")]
    Still {
        /// 1 is the first.
        number: usize,
        /// What is wrong with it.
        reason: String,
    },
    /// The template does not compile: our fault.
    #[error("cannot set the sheet: {reason}")]
    Template {
        /// What typst says.
        reason: String,
    },
    /// Even set densely it takes more than a page.
    #[error("cannot fit the sheet on one page: it takes {pages} (fewer stills or strides needed)")]
    TooLong {
        /// How many it takes.
        pages: usize,
    },
}

/// The sheet as a one-page PDF.
pub fn sheet_pdf(input: &SheetInput, fonts: &Fonts) -> Result<Vec<u8>, SheetError> {
    let document = set(input, fonts)?;
    let options = PdfOptions::default();
    typst_pdf::pdf(&document, &options).map_err(|errors| template(&errors))
}

/// The sheet as a PNG of `dots_per_inch` (110 suits a screen, 300 a printer).
pub fn sheet_png(
    input: &SheetInput,
    fonts: &Fonts,
    dots_per_inch: f64,
) -> Result<Vec<u8>, SheetError> {
    let document = set(input, fonts)?;
    let page = document.pages().first().ok_or(SheetError::TooLong { pages: 0 })?;
    let scale = dots_per_inch.clamp(20.0, 1200.0) / 72.0;
    let options = RenderOptions { pixel_per_pt: scale.into(), ..RenderOptions::default() };
    let pixels = typst_render::render(page, &options);
    pixels.encode_png().map_err(|error| SheetError::Template { reason: error.to_string() })
}

/// The most prose a sheet ever carries, characters.
const MOST_PROSE: usize = 6000;
/// What is left of it when the page is full.
const LEAST_PROSE: usize = 500;
/// Densities up to this one are preferred to cutting the prose.
const COMFORTABLE: usize = 7;
/// Bars and plan are at most that much higher than their density says.
const MOST_STRETCHED: f64 = 1.5;

fn set(input: &SheetInput, fonts: &Fonts) -> Result<PagedDocument, SheetError> {
    let mut pages = 0;
    for density in &DENSITIES[..=COMFORTABLE] {
        let document = compile(input, fonts, *density, MOST_PROSE)?;
        pages = document.pages().len();
        if pages == 1 {
            return tallest_charts(input, fonts, *density, document);
        }
    }
    for density in &DENSITIES[COMFORTABLE - 1..] {
        let document = compile(input, fonts, *density, LEAST_PROSE)?;
        pages = document.pages().len();
        if pages == 1 {
            return longest_prose(input, fonts, *density, document);
        }
    }
    Err(SheetError::TooLong { pages })
}

/// Gives the charts what the page has to spare, to a few per cent; `fitting` has them as low as
/// the density says.
fn tallest_charts(
    input: &SheetInput,
    fonts: &Fonts,
    density: Density,
    mut fitting: PagedDocument,
) -> Result<PagedDocument, SheetError> {
    let (mut fits, mut too_high) = (1.0, MOST_STRETCHED);
    while too_high - fits > 0.04 {
        let middle = f64::midpoint(fits, too_high);
        let document = compile(input, fonts, density.stretched(middle), MOST_PROSE)?;
        if document.pages().len() == 1 {
            (fits, fitting) = (middle, document);
        } else {
            too_high = middle;
        }
    }
    Ok(fitting)
}

/// Halves the doubt about how much prose fits beside the rest; `fitting` carries the least.
fn longest_prose(
    input: &SheetInput,
    fonts: &Fonts,
    density: Density,
    mut fitting: PagedDocument,
) -> Result<PagedDocument, SheetError> {
    let (mut fits, mut too_long) = (LEAST_PROSE, MOST_PROSE);
    while too_long - fits > 150 {
        let middle = fits.midpoint(too_long);
        let document = compile(input, fonts, density, middle)?;
        if document.pages().len() == 1 {
            (fits, fitting) = (middle, document);
        } else {
            too_long = middle;
        }
    }
    Ok(fitting)
}

fn compile(
    input: &SheetInput,
    fonts: &Fonts,
    density: Density,
    prose: usize,
) -> Result<PagedDocument, SheetError> {
    let world = SheetWorld::new(fonts, files(input, density, prose)?).ok_or_else(|| {
        SheetError::Template { reason: "the template has no valid name".to_owned() }
    })?;
    typst::compile::<PagedDocument>(&world).output.map_err(|errors| template(&errors))
}

fn template(errors: &[typst::diag::SourceDiagnostic]) -> SheetError {
    let said: Vec<&str> = errors.iter().map(|error| error.message.as_str()).collect();
    SheetError::Template { reason: said.join("; ") }
}
