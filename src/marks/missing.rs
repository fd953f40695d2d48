//! What is not there yet: no breach of a rule, but a reason why some number cannot be had.

use std::collections::BTreeSet;

use super::approach::{Approach, Event, Limb};
use super::camera_prior::Motion;
use super::fence::{BaseCorner, Fence, FenceKind};
use super::file::MarksFile;
use super::reference::{Reference, ReferenceKind};
use crate::quantity::FrameNumber;

/// Something that would help and is not in the file.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Missing {
    /// The clip cannot be told from another.
    #[error("no hash of the clip's file: another clip in its place would not be noticed")]
    ClipHash,
    /// Nothing of known size.
    #[error("no reference: add poles or a measured distance, or there are no metres")]
    Reference,
    /// A reference of which too little is marked to be of use.
    #[error(
        "{marked} of {whole} points of {kind} `{reference}` are marked ({needed} or more needed)"
    )]
    ReferencePoints {
        /// What it is.
        kind: &'static str,
        /// Which.
        reference: String,
        /// Points that carry a mark.
        marked: usize,
        /// Points that could.
        whole: usize,
        /// Points without which it tells nothing.
        needed: usize,
    },
    /// Frames of a turning camera that only the clip itself can join to the others.
    #[error(
        "no reference or tie is marked on {}: the camera's turn there must come from the clip",
        frames_words(frames)
    )]
    Joints {
        /// Marked frames without a fixed point.
        frames: Vec<FrameNumber>,
    },
    /// No fence.
    #[error("no fence: there is nothing to count strides back from")]
    Fence,
    /// A fence without a ground line.
    #[error("the take-off base of fence `{fence}` is not marked: no take-off distance")]
    GroundLine {
        /// Which.
        fence: String,
    },
    /// A fence without a far base, or without what would tell where it is.
    #[error(
        "the landing base of fence `{fence}` is not marked and no spread is stated: no landing \
         distance"
    )]
    FarBase {
        /// Which.
        fence: String,
    },
    /// A base of which one end is marked.
    #[error(
        "only one end of the {} base of fence `{fence}` is marked: it is taken as square to the \
         track, and its distance has a doubt",
        if *take_off_side { "take-off" } else { "landing" }
    )]
    BaseEnd {
        /// Which fence.
        fence: String,
        /// Whether on the take-off side.
        take_off_side: bool,
    },
    /// No approach.
    #[error("no approach: mark the footfalls")]
    Approach,
    /// An approach in which no limb is marked twice.
    #[error("no {limbs} is marked twice in approach `{approach}`: no stride yet")]
    Strides {
        /// Which limb would do.
        limbs: &'static str,
        /// Which.
        approach: String,
    },
    /// An approach without take-off.
    #[error(
        "no take-off in approach `{approach}`: no take-off distance, and strides count back from \
         the last contact marked"
    )]
    TakeOff {
        /// Which.
        approach: String,
    },
    /// An approach without landing.
    #[error("no landing in approach `{approach}`: no landing distance")]
    Landing {
        /// Which.
        approach: String,
    },
}

impl MarksFile {
    /// What is not there yet, most needed first.
    pub fn missing(&self) -> Vec<Missing> {
        let mut missing = Vec::new();
        if self.clip.blake3.is_empty() {
            missing.push(Missing::ClipHash);
        }
        if self.references.is_empty() {
            missing.push(Missing::Reference);
        }
        missing.extend(self.references.iter().filter_map(missing_points));
        missing.extend(self.missing_joints());
        if self.fences.is_empty() {
            missing.push(Missing::Fence);
        }
        for fence in &self.fences {
            missing_bases(fence, &mut missing);
        }
        if self.approaches.is_empty() {
            missing.push(Missing::Approach);
        }
        for approach in &self.approaches {
            missing_in_approach(approach, &mut missing);
        }
        missing
    }

    fn missing_joints(&self) -> Option<Missing> {
        if self.camera.motion == Motion::Fixed {
            return None;
        }
        let (mut fixed, mut marked) = (BTreeSet::new(), BTreeSet::new());
        for (place, marks) in self.places() {
            let frames = marks.iter().map(|mark| mark.frame);
            if matches!(place, super::MarkAddress::Footfall { .. }) {
                marked.extend(frames);
            } else {
                fixed.extend(frames);
            }
        }
        let frames: Vec<FrameNumber> = marked.difference(&fixed).copied().collect();
        (!frames.is_empty()).then_some(Missing::Joints { frames })
    }
}

