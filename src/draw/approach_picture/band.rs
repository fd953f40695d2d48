//! The joined picture as it is handed out: prints on the ground, and below it a band with the
//! measured track, each length under its own stretch of ground.

use image::{Rgb, RgbImage};

use super::ApproachPicture;
use crate::draw::area::{Area, Spot};
use crate::draw::raster::{PictureFonts, RasterError, lay_with};
use crate::draw::seen::{View, across_to_base, why_no_length};
use crate::draw::still::{Detail, Moment, Names, StillInput, still};
use crate::draw::svg::{Anchor, Paint, Svg};
use crate::draw::text_line::{CAP_HEIGHT, TextLine, Weight, width_of};
use crate::draw::theme::{Colour, PictureSizes, Theme};
use crate::marks::Round;
use crate::quantity::{Estimate, LengthUnits, Metres, Written, written_tight};
use crate::scene::{GroundPoint, PictureSize};
use crate::stride::{ApproachMeasurement, EdgeDistance};
use crate::survey::{PlacedPole, Suspect};

/// What is drawn on and below the joined picture.
#[derive(Clone, Copy, Debug)]
pub struct ApproachPictureInput<'a> {
    /// The approach.
    pub approach: &'a ApproachMeasurement,
    /// The surveyed poles.
    pub poles: &'a [PlacedPole],
    /// Marks that do not fit.
    pub suspects: &'a [Suspect],
    /// Who rode; nothing of it is printed here.
    pub round: &'a Round,
    /// Metres or feet.
    pub units: LengthUnits,
    /// Colours.
    pub theme: Theme,
    /// How large the type is.
    pub text: ApproachPictureText,
}

/// How large the type is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum ApproachPictureText {
    /// For a screen.
    #[default]
    Screen,
    /// For a page as wide as paper.
    Paper,
}

impl ApproachPictureText {
    fn size(self, size: PictureSize) -> f64 {
        // A high picture is shown smaller than its width allows: its type follows its height.
        let (across, down) = match self {
            Self::Screen => (1.0 / 85.0, 0.03),
            Self::Paper => (1.0 / 70.0, 0.042),
        };
        (across * f64::from(size.width)).max(down * f64::from(size.height))
    }
}

/// One measured stretch below the picture.
struct Stretch {
    from: Spot,
    to: Spot,
    name: String,
    length: Option<Written>,
    none: &'static str,
    colour: Colour,
}

/// Height of the band, in sizes of its type.
const BAND: f64 = 5.4;
/// From the band's top to its dimension line.
const LINE_AT: f64 = 0.9;
/// Type in the band may shrink to this share where a stretch is short.
const SHRUNK: f64 = 0.72;

/// The picture with prints and band.
pub fn dressed(
    joined: &ApproachPicture,
    input: &ApproachPictureInput,
    fonts: &PictureFonts,
) -> Result<RgbImage, RasterError> {
    let size = joined.seen_from.size;
    let ground = StillInput {
        picture: size,
        camera: &joined.seen_from,
        approach: input.approach,
        moment: Moment::Time(f64::INFINITY),
        round: input.round,
        names: Names::LeftOff,
        poles: input.poles,
        suspects: input.suspects,
        raw_marks: &[],
        bodies: &joined.outlines,
        units: input.units,
        theme: input.theme,
        detail: Detail::Joined,
    };
    let mut picture = joined.picture.clone();
    if let Ok(still) = still(&ground) {
        lay_with(&mut picture, &still.drawing.svg, fonts)?;
    }
    let text = input.text.size(size);
    let below = (BAND * text).ceil() as u32;
    let Colour { red, green, blue } = input.theme.card;
    let mut whole = RgbImage::from_pixel(size.width, size.height + below, Rgb([red, green, blue]));
    image::imageops::replace(&mut whole, &picture, 0, 0);
    lay_with(&mut whole, &band(joined, input, text), fonts)?;
    Ok(whole)
}

/// The drawing over picture and band.
fn band(joined: &ApproachPicture, input: &ApproachPictureInput, text: f64) -> String {
    let size = joined.seen_from.size;
    let (width, top) = (f64::from(size.width), f64::from(size.height));
    let theme = &input.theme;
    let title = format!("The measured track of the approach to {}", input.approach.fence.name);
    let mut svg = Svg::new(width, top + BAND * text, &title);
    let sizes = PictureSizes::of(size);
    let line_y = top + LINE_AT * text;
    let stretches = stretches(joined, input);
    let mut ends: Vec<(Spot, Colour)> = Vec::new();
    for stretch in &stretches {
        ends.push((stretch.from, theme.ink));
        ends.push((stretch.to, stretch.colour));
    }
    ends.sort_by(|a, b| a.0.x.total_cmp(&b.0.x));
    ends.dedup_by(|a, b| (a.0.x - b.0.x).abs() < 1.0);
    for (spot, colour) in &ends {
        let start = Spot::new(spot.x, spot.y + 0.5 * text);
        let end = Spot::new(spot.x, line_y + 0.45 * text);
        svg.line(start, end, &Paint::stroke(theme.card, sizes.hair + 2.0 * sizes.casing));
        svg.line(start, end, &Paint::stroke(*colour, sizes.hair));
    }
    // All alike, or a smaller one looks like a mistake.
    let shrinks = stretches.iter().map(|stretch| shrink(stretch, text));
    let alike = shrinks.filter(|shrink| *shrink >= SHRUNK).fold(1.0, f64::min);
    for stretch in &stretches {
        let (left, right) = (stretch.from.x.min(stretch.to.x), stretch.from.x.max(stretch.to.x));
        let line = [Spot::new(left, line_y), Spot::new(right, line_y)];
        let width = if stretch.colour == theme.ink { sizes.line } else { 1.6 * sizes.line };
        svg.line(line[0], line[1], &Paint::stroke(stretch.colour, width));
        let size = text * if shrink(stretch, text) >= SHRUNK { alike } else { SHRUNK };
        write(&mut svg, stretch, right - left, line_y, size, theme);
    }
    svg.finish().svg
}

