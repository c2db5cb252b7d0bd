//! Moved air over a face: its film at every radius and angle.

use std::f64::consts::PI;

/// Angles at which a lopsided film is sampled: a multiple of the numbers of fans on a circle up
/// to six, whose orders are then not taken for others. With 32 the tenth multiple of three fans
/// was one of the second order, by 0.3 %.
const ANGLES: u32 = 60;

/// Highest order around the axis that is kept.
pub const ORDERS: usize = 4;

/// Moved air at one point of a face.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Local {
    /// Forced film [W m⁻² K⁻¹].
    pub(crate) film: f64,
    /// Depth of the moving layer over the square of its speed [s² m⁻¹].
    pub(crate) sluggishness: f64,
    /// Warming of the driving air by the heat with which the air comes to the face [K/W].
    pub(crate) arriving: f64,
    /// Its warming by the heat it has taken up on the face so far [K/W].
    pub(crate) gain: f64,
    /// One standard deviation of the film as a share of it [-].
    pub(crate) relative_sigma: f64,
}

/// Whether a film is the same all around the axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Symmetry {
    Round,
    Lopsided,
}

/// Moved air over one face in one state of fans and cover.
pub(crate) struct Field<'a> {
    law: Box<dyn Fn(f64, f64) -> Local + 'a>,
    symmetry: Symmetry,
    /// Where the film has a kink or begins to bend \[m\].
    pub(crate) breaks: Vec<f64>,
}

/// A film at one radius, around the axis: mean and orders 1 to 4.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Around {
    /// Mean [W m⁻² K⁻¹].
    pub mean: f64,
    /// (cosine, sine) part of each order [W m⁻² K⁻¹]: mean + Σ c cos mθ + s sin mθ.
    pub orders: [(f64, f64); ORDERS],
}

impl Around {
    /// Mean and orders 1 to 4 of a quantity around the axis.
    pub(crate) fn of(value: impl Fn(f64) -> f64) -> Self {
        let mut around = Self::default();
        angles().for_each(|angle| around.add(angle, value(angle)));
        around
    }

    /// Adds the value at one of [`angles`].
    fn add(&mut self, angle: f64, value: f64) {
        let share = value / f64::from(ANGLES);
        self.mean += share;
        for (order, part) in (1_u32..).zip(&mut self.orders) {
            let (sine, cosine) = (f64::from(order) * angle).sin_cos();
            part.0 += 2.0 * share * cosine;
            part.1 += 2.0 * share * sine;
        }
    }

    /// Sum of mean and orders at an angle \[rad\].
    pub(crate) fn at(&self, angle: f64) -> f64 {
        let parts = (1_u32..).zip(&self.orders).map(|(order, (cosine, sine))| {
            let (s, c) = (f64::from(order) * angle).sin_cos();
            cosine * c + sine * s
        });
        self.mean + parts.sum::<f64>()
    }

    /// The same over its mean.
    pub(crate) fn relative(&self) -> Self {
        if self.mean <= 0.0 {
            return Self { mean: 1.0, ..Self::default() };
        }
        let orders = self.orders.map(|(cosine, sine)| (cosine / self.mean, sine / self.mean));
        Self { mean: 1.0, orders }
    }

    /// The same with its orders made smaller together, if need be, so that nowhere less than a
    /// share of the mean is left. The mean stays.
    pub(crate) fn at_least(&self, share: f64) -> Self {
        let lowest = angles().map(|angle| self.at(angle)).fold(self.mean, f64::min);
        let (depth, allowed) = (self.mean - lowest, (1.0 - share) * self.mean);
        if depth <= allowed {
            return *self;
        }
        let less = allowed / depth;
        Self { orders: self.orders.map(|(c, s)| (less * c, less * s)), ..*self }
    }

    /// Size of an order, 1 to 4, as a share of the mean [-].
    #[must_use]
    pub fn share(&self, order: usize) -> f64 {
        let (cosine, sine) = self.orders[order - 1];
        if self.mean > 0.0 { cosine.hypot(sine) / self.mean } else { 0.0 }
    }
}

impl<'a> Field<'a> {
    /// A film that depends on the position along the face alone.
    pub(crate) fn round(law: impl Fn(f64) -> Local + 'a, breaks: Vec<f64>) -> Self {
        let law = Box::new(move |position, _| law(position));
        Self { law, symmetry: Symmetry::Round, breaks }
    }

    /// A film that also depends on the angle around the axis.
    pub(crate) fn lopsided(law: impl Fn(f64, f64) -> Local + 'a, breaks: Vec<f64>) -> Self {
        Self { law: Box::new(law), symmetry: Symmetry::Lopsided, breaks }
    }

