//! The page's names for places, and those of the marks file.

use super::wire::{BaseEnd, EventName, FenceKindName, LimbName, Side, Spot};
use crate::marks::{
    BaseCorner, Event, FenceKind, Footfall, Lead, Limb, MarkAddress, MarksFile, PoleEnd,
    ReferenceKind,
};

/// The id of the poles that the page states and marks: the first of the file.
pub(super) fn poles_id(file: &MarksFile) -> Option<&str> {
    let is_poles = |kind: &ReferenceKind| matches!(kind, ReferenceKind::Poles { .. });
    file.references.iter().find(|known| is_poles(&known.kind)).map(|known| known.id.as_str())
}

/// A place of the file as the page names it.
pub(super) fn spot_of(file: &MarksFile, address: &MarkAddress) -> Spot {
    match address {
        MarkAddress::PoleEnd { reference, pole, end } if poles_id(file) == Some(reference) => {
            Spot::PoleEnd { pole: *pole, end: (*end).into() }
        }
        MarkAddress::FenceBase { fence, corner } => {
            Spot::Base { fence: fence.clone(), end: (*corner).into() }
        }
        MarkAddress::Tie { tie } => Spot::Tie { tie: tie.clone() },
        MarkAddress::Footfall { approach, footfall } => {
            match footfall_of(file, approach, footfall) {
                Some(known) => Spot::Footfall {
                    approach: approach.clone(),
                    footfall: footfall.clone(),
                    limb: known.limb.into(),
                    event: known.event.into(),
                },
                None => other(address),
            }
        }
        _ => other(address),
    }
}

fn other(address: &MarkAddress) -> Spot {
    // An address holds strings and numbers only.
    Spot::Other { address: serde_json::to_string(address).unwrap_or_default() }
}

/// The place of the file that the page means; `None` where it cannot be one.
pub(super) fn address_of(file: &MarksFile, spot: &Spot) -> Option<MarkAddress> {
    Some(match spot {
        Spot::PoleEnd { pole, end } => MarkAddress::PoleEnd {
            reference: poles_id(file)?.to_owned(),
            pole: *pole,
            end: (*end).into(),
        },
        Spot::Base { fence, end } => {
            MarkAddress::FenceBase { fence: fence.clone(), corner: (*end).into() }
        }
        Spot::Tie { tie } => MarkAddress::Tie { tie: tie.clone() },
        Spot::Footfall { approach, footfall, .. } => {
            MarkAddress::Footfall { approach: approach.clone(), footfall: footfall.clone() }
        }
        Spot::Other { address } => serde_json::from_str(address).ok()?,
    })
}

/// A footfall by the ids of its approach and its own.
pub(super) fn footfall_of<'a>(
    file: &'a MarksFile,
    approach: &str,
    footfall: &str,
) -> Option<&'a Footfall> {
    file.approach(approach)?.footfalls.iter().find(|known| known.id == footfall)
}

/// A place in the coach's words: "pole 2, left end".
pub(super) fn label(file: &MarksFile, spot: &Spot) -> String {
    match spot {
        Spot::PoleEnd { pole, end } => pole_end_label(*pole, *end),
        Spot::Base { end, .. } => base_label(*end).to_owned(),
        Spot::Tie { tie } => format!("fixed point {tie}"),
        Spot::Footfall { limb, event, .. } => footfall_label(*limb, *event),
        Spot::Other { .. } => {
            address_of(file, spot).map_or_else(String::new, |address| address.to_string())
        }
    }
}

pub(super) fn pole_end_label(pole: u32, end: Side) -> String {
    format!("pole {pole}, {} end", PoleEnd::from(end).words())
}

pub(super) fn base_label(end: BaseEnd) -> &'static str {
    match end {
        BaseEnd::TakeOffLeft => "base, take-off side, left end",
        BaseEnd::TakeOffRight => "base, take-off side, right end",
        BaseEnd::LandingLeft => "base, landing side, left end",
        BaseEnd::LandingRight => "base, landing side, right end",
    }
}

pub(super) fn footfall_label(limb: LimbName, event: EventName) -> String {
    let limb = Limb::from(limb).words();
    match event {
        EventName::Stride => limb.to_owned(),
        event => format!("{limb}, {}", Event::from(event).words()),
    }
}

/// Two enumerations of the same members.
macro_rules! same {
    ($page:ident, $file:ident: $($member:ident),+) => {
        impl From<$page> for $file {
            fn from(name: $page) -> Self {
                match name { $($page::$member => Self::$member),+ }
            }
        }
        impl From<$file> for $page {
            fn from(known: $file) -> Self {
                match known { $($file::$member => Self::$member),+ }
            }
        }
    };
}

same!(Side, PoleEnd: Left, Right);
same!(Side, Lead: Left, Right);
same!(BaseEnd, BaseCorner: TakeOffLeft, TakeOffRight, LandingLeft, LandingRight);
same!(LimbName, Limb: TrailingHind, LeadingHind, TrailingFore, LeadingFore);
same!(EventName, Event: Stride, TakeOff, Landing, Away);
same!(FenceKindName, FenceKind: Vertical, Oxer, CrossRail, TripleBar, GroundPole, OtherKind);
