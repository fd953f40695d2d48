//! How much a sighting is worth, by how badly it fits.

/// Standard deviations beyond which a sighting counts less and less. Movers and mismatches lie
/// tens of them away; an honest sighting reaches it once in 23 (two directions).
const BEND: f64 = 2.5;

/// How residuals become cost.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Weighing {
    /// Factor on all stated standard deviations, 1 or more.
    pub scale: f64,
    /// Whether a bad fit counts less (Cauchy's loss); else squares, of the sightings still in use.
    pub robust: bool,
}

impl Weighing {
    /// Cost (half of what takes the place of χ²) and weight of a sighting whose squared misfit is
    /// `squares` in standard deviations as stated. Weights include the scale.
    pub fn of(self, squares: f64) -> (f64, f64) {
        let scaled = squares / self.scale.powi(2);
        if self.robust {
            let bend2 = BEND * BEND;
            (
                0.5 * bend2 * (scaled / bend2).ln_1p(),
                1.0 / (1.0 + scaled / bend2) / self.scale.powi(2),
            )
        } else {
            (0.5 * scaled, 1.0 / self.scale.powi(2))
        }
    }

    /// Cost of a sighting that has no picture at all: behind the camera.
    pub fn of_unseen(self) -> f64 {
        self.of(1e6).0
    }
}
