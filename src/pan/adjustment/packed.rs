//! A symmetric matrix without its upper half, as it is kept on disk.

use nalgebra::DMatrix;
use serde::{Deserialize, Serialize};

/// The lower triangle of a symmetric matrix, row by row.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Packed {
    size: usize,
    values: Vec<f64>,
}

impl Packed {
    /// From a matrix, of which the lower half is read.
    pub fn of(matrix: &DMatrix<f64>) -> Self {
        let size = matrix.nrows();
        let values = (0..size).flat_map(|i| (0..=i).map(move |j| matrix[(i, j)])).collect();
        Self { size, values }
    }

    /// All zero.
    pub fn zeros(size: usize) -> Self {
        Self { size, values: vec![0.0; size * (size + 1) / 2] }
    }

    /// Rows, and columns.
    pub fn size(&self) -> usize {
        self.size
    }

    /// One entry; zero outside the matrix.
    pub fn at(&self, row: usize, column: usize) -> f64 {
        let (i, j) = (row.max(column), row.min(column));
        self.values.get(i * (i + 1) / 2 + j).copied().unwrap_or(0.0)
    }

    /// The whole matrix.
    pub fn matrix(&self) -> DMatrix<f64> {
        DMatrix::from_fn(self.size, self.size, |i, j| self.at(i, j))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_packed_matrix_is_the_same_when_unpacked() {
        let whole = DMatrix::from_row_slice(3, 3, &[4.0, 1.0, 7.0, 1.0, 5.0, 2.0, 7.0, 2.0, 6.0]);
        let packed = Packed::of(&whole);
        assert_eq!(packed.matrix(), whole);
        assert_eq!((packed.size(), packed.at(0, 2)), (3, 7.0));
        assert_eq!(Packed::zeros(4).matrix(), DMatrix::zeros(4, 4));
    }
}
