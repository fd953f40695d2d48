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
        let block: Matrix2<f64> = self.covariance.fixed_view::<2, 2>(at, at).into();
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

#[cfg(test)]
mod tests {
    use super::*;

    fn tie(id: &str) -> MarkAddress {
        MarkAddress::Tie { tie: id.into() }
    }

    /// Places `p` in columns 4 and 5, `q` in 1 and 2, a track in 6 to 8; columns 0 and 3 are
    /// others' unknowns.
    fn posterior(covariance: DMatrix<f64>) -> Posterior {
        let mean = DVector::from_vec(vec![9.0, 4.0, 6.0, 9.0, 1.0, 2.0, 0.3, 0.1, 0.02]);
        let places = BTreeMap::from([(tie("p"), 4), (tie("q"), 1)]);
        Posterior::new(mean, covariance, places, BTreeMap::from([("ride".into(), 6)]))
    }

    #[test]
    fn what_was_placed_is_found_by_its_name() {
        let posterior = posterior(DMatrix::identity(9, 9));
        assert_eq!(posterior.place(&tie("p")), Some(GroundPoint::new(1.0, 2.0)));
        assert_eq!(posterior.place(&tie("q")), Some(GroundPoint::new(4.0, 6.0)));
        assert_eq!(posterior.place(&tie("nowhere")), None);
        assert_eq!(posterior.track("ride"), Some([0.3, 0.1, 0.02]));
        assert_eq!(posterior.track("nobody's"), None);
    }

    #[test]
    fn an_ellipse_has_the_axes_of_the_covariance() {
        // Variances 9 and 4 along axes turned by 30° and by 120°.
        for degrees in [30f64, 120.0] {
            let (sin, cos) = degrees.to_radians().sin_cos();
            let mut covariance = DMatrix::identity(9, 9);
            covariance[(4, 4)] = 9.0 * cos * cos + 4.0 * sin * sin;
            covariance[(5, 5)] = 9.0 * sin * sin + 4.0 * cos * cos;
            covariance[(4, 5)] = 5.0 * sin * cos;
            covariance[(5, 4)] = 5.0 * sin * cos;
            let ellipse = posterior(covariance).ellipse(&tie("p")).unwrap();
            assert!((ellipse.major_sd_m - 3.0).abs() < 1e-12);
            assert!((ellipse.minor_sd_m - 2.0).abs() < 1e-12);
            let turn = ellipse.turn_rad.to_degrees().rem_euclid(180.0);
            assert!((turn - degrees).abs() < 1e-9, "{turn}");
        }
    }

    #[test]
    fn a_distance_is_as_uncertain_as_its_ends_along_it() {
        // From (1, 2) to (4, 6): 5 m along (0.6, 0.8).
        let mut covariance =
            DMatrix::from_diagonal(&DVector::from_fn(9, |i, _| 0.01 * (i + 1) as f64));
        let sd = |covariance: &DMatrix<f64>| {
            posterior(covariance.clone()).distance_sd(&tie("p"), &tie("q")).unwrap()
        };
        // p has 0.05 and 0.06, q 0.02 and 0.03: 0.36 · 0.07 + 0.64 · 0.09 = 0.0828.
        assert!((sd(&covariance).powi(2) - 0.0828).abs() < 1e-12);
        // What both ends share in x does not change it: −2 · 0.36 · 0.01.
        covariance[(1, 4)] = 0.01;
        covariance[(4, 1)] = 0.01;
        assert!((sd(&covariance).powi(2) - 0.0756).abs() < 1e-12);
        // What q's x and y share does: +2 · 0.48 · 0.02.
        covariance[(1, 2)] = 0.02;
        covariance[(2, 1)] = 0.02;
        assert!((sd(&covariance).powi(2) - 0.0948).abs() < 1e-12);
        // And what they share in y: −2 · 0.64 · 0.005.
        covariance[(5, 2)] = 0.005;
        covariance[(2, 5)] = 0.005;
        assert!((sd(&covariance).powi(2) - 0.0884).abs() < 1e-12);
        assert_eq!(posterior(covariance).distance_sd(&tie("p"), &tie("nowhere")), None);
    }

    #[test]
    fn draws_have_the_mean_and_the_covariance_of_what_they_are_drawn_from() {
        let root =
            DMatrix::from_fn(
                9,
                9,
                |i, j| if i >= j { 0.1 + 0.03 * (i * 2 + j) as f64 } else { 0.0 },
            );
        let covariance = &root * root.transpose();
        let posterior = posterior(covariance.clone());
        let count = 20_000;
        let draws = posterior.draws(&[tie("p"), tie("nowhere"), tie("q")], count, 7).unwrap();
        assert_eq!(draws.count(), count);
        assert_eq!(draws.place(&tie("nowhere"), 0), None);
        let columns = [4, 5, 1, 2, 6, 7, 8];
        let row = |draw: usize| {
            let (p, q) =
                (draws.place(&tie("p"), draw).unwrap(), draws.place(&tie("q"), draw).unwrap());
            let [offset, slope, bend] = draws.track("ride", draw).unwrap();
            DVector::from_vec(vec![p.x, p.y, q.x, q.y, offset, slope, bend])
        };
        let drawn = DMatrix::from_columns(&(0..count).map(row).collect::<Vec<_>>());
        let mean = drawn.column_mean();
        let off = DMatrix::from_fn(7, count, |i, j| drawn[(i, j)] - mean[i]);
        let found = &off * off.transpose() / count as f64;
        for (i, &a) in columns.iter().enumerate() {
            assert!((mean[i] - posterior.mean[a]).abs() < 0.05, "mean of {a}: {}", mean[i]);
            for (j, &b) in columns.iter().enumerate() {
                let scale = (covariance[(a, a)] * covariance[(b, b)]).sqrt();
                assert!((found[(i, j)] - covariance[(a, b)]).abs() < 0.05 * scale, "{a}, {b}");
            }
        }
    }
}
