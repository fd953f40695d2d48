//! The hoof print: a horseshoe open at the heel, its toe the way the horse goes.
//!
//! Fore prints are round, hind prints narrower and more pointed. Leading limbs are solid,
//! trailing limbs an open shoe, so that shape and fill name the limb without colour. The print
//! is a sign, drawn larger than life: a hoof is about 13 cm long.

use nalgebra::{Matrix2, SVD, Vector2};

use super::area::{Area, Spot};
use super::svg::{Paint, Svg};
use super::theme::Theme;
use crate::marks::Limb;
use crate::scene::{GroundPoint, Projection};

/// Where a print lies and how it is turned: maps print coordinates (one unit heel to toe, x to
/// the toe, y to the left of the way the horse goes) to the drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrintPlace {
    /// The middle of the print.
    pub middle: Spot,
    axes: Matrix2<f64>,
}

/// The shapes of one print, each closed.
#[derive(Clone, Debug, PartialEq)]
pub struct PrintShape {
    /// The outer edge, with the notch of the frog when solid, as a shoe when open.
    pub edge: Vec<Spot>,
}

/// How much a print on a picture may flatten: a true print seen from eye height at 20 m is
/// twelve times as long as high, which no one could read.
const FLATTEST: f64 = 0.5;

/// How much farther than half a unit the pointed toe of a hind print reaches.
const LONGEST: f64 = 1.14;

/// Length of a print on a picture, metres on the ground there (before the least and greatest
/// length of the picture's sizes).
const PICTURE_LENGTH_M: f64 = 0.44;

impl PrintPlace {
    /// Flat on a plan: `along` is the way the horse goes there (y down), `length` heel to toe.
    pub fn flat(middle: Spot, along: (f64, f64), length: f64) -> Self {
        let norm = along.0.hypot(along.1).max(f64::MIN_POSITIVE);
        let (x, y) = (along.0 / norm * length, along.1 / norm * length);
        // On a drawing y runs down, so the left of (x, y) is (y, −x).
        Self { middle, axes: Matrix2::new(x, y, y, -x) }
    }

    /// On the ground seen by `camera`, toe along `heading` (radians from the ground's x axis, to
    /// the left); `None` behind the camera or at the horizon.
    pub fn seen(
        camera: &dyn Projection,
        place: GroundPoint,
        heading: f64,
        lengths: (f64, f64),
    ) -> Option<Self> {
        let (at, by_scene) = camera.project_with_motion(place.at_height(0.0)).ok()?;
        let (sin, cos) = heading.sin_cos();
        let along = by_scene.column(0) * cos + by_scene.column(1) * sin;
        let left = by_scene.column(1) * cos - by_scene.column(0) * sin;
        let ground = Matrix2::from_columns(&[along, left]);
        let SVD { u: Some(u), v_t: Some(v_t), singular_values } = ground.svd(true, true) else {
            return None;
        };
        let scale = singular_values.max();
        if !scale.is_finite() || scale <= 0.0 {
            return None;
        }
        let length = (PICTURE_LENGTH_M * scale).clamp(lengths.0, lengths.1);
        let stretched = singular_values.map(|s| (s / scale).max(FLATTEST) * length);
        let axes = u * Matrix2::from_diagonal(&stretched) * v_t;
        Some(Self { middle: Spot::new(at.x, at.y), axes })
    }

    /// A point of the print on the drawing.
    fn spot(&self, x: f64, y: f64) -> Spot {
        let moved = self.axes * Vector2::new(x, y);
        Spot::new(self.middle.x + moved.x, self.middle.y + moved.y)
    }

    /// How far the print reaches from its middle in the direction (`dx`, `dy`) of unit length.
    pub fn reach(&self, (dx, dy): (f64, f64)) -> f64 {
        let direction = Vector2::new(dx, dy);
        0.5 * (self.axes.transpose() * direction).norm()
    }

    /// The print of a limb.
    pub fn shape(&self, limb: Limb) -> PrintShape {
        let outer = arc(limb, 1.0, 0.0);
        let mut edge: Vec<Spot> = outer.iter().map(|&(x, y)| self.spot(x, y)).collect();
        if limb.is_leading() {
            // The frog: a notch from the heels forward.
            edge.push(self.spot(-0.10, 0.0));
        } else {
            let inner = arc(limb, 0.52, -0.04);
            edge.extend(inner.iter().rev().map(|&(x, y)| self.spot(x, y)));
        }
        PrintShape { edge }
    }

    /// Two arcs `space` beside the print, left and right on the picture: they mark the footfall a
    /// still is about and stay open where its leg comes down and where a length is measured from it.
    pub fn brackets(&self, space: f64) -> [Vec<Spot>; 2] {
        const HALF_OPENING: f64 = 0.7;
        let around = self.area(space);
        let (across, down) = (around.width() / 2.0, around.height() / 2.0);
        [0.0, std::f64::consts::PI].map(|middle| {
            (-8..=8)
                .map(|i| {
                    let (sin, cos) = (middle + f64::from(i) / 8.0 * HALF_OPENING).sin_cos();
                    Spot::new(self.middle.x + across * cos, self.middle.y + down * sin)
                })
                .collect()
        })
    }

    /// The upright rectangle the print needs, with `space` around.
    pub fn area(&self, space: f64) -> Area {
        Area::around(
            self.middle,
            2.0 * self.reach((1.0, 0.0)) * LONGEST,
            2.0 * self.reach((0.0, 1.0)) * LONGEST,
        )
        .grown(space)
    }
}

