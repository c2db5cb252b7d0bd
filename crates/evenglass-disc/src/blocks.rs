//! The blocks of the section: runs of points between edges that follow its marks.

use crate::boundary::Breaks;
use crate::layout::{Mark, Sizes, edges};
use crate::points::{Points, Weight};
use crate::resolution::Resolution;
use crate::section::Section;

/// A run of points between two block edges in one direction.
#[derive(Debug, Clone)]
pub(crate) struct Block {
    /// Index of its first point among the points of that direction.
    pub(crate) first: usize,
    /// Position of its first edge: radius \[m\], or fraction of the local thickness.
    pub(crate) from: f64,
    /// Its length in the same measure.
    pub(crate) length: f64,
    /// Its points on the unit interval.
    pub(crate) points: Points,
}

impl Block {
    pub(crate) fn order(&self) -> usize {
        self.points.position.len() - 1
    }
}

/// One block along one direction, finely resolved: how values between its points
/// follow from those at its points.
#[derive(Debug, Clone)]
pub struct Line {
    /// Index of its first point among the points of that direction.
    pub first: usize,
    /// Evenly spaced places from end to end, as fractions of the block.
    pub place: Vec<f64>,
    /// Weights of the block's points at each place, `[places][points of the block]`.
    pub weight: Vec<Vec<f64>>,
    /// The block's own points, as fractions of the block.
    pub point: Vec<f64>,
}

impl Line {
    pub(crate) fn of(block: &Block, fineness: usize) -> Self {
        let steps = fineness * block.order();
        let place: Vec<f64> = (0..=steps).map(|k| k as f64 / steps as f64).collect();
        let weight = place.iter().map(|&s| block.points.cardinal(s)).collect();
        Self { first: block.first, place, weight, point: block.points.position.clone() }
    }
}

/// Blocks from the axis or the hole's wall to the rim; positions are radii \[m\].
pub(crate) fn radial_blocks(
    section: &Section,
    resolution: &Resolution,
    breaks: &Breaks,
) -> Vec<Block> {
    let (inner, outer) = (section.inner_radius(), section.outer_radius());
    let jumps = &breaks.jumps;
    let (walls, jump) = (resolution.wall_sizes(), resolution.jump_sizes());
    let with_jump = |on_it: &[f64]| if on_it.is_empty() { Sizes::ANY } else { jump };
    let inner_sizes = if section.has_hole() { walls } else { Sizes::ANY };
    let mut marks = vec![
        Mark { position: inner, sizes: [inner_sizes, with_jump(&jumps.hole)] },
        Mark { position: outer, sizes: [walls, with_jump(&jumps.rim)] },
    ];
    add_marks(&mut marks, jumps.front.iter().chain(&jumps.back), jump, resolution);
    let kinks = breaks.kinks.front.iter().chain(&breaks.kinks.back);
    add_marks(&mut marks, kinks, Sizes::ANY, resolution);
    let count = resolution.blocks.map(|(radial, _)| radial);
    let first = if section.has_hole() { Weight::Plain } else { Weight::Radius };
    blocks(&edges(&marks, count), resolution.radial_order, first)
}

/// Blocks from the back to the front; positions are fractions of the local thickness.
pub(crate) fn axial_blocks(
    section: &Section,
    resolution: &Resolution,
    breaks: &Breaks,
) -> Vec<Block> {
    let thickness = section.thickness(section.outer_radius());
    let jumps = &breaks.jumps;
    let (faces, jump) = (resolution.face_sizes(), resolution.jump_sizes());
    let with_jump = |on_it: &[f64]| if on_it.is_empty() { Sizes::ANY } else { jump };
    let mut marks = vec![
        Mark { position: 0.0, sizes: [faces, with_jump(&jumps.back)] },
        Mark { position: thickness, sizes: [faces, with_jump(&jumps.front)] },
    ];
    // Blocks are cut in fractions of the thickness: a height on the hole's wall is
    // carried out to the rim along its own fraction.
    let to_rim = thickness / section.thickness(section.inner_radius());
    let on_hole: Vec<f64> = jumps.hole.iter().map(|height| height * to_rim).collect();
    add_marks(&mut marks, jumps.rim.iter().chain(&on_hole), jump, resolution);
    let edges = edges(&marks, resolution.blocks.map(|(_, axial)| axial));
    let fractions: Vec<f64> = edges.iter().map(|edge| edge / thickness).collect();
    blocks(&fractions, resolution.axial_order, Weight::Plain)
}

/// Adds the marks that lie between the ends and apart from one another, until
/// there are as many as are worth their own blocks; the rest share them.
fn add_marks<'a>(
    marks: &mut Vec<Mark>,
    positions: impl Iterator<Item = &'a f64>,
    sizes: Sizes,
    resolution: &Resolution,
) {
    let (from, to) = (marks[0].position, marks[marks.len() - 1].position);
    // A mark needs room for a part of the block it asks for, or of an ordinary one.
    let room = resolution.break_spacing.max(0.3 * sizes.finest.min(resolution.radial_finest));
    for &position in positions {
        let apart = marks.iter().all(|mark| (mark.position - position).abs() > room);
        if apart && position > from && position < to && marks.len() < MOST_MARKS {
            marks.push(Mark::new(position, sizes));
        }
    }
    marks.sort_by(|a, b| a.position.total_cmp(&b.position));
}

/// A table with more breaks than this is a staircase, and its steps are small.
const MOST_MARKS: usize = 12;

/// Blocks between the edges; `first` is the weight of the first one's rule.
fn blocks(edges: &[f64], order: usize, first: Weight) -> Vec<Block> {
    edges
        .windows(2)
        .enumerate()
        .map(|(n, pair)| Block {
            first: n * order,
            from: pair[0],
            length: pair[1] - pair[0],
            points: Points::lobatto(order, if n == 0 { first } else { Weight::Plain }),
        })
        .collect()
}

/// Positions of all points of the blocks, each common edge once.
pub(crate) fn positions(blocks: &[Block]) -> Vec<f64> {
    let mut positions = vec![blocks[0].from];
    for block in blocks {
        let inner = &block.points.position[1..];
        positions.extend(inner.iter().map(|s| block.from + block.length * s));
    }
    positions
}

/// The block that holds `position`; the last one for its end.
pub(crate) fn holding(blocks: &[Block], position: f64) -> &Block {
    let after = blocks.partition_point(|block| block.from <= position);
    &blocks[after.saturating_sub(1)]
}
