//! The jet that rises from the middle of a mirror after the sheet over it has turned.

use std::f64::consts::FRAC_PI_4;

use crate::{Estimate, Validity};

/// Gravity [m/s²].
const GRAVITY: f64 = 9.806_65;

/// Growth of the half-speed radius with height of a quiet round jet [-].
///
/// # Source
/// H. J. Hussein, S. P. Capp and W. K. George, "Velocity measurements in a
/// high-Reynolds-number, momentum-conserving, axisymmetric, turbulent jet", J. Fluid
/// Mech. 258 (1994) 31–75.
pub const QUIET_SPREAD: f64 = 0.094;

/// The same where opposed streams turn upward, twice as fast [-]; from memory of work on
/// upwash fountains.
pub const FOUNTAIN_SPREAD: f64 = 0.2;

/// Decay of the speed on the axis of a quiet jet, u/u₀ = 5.8 d/z [-] (Hussein et al.).
const QUIET_DECAY: f64 = 5.8;

/// The same of its excess of temperature [-].
const QUIET_EXCESS_DECAY: f64 = 5.0;

/// Growth of a quiet jet's flow, Q/Q₀ = 0.32 z/d [-].
const QUIET_ENTRAINMENT: f64 = 0.32;

/// Speed on a plume's axis, u = 4.7 (B/z)^(1/3) [-].
const PLUME: f64 = 4.7;

/// One standard deviation of speed and excess [-], from the range of the spread.
const SIGMA: f64 = 0.35;

/// Where the column starts: one speed, one temperature over a round area (a top hat).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Column {
    /// Of the source \[m\].
    pub diameter: f64,
    /// Upward [m/s].
    pub speed: f64,
    /// Temperature above that of the air around \[K\]; below 0 if colder.
    pub excess: f64,
    /// Of the air around \[K\].
    pub ambient: f64,
    /// Growth of the half-speed radius with height [-], 0.094 to 0.2.
    pub spread: f64,
}

impl Column {
    /// Spread to use where nothing better is known [-]: between a quiet jet and an
    /// upwash fountain.
    #[must_use]
    pub fn typical_spread() -> f64 {
        (QUIET_SPREAD * FOUNTAIN_SPREAD).sqrt()
    }

    /// A column through which `flow` [m³/s] leaves at `speed` [m/s], with typical spread.
    ///
    /// * `excess`, `ambient` — \[K\]
    #[must_use]
    pub fn of_flow(flow: f64, speed: f64, excess: f64, ambient: f64) -> Self {
        let area = if speed > 0.0 { flow.max(0.0) / speed } else { 0.0 };
        let diameter = (area / FRAC_PI_4).sqrt();
        Self { diameter, speed, excess, ambient, spread: Self::typical_spread() }
    }

    /// Flow at the source [m³/s].
    #[must_use]
    pub fn flow(&self) -> f64 {
        FRAC_PI_4 * self.diameter * self.diameter * self.speed
    }

    /// Height to which speed and temperature on the axis are those of the source \[m\]
    /// (eq. N-34).
    #[must_use]
    pub fn core_length(&self) -> f64 {
        QUIET_DECAY * self.slowness() * self.diameter
    }

    /// Height above which buoyancy has given more than the source did \[m\] (eq. N-35);
    /// infinite without buoyancy.
    ///
    /// # Source
    /// B. R. Morton, G. Taylor and J. S. Turner, Proc. R. Soc. A 234 (1956) 1–23;
    /// H. B. Fischer et al., *Mixing in Inland and Coastal Waters* (1979).
    #[must_use]
    pub fn buoyancy_length(&self) -> f64 {
        let buoyancy = self.buoyancy().abs();
        if buoyancy > 0.0 {
            (self.flow() * self.speed).powf(0.75) / buoyancy.sqrt()
        } else {
            f64::INFINITY
        }
    }

    /// Height at which a column colder than the air around turns back \[m\] (eq. N-36);
    /// none if it is not colder.
    ///
    /// # Source
    /// J. S. Turner, "Jets and plumes with negative or reversing buoyancy", J. Fluid
    /// Mech. 26 (1966) 779–792; constant from memory.
    #[must_use]
    pub fn top(&self) -> Option<f64> {
        (self.excess < 0.0).then(|| 1.85 * self.buoyancy_length())
    }

