//! The whole marks file.

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::approach::Approach;
use super::camera_prior::CameraPrior;
use super::clip::ClipNote;
use super::fence::Fence;
use super::reference::Reference;
use super::round::Round;
use super::tie::Tie;
use crate::quantity::FrameNumber;

/// The version this program writes; it reads no newer one.
pub const VERSION: u32 = 1;

/// Everything a person placed on one clip and stated about it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MarksFile {
    /// The format's version.
    pub groundline_marks: u32,
    /// The clip.
    pub clip: ClipNote,
    /// The round.
    #[serde(default)]
    pub round: Round,
    /// Beliefs about the camera.
    pub camera: CameraPrior,
    /// Things of known size.
    #[serde(default)]
    pub references: Vec<Reference>,
    /// Fixed points that join frames.
    #[serde(default)]
    pub ties: Vec<Tie>,
    /// The fences.
    #[serde(default)]
    pub fences: Vec<Fence>,
    /// The approaches.
    #[serde(default)]
    pub approaches: Vec<Approach>,
    /// Frames of which the clip's data is damaged, so that the decoder guesses parts of the picture.
    /// Noted when a mark is placed on one.
    #[serde(default, skip_serializing_if = "BTreeSet::is_empty")]
    pub concealed_frames: BTreeSet<FrameNumber>,
    /// Keys of other versions, kept as they are.
    #[serde(flatten)]
    pub other: Map<String, Value>,
}

impl MarksFile {
    /// A file without marks for a clip filmed as `camera` says.
    pub fn new(clip: ClipNote, camera: CameraPrior) -> Self {
        Self {
            groundline_marks: VERSION,
            clip,
            round: Round::default(),
            camera,
            references: Vec::new(),
            ties: Vec::new(),
            fences: Vec::new(),
            approaches: Vec::new(),
            concealed_frames: BTreeSet::new(),
            other: Map::new(),
        }
    }

    /// The fence of that id.
    pub fn fence(&self, id: &str) -> Option<&Fence> {
        self.fences.iter().find(|fence| fence.id == id)
    }

    /// The approach of that id.
    pub fn approach(&self, id: &str) -> Option<&Approach> {
        self.approaches.iter().find(|approach| approach.id == id)
    }
}
