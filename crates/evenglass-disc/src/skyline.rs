//! Symmetric positive-definite matrices stored from each row's first entry to its diagonal.
//!
//! Rows keep their own length because a point couples to all points of its own
//! block and no further: the profile, not the widest band, sets the work. The
//! rows of one column of points start at the same place, so that up to ten of
//! them are worked on side by side in the lanes of a panel: the inner loops run
//! over contiguous lanes and need no sums across them.

/// A symmetric matrix; each row holds the columns from `start` to the diagonal.
#[derive(Debug, Clone)]
pub(crate) struct Skyline {
    /// First stored column of each row, `[rows]`.
    start: Vec<usize>,
    /// Offset in `value` of each row, `[rows + 1]`.
    offset: Vec<usize>,
    value: Vec<f64>,
    panels: Vec<Panel>,
    /// The part left of the panels' own square, again, lane by lane: `[column][lane]`.
    lanes: Vec<f64>,
}

/// Neighbouring rows that start in the same column.
#[derive(Debug, Clone, Copy)]
struct Panel {
    first: usize,
    rows: usize,
    start: usize,
    /// Lanes, at least `rows`; the spare ones hold zeros.
    width: usize,
    /// Offset in `lanes`.
    offset: usize,
}

/// Calls a function for the panel's number of lanes.
macro_rules! for_width {
    ($panel:expr, $call:ident ( $($argument:expr),* )) => {
        match $panel.width {
            4 => $call::<4>($($argument),*),
            6 => $call::<6>($($argument),*),
            8 => $call::<8>($($argument),*),
            _ => $call::<10>($($argument),*),
        }
    };
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
        let panels = panels(&start);
        let lanes = panels.last().map_or(0, |p| p.offset + (p.first - p.start) * p.width);
        Self { start, offset, value: vec![0.0; total], panels, lanes: vec![0.0; lanes] }
    }

    pub(crate) fn rows(&self) -> usize {
        self.start.len()
    }

    /// Adds to the entry (`row`, `column`); the caller names each symmetric pair once.
    /// [`Skyline::fill_lanes`] must follow before the matrix multiplies.
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

    /// Makes the first rows and columns zero.
    /// [`Skyline::fill_lanes`] must follow before the matrix multiplies.
    pub(crate) fn clear_first(&mut self, count: usize) {
        for row in 0..self.rows() {
            let columns = count.min(row + 1).saturating_sub(self.start[row]);
            self.value[self.offset[row]..][..columns].fill(0.0);
        }
    }

    /// Takes over the entries of a matrix with the same profile.
    pub(crate) fn copy_from(&mut self, other: &Self) {
        self.value.copy_from_slice(&other.value);
    }

    /// Copies the entries left of the panels' squares into the lanes.
    pub(crate) fn fill_lanes(&mut self) {
        for panel in &self.panels {
            for lane in 0..panel.rows {
                let row = self.offset[panel.first + lane];
                let entries = &self.value[row..row + panel.first - panel.start];
                let lanes = self.lanes[panel.offset + lane..].iter_mut().step_by(panel.width);
                for (target, &entry) in lanes.zip(entries) {
                    *target = entry;
                }
            }
        }
    }

    /// result = self · vector, both `[rows]`.
    pub(crate) fn multiply(&self, vector: &[f64], result: &mut [f64]) {
        for panel in &self.panels {
            let columns = &vector[panel.start..panel.first];
            let mut below = for_width!(panel, combine(self.lanes_of(panel), columns));
            for lane in 0..panel.rows {
                let row = panel.first + lane;
                let (entries, diagonal) = self.entries(row);
                let (left, square) = entries.split_at(panel.first - panel.start);
                add_scaled(&mut result[panel.start..panel.first], left, vector[row]);
                for (earlier, entry) in square.iter().enumerate() {
                    below[lane] += entry * vector[panel.first + earlier];
                    below[earlier] += entry * vector[row];
                }
                below[lane] += diagonal * vector[row];
            }
            result[panel.first..panel.first + panel.rows].copy_from_slice(&below[..panel.rows]);
        }
    }

    /// Replaces the matrix by its Cholesky factor; the diagonal holds reciprocals.
    ///
    /// No pivoting: every matrix built here is a conduction matrix, which is
    /// positive semi-definite, plus a positive heat capacity on its diagonal.
    pub(crate) fn factor(&mut self) {
        self.fill_lanes();
        for n in 0..self.panels.len() {
            let panel = self.panels[n];
            for_width!(panel, eliminate(self, panel));
            for lane in 0..panel.rows {
                self.finish_row(panel, lane);
            }
        }
    }

    /// Takes a panel's row back from its lanes and reduces it within the panel's square.
    fn finish_row(&mut self, panel: Panel, lane: usize) {
        let (done, rest) = self.value.split_at_mut(self.offset[panel.first + lane]);
        let current = &mut rest[..=panel.first + lane - panel.start];
        let lanes = self.lanes[panel.offset + lane..].iter().step_by(panel.width);
        let outside = panel.first - panel.start;
        for (entry, &value) in current[..outside].iter_mut().zip(lanes) {
            *entry = value;
        }
        for earlier in 0..lane {
            let from = self.offset[panel.first + earlier];
            let other = &done[from..=from + outside + earlier];
            let (reciprocal, other) = other.split_last().expect("every row has its diagonal");
            let column = outside + earlier;
            current[column] = (current[column] - dot(&current[..column], other)) * reciprocal;
        }
        let (diagonal, below) = current.split_last_mut().expect("every row has its diagonal");
        *diagonal = 1.0 / (*diagonal - dot(below, below)).sqrt();
    }

    /// Solves with a factor made by [`Skyline::factor`]: right-hand side in, solution out.
    pub(crate) fn solve(&self, vector: &mut [f64]) {
        for panel in &self.panels {
            let columns = &vector[panel.start..panel.first];
            let below = for_width!(panel, combine(self.lanes_of(panel), columns));
            let rows = panel.first..panel.first + panel.rows;
            for (row, outside) in rows.zip(below) {
                let (entries, reciprocal) = self.entries(row);
                let square = &entries[panel.first - panel.start..];
                let inside = dot(square, &vector[panel.first..row]);
                vector[row] = (vector[row] - outside - inside) * reciprocal;
            }
        }
        for row in (0..self.rows()).rev() {
            let (entries, reciprocal) = self.entries(row);
            let value = vector[row] * reciprocal;
            vector[row] = value;
            add_scaled(&mut vector[self.start[row]..row], entries, -value);
        }
    }

    /// A row left of its diagonal, and the diagonal.
    fn entries(&self, row: usize) -> (&[f64], f64) {
        let end = self.offset[row + 1] - 1;
        (&self.value[self.offset[row]..end], self.value[end])
    }

    fn lanes_of(&self, panel: &Panel) -> &[f64] {
        &self.lanes[panel.offset..panel.offset + (panel.first - panel.start) * panel.width]
    }
}

