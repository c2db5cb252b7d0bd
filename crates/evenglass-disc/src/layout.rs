//! How the section is cut into blocks: finest where heat leaves, coarser inside.

/// Sizes that a position asks of the blocks around it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Sizes {
    /// Size of the block that touches it \[m\].
    pub(crate) finest: f64,
    /// Growth of the size with distance from it [-].
    pub(crate) growth: f64,
}

impl Sizes {
    /// Any size will do.
    pub(crate) const ANY: Self = Self { finest: f64::INFINITY, growth: 0.0 };

    fn at(self, distance: f64) -> f64 {
        self.finest + self.growth * distance
    }
}

/// A position that is the edge of a block, and what it asks of the blocks around
/// it: an end for what it is, and for the film jump on its face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Mark {
    /// Where it is \[m\].
    pub(crate) position: f64,
    /// The smaller of the two counts.
    pub(crate) sizes: [Sizes; 2],
}

impl Mark {
    pub(crate) fn new(position: f64, sizes: Sizes) -> Self {
        Self { position, sizes: [sizes, Sizes::ANY] }
    }

    fn wanted(&self, x: f64) -> f64 {
        let distance = (self.position - x).abs();
        self.sizes[0].at(distance).min(self.sizes[1].at(distance))
    }
}

/// Edges of the blocks along one direction, graded toward the marks.
///
/// The wanted block size at `x` is the smallest that any mark asks for there;
/// each stretch between neighbouring marks gets a whole number of blocks, at
/// least one, whose edges share the integral of the inverse size evenly.
///
/// * `marks` — ascending; the first and the last are the ends
/// * `count` — how many blocks to cut, whatever their size; `None` lets the
///   marks decide
pub(crate) fn edges(marks: &[Mark], count: Option<usize>) -> Vec<f64> {
    let mut edges = vec![marks[0].position];
    let inverse_size = |x: f64| {
        let wanted = marks.iter().map(|mark| mark.wanted(x));
        1.0 / wanted.fold(f64::INFINITY, f64::min)
    };
    let (start, end) = (marks[0].position, marks[marks.len() - 1].position);
    let whole = integral(inverse_size, start, end, SAMPLES * marks.len());
    for pair in marks.windows(2) {
        let (from, to) = (pair[0].position, pair[1].position);
        let total = integral(inverse_size, from, to, SAMPLES);
        let blocks = match count {
            Some(count) => (total / whole * count as f64).round().max(1.0),
            // A little over a whole number does not deserve one more block.
            None => (total - 0.15).ceil().max(1.0),
        };
        let mut position = from;
        let mut sum = 0.0;
        let step = (to - from) / SAMPLES as f64;
        let mut next = 1.0;
        for _ in 0..SAMPLES {
            let share = integral(inverse_size, position, position + step, 1);
            while next < blocks && (sum + share) * blocks >= next * total {
                edges.push(position + step * (next * total / blocks - sum) / share);
                next += 1.0;
            }
            sum += share;
            position += step;
        }
        edges.push(to);
    }
    edges
}

/// Subdivisions of a stretch when sizes are integrated; the edges need no more
/// than a few digits, only determinism.
const SAMPLES: usize = 256;

fn integral(f: impl Fn(f64) -> f64, from: f64, to: f64, samples: usize) -> f64 {
    let step = (to - from) / samples as f64;
    (0..samples).map(|i| f(from + (i as f64 + 0.5) * step) * step).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mark(position: f64, finest: f64) -> Mark {
        Mark::new(position, Sizes { finest, growth: 1.0 })
    }

    #[test]
    fn blocks_ascend_end_to_end_and_shrink_toward_the_marks() {
        let edges = edges(&[mark(0.0, f64::INFINITY), mark(0.12, 0.002), mark(0.2, 0.02)], None);
        assert_eq!((edges[0], edges[edges.len() - 1]), (0.0, 0.2));
        assert!(edges.contains(&0.12), "a mark is the edge of a block: {edges:?}");
        assert!(edges.windows(2).all(|pair| pair[0] < pair[1]), "{edges:?}");
        let sizes: Vec<f64> = edges.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let at_mark = edges.iter().position(|edge| edge.total_cmp(&0.12).is_eq()).unwrap();
        assert!(sizes[at_mark] < 0.005 && sizes[at_mark - 1] < 0.005, "{sizes:?}");
        assert!(sizes[0] > 4.0 * sizes[at_mark - 1], "coarse far from the marks: {sizes:?}");
    }

    #[test]
    fn a_count_is_kept_whatever_the_marks_ask_for() {
        let edges = edges(&[mark(0.0, f64::INFINITY), mark(0.2, 0.02)], Some(25));
        assert_eq!(edges.len(), 26);
    }
}
