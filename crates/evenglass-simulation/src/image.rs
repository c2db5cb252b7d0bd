//! What mirror and air make of the light at one instant: plain data.

pub use evenglass_optics::{Blur, Front, WAVELENGTH_M, depth_of_focus};

use crate::result::Column;

/// A lopsided error of the surface and where it points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lopsided {
    /// Magnitude of the pair of Noll coefficients \[m\].
    pub size_m: f64,
    /// An angle at which the surface is highest \[rad\], from the side that is up when the
    /// telescope points low, anticlockwise seen from the front; of those there are as many
    /// as the order, take the smallest that is not below zero.
    pub angle: f64,
}

/// The image at one instant. Lengths are of the *surface*, on the clear front from hole to
/// rim, since the glass was free of stress; a number that is not defined, as the focus of a
/// flat, is NaN.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Image {
    /// Coefficient of (r/a)² in the best fit of piston and (r/a)² \[m\].
    pub defocus_m: f64,
    /// Focus of the glass, + away from the mirror \[m\].
    pub focus_shift_m: f64,
    /// The tube's share of the focus against the focuser since the start, likewise \[m\].
    pub tube_focus_m: f64,
    /// Time in which the focus, at its present rate, moves by the depth of focus \[s\], at
    /// most a day.
    pub refocus_s: f64,
    /// Peak to valley of what the fit leaves of the round part \[m\].
    pub figure_pv_m: f64,
    /// Root mean square of the same \[m\].
    pub figure_rms_m: f64,
    /// The same with all lopsided orders, rigid tilt removed \[m\].
    pub total_rms_m: f64,
    /// Widest aperture on which the figure, all orders, is within `good.figure_rms` \[m\]: the
    /// whole one, or what a mask leaves; 0 if no mask of 2/5 of the diameter or more helps.
    pub good_aperture_m: f64,
    /// Noll coefficient 11 \[m\].
    pub spherical_m: f64,
    /// The same over that of the paraboloid against its sphere, + over-corrected [-].
    pub correction: f64,
    /// Noll 7 and 8.
    pub coma: Lopsided,
    /// Noll 5 and 6.
    pub astigmatism: Lopsided,
    /// Noll 9 and 10.
    pub trefoil: Lopsided,
    /// Phase variance that the figure makes on the obstructed pupil at 550 nm, refocused \[rad²\].
    pub phase_variance: f64,
    /// That of the air in the beam \[rad²\].
    pub air_variance: f64,
    /// Strehl ratio of figure and mirror seeing; NaN below its range.
    pub strehl: f64,
    /// Blur by mirror, column and box air \[arcsec\].
    pub seeing: Blur,
}

impl Lopsided {
    pub(crate) const NONE: Self = Self { size_m: 0.0, angle: 0.0 };

    /// Of cosine and sine part of an order.
    pub(crate) fn of(order: usize, (cosine, sine): (f64, f64)) -> Self {
        let order = order as f64;
        let turn = std::f64::consts::TAU / order;
        let angle = (sine.atan2(cosine) / order).rem_euclid(turn);
        Self { size_m: cosine.hypot(sine), angle }
    }
}

impl Image {
    /// Nothing is known.
    pub(crate) const UNKNOWN: Self = Self {
        defocus_m: f64::NAN,
        focus_shift_m: f64::NAN,
        tube_focus_m: f64::NAN,
        refocus_s: f64::NAN,
        figure_pv_m: f64::NAN,
        figure_rms_m: f64::NAN,
        total_rms_m: f64::NAN,
        good_aperture_m: f64::NAN,
        spherical_m: f64::NAN,
        correction: f64::NAN,
        coma: Lopsided { size_m: f64::NAN, angle: f64::NAN },
        astigmatism: Lopsided { size_m: f64::NAN, angle: f64::NAN },
        trefoil: Lopsided { size_m: f64::NAN, angle: f64::NAN },
        phase_variance: f64::NAN,
        air_variance: f64::NAN,
        strehl: f64::NAN,
        seeing: Blur { value: f64::NAN, low: f64::NAN, high: f64::NAN },
    };
}

/// The columns of the image, in the contracted order.
pub(crate) const IMAGE_COLUMNS: [Column; 12] = [
    Column { name: "defocus_nm", value: |r| 1e9 * r.image.defocus_m },
    Column { name: "focus_shift_um", value: |r| 1e6 * r.image.focus_shift_m },
    Column { name: "refocus_minutes", value: |r| r.image.refocus_s / 60.0 },
    Column { name: "figure_pv_nm", value: |r| 1e9 * r.image.figure_pv_m },
    Column { name: "figure_rms_nm", value: |r| 1e9 * r.image.figure_rms_m },
    Column { name: "spherical_nm", value: |r| 1e9 * r.image.spherical_m },
    Column { name: "correction_percent", value: |r| 1e2 * r.image.correction },
    Column { name: "coma_nm", value: |r| 1e9 * r.image.coma.size_m },
    Column { name: "astigmatism_nm", value: |r| 1e9 * r.image.astigmatism.size_m },
    Column { name: "trefoil_nm", value: |r| 1e9 * r.image.trefoil.size_m },
    Column { name: "strehl", value: |r| r.image.strehl },
    Column { name: "seeing_arcsec", value: |r| r.image.seeing.value },
];