    /// Speed on the axis [m/s] at `height` \[m\] (eq. N-37).
    ///
    /// Above the core it falls as the height grows; buoyancy adds that of a plume, in
    /// cubes, or takes it all at the top. In range within the buoyancy length.
    ///
    /// # Source
    /// Hussein, Capp and George (1994), see [`QUIET_SPREAD`]; plume: Fischer et al.
    /// (1979). How they join is ours.
    #[must_use]
    pub fn axis_speed(&self, height: f64) -> Estimate {
        let core = self.core_length();
        let jet = self.speed * core / height.max(core);
        let value = match self.top() {
            None if height > core => {
                let plume = PLUME.powi(3) * self.buoyancy() / height * (1.0 - core / height);
                (jet.powi(3) + plume).cbrt()
            }
            Some(top) if top > 0.0 => jet * (1.0 - (height / top).powi(2)).max(0.0).sqrt(),
            None | Some(_) => jet,
        };
        self.estimate(if core > 0.0 { value } else { 0.0 }, height)
    }

    /// Temperature on the axis above that of the air around \[K\] at `height` \[m\]
    /// (eq. N-38).
    #[must_use]
    pub fn axis_excess(&self, height: f64) -> Estimate {
        let kept = QUIET_EXCESS_DECAY * self.slowness() * self.diameter;
        let value = if kept > 0.0 { self.excess * kept / height.max(kept) } else { 0.0 };
        self.estimate(value, height)
    }

    /// Diameter within which the speed is above half that on the axis \[m\] at `height`
    /// \[m\]; not below the source's (eq. N-39).
    #[must_use]
    pub fn half_speed_diameter(&self, height: f64) -> Estimate {
        self.estimate((2.0 * self.spread * height).max(self.diameter), height)
    }

    /// Flow that rises at `height` \[m\], air drawn in from the sides included [m³/s]
    /// (eq. N-40).
    ///
    /// # Source
    /// F. P. Ricou and D. B. Spalding, "Measurements of entrainment by axisymmetrical
    /// turbulent jets", J. Fluid Mech. 11 (1961) 21–32; near the source it is weaker:
    /// B. J. Hill, J. Fluid Mech. 51 (1972) 773–779.
    #[must_use]
    pub fn rising_flow(&self, height: f64) -> Estimate {
        let growth = if self.diameter > 0.0 {
            QUIET_ENTRAINMENT / self.slowness() * height / self.diameter
        } else {
            0.0
        };
        self.estimate(self.flow() * growth.max(1.0), height)
    }

    /// How much sooner it slows down than a quiet jet [-]: momentum is kept, so speed
    /// falls as width grows.
    fn slowness(&self) -> f64 {
        if self.spread > 0.0 { QUIET_SPREAD / self.spread } else { 1.0 }
    }

    /// Flow of buoyancy [m⁴/s³].
    fn buoyancy(&self) -> f64 {
        if self.ambient > 0.0 { GRAVITY * self.excess / self.ambient * self.flow() } else { 0.0 }
    }

    fn estimate(&self, value: f64, height: f64) -> Estimate {
        let validity = Validity::of(height, 0.0..=self.buoyancy_length())
            .and(Validity::of(self.spread, QUIET_SPREAD..=FOUNTAIN_SPREAD));
        Estimate { value, validity, relative_sigma: SIGMA }
    }
}

