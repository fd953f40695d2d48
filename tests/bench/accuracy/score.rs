//! How far a measured number lies from the true one, whether its interval holds it, and what a
//! list of such judgements comes to.

use std::collections::BTreeMap;

use groundline::quantity::{Estimate, Unit};

/// What is judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Quantity {
    StrideLength,
    Duration,
    Speed,
    TakeOff,
    Landing,
    TrackOffset,
    TrackAngle,
    Variation,
    Range,
    Mean,
    Trend,
}

impl Quantity {
    pub const ALL: [Self; 11] = [
        Self::StrideLength,
        Self::Duration,
        Self::Speed,
        Self::TakeOff,
        Self::Landing,
        Self::TrackOffset,
        Self::TrackAngle,
        Self::Variation,
        Self::Range,
        Self::Mean,
        Self::Trend,
    ];

    /// Those that are lengths: the bar on coverage speaks of them.
    pub const LENGTHS: [Self; 6] = [
        Self::StrideLength,
        Self::TakeOff,
        Self::Landing,
        Self::TrackOffset,
        Self::Range,
        Self::Mean,
    ];

    pub fn words(self) -> &'static str {
        match self {
            Self::StrideLength => "stride length",
            Self::Duration => "stride duration",
            Self::Speed => "speed of a stride",
            Self::TakeOff => "take-off distance",
            Self::Landing => "landing distance",
            Self::TrackOffset => "track offset",
            Self::TrackAngle => "track angle",
            Self::Variation => "coefficient of variation",
            Self::Range => "range of lengths",
            Self::Mean => "mean length",
            Self::Trend => "trend a stride",
        }
    }

    /// The unit it is printed in, how many of them make its own unit, and digits after the point.
    pub fn printed(self) -> (&'static str, f64, usize) {
        match self {
            Self::Duration => ("ms", 1000.0, 1),
            Self::Speed => ("m/s", 1.0, 3),
            Self::TrackAngle => ("°", 1.0, 2),
            Self::Variation => ("%", 1.0, 2),
            _ => ("cm", 100.0, 1),
        }
    }
}

/// One number judged.
#[derive(Clone, Copy, Debug)]
pub struct Judged {
    /// Measured minus true.
    pub error: f64,
    /// Stated standard deviation.
    pub sd: f64,
    /// Half of the stated 95 % interval.
    pub half: f64,
    /// Whether the stated 95 % interval holds the truth.
    pub inside: bool,
}

impl Judged {
    pub fn of<U: Unit>(estimate: &Estimate<U>, truth: f64) -> Self {
        let (low, high) = (estimate.low95.get(), estimate.high95.get());
        Self {
            error: estimate.value.get() - truth,
            sd: estimate.sd.get(),
            half: estimate.plus_minus(),
            inside: (low..=high).contains(&truth),
        }
    }
}

/// One number of one scene.
#[derive(Clone, Copy, Debug)]
pub struct Datum {
    /// Which scene: numbers of one scene share its camera and are no independent witnesses.
    pub scene: usize,
    pub quantity: Quantity,
    /// Of which stride, where it is of one.
    pub stride: Option<i32>,
    /// How far the camera was from the middle of the stride, metres; else not a number.
    pub away_m: f64,
    pub judged: Judged,
    /// Error of the plain homography on the same clicks; `None` where it cannot measure.
    pub plain: Option<f64>,
}

/// What a list of judged numbers comes to.
#[derive(Clone, Copy, Debug)]
pub struct Summary {
    pub count: usize,
    pub rms: f64,
    /// Half of all errors are smaller.
    pub median: f64,
    pub bias: f64,
    /// Per cent of the truths inside their intervals.
    pub coverage: f64,
    /// Standard error of that, scene by scene.
    pub coverage_sd: f64,
    /// Mean stated standard deviation, as a root of the mean square.
    pub stated: f64,
}

/// Errors of the homography where it measures.
#[derive(Clone, Copy, Debug)]
pub struct Plain {
    /// Per cent of the numbers it measures.
    pub measured: f64,
    pub rms: f64,
    pub median: f64,
    /// RMS of ours over the numbers that it measures too.
    pub ours: f64,
}

impl Summary {
    pub fn of<'a>(data: impl IntoIterator<Item = &'a Datum>) -> Option<Self> {
        let data: Vec<&Datum> = data.into_iter().collect();
        if data.is_empty() {
            return None;
        }
        let count = data.len();
        let n = count as f64;
        let inside = data.iter().filter(|datum| datum.judged.inside).count() as f64 / n;
        let mut off_by_scene: BTreeMap<usize, f64> = BTreeMap::new();
        for datum in &data {
            let hit = f64::from(u8::from(datum.judged.inside));
            *off_by_scene.entry(datum.scene).or_default() += hit - inside;
        }
        let scenes = off_by_scene.len() as f64;
        let spread: f64 = off_by_scene.values().map(|off| off * off).sum();
        let errors: Vec<f64> = data.iter().map(|datum| datum.judged.error).collect();
        Some(Self {
            count,
            rms: rms(&errors),
            median: quantile(errors.iter().map(|error| error.abs()), 0.5),
            bias: errors.iter().sum::<f64>() / n,
            coverage: 100.0 * inside,
            coverage_sd: 100.0 * (spread * scenes / (scenes - 1.0).max(1.0)).sqrt() / n,
            stated: rms(&data.iter().map(|datum| datum.judged.sd).collect::<Vec<_>>()),
        })
    }
}

impl Plain {
    pub fn of<'a>(data: impl IntoIterator<Item = &'a Datum>) -> Option<Self> {
        let data: Vec<&Datum> = data.into_iter().collect();
        let pairs: Vec<(f64, f64)> = data
            .iter()
            .filter_map(|datum| datum.plain.map(|plain| (plain, datum.judged.error)))
            .collect();
        if pairs.is_empty() {
            return None;
        }
        let errors: Vec<f64> = pairs.iter().map(|(plain, _)| *plain).collect();
        Some(Self {
            measured: 100.0 * pairs.len() as f64 / data.len() as f64,
            rms: rms(&errors),
            median: quantile(errors.iter().map(|error| error.abs()), 0.5),
            ours: rms(&pairs.iter().map(|(_, ours)| *ours).collect::<Vec<_>>()),
        })
    }
}

pub fn rms(errors: &[f64]) -> f64 {
    (errors.iter().map(|error| error * error).sum::<f64>() / errors.len().max(1) as f64).sqrt()
}

/// The value below which `share` of all lie; not a number for none.
pub fn quantile(values: impl Iterator<Item = f64>, share: f64) -> f64 {
    let mut values: Vec<f64> = values.collect();
    values.sort_by(f64::total_cmp);
    let Some(last) = values.len().checked_sub(1) else { return f64::NAN };
    let place = share * last as f64;
    let (low, high) = (values[place.floor() as usize], values[place.ceil() as usize]);
    low + (high - low) * place.fract()
}

/// How many standard deviations on either side hold `share` of a normal distribution.
pub fn sds_that_hold(share: f64) -> f64 {
    let (mut low, mut high) = (0.0, 10.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if libm::erf(middle / std::f64::consts::SQRT_2) < share {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}
