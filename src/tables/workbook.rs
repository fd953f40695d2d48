//! The pages as a workbook (XLSX).

use jiff::civil::Date;
use rust_xlsxwriter::{
    DocProperties, ExcelDateTime, Format, FormatAlign, FormatBorder, Workbook, Worksheet, XlsxError,
};

use super::about_page::about_page;
use super::approaches_page::approaches_page;
use super::cell::{Cell, Page};
use super::doubts_page::doubts_page;
use super::error::TablesError;
use super::footfalls_page::footfalls_page;
use super::formula::looks_like_formula;
use super::input::TablesInput;
use super::strides_page::strides_page;

/// UTF-16 units that a cell holds.
const MOST_LETTERS: usize = 32_767;
/// The least and the most that a column is wide, letters; longer words are wrapped.
const WIDTHS: (usize, usize) = (8, 70);

/// The workbook of a measured round as the bytes of an XLSX file: the sheets `strides`,
/// `footfalls`, `approaches`, `doubts` and `about`, a frozen line of heads on each.
///
/// Lengths are in the unit of `input`, said in the heads. Numbers are numbers and keep every digit;
/// how many are shown follows the ±. What is not known is an empty cell. Words are never formulas.
/// An error where a text is longer than a cell holds.
pub fn workbook(input: &TablesInput) -> Result<Vec<u8>, TablesError> {
    let mut workbook = Workbook::new();
    workbook.set_properties(&properties(input)?);
    let pages = [
        strides_page(input),
        footfalls_page(input),
        approaches_page(input),
        doubts_page(input),
        about_page(input),
    ];
    for page in pages {
        refuse_long(&page)?;
        fill(workbook.add_worksheet(), &page)?;
    }
    Ok(workbook.save_to_buffer()?)
}

/// No clock: made on the round's day, or else on one that is always the same. No author either.
fn properties(input: &TablesInput) -> Result<DocProperties, XlsxError> {
    let day = input.round.date.as_deref().and_then(|date| date.parse::<Date>().ok());
    let day = day.and_then(|day| {
        let year = u16::try_from(day.year()).ok()?;
        let (month, day) = (u8::try_from(day.month()).ok()?, u8::try_from(day.day()).ok()?);
        ExcelDateTime::from_ymd(year, month, day).ok()
    });
    let day = day.map_or_else(|| ExcelDateTime::from_ymd(2000, 1, 1), Ok)?;
    Ok(DocProperties::new().set_title("Strides measured by groundline").set_creation_datetime(&day))
}

fn refuse_long(page: &Page) -> Result<(), TablesError> {
    for (head, cell) in page.rows.iter().flat_map(|row| page.heads.iter().zip(row)) {
        let Cell::Text(words) = cell else { continue };
        let letters = words.encode_utf16().count();
        if letters > MOST_LETTERS {
            let head = head.clone();
            return Err(TablesError::TextTooLong { head, letters, most: MOST_LETTERS });
        }
    }
    Ok(())
}

fn fill(sheet: &mut Worksheet, page: &Page) -> Result<(), XlsxError> {
    sheet.set_name(page.name)?.set_freeze_panes(1, 0)?;
    let head = Format::new().set_bold().set_border_bottom(FormatBorder::Thin);
    for (column, words) in (0..).zip(&page.heads) {
        sheet.write_string_with_format(0, column, words, &head)?;
        sheet.set_column_width(column, width_of(page, column) as f64)?;
    }
    for (row, cells) in (1..).zip(&page.rows) {
        for (column, cell) in (0..).zip(cells) {
            put(sheet, (row, column), cell)?;
        }
    }
    Ok(())
}

/// As wide as the head and what is shown below it, and one letter more.
fn width_of(page: &Page, column: u16) -> usize {
    let column = usize::from(column);
    let cells = page.rows.iter().filter_map(|row| row.get(column)).map(shown_letters);
    let widest = cells.chain([page.heads[column].chars().count()]).max().unwrap_or_default();
    (widest + 1).clamp(WIDTHS.0, WIDTHS.1)
}

fn shown_letters(cell: &Cell) -> usize {
    match cell {
        Cell::Empty => 0,
        Cell::Text(words) => {
            words.lines().map(|line| line.chars().count()).max().unwrap_or_default()
        }
        Cell::Whole(number) => number.to_string().len(),
        Cell::Number { value, decimals } => format!("{value:.decimals$}").len(),
    }
}

fn put(sheet: &mut Worksheet, (row, column): (u32, u16), cell: &Cell) -> Result<(), XlsxError> {
    let format = Format::new().set_align(FormatAlign::Top);
    match cell {
        Cell::Empty => {}
        Cell::Text(words) => {
            let mut format = format;
            if words.contains('\n') || words.chars().count() >= WIDTHS.1 {
                format = format.set_text_wrap();
            }
            // A string is no formula; this keeps it none when someone edits the cell.
            if looks_like_formula(words) {
                format = format.set_quote_prefix();
            }
            sheet.write_string_with_format(row, column, words, &format)?;
        }
        Cell::Whole(number) => {
            let format = format.set_num_format("0");
            sheet.write_number_with_format(row, column, *number as f64, &format)?;
        }
        Cell::Number { value, decimals } => {
            let places =
                if *decimals == 0 { String::new() } else { format!(".{:0<1$}", "", decimals) };
            let format = format.set_num_format(format!("0{places}"));
            sheet.write_number_with_format(row, column, *value, &format)?;
        }
    }
    Ok(())
}
