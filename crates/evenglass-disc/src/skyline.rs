//! Symmetric positive-definite matrices stored from each row's first entry to its diagonal.
//!
//! Rows keep their own length because a point couples to all points of its own
//! block and no further: the profile, not the widest band, sets the work.

/// A symmetric matrix; each row holds the columns from `start` to the diagonal.
#[derive(Debug, Clone)]
pub(crate) struct Skyline {
    /// First stored column of each row, `[rows]`.
    start: Vec<usize>,
    /// Offset in `value` of each row, `[rows + 1]`.
    offset: Vec<usize>,
    value: Vec<f64>,
}

impl Skyline {
    /// Zero, with the given first column in each row.
    pub(crate) fn zeros(start: Vec<usize>) -> Self {
        let mut offset = Vec::with_capacity(start.len() + 1);
        let mut total = 0;
        offset.push(0);
        for (row, &first) in start.iter().enumerate() {
            assert!(first <= row, "a row reaches from its first column to its diagonal");
            total += row - first + 1;
            offset.push(total);
        }
        Self { start, offset, value: vec![0.0; total] }
    }

    pub(crate) fn rows(&self) -> usize {
        self.start.len()
    }

    /// Number of stored values.
    pub(crate) fn stored(&self) -> usize {
        self.value.len()
    }

    /// Adds to the entry (`row`, `column`); the caller names each symmetric pair once.
    pub(crate) fn add(&mut self, row: usize, column: usize, value: f64) {
        let (row, column) = if row >= column { (row, column) } else { (column, row) };
        debug_assert!(column >= self.start[row], "entry outside the profile");
        self.value[self.offset[row] + column - self.start[row]] += value;
    }

    pub(crate) fn add_diagonal(&mut self, diagonal: &[f64], factor: f64) {
        for (row, &value) in diagonal.iter().enumerate() {
            self.value[self.offset[row + 1] - 1] += factor * value;
        }
    }

    /// Takes over the entries of a matrix with the same profile.
    pub(crate) fn copy_from(&mut self, other: &Self) {
        self.value.copy_from_slice(&other.value);
    }

    /// result = self · vector, both `[rows]`.
    pub(crate) fn multiply(&self, vector: &[f64], result: &mut [f64]) {
        result.fill(0.0);
        for row in 0..self.rows() {
            let (first, entries) = self.row(row);
            let (&diagonal, below) = entries.split_last().expect("every row has its diagonal");
            let here = vector[row];
            let inner = &mut result[first..row];
            for (sum, entry) in inner.iter_mut().zip(below) {
                *sum += entry * here;
            }
            result[row] += dot(below, &vector[first..row]) + diagonal * here;
        }
    }

    /// Replaces the matrix by its Cholesky factor; the diagonal holds reciprocals.
    ///
    /// No pivoting: every matrix built here is a conduction matrix, which is
    /// positive semi-definite, plus a positive heat capacity on its diagonal.
    pub(crate) fn factor(&mut self) {
        for row in 0..self.rows() {
            let first = self.start[row];
            let (done, rest) = self.value.split_at_mut(self.offset[row]);
            let current = &mut rest[..=row - first];
            for column in first..row {
                let other_first = self.start[column];
                let from = first.max(other_first);
                let other = &done[self.offset[column]..self.offset[column + 1]];
                let (reciprocal, other) = other.split_last().expect("every row has its diagonal");
                let sum = dot(&current[from - first..column - first], &other[from - other_first..]);
                current[column - first] = (current[column - first] - sum) * reciprocal;
            }
            let (diagonal, below) = current.split_last_mut().expect("every row has its diagonal");
            *diagonal = 1.0 / (*diagonal - dot(below, below)).sqrt();
        }
    }

    /// Solves with a factor made by [`Skyline::factor`]: right-hand side in, solution out.
    pub(crate) fn solve(&self, vector: &mut [f64]) {
        for row in 0..self.rows() {
            let (first, entries) = self.row(row);
            let (reciprocal, below) = entries.split_last().expect("every row has its diagonal");
            vector[row] = (vector[row] - dot(below, &vector[first..row])) * reciprocal;
        }
        for row in (0..self.rows()).rev() {
            let (first, entries) = self.row(row);
            let (reciprocal, below) = entries.split_last().expect("every row has its diagonal");
            let value = vector[row] * reciprocal;
            vector[row] = value;
            for (left, entry) in vector[first..row].iter_mut().zip(below) {
                *left -= entry * value;
            }
        }
    }

    fn row(&self, row: usize) -> (usize, &[f64]) {
        (self.start[row], &self.value[self.offset[row]..self.offset[row + 1]])
    }
}

/// Dot product in eight partial sums, which the compiler can hold in registers;
/// a single running sum would wait for each addition.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let length = a.len().min(b.len());
    let (a, b) = (&a[..length], &b[..length]);
    let mut sums = [0.0; 8];
    let (left, right) = (a.chunks_exact(8), b.chunks_exact(8));
    let tail: f64 = left.remainder().iter().zip(right.remainder()).map(|(x, y)| x * y).sum();
    for (x, y) in left.zip(right) {
        for k in 0..8 {
            sums[k] += x[k] * y[k];
        }
    }
    ((sums[0] + sums[4]) + (sums[1] + sums[5])) + ((sums[2] + sums[6]) + (sums[3] + sums[7])) + tail
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn the_factor_solves_what_the_matrix_multiplies() {
        let start: Vec<usize> = (0..40_usize).map(|row| row.saturating_sub(3 + row % 9)).collect();
        let mut matrix = Skyline::zeros(start.clone());
        for (row, &first) in start.iter().enumerate() {
            for column in first..row {
                matrix.add(row, column, ((row * 7 + column * 3) % 5) as f64 - 2.0);
            }
            matrix.add(row, row, 60.0 + row as f64);
        }
        let solution: Vec<f64> = (0..40).map(|i| f64::from(i).sin()).collect();
        let mut right = vec![0.0; 40];
        matrix.multiply(&solution, &mut right);
        matrix.factor();
        matrix.solve(&mut right);
        for (found, expected) in right.iter().zip(&solution) {
            assert_abs_diff_eq!(found, expected, epsilon = 1e-13);
        }
    }
}
