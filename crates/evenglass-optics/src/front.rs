//! Reading a figure: what refocusing removes, what is left, and what opticians call it.
//!
//! A figure is given at the nodes of the front, corner, middle, corner, …, and is a parabola
//! from corner to corner. Means over the area, fits and extremes of such a figure are exact;
//! nothing is sampled. Everything that does not depend on the figure is computed once.
//!
//! Equation numbers refer to docs/physics/image.md.

use nalgebra::DMatrix;

use crate::zernike::Zernike;

/// Seven Gauss–Legendre points on −1 to 1 and their weights: exact to degree 13, which is
/// the square of Noll 22 times the radius.
pub(crate) const GAUSS: [(f64, f64); 7] = [
    (-0.949_107_912_342_758_5, 0.129_484_966_168_869_7),
    (-0.741_531_185_599_394_5, 0.279_705_391_489_276_6),
    (-0.405_845_151_377_397_2, 0.381_830_050_505_118_9),
    (0.0, 0.417_959_183_673_469_4),
    (0.405_845_151_377_397_2, 0.381_830_050_505_118_9),
    (0.741_531_185_599_394_5, 0.279_705_391_489_276_6),
    (0.949_107_912_342_758_5, 0.129_484_966_168_869_7),
];

/// Noll numbers of the coefficient read for the orders 1 to 4, cosine part: coma,
/// astigmatism, trefoil, tetrafoil.
const COEFFICIENTS: [usize; 4] = [8, 6, 10, 14];

/// The clear front, or the part of it that a pupil uses, for reading figures given at its
/// nodes.
#[derive(Debug, Clone)]
pub struct Front {
    radii: Vec<f64>,
    /// (r/a)² at the nodes.
    squares: Vec<f64>,
    pieces: Vec<Piece>,
    /// Share of each node in the mean over the area.
    mean_row: Vec<f64>,
    /// What each node adds to piston, defocus, Noll 11 and Noll 22.
    round_rows: Vec<[f64; 4]>,
    /// For the orders 1 to 4, what each node adds to tilt and to the order's coefficient.
    lopsided_rows: [Vec<[f64; 2]>; 4],
}

/// The round part of a figure, fitted (eqs. I-2 to I-5).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoundFit {
    /// Constant of the best fit of constant and (r/a)² \[m\].
    pub piston_m: f64,
    /// Coefficient of (r/a)² in that fit \[m\], a being the radius of the glass: what
    /// refocusing removes.
    pub defocus_m: f64,
    /// RMS over the area of what is left \[m\].
    pub rms_m: f64,
    /// Highest minus lowest of what is left \[m\].
    pub pv_m: f64,
    /// Noll 11, primary spherical aberration, over the disc of radius a \[m\].
    pub spherical_m: f64,
    /// Noll 22, secondary spherical aberration, over the disc of radius a \[m\].
    pub secondary_spherical_m: f64,
}

/// The cosine or the sine part of one order of a figure, fitted (eqs. I-2 to I-5).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LopsidedFit {
    /// Tilt, Noll 2 or 3 \[m\]; it is removed. 0 for other orders than 1.
    pub tilt_m: f64,
    /// Coma (Noll 7, 8), astigmatism (5, 6), trefoil (9, 10) or tetrafoil (14, 15) of the
    /// orders 1 to 4 \[m\], over the disc of radius a.
    pub coefficient_m: f64,
    /// RMS over the area of what is left without tilt \[m\]; cosine and sine of the angle
    /// count as RMS √½.
    pub rms_m: f64,
}

impl Front {
    /// The whole front, from the first to the last radius \[m\].
    ///
    /// * `radii_m` — corner, middle, corner, …, corner, ascending
    ///
    /// # Panics
    /// If the radii are not an odd number of at least three, ascending from 0 or more.
    #[must_use]
    pub fn new(radii_m: &[f64]) -> Self {
        Self::annulus(radii_m, 0.0, f64::INFINITY)
    }

