//! The plan as a page to take to the arena, or its drawing alone.

use std::io::Write;
use std::path::Path;

use super::args::PolesArgs;
use super::asking::Asking;
use crate::cli::Failure;
use crate::cli::drawn::write_drawing;
use crate::cli::file_kind::FileKind;
use crate::cli::sheet::hand_out;
use crate::draw::{LessonPlanInput, Theme, lesson_plan, with_margin};
use crate::poles::{Plan, Published};
use crate::sheet::{Fonts, LessonInput, Paper, set_lesson};

/// What can be written: the page, or as SVG its drawing.
pub(super) const KINDS: [FileKind; 3] = [FileKind::Pdf, FileKind::Png, FileKind::Svg];

/// Width and type of the drawing by itself, in its own units, and what stands around it.
const ALONE: (f64, f64, f64) = (840.0, 11.0, 18.0);

pub(super) fn write(
    (path, kind): (&Path, FileKind),
    args: &PolesArgs,
    asking: &Asking,
    (plan, published): (&Plan, &Published),
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let units = args.units;
    if kind == FileKind::Svg {
        let (width, text, margin) = ALONE;
        let (theme, width) = (Theme::LIGHT, width - 2.0 * margin);
        let drawing = lesson_plan(&LessonPlanInput { plan, units, theme, width, text });
        let drawing = with_margin(drawing, "Poles and fences of the next lesson", margin);
        write_drawing(path, kind, drawing, theme.card)?;
        writeln!(out, "drew the lesson → `{}`", path.display())?;
        return Ok(());
    }
    let printed = jiff::ZonedDateTime::now().date().to_string();
    let input = LessonInput {
        plan,
        published,
        whose: if args.no_names { "" } else { &asking.horse },
        units,
        printed: &printed,
        paper: if args.letter { Paper::Letter } else { Paper::A4 },
    };
    let fonts = Fonts::embedded().with_scanned(typst_kit::fonts::system());
    hand_out(&set_lesson(&input, &fonts).map_err(Failure::new)?, kind, path, out)
}
