//! Errors along and across poles, gathered.

use crate::scene::FramePoint;
use crate::snap::{NotSnapped, Snapped};

/// What came of many clicks.
#[derive(Default)]
pub(super) struct Tally {
    pub(super) along: Vec<f64>,
    pub(super) across: Vec<f64>,
    pub(super) along_z: Vec<f64>,
    pub(super) across_z: Vec<f64>,
    pub(super) refused: Vec<NotSnapped>,
}

pub(super) fn rms(values: &[f64]) -> f64 {
    (values.iter().map(|v| v * v).sum::<f64>() / values.len().max(1) as f64).sqrt()
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}

impl Tally {
    /// Returns the errors along and across.
    pub(super) fn add(
        &mut self,
        result: &Result<Snapped, NotSnapped>,
        truth: FramePoint,
    ) -> Option<(f64, f64)> {
        match result {
            Ok(found) => {
                let (dx, dy) = (found.point.x - truth.x, found.point.y - truth.y);
                let along = dx * found.towards_x + dy * found.towards_y;
                let across = dy * found.towards_x - dx * found.towards_y;
                self.along.push(along);
                self.across.push(across);
                self.along_z.push(along / found.along_sd_px);
                self.across_z.push(across / found.across_sd_px);
                Some((along, across))
            }
            Err(why) => {
                self.refused.push(*why);
                None
            }
        }
    }

    /// Both together.
    pub(super) fn with(mut self, other: Self) -> Self {
        self.along.extend(other.along);
        self.across.extend(other.across);
        self.along_z.extend(other.along_z);
        self.across_z.extend(other.across_z);
        self.refused.extend(other.refused);
        self
    }

    pub(super) fn share(&self) -> f64 {
        self.along.len() as f64 / (self.along.len() + self.refused.len()).max(1) as f64
    }

    /// Root mean square over both coordinates.
    pub(super) fn rms(&self) -> f64 {
        (f64::midpoint(rms(&self.along).powi(2), rms(&self.across).powi(2))).sqrt()
    }

    /// The same of the errors in units of their stated standard deviations.
    pub(super) fn z(&self) -> f64 {
        (f64::midpoint(rms(&self.along_z).powi(2), rms(&self.across_z).powi(2))).sqrt()
    }

    pub(super) fn print(&self, name: &str) {
        println!(
            "{name}: {} of {} snapped ({:.0} %), along {:.2} (mean {:+.2}) z {:.2}, across {:.2} \
             (mean {:+.2}) z {:.2}, both {:.2} z {:.2}",
            self.along.len(),
            self.along.len() + self.refused.len(),
            100.0 * self.share(),
            rms(&self.along),
            mean(&self.along),
            rms(&self.along_z),
            rms(&self.across),
            mean(&self.across),
            rms(&self.across_z),
            self.rms(),
            self.z(),
        );
    }
}
