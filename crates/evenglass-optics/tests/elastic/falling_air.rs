//! A flat disc that follows air falling by 1 K/h, from the films to the figure.
//!
//! Its temperature is the quasi-steady solution of conduction in a finite cylinder, summed
//! here with roots `z` of z tan z = h L/k, h being the film of the faces, k conductivity and
//! L half the thickness; q = z/L; ζ the height above the middle; a the radius of the rim, whose
//! film is H; S = ρ c G/k for air that falls by G:
//!
//! ```text
//! T − T_air = Σ (S C/q²) cos(q ζ) [1 − H I₀(q r)/(H I₀(q a) + k q I₁(q a))]
//! C = 4 sin z/(2 z + sin 2 z)
//! ```
//!
//! (Carslaw and Jaeger, *Conduction of Heat in Solids*, 1959,
//! by Duhamel's theorem.) The figures are those of scikit-fem 12.0.2 for the same sum.

use std::collections::BTreeMap;
use std::f64::consts::PI;

use evenglass_optics::Deflection;

use crate::warmed::{EDGE, FINE, RIM, assert_within, flat};

/// Glass and films of a row.
#[derive(Debug, Clone, Copy)]
struct Disc {
    /// Heat capacity per volume [J/m³/K].
    capacity: f64,
    /// Conductivity [W/m/K].
    conductivity: f64,
    poisson_ratio: f64,
    /// Expansion times nanometres in a metre [nm/m/K].
    expansion: f64,
    /// Film on the rim and on each face [W/m²/K].
    rim_film: f64,
    face_film: f64,
}

const SODA_LIME: Disc = Disc {
    capacity: 2500.0 * 720.0,
    conductivity: 1.0,
    poisson_ratio: 0.22,
    expansion: 9.0e-6 * 1e9,
    rim_film: 10.0,
    face_film: 10.0,
};

const BOROSILICATE: Disc = Disc {
    capacity: 2230.0 * 830.0,
    conductivity: 1.2,
    poisson_ratio: 0.20,
    expansion: 3.3e-6 * 1e9,
    ..SODA_LIME
};

/// I₀(x) and I₁(x) over eˣ by the trapezium rule on (1/π) ∫ exp(x (cos θ − 1)) cos nθ dθ,
/// which converges faster than any power; checked against the handbook below.
fn scaled_bessel(x: f64) -> [f64; 2] {
    const STEPS: usize = 400;
    let mut sums = [0.0; 2];
    for step in 0..=STEPS {
        let theta = PI * step as f64 / STEPS as f64;
        let weight = if step == 0 || step == STEPS { 0.5 } else { 1.0 } / STEPS as f64;
        let value = weight * (x * (theta.cos() - 1.0)).exp();
        sums[0] += value;
        sums[1] += value * theta.cos();
    }
    sums
}

/// M. Abramowitz and I. A. Stegun, *Handbook of Mathematical Functions* (1964), table 9.8, from
/// memory: e⁻¹ I₀(1) = 0.465 759 6076, e⁻¹ I₁(1) = 0.207 910 4154, e⁻¹⁰ I₀(10) = 0.127 833 3372.
#[test]
fn the_bessel_functions_are_those_of_the_handbook() {
    let [zeroth, first] = scaled_bessel(1.0);
    assert!((zeroth - 0.465_759_607_6).abs() < 1e-10, "{zeroth}");
    assert!((first - 0.207_910_415_4).abs() < 1e-10, "{first}");
    let [large, _] = scaled_bessel(10.0);
    assert!((large - 0.127_833_337_2).abs() < 1e-10, "{large}");
}

