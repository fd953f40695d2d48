//! What a mark is a mark of: the one way to name a place in the file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::fence::BaseCorner;
use super::file::MarksFile;
use super::mark::Mark;
use super::reference::{PoleEnd, ReferenceKind};

/// The thing that marks belong to; each has at most one mark a frame.
#[derive(
    Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(tag = "of", rename_all = "snake_case")]
pub enum MarkAddress {
    /// An end of a pole.
    PoleEnd {
        /// The reference's id.
        reference: String,
        /// 1 is the pole the horse meets first.
        pole: u32,
        /// Which end.
        end: PoleEnd,
    },
    /// First point of a measured distance.
    DistanceFrom {
        /// The reference's id.
        reference: String,
    },
    /// Second point of a measured distance.
    DistanceTo {
        /// The reference's id.
        reference: String,
    },
    /// Foot of a vertical.
    VerticalFoot {
        /// The reference's id.
        reference: String,
    },
    /// Top of a vertical.
    VerticalTop {
        /// The reference's id.
        reference: String,
    },
    /// A point on a rail.
    Rail {
        /// The reference's id.
        reference: String,
        /// 1 is the first rail of the list.
        rail: u32,
        /// Which end.
        end: RailEnd,
    },
    /// A base point of a fence.
    FenceBase {
        /// The fence's id.
        fence: String,
        /// Which point.
        corner: BaseCorner,
    },
    /// A tie.
    Tie {
        /// The tie's id.
        tie: String,
    },
    /// A footfall.
    Footfall {
        /// The approach's id.
        approach: String,
        /// The footfall's id.
        footfall: String,
    },
}

/// Which end of a rail.
pub type RailEnd = PoleEnd;

impl std::fmt::Display for MarkAddress {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::PoleEnd { reference, pole, end } => {
                write!(out, "{} end of pole {pole} of `{reference}`", end.words())
            }
            Self::DistanceFrom { reference } => write!(out, "first point of `{reference}`"),
            Self::DistanceTo { reference } => write!(out, "second point of `{reference}`"),
            Self::VerticalFoot { reference } => write!(out, "foot of `{reference}`"),
            Self::VerticalTop { reference } => write!(out, "top of `{reference}`"),
            Self::Rail { reference, rail, end } => {
                write!(out, "{} end of rail {rail} of `{reference}`", end.words())
            }
            Self::FenceBase { fence, corner } => {
                write!(out, "{} of fence `{fence}`", corner.words())
            }
            Self::Tie { tie } => write!(out, "tie `{tie}`"),
            Self::Footfall { approach, footfall } => {
                write!(out, "footfall `{footfall}` of approach `{approach}`")
            }
        }
    }
}

impl PoleEnd {
    /// Both ends.
    pub const BOTH: [Self; 2] = [Self::Left, Self::Right];

    /// Its name in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }
}

impl BaseCorner {
    /// Its name in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::TakeOffLeft => "left end of the take-off base",
            Self::TakeOffRight => "right end of the take-off base",
            Self::LandingLeft => "left end of the landing base",
            Self::LandingRight => "right end of the landing base",
        }
    }
}

impl MarksFile {
    /// Every place that can hold marks, with the marks it holds, in file order.
    pub fn places(&self) -> Vec<(MarkAddress, &[Mark])> {
        let mut places = Vec::new();
        for reference in &self.references {
            reference_places(&reference.id, &reference.kind, &mut places);
        }
        for tie in &self.ties {
            places.push((MarkAddress::Tie { tie: tie.id.clone() }, tie.marks.as_slice()));
        }
        for fence in &self.fences {
            for corner in BaseCorner::ALL {
                let address = MarkAddress::FenceBase { fence: fence.id.clone(), corner };
                places.push((address, fence.base(corner)));
            }
        }
        for approach in &self.approaches {
            for footfall in &approach.footfalls {
                let address = MarkAddress::Footfall {
                    approach: approach.id.clone(),
                    footfall: footfall.id.clone(),
                };
                places.push((address, std::slice::from_ref(&footfall.mark)));
            }
        }
        places
    }
}

fn reference_places<'a>(
    id: &str,
    kind: &'a ReferenceKind,
    places: &mut Vec<(MarkAddress, &'a [Mark])>,
) {
    let reference = id.to_owned();
    match kind {
        ReferenceKind::Poles { ends, .. } => places.extend(ends.iter().map(|end| {
            let address =
                MarkAddress::PoleEnd { reference: reference.clone(), pole: end.pole, end: end.end };
            (address, end.marks.as_slice())
        })),
        ReferenceKind::Distance { from, to, .. } => {
            places.push((MarkAddress::DistanceFrom { reference: reference.clone() }, from));
            places.push((MarkAddress::DistanceTo { reference }, to));
        }
        ReferenceKind::FenceWidth { .. } => {}
        ReferenceKind::Vertical { foot, top, .. } => {
            places.push((MarkAddress::VerticalFoot { reference: reference.clone() }, foot));
            places.push((MarkAddress::VerticalTop { reference }, top));
        }
        ReferenceKind::FenceRails { rails, .. } => {
            for (number, rail) in (1..).zip(rails) {
                for (end, marks) in [(RailEnd::Left, &rail.left), (RailEnd::Right, &rail.right)] {
                    let address =
                        MarkAddress::Rail { reference: reference.clone(), rail: number, end };
                    places.push((address, marks));
                }
            }
        }
    }
}
