//! Symmetric sums of which most rows reach only to near neighbours.

/// Lower triangle of a symmetric matrix: the first rows hold a band about the diagonal, the last
/// ones everything.
pub(super) struct Banded {
    /// Of each row: its first column, and where it is kept.
    rows: Vec<(usize, usize)>,
    values: Vec<f64>,
}

impl Banded {
    /// `count` rows; row `i` of the first `banded` reaches back `width` columns.
    pub(super) fn new(count: usize, banded: usize, width: usize) -> Self {
        let mut rows = Vec::with_capacity(count);
        let mut kept = 0;
        for i in 0..count {
            let first = if i < banded { i.saturating_sub(width) } else { 0 };
            rows.push((first, kept));
            kept += i - first + 1;
        }
        Self { rows, values: vec![0.0; kept] }
    }

    /// Adds to row `i`, column `j` ≤ `i`.
    pub(super) fn add(&mut self, i: usize, j: usize, value: f64) {
        let (first, kept) = self.rows[i];
        self.values[kept + j - first] += value;
    }

    /// Solves in place by Cholesky's factors; `None` when the matrix is not positive.
    pub(super) fn solve(mut self, right: &mut [f64]) -> Option<()> {
        let count = self.rows.len();
        for i in 0..count {
            let (first_i, kept_i) = self.rows[i];
            let (above, below) = self.values.split_at_mut(kept_i);
            let row_i = &mut below[..=i - first_i];
            for j in first_i..i {
                let (first_j, kept_j) = self.rows[j];
                let first = first_i.max(first_j);
                let a = &row_i[first - first_i..j - first_i];
                let b = &above[kept_j + first - first_j..kept_j + j - first_j];
                let dot: f64 = a.iter().zip(b).map(|(a, b)| a * b).sum();
                let diagonal = above[kept_j + j - first_j];
                row_i[j - first_i] = (row_i[j - first_i] - dot) / diagonal;
            }
            let squares: f64 = row_i[..i - first_i].iter().map(|v| v * v).sum();
            let square = row_i[i - first_i] - squares;
            if square <= 0.0 || !square.is_finite() {
                return None;
            }
            row_i[i - first_i] = square.sqrt();
        }
        for i in 0..count {
            let (first, kept) = self.rows[i];
            let row = &self.values[kept..=kept + i - first];
            let dot: f64 = row.iter().zip(&right[first..i]).map(|(a, b)| a * b).sum();
            right[i] = (right[i] - dot) / row[i - first];
        }
        for i in (0..count).rev() {
            let (first, kept) = self.rows[i];
            let row = &self.values[kept..=kept + i - first];
            right[i] /= row[i - first];
            let solved = right[i];
            for (value, share) in right[first..i].iter_mut().zip(row) {
                *value -= share * solved;
            }
        }
        Some(())
    }
}
