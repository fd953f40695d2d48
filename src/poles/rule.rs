//! The rules distances are computed by, each with its source.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How a length was computed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Rule {
    /// Landing + take-off + n × this horse's stride, landing and take-off as shares of the stride.
    LandingTakeOffAndStrides,
    /// The middle (median) of the published rows that apply.
    MiddleOfTables,
    /// That middle, times this horse's stride over the middle of the published strides.
    TablesTimesStride,
    /// The same from the tables for horses, as none for ponies was read.
    HorseTablesTimesStride,
    /// (n+1) × 12 ft.
    TwelveFoot,
    /// (n+1) × 3.50 m.
    MetricStride,
    /// (n+1) × the stride of the pony's height class.
    MetricPonyStride,
    /// Height in + height out + 3.5 m × n.
    HeightFormula,
    /// 1.5 m + 1.5 m + 3.5 m × n.
    SimplifiedHeightFormula,
}

impl Rule {
    /// The rule in a few words.
    pub fn words(self) -> &'static str {
        match self {
            Self::LandingTakeOffAndStrides => "landing + take-off + n × this horse's stride",
            Self::MiddleOfTables => "middle of the published tables",
            Self::TablesTimesStride => {
                "middle of the published tables, in proportion to the stride"
            }
            Self::HorseTablesTimesStride => {
                "middle of the tables for horses, in proportion to the stride"
            }
            Self::TwelveFoot => "(n+1) × 12 ft",
            Self::MetricStride => "(n+1) × 3.50 m",
            Self::MetricPonyStride => "(n+1) × the stride of the pony's class",
            Self::HeightFormula => "height in + height out + 3.5 m × n",
            Self::SimplifiedHeightFormula => "1.5 m + 1.5 m + 3.5 m × n",
        }
    }

    /// Tags of its sources; empty for what is common practice or this program's own arithmetic.
    pub fn sources(self) -> &'static [&'static str] {
        match self {
            // Half a stride to land and half to take off (R1, R2, R6); less over low fences and
            // poles (R11, R3).
            Self::LandingTakeOffAndStrides => &["R1", "R2", "R3", "R6", "R11"],
            Self::MiddleOfTables | Self::TablesTimesStride | Self::HorseTablesTimesStride => &[],
            Self::TwelveFoot => &["R1", "R4"],
            Self::MetricStride | Self::MetricPonyStride => &["R23"],
            Self::HeightFormula | Self::SimplifiedHeightFormula => &["R9"],
        }
    }
}
