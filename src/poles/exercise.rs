//! What is built.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::asked::Gait;
use super::published::RowKind;

/// The most strides of a line that is planned. Common practice, no source: on longer ones the
/// count is no longer fixed by the distance (related distances are 3–7 strides at most in R10).
pub const LONGEST_LINE: u32 = 12;

/// An exercise and what its distance is measured between.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "exercise", rename_all = "snake_case")]
pub enum Exercise {
    /// Poles on the ground in trot, one to each step; pole to pole.
    TrotPoles,
    /// Poles on the ground in canter, one to each stride; pole to pole.
    CanterPoles,
    /// A pole on the ground before a fence, with so many strides between; pole to base.
    PlacingPole {
        /// The gait in which it is met.
        gait: Gait,
        /// Strides between pole and fence.
        strides: u32,
    },
    /// Two fences without a stride between; base to base.
    Bounce,
    /// Two fences with so many strides between; far base of the first to near base of the second,
    /// at ground level (R14, R7).
    Line {
        /// Strides between landing and take-off.
        strides: u32,
    },
}

impl Exercise {
    /// Everything a plan holds for an approach in `gait`, poles first, then from short to long.
    pub fn all(gait: Gait) -> Vec<Self> {
        let placing = |strides| Self::PlacingPole { gait, strides };
        let mut all = vec![Self::TrotPoles, Self::CanterPoles, placing(0)];
        if gait == Gait::Canter {
            all.push(placing(1));
        }
        all.push(Self::Bounce);
        all.extend((1..=6).map(|strides| Self::Line { strides }));
        all
    }

    /// Whether it makes no sense between poles on the ground.
    pub(super) fn needs_a_fence(self) -> bool {
        matches!(self, Self::PlacingPole { .. } | Self::Bounce)
    }

    /// The kind of its published rows.
    pub(super) fn row_kind(self) -> RowKind {
        match self {
            Self::TrotPoles => RowKind::TrotPoles,
            Self::CanterPoles => RowKind::CanterPoles,
            Self::PlacingPole { .. } => RowKind::PlacingPole,
            Self::Bounce => RowKind::Bounce,
            Self::Line { .. } => RowKind::Line,
        }
    }

    /// Strides between its two ends where rows are told apart by them.
    pub(super) fn strides(self) -> Option<u32> {
        match self {
            // A pole before a trotted fence is printed without a number of strides.
            Self::PlacingPole { gait: Gait::Trot, .. } | Self::TrotPoles | Self::CanterPoles => {
                None
            }
            Self::PlacingPole { strides, .. } | Self::Line { strides } => Some(strides),
            Self::Bounce => Some(0),
        }
    }

    /// The gait its published rows are for, when the approach is in `approach`.
    pub(super) fn gait(self, approach: Gait) -> Gait {
        match self {
            Self::TrotPoles => Gait::Trot,
            Self::CanterPoles => Gait::Canter,
            Self::PlacingPole { gait, .. } => gait,
            Self::Bounce | Self::Line { .. } => approach,
        }
    }

    /// Its name.
    pub fn words(self) -> String {
        match self {
            Self::TrotPoles => "trot poles".into(),
            Self::CanterPoles => "canter poles".into(),
            Self::PlacingPole { gait: Gait::Trot, .. } => "placing pole, trot".into(),
            Self::PlacingPole { strides: 0, .. } => "placing pole, canter".into(),
            Self::PlacingPole { strides, .. } => {
                format!("placing pole, canter, {}", strides_words(strides))
            }
            Self::Bounce => "bounce".into(),
            Self::Line { strides } => strides_words(strides),
        }
    }
}

impl Exercise {
    /// Its name without a comma, for lists: "placing pole in canter with 1 stride".
    pub(super) fn listed(self) -> String {
        self.words().replacen(", ", " in ", 1).replacen(", ", " with ", 1)
    }
}

fn strides_words(strides: u32) -> String {
    format!("{strides} stride{}", if strides == 1 { "" } else { "s" })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plan_goes_from_poles_to_six_strides() {
        let said = |gait| Exercise::all(gait).into_iter().map(Exercise::words).collect::<Vec<_>>();
        let canter = said(Gait::Canter);
        assert_eq!(
            canter[2..6],
            ["placing pole, canter", "placing pole, canter, 1 stride", "bounce", "1 stride"]
        );
        assert_eq!((canter.len(), canter[10].as_str()), (11, "6 strides"));
        assert_eq!(said(Gait::Trot)[2], "placing pole, trot");
        let placing = |strides| Exercise::PlacingPole { gait: Gait::Canter, strides };
        assert_eq!(
            [placing(0).listed(), placing(1).listed(), Exercise::Bounce.listed()],
            ["placing pole in canter", "placing pole in canter with 1 stride", "bounce"]
        );
        assert_eq!(said(Gait::Trot).len(), 10);
    }
}
