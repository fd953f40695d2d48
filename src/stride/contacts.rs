//! Which contacts delimit the strides, and how the strides are numbered.

use super::doubt::StrideDoubt;
use crate::marks::{Approach, Event, Footfall, Limb};

/// The contacts of the reference limb and what to call the stride after the last of them.
pub(super) struct Contacts<'a> {
    pub limb: Limb,
    /// In the order of time.
    pub footfalls: Vec<&'a Footfall>,
    /// Number of the stride that ends with the last of them.
    pub last_number: i32,
    pub doubts: Vec<StrideDoubt>,
}

/// Orders and numbers the contacts of an approach.
pub(super) fn contacts(approach: &Approach) -> Contacts<'_> {
    let limb = approach.reference_limb.unwrap_or_else(|| best_limb(approach));
    let mut footfalls: Vec<&Footfall> = approach
        .footfalls
        .iter()
        .filter(|f| f.limb == limb && matches!(f.event, Event::Stride | Event::TakeOff))
        .collect();
    footfalls.sort_by_key(|footfall| (footfall.event == Event::TakeOff, footfall.mark.frame));
    let closes = footfalls.last().is_some_and(|last| last.event == Event::TakeOff);
    let any_take_off = approach.footfalls.iter().any(|f| f.event == Event::TakeOff);
    let (last_number, doubts) = match (closes, any_take_off) {
        (true, _) => (-1, vec![]),
        (false, true) => (-2, vec![StrideDoubt::LastStrideOpen { reference_limb: limb }]),
        (false, false) => (-1, vec![StrideDoubt::NoTakeOff]),
    };
    Contacts { limb, footfalls, last_number, doubts }
}

/// The hind with the most contacts seen; among equals the one that closes stride −1, then the
/// better placed, then the trailing hind.
fn best_limb(approach: &Approach) -> Limb {
    let score = |limb: Limb| {
        let of_limb = || {
            approach.footfalls.iter().filter(move |f| {
                f.limb == limb && !f.hidden && matches!(f.event, Event::Stride | Event::TakeOff)
            })
        };
        let closes = of_limb().any(|f| f.event == Event::TakeOff);
        let blur: f64 = of_limb().map(|f| f.mark.sd_px).sum();
        (of_limb().count(), closes, -blur)
    };
    let (trailing, leading) = (score(Limb::TrailingHind), score(Limb::LeadingHind));
    if leading.partial_cmp(&trailing) == Some(std::cmp::Ordering::Greater) {
        Limb::LeadingHind
    } else {
        Limb::TrailingHind
    }
}
