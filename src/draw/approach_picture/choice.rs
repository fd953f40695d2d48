//! Which footfalls stand for their strides: where the horse is shown.

use crate::marks::Event;
use crate::stride::{ApproachMeasurement, PlacedFootfall};

/// Contacts of the reference limb towards the fence, the take-off and the landing, as far as
/// their places are known, in the order ridden.
pub fn footfalls_to_show(approach: &ApproachMeasurement) -> Vec<&PlacedFootfall> {
    let seen = approach.footfalls.iter().filter(|footfall| footfall.place.is_some());
    seen.filter(|footfall| match footfall.event {
        Event::Stride => footfall.limb == approach.reference_limb,
        Event::TakeOff => {
            approach.take_off.as_ref().is_some_and(|t| t.footfall == footfall.footfall)
        }
        Event::Landing => {
            approach.landing.as_ref().is_some_and(|l| l.footfall == footfall.footfall)
        }
        Event::Away => false,
    })
    .collect()
}
