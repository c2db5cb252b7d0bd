//! A disc so thin that it has one temperature through its thickness, better
//! cooled inside a border than outside, following falling air.
//!
//! # Source
//! The fin equation k t ∇²T - h T = -ρ c t G in two zones with a sealed rim,
//! h the sum of both films (derived; Bessel functions as in Carslaw and Jaeger,
//! *Conduction of Heat in Solids*, 2nd ed., appendix 3).

use crate::bessel::{i0_scaled, i1_scaled, k0, k1};

/// A disc in two zones.
pub(crate) struct ThinDisc {
    pub(crate) conductivity: f64,
    pub(crate) thickness: f64,
    pub(crate) outer: f64,
    pub(crate) border: f64,
    /// Sum of both films inside and outside the border [W m⁻² K⁻¹].
    pub(crate) films: [f64; 2],
    /// ρ c G [W m⁻³].
    pub(crate) source: f64,
}

impl ThinDisc {
    /// Temperature above the air [K] at a radius [m].
    pub(crate) fn lag(&self, radius: f64) -> f64 {
        let [inside, outside] = self.films.map(|h| self.source * self.thickness / h);
        let [m, n] = self.films.map(|h| (h / (self.conductivity * self.thickness)).sqrt());
        let (c, a) = (self.border, self.outer);
        let (i0, i1) = (|x: f64| x.exp() * i0_scaled(x), |x: f64| x.exp() * i1_scaled(x));
        // Outside: P (I0(n r) + w K0(n r)), no flux at the rim.
        let w = i1(n * a) / k1(n * a);
        let at_border = i0(n * c) + w * k0(n * c);
        let slope_at_border = n * (i1(n * c) - w * k1(n * c));
        // inside + A I0(m c) = outside + P at_border;  A m I1(m c) = P slope_at_border
        let ratio = m * i1(m * c) / slope_at_border;
        let amplitude = (outside - inside) / (i0(m * c) - ratio * at_border);
        if radius <= c {
            inside + amplitude * i0(m * radius)
        } else {
            outside + amplitude * ratio * (i0(n * radius) + w * k0(n * radius))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::rows;

    #[test]
    fn lags_are_those_of_the_table() {
        for row in rows("thin-disc-lag") {
            let disc = ThinDisc {
                conductivity: row.input("conductivity"),
                thickness: row.input("thickness"),
                outer: 0.5 * row.input("diameter"),
                border: row.input("border"),
                films: [row.input("films_inside"), row.input("films_outside")],
                source: row.input("heat_capacity") * row.input("fall") / 3600.0,
            };
            row.check(disc.lag(row.input("radius")));
        }
    }
}
