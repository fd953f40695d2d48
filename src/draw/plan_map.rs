//! From the ground to the plan: the approach turned so that the horse goes to the right, to one
//! scale along and across.

use super::area::{Area, Spot};
use super::plan::PlanInput;
use crate::scene::GroundPoint;

/// The map and the sand it fills.
#[derive(Clone, Copy, Debug)]
pub(super) struct PlanMap {
    /// Units of the drawing per metre.
    pub per_metre: f64,
    /// The part of the drawing that is ground.
    pub sand: Area,
    turn: f64,
    /// Ground coordinates (along, left) at the middle of the sand.
    middle: (f64, f64),
    /// The side labels hang on: −1 above the track, 1 below.
    pub label_side: f64,
}

/// Free ground around what is drawn, metres.
const AROUND_M: f64 = 0.7;

impl PlanMap {
    /// Fits everything into the width and height of the input, less `legend` at the foot.
    pub fn fit(input: &PlanInput, legend: f64) -> Self {
        let turn = going(input);
        let turned = |place: &GroundPoint| turned(turn, *place);
        let spots: Vec<Spot> = everything(input).iter().map(turned).collect();
        let held = Area::holding(&spots).unwrap_or(Area::at(0.0, 0.0, 1.0, 1.0));
        let (along, across) = (held.width() + 2.0 * AROUND_M, held.height() + 2.0 * AROUND_M);
        let text = input.text;
        // Room for labels above and below the prints even when nothing lies beside them.
        let labels = 2.4 * text;
        let room = (input.max_height - legend - labels).max(4.0 * text);
        let per_metre = ((input.width - 2.0 * text) / along).min(room / across).min(8.0 * text);
        let height = (across * per_metre + labels).max(10.0 * text);
        let middle = held.middle();
        let label_side = label_side(input, turn);
        // The room for labels is all on their side.
        let shift = -label_side * labels / 2.0 / per_metre;
        let sand = Area::at(0.0, 0.0, input.width, height);
        Self { per_metre, sand, turn, middle: (middle.x, middle.y + shift), label_side }
    }

    /// A ground point on the plan.
    pub fn spot(&self, place: GroundPoint) -> Spot {
        let at = turned(self.turn, place);
        let middle = self.sand.middle();
        Spot::new(
            middle.x + (at.x - self.middle.0) * self.per_metre,
            middle.y - (at.y - self.middle.1) * self.per_metre,
        )
    }

    /// A direction on the ground (radians from x, to the left) as one on the plan.
    pub fn direction(&self, heading: f64) -> (f64, f64) {
        let (sin, cos) = (heading - self.turn).sin_cos();
        (cos, -sin)
    }
}

fn turned(turn: f64, place: GroundPoint) -> Spot {
    let (sin, cos) = turn.sin_cos();
    Spot::new(place.x * cos + place.y * sin, place.y * cos - place.x * sin)
}

/// From the first hoof to the last; with one hoof only, along the track.
fn going(input: &PlanInput) -> f64 {
    let approach = input.approach;
    let mut places = approach.footfalls.iter().filter_map(|footfall| footfall.place);
    match (places.next(), places.next_back()) {
        (Some(a), Some(b)) if a.distance(b) > 0.5 => (b.y - a.y).atan2(b.x - a.x),
        (Some(a), _) => super::seen::heading_at(approach, a),
        _ => 0.0,
    }
}

fn everything(input: &PlanInput) -> Vec<GroundPoint> {
    let approach = input.approach;
    let fence = &approach.fence;
    let mut all: Vec<GroundPoint> =
        approach.footfalls.iter().filter_map(|footfall| footfall.place).collect();
    all.extend(fence.take_off_base.iter().chain(&fence.landing_base).flatten());
    all.extend(input.poles.iter().flat_map(|pole| [pole.left, pole.right]));
    all.retain(|place| place.x.is_finite() && place.y.is_finite());
    all
}

/// The side of the hooves with fewer poles: above unless the poles lie there.
fn label_side(input: &PlanInput, turn: f64) -> f64 {
    let mean = |places: &mut dyn Iterator<Item = GroundPoint>| {
        let sides: Vec<f64> = places.map(|place| turned(turn, place).y).collect();
        (!sides.is_empty()).then(|| sides.iter().sum::<f64>() / sides.len() as f64)
    };
    let footfalls = &input.approach.footfalls;
    let hooves = mean(&mut footfalls.iter().filter_map(|footfall| footfall.place));
    let poles = mean(&mut input.poles.iter().flat_map(|pole| [pole.left, pole.right]));
    match (hooves, poles) {
        (Some(hooves), Some(poles)) if poles > hooves => 1.0,
        _ => -1.0,
    }
}