/// Rows grouped by their start, in groups of at most ten.
fn panels(start: &[usize]) -> Vec<Panel> {
    let mut panels: Vec<Panel> = vec![];
    let mut offset = 0;
    let mut first = 0;
    while first < start.len() {
        let alike = start[first..].iter().take_while(|&&s| s == start[first]).count();
        // Rows of the same column of points are followed by those of the next one
        // with the same start: nothing is lost by cutting them in even parts.
        let rows = alike.div_ceil(alike.div_ceil(10));
        let width = rows.next_multiple_of(2).max(4);
        panels.push(Panel { first, rows, start: start[first], width, offset });
        offset += (first - start[first]) * width;
        first += rows;
    }
    panels
}

/// Σ over the columns of a panel: lanes times the column's factor; spare lanes are zero.
fn combine<const WIDTH: usize>(lanes: &[f64], factors: &[f64]) -> [f64; 10] {
    let sums = weighted_sum::<WIDTH>(lanes.as_chunks::<WIDTH>().0, factors);
    std::array::from_fn(|lane| if lane < WIDTH { sums[lane] } else { 0.0 })
}

/// Σ column · factor, lane by lane.
#[inline]
fn weighted_sum<const WIDTH: usize>(columns: &[[f64; WIDTH]], factors: &[f64]) -> [f64; WIDTH] {
    // Two sums for even and odd columns: one would wait for each addition.
    let mut sums = [[0.0; WIDTH]; 2];
    let ((pairs, rest), (factor_pairs, factor_rest)) =
        (columns.as_chunks::<2>(), factors.as_chunks::<2>());
    for (columns, factors) in pairs.iter().zip(factor_pairs) {
        for ((sum, column), factor) in sums.iter_mut().zip(columns).zip(factors) {
            for (s, c) in sum.iter_mut().zip(column) {
                *s += c * factor;
            }
        }
    }
    for (column, factor) in rest.iter().zip(factor_rest) {
        for (s, c) in sums[0].iter_mut().zip(column) {
            *s += c * factor;
        }
    }
    std::array::from_fn(|lane| sums[0][lane] + sums[1][lane])
}