    /// That part of the front that lies between two radii \[m\], as an obstruction or a mask
    /// leaves it; they may fall between nodes. Coefficients still refer to the whole glass:
    /// a is the last of `radii_m`.
    ///
    /// # Panics
    /// As [`Front::new`], and if no glass lies between the two radii.
    #[must_use]
    pub fn annulus(radii_m: &[f64], inner_m: f64, outer_m: f64) -> Self {
        let count = radii_m.len();
        assert!(count >= 3 && count % 2 == 1, "corner, middle, corner: an odd number of nodes");
        assert!(radii_m[0] >= 0.0 && radii_m.is_sorted(), "nodes ascend from the axis outward");
        let rim = radii_m[count - 1];
        let (inner, outer) = (inner_m.max(radii_m[0]), outer_m.min(rim));
        assert!(inner < outer, "some glass is left between the two radii");
        let area = 0.5 * (outer * outer - inner * inner);
        let mut pieces = Vec::with_capacity(count / 2);
        let mut points = Vec::with_capacity(count / 2 * GAUSS.len());
        for first in (0..count - 1).step_by(2) {
            let corners = (radii_m[first], radii_m[first + 2]);
            let (start, end) = (corners.0.max(inner), corners.1.min(outer));
            if start < end {
                let parabola = Parabola::through([radii_m[first], radii_m[first + 1], corners.1]);
                let samples = samples(start, end, area);
                pieces.push(Piece::new(first, &parabola, (start, end), &samples));
                points.extend(samples.map(|(r, weight)| Sample {
                    radius: r / rim,
                    weight: weight.sqrt(),
                    first,
                    shares: parabola.shares(r),
                }));
            }
        }
        Self {
            mean_row: fit_rows(&points, count, &[&|_| 1.0]).iter().copied().collect(),
            round_rows: round_rows(&points, count),
            lopsided_rows: [1, 2, 3, 4].map(|order| lopsided_rows(&points, count, order)),
            squares: radii_m.iter().map(|r| (r / rim).powi(2)).collect(),
            radii: radii_m.to_vec(),
            pieces,
        }
    }

    /// Radii of the nodes \[m\].
    #[must_use]
    pub fn radii_m(&self) -> &[f64] {
        &self.radii
    }

    /// Fits the round part of a figure.
    ///
    /// * `figure_m` — one height per node \[m\]
    ///
    /// # Panics
    /// If there is not one value per node.
    #[must_use]
    pub fn round(&self, figure_m: &[f64]) -> RoundFit {
        assert_eq!(figure_m.len(), self.radii.len(), "one value per node of the front");
        self.round_of(|node| figure_m[node])
    }

    /// [`Front::round`] of heights that are computed where they are needed.
    pub(crate) fn round_of(&self, height: impl Fn(usize) -> f64) -> RoundFit {
        let mut sums = [0.0; 4];
        for (node, row) in self.round_rows.iter().enumerate() {
            let value = height(node);
            for (sum, share) in sums.iter_mut().zip(row) {
                *sum += share * value;
            }
        }
        let [piston_m, defocus_m, spherical_m, secondary_spherical_m] = sums;
        let mut mean_square = 0.0;
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for piece in &self.pieces {
            let left = [0, 1, 2].map(|node| {
                let node = piece.first + node;
                height(node) - piston_m - defocus_m * self.squares[node]
            });
            mean_square += piece.mean_square(left);
            piece.widen(left, &mut low, &mut high);
        }
        let rms_m = mean_square.max(0.0).sqrt();
        let pv_m = high - low;
        RoundFit { piston_m, defocus_m, rms_m, pv_m, spherical_m, secondary_spherical_m }
    }

    /// Fits the cosine or the sine part of one order of a figure, given along the direction
    /// in which it is largest.
    ///
    /// * `order` — 1 to 4: how often the figure repeats around the axis
    /// * `figure_m` — one height per node \[m\]
    ///
    /// # Panics
    /// If the order is another, or if there is not one value per node.
    #[must_use]
    pub fn lopsided(&self, order: usize, figure_m: &[f64]) -> LopsidedFit {
        assert_eq!(figure_m.len(), self.radii.len(), "one value per node of the front");
        self.lopsided_of(order, |node| figure_m[node])
    }

