//! What is not there yet: no breach of a rule, but a reason why some number cannot be had.

use std::collections::BTreeSet;

use super::approach::{Approach, Event, Limb};
use super::camera_prior::Motion;
use super::fence::BaseCorner;
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
        "{marked} of {whole} points of reference `{reference}` are marked ({needed} or more needed)"
    )]
    ReferencePoints {
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
    #[error(
        "the take-off base of fence `{fence}` is not marked at both ends: no take-off distance"
    )]
    GroundLine {
        /// Which.
        fence: String,
    },
    /// No approach.
    #[error("no approach: mark the footfalls")]
    Approach,
    /// An approach in which no limb is marked twice.
    #[error("no limb is marked twice in approach `{approach}`: no stride yet")]
    Strides {
        /// Which.
        approach: String,
    },
    /// An approach without take-off.
    #[error("no take-off in approach `{approach}`: its strides cannot be counted back from it")]
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
        let bare = |corner| move |fence: &&super::Fence| fence.base(corner).is_empty();
        let (left, right) = (bare(BaseCorner::TakeOffLeft), bare(BaseCorner::TakeOffRight));
        missing.extend(
            self.fences
                .iter()
                .filter(|fence| left(fence) || right(fence))
                .map(|fence| Missing::GroundLine { fence: fence.id.clone() }),
        );
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
    let needed = whole.min(2);
    let reference = reference.id.clone();
    (marked < needed).then_some(Missing::ReferencePoints { reference, marked, whole, needed })
}

fn missing_in_approach(approach: &Approach, missing: &mut Vec<Missing>) {
    let id = &approach.id;
    let contacts = |limb: Limb| {
        let of_stride = |event| matches!(event, Event::Stride | Event::TakeOff);
        approach.footfalls.iter().filter(|f| f.limb == limb && of_stride(f.event)).count()
    };
    if Limb::ALL.into_iter().all(|limb| contacts(limb) < 2) {
        missing.push(Missing::Strides { approach: id.clone() });
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
