//! How the temperature of the glass may vary around its axis.

use std::f64::consts::{PI, TAU};

/// Highest order around the axis that is followed; what films make beyond it is left out.
const HIGHEST: usize = 4;

/// Which way a part goes around the axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Wave {
    /// cos mθ, the same on both sides of θ = 0.
    Cosine,
    /// sin mθ.
    Sine,
}

/// A part of the temperature that goes around the axis as cos mθ or sin mθ.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Part {
    /// How many times around, m, 1 to 4.
    pub order: usize,
    /// Cosine or sine.
    pub wave: Wave,
}

impl Part {
    /// cos mθ.
    #[must_use]
    pub const fn cosine(order: usize) -> Self {
        Self { order, wave: Wave::Cosine }
    }

    /// sin mθ.
    #[must_use]
    pub const fn sine(order: usize) -> Self {
        Self { order, wave: Wave::Sine }
    }

    /// Value at an angle \[rad\]: by what the part's amplitude counts there.
    #[must_use]
    pub fn at(self, angle: f64) -> f64 {
        let phase = self.order as f64 * angle;
        match self.wave {
            Wave::Cosine => phase.cos(),
            Wave::Sine => phase.sin(),
        }
    }
}

/// Which parts the temperature has besides its mean around the axis.
///
/// Where a film and a temperature vary, their product has sums and differences of both
/// orders: a set of orders is completed to all multiples, up to four, of what divides
/// them all.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Variation {
    /// Lowest order, of which all others are multiples; nought for round glass.
    lowest: usize,
    mirrored: Mirrored,
}

/// Whether both sides of θ = 0 are alike.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Mirrored {
    #[default]
    Alike,
    Unlike,
}

impl Variation {
    /// The same all around.
    #[must_use]
    pub fn round() -> Self {
        Self::default()
    }

    /// Varies with some orders, the same on both sides of θ = 0: cosines alone.
    ///
    /// # Panics
    /// If an order is not 1, 2, 3 or 4.
    #[must_use]
    pub fn even(orders: &[usize]) -> Self {
        Self { lowest: common(orders), mirrored: Mirrored::Alike }
    }

    /// Varies with some orders in any direction: cosines and sines.
    ///
    /// # Panics
    /// If an order is not 1, 2, 3 or 4.
    #[must_use]
    pub fn any(orders: &[usize]) -> Self {
        Self { lowest: common(orders), mirrored: Mirrored::Unlike }
    }

    /// Whether nothing varies.
    #[must_use]
    pub fn is_round(&self) -> bool {
        self.lowest == 0
    }

    /// The orders that vary, ascending.
    #[must_use]
    pub fn orders(&self) -> Vec<usize> {
        if self.is_round() {
            vec![]
        } else {
            (self.lowest..=HIGHEST).step_by(self.lowest).collect()
        }
    }

    /// The parts that vary, by order, the cosine before the sine.
    #[must_use]
    pub fn parts(&self) -> Vec<Part> {
        let cosines = self.orders().into_iter().map(Part::cosine);
        match self.mirrored {
            Mirrored::Alike => cosines.collect(),
            Mirrored::Unlike => cosines.flat_map(|part| [part, Part::sine(part.order)]).collect(),
        }
    }

    /// Number of sectors around the axis in which heat exchange is asked for.
    #[must_use]
    pub fn sectors(&self) -> usize {
        let orders = self.orders().len();
        match self.mirrored {
            _ if self.is_round() => 1,
            Mirrored::Alike => 2 * orders,
            Mirrored::Unlike => 4 * orders,
        }
    }

    /// Angle of each sector's middle \[rad\]; 0 for round glass.
    ///
    /// Sums over them stand for means around the axis. They are exact for the product of a
    /// film, a temperature and a part of the orders followed, so that none is taken for another.
    #[must_use]
    pub fn angles(&self) -> Vec<f64> {
        if self.is_round() {
            return vec![0.0];
        }
        let period = match self.mirrored {
            Mirrored::Alike => PI,
            Mirrored::Unlike => TAU,
        };
        let width = period / (self.lowest * self.sectors()) as f64;
        (0..self.sectors()).map(|sector| (sector as f64 + 0.5) * width).collect()
    }
}

/// What divides all orders.
fn common(orders: &[usize]) -> usize {
    orders.iter().fold(0, |divisor, &order| {
        assert!((1..=HIGHEST).contains(&order), "an order from 1 to {HIGHEST}, not {order}");
        greatest_divisor(divisor, order)
    })
}

fn greatest_divisor(a: usize, b: usize) -> usize {
    if b == 0 { a } else { greatest_divisor(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn orders_are_completed_to_what_their_products_reach() {
        for (given, expected) in [
            (&[][..], &[][..]),
            (&[1], &[1, 2, 3, 4]),
            (&[2], &[2, 4]),
            (&[3], &[3]),
            (&[4], &[4]),
            (&[4, 2], &[2, 4]),
            (&[2, 3], &[1, 2, 3, 4]),
        ] {
            assert_eq!(Variation::even(given).orders(), expected, "{given:?}");
            assert_eq!(Variation::any(given).orders(), expected, "{given:?}");
        }
        assert_eq!(Variation::any(&[3]).parts(), [Part::cosine(3), Part::sine(3)]);
        assert_eq!(Variation::even(&[3]).parts(), [Part::cosine(3)]);
        assert!(Variation::even(&[]).is_round() && Variation::any(&[]).is_round());
    }

    #[test]
    #[should_panic(expected = "an order from 1 to 4")]
    fn an_order_beyond_the_highest_is_refused() {
        let _ = Variation::any(&[1, 5]);
    }

    #[test]
    fn sums_over_sectors_are_means_of_products_of_three_parts() {
        for lowest in 1..=4 {
            for variation in [Variation::even(&[lowest]), Variation::any(&[lowest])] {
                let (angles, parts) = (variation.angles(), variation.parts());
                assert_eq!(angles.len(), variation.sectors());
                let mean = |f: &dyn Fn(f64) -> f64, angles: &[f64]| {
                    angles.iter().map(|&angle| f(angle)).sum::<f64>() / angles.len() as f64
                };
                let many: Vec<f64> = (0..64).map(|n| TAU * (f64::from(n) + 0.3) / 64.0).collect();
                for a in &parts {
                    assert_abs_diff_eq!(mean(&|t| a.at(t), &angles), 0.0, epsilon = 1e-14);
                    for b in &parts {
                        for c in &parts {
                            let product = |t: f64| a.at(t) * b.at(t) * c.at(t);
                            let (found, exact) = (mean(&product, &angles), mean(&product, &many));
                            assert_abs_diff_eq!(found, exact, epsilon = 1e-14);
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn the_sectors_of_one_half_are_those_of_the_whole() {
        for lowest in 1..=4 {
            let half = Variation::even(&[lowest]).angles();
            let whole = Variation::any(&[lowest]).angles();
            for (a, b) in half.iter().zip(&whole) {
                assert_abs_diff_eq!(a, b, epsilon = 1e-15);
            }
        }
    }
}