/// How far a cross wind has carried a column sideways \[m\] at `height` \[m\] (eq. N-41).
///
/// * `wind` — [m/s]
///
/// σ 30 %; measured on jets 5 to 35 times as fast as the wind.
///
/// # Source
/// B. D. Pratte and W. D. Baines, "Profiles of the round turbulent jet in a cross flow",
/// J. Hydraul. Div. ASCE 93 (1967) 53–64; range from memory.
#[must_use]
pub fn drift(column: &Column, wind: f64, height: f64) -> Estimate {
    let ratio = column.speed / wind;
    let scale = ratio * column.diameter;
    let value = if wind <= 0.0 || height <= 0.0 {
        0.0
    } else if scale > 0.0 {
        scale * (height / (2.05 * scale)).powf(1.0 / 0.28)
    } else {
        f64::INFINITY
    };
    Estimate { value, validity: Validity::of(ratio, 5.0..=35.0), relative_sigma: 0.30 }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    /// 2 m/s over 160 mm, a tenth of a kelvin warmer than air of 10 °C.
    fn quiet() -> Column {
        Column { diameter: 0.160, speed: 2.0, excess: 0.1, ambient: 283.15, spread: QUIET_SPREAD }
    }

    #[test]
    fn speed_is_that_of_the_source_in_the_core_and_falls_with_height_above() {
        let column = Column { excess: 0.0, ..quiet() };
        assert_relative_eq!(column.core_length(), 0.928, max_relative = 1e-12);
        assert_relative_eq!(column.axis_speed(0.9).value, 2.0);
        assert_relative_eq!(column.axis_speed(1.856).value, 1.0, max_relative = 1e-12);
        assert_relative_eq!(column.axis_excess(1.856).value, 0.0);
        assert_relative_eq!(column.half_speed_diameter(1.0).value, 0.188, max_relative = 1e-12);
    }

    #[test]
    fn speed_and_excess_have_no_step_where_the_core_ends() {
        for excess in [-0.5, 0.0, 0.5] {
            let column = Column { excess, ..quiet() };
            let core = column.core_length();
            let (below, above) = (column.axis_speed(core - 1e-9), column.axis_speed(core + 1e-9));
            assert_relative_eq!(below.value, above.value, max_relative = 1e-7);
        }
    }

    /// M = π/4 d² u², B = g T₀/T Q: with d = 0.16 m, u = 2 m/s and 0.1 K,
    /// M = 0.080425, B = 1.3927e-4, M^¾/B^½ = 12.797.
    #[test]
    fn the_buoyancy_length_is_that_worked_by_hand() {
        assert_relative_eq!(quiet().buoyancy_length(), 12.797, max_relative = 1e-3);
        assert!(Column { excess: 0.0, ..quiet() }.buoyancy_length().is_infinite());
        let hotter = Column { excess: 0.4, ..quiet() };
        assert_relative_eq!(hotter.buoyancy_length(), 0.5 * quiet().buoyancy_length());
    }

    #[test]
    fn a_cold_column_turns_back_and_a_warm_one_never_does() {
        let cold = Column { excess: -2.0, ..quiet() };
        let top = cold.top().unwrap();
        assert_relative_eq!(top, 1.85 * cold.buoyancy_length());
        assert_relative_eq!(cold.axis_speed(top).value, 0.0);
        assert_relative_eq!(cold.axis_speed(2.0 * top).value, 0.0);
        assert!(quiet().top().is_none());
    }

    #[test]
    fn far_above_the_buoyancy_length_it_rises_like_a_plume() {
        let hot = Column { excess: 10.0, speed: 0.1, ..quiet() };
        let height = 1e4;
        let plume = 4.7 * (hot.buoyancy() / height).cbrt();
        let speed = hot.axis_speed(height);
        assert_relative_eq!(speed.value, plume, max_relative = 1e-3);
        assert_eq!(speed.validity, Validity::Extrapolated);
    }

    /// The typical spread takes √(0.094/0.2) = 0.686 of a quiet jet's far speed.
    #[test]
    fn the_typical_column_slows_down_sooner_than_a_quiet_jet() {
        let far = |spread| Column { spread, excess: 0.0, ..quiet() }.axis_speed(5.0).value;
        let ratio = far(Column::typical_spread()) / far(QUIET_SPREAD);
        assert_relative_eq!(ratio, 0.6856, max_relative = 1e-4);
        let column = Column::of_flow(0.0402, 2.0, 0.0, 283.15);
        assert_relative_eq!(column.flow(), 0.0402, max_relative = 1e-12);
        assert_relative_eq!(column.diameter, 0.16, max_relative = 1e-3);
    }

    /// z/(R d) = 2.05 (x/(R d))^0.28 with R = 10, d = 0.1: x = 1 at z = 2.05.
    #[test]
    fn a_cross_wind_carries_the_column_as_measured() {
        let column = Column { diameter: 0.1, ..quiet() };
        let drift_at = drift(&column, 0.2, 2.05);
        assert_relative_eq!(drift_at.value, 1.0, max_relative = 1e-12);
        assert_eq!(drift_at.validity, Validity::InRange);
        assert_relative_eq!(drift(&column, 0.0, 2.0).value, 0.0);
        assert_eq!(drift(&column, 2.0, 1.0).validity, Validity::Extrapolated);
    }

    #[test]
    fn a_column_without_air_has_no_speed_and_no_excess() {
        let none = Column { diameter: 0.0, speed: 0.0, ..quiet() };
        for estimate in [none.axis_speed(1.0), none.axis_excess(1.0), none.rising_flow(1.0)] {
            assert_relative_eq!(estimate.value, 0.0);
        }
    }

    /// Far above: excess T₀ · 5 d/z, flow Q₀ · 0.32 z/d, quiet; at 3.2 m 0.025 K and
    /// 6.4 times the source's flow.
    #[test]
    fn excess_thins_out_and_flow_grows_as_measured_on_jets() {
        let column = quiet();
        assert_relative_eq!(column.axis_excess(3.2).value, 0.025, max_relative = 1e-12);
        assert_relative_eq!(column.axis_excess(0.1).value, 0.1);
        let growth = column.rising_flow(3.2).value / column.flow();
        assert_relative_eq!(growth, 6.4, max_relative = 1e-12);
        assert_relative_eq!(column.rising_flow(0.1).value, column.flow());
    }

    /// R = 10, d = 0.2: x = 2 at z = 4.1.
    #[test]
    fn drift_scales_with_the_column() {
        let column = Column { diameter: 0.2, ..quiet() };
        assert_relative_eq!(drift(&column, 0.2, 4.1).value, 2.0, max_relative = 1e-12);
    }
}
