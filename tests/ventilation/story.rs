//! What makers know of moved air, as far as temperatures tell it.

use evenglass_disc::Resolution;
use evenglass_simulation::result::Record;
use evenglass_simulation::{Night, simulate};

use crate::arranged::{Draft, every};

fn night(draft: &Draft) -> Night {
    simulate(&draft.scenario(), &Resolution::default()).unwrap()
}

fn moved_by(wanted: &str) -> Draft {
    let (_, ventilation) = every(406.0).into_iter().find(|(name, _)| *name == wanted).unwrap();
    Draft { ventilation, ..Draft::usual() }
}

/// The row of a time in minutes.
fn at(night: &Night, minutes: f64) -> &Record {
    night.history.iter().find(|row| (row.time_s - 60.0 * minutes).abs() < 1.0).unwrap()
}

fn edge_minus_centre(row: &Record) -> f64 {
    (row.mid_edge - row.mid_centre).kelvins()
}

/// 406 x 41 mm, 10 K: a sheet that stays smooth cools the edge by the root of the way from
/// the lip and the middle hardly at all, some −3 K between them; a fan at the middle does the
/// opposite although the rim is bare.
#[test]
fn a_smooth_sheet_leaves_the_centre_warm_and_a_fan_at_the_middle_the_edge() {
    let slow = Draft { speeds: [0.28; 2], form: "", ..moved_by("ring fed directly") };
    let sheet = night(&slow);
    // Re of the slot: 4.9 L/s / (2 pi 0.203 m 1.43e-5 m2/s) = 270: laminar.
    let flow = sheet.history[0].flow.m3_per_s();
    assert!((3e-3..5.5e-3).contains(&flow), "{flow}");
    let lowest = sheet.history.iter().map(edge_minus_centre).fold(f64::INFINITY, f64::min);
    assert!((-4.0..-1.5).contains(&lowest), "{lowest} K");
    let fan = night(&moved_by("fan behind, open"));
    let after = edge_minus_centre(at(&fan, 60.0));
    assert!((0.3..2.0).contains(&after), "{after} K");
}

#[test]
fn suction_cools_the_rim_first() {
    let front = |row: &Record| (row.front_edge - row.front_centre).kelvins();
    let drawn = front(at(&night(&moved_by("suction")), 10.0));
    let still = front(at(&night(&moved_by("open")), 10.0));
    assert!(drawn < -2.0 && drawn < 2.0 * still, "{drawn} K, in still air {still} K");
}

/// Under a cover the air goes round: it takes the heat of the glass with it and brings it back.
#[test]
fn a_closed_cover_makes_every_stream_through_the_box_go_round() {
    for name in ["ring past the back", "fan behind, closed", "plenum", "corner fans"] {
        let mean = |cover: &'static str| {
            at(&night(&Draft { cover, ..moved_by(name) }), 60.0).mean.celsius()
        };
        let (off, vented, on) = (mean("off"), mean("vented"), mean("on"));
        assert!(off + 0.5 < on && off < vented && vented < on, "{name}: {off}, {vented}, {on}");
    }
}

/// A box as warm as the glass warms the fans' air on its way in, for half an hour or so. What
/// the column is warmer than the night shows it: it falls faster than the glass does.
#[test]
fn a_warm_box_warms_the_air_until_it_has_cooled_itself() {
    let warm = moved_by("ring past the back");
    let cold = Draft { form: "", ..warm.clone() };
    let (with_box, without) = (night(&warm), night(&cold));
    let more = |minutes: f64| {
        let excess = |night: &Night| at(night, minutes).column_excess.kelvins();
        excess(&with_box) - excess(&without)
    };
    assert!((0.2..2.7).contains(&more(5.0)), "{} K", more(5.0));
    assert!(more(30.0) < 0.5 * more(5.0), "{} K, then {} K", more(5.0), more(30.0));
}

/// The night's own heat: air that falls by 1 K/h draws 7.7 W from 610 x 50 mm of plate glass,
/// whoever moves it: 36.5 kg · 830 J/kg/K / 3600 s = 8.4 W with the mean of a flat disc.
#[test]
fn falling_air_draws_the_same_heat_from_the_glass_in_every_arrangement() {
    for name in ["ring past the back", "plenum", "fan behind, open", "suction"] {
        let (_, ventilation) = every(610.0).into_iter().find(|(n, _)| *n == name).unwrap();
        let draft = Draft {
            diameter: 610.0,
            thickness: 50.0,
            focal_ratio: None,
            glass: 15.0,
            air: 15.0,
            rate: -1.0,
            hours: 10.0,
            ventilation,
            ..Draft::usual()
        };
        let night = night(&draft);
        let rows = &night.history;
        let (last, before) = (&rows[rows.len() - 1], &rows[rows.len() - 25]);
        let watts = (last.heat_lost_j - before.heat_lost_j) / (last.time_s - before.time_s);
        assert!((7.0..9.5).contains(&watts), "{name}: {watts} W");
    }
}
