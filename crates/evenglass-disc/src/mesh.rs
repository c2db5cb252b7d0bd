//! Where the points are: the section, its blocks and the columns of points.

use crate::blocks::{Block, axial_blocks, positions, radial_blocks};
use crate::boundary::Breaks;
use crate::resolution::Resolution;
use crate::section::Section;

/// Columns of points over the radius, each with the same fractions of the local thickness.
#[derive(Debug, Clone)]
pub(crate) struct Mesh {
    pub(crate) section: Section,
    pub(crate) radial: Vec<Block>,
    pub(crate) axial: Vec<Block>,
    /// Radius of each column of points \[m\].
    pub(crate) radius: Vec<f64>,
    /// Fraction of the local thickness of each point of a column [-].
    pub(crate) fraction: Vec<f64>,
}

impl Mesh {
    pub(crate) fn new(section: &Section, resolution: &Resolution, breaks: &Breaks) -> Self {
        let radial = radial_blocks(section, resolution, breaks);
        let axial = axial_blocks(section, resolution, breaks);
        let (radius, fraction) = (positions(&radial), positions(&axial));
        Self { section: *section, radial, axial, radius, fraction }
    }

    /// Number of points.
    pub(crate) fn len(&self) -> usize {
        self.radius.len() * self.fraction.len()
    }

    pub(crate) fn index(&self, column: usize, level: usize) -> usize {
        column * self.fraction.len() + level
    }

    /// ∫ over the radius that point `i` of a radial block stands for \[m²\], per radian.
    pub(crate) fn radial_measure(&self, block: &Block, i: usize) -> f64 {
        let share = block.length * block.points.weight[i];
        if self.touches_axis(block) {
            block.length * share
        } else {
            self.radius[block.first + i] * share
        }
    }

    fn touches_axis(&self, block: &Block) -> bool {
        block.first == 0 && !self.section.has_hole()
    }

    /// First row coupled to each row: the start of the row's own block of columns,
    /// and of the block before it for a row on their common edge.
    pub(crate) fn profile(&self) -> Vec<usize> {
        let mut first_column = vec![0; self.radius.len()];
        for block in self.radial.iter().rev() {
            first_column[block.first + 1..=block.first + block.order()].fill(block.first);
        }
        let levels = self.fraction.len();
        (0..self.len()).map(|row| first_column[row / levels] * levels).collect()
    }
}
