//! Pictures as values: one overlay builder, one family of charts, both SVG strings, and their
//! way onto pixels.
//!
//! Invariant: no file, no clock; the same input gives the same SVG. Stills, reel, desk and sheet
//! all draw what is built here.

mod approach_picture;
mod area;
mod bodies;
mod crop;
mod expected_strides;
mod footfall_chart;
mod hoof_print;
mod legend_rows;
mod lesson_plan;
mod placement;
mod plan;
mod plan_labels;
mod plan_legend;
mod plan_map;
mod raster;
mod reel;
mod seen;
mod stand_labels;
mod stand_legend;
mod stand_map;
mod stand_measures;
mod stand_plan;
mod still;
mod still_caption;
mod still_ground;
mod still_scale;
mod still_spans;
mod stride_axis;
mod stride_bars;
mod stride_bracket;
mod stride_charts;
mod stride_lane;
mod stride_lines;
mod stride_row;
mod svg;
mod text_line;
mod theme;
mod tolerance;
mod weeks_line;
mod weeks_strides;

#[cfg(test)]
mod chart_tests;
#[cfg(test)]
pub(crate) mod sample;
#[cfg(test)]
mod still_tests;

pub use approach_picture::{
    ApproachPicture, ApproachPictureInput, ApproachPictureText, JoinedFrame, NoApproachPicture,
    dressed, footfalls_to_show, join_frames,
};
pub use area::{Area, Spot};
pub use crop::{Crop, Framing};
pub use expected_strides::draw_expected_strides;
pub use footfall_chart::{FootfallChartInput, footfall_chart};
pub use hoof_print::{PrintLines, PrintPlace, PrintShape, Trust, draw_print};
pub use lesson_plan::{LessonPlanInput, LessonPlanParts, lesson_plan, lesson_plan_parts};
pub use placement::{Placed, Surroundings, Wanted, place};
pub use plan::{PlanInput, PlanParts, plan, plan_parts};
pub use raster::{Overlay, PictureFonts, RasterError, lay, lay_with, raster};
pub use reel::{
    BandInput, CAMERA_GAP_S, ReelClip, ReelFrame, ReelMoment, ReelPart, ReelSlot, ReelTimes, band,
    camera_at, canvas_size, paint_part, reel_layout, reel_times,
};
pub use seen::why_no_length;
pub use stand_plan::{StandPicture, StandPlanInput, stand_picture};
pub use still::{
    Detail, Moment, Names, RawMark, Still, StillError, StillInput, still, still_overlay,
};
pub use stride_axis::StrideAxis;
pub use stride_bars::{BarsScale, StrideBarsInput, stride_bars};
pub use stride_bracket::StrideBracket;
pub use stride_charts::{StrideChartsInput, stride_charts};
pub use stride_lane::{StrideLaneInput, stride_lane};
pub use stride_row::{StrideRowInput, longest_m, stride_row};
pub use svg::{Anchor, Drawing, Paint, Svg, with_margin};
pub use text_line::{Run, TextLine, Weight, shortened, width_of};
pub use theme::{Colour, PLATE_OPACITY, PictureSizes, Theme};
pub use tolerance::Tolerance;
pub use weeks_line::{WeeksLineInput, WeeksNumber, weeks_line};
pub use weeks_strides::{WeeksStridesInput, weeks_strides};