    /// The same with the film multiplied by a number.
    pub(crate) fn scaled(self, factor: f64) -> Self {
        let Self { law, symmetry, breaks } = self;
        let law = move |position: f64, angle: f64| {
            let local = law(position, angle);
            Local { film: local.film * factor, ..local }
        };
        Self { law: Box::new(law), symmetry, breaks }
    }

    /// The same where only a share of the air on its way meets the face.
    pub(crate) fn met_by(self, share: f64) -> Self {
        let Self { law, symmetry, breaks } = self;
        let law = move |position: f64, angle: f64| {
            let local = law(position, angle);
            Local { arriving: local.arriving * share, ..local }
        };
        Self { law: Box::new(law), symmetry, breaks }
    }

    /// The same with the film multiplied by a factor of the angle, whose mean is one.
    pub(crate) fn times(self, factor: impl Fn(f64) -> f64 + 'a) -> Self {
        let Self { law, breaks, .. } = self;
        let law = move |position: f64, angle: f64| {
            let local = law(position, angle);
            Local { film: local.film * factor(angle), ..local }
        };
        Self { law: Box::new(law), symmetry: Symmetry::Lopsided, breaks }
    }

    /// Whether the film differs around the axis.
    pub(crate) fn is_lopsided(&self) -> bool {
        self.symmetry == Symmetry::Lopsided
    }

    /// The mean around the axis at a position along the face.
    pub(crate) fn mean(&self, position: f64) -> Local {
        self.sampled(position).0
    }

    /// Mean and orders 1 to 4 of the film at a position along the face.
    pub(crate) fn around(&self, position: f64) -> Around {
        self.sampled(position).1
    }

    /// Both: everything's mean, and the film around the axis.
    pub(crate) fn sampled(&self, position: f64) -> (Local, Around) {
        if self.symmetry == Symmetry::Round {
            let local = (self.law)(position, 0.0);
            return (local, Around { mean: local.film, ..Around::default() });
        }
        let mut sum = Local::default();
        let mut around = Around::default();
        for angle in angles() {
            let local = (self.law)(position, angle);
            around.add(angle, local.film);
            sum.sluggishness += local.sluggishness;
            sum.arriving += local.arriving;
            sum.gain += local.gain;
            sum.relative_sigma += local.relative_sigma;
        }
        let each = 1.0 / f64::from(ANGLES);
        let mean = Local {
            film: around.mean,
            sluggishness: sum.sluggishness * each,
            arriving: sum.arriving * each,
            gain: sum.gain * each,
            relative_sigma: sum.relative_sigma * each,
        };
        (mean, around)
    }
}

fn angles() -> impl Iterator<Item = f64> {
    (0..ANGLES).map(|step| 2.0 * PI * f64::from(step) / f64::from(ANGLES))
}

#[cfg(test)]
mod tests {
    use approx::{assert_abs_diff_eq, assert_relative_eq};

    use super::*;

    fn film(film: f64) -> Local {
        Local { film, ..Local::default() }
    }

    /// 10 (1 + 0.3 cos 2(θ − 30°) + 0.1 sin 3θ): read off by hand.
    #[test]
    fn a_lopsided_film_is_taken_apart_into_its_orders() {
        let law = |_: f64, angle: f64| {
            let turned = 2.0 * (angle - 30_f64.to_radians());
            film(10.0 * (1.0 + 0.3 * turned.cos() + 0.1 * (3.0 * angle).sin()))
        };
        let around = Field::lopsided(law, vec![]).around(0.1);
        assert_relative_eq!(around.mean, 10.0, max_relative = 1e-12);
        assert_relative_eq!(around.share(2), 0.3, max_relative = 1e-12);
        let (cosine, sine) = around.orders[1];
        assert_relative_eq!(sine.atan2(cosine), 60_f64.to_radians(), max_relative = 1e-12);
        assert_relative_eq!(around.orders[2].1, 1.0, max_relative = 1e-12);
        assert_abs_diff_eq!(around.share(1), 0.0, epsilon = 1e-12);
        assert_abs_diff_eq!(around.share(4), 0.0, epsilon = 1e-12);
    }

    #[test]
    fn a_round_film_has_no_orders_and_a_factor_of_the_angle_makes_them() {
        let round = || Field::round(|radius| film(5.0 + radius), vec![]);
        assert_abs_diff_eq!(round().around(1.0).share(1), 0.0);
        let tilted = round().times(|angle| 1.0 + 0.2 * angle.cos());
        assert_relative_eq!(tilted.mean(1.0).film, 6.0, max_relative = 1e-12);
        assert_relative_eq!(tilted.around(1.0).share(1), 0.2, max_relative = 1e-12);
    }
}
