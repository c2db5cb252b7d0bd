//! How the section is cut into blocks: finest where heat leaves, coarser inside.

/// A position that attracts blocks, or merely must be the edge of one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Mark {
    /// Where it is [m].
    pub(crate) position: f64,
    /// Size of the block that touches it [m]; infinite where nothing happens.
    pub(crate) finest: f64,
    /// Growth of the size with distance from it [-].
    pub(crate) growth: f64,
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
        let wanted = marks.iter().map(|m| m.finest + m.growth * (m.position - x).abs());
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
        Mark { position, finest, growth: 1.0 }
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
