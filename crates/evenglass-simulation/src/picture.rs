//! What one would see: wavefront, fringes and the image of a star at a moment of the night.

use evenglass_optics::{
    Aperture, Focus, Frame, Lopsided, PointSpread, Surface as Front, Wavefront,
};
use evenglass_scenario::Scenario;
use ndarray::Array2;

use crate::figure::obstruction;
use crate::result::Surface;

/// Pixels across the pupil.
const PIXELS: usize = 128;

/// The front at a moment, as light shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// Wavefront at best focus \[m\], `[rows, columns]`; row 0 is the side that is up when the
    /// telescope points low, seen from the front. Not a number off the pupil.
    pub wavefront_m: Array2<f64>,
    /// Fringes against a perfect paraboloid of the same focus, tilted, 0 to 1, likewise.
    pub fringes: Array2<f64>,
    /// Intensity of a star's image over the peak of the perfect one, without the air.
    pub star: Array2<f64>,
    /// The same of a perfect mirror.
    pub perfect_star: Array2<f64>,
    /// Width of a pixel of the star's images \[arcsec\].
    pub pixel_arcsec: f64,
    /// RMS of the wavefront \[m\].
    pub wavefront_rms_m: f64,
    /// Brightest pixel of `star`: the figure's share of the Strehl ratio.
    pub peak: f64,
}

impl Picture {
    /// The picture of a surface of a scenario's mirror, with its obstruction; `None` where no
    /// surface was computed.
    ///
    /// * `tilt_fringes` — fringes that a perfect mirror shows, level
    #[must_use]
    pub fn of(scenario: &Scenario, surface: &Surface, tilt_fringes: f64) -> Option<Self> {
        let inner = *surface.radius_m.first()?;
        let outer = *surface.radius_m.last()?;
        let diameter = 2.0 * outer;
        let inner_radius_m = inner.max(obstruction(scenario));
        let aperture = Aperture { inner_radius_m, outer_radius_m: outer };
        let order = |(order, cosine, sine): &(usize, Vec<f64>, Vec<f64>)| Lopsided {
            order: *order,
            cosine_m: cosine.clone(),
            sine_m: sine.clone(),
        };
        let front = Front {
            radii_m: surface.radius_m.clone(),
            curvature_per_m: scenario.mirror.focal_ratio.map_or(0.0, |f| 0.5 / (f * diameter)),
            round_m: surface.round_m.clone(),
            lopsided: surface.orders.iter().map(order).collect(),
        };
        let wavefront = Wavefront::of(&front, aperture, PIXELS, Focus::Best);
        let star = PointSpread::of(&wavefront, Frame::default());
        let perfect = PointSpread::of(&wavefront.perfect(), Frame::default());
        Some(Self {
            fringes: wavefront.interferogram(tilt_fringes),
            wavefront_rms_m: wavefront.rms_m(),
            pixel_arcsec: star.pixel_arcsec(),
            peak: star.peak(),
            star: star.intensity,
            perfect_star: perfect.intensity,
            wavefront_m: wavefront.path_m,
        })
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use approx::assert_relative_eq;
    use evenglass_optics::{WAVELENGTH_M, phase_variance};

    use super::*;

    const MIRROR: &str = "[mirror]\ndiameter = '200 mm'\nedge_thickness = '25 mm'\nfocal_ratio = 6\n\
        glass = 'borosilicate'\n[night]\nstart = '20:00'\nduration = '1 h'\n\
        glass_temperature = '20 degC'\nair = { kind = 'steady', temperature = '10 degC' }\n";

    fn scenario() -> Scenario {
        evenglass_scenario::parse("p.toml", MIRROR, Path::new(""), &[]).unwrap()
    }

    /// An eighth of a wave of spherical at best focus: the peak is that of Maréchal's law for
    /// the wavefront's own RMS, and without error it is one.
    #[test]
    fn the_peak_of_a_picture_is_the_strehl_ratio_of_its_wavefront() {
        let radius_m: Vec<f64> = (0..=24).map(|n| 0.1 * f64::from(n) / 24.0).collect();
        let spherical = |r: &f64| {
            let s = (r / 0.1).powi(2);
            0.5 * 0.125 * WAVELENGTH_M * (4.0 * s * s - 4.0 * s)
        };
        let round_m: Vec<f64> = radius_m.iter().map(spherical).collect();
        let surface = Surface { radius_m, round_m, orders: vec![] };
        let picture = Picture::of(&scenario(), &surface, 8.0).unwrap();
        let expected = (-phase_variance(picture.wavefront_rms_m, WAVELENGTH_M)).exp();
        assert_relative_eq!(picture.peak, expected, max_relative = 0.01);
        assert!(picture.peak < 0.97, "an error that shows: {}", picture.peak);
        let peak = picture.perfect_star.iter().copied().fold(0.0, f64::max);
        assert_relative_eq!(peak, 1.0, max_relative = 1e-9);
        let none = Surface { radius_m: vec![], round_m: vec![], orders: vec![] };
        assert_eq!(Picture::of(&scenario(), &none, 8.0), None);
    }
}
