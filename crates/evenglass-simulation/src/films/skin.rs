//! Radiation and insulation around a film.

use evenglass_disc::Exchange;

use super::change::Changes;
use super::lopsided::{Place, shaped};

/// Steps after which the search for the outer temperature of a layer gives up; the
/// bracket alone halves to rounding in fewer.
const SEARCH_STEPS: usize = 60;

/// Step of the outer temperature after which its search ends, as a share of its distance
/// from the surroundings. Newton's next step would be about the square of that share and
/// is taken along the tangent; what remains is the square again, 10⁻¹².
const SEARCH_END: f64 = 1e-3;

/// Step that ends the search in any case \[K\]: rounding.
const ROUNDING: f64 = 1e-12;

/// What surrounds a film: radiation, and a layer between the glass and both.
#[derive(Debug, Clone, Copy)]
pub(super) struct Skin {
    /// Multiplies the film, whatever its law [-].
    pub(super) factor: f64,
    /// Emissivity times Stefan and Boltzmann's constant [W m⁻² K⁻⁴].
    pub(super) emission: f64,
    /// Temperature of the radiant surroundings \[K\].
    pub(super) radiant: f64,
    /// Conductance of the insulation [W m⁻² K⁻¹]; `None` without insulation.
    pub(super) layer: Option<f64>,
}

impl Skin {
    /// Exchange at points of the glass whose film gives (flux, slope) for a point of
    /// the face and the temperature of the surface it touches.
    ///
    /// * `air` — driving air \[K\]
    /// * `place` — of the points of the face
    pub(super) fn fill(
        &self,
        air: f64,
        film: impl Fn(usize, f64) -> (f64, f64),
        place: &Place<'_>,
        (temperature, exchange): (&[f64], &mut [Exchange]),
    ) {
        for (point, &i) in place.index.iter().enumerate() {
            let share = self.factor * shaped(place.shape, point);
            exchange[i] = self.at(air, temperature[i], |surface| {
                let (flux, slope) = film(point, surface);
                (share * flux, share * slope)
            });
        }
    }

    /// Exchange at a point of the glass.
    ///
    /// * `air` — driving air \[K\]; `temperature` — of the glass \[K\]
    /// * `film` — (flux, slope) for the temperature of the surface it touches
    #[inline]
    pub(super) fn at(
        &self,
        air: f64,
        temperature: f64,
        film: impl Fn(f64) -> (f64, f64),
    ) -> Exchange {
        let radiant = self.emission * self.radiant.powi(4);
        let outside = |surface: f64| {
            let (flux, slope) = film(surface);
            let cube = self.emission * surface * surface * surface;
            (flux + cube * surface - radiant, slope + 4.0 * cube)
        };
        match self.layer {
            None => {
                let (flux, slope) = outside(temperature);
                Exchange { flux, slope }
            }
            Some(conductance) => {
                let around = (air.min(self.radiant), air.max(self.radiant));
                behind_layer(conductance, temperature, around, outside)
            }
        }
    }

    /// Temperature of the surface that film and radiation meet, where the glass of
    /// temperature `temperature` \[K\] gives off `flux` [W m⁻²].
    #[inline]
    pub(super) fn outer(&self, temperature: f64, flux: f64) -> f64 {
        self.layer.map_or(temperature, |conductance| temperature - flux / conductance)
    }

    /// Heat radiated by a surface of a temperature \[K\] [W m⁻²].
    #[inline]
    pub(super) fn radiated(&self, surface: f64) -> f64 {
        self.emission * (surface.powi(4) - self.radiant.powi(4))
    }
}

/// How the flux at a point answers to what surrounds it [W m⁻² K⁻¹].
#[derive(Debug, Clone, Copy)]
pub(super) struct Response {
    /// Loss of flux by a warmer driving air.
    pub(super) to_driving: f64,
    /// Loss of flux by warmer radiant surroundings.
    pub(super) to_radiant: f64,
    /// 4 T³ of the surface that film and radiation meet \[K³\].
    steepness: f64,
}

impl Skin {
    /// The response of a point from its exchange.
    ///
    /// * `own` — share of the point itself in its driving air [-]
    #[inline]
    pub(super) fn response(&self, temperature: f64, exchange: Exchange, own: f64) -> Response {
        let outer = self.outer(temperature, exchange.flux);
        let steepness = 4.0 * outer * outer * outer;
        let emitted = self.emission * steepness;
        let inverse = self.layer.map_or(0.0, f64::recip);
        // The slope with the driving air held: that of the exchange has the point's own
        // part of the driving air taken off.
        let held = (exchange.slope - own * emitted) / (1.0 - own * (1.0 + emitted * inverse));
        // What a change outside the layer does to the flux inside.
        let through = 1.0 - held * inverse;
        let radiant = 4.0 * self.emission * self.radiant * self.radiant * self.radiant;
        Response { to_driving: held - through * emitted, to_radiant: through * radiant, steepness }
    }

