//! The overlay of one frame: prints on the ground, strides so far with their ±, take-off and
//! landing, poles, ground line, scale bar, caption. Stills, reel and page draw the same SVG.

use super::area::{Area, Spot};
use super::hoof_print::{PrintLines, Trust, draw_print};
use super::placement::{Surroundings, Wanted, place};
use super::seen::{SeenPrint, View, prints_until};
use super::still_caption::Caption;
use super::still_ground::{draw_fence, draw_poles, draw_raw_marks, fence_lines};
use super::still_scale::ScaleBar;
use super::still_spans::{Span, draw_label, draw_span, spans_until};
use super::svg::{Drawing, Paint, Svg};
use super::theme::{PictureSizes, Theme};
use crate::marks::{MarkAddress, Round};
use crate::quantity::LengthUnits;
use crate::scene::{Camera, FramePoint, PictureSize};
use crate::stride::{ApproachMeasurement, PlacedFootfall};
use crate::survey::{PlacedPole, Suspect};

/// What an overlay needs to know.
#[derive(Clone, Copy, Debug)]
pub struct StillInput<'a> {
    /// Size of the picture it is laid on.
    pub picture: PictureSize,
    /// The surveyed camera of that frame.
    pub camera: &'a Camera,
    /// The approach; only what happened up to `moment` is drawn.
    pub approach: &'a ApproachMeasurement,
    /// The moment of the frame.
    pub moment: Moment<'a>,
    /// Who rode; its names go into the caption.
    pub round: &'a Round,
    /// Whether names may be shown.
    pub names: Names,
    /// The surveyed poles.
    pub poles: &'a [PlacedPole],
    /// Marks that do not fit.
    pub suspects: &'a [Suspect],
    /// The marks of this frame, to be drawn as small crosses; empty for none.
    pub raw_marks: &'a [RawMark],
    /// Metres or feet.
    pub units: LengthUnits,
    /// Colours.
    pub theme: Theme,
    /// How much is drawn.
    pub detail: Detail,
}

/// How much an overlay says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Detail {
    /// Everything.
    #[default]
    Full,
    /// For a small picture in the sheet's strip, which has a caption of its own: large type,
    /// the newest length only, no caption, no scale bar.
    Strip,
}

/// The moment a frame shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Moment<'a> {
    /// The frame of this footfall, by its id.
    Footfall(&'a str),
    /// Any frame, by its capture time in seconds.
    Time(f64),
}

/// Whether rider and horse are named.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Names {
    /// As the marks file has them.
    #[default]
    Shown,
    /// Left off everything.
    LeftOff,
}

/// A mark as it was placed on this frame.
#[derive(Clone, Debug, PartialEq)]
pub struct RawMark {
    /// What it is a mark of.
    pub mark: MarkAddress,
    /// Where.
    pub at: FramePoint,
}

/// Why there is no overlay.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum StillError {
    /// The approach has no footfall of that name.
    #[error("cannot draw the still: approach `{approach}` has no footfall `{footfall}`")]
    UnknownFootfall {
        /// The approach's id.
        approach: String,
        /// What was asked for.
        footfall: String,
    },
}

/// An overlay with its parts, so that tests can see that nothing collides.
#[derive(Clone, Debug)]
pub struct Still {
    /// The SVG, as large as the picture.
    pub drawing: Drawing,
    /// Where the hoof prints are.
    pub prints: Vec<Area>,
    /// Where the plates of text are.
    pub plates: Vec<Area>,
    /// Labels that found no free place.
    pub left_out: usize,
}

/// The overlay of one frame as an SVG document of the picture's size.
pub fn still_overlay(input: &StillInput) -> Result<String, StillError> {
    still(input).map(|still| still.drawing.svg)
}

