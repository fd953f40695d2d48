//! From the plan's ground to the drawing: the horse goes to the right, one scale along and across.

use super::area::{Area, Spot};
use super::stand_plan::StandPlanInput;
use crate::scene::GroundPoint;
use crate::stand::{Phone, View};

/// The map and the sand it fills.
#[derive(Clone, Copy, Debug)]
pub(super) struct StandMap {
    /// Units of the drawing per metre.
    pub per_metre: f64,
    /// The part of the drawing that is ground.
    pub sand: Area,
    /// Ground coordinates at the middle of the sand.
    middle: (f64, f64),
}

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
        // Room for labels below the phones.
        let labels = 4.0 * text;
        let room = (input.max_height - below - labels).max(8.0 * text);
        let per_metre = ((input.width - 3.0 * text) / along).min(room / across).min(8.0 * text);
        let sand = Area::at(0.0, 0.0, input.width, across * per_metre + labels);
        Self { per_metre, sand, middle: (held.middle().x, held.middle().y) }
    }

    /// A ground point on the drawing.
    pub fn spot(&self, place: GroundPoint) -> Spot {
        let middle = self.sand.middle();
        Spot::new(
            middle.x + (place.x - self.middle.0) * self.per_metre,
            middle.y - (place.y - self.middle.1) * self.per_metre,
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
            from.moved((cos, -sin), reach)
        });
        [from].into_iter().chain(edge).collect()
    }
}

fn everything(input: &StandPlanInput) -> Vec<GroundPoint> {
    let plan = input.plan;
    let mut all: Vec<GroundPoint> = plan.here.contacts.iter().map(|at| at.place).collect();
    all.extend(plan.lesson.base());
    all.extend(plan.lesson.poles.ends().map(|(_, _, place)| place.below()));
    all.push(plan.here.phone.place().below());
    all.extend(input.there().map(|there| there.phone.place().below()));
    // Two metres behind the landing, so that the fence is not the edge of the world.
    all.push(GroundPoint::new(plan.lesson.strides.landing_m + 2.0, 0.0));
    all
}
