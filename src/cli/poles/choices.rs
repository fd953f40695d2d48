//! What can be typed as the plan takes it.

use super::args::{GaitChoice, GoingChoice, ReadinessChoice, SizeChoice};
use crate::poles::{Gait, Going, PonyClass, Readiness, Size};

impl From<GaitChoice> for Gait {
    fn from(choice: GaitChoice) -> Self {
        match choice {
            GaitChoice::Trot => Self::Trot,
            GaitChoice::Canter => Self::Canter,
        }
    }
}

impl From<SizeChoice> for Size {
    fn from(choice: SizeChoice) -> Self {
        match choice {
            SizeChoice::Horse => Self::Horse,
            SizeChoice::Pony => Self::Pony(None),
            SizeChoice::SmallPony => Self::Pony(Some(PonyClass::Small)),
            SizeChoice::MediumPony => Self::Pony(Some(PonyClass::Medium)),
            SizeChoice::LargePony => Self::Pony(Some(PonyClass::Large)),
        }
    }
}

impl From<GoingChoice> for Going {
    fn from(choice: GoingChoice) -> Self {
        match choice {
            GoingChoice::Good => Self::Good,
            GoingChoice::Deep => Self::Deep,
            GoingChoice::Slippery => Self::Slippery,
        }
    }
}

impl From<ReadinessChoice> for Readiness {
    fn from(choice: ReadinessChoice) -> Self {
        match choice {
            ReadinessChoice::Ready => Self::Ready,
            ReadinessChoice::Tired => Self::Tired,
            ReadinessChoice::Green => Self::Green,
        }
    }
}
