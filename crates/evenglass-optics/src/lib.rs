//! From temperatures in a mirror to its figure, wavefront and image.
//!
//! A [`Blank`] is the shape of the glass. A [`Deflection`] solves its free-body
//! thermoelastic problem once for each order around the axis and keeps it as influence
//! rows: the figure of an instant is a product of these with temperatures. A [`Front`]
//! reads defocus, Zernike terms, RMS and PV off such a figure. Pupil, wavefront, point
//! spread and Strehl ratio follow from there, and so does the blur of warm air.
//!
//! The equations: docs/physics/figure.md and docs/physics/image.md. Not here: glasses by
//! name, conduction, nights, clocks.

mod band;
mod blank;
mod deflection;
mod element;
mod focus;
mod front;
mod mesh;
mod point_spread;
mod refraction;
mod seeing;
mod strehl;
mod wavefront;
mod zernike;

pub use blank::Blank;
pub use deflection::{Deflection, DeflectionError, HIGHEST_ORDER};
pub use focus::{
    correction_percent, depth_of_focus, focus_shift, parabolising, refocus_interval, tube_share,
};
pub use front::{Front, LopsidedFit, RoundFit};
pub use mesh::MeshSize;
pub use point_spread::{Frame, PointSpread};
pub use refraction::{refractivity, thermal_slope};
pub use seeing::{
    ARCSEC_PER_RADIAN, Beam, Blur, FaceAir, FaceSeeing, FaceState, PhaseVariance, Slice, coherence,
    coherence_length, column_seeing, critical_speed, face_seeing, left_by_tilt, natural_blur,
    saturated_variance, sheared_blur, variance_without_tilt, width_arcsec,
};
pub use strehl::{
    Pupil, STREHL_LIMIT, WAVELENGTH_M, marechal_square, phase_variance, strehl, wavefront_factor,
};
pub use wavefront::{Aperture, Focus, Lopsided, Surface, Wavefront};
pub use zernike::{Part, Zernike};
