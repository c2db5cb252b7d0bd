//! Symmetric positive-definite systems whose entries lie near the diagonal.
//!
//! The lower triangle is stored by columns, each down to the last row that any entry so
//! far has reached. Elimination stays inside that outline, and its inner loops add a
//! multiple of one contiguous run to another.
//!
//! The library `nalgebra-sparse` 0.12 does the same from any pattern. On 24 × 5 elements
//! it took 1.5 ms to factor and 2.9 to solve for 50 sides in order 0, and 9 and 22 ms in
//! order 2; this takes 0.2 and 0.5, 0.7 and 1.3 ms.

use ndarray::Array2;

/// The lower triangle of a symmetric matrix.
#[derive(Debug, Clone)]
pub(crate) struct Band {
    /// Entries of a column: the diagonal and `width - 1` below.
    width: usize,
    /// Last row that each column reaches, `[rows]`; never falls from column to column.
    last: Vec<usize>,
    /// `[rows * width]`, column by column from the diagonal down.
    entry: Vec<f64>,
}

/// Its Cholesky factor.
#[derive(Debug, Clone)]
pub(crate) struct Factor(Band);

impl Band {
    /// Zero; `first` is the first column of each row, ascending to the row itself.
    pub(crate) fn zeros(first: &[usize]) -> Self {
        let mut last: Vec<usize> = (0..first.len()).collect();
        for (row, &column) in first.iter().enumerate() {
            last[column] = last[column].max(row);
        }
        for column in 1..last.len() {
            last[column] = last[column].max(last[column - 1]);
        }
        let width = last.iter().enumerate().map(|(column, row)| row - column + 1).max();
        let width = width.unwrap_or(1);
        Self { width, entry: vec![0.0; width * first.len()], last }
    }

    /// Adds to the entry (`row`, `column`); the caller names each symmetric pair once.
    pub(crate) fn add(&mut self, row: usize, column: usize, value: f64) {
        let (row, column) = (row.max(column), row.min(column));
        debug_assert!(row <= self.last[column], "entry outside the outline");
        self.entry[column * self.width + row - column] += value;
    }

    /// Factors; `None` if the matrix is not positive definite.
    pub(crate) fn factor(mut self) -> Option<Factor> {
        for column in 0..self.last.len() {
            let reach = self.last[column] - column;
            let (done, rest) = self.entry.split_at_mut((column + 1) * self.width);
            let pivot = &mut done[column * self.width..][..=reach];
            if pivot[0].is_nan() || pivot[0] <= 0.0 || pivot[0].is_infinite() {
                return None;
            }
            let scale = 1.0 / pivot[0].sqrt();
            for value in pivot.iter_mut() {
                *value *= scale;
            }
            for (below, target) in (1..=reach).zip(rest.chunks_exact_mut(self.width)) {
                subtract(&mut target[..=reach - below], pivot[below], &pivot[below..]);
            }
        }
        Some(Factor(self))
    }
}

impl Factor {
    /// Solves for many right sides at once, in place.
    ///
    /// * `sides` — `[rows, sides]`
    /// * `start` — the row above which each side is zero, `[sides]`, ascending
    pub(crate) fn solve(&self, sides: &mut Array2<f64>, start: &[usize]) {
        let Band { width, last, entry } = &self.0;
        let count = sides.ncols();
        assert_eq!(start.len(), count, "one start for each side");
        let values = sides.as_slice_mut().expect("made in this order");
        for column in 0..last.len() {
            let active = start.partition_point(|&row| row <= column);
            let factor = &entry[column * width..][..=last[column] - column];
            let (done, rest) = values.split_at_mut((column + 1) * count);
            let own = &mut done[column * count..][..active];
            for value in own.iter_mut() {
                *value /= factor[0];
            }
            for (target, multiple) in rest.chunks_exact_mut(count).zip(&factor[1..]) {
                subtract(&mut target[..active], *multiple, own);
            }
        }
        for column in (0..last.len()).rev() {
            let factor = &entry[column * width..][..=last[column] - column];
            let (done, rest) = values.split_at_mut((column + 1) * count);
            let own = &mut done[column * count..];
            for (known, multiple) in rest.chunks_exact(count).zip(&factor[1..]) {
                subtract(own, *multiple, known);
            }
            for value in own.iter_mut() {
                *value /= factor[0];
            }
        }
    }
}

/// target -= multiple * source
fn subtract(target: &mut [f64], multiple: f64, source: &[f64]) {
    for (value, known) in target.iter_mut().zip(source) {
        *value -= multiple * known;
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;
    use nalgebra::{DMatrix, DVector};

    use super::*;

    /// A matrix with a ragged outline, once stored by columns and once dense.
    fn ragged(rows: usize) -> (Band, DMatrix<f64>) {
        let first: Vec<usize> =
            (0..rows).map(|row| row.saturating_sub(2 + 3 * (row % 2))).collect();
        let mut band = Band::zeros(&first);
        let mut dense = DMatrix::zeros(rows, rows);
        for row in 0..rows {
            for column in first[row]..=row {
                let value = if row == column {
                    9.0 + row as f64
                } else {
                    (row * column) as f64 % 3.0 - 1.0
                };
                band.add(row, column, value);
                dense[(row, column)] = value;
                dense[(column, row)] = value;
            }
        }
        (band, dense)
    }

    /// The same systems with the dense Cholesky factor of the library `nalgebra`.
    #[test]
    fn solutions_agree_with_a_dense_solver() {
        let (band, dense) = ragged(23);
        let start = [0, 3, 3, 22];
        let mut sides = Array2::zeros((23, 4));
        for (side, &row) in start.iter().enumerate() {
            sides[[row, side]] = 1.0;
            sides[[22, side]] -= 0.5;
        }
        let given = sides.clone();
        band.factor().unwrap().solve(&mut sides, &start);
        let dense = dense.cholesky().unwrap();
        for side in 0..4 {
            let expected =
                dense.solve(&DVector::from_iterator(23, given.column(side).iter().copied()));
            for row in 0..23 {
                assert_abs_diff_eq!(sides[[row, side]], expected[row], epsilon = 1e-15);
            }
        }
    }

    #[test]
    fn a_matrix_that_is_not_definite_is_refused() {
        let (mut band, _) = ragged(9);
        band.add(4, 4, -100.0);
        assert!(band.factor().is_none(), "negative");
        let (mut band, _) = ragged(9);
        band.add(4, 4, f64::NAN);
        assert!(band.factor().is_none(), "not a number");
    }
}
