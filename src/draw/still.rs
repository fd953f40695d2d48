//! The overlay of one frame: prints on the ground, strides so far with their ±, take-off and
//! landing, poles, ground line, scale bar, caption. Stills, reel and page draw the same SVG.

use super::area::{Area, Spot};
use super::bodies;
use super::hoof_print::{PrintLines, Trust, draw_print, draw_print_in_contact};
use super::placement::{Placed, Surroundings, Wanted, covers, place};
use super::seen::{SeenPrint, View, prints_until};
use super::still_caption::Caption;
use super::still_ground::{
    cased, draw_fence, draw_poles, draw_raw_marks, fence_lines, queried_marks, raw_marks,
};
use super::still_scale::ScaleBar;
use super::still_spans::{Span, draw_label, draw_span, spans_until};
use super::svg::{Drawing, Svg};
use super::theme::{PictureSizes, Theme};
use crate::marks::{MarkAddress, Round};
use crate::quantity::LengthUnits;
use crate::scene::{FramePoint, PictureSize, Projection};
use crate::stride::{ApproachMeasurement, PlacedFootfall};
use crate::survey::{PlacedPole, Suspect};

/// What an overlay needs to know.
#[derive(Clone, Copy, Debug)]
pub struct StillInput<'a> {
    /// Size of the picture it is laid on.
    pub picture: PictureSize,
    /// The surveyed camera of that frame, or the panorama it was joined into.
    pub camera: &'a dyn Projection,
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
    /// Outlines that the scale bar and the labels keep off, besides the horse of the moment.
    pub bodies: &'a [Vec<Spot>],
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
    /// For frames joined into one, which say lengths below: prints, poles and fence only.
    Joined,
    /// For a frame of the reel, whose words stand below it: no caption, no scale bar, and labels
    /// where they will still be on the last frame, so that none of them moves. Type and lines are
    /// as large as on the whole canvas of that size.
    Reel(PictureSize),
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
    /// Outlines of horse and fence, as far as they are on the picture.
    pub bodies: Vec<Vec<Spot>>,
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
        Detail::Full | Detail::Joined => PictureSizes::of(input.picture),
        Detail::Reel(canvas) => PictureSizes::of(canvas),
        Detail::Strip => PictureSizes::small_print(input.picture),
    };
    let sizes = match input.detail {
        // Many horses on one picture: their hooves shall be seen beside their prints.
        Detail::Joined => {
            PictureSizes { print: (0.55 * sizes.print.0, 0.7 * sizes.print.1), ..sizes }
        }
        Detail::Full | Detail::Strip | Detail::Reel(_) => sizes,
    };
    let view = View { camera: input.camera, picture: input.picture, sizes };
    // What labels go by: on the reel all that will come, else what has happened.
    let reel = matches!(input.detail, Detail::Reel(_));
    let settled = if reel { f64::INFINITY } else { until };
    let all_prints: Vec<SeenPrint> = prints_until(&view, input.approach, input.suspects, settled)
        .into_iter()
        .filter(|print| view.frame().grown(sizes.margin).holds(print.place.middle))
        .collect();
    let spans = match input.detail {
        Detail::Joined => Vec::new(),
        Detail::Full | Detail::Strip | Detail::Reel(_) => spans_until(input, &view, settled),
    };
    let full = input.detail == Detail::Full;
    let caption = Caption::of(input, &view, now, until).filter(|_| full);

    let mut surroundings = surroundings(input, &view, &all_prints, &spans, caption.as_ref());
    let has_happened = |print: &SeenPrint| print.footfall.time_s <= until + 1e-9;
    let prints: Vec<SeenPrint> = all_prints.into_iter().filter(has_happened).collect();
    surroundings.avoid = bodies_on(&view, input, now, until);
    surroundings.keep_clear.extend(now.and_then(|now| contact_area(&prints, now, &sizes)));
    let mut labels = choose_labels(input.detail, &spans, &sizes);
    let wanted: Vec<Wanted> = labels.iter().map(|(_, wanted)| *wanted).collect();
    let mut placed = place(&wanted, &surroundings);
    if reel {
        drop_far_labels(&labels, &mut placed, &surroundings);
    }
    let drawn = |span: &Span| span.ended_s <= until + 1e-9;
    let mut kept = labels.iter().map(|(span, _)| drawn(span));
    placed.retain(|_| kept.next().unwrap_or(false));
    labels.retain(|(span, _)| drawn(span));
    // The scale bar takes what ground the labels leave.
    surroundings.keep_clear.extend(placed.iter().flatten().map(|placed| placed.area));
    surroundings.lines.extend(placed.iter().flatten().filter_map(|placed| placed.leader));
    let poles = input.poles.iter().filter_map(|pole| view.pole(pole));
    let bodies = surroundings.avoid.clone();
    surroundings.avoid.extend(poles);
    let newest = prints.last().map(|print| print.footfall);
    // Clear of the crosses too, unless they leave nothing.
    let mut clear = surroundings.clone();
    clear.keep_clear.extend(raw_marks(input, &sizes));
    let scale = [clear, surroundings]
        .iter()
        .find_map(|around| ScaleBar::near_track(input, &view, newest, around))
        .filter(|_| full);

    let mut svg = Svg::new(view.frame().width(), view.frame().height(), &title(input));
    draw_poles(&mut svg, &view, input);
    draw_fence(&mut svg, &view, input);
    // Hooves that are measured from lie on top of the others, and so do the lines to the fence:
    // one must see which hoof a line starts from.
    let measured = measured_hooves(input.approach);
    let (on_top, below): (Vec<&SeenPrint>, Vec<&SeenPrint>) =
        prints.iter().partition(|print| measured.contains(&print.footfall.footfall.as_str()));
    for span in spans.iter().filter(|span| !span.at_fence && drawn(span)) {
        draw_span(&mut svg, span, &sizes, &input.theme);
    }
    draw_prints(&mut svg, below, now, &sizes, input);
    for span in spans.iter().filter(|span| span.at_fence && drawn(span)) {
        draw_span(&mut svg, span, &sizes, &input.theme);
    }
    draw_prints(&mut svg, on_top, now, &sizes, input);
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
    draw_raw_marks(&mut svg, &sizes, input, now);
    if let Some(caption) = &caption {
        caption.draw(&mut svg, &sizes, &input.theme);
        plates.push(caption.area);
    }
    Ok(Still {
        drawing: svg.finish(),
        prints: prints.iter().map(|print| print.place.area(0.0)).collect(),
        plates,
        bodies,
        left_out: placed.iter().filter(|placed| placed.is_none()).count(),
    })
}