/// Reduces the part of a panel left of its own square by the rows already factored.
fn eliminate<const WIDTH: usize>(matrix: &mut Skyline, panel: Panel) {
    let count = (panel.first - panel.start) * panel.width;
    let lanes = &mut matrix.lanes[panel.offset..panel.offset + count];
    let lanes = lanes.as_chunks_mut::<WIDTH>().0;
    for column in panel.start..panel.first {
        let from = panel.start.max(matrix.start[column]);
        let end = matrix.offset[column + 1] - 1;
        let factors = &matrix.value[end - (column - from)..end];
        let (earlier, current) = lanes.split_at_mut(column - panel.start);
        let sums = weighted_sum(&earlier[from - panel.start..], factors);
        let reciprocal = matrix.value[end];
        for (value, sum) in current[0].iter_mut().zip(sums) {
            *value = (*value - sum) * reciprocal;
        }
    }
}

fn add_scaled(target: &mut [f64], entries: &[f64], factor: f64) {
    for (value, entry) in target.iter_mut().zip(entries) {
        *value += entry * factor;
    }
}

/// Dot product in four partial sums, which need not wait for one another.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let mut sums = [0.0; 4];
    let ((a, a_rest), (b, b_rest)) = (a.as_chunks::<4>(), b.as_chunks::<4>());
    for (x, y) in a.iter().zip(b) {
        for ((sum, x), y) in sums.iter_mut().zip(x).zip(y) {
            *sum += x * y;
        }
    }
    let rest: f64 = a_rest.iter().zip(b_rest).map(|(x, y)| x * y).sum();
    (sums[0] + sums[2]) + (sums[1] + sums[3]) + rest
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    /// Profiles as columns of `levels` points in blocks of `order` columns give them.
    fn matrix(levels: usize, order: usize, blocks: usize) -> Skyline {
        let columns = blocks * order + 1;
        let first = |column: usize| if column == 0 { 0 } else { (column - 1) / order * order };
        let start: Vec<usize> =
            (0..columns * levels).map(|row| first(row / levels) * levels).collect();
        let mut matrix = Skyline::zeros(start.clone());
        for (row, &first) in start.iter().enumerate() {
            for column in first..row {
                matrix.add(row, column, ((row * 7 + column * 3) % 5) as f64 - 2.0);
            }
            matrix.add(row, row, 400.0 + row as f64);
        }
        matrix.fill_lanes();
        matrix
    }

    #[test]
    fn the_product_is_that_of_the_entries() {
        let matrix = matrix(7, 3, 2);
        let vector: Vec<f64> = (0..matrix.rows()).map(|i| (i as f64).cos()).collect();
        let mut product = vec![0.0; matrix.rows()];
        matrix.multiply(&vector, &mut product);
        for (row, product) in product.iter().enumerate() {
            let entry = |column: usize| {
                let (high, low) = (row.max(column), row.min(column));
                let inside = low >= matrix.start[high];
                if inside {
                    matrix.value[matrix.offset[high] + low - matrix.start[high]]
                } else {
                    0.0
                }
            };
            let sum: f64 = (0..matrix.rows()).map(|column| entry(column) * vector[column]).sum();
            assert_abs_diff_eq!(*product, sum, epsilon = 1e-10);
        }
    }

    #[test]
    fn cleared_rows_and_columns_are_zero_and_the_others_stay() {
        let whole = matrix(5, 3, 2);
        let mut cleared = whole.clone();
        cleared.clear_first(5);
        cleared.fill_lanes();
        let mut vector: Vec<f64> = (0..whole.rows()).map(|i| (i as f64).cos()).collect();
        let mut product = vec![0.0; whole.rows()];
        cleared.multiply(&vector, &mut product);
        vector[..5].fill(0.0);
        let mut expected = vec![0.0; whole.rows()];
        whole.multiply(&vector, &mut expected);
        assert_eq!(product[..5], [0.0; 5]);
        for (found, expected) in product[5..].iter().zip(&expected[5..]) {
            assert_abs_diff_eq!(found, expected, epsilon = 1e-10);
        }
    }

    #[test]
    fn the_factor_solves_what_the_matrix_multiplies_for_every_number_of_lanes() {
        for (levels, order) in [(3, 2), (5, 4), (7, 5), (9, 4), (10, 3), (13, 5), (25, 2)] {
            let mut matrix = matrix(levels, order, 3);
            let solution: Vec<f64> = (0..matrix.rows()).map(|i| (i as f64).sin()).collect();
            let mut right = vec![0.0; matrix.rows()];
            matrix.multiply(&solution, &mut right);
            matrix.factor();
            matrix.solve(&mut right);
            for (found, expected) in right.iter().zip(&solution) {
                assert_abs_diff_eq!(found, expected, epsilon = 1e-12);
            }
        }
    }
}
