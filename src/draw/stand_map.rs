//! From the plan's ground to the drawing, one scale along and across. The phone is always below the
//! track, as its filmer stands: her right is the right of the drawing. From the right of the track
//! the horse goes to the right, from its left to the left.

use super::area::{Area, Spot};
use super::stand_plan::StandPlanInput;
use crate::scene::GroundPoint;
use crate::stand::{Phone, Side, View};

/// The map and the sand it fills.
#[derive(Clone, Copy, Debug)]
pub(super) struct StandMap {
    /// Units of the drawing per metre.
    pub per_metre: f64,
    /// The part of the drawing that is ground.
    pub sand: Area,
    /// +1 where the horse goes to the right, −1 where it goes to the left.
    pub onward: f64,
    /// Ground coordinates at the middle of what is drawn, and where that is.
    middle: (f64, f64),
    at: Spot,
}

/// From one row of figures to the next, in sizes of the type.
pub(super) const FIGURE_ROW: f64 = 1.55;
/// Free ground around what is drawn, metres.
const AROUND_M: f64 = 1.2;

impl StandMap {
    /// Fits everything into the width and greatest height of the input, less `below` at the foot.
    pub fn fit(input: &StandPlanInput, below: f64) -> Self {
        let spots: Vec<Spot> =
            everything(input).into_iter().map(|place| Spot::new(place.x, place.y)).collect();
        let held = Area::holding(&spots).unwrap_or(Area::at(0.0, 0.0, 1.0, 1.0));
        let text = input.text;
        let (along, across) = (held.width() + 2.0 * AROUND_M, held.height() + 2.0 * AROUND_M);
        let side = input.plan.changed_from().map_or(Side::Right, |from| from.phone.side);
        let onward = -side.sign();
        // Room for labels below the phones, and above for the poles' measures or, where the poles lie
        // on the phone's side of the track, for the figures.
        let poles_are_below = input.plan.lesson.poles.aside_m * onward < -0.5;
        let above = if poles_are_below { figures_height(input) + 1.2 * text } else { 2.0 * text };
        let under = 3.2 * text;
        let room = (input.max_height - below - above - under).max(8.0 * text);
        let per_metre = ((input.width - 3.0 * text) / along).min(room / across).min(8.0 * text);
        let high = across * per_metre;
        let sand = Area::at(0.0, 0.0, input.width, above + high + under);
        let at = Spot::new(sand.middle().x, above + high / 2.0);
        let middle = (held.middle().x, held.middle().y);
        Self { per_metre, sand, onward, middle, at }
    }

    /// The way the horse goes.
    pub fn ahead(&self) -> (f64, f64) {
        (self.onward, 0.0)
    }

    /// A ground point on the drawing.
    pub fn spot(&self, place: GroundPoint) -> Spot {
        let scale = self.onward * self.per_metre;
        Spot::new(
            self.at.x + (place.x - self.middle.0) * scale,
            self.at.y - (place.y - self.middle.1) * scale,
        )
    }

    /// What a phone sees, to well beyond the sand, as a shape.
    pub fn wedge(&self, phone: &Phone, view: View) -> Vec<Spot> {
        let from = self.spot(phone.place().below());
        let reach = 2.0 * (self.sand.width() + self.sand.height());
        // Wide views in steps, so that the far edge stays far.
        let steps = 12;
        let edge = (0..=steps).map(|step| {
            let share = f64::from(step) / f64::from(steps);
            let (sin, cos) = (view.from_rad + (view.to_rad - view.from_rad) * share).sin_cos();
            from.moved((cos, -sin), self.onward * reach)
        });
        [from].into_iter().chain(edge).collect()
    }
}

fn everything(input: &StandPlanInput) -> Vec<GroundPoint> {
    let lesson = &input.plan.lesson;
    let mut all: Vec<GroundPoint> = contacts(input).collect();
    all.extend(lesson.base());
    all.extend(lesson.poles.ends().map(|(_, _, place)| place.below()));
    all.extend(input.places().iter().map(|place| place.from.phone.place().below()));
    // Two metres behind the landing, so that the fence is not the edge of the world.
    all.push(GroundPoint::new(lesson.strides.landing_m + 2.0, 0.0));
    all
}

/// Height of the rows of figures: the strides' numbers and a row a place.
pub(super) fn figures_height(input: &StandPlanInput) -> f64 {
    (input.places().len() as f64 + 1.0) * FIGURE_ROW * input.text
}

/// Contacts of the hind limb that delimits the strides, then the landing, as laid.
pub(super) fn contacts(input: &StandPlanInput) -> impl Iterator<Item = GroundPoint> {
    let strides = input.plan.lesson.strides;
    let hinds: Vec<GroundPoint> = strides.contacts().collect();
    hinds.into_iter().chain([GroundPoint::new(strides.landing_m, 0.0)])
}
