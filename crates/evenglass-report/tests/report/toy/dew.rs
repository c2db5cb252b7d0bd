//! Dew on a toy's mirrors: where their margins are below zero.

use evenglass_simulation::dew::{DewNight, Indoors, MirrorDew, Remedies};
use evenglass_simulation::result::Record;
use evenglass_simulation::scenario::Scenario;

/// Dew is seen so long after it begins to form \[s\].
const UNSEEN: f64 = 1200.0;

pub(super) fn of(scenario: &Scenario, history: &[Record]) -> Option<DewNight> {
    scenario.night.dew_point.as_ref()?;
    let limit = scenario.good.dew_margin.kelvins();
    let mirror = |margin: fn(&Record) -> f64, heater_w: Option<f64>| {
        let worst = history.iter().min_by(|a, b| margin(a).total_cmp(&margin(b))).unwrap();
        let wet: Vec<f64> = history.iter().filter(|r| margin(r) < 0.0).map(|r| r.time_s).collect();
        let seen = wet.first().map(|from| from + UNSEEN).filter(|from| wet[wet.len() - 1] > *from);
        MirrorDew {
            worst_margin_k: margin(worst),
            worst_at_s: worst.time_s,
            dew_from_s: wet.first().copied(),
            fogged_from_s: seen,
            fogged_s: seen.map_or(0.0, |from| wet[wet.len() - 1] - from),
            film_g_m2: 2.0,
            film_at_s: worst.time_s,
            frost: false,
            remedies: (margin(worst) < limit).then_some(Remedies {
                film_now: 5.0,
                film_needed: Some(12.0),
                warming_k: limit - margin(worst),
                heater_w,
                foil_margin_k: heater_w.map(|_| 0.8),
            }),
        }
    };
    let secondary = scenario.telescope.as_ref().and_then(|telescope| telescope.secondary);
    Some(DewNight {
        primary: mirror(|row| row.dew_margin_primary.kelvins(), None),
        secondary: secondary.map(|_| mirror(|row| row.dew_margin_secondary.kelvins(), Some(0.4))),
        indoors: Indoors {
            room_c: 20.0,
            room_humidity: 0.5,
            margin_k: -3.0,
            wet_s: 4800.0,
            film_g_m2: 30.0,
        },
    })
}
