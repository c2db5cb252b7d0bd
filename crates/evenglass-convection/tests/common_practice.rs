//! Facts of the trade (common practice, no source) beside the model: which were used to
//! calibrate it, which come out of themselves, and which do not come out at all. The table
//! in `docs/physics/convection.md` is the same in words.
//!
//! All for a mirror of 610 mm and 28 L/s at 10 °C.

use std::f64::consts::PI;

use approx::assert_abs_diff_eq;
use evenglass_convection::sheet::{Nozzle, Sheet, SheetAir, SheetConstants};
use evenglass_convection::wall_jet::{CONFINED_EXPONENT, confined_speed, free_peak_speed};

const RADIUS: f64 = 0.305;

const AIR: SheetAir = SheetAir {
    density: 1.243_86,
    specific_heat: 1009.83,
    conductivity: 0.025_122,
    kinematic_viscosity: 1.421_4e-5,
};

/// The slot that lets 28 L/s out at 2 m/s.
const SLOT: f64 = 7.3055e-3;

fn ring(slot: f64, flow: f64) -> Nozzle {
    Nozzle {
        radius: RADIUS,
        slot,
        flow,
        contraction: 1.0,
        turbulence: 0.02,
        lip_height: 0.0,
        glass_radius: RADIUS,
        inner_radius: 0.0,
    }
}

fn sheet_with(speed: f64, constants: &SheetConstants) -> Sheet {
    Sheet::solve(&ring(2.0 * SLOT / speed, 0.028), &AIR, constants)
}

/// All of the air, through a slot that gives the speed.
fn sheet(speed: f64) -> Sheet {
    sheet_with(speed, &SheetConstants::default())
}

/// A sixth of the flow through the slot of 2 m/s.
fn slow_sheet() -> Sheet {
    Sheet::solve(&ring(SLOT, 0.028 / 6.0), &AIR, &SheetConstants::default())
}

/// Area mean and standard deviation inside `share` of the radius.
fn mean_and_spread(sheet: &Sheet, share: f64) -> (f64, f64) {
    let rings = 4000;
    let at = |i: i32| sheet.film(share * RADIUS * ((f64::from(i) + 0.5) / f64::from(rings)).sqrt());
    let films: Vec<f64> = (0..rings).map(at).collect();
    let mean = films.iter().sum::<f64>() / f64::from(rings);
    let square: f64 = films.iter().map(|film| (film - mean).powi(2)).sum();
    (mean, (square / f64::from(rings)).sqrt())
}

/// The fan's edge over the mirror's edge about 8 : 1 for a 100 mm fan. The confined law is
/// calibrated to it; the law of a free jet is not, and misses by a factor of 2.5.
#[test]
fn eight_to_one_behind_a_mirror_is_calibrated_and_a_free_jet_does_not_give_it() {
    let confined = confined_speed(3.05, CONFINED_EXPONENT).recip();
    assert_abs_diff_eq!(confined, 8.0, epsilon = 0.1);
    let free = free_peak_speed(3.05).value.recip();
    let miss = 8.0 / free;
    assert!((2.4..=3.0).contains(&miss), "{free} : 1, a miss of {miss}");
}

/// Laminar over about the outer third. Calibrated at 2 m/s (the constant 14); at
/// other speeds it is a prediction: 0.38 and 0.19 of the radius at 1.5 and 3 m/s.
#[test]
fn a_laminar_third_is_calibrated_at_two_metres_a_second() {
    let laminar = |speed: f64| 1.0 - sheet(speed).transition_radius.unwrap() / RADIUS;
    assert_abs_diff_eq!(laminar(2.0), 0.30, epsilon = 0.05);
    assert_abs_diff_eq!(laminar(1.5), 0.382, epsilon = 0.005);
    assert_abs_diff_eq!(laminar(3.0), 0.191, epsilon = 0.005);
}

/// Independent: the jet's Reynolds number lies where round jets are published to leave
/// laminar and break down behind, 300 to 3000, whatever the slot.
#[test]
fn the_jet_lies_in_the_published_band_of_jets_that_break_down_behind_the_lip() {
    for speed in [1.5, 2.0, 3.0, 4.0] {
        assert!((300.0..=3000.0).contains(&sheet(speed).slot_reynolds));
    }
}

