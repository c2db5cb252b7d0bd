//! Every arrangement from start to end: balance, still air, meshes.

use evenglass_disc::Resolution;
use evenglass_simulation::{Night, simulate};

use crate::arranged::{Draft, every};

/// What design and documents promise, of the heat exchanged.
const PROMISED: f64 = 1e-9;

fn night(draft: &Draft) -> Night {
    simulate(&draft.scenario(), &Resolution::default()).unwrap()
}

#[test]
fn heat_lost_and_stored_cancel_in_every_arrangement_under_every_cover() {
    for (name, ventilation) in every(406.0) {
        for (form, covers) in
            [("truss", &["off", "vented", "on"][..]), ("tube", &["off", "on"]), ("", &["off"])]
        {
            if form.is_empty() && name == "sealed" {
                continue;
            }
            for cover in covers {
                let ventilation = ventilation.clone();
                let speeds = [1.0, 0.3];
                let night = night(&Draft {
                    form,
                    cover,
                    ventilation,
                    speeds,
                    rate: -1.5,
                    ..Draft::usual()
                });
                let energy = &night.energy;
                assert!(
                    energy.residual <= PROMISED,
                    "{name}, {form}, {cover}: residual {:e}",
                    energy.residual
                );
                // A balance of nothing would close too.
                assert!(energy.lost_j > 1e3, "{name}, {form}, {cover}: {} J", energy.lost_j);
            }
        }
    }
}

/// Mean and edge temperature after an hour \[K\].
fn after_an_hour(draft: &Draft) -> [f64; 3] {
    let night = night(&Draft { hours: 1.0, ..draft.clone() });
    let last = night.history.last().unwrap();
    [last.mean.kelvin(), last.mid_edge.kelvin(), last.front_centre.kelvin()]
}

/// Slower and slower fans end at no fans. On the way a trickle may warm the glass, for it
/// arrives as warm as the wall of the box; from there on every step is nearer to still air,
/// and the last is still air to a millikelvin.
#[test]
fn a_fan_that_fades_away_leaves_still_air_in_every_arrangement() {
    for (name, ventilation) in every(406.0) {
        for form in ["truss", ""] {
            if name == "sealed" || name == "open" {
                continue;
            }
            let at = |speed: f64| {
                let ventilation = ventilation.clone();
                after_an_hour(&Draft {
                    ventilation,
                    form,
                    speeds: [speed; 2],
                    wind: 0.0,
                    ..Draft::usual()
                })
            };
            let still = at(0.0);
            let away = |speed: f64| {
                let moved = at(speed);
                moved.iter().zip(&still).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
            };
            let sequence = [1e-1, 1e-2, 1e-3, 1e-4, 1e-5, 1e-6].map(away);
            assert!(sequence[0] < 6.0, "{name}, {form}: {sequence:?}");
            for pair in sequence[1..].windows(2) {
                assert!(pair[1] <= pair[0].max(1e-3), "{name}, {form}: {sequence:?}");
            }
            assert!(sequence[5] < 1e-3, "{name}, {form}: {sequence:?}");
        }
    }
}

/// Heat flowing out at the start, when the glass is even: the integral of films alone.
#[test]
fn the_heat_flow_of_the_start_does_not_depend_on_the_mesh() {
    for (name, ventilation) in every(406.0) {
        if name == "open" || name == "sealed" {
            continue;
        }
        let draft = Draft { ventilation, hours: 0.01, ..Draft::usual() };
        let lost = |resolution: &Resolution| {
            simulate(&draft.scenario(), resolution).unwrap().energy.lost_j
        };
        let usual = lost(&Resolution::default());
        let fine = lost(&Resolution::fine());
        assert!((usual / fine - 1.0).abs() < 1e-3, "{name}: {usual} J, finely {fine} J");
        let cells = Resolution::with_cells(120, 40).unwrap();
        let many = lost(&cells);
        assert!((many / fine - 1.0).abs() < 1e-3, "{name}: in cells {many} J, finely {fine} J");
    }
}