/// The overlay of one frame with the places of its parts.
pub fn still(input: &StillInput) -> Result<Still, StillError> {
    let now = current(input)?;
    let until = match (input.moment, now) {
        (Moment::Time(seconds), _) => seconds,
        (_, Some(footfall)) => footfall.time_s,
        (_, None) => f64::INFINITY,
    };
    let sizes = match input.detail {
        Detail::Full => PictureSizes::of(input.picture),
        Detail::Strip => PictureSizes::small_print(input.picture),
    };
    let view = View { camera: input.camera, picture: input.picture, sizes };
    let prints: Vec<SeenPrint> = prints_until(&view, input.approach, input.suspects, until)
        .into_iter()
        .filter(|print| view.frame().grown(sizes.margin).holds(print.place.middle))
        .collect();
    let spans = spans_until(input, &view, until);
    let full = input.detail == Detail::Full;
    let caption = Caption::of(input, &view, now, until).filter(|_| full);

    let mut surroundings = surroundings(input, &view, &prints, &spans, caption.as_ref());
    let labels = choose_labels(input.detail, &spans, &sizes);
    let wanted: Vec<Wanted> = labels.iter().map(|(_, wanted)| *wanted).collect();
    let placed = place(&wanted, &surroundings);
    // The scale bar takes what ground the labels leave.
    surroundings.keep_clear.extend(placed.iter().flatten().map(|placed| placed.area));
    surroundings.lines.extend(placed.iter().flatten().filter_map(|placed| placed.leader));
    let newest = prints.last().map(|print| print.footfall);
    let scale = ScaleBar::near_fence(input, &view, newest, &surroundings).filter(|_| full);

    let mut svg = Svg::new(view.frame().width(), view.frame().height(), &title(input));
    draw_poles(&mut svg, &view, input);
    draw_fence(&mut svg, &view, input);
    for span in &spans {
        draw_span(&mut svg, span, &sizes, &input.theme);
    }
    let mut plates: Vec<Area> = Vec::new();
    if let Some(scale) = &scale {
        scale.draw(&mut svg, &sizes, &input.theme);
        plates.push(scale.plate);
    }
    for ((span, _), placed) in labels.iter().zip(&placed) {
        if let Some(placed) = placed {
            draw_label(&mut svg, span, placed, &sizes, &input.theme);
            plates.push(placed.area);
        }
    }
    draw_prints(&mut svg, &prints, now, &sizes, &input.theme);
    draw_raw_marks(&mut svg, &sizes, input);
    if let Some(caption) = &caption {
        caption.draw(&mut svg, &sizes, &input.theme);
        plates.push(caption.area);
    }
    Ok(Still {
        drawing: svg.finish(),
        prints: prints.iter().map(|print| print.place.area(0.0)).collect(),
        plates,
        left_out: placed.iter().filter(|placed| placed.is_none()).count(),
    })
}

fn current<'a>(input: &StillInput<'a>) -> Result<Option<&'a PlacedFootfall>, StillError> {
    let Moment::Footfall(id) = input.moment else { return Ok(None) };
    let found = input.approach.footfalls.iter().find(|footfall| footfall.footfall == id);
    found.map(Some).ok_or_else(|| StillError::UnknownFootfall {
        approach: input.approach.approach.clone(),
        footfall: id.to_owned(),
    })
}

/// What labels must keep clear of before any is placed.
fn surroundings(
    input: &StillInput,
    view: &View,
    prints: &[SeenPrint],
    spans: &[Span],
    caption: Option<&Caption>,
) -> Surroundings {
    let space = view.sizes.casing + view.sizes.line;
    let mut keep_clear: Vec<Area> = prints.iter().map(|print| print.place.area(space)).collect();
    keep_clear.extend(caption.map(|caption| caption.area));
    let mut lines: Vec<(Spot, Spot)> = spans.iter().filter_map(|span| span.shown).collect();
    lines.extend(fence_lines(view, input));
    Surroundings { inside: view.inside(), keep_clear, lines }
}

/// The spans that carry a label: all, or in a strip the one measured last (landing, else
/// take-off, else the last stride).
fn choose_labels<'a>(
    detail: Detail,
    spans: &'a [Span],
    sizes: &PictureSizes,
) -> Vec<(&'a Span, Wanted)> {
    let mut all: Vec<(&Span, Wanted)> =
        spans.iter().filter_map(|span| Some((span, span.wanted(sizes)?))).collect();
    if detail == Detail::Strip {
        // The strides come first, the last of them at the head.
        let newest = all.iter().rposition(|(span, _)| span.at_fence).unwrap_or(0);
        all.drain(..newest);
        all.truncate(1);
    }
    all
}

fn title(input: &StillInput) -> String {
    format!("Hoof prints and stride lengths of the approach to {}", input.approach.fence.name)
}

fn draw_prints(
    svg: &mut Svg,
    prints: &[SeenPrint],
    now: Option<&PlacedFootfall>,
    sizes: &PictureSizes,
    theme: &Theme,
) {
    let lines = PrintLines { ink: sizes.line * 0.6, casing: sizes.casing };
    // The farther ones first, so that a nearer print lies on top.
    let mut order: Vec<&SeenPrint> = prints.iter().collect();
    order.sort_by(|a, b| a.place.middle.y.total_cmp(&b.place.middle.y));
    for print in &order {
        if now.is_some_and(|now| now.footfall == print.footfall.footfall) {
            let ring = print.place.ring(1.75);
            let cased = sizes.line + 2.0 * sizes.casing;
            svg.polygon(&ring, &Paint::stroke(theme.card, cased));
            svg.polygon(&ring, &Paint::stroke(theme.ink, sizes.line));
        }
    }
    for print in order {
        draw_print(svg, &print.place, print.footfall.limb, print.trust, lines, theme);
        if print.trust == Trust::Suspect {
            let at = print.place.middle.moved((0.0, -1.0), print.place.reach((0.0, 1.0)) * 1.9);
            super::still_ground::draw_query(svg, at, sizes, theme);
        }
    }
}
