//! How large the scene comes out, over how large its first reference was stated to be.
//!
//! Beliefs of a size in metres that many marks share (a hand's sway in each frame, hooves beside
//! their track, depths of ties) must be beliefs in units of this scale. In plain metres they
//! would vote, each a little, for a smaller scene, in which sway and scatter are smaller too:
//! seventy of them outvote a spacing that is known to 3 % and draw all lengths 6 % short. (The
//! least-squares value is a mode; the mean over the unknown sways has a volume factor that
//! cancels this pull, and the mode has not.)

use nalgebra::DVector;

/// One plus a linear function of the unknowns.
#[derive(Clone, Debug, Default)]
pub struct Scale {
    /// Column, its value at scale 1, scale per unit of it.
    terms: Vec<(usize, f64, f64)>,
}

/// A scene this many times smaller than stated is refused by others; here it only must not
/// divide by zero.
const LEAST: f64 = 0.05;

impl Scale {
    /// Lets the scale depend on a column.
    pub fn depend(&mut self, column: usize, at_one: f64, per_unit: f64) {
        self.terms.push((column, at_one, per_unit));
    }

    /// The scale at given unknowns.
    pub fn at(&self, x: &DVector<f64>) -> f64 {
        let change: f64 = self.terms.iter().map(|(i, at, per)| per * (x[*i] - at)).sum();
        (1.0 + change).max(LEAST)
    }

    /// How it moves, by column.
    pub fn derivatives(&self) -> impl Iterator<Item = (usize, f64)> + '_ {
        self.terms.iter().map(|(column, _, per)| (*column, *per))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_scale_follows_what_was_stated() {
        // A spacing of 3 m whose relative error is unknown 1, and a length of 5 m, unknown 0.
        let mut scale = Scale::default();
        scale.depend(1, 0.0, 1.0);
        scale.depend(0, 5.0, 0.2);
        let at = |length: f64, error: f64| scale.at(&DVector::from_vec(vec![length, error]));
        assert_eq!(at(5.0, 0.0), 1.0);
        assert!((at(5.0, 0.03) - 1.03).abs() < 1e-12);
        assert!((at(5.5, 0.03) - 1.13).abs() < 1e-12);
        assert!(at(-9.0, 0.0) > 0.0);
        assert_eq!(scale.derivatives().collect::<Vec<_>>(), [(1, 1.0), (0, 0.2)]);
        assert_eq!(Scale::default().at(&DVector::zeros(2)), 1.0);
    }
}
