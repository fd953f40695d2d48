//! Number of pace changes: how often the one told is the true one, and whether its probability is.

use groundline::stride::ApproachMeasurement;

use super::judge::Run;
use super::score::Quantity;
use super::table::{Table, signed};

/// Going back by this share of the mean is a change: the tool's default, counted here anew.
const TOLERANCE: f64 = 0.05;

/// The changes of pace of one scene.
pub struct Pace {
    /// The number told.
    pub told: usize,
    /// Its stated probability.
    pub probability: f64,
    /// Stated probability of the true number.
    pub of_truth: f64,
    /// True lengths of the strides it was told of, by number, metres.
    truth: Vec<(i32, f64)>,
}

impl Pace {
    /// `lengths` are the true ones of the strides that were measured.
    pub fn of(approach: &ApproachMeasurement, lengths: Vec<(i32, f64)>) -> Option<Self> {
        let changes = approach.pace_changes.as_ref()?;
        let exact = counted(&lengths.iter().map(|(_, length)| *length).collect::<Vec<_>>());
        Some(Self {
            told: changes.count,
            probability: changes.probability,
            of_truth: changes.probabilities.get(exact).copied().unwrap_or(0.0),
            truth: lengths,
        })
    }

    fn exact(&self) -> usize {
        counted(&self.truth.iter().map(|(_, length)| *length).collect::<Vec<_>>())
    }

    /// Counted on the lengths of the plain homography; `None` where it does not measure them all.
    fn plain(&self, run: &Run) -> Option<usize> {
        let lengths: Option<Vec<f64>> = self
            .truth
            .iter()
            .map(|(number, exact)| {
                let of_stride = |datum: &&super::score::Datum| {
                    datum.quantity == Quantity::StrideLength && datum.stride == Some(*number)
                };
                Some(exact + run.data.iter().find(of_stride)?.plain?)
            })
            .collect();
        lengths.map(|lengths| counted(&lengths))
    }
}

/// Runs one way after a hysteresis, worked out here and not by what is judged: the last extreme
/// is carried along, and a step back from it by more than the tolerance turns the way round.
fn counted(lengths: &[f64]) -> usize {
    let back = TOLERANCE * lengths.iter().sum::<f64>() / lengths.len() as f64;
    let mut ways: Vec<f64> = Vec::new();
    let mut extremes = (0, 0);
    for at in 0..lengths.len() {
        if lengths[at] < lengths[extremes.0] {
            extremes.0 = at;
        }
        if lengths[at] > lengths[extremes.1] {
            extremes.1 = at;
        }
        for (extreme, way) in [(extremes.0, 1.0), (extremes.1, -1.0)] {
            let gone = way * (lengths[at] - lengths[extreme]) > back;
            if gone && ways.last() != Some(&way) {
                ways.push(way);
                extremes = (at, at);
            }
        }
    }
    ways.len()
}

/// One row of scenes.
pub fn row(table: &mut Table, name: &str, runs: &[&Run]) {
    let judged: Vec<(&Run, &Pace)> =
        runs.iter().filter_map(|run| Some((*run, run.pace.as_ref()?))).collect();
    if judged.is_empty() {
        return;
    }
    let count = judged.len() as f64;
    let mean = |of: &dyn Fn(&Pace) -> f64| judged.iter().map(|(_, p)| of(p)).sum::<f64>() / count;
    let error = |pace: &Pace| pace.told as f64 - pace.exact() as f64;
    let right = mean(&|pace| f64::from(u8::from(pace.told == pace.exact())));
    let sure: Vec<&Pace> =
        judged.iter().map(|(_, pace)| *pace).filter(|pace| pace.probability >= 0.9).collect();
    let sure_right = sure.iter().filter(|pace| pace.told == pace.exact()).count();
    let plain: Vec<(usize, usize)> =
        judged.iter().filter_map(|(run, pace)| Some((pace.plain(run)?, pace.exact()))).collect();
    let plain_right = plain.iter().filter(|(told, exact)| told == exact).count();
    table.row(&[
        name.to_owned(),
        judged.len().to_string(),
        format!("{:.2}", mean(&|pace| error(pace).powi(2)).sqrt()),
        signed(mean(&error), 2, "").trim_end().to_owned(),
        format!("{:.1} %", 100.0 * right),
        format!("{:.1} %", 100.0 * mean(&|pace| pace.probability)),
        format!("{:.1} %", 100.0 * mean(&|pace| pace.of_truth)),
        format!("{sure_right} of {}", sure.len()),
        format!("{plain_right} of {}", plain.len()),
    ]);
}

/// The columns of [`row`], after the name.
pub const COLUMNS: [&str; 8] = [
    "scenes",
    "RMS error",
    "bias",
    "right",
    "said to be",
    "given to the truth",
    "right where said to be 90 % sure",
    "homography right",
];