/// Number, length and ± of a stretch, each with its size and weight.
fn rows(stretch: &Stretch, text: f64) -> [(String, f64, Weight); 3] {
    let (value, spread) = match &stretch.length {
        Some(written) => (
            format!("{} {}", written.value, written.unit).trim_end().to_owned(),
            format!("± {}", written.plus_minus),
        ),
        None => (stretch.none.to_owned(), String::new()),
    };
    let small = 0.85 * text;
    [
        (stretch.name.clone(), small, Weight::Regular),
        (value, text, Weight::Bold),
        (spread, small, Weight::Regular),
    ]
}

/// By how much the type must shrink to fit over a stretch, at most 1.
fn shrink(stretch: &Stretch, text: f64) -> f64 {
    let rows = rows(stretch, text);
    let widths = rows.iter().map(|(words, size, weight)| width_of(words, *size, *weight));
    let room = (stretch.from.x - stretch.to.x).abs() - 0.2 * text;
    (room / widths.fold(1e-9, f64::max)).min(1.0)
}

/// What a stretch says, under its line.
fn write(svg: &mut Svg, stretch: &Stretch, room: f64, line_y: f64, text: f64, theme: &Theme) {
    let middle = f64::midpoint(stretch.from.x, stretch.to.x);
    let colours = [stretch.colour, theme.ink, theme.muted];
    // Where even small type does not fit, the number alone says which stride it is.
    let shown = if shrink(stretch, text) >= 0.999 { 3 } else { 1 };
    let mut base = line_y + 0.45 * text;
    for ((words, size, weight), colour) in rows(stretch, text).into_iter().zip(colours).take(shown)
    {
        base += size * (CAP_HEIGHT + 0.42);
        if shown == 1 && width_of(&words, size, weight) > room {
            continue;
        }
        let line = TextLine::new(words, size, weight, colour);
        svg.text(&line, Spot::new(middle, base), Anchor::Middle);
    }
}

/// Strides, take-off and landing, as far as both their ends lie on the picture.
fn stretches(joined: &ApproachPicture, input: &ApproachPictureInput) -> Vec<Stretch> {
    let ApproachPictureInput { approach, units, theme, suspects, .. } = *input;
    let size = joined.seen_from.size;
    let view = View { camera: &joined.seen_from, picture: size, sizes: PictureSizes::of(size) };
    let frame = Area::at(0.0, 0.0, f64::from(size.width), f64::from(size.height));
    let spot = |place: GroundPoint| view.spot(place).filter(|spot| frame.holds(*spot));
    let place = |id: &str| {
        approach.footfalls.iter().find(|footfall| footfall.footfall == id).and_then(|f| f.place)
    };
    let written = |length: &Estimate<Metres>| written_tight(length, units);
    let mut all = Vec::new();
    for stride in &approach.strides {
        let ends = [&stride.from_footfall, &stride.to_footfall].map(|id| place(id).and_then(spot));
        if let [Some(from), Some(to)] = ends {
            all.push(Stretch {
                from,
                to,
                name: format!("\u{2212}{}", stride.number.unsigned_abs()),
                length: stride.length_m.as_ref().map(written),
                none: why_no_length(approach, stride, suspects),
                colour: theme.ink,
            });
        }
    }
    let mut edge = |distance: &Option<EdgeDistance>, base, name: &str, colour| {
        let Some(distance) = distance else { return };
        let Some(hoof) = place(&distance.footfall) else { return };
        let foot = across_to_base(approach, base, hoof);
        if let (Some(from), Some(to)) = (spot(hoof), foot.and_then(spot)) {
            let length = Some(written(&distance.distance_m));
            all.push(Stretch { from, to, name: name.to_owned(), length, none: "", colour });
        }
    };
    edge(&approach.take_off, approach.fence.take_off_base, "take-off", theme.take_off);
    edge(&approach.landing, approach.fence.landing_base, "landing", theme.landing);
    all
}
