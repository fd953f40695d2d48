//! The list of unknowns of one adjustment: start value, prior, and what each one is.

use nalgebra::DVector;

use crate::quantity::Given;

/// What an unknown is, as far as a misfit of its prior is worth telling.
#[derive(Clone, Debug, PartialEq)]
pub enum Meaning {
    /// Nothing whose prior needs testing.
    Plain,
    /// Natural logarithm of the focal length.
    Focal,
    /// Height of the camera.
    CameraHeight,
    /// Common relative error of a pole spacing.
    Spacing {
        /// The reference's id.
        reference: String,
    },
    /// A pole's shift along the way the horse goes.
    PoleShift {
        /// The reference's id.
        reference: String,
        /// 1 is the first.
        pole: u32,
    },
    /// A stated length: of poles, of a distance, of a vertical, of a rail's height.
    StatedLength {
        /// The reference's id.
        reference: String,
    },
}

/// All unknowns of one adjustment.
#[derive(Clone, Debug, Default)]
pub struct Unknowns {
    start: Vec<f64>,
    priors: Vec<Option<Given>>,
    meanings: Vec<Meaning>,
}

/// "Exactly" still needs a number to divide by: far below anything that can be seen.
const EXACT_SD: f64 = 1e-7;

impl Unknowns {
    /// Adds an unknown and returns its column.
    pub fn add(&mut self, start: f64, prior: Option<Given>, meaning: Meaning) -> usize {
        let prior = prior.map(|p| Given::new(p.value, p.sd.max(EXACT_SD)));
        self.start.push(start);
        self.priors.push(prior);
        self.meanings.push(meaning);
        self.start.len() - 1
    }

    /// An unknown of which nothing is believed.
    pub fn free(&mut self, start: f64) -> usize {
        self.add(start, None, Meaning::Plain)
    }

    /// An unknown believed to be `value` give or take `sd`.
    pub fn believed(&mut self, value: f64, sd: f64) -> usize {
        self.add(value, Some(Given::new(value, sd)), Meaning::Plain)
    }

    /// How many.
    pub fn len(&self) -> usize {
        self.start.len()
    }

    /// The start values.
    pub fn start(&self) -> DVector<f64> {
        DVector::from_vec(self.start.clone())
    }

    /// The priors, (column, belief).
    pub fn priors(&self) -> impl Iterator<Item = (usize, Given)> + '_ {
        self.priors.iter().enumerate().filter_map(|(column, prior)| Some((column, (*prior)?)))
    }

    /// Replaces a prior.
    pub fn set_prior(&mut self, column: usize, prior: Given) {
        self.priors[column] = Some(prior);
    }

    /// What a column is.
    pub fn meaning(&self, column: usize) -> &Meaning {
        &self.meanings[column]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn unknowns_keep_their_order_and_their_beliefs() {
        let mut unknowns = Unknowns::default();
        assert_eq!(unknowns.free(3.0), 0);
        assert_eq!(unknowns.believed(0.5, 0.1), 1);
        assert_eq!(unknowns.add(7.0, Some(Given::new(6.0, 0.0)), Meaning::Focal), 2);
        assert_eq!((unknowns.len(), unknowns.start()), (3, DVector::from_vec(vec![3.0, 0.5, 7.0])));
        let believed: Vec<(usize, Given)> = unknowns.priors().collect();
        assert_eq!(believed[0], (1, Given::new(0.5, 0.1)));
        // "Exactly" is a standard deviation that can still be divided by.
        assert_eq!((believed[1].0, believed[1].1.value), (2, 6.0));
        assert!(believed[1].1.sd > 0.0 && believed[1].1.sd < 1e-6);
        unknowns.set_prior(0, Given::new(2.0, 0.3));
        assert_eq!(unknowns.priors().next(), Some((0, Given::new(2.0, 0.3))));
        assert_eq!((unknowns.meaning(1), unknowns.meaning(2)), (&Meaning::Plain, &Meaning::Focal));
    }
}
