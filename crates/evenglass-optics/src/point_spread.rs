//! The image of a star: what diffraction makes of a wavefront, and the sky of that.
//!
//! Pictures are in the mirror's frame: up in the picture is where light lands that went up,
//! seen from the front. An eyepiece may turn them.
//!
//! Equation numbers refer to docs/physics/image.md.

use std::f64::consts::TAU;

use ndarray::Array2;
use rustfft::num_complex::Complex;
use rustfft::{Fft, FftPlanner};

use crate::seeing::{ARCSEC_PER_RADIAN, coherence_length};
use crate::strehl::WAVELENGTH_M;
use crate::wavefront::Wavefront;

/// How finely and how far an image is computed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Frame {
    /// Pixels for each λ/D, D being the width of the wavefront's picture: at least 2, or the
    /// light of one side falls on the other.
    pub fineness: usize,
    /// Pixels along either side of the picture, no more than the wavefront's times the fineness.
    pub pixels: usize,
}

impl Default for Frame {
    /// 16 λ/D across, 8 pixels each: the disc and six rings.
    fn default() -> Self {
        Self { fineness: 8, pixels: 129 }
    }
}

/// The image of a star.
#[derive(Debug, Clone, PartialEq)]
pub struct PointSpread {
    /// Intensity over that of the perfect pattern at its centre: `[rows, columns]`; the axis
    /// is the pixel in row and column `pixels / 2`.
    pub intensity: Array2<f64>,
    /// Width of a pixel \[rad\].
    pub pixel_rad: f64,
}

impl PointSpread {
    /// The image that a wavefront makes at 550 nm (eq. I-19).
    ///
    /// # Panics
    /// If the frame asks for a fineness under 2, for no pixels, or for more than there are.
    #[must_use]
    pub fn of(wavefront: &Wavefront, frame: Frame) -> Self {
        let points = wavefront.path_m.nrows();
        let size = points * frame.fineness;
        assert!(frame.fineness >= 2, "two pixels for each λ/D at least");
        assert!((1..=size).contains(&frame.pixels), "a picture within the computed field");
        let transform = FftPlanner::new().plan_fft_forward(size);
        let along = rows_of_pupil(wavefront, transform.as_ref());
        // Frequencies of the picture, from its first pixel on, with the axis in the middle.
        let first = size - frame.pixels / 2;
        let total: f64 = wavefront.coverage.sum();
        let mut intensity = Array2::zeros((frame.pixels, frame.pixels));
        let mut column = vec![Complex::default(); size];
        let mut scratch = vec![Complex::default(); transform.get_inplace_scratch_len()];
        for across in 0..frame.pixels {
            column.fill(Complex::default());
            for (cell, row) in column.iter_mut().zip(along.rows()) {
                *cell = row[(first + across) % size];
            }
            transform.process_with_scratch(&mut column, &mut scratch);
            for down in 0..frame.pixels {
                intensity[(down, across)] =
                    column[(first + down) % size].norm_sqr() / (total * total);
            }
        }
        let pixel_rad = WAVELENGTH_M / (size as f64 * wavefront.spacing_m);
        Self { intensity, pixel_rad }
    }

    /// Width of a pixel \[arcsec\].
    #[must_use]
    pub fn pixel_arcsec(&self) -> f64 {
        self.pixel_rad * ARCSEC_PER_RADIAN
    }

    /// The brightest pixel: the Strehl ratio, if the picture is fine enough.
    #[must_use]
    pub fn peak(&self) -> f64 {
        self.intensity.iter().copied().fold(0.0, f64::max)
    }

    /// The same image through air that blurs a long exposure by this width \[arcsec\] (eq. I-21).
    /// Light that the picture cuts off does not come back into it.
    #[must_use]
    pub fn through_air(&self, blur_arcsec: f64) -> Self {
        let pixels = self.intensity.nrows();
        // Twice the picture, so that what leaves on one side does not return on the other.
        let size = 2 * pixels;
        let mut planner = FftPlanner::new();
        let mut field = Array2::from_shape_fn((size, size), |(row, column)| {
            let value = self.intensity.get((row, column)).copied().unwrap_or(0.0);
            Complex::new(value, 0.0)
        });
        both_ways(&mut field, planner.plan_fft_forward(size).as_ref());
        let coherence = coherence_length(blur_arcsec);
        let step = WAVELENGTH_M / (size as f64 * self.pixel_rad);
        let distance = |index: usize| step * index.min(size - index) as f64;
        for ((row, column), value) in field.indexed_iter_mut() {
            let apart = distance(row).hypot(distance(column)) / coherence;
            *value *= (-3.44 * apart.powf(5.0 / 3.0)).exp() / (size * size) as f64;
        }
        both_ways(&mut field, planner.plan_fft_inverse(size).as_ref());
        let intensity = Array2::from_shape_fn((pixels, pixels), |at| field[at].re.max(0.0));
        Self { intensity, pixel_rad: self.pixel_rad }
    }
}

/// The amplitude in the pupil, transformed along its rows: `[rows of the pupil, size]`.
fn rows_of_pupil(wavefront: &Wavefront, transform: &dyn Fft<f64>) -> Array2<Complex<f64>> {
    let (points, size) = (wavefront.path_m.nrows(), transform.len());
    let mut field = Array2::default((points, size));
    for ((row, column), &share) in wavefront.coverage.indexed_iter() {
        if share > 0.0 {
            // A wave that is ahead has a lower phase here.
            let phase = -TAU * wavefront.path_m[(row, column)] / WAVELENGTH_M;
            field[(row, column)] = Complex::from_polar(share, phase);
        }
    }
    along_rows(&mut field, transform);
    field
}

/// Transforms along rows, then along columns.
fn both_ways(field: &mut Array2<Complex<f64>>, transform: &dyn Fft<f64>) {
    for _ in 0..2 {
        along_rows(field, transform);
        field.swap_axes(0, 1);
        *field = field.as_standard_layout().into_owned();
    }
}

fn along_rows(field: &mut Array2<Complex<f64>>, transform: &dyn Fft<f64>) {
    if let Some(cells) = field.as_slice_mut() {
        transform.process(cells);
    }
}
