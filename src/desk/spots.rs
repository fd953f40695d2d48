//! The page's names for places, and those of the marks file.

use super::wire::{BaseEnd, EventName, FenceKindName, LengthEnd, LimbName, Side, Spot};
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
        MarkAddress::VerticalFoot { reference } => length_end(reference, LengthEnd::Foot),
        MarkAddress::VerticalTop { reference } => length_end(reference, LengthEnd::Top),
        MarkAddress::DistanceFrom { reference } => length_end(reference, LengthEnd::From),
        MarkAddress::DistanceTo { reference } => length_end(reference, LengthEnd::To),
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

fn length_end(reference: &str, end: LengthEnd) -> Spot {
    Spot::LengthEnd { reference: reference.to_owned(), end }
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
        Spot::LengthEnd { reference, end } => length_end_address(reference.clone(), *end),
        Spot::Tie { tie } => MarkAddress::Tie { tie: tie.clone() },
        Spot::Footfall { approach, footfall, .. } => {
            MarkAddress::Footfall { approach: approach.clone(), footfall: footfall.clone() }
        }
        Spot::Other { address } => serde_json::from_str(address).ok()?,
    })
}

/// Where the marks file keeps an end of something of known length.
pub(super) fn length_end_address(reference: String, end: LengthEnd) -> MarkAddress {
    match end {
        LengthEnd::Foot => MarkAddress::VerticalFoot { reference },
        LengthEnd::Top => MarkAddress::VerticalTop { reference },
        LengthEnd::From => MarkAddress::DistanceFrom { reference },
        LengthEnd::To => MarkAddress::DistanceTo { reference },
    }
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
        Spot::Base { fence, end } => base_label(file, fence, *end),
        Spot::LengthEnd { reference, end } => length_end_label(reference, *end),
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

/// An end of a base; of several fences it says which.
pub(super) fn base_label(file: &MarksFile, fence: &str, end: BaseEnd) -> String {
    let words = base_end_words(end);
    let place = file.fences.iter().position(|known| known.id == fence);
    match place {
        Some(place) if file.fences.len() > 1 => {
            let name = Some(&file.fences[place].name).filter(|name| !name.is_empty());
            let name = name.cloned().unwrap_or_else(|| format!("fence {}", place + 1));
            format!("{name}: {words}")
        }
        _ => words.to_owned(),
    }
}

fn base_end_words(end: BaseEnd) -> &'static str {
    match end {
        BaseEnd::TakeOffLeft => "base, take-off side, left end",
        BaseEnd::TakeOffRight => "base, take-off side, right end",
        BaseEnd::LandingLeft => "base, landing side, left end",
        BaseEnd::LandingRight => "base, landing side, right end",
    }
}

pub(super) fn length_end_label(reference: &str, end: LengthEnd) -> String {
    // Ids count up in words a coach knows: "upright", "upright-2".
    let thing = reference.replace('-', " ");
    match end {
        LengthEnd::Foot => format!("{thing}, foot"),
        LengthEnd::Top => format!("{thing}, top"),
        LengthEnd::From => format!("{thing}, first point"),
        LengthEnd::To => format!("{thing}, second point"),
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