/// Points of the shoe's edge from the left heel over the toe to the right one.
fn arc(limb: Limb, size: f64, shift: f64) -> Vec<(f64, f64)> {
    let heel = 2.62_f64;
    (0..=36)
        .map(|i| {
            let angle = heel - 2.0 * heel * f64::from(i) / 36.0;
            let (sin, cos) = angle.sin_cos();
            let toe = (1.0 + cos) / 2.0;
            let (x, y) = if limb.is_hind() {
                // Narrower, and the sides draw together towards the toe.
                (0.5 * cos + 0.06 * toe * toe, 0.45 * sin * (1.0 - 0.42 * toe))
            } else {
                (0.47 * cos, 0.47 * sin)
            };
            (x * size + shift, y * size)
        })
        .collect()
}

/// Line widths of a print.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrintLines {
    /// The ink line; 0 for none.
    pub ink: f64,
    /// The pale casing beyond it; 0 for none.
    pub casing: f64,
}

/// Draws one print; a suspect one is hatched in the doubt colour.
pub fn draw_print(
    svg: &mut Svg,
    place: &PrintPlace,
    limb: Limb,
    trust: Trust,
    lines: PrintLines,
    theme: &Theme,
) {
    let shape = place.shape(limb);
    if lines.casing > 0.0 {
        let width = 2.0 * (lines.ink + lines.casing);
        svg.polygon(&shape.edge, &Paint::fill(theme.card).outlined(theme.card, width));
    }
    let (fill, edge) = match trust {
        Trust::Fits => (theme.limb(limb), theme.ink),
        Trust::Suspect => (theme.card, theme.doubt),
    };
    svg.polygon(&shape.edge, &Paint::fill(fill).outlined(edge, lines.ink));
    if trust == Trust::Suspect {
        hatch(svg, place, &Paint::stroke(theme.doubt, lines.ink.max(0.5)));
    }
}

/// Draws the print of the contact a picture shows: its edge, and so little fill that the hoof on
/// it can be seen.
pub(super) fn draw_print_in_contact(
    svg: &mut Svg,
    place: &PrintPlace,
    limb: Limb,
    lines: PrintLines,
    theme: &Theme,
) {
    let edge = place.shape(limb).edge;
    let colour = theme.limb(limb);
    // Pale first, or a print under it would be taken for part of it.
    svg.polygon(&edge, &Paint::glaze(theme.card, 0.35));
    svg.polygon(
        &edge,
        &Paint::glaze(colour, 0.4).outlined(theme.card, 2.0 * lines.casing + 2.2 * lines.ink),
    );
    svg.polygon(&edge, &Paint::stroke(colour, 2.2 * lines.ink));
}

/// Whether the survey kept a mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trust {
    /// It fits the others.
    Fits,
    /// It does not and was left out.
    Suspect,
}

fn hatch(svg: &mut Svg, place: &PrintPlace, paint: &Paint) {
    for step in -2..=2 {
        let middle = f64::from(step) * 0.2;
        let half = (0.25_f64 - middle * middle).max(0.0).sqrt();
        let from = place.spot(middle - 0.10, -half);
        let to = place.spot(middle + 0.10, half);
        svg.line(from, to, paint);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{Camera, Lens, PictureSize, Pose, ScenePoint};

    fn camera() -> Camera {
        let size = PictureSize { width: 1920, height: 1080 };
        Camera {
            lens: Lens::with_field(size, 1.05),
            pose: Pose::looking_at(
                ScenePoint::new(4.0, -18.0, 1.6),
                ScenePoint::new(4.0, 0.0, 0.4),
            ),
        }
    }

    #[test]
    fn the_toe_points_the_way_the_horse_goes() {
        let place =
            PrintPlace::seen(&camera(), GroundPoint::new(3.0, 0.2), 0.0, (30.0, 60.0)).unwrap();
        let toe = place.spot(0.5, 0.0);
        let left = place.spot(0.0, 0.5);
        // The camera stands on the right of a track that runs to the right of the picture.
        assert!(toe.x > place.middle.x + 12.0, "{toe:?}");
        assert!(left.y < place.middle.y - 4.0, "{left:?}");
    }

    #[test]
    fn hind_prints_are_narrower_and_the_shapes_differ() {
        let place = PrintPlace::flat(Spot::new(0.0, 0.0), (1.0, 0.0), 10.0);
        let width = |limb| {
            let area = Area::holding(&place.shape(limb).edge).unwrap();
            area.height() / area.width()
        };
        assert!(width(Limb::LeadingHind) < 0.85 * width(Limb::LeadingFore));
        let count = |limb| place.shape(limb).edge.len();
        assert!(count(Limb::TrailingHind) > count(Limb::LeadingHind));
    }

    #[test]
    fn the_area_holds_the_whole_print() {
        for heading in [0.0, 0.7, 2.0, -1.2] {
            let place =
                PrintPlace::seen(&camera(), GroundPoint::new(6.0, 1.0), heading, (30.0, 60.0))
                    .unwrap();
            for limb in Limb::ALL {
                let needed = Area::holding(&place.shape(limb).edge).unwrap();
                assert!(place.area(0.01).contains(&needed), "{limb:?} at {heading}");
            }
        }
    }

    #[test]
    fn a_print_behind_the_camera_is_not_drawn() {
        let behind = GroundPoint::new(4.0, -30.0);
        assert_eq!(PrintPlace::seen(&camera(), behind, 0.0, (30.0, 60.0)), None);
    }
}
