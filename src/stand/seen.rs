//! What the picture does not hold.

use schemars::JsonSchema;
use serde::Serialize;

use crate::marks::PoleEnd;

/// Something that lies out of the picture, so that it cannot be marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(tag = "unseen", rename_all = "snake_case")]
pub enum UnseenThing {
    /// A contact at which a stride begins or ends, so that the stride has no length.
    Stride {
        /// Counted back from the fence; −1 is the last.
        number: i32,
    },
    /// The take-off.
    TakeOff,
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
        use UnseenThing::{Base, Stride, TakeOff};
        !self.0.iter().any(|thing| matches!(thing, Stride { .. } | TakeOff | Base { .. }))
    }

    /// Whether the take-off and both ends of the ground line are: of fewer it would be measured
    /// from the other hind or from a line taken as square.
    pub fn holds_the_take_off(&self) -> bool {
        use UnseenThing::{Base, TakeOff};
        !self.0.iter().any(|thing| matches!(thing, TakeOff | Base { .. }))
    }

    /// Strides of which one end is out of the picture, the farthest from the fence first.
    pub fn strides(&self) -> Vec<i32> {
        let numbers = self.0.iter().filter_map(|thing| match thing {
            UnseenThing::Stride { number } => Some(*number),
            _ => None,
        });
        numbers.collect()
    }

    /// Adds what lacks because a contact was not seen: it ends one stride and begins the next.
    pub(super) fn add_contact(&mut self, begins: i32, first: i32) {
        let things = [begins - 1, begins].map(|number| match number {
            0 => UnseenThing::TakeOff,
            number => UnseenThing::Stride { number },
        });
        for (number, thing) in [begins - 1, begins].into_iter().zip(things) {
            if number >= first && !self.0.contains(&thing) {
                self.0.push(thing);
            }
        }
    }

    /// Ends of poles that are out of the picture.
    pub fn pole_ends(&self) -> usize {
        self.0.iter().filter(|thing| matches!(thing, UnseenThing::PoleEnd { .. })).count()
    }
}