impl Reference {
    /// How many of its points carry a mark, and how many there are. A fence's width has no
    /// points of its own.
    pub fn marked_points(&self) -> (usize, usize) {
        let marked = |lists: &[bool]| lists.iter().filter(|has| **has).count();
        match &self.kind {
            ReferenceKind::Poles { count, ends, .. } => {
                let ends: Vec<bool> = ends.iter().map(|end| !end.marks.is_empty()).collect();
                (marked(&ends), 2 * *count as usize)
            }
            ReferenceKind::Distance { from, to, .. } => {
                (marked(&[!from.is_empty(), !to.is_empty()]), 2)
            }
            ReferenceKind::FenceWidth { .. } => (0, 0),
            ReferenceKind::Vertical { foot, top, .. } => {
                (marked(&[!foot.is_empty(), !top.is_empty()]), 2)
            }
            ReferenceKind::FenceRails { rails, .. } => {
                let ends: Vec<bool> = rails
                    .iter()
                    .flat_map(|rail| [!rail.left.is_empty(), !rail.right.is_empty()])
                    .collect();
                (marked(&ends), ends.len())
            }
        }
    }
}

fn missing_points(reference: &Reference) -> Option<Missing> {
    let (marked, whole) = reference.marked_points();
    let (needed, kind) = (whole.min(2), reference.kind.words());
    let reference = reference.id.clone();
    (marked < needed).then_some(Missing::ReferencePoints { kind, reference, marked, whole, needed })
}

/// What the measurement takes for the two bases, and when it has none.
fn missing_bases(fence: &Fence, missing: &mut Vec<Missing>) {
    let ends = |corners: [BaseCorner; 2]| {
        corners.into_iter().filter(|corner| !fence.base(*corner).is_empty()).count()
    };
    let take_off = ends([BaseCorner::TakeOffLeft, BaseCorner::TakeOffRight]);
    let landing = ends([BaseCorner::LandingLeft, BaseCorner::LandingRight]);
    let one_plane =
        matches!(fence.kind, FenceKind::Vertical | FenceKind::CrossRail | FenceKind::GroundPole);
    let has_spread = one_plane || fence.spread_m.is_some();
    let id = || fence.id.clone();
    match take_off {
        0 => missing.push(Missing::GroundLine { fence: id() }),
        1 => missing.push(Missing::BaseEnd { fence: id(), take_off_side: true }),
        _ => {}
    }
    match landing {
        // Without a ground line a spread leads nowhere, which was said.
        0 if !has_spread => missing.push(Missing::FarBase { fence: id() }),
        1 if !(has_spread && take_off == 2) => {
            missing.push(Missing::BaseEnd { fence: id(), take_off_side: false });
        }
        _ => {}
    }
}

fn missing_in_approach(approach: &Approach, missing: &mut Vec<Missing>) {
    let id = &approach.id;
    let delimits = |limb: &Limb| match approach.reference_limb {
        Some(reference) => *limb == reference,
        None => limb.is_hind(),
    };
    if Limb::ALL.into_iter().filter(delimits).all(|limb| approach.contacts(limb) < 2) {
        let limbs = approach.reference_limb.map_or("hind limb", Limb::words);
        missing.push(Missing::Strides { limbs, approach: id.clone() });
    }
    let has = |event| approach.footfalls.iter().any(|footfall| footfall.event == event);
    if !has(Event::TakeOff) {
        missing.push(Missing::TakeOff { approach: id.clone() });
    }
    if !has(Event::Landing) {
        missing.push(Missing::Landing { approach: id.clone() });
    }
}

/// "frame 3", "frames 3 and 9", "frames 3, 9, 12, 15 and 4 more".
fn frames_words(frames: &[FrameNumber]) -> String {
    const SHOWN: usize = 4;
    let numbers: Vec<String> = frames.iter().take(SHOWN).map(|f| f.0.to_string()).collect();
    match (numbers.as_slice(), frames.len().saturating_sub(SHOWN)) {
        ([one], _) => format!("frame {one}"),
        ([first @ .., last], 0) => format!("frames {} and {last}", first.join(", ")),
        (shown, more) => format!("frames {} and {more} more", shown.join(", ")),
    }
}
