//! How finely the disc is cut, in space and time.

use thiserror::Error;

use crate::layout::Sizes;

/// How finely the disc is cut, in space and time.
#[derive(Debug, Clone, PartialEq)]
pub struct Resolution {
    /// Cells a block has along the radius, which is also the order of its differences.
    pub radial_order: usize,
    /// The same through the thickness.
    pub axial_order: usize,
    /// Blocks along the radius and through the thickness; `None` cuts by the sizes below.
    pub blocks: Option<(usize, usize)>,
    /// Radial size of the blocks at the rim and the hole \[m\].
    pub radial_finest: f64,
    /// Thickness of the blocks at the faces \[m\].
    pub axial_finest: f64,
    /// Growth of a block's size with its distance from there [-].
    pub growth: f64,
    /// Size of the blocks that touch a film jump, along the face and into the glass \[m\].
    pub break_finest: f64,
    /// Growth of a block's size with its distance from a film jump [-].
    pub break_growth: f64,
    /// Film breaks nearer to one another than this share a block \[m\].
    pub break_spacing: f64,
    /// Largest error of one time step, root mean square over the glass \[K\].
    pub tolerance: f64,
}

/// Why a resolution was refused.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum ResolutionError {
    /// Fewer or more cells than the solver takes.
    #[error("{cells} cells {direction} is outside {least} to {most}")]
    Cells {
        /// What was asked for.
        cells: usize,
        /// "along the radius" or "through the thickness".
        direction: &'static str,
        /// The least.
        least: usize,
        /// The most.
        most: usize,
    },
    /// A matrix that would not fit into memory.
    #[error("{radial} x {axial} cells need about {needed_mb} MB, more than {most_mb} MB")]
    TooLarge {
        /// Cells along the radius.
        radial: usize,
        /// Cells through the thickness.
        axial: usize,
        /// What the matrix of a time step takes \[MB\].
        needed_mb: usize,
        /// The most that is taken \[MB\].
        most_mb: usize,
    },
}

/// Largest matrix of a time step \[MB\].
const MATRIX_MB: usize = 1024;

/// Cells of a block when the number of cells is asked for.
const COUNTED_ORDER: usize = 4;

impl Default for Resolution {
    /// Every published temperature within 5 mK of the converged solution for a
    /// step of 10 K, from five minutes after it and next to film jumps too
    /// (`tests/orders/accuracy.rs`).
    fn default() -> Self {
        Self {
            radial_order: 6,
            axial_order: 6,
            blocks: None,
            radial_finest: 0.03,
            axial_finest: 0.06,
            growth: 0.7,
            break_finest: 0.001,
            break_growth: 1.5,
            break_spacing: 0.001,
            tolerance: 2e-4,
        }
    }
}

impl Resolution {
    /// Within 1 mK instead of 5 (`tests/orders/accuracy.rs`).
    #[must_use]
    pub fn fine() -> Self {
        Self {
            radial_order: 7,
            axial_order: 8,
            break_finest: 0.0005,
            break_growth: 1.5,
            tolerance: 5e-5,
            ..Self::default()
        }
    }

    /// About `radial` by `axial` cells, rounded up to whole blocks, with the
    /// time steps of [`Resolution::fine`].
    ///
    /// # Errors
    /// If a number is outside what the direct solver takes.
    pub fn with_cells(radial: usize, axial: usize) -> Result<Self, ResolutionError> {
        within(radial, "along the radius", 2000)?;
        within(axial, "through the thickness", 200)?;
        // Each point holds, twice, the points of the columns between it and the
        // start of its block: half a block of columns on average, and a half more
        // on the common edges.
        let reach = (COUNTED_ORDER / 2 + 1) * axial;
        let needed_mb = (radial * axial * reach * 2 * size_of::<f64>()) >> 20;
        if needed_mb > MATRIX_MB {
            return Err(ResolutionError::TooLarge { radial, axial, needed_mb, most_mb: MATRIX_MB });
        }
        Ok(Self {
            radial_order: COUNTED_ORDER,
            axial_order: COUNTED_ORDER,
            blocks: Some((radial.div_ceil(COUNTED_ORDER), axial.div_ceil(COUNTED_ORDER))),
            ..Self::fine()
        })
    }

    /// What the rim or the hole's wall, or a kink of a film, asks for along the radius.
    pub(crate) fn wall_sizes(&self) -> Sizes {
        Sizes { finest: self.radial_finest, growth: self.growth }
    }

    /// What the front or the back asks for through the thickness.
    pub(crate) fn face_sizes(&self) -> Sizes {
        Sizes { finest: self.axial_finest, growth: self.growth }
    }

    /// What a film jump asks for, along the face and into the glass.
    pub(crate) fn jump_sizes(&self) -> Sizes {
        Sizes { finest: self.break_finest, growth: self.break_growth }
    }
}

fn within(cells: usize, direction: &'static str, most: usize) -> Result<(), ResolutionError> {
    let least = COUNTED_ORDER;
    if (least..=most).contains(&cells) {
        Ok(())
    } else {
        Err(ResolutionError::Cells { cells, direction, least, most })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_come_in_whole_blocks_and_absurd_numbers_are_refused() {
        assert_eq!(Resolution::with_cells(401, 100).unwrap().blocks, Some((101, 25)));
        assert!(Resolution::with_cells(3, 100).is_err());
        assert!(Resolution::with_cells(400, 1_000_000).is_err());
        assert!(Resolution::with_cells(400, 100).is_ok());
        assert!(matches!(Resolution::with_cells(2000, 200), Err(ResolutionError::TooLarge { .. })));
    }
}
