//! What was measured from where to where, in words.

use crate::quantity::LengthUnits;
use crate::stride::{EdgeDistance, FenceEdge};
use crate::survey::Suspect;

/// "leading hind to the ground line on the take-off side, square to it".
pub fn edge_words(distance: &EdgeDistance) -> String {
    format!("{} to the {}, square to it", distance.limb.words(), edge_name(distance.edge))
}

pub(super) fn edge_name(edge: FenceEdge) -> &'static str {
    match edge {
        FenceEdge::GroundLine => "ground line on the take-off side",
        FenceEdge::FarBase => "far base",
    }
}

/// What a suspect mark is.
pub fn suspect_sentence(suspect: &Suspect) -> String {
    format!(
        "{} on frame {} lies {:.1} px from where the others expect it; left out",
        suspect.mark, suspect.frame.0, suspect.off_px
    )
}

/// What the places on the ground are counted from.
pub(super) fn ground_frame(units: LengthUnits) -> String {
    let (unit, name) = match units {
        LengthUnits::Metres => ("m", "metres"),
        LengthUnits::Feet => ("ft", "feet"),
    };
    format!(
        "x_{unit} and y_{unit} are {name} on the ground: x runs the way the horse goes, y to its \
         left. The origin is the middle of the first pole (or the first point of a distance, the \
         middle of a fence's take-off base, the foot of a vertical) of the reference with the most \
         marked points"
    )
}
