//! Neither the output interval nor the solver's accuracy moves what dew does.

use approx::assert_abs_diff_eq;
use evenglass_simulation::simulate;

use crate::scenario::{Damp, damp, usual};

#[test]
fn the_output_interval_changes_nothing() {
    let with = |interval: &'static str| Damp { more: interval, ..damp(0.95) }.run();
    let short = with("[output]\ninterval = '1 min'");
    let long = with("[output]\ninterval = '40 min'");
    assert_eq!(short.dew, long.dew);
    assert_eq!(short.passing, long.passing);
    for row in &long.history {
        let same = short.history.iter().find(|other| (other.time_s - row.time_s).abs() < 1e-9);
        let same = same.unwrap();
        assert_abs_diff_eq!(same.secondary.kelvin(), row.secondary.kelvin(), epsilon = 1e-12);
    }
}

#[test]
fn a_finer_solver_moves_the_secondary_by_a_few_millikelvins_at_most() {
    let scenario = damp(0.95).scenario();
    let coarse_night = simulate(&scenario, &usual()).unwrap();
    let fine = evenglass_simulation::Resolution { tolerance: 1e-4, ..usual() };
    let fine_night = simulate(&scenario, &fine).unwrap();
    for (a, b) in coarse_night.history.iter().zip(&fine_night.history) {
        assert_abs_diff_eq!(a.secondary.kelvin(), b.secondary.kelvin(), epsilon = 5e-3);
    }
}

#[test]
fn the_same_night_twice_is_the_same_to_the_last_bit() {
    let [first, second] = [(), ()].map(|()| damp(0.95).run());
    assert_eq!(first.dew, second.dew);
    let bits = |night: &evenglass_simulation::Night| {
        night.history.iter().map(|row| row.secondary.kelvin().to_bits()).collect::<Vec<_>>()
    };
    assert_eq!(bits(&first), bits(&second));
}