/// At a sixth of the speed all is laminar. The fading of transition is calibrated, but the
/// published limit below which jets stay laminar, 300, is not ours.
#[test]
fn at_a_sixth_of_the_speed_the_sheet_is_laminar_to_the_centre() {
    let slow = slow_sheet();
    assert!(slow.slot_reynolds < 300.0);
    assert_eq!(slow.transition_radius, None);
    for radius in [0.0, 0.05, 0.15, 0.3] {
        assert_abs_diff_eq!(slow.intermittency(radius), 0.0);
    }
}

/// Slots of 5 to 10 mm: continuity, nothing of the model.
#[test]
fn slots_of_five_to_ten_millimetres_go_with_one_and_a_half_to_three_metres_a_second() {
    let speed = |slot: f64| 0.028 / (2.0 * PI * RADIUS * slot);
    assert_abs_diff_eq!(speed(0.010), 1.46, epsilon = 0.01);
    assert_abs_diff_eq!(speed(0.005), 2.92, epsilon = 0.01);
}

/// A column of about 150 mm: independent, nothing was calibrated to it. It comes out 9 to 18 %
/// wide, with a turn without loss 4 to 12 %; the speed hardly matters.
#[test]
fn the_column_comes_out_a_little_wide() {
    let lossless = SheetConstants { column_share: 1.0, ..SheetConstants::default() };
    for speed in [1.5, 2.0, 3.0, 4.0] {
        let wide = 2.0 * sheet(speed).column_radius / 0.150;
        assert!((1.08..=1.18).contains(&wide), "{wide} at {speed}");
        let lossless = 2.0 * sheet_with(speed, &lossless).column_radius / 0.150;
        assert!((1.03..=1.12).contains(&lossless), "{lossless} at {speed}");
    }
}

/// Motion 1.5 mm above the glass at a sixth of the speed: independent. Plain to see outside
/// (5 cm/s and more), marginal near the centre.
#[test]
fn air_moves_close_above_the_glass_at_a_sixth_of_the_speed() {
    let slow = slow_sheet();
    let speed = |share: f64| slow.speed_at_height(share * RADIUS, 1.5e-3);
    for (share, wanted) in [(0.9, 0.13), (0.67, 0.06), (0.5, 0.04), (0.33, 0.025)] {
        assert_abs_diff_eq!(speed(share), wanted, epsilon = 0.007);
    }
    assert!(speed(0.33) < 0.05);
}

/// An even film although the air slows: independent. The film inside 95 % of the radius varies
/// by a fifth to a quarter, the centre has 0.65 to 1.05 of the mean.
#[test]
fn the_film_is_fairly_even_once_there_is_transition() {
    for speed in [2.0, 3.0, 4.0] {
        let sheet = sheet(speed);
        let (mean, spread) = mean_and_spread(&sheet, 0.95);
        let (variation, centre) = (spread / mean, sheet.film(0.0) / mean);
        assert!((0.15..=0.28).contains(&variation), "{variation} at {speed}");
        assert!((0.65..=1.05).contains(&centre), "{centre} at {speed}");
    }
}

/// Not part of common practice: at 2 m/s the film at the end of the laminar zone falls to
/// 0.57 of its mean over the glass.
#[test]
fn a_minimum_of_the_film_is_predicted_that_nobody_reports() {
    let sheet = sheet(2.0);
    let (mean, _) = mean_and_spread(&sheet, 1.0);
    let lowest = (100..290).map(|i| sheet.film(f64::from(i) * 1e-3)).fold(f64::MAX, f64::min);
    assert_abs_diff_eq!(lowest / mean, 0.57, epsilon = 0.02);
}

/// Slower air from half the radius on does not come out at 2 m/s: there the peak speed is
/// still the nozzle's, and 0.97 of it where the sheet turns up. It comes out at 3 m/s (0.88
/// and 0.77). Nearly three times the entrainment would be needed at 2 m/s.
#[test]
fn slower_air_from_half_the_radius_on_does_not_come_out_at_two_metres_a_second() {
    let slow = sheet(2.0);
    assert_abs_diff_eq!(slow.speed(0.5 * RADIUS) / 2.0, 1.0, epsilon = 0.001);
    assert_abs_diff_eq!(slow.column_speed / 2.0, 0.97, epsilon = 0.01);
    let fast = sheet(3.0);
    assert_abs_diff_eq!(fast.speed(0.5 * RADIUS) / 3.0, 0.88, epsilon = 0.01);
    assert_abs_diff_eq!(fast.column_speed / 3.0, 0.77, epsilon = 0.01);
    let greedy = SheetConstants { entrainment: 0.1, ..SheetConstants::default() };
    assert_abs_diff_eq!(sheet_with(2.0, &greedy).column_speed / 2.0, 0.83, epsilon = 0.01);
}
