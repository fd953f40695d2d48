//! Which exercises stand side by side: each goes into the first row that has room for it, so that
//! they stay nearly in the order of the plan.

use super::LessonPlanInput;
use super::block::{Sizes, block_width};
use super::laid::Laid;

/// Exercises side by side.
pub(super) struct Row<'a> {
    pub blocks: Vec<Placed<'a>>,
    /// With the space below it.
    pub height: f64,
}

/// An exercise in its row.
pub(super) struct Placed<'a> {
    pub laid: &'a Laid,
    pub left: f64,
    pub width: f64,
}

pub(super) fn rows<'a>(input: &LessonPlanInput, laid: &'a [Laid], sizes: &Sizes) -> Vec<Row<'a>> {
    let gap = 2.0 * input.text;
    let mut rows: Vec<(Row<'a>, f64)> = Vec::new();
    for one in laid {
        let width = block_width(one, input, sizes);
        let at = match rows.iter().position(|(_, at)| at + width <= input.width) {
            Some(row) => row,
            None => {
                rows.push((Row { blocks: Vec::new(), height: sizes.row_height() }, 0.0));
                rows.len() - 1
            }
        };
        if let Some((row, left)) = rows.get_mut(at) {
            row.blocks.push(Placed { laid: one, left: *left, width });
            *left += width + gap;
        }
    }
    rows.into_iter().map(|(row, _)| row).collect()
}
