//! The joint distribution of everything a survey placed on the ground.

use std::collections::BTreeMap;

use nalgebra::{DMatrix, DVector, Matrix2};

use super::outcome::GroundEllipse;
use crate::marks::MarkAddress;
use crate::quantity::{DrawError, GaussianDraws, seeded};
use crate::scene::GroundPoint;

/// Mean and covariance of the unknowns, and which of them are places and tracks.
#[derive(Clone, Debug)]
pub struct Posterior {
    mean: DVector<f64>,
    covariance: DMatrix<f64>,
    places: BTreeMap<MarkAddress, usize>,
    tracks: BTreeMap<String, usize>,
}

/// Draws of some places and tracks, all from one joint distribution.
pub struct PlaceDraws {
    draws: DMatrix<f64>,
    rows: BTreeMap<usize, usize>,
    places: BTreeMap<MarkAddress, usize>,
    tracks: BTreeMap<String, usize>,
}

impl Posterior {
    /// `places` maps to the first of two columns, `tracks` to the first of three.
    pub(super) fn new(
        mean: DVector<f64>,
        covariance: DMatrix<f64>,
        places: BTreeMap<MarkAddress, usize>,
        tracks: BTreeMap<String, usize>,
    ) -> Self {
        Self { mean, covariance, places, tracks }
    }

    /// Best place of a point on the ground.
    pub fn place(&self, address: &MarkAddress) -> Option<GroundPoint> {
        let at = *self.places.get(address)?;
        Some(GroundPoint::new(self.mean[at], self.mean[at + 1]))
    }

    /// Best offset (m), slope and bend (1/m) of a track in its fixed frame.
    pub fn track(&self, approach: &str) -> Option<[f64; 3]> {
        let at = *self.tracks.get(approach)?;
        Some([self.mean[at], self.mean[at + 1], self.mean[at + 2]])
    }

    /// One-sd ellipse of a place.
    pub fn ellipse(&self, address: &MarkAddress) -> Option<GroundEllipse> {
        let at = *self.places.get(address)?;
        let block = Matrix2::new(
            self.covariance[(at, at)],
            self.covariance[(at, at + 1)],
            self.covariance[(at + 1, at)],
            self.covariance[(at + 1, at + 1)],
        );
        let eigen = block.symmetric_eigen();
        let (long, short) =
            if eigen.eigenvalues[0] >= eigen.eigenvalues[1] { (0, 1) } else { (1, 0) };
        let axis = eigen.eigenvectors.column(long);
        Some(GroundEllipse {
            major_sd_m: eigen.eigenvalues[long].max(0.0).sqrt(),
            minor_sd_m: eigen.eigenvalues[short].max(0.0).sqrt(),
            turn_rad: axis[1].atan2(axis[0]),
        })
    }

    /// Standard deviation of the distance between two places, metres.
    pub fn distance_sd(&self, a: &MarkAddress, b: &MarkAddress) -> Option<f64> {
        let (p, q) = (self.place(a)?, self.place(b)?);
        let (i, j) = (*self.places.get(a)?, *self.places.get(b)?);
        let length = p.distance(q).max(1e-9);
        let unit = [(q.x - p.x) / length, (q.y - p.y) / length];
        let columns = [(i, -unit[0]), (i + 1, -unit[1]), (j, unit[0]), (j + 1, unit[1])];
        let mut variance = 0.0;
        for (row, left) in columns {
            for (column, right) in columns {
                variance += left * right * self.covariance[(row, column)];
            }
        }
        Some(variance.max(0.0).sqrt())
    }

    /// `count` seeded draws of all places and tracks that numbers are made from.
    pub fn draws(
        &self,
        wanted: &[MarkAddress],
        count: usize,
        seed: u64,
    ) -> Result<PlaceDraws, DrawError> {
        let mut columns: Vec<usize> = Vec::new();
        let mut places = BTreeMap::new();
        for address in wanted {
            if let Some(&at) = self.places.get(address) {
                columns.extend([at, at + 1]);
                places.insert(address.clone(), at);
            }
        }
        for &at in self.tracks.values() {
            columns.extend([at, at + 1, at + 2]);
        }
        columns.sort_unstable();
        columns.dedup();
        let mean = DVector::from_iterator(columns.len(), columns.iter().map(|c| self.mean[*c]));
        let covariance = DMatrix::from_fn(columns.len(), columns.len(), |i, j| {
            self.covariance[(columns[i], columns[j])]
        });
        let draws = GaussianDraws::new(mean, &covariance)?.draw(count, &mut seeded(seed));
        let rows = columns.iter().enumerate().map(|(row, column)| (*column, row)).collect();
        Ok(PlaceDraws { draws, rows, places, tracks: self.tracks.clone() })
    }
}

impl PlaceDraws {
    /// How many draws.
    pub fn count(&self) -> usize {
        self.draws.ncols()
    }

    /// A place in one draw.
    pub fn place(&self, address: &MarkAddress, draw: usize) -> Option<GroundPoint> {
        let at = *self.places.get(address)?;
        Some(GroundPoint::new(self.value(at, draw)?, self.value(at + 1, draw)?))
    }

    /// Offset, heading and bend of a track in one draw, relative to the track's fixed frame.
    pub fn track(&self, approach: &str, draw: usize) -> Option<[f64; 3]> {
        let at = *self.tracks.get(approach)?;
        Some([self.value(at, draw)?, self.value(at + 1, draw)?, self.value(at + 2, draw)?])
    }

    fn value(&self, column: usize, draw: usize) -> Option<f64> {
        Some(self.draws[(*self.rows.get(&column)?, draw)])
    }
}
