//! What the picture does not hold.

use schemars::JsonSchema;
use serde::Serialize;

use crate::marks::PoleEnd;

/// Something that lies out of the picture, so that it cannot be marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(tag = "unseen", rename_all = "snake_case")]
pub enum UnseenThing {
    /// A contact at which a stride begins or ends.
    Contact {
        /// The stride that begins there; 0 is take-off.
        stride: i32,
    },
    /// The first fore contact behind the fence.
    Landing,
    /// One end of a pole.
    PoleEnd {
        /// 1 is the pole the horse meets first.
        pole: u32,
        /// Which end.
        end: PoleEnd,
    },
    /// One end of the fence's ground line.
    Base {
        /// Whether it is the one to the left of the way the horse goes.
        left: bool,
    },
}

/// All of them.
#[derive(Clone, Debug, PartialEq, Eq, Default, Serialize, JsonSchema)]
#[serde(transparent)]
pub struct Unseen(pub Vec<UnseenThing>);

impl Unseen {
    /// Whether strides, take-off and ground line are all in the picture.
    pub fn holds_the_strides(&self) -> bool {
        !self.0.iter().any(|thing| {
            matches!(thing, UnseenThing::Contact { .. } | UnseenThing::Base { .. })
        })
    }

    /// Strides of which one end is out of the picture, the farthest from the fence first.
    pub fn strides(&self) -> Vec<i32> {
        let ends = self.0.iter().filter_map(|thing| match thing {
            UnseenThing::Contact { stride } => Some(*stride),
            _ => None,
        });
        // A contact ends one stride and begins the next.
        let mut strides: Vec<i32> = ends.flat_map(|at| [at - 1, at]).filter(|at| *at < 0).collect();
        strides.sort_unstable();
        strides.dedup();
        strides
    }

    /// Ends of poles that are out of the picture.
    pub fn pole_ends(&self) -> usize {
        self.0.iter().filter(|thing| matches!(thing, UnseenThing::PoleEnd { .. })).count()
    }
}