    /// [`Front::lopsided`] of heights that are computed where they are needed.
    pub(crate) fn lopsided_of(&self, order: usize, height: impl Fn(usize) -> f64) -> LopsidedFit {
        assert!((1..=4).contains(&order), "orders 1 to 4 are fitted");
        let (mut tilt_m, mut coefficient_m) = (0.0, 0.0);
        for (node, row) in self.lopsided_rows[order - 1].iter().enumerate() {
            let value = height(node);
            tilt_m += row[0] * value;
            coefficient_m += row[1] * value;
        }
        // Noll's tilt is 2 (r/a) cos θ.
        let slope = 2.0 * tilt_m / self.radii[self.radii.len() - 1];
        let mut mean_square = 0.0;
        for piece in &self.pieces {
            mean_square += piece.mean_square([0, 1, 2].map(|node| {
                let node = piece.first + node;
                height(node) - slope * self.radii[node]
            }));
        }
        LopsidedFit { tilt_m, coefficient_m, rms_m: (0.5 * mean_square).max(0.0).sqrt() }
    }

    /// Mean over the area of what is given at the nodes: heights, temperatures.
    ///
    /// # Panics
    /// If there is not one value per node.
    #[must_use]
    pub fn mean(&self, values: &[f64]) -> f64 {
        assert_eq!(values.len(), self.radii.len(), "one value per node of the front");
        self.mean_row.iter().zip(values).map(|(share, value)| share * value).sum()
    }

    /// RMS over the area about the mean, nothing else removed: an image that is not
    /// refocused.
    ///
    /// # Panics
    /// If there is not one value per node.
    #[must_use]
    pub fn rms(&self, values: &[f64]) -> f64 {
        let mean = self.mean(values);
        let square = |piece: &Piece| {
            piece.mean_square([0, 1, 2].map(|node| values[piece.first + node] - mean))
        };
        self.pieces.iter().map(square).sum::<f64>().max(0.0).sqrt()
    }

    /// Value of a figure between its nodes, at a radius \[m\]; off the front, that at its
    /// nearest edge.
    ///
    /// # Panics
    /// If there is not one value per node.
    #[must_use]
    pub fn at(&self, figure: &[f64], radius_m: f64) -> f64 {
        assert_eq!(figure.len(), self.radii.len(), "one value per node of the front");
        let last = self.radii.len() - 1;
        let radius = radius_m.clamp(self.radii[0], self.radii[last]);
        let beyond = self.radii.partition_point(|&r| r < radius);
        let first = (beyond.saturating_sub(1) / 2 * 2).min(last - 2);
        let nodes = [self.radii[first], self.radii[first + 1], self.radii[first + 2]];
        let values = [figure[first], figure[first + 1], figure[first + 2]];
        dot(Parabola::through(nodes).shares(radius), values)
    }
}

/// The shares of three nodes in the parabola through them.
struct Parabola {
    nodes: [f64; 3],
}

impl Parabola {
    fn through(nodes: [f64; 3]) -> Self {
        Self { nodes }
    }

    /// Share of each node in the value at a radius (Lagrange).
    fn shares(&self, radius: f64) -> [f64; 3] {
        let [a, b, c] = self.nodes;
        let r = radius;
        [
            (r - b) * (r - c) / ((a - b) * (a - c)),
            (r - a) * (r - c) / ((b - a) * (b - c)),
            (r - a) * (r - b) / ((c - a) * (c - b)),
        ]
    }
}

/// Radii and weights, as shares of the area, that integrate from `start` to `end`; `area`
/// is the whole one, over 2π.
fn samples(start: f64, end: f64, area: f64) -> [(f64, f64); 7] {
    let half = 0.5 * (end - start);
    GAUSS.map(|(place, weight)| {
        let r = start + half * (1.0 + place);
        (r, weight * half * r / area)
    })
}

/// What of the figure between two corners counts, for a quick mean square and quick extremes.
#[derive(Debug, Clone)]
struct Piece {
    /// Number of its first node.
    first: usize,
    /// Shares of the products 00, 11, 22, 01, 02, 12 of nodal values in the mean square.
    products: [f64; 6],
    /// Shares of the nodes in the values at the two ends of what counts.
    ends: [[f64; 3]; 2],
    /// Shares of the nodes in slope and half second slope at its start, lengths being
    /// counted from there in units of the part that counts.
    slope: [f64; 3],
    bend: [f64; 3],
}

