//! Everything that has strides, one row below the other on the same stride axis.

use super::footfall_chart::{FootfallChartInput, footfall_chart};
use super::stride_bars::{StrideBarsInput, stride_bars};
use super::stride_bracket::StrideBracket;
use super::svg::{Drawing, stacked};
use super::theme::Theme;
use super::tolerance::Tolerance;
use crate::quantity::LengthUnits;
use crate::stride::ApproachMeasurement;
use crate::survey::Suspect;

/// What the charts need to know.
#[derive(Clone, Copy, Debug)]
pub struct StrideChartsInput<'a> {
    /// The approach.
    pub approach: &'a ApproachMeasurement,
    /// Marks that do not fit: why a stride may have no length.
    pub suspects: &'a [Suspect],
    /// The coach's band; `None` for the mean ± 0.30 m.
    pub tolerance: Option<Tolerance>,
    /// Brackets over strides, for changes of pace; empty for none.
    pub brackets: &'a [StrideBracket],
    /// Metres or feet.
    pub units: LengthUnits,
    /// Colours.
    pub theme: Theme,
    /// Width of the drawing, in its own units.
    pub width: f64,
    /// Size of the type, in the same units.
    pub text: f64,
}

/// Height of bars, tempo and speed together, in sizes of the type.
const BARS: f64 = 38.0;
/// Around the charts, in sizes of the type.
const MARGIN: f64 = 1.6;

/// Bars with tempo and speed, and the footfalls of each limb below.
pub fn stride_charts(input: &StrideChartsInput) -> Drawing {
    let StrideChartsInput { approach, suspects, tolerance, brackets, units, theme, width, text } =
        *input;
    let margin = MARGIN * text;
    let inner = width - 2.0 * margin;
    let bars = stride_bars(&StrideBarsInput {
        approach,
        suspects,
        tolerance,
        brackets,
        units,
        theme,
        width: inner,
        height: BARS * text,
        text,
        until_s: None,
        scale: None,
    });
    let footfalls = footfall_chart(&FootfallChartInput { approach, theme, width: inner, text });
    let title = format!("Strides of the approach to {}", approach.fence.name);
    stacked(&title, &[bars, footfalls], margin)
}
