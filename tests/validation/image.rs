//! Optics and seeing beside closed formulas that another program evaluated.

use evenglass_optics::{
    WAVELENGTH_M, depth_of_focus, natural_blur, parabolising, phase_variance, refractivity, strehl,
    thermal_slope, variance_without_tilt,
};
use evenglass_units::Temperature;

use crate::page::Comparison;

/// A quantity, where it is from, and at what: what that program says, how well, and ours.
type Line = (&'static str, &'static str, String, f64, f64, f64);

/// Every closed formula.
pub(crate) fn compared() -> Vec<Comparison> {
    [focus(), strehl_ratios(), index(), blur()].into_iter().flatten().map(comparison).collect()
}

fn comparison((quantity, source, inputs, published, tolerance, ours): Line) -> Comparison {
    let digits = |value: f64| {
        if value.abs() < 1e-2 { format!("{value:.5e}") } else { format!("{value:.5}") }
    };
    Comparison {
        quantity: quantity.to_owned(),
        inputs,
        source: source.to_owned(),
        published: digits(published),
        ours: digits(ours),
        gap: 100.0 * (ours / published - 1.0),
        allowed: 100.0 * tolerance,
        fine: None,
        unit: "%",
    }
}

/// By hand: a⁴/(8R³)/(6√5) and 2 λ N².
fn focus() -> Vec<Line> {
    let mut lines = vec![];
    for (ratio, published) in
        [(4.0, -454.929_192_78), (5.0, -232.923_747_66), (6.0, -134.793_835_15)]
    {
        let ours = 1e9 * parabolising(2.0 * ratio * 0.4, 0.2);
        let quantity = "paraboloid less its sphere, third order (I-11): Noll 11 [nm]";
        lines.push((quantity, "closed form", format!("400 mm, f/{ratio}"), published, 1e-6, ours));
    }
    for (ratio, published) in [(4.0, 17.6), (5.0, 27.5)] {
        let ours = 1e6 * depth_of_focus(ratio, WAVELENGTH_M);
        let quantity = "depth of focus (I-9) [µm]";
        lines.push((quantity, "closed form", format!("f/{ratio}"), published, 1e-6, ours));
    }
    lines
}

fn strehl_ratios() -> Vec<Line> {
    let mut lines = vec![];
    for (waves, published) in
        [(0.05, 0.906_018_055_8), (1.0 / 14.0, 0.817_568_6), (0.1, 0.673_825_451_2)]
    {
        let variance = phase_variance(waves * WAVELENGTH_M, WAVELENGTH_M);
        let ours = strehl(variance).expect("within its range");
        let quantity = "Strehl ratio (I-15)";
        let inputs = format!("RMS of {waves:.4} waves");
        lines.push((quantity, "Mahajan 1983", inputs, published, 1e-6, ours));
    }
    for (blur, aperture, published) in [(0.4, 0.2, 0.925_493_6), (0.4, 0.4, 0.782_064)] {
        let ours = strehl(variance_without_tilt(blur, aperture)).expect("within its range");
        let quantity = "Strehl ratio of a short exposure (S-4)";
        let inputs = format!("{blur} arcsec, {} mm", 1e3 * aperture);
        lines.push((quantity, "Noll 1976", inputs, published, 1e-5, ours));
    }
    lines
}

/// Dry air at 550 nm.
fn index() -> Vec<Line> {
    const AIR: [(f64, f64, f64, f64); 4] = [
        (15.0, 101_325.0, 2.778_354_923e-4, -9.669_443_392e-7),
        (10.0, 101_325.0, 2.827_555_732e-4, -1.001_395_577e-6),
        (0.0, 101_325.0, 2.931_361_076e-4, -1.076_060_174e-6),
        (10.0, 80_000.0, 2.232_224_709e-4, -7.900_933_038e-7),
    ];
    let source = "Birch & Downs 1993, 1994";
    let at = |celsius: f64, pascal: f64| format!("{celsius} °C, {} hPa", pascal / 100.0);
    let kelvin = |celsius: f64| Temperature::from_celsius(celsius).kelvin();
    let indices = AIR.map(|(celsius, pascal, published, _)| {
        let ours = refractivity(kelvin(celsius), pascal, WAVELENGTH_M);
        ("index of air less one (S-1)", source, at(celsius, pascal), published, 1e-5, ours)
    });
    let slopes = AIR.map(|(celsius, pascal, _, published)| {
        let ours = thermal_slope(kelvin(celsius), pascal, WAVELENGTH_M);
        let quantity = "change of the index per kelvin (S-2)";
        (quantity, source, at(celsius, pascal), published, 1e-3, ours)
    });
    indices.into_iter().chain(slopes).collect()
}

fn blur() -> Vec<Line> {
    [(0.5, 0.174_110_1), (1.0, 0.4), (2.0, 0.918_958_7), (3.0, 1.494_877)]
        .map(|(kelvins, published)| {
            let quantity = "blur by a warm face in still air (S-8) [arcsec]";
            let source = "Racine et al. 1991";
            (quantity, source, format!("{kelvins} K"), published, 1e-5, natural_blur(kelvins))
        })
        .to_vec()
}