impl Piece {
    fn new(
        first: usize,
        parabola: &Parabola,
        (start, end): (f64, f64),
        samples: &[(f64, f64)],
    ) -> Self {
        let mut products = [0.0; 6];
        for &(r, weight) in samples {
            let [a, b, c] = parabola.shares(r);
            let pairs = [a * a, b * b, c * c, 2.0 * a * b, 2.0 * a * c, 2.0 * b * c];
            for (sum, pair) in products.iter_mut().zip(pairs) {
                *sum += weight * pair;
            }
        }
        let ends = [parabola.shares(start), parabola.shares(end)];
        let middle = parabola.shares(0.5 * (start + end));
        let slope = [0, 1, 2].map(|i| -3.0 * ends[0][i] + 4.0 * middle[i] - ends[1][i]);
        let bend = [0, 1, 2].map(|i| 2.0 * ends[0][i] - 4.0 * middle[i] + 2.0 * ends[1][i]);
        Self { first, products, ends, slope, bend }
    }

    fn mean_square(&self, [a, b, c]: [f64; 3]) -> f64 {
        let p = &self.products;
        p[0] * a * a + p[1] * b * b + p[2] * c * c + p[3] * a * b + p[4] * a * c + p[5] * b * c
    }

    /// Lets the range reach what the parabola reaches: at the ends, and at its vertex if that
    /// lies between them.
    fn widen(&self, values: [f64; 3], low: &mut f64, high: &mut f64) {
        let (start, end) = (dot(self.ends[0], values), dot(self.ends[1], values));
        let (slope, bend) = (dot(self.slope, values), dot(self.bend, values));
        *low = low.min(start).min(end);
        *high = high.max(start).max(end);
        // The vertex, at −slope/(2 bend), lies inside if the slope changes its sign.
        if slope * (slope + 2.0 * bend) < 0.0 {
            let vertex = start - 0.25 * slope * slope / bend;
            *low = low.min(vertex);
            *high = high.max(vertex);
        }
    }
}

fn dot(shares: [f64; 3], values: [f64; 3]) -> f64 {
    shares[0] * values[0] + shares[1] * values[1] + shares[2] * values[2]
}

/// A radius at which fits are weighed.
struct Sample {
    /// In units of the glass's radius.
    radius: f64,
    /// Root of its share of the area.
    weight: f64,
    first: usize,
    shares: [f64; 3],
}

/// What each node adds to each coefficient of the least-squares fit of these terms, a
/// function of r/a each: `[terms, nodes]` (eq. I-3). All nought on a ring so narrow that terms
/// are equal there to the last digit.
fn fit_rows(points: &[Sample], count: usize, terms: &[&dyn Fn(f64) -> f64]) -> DMatrix<f64> {
    let basis = DMatrix::from_fn(points.len(), terms.len(), |row, term| {
        points[row].weight * terms[term](points[row].radius)
    });
    let mut nodes = DMatrix::zeros(points.len(), count);
    for (row, point) in points.iter().enumerate() {
        for (offset, share) in point.shares.iter().enumerate() {
            nodes[(row, point.first + offset)] = point.weight * share;
        }
    }
    // By orthogonal columns, not by normal equations: on a narrow ring the terms look nearly
    // alike, and squares of them would cost half of the digits.
    let factors = basis.qr();
    let shares = factors.q().transpose() * nodes;
    let none = DMatrix::zeros(terms.len(), count);
    factors.r().solve_upper_triangular(&shares).unwrap_or(none)
}

/// Terms of Noll's series as functions of r/a.
fn profile(index: usize) -> impl Fn(f64) -> f64 {
    let term = Zernike::noll(index);
    move |radius| term.map_or(0.0, |term| term.profile(radius))
}

fn round_rows(points: &[Sample], count: usize) -> Vec<[f64; 4]> {
    let focus = fit_rows(points, count, &[&|_| 1.0, &|r| r * r]);
    let series = fit_rows(points, count, &[&profile(1), &profile(4), &profile(11), &profile(22)]);
    (0..count)
        .map(|node| [focus[(0, node)], focus[(1, node)], series[(2, node)], series[(3, node)]])
        .collect()
}

fn lopsided_rows(points: &[Sample], count: usize, order: usize) -> Vec<[f64; 2]> {
    let wanted = profile(COEFFICIENTS[order - 1]);
    if order > 1 {
        let alone = fit_rows(points, count, &[&wanted]);
        return (0..count).map(|node| [0.0, alone[(0, node)]]).collect();
    }
    let tilt = fit_rows(points, count, &[&profile(2)]);
    let both = fit_rows(points, count, &[&profile(2), &wanted]);
    (0..count).map(|node| [tilt[(0, node)], both[(1, node)]]).collect()
}