/// The root of z tan z = `biot` between nπ and (n + ½)π.
fn root(biot: f64, n: usize) -> f64 {
    let (mut low, mut high) = (n as f64 * PI, (n as f64 + 0.5) * PI);
    for _ in 0..80 {
        let middle = 0.5 * (low + high);
        if middle * middle.tan() < biot { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// One term of the sum: root, amplitude, and denominator over e^{qa}.
struct Term {
    root: f64,
    amplitude: f64,
    denominator: f64,
}

impl Disc {
    fn terms(&self) -> Vec<Term> {
        let half = 0.5 * EDGE;
        let source = self.capacity / 3600.0 / self.conductivity;
        let term = |n| {
            let z = root(self.face_film * half / self.conductivity, n);
            let share = 4.0 * z.sin() / (2.0 * z + (2.0 * z).sin());
            let [zeroth, first] = scaled_bessel(z / half * RIM);
            let denominator = self.rim_film * zeroth + self.conductivity * z / half * first;
            Term { root: z, amplitude: source * share * (half / z).powi(2), denominator }
        };
        // The amplitudes fall with the fourth power of n.
        (0..24).map(term).collect()
    }

    /// Amplitudes of the terms at a radius, in the middle.
    fn along(&self, terms: &[Term], radius: f64) -> Vec<f64> {
        let at = |term: &Term| {
            let q = term.root / (0.5 * EDGE);
            let decay = (q * (radius - RIM)).exp();
            let along = if decay < 1e-18 { 0.0 } else { decay * scaled_bessel(q * radius)[0] };
            term.amplitude * (1.0 - self.rim_film * along / term.denominator)
        };
        terms.iter().map(at).collect()
    }

    /// Lags \[K\] at radii and heights; few radii, many heights.
    fn lags(&self, places: &[(f64, f64)]) -> Vec<f64> {
        let terms = self.terms();
        let mut known: BTreeMap<u64, Vec<f64>> = BTreeMap::new();
        let lag = |&(radius, height): &(f64, f64)| {
            let along = known.entry(radius.to_bits()).or_insert_with(|| self.along(&terms, radius));
            let ratio = (height - 0.5 * EDGE) / (0.5 * EDGE);
            terms.iter().zip(along).map(|(term, along)| *along * (term.root * ratio).cos()).sum()
        };
        places.iter().map(lag).collect()
    }
}

/// The lag in the middle and at the rim, from a handbook sum: 1.352 269 207 K in the middle,
/// 0.778 057 7609 K at the rim of a face.
#[test]
fn the_disc_lags_behind_the_air_as_the_series_says() {
    let lags = SODA_LIME.lags(&[(0.0, 0.5 * EDGE), (RIM, EDGE)]);
    assert!((lags[0] - 1.352_269_207).abs() < 1e-6, "{lags:?}");
    assert!((lags[1] - 0.778_057_760_9).abs() < 1e-5, "{lags:?}");
}

#[test]
fn a_disc_in_falling_air_loses_its_figure_by_the_rim() {
    let with = |disc: Disc, rim_film, face_film| Disc { rim_film, face_film, ..disc };
    for (disc, focus, pv, rms) in [
        (SODA_LIME, -121.925, 19.609, 5.742),
        (with(SODA_LIME, 5.0, 10.0), -74.681, 11.783, 3.367),
        (with(SODA_LIME, 5.0, 5.0), -166.211, 15.940, 4.490),
        (BOROSILICATE, -41.252, 5.850, 1.694),
        (with(BOROSILICATE, 5.0, 10.0), -24.988, 3.471, 0.985),
        (with(BOROSILICATE, 5.0, 5.0), -54.835, 4.519, 1.263),
    ] {
        let deflection = Deflection::new(&flat(), FINE, disc.poisson_ratio, 0).unwrap();
        let lags = ndarray::Array1::from(disc.lags(deflection.temperature_points()));
        let profile = (disc.expansion * deflection.influence().dot(&lags)).to_vec();
        let fit = evenglass_optics::Front::new(deflection.front_radii()).round(&profile);
        let what = format!("{disc:?}");
        // A thousandth, as the rows state.
        assert_within(1e-3, fit.defocus_m, focus, &what);
        assert_within(1e-3, fit.pv_m, pv, &what);
        assert_within(1e-3, fit.rms_m, rms, &what);
    }
}