    /// Change of what a point radiates [W m⁻²], for changes of the glass and of what it
    /// radiates to, and of the whole flux there.
    #[inline]
    pub(super) fn radiated_change(
        &self,
        response: &Response,
        changes: &Changes<'_>,
        (point, flux): (usize, f64),
    ) -> f64 {
        let outer = changes.glass[point] - self.layer.map_or(0.0, |layer| flux / layer);
        let radiant = 4.0 * self.emission * self.radiant * self.radiant * self.radiant;
        self.emission * response.steepness * outer - radiant * changes.radiant
    }
}

/// Exchange of glass behind a layer without storage (eqs. F-9 and F-10).
///
/// The outer temperature balances conduction through the layer with film and
/// radiation; it lies between the glass and its surroundings, which brackets
/// Newton's steps. The slope follows by differentiating the balance.
fn behind_layer(
    conductance: f64,
    glass: f64,
    around: (f64, f64),
    outside: impl Fn(f64) -> (f64, f64),
) -> Exchange {
    let (mut low, mut high) = (around.0.min(glass), around.1.max(glass));
    let mut outer = glass;
    let (mut flux, mut slope) = outside(outer);
    for _ in 0..SEARCH_STEPS {
        let surplus = flux - conductance * (glass - outer);
        if surplus > 0.0 {
            high = outer;
        } else {
            low = outer;
        }
        let newton = outer - surplus / (slope + conductance);
        // Not `contains`: a step of 0/0 (nothing conducts at all) must stay out too.
        let next = if newton >= low && newton <= high { newton } else { 0.5 * (low + high) };
        let step = (next - outer).abs();
        outer = next;
        (flux, slope) = outside(outer);
        let distance = (outer - around.0).abs().min((outer - around.1).abs());
        if step <= ROUNDING + SEARCH_END * distance {
            break;
        }
    }
    let total = conductance + slope;
    if conductance <= 0.0 || total <= 0.0 {
        return Exchange::default();
    }
    let last = (conductance * (glass - outer) - flux) / total;
    Exchange { flux: flux + slope * last, slope: conductance * slope / total }
}

#[cfg(test)]
mod tests {
    use approx::{assert_abs_diff_eq, assert_relative_eq};

    use super::*;

    /// A linear film behind a plane layer: 1/U = 1/h + t/k, by hand.
    #[test]
    fn a_layer_and_a_film_are_resistances_in_series() {
        let (film, conductance) = (12.0, 0.035 / 0.010);
        let outside = |outer: f64| (film * (outer - 280.0), film);
        let exchange = behind_layer(conductance, 290.0, (280.0, 280.0), outside);
        let series = 1.0 / (1.0 / film + 1.0 / conductance);
        assert_relative_eq!(exchange.slope, series, max_relative = 1e-12);
        assert_relative_eq!(exchange.flux, 10.0 * series, max_relative = 1e-12);
    }

    /// q = 3 |d|^1.25 sign d: the balance must hold to rounding although the film bends
    /// most where the difference is smallest.
    #[test]
    fn the_balance_of_a_bent_film_closes_to_rounding() {
        let outside = |outer: f64| {
            let d: f64 = outer - 280.0;
            (3.0 * d * d.abs().powf(0.25), 3.75 * d.abs().powf(0.25))
        };
        for glass in [250.0, 279.0, 279.99, 280.0001, 280.3, 281.0, 310.0] {
            for conductance in [0.5, 6.0, 500.0] {
                let exchange = behind_layer(conductance, glass, (280.0, 280.0), outside);
                let outer = glass - exchange.flux / conductance;
                // Rounding of 280 K, seen through the layer, limits the comparison.
                let rounding = 1e-12 + conductance * 280.0 * f64::EPSILON;
                let allowed = 1e-12 * exchange.flux.abs() + 4.0 * rounding;
                let wrong = (outside(outer).0 - exchange.flux).abs();
                assert!(wrong <= allowed, "{glass} K behind {conductance}: {wrong}");
            }
        }
    }

    #[test]
    fn a_perfect_insulator_lets_nothing_through() {
        let outside = |outer: f64| (12.0 * (outer - 280.0), 12.0);
        let exchange = behind_layer(0.0, 290.0, (280.0, 280.0), outside);
        assert_abs_diff_eq!(exchange.flux, 0.0);
        assert_abs_diff_eq!(exchange.slope, 0.0);
    }

    #[test]
    fn a_sealed_face_behind_a_perfect_insulator_is_finite() {
        let exchange = behind_layer(0.0, 290.0, (280.0, 280.0), |_| (0.0, 0.0));
        assert_eq!(exchange, Exchange { flux: 0.0, slope: 0.0 });
    }
}