/// Horse and fence on the picture.
fn bodies_on(
    view: &View,
    input: &StillInput,
    now: Option<&PlacedFootfall>,
    until: f64,
) -> Vec<Vec<Spot>> {
    // On the reel the horse comes past every label: they keep off it wherever it touches down.
    let horses: Vec<Vec<Spot>> = match input.detail {
        Detail::Reel(_) => {
            let each = input.approach.footfalls.iter();
            each.filter_map(|f| bodies::horse(view, input.approach, Some(f), f.time_s)).collect()
        }
        _ => bodies::horse(view, input.approach, now, until).into_iter().collect(),
    };
    let both = horses.into_iter().chain(bodies::fence(view, input.approach));
    both.chain(input.bodies.iter().cloned())
        .filter(|outline| covers(&view.frame(), outline))
        .collect()
}

/// The print of the moment with the brackets about it.
fn contact_area(prints: &[SeenPrint], now: &PlacedFootfall, sizes: &PictureSizes) -> Option<Area> {
    let print = prints.iter().find(|print| print.footfall.footfall == now.footfall)?;
    Some(print.place.area(BRACKETS * sizes.line))
}

/// The hooves that take-off and landing are measured from, and those that delimit the strides.
fn measured_hooves(approach: &ApproachMeasurement) -> Vec<&str> {
    let strides = approach.strides.iter();
    let ends = strides.flat_map(|row| [row.from_footfall.as_str(), row.to_footfall.as_str()]);
    let edges = [&approach.take_off, &approach.landing].into_iter().flatten();
    ends.chain(edges.map(|edge| edge.footfall.as_str())).collect()
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
    keep_clear.extend(queried_marks(input, &view.sizes));
    let mut lines: Vec<(Spot, Spot)> = spans.iter().filter_map(|span| span.shown).collect();
    lines.extend(fence_lines(view, input));
    Surroundings { inside: view.inside(), keep_clear, avoid: Vec::new(), lines }
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

/// On the reel every number stands in the band too: a label that found no place by its line, or none
/// but over the horse, would hide more than it tells.
fn drop_far_labels(
    labels: &[(&Span, Wanted)],
    placed: &mut [Option<Placed>],
    around: &Surroundings,
) {
    for (found, (span, wanted)) in placed.iter_mut().zip(labels) {
        let far = |placed: &Placed| {
            let most = if span.at_fence { 3.0 * wanted.height } else { 0.0 };
            placed.leader.is_some_and(|(from, to)| from.distance(to) > most)
                || around.avoid.iter().any(|outline| covers(&placed.area, outline))
        };
        if found.as_ref().is_some_and(far) {
            *found = None;
        }
    }
}

fn title(input: &StillInput) -> String {
    format!("Hoof prints and stride lengths of the approach to {}", input.approach.fence.name)
}

/// Space between the print of the moment and the brackets beside it, in widths of a line.
const BRACKETS: f64 = 3.5;

fn draw_prints(
    svg: &mut Svg,
    mut prints: Vec<&SeenPrint>,
    now: Option<&PlacedFootfall>,
    sizes: &PictureSizes,
    input: &StillInput,
) {
    let StillInput { theme, detail, .. } = input;
    let lines = PrintLines { ink: sizes.line * 0.6, casing: sizes.casing };
    // The farther ones first, so that a nearer print lies on top.
    prints.sort_by(|a, b| a.place.middle.y.total_cmp(&b.place.middle.y));
    for print in prints {
        let limb = print.footfall.limb;
        let suspect = print.trust == Trust::Suspect;
        if now.is_some_and(|now| now.footfall == print.footfall.footfall) {
            for bracket in print.place.brackets(BRACKETS * sizes.line) {
                cased(svg, &bracket, theme.ink, sizes.line, sizes, theme);
            }
            // Printed small, the hoof on it would not be seen anyway.
            if !suspect && *detail == Detail::Full {
                draw_print_in_contact(svg, &print.place, limb, lines, theme);
                continue;
            }
        }
        draw_print(svg, &print.place, limb, print.trust, lines, theme);
        if suspect {
            let at = print.place.middle.moved((0.0, -1.0), print.place.reach((0.0, 1.0)) * 1.9);
            super::still_ground::draw_query(svg, at, sizes, theme);
        }
    }
}
