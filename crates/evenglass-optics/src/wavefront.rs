//! The wavefront over the pupil, as a picture of numbers, and its interference fringes.
//!
//! Pictures show the mirror as seen from the front, by someone who looks into it: row 0 is at
//! the side that is up when the telescope points low (θ = 0), column 0 at the left, so that θ
//! grows anticlockwise.
//!
//! Equation numbers refer to docs/physics/image.md.

use std::f64::consts::{FRAC_PI_2, TAU};

use ndarray::{Array2, Zip};

use crate::front::Front;
use crate::strehl::{WAVELENGTH_M, wavefront_factor};

/// The figure of a front, all around the axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Surface {
    /// Nodes of the front \[m\], as for [`Front::new`].
    pub radii_m: Vec<f64>,
    /// Curvature of the front at its vertex, 1/R \[m⁻¹\].
    pub curvature_per_m: f64,
    /// Figure of order 0 at the nodes \[m\].
    pub round_m: Vec<f64>,
    /// The other orders.
    pub lopsided: Vec<Lopsided>,
}

/// One order of a figure around the axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Lopsided {
    /// How often it repeats around the axis.
    pub order: usize,
    /// Its cosine part at the nodes \[m\].
    pub cosine_m: Vec<f64>,
    /// Its sine part at the nodes \[m\].
    pub sine_m: Vec<f64>,
}

/// The part of a mirror that light uses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Aperture {
    /// Radius of the obstruction \[m\]; 0 is none.
    pub inner_radius_m: f64,
    /// Radius of glass or mask \[m\].
    pub outer_radius_m: f64,
}

/// What becomes of defocus in a map.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Focus {
    /// Someone has refocused: piston, tilt and defocus are removed.
    Best,
    /// Nobody has since the glass was at rest: piston and tilt are removed.
    Kept,
}

/// A wavefront over a square grid of pixels around the pupil.
#[derive(Debug, Clone, PartialEq)]
pub struct Wavefront {
    /// How far the wave is ahead \[m\]: `[rows, columns]`, not a number off the pupil.
    pub path_m: Array2<f64>,
    /// Share of each pixel that lies on the pupil [-], 0 to 1.
    pub coverage: Array2<f64>,
    /// Width of a pixel \[m\].
    pub spacing_m: f64,
}

impl Wavefront {
    /// The wavefront that a figure makes (eqs. I-1, I-17).
    ///
    /// * `pixels` — across the pupil, along either side; at least 2
    ///
    /// # Panics
    /// If a list has not one value per node, if fewer than 2 pixels are asked for, or as
    /// [`Front::annulus`].
    #[must_use]
    pub fn of(surface: &Surface, aperture: Aperture, pixels: usize, focus: Focus) -> Self {
        assert!(pixels >= 2, "a picture needs two pixels at least");
        let outer = aperture.outer_radius_m;
        let spacing = 2.0 * outer / pixels as f64;
        let waves = Waves::new(surface, aperture, focus);
        let mut path = Array2::from_elem((pixels, pixels), f64::NAN);
        let mut coverage = Array2::zeros((pixels, pixels));
        Zip::indexed(&mut path).and(&mut coverage).for_each(|(row, column), path, share| {
            let right = (column as f64 + 0.5) * spacing - outer;
            let up = outer - (row as f64 + 0.5) * spacing;
            let radius = right.hypot(up);
            // A pixel's edge is taken as straight, across the radius.
            *share = ((outer - radius) / spacing + 0.5).clamp(0.0, 1.0)
                * ((radius - aperture.inner_radius_m) / spacing + 0.5).clamp(0.0, 1.0);
            if *share > 0.0 {
                *path = waves.at(radius, up.atan2(right) - FRAC_PI_2);
            }
        });
        Self { path_m: path, coverage, spacing_m: spacing }
    }

    /// The wavefront of a perfect mirror over the same pupil.
    #[must_use]
    pub fn perfect(&self) -> Self {
        Self { path_m: self.path_m.mapv(|path| path * 0.0), ..self.clone() }
    }

    /// RMS over the pupil about the mean \[m\], to the accuracy of its pixels.
    #[must_use]
    pub fn rms_m(&self) -> f64 {
        let (mut area, mut sum, mut square) = (0.0, 0.0, 0.0);
        for (&path, &share) in self.path_m.iter().zip(&self.coverage) {
            if share > 0.0 {
                area += share;
                sum += share * path;
                square += share * path * path;
            }
        }
        let mean = sum / area;
        (square / area - mean * mean).max(0.0).sqrt()
    }

    /// Intensity of interference with a reference wave [-], 0 to 1: `[rows, columns]`, not a
    /// number off the pupil (eq. I-18).
    ///
    /// The reference is the wave of the perfect paraboloid, as a null test has it: with no
    /// tilt, one fringe is one wave of error. With tilt a perfect mirror shows straight level
    /// fringes, which bend downward where the wave is ahead.
    ///
    /// * `tilt_fringes` — from the lower to the upper edge of the picture
    #[must_use]
    pub fn interferogram(&self, tilt_fringes: f64) -> Array2<f64> {
        let rows = self.path_m.nrows() as f64;
        Array2::from_shape_fn(self.path_m.dim(), |(row, column)| {
            let up = 0.5 - (row as f64 + 0.5) / rows;
            let waves = self.path_m[(row, column)] / WAVELENGTH_M + tilt_fringes * up;
            0.5 * (1.0 + (TAU * waves).cos())
        })
    }
}

/// The wave's profiles at the nodes, with what the eye does not see removed.
struct Waves {
    front: Front,
    round: Vec<f64>,
    lopsided: Vec<Lopsided>,
}

impl Waves {
    fn new(surface: &Surface, aperture: Aperture, focus: Focus) -> Self {
        let radii = &surface.radii_m;
        let front = Front::annulus(radii, aperture.inner_radius_m, aperture.outer_radius_m);
        let wave = |figure: &[f64]| -> Vec<f64> {
            assert_eq!(figure.len(), radii.len(), "one value per node of the front");
            let factors = radii.iter().map(|r| wavefront_factor(surface.curvature_per_m * r));
            factors.zip(figure).map(|(factor, height)| factor * height).collect()
        };
        let rim = radii[radii.len() - 1];
        let mut round = wave(&surface.round_m);
        let (piston, defocus) = match focus {
            Focus::Kept => (front.mean(&round), 0.0),
            Focus::Best => {
                let fit = front.round(&round);
                (fit.piston_m, fit.defocus_m)
            }
        };
        for (height, r) in round.iter_mut().zip(radii) {
            *height -= piston + defocus * (r / rim).powi(2);
        }
        let part = |order: usize, figure: &[f64]| {
            let mut profile = wave(figure);
            if order == 1 {
                let slope = 2.0 * front.lopsided(1, &profile).tilt_m / rim;
                for (height, r) in profile.iter_mut().zip(radii) {
                    *height -= slope * r;
                }
            }
            profile
        };
        let lopsided = surface
            .lopsided
            .iter()
            .map(|one| Lopsided {
                order: one.order,
                cosine_m: part(one.order, &one.cosine_m),
                sine_m: part(one.order, &one.sine_m),
            })
            .collect();
        Self { front, round, lopsided }
    }

    fn at(&self, radius: f64, angle: f64) -> f64 {
        let around = self.lopsided.iter().map(|one| {
            let (sine, cosine) = (one.order as f64 * angle).sin_cos();
            cosine * self.front.at(&one.cosine_m, radius)
                + sine * self.front.at(&one.sine_m, radius)
        });
        self.front.at(&self.round, radius) + around.sum::<f64>()
    }
}
