//! What the coach asks: which stride, which fence, from which gait, for whom, on what ground.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::quantity::{Estimate, Given, Metres, MetresPerSecond, Unit};
use crate::stride::ShownStrides;

/// The stride a plan is made for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "stride", rename_all = "snake_case")]
pub enum Stride {
    /// Level canter strides of this horse, measured.
    Measured {
        /// Their mean, with the interval of the measurement.
        mean_m: Estimate<Metres>,
        /// How much the horse's strides differ from one another: their standard deviation.
        scatter_sd_m: Metres,
        /// Every measured stride of the approach from the turn on, with its interval.
        strides_m: Vec<Estimate<Metres>>,
        /// Measured strides that are not among them, as they lie before the turn was left.
        #[serde(default)]
        before_the_turn: u32,
        /// What the horse has shown, in this approach and in whatever else of it is known; says
        /// what it has never shown.
        shown: ShownStrides,
        /// Which of them the mean is of.
        #[serde(default)]
        basis: StrideBasis,
        /// Their mean speed, from the first contact of the approach to the last.
        #[serde(default)]
        pace_m_per_s: Option<Estimate<MetresPerSecond>>,
    },
    /// A stride length that was typed, metres, with the standard deviation granted to it.
    Typed {
        /// The length.
        length_m: Given,
    },
}

/// Which strides of an approach a plan rests on.
#[derive(Clone, Debug, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "basis", rename_all = "snake_case")]
pub enum StrideBasis {
    /// All: they are level.
    #[default]
    AllLevel,
    /// Those that are level with one another.
    LevelOnes {
        /// Numbers of the others, counted back from the fence.
        left_out: Vec<i32>,
    },
    /// All, although they are level in no majority.
    Uneven,
}

/// Half of the 95 % interval that is granted to a typed stride when nothing else is said, metres.
pub const TYPED_WITHIN_M: f64 = 0.10;

impl Stride {
    /// A typed length, granted half of a 95 % interval of `within_m`, both metres.
    pub fn typed(length_m: f64, within_m: f64) -> Self {
        Self::Typed { length_m: Given::new(length_m, within_m / 1.96) }
    }

    /// The length the plan reckons with, metres.
    pub(super) fn length_m(&self) -> f64 {
        match self {
            Self::Measured { mean_m, .. } => mean_m.value.get(),
            Self::Typed { length_m } => length_m.value,
        }
    }

    /// Half the 95 % interval of that length, metres.
    pub(super) fn plus_minus_m(&self) -> f64 {
        match self {
            Self::Measured { mean_m, .. } => mean_m.plus_minus(),
            Self::Typed { length_m } => 1.96 * length_m.sd,
        }
    }

    /// What the horse has shown; `None` for a typed stride, which shows nothing.
    pub(super) fn shown(&self) -> Option<&ShownStrides> {
        match self {
            Self::Measured { shown, .. } => Some(shown),
            Self::Typed { .. } => None,
        }
    }
}

/// The gait in which the first element is met.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Gait {
    /// Approach in trot.
    Trot,
    /// Approach in canter.
    Canter,
}

/// A pony's height class. The sources cut the classes differently; they are matched by their
/// upper edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum PonyClass {
    /// To about 1.30 m: "128 cm", French B (1.08–1.30 m), US small.
    Small,
    /// To about 1.40 m: "138 cm", French C (1.31–1.40 m), US medium.
    Medium,
    /// To about 1.50 m: "148 cm", French D (1.41–1.50 m), US large.
    Large,
}

/// Horse or pony.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Size {
    /// A horse.
    Horse,
    /// A pony, of a height class when it is known.
    Pony(Option<PonyClass>),
}

/// The state of the ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Going {
    /// Nothing to allow for.
    #[default]
    Good,
    /// Deep or heavy.
    Deep,
    /// Slippery or hard.
    Slippery,
}

/// The state of the horse.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Readiness {
    /// Fresh and used to such exercises.
    #[default]
    Ready,
    /// Tired.
    Tired,
    /// Green: new to such exercises.
    Green,
}

/// What a plan is asked for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Asked {
    /// This horse's canter stride.
    pub stride: Stride,
    /// Height of the fences, metres; 0 for poles on the ground.
    pub height_m: f64,
    /// The gait of the approach.
    pub gait: Gait,
    /// Horse or pony.
    pub size: Size,
    /// Rise of the ground the way the horse goes, per cent; downhill is negative.
    #[serde(default)]
    pub slope_percent: f64,
    /// The ground.
    #[serde(default)]
    pub going: Going,
    /// The horse.
    #[serde(default)]
    pub readiness: Readiness,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::poles::AskedError;
    use crate::poles::sample::typed;
    use crate::quantity::LengthUnits;

    #[test]
    fn what_is_no_stride_fence_or_slope_is_refused() {
        assert_eq!(typed(3.6576).checked(), Ok(()));
        for length in [1.4, 6.6, f64::NAN, f64::INFINITY] {
            assert!(matches!(typed(length).checked(), Err(AskedError::Stride { .. })), "{length}");
        }
        let negative_sd = Stride::Typed { length_m: Given::new(3.5, -0.1) };
        let refused = Asked { stride: negative_sd, ..typed(3.5) }.checked();
        assert!(matches!(refused, Err(AskedError::Uncertainty { .. })));
        // What is granted to a stride is spoken of as it is typed: half of a 95 % interval.
        assert_eq!(Asked { stride: Stride::typed(3.5, 1.0), ..typed(3.5) }.checked(), Ok(()));
        let wide = Asked { stride: Stride::typed(3.5, 2.0), ..typed(3.5) }.checked().unwrap_err();
        assert_eq!(
            wide.words(LengthUnits::Metres),
            "cannot plan for a stride within ±2.00 m: ±1.00 m at most is planned for"
        );
        for height_m in [-0.1, 2.6, f64::NAN] {
            let asked = Asked { height_m, ..typed(3.5) };
            assert!(matches!(asked.checked(), Err(AskedError::Height { .. })), "{height_m}");
        }
        let message = Asked { slope_percent: 45.0, ..typed(3.5) }.checked().unwrap_err();
        assert_eq!(message.to_string(), "cannot plan for a slope of 45 %: −30 to 30 % is needed");
    }
}
