//! Tables of a sizing.

use std::io::{self, Write};

use evenglass_simulation::ventilation::sizing::{Reach, Sized, State, Step};

use super::number;
use crate::sizing::SizeReport;

/// Columns of `sizing.csv` behind the system's number; empty where a step has no such value.
const COLUMNS: [&str; 23] = [
    "speed_asked",
    "speed_running",
    "state",
    "flow_m3_s",
    "flow_relative_sigma",
    "flow_back_m3_s",
    "flow_rim_m3_s",
    "flow_front_m3_s",
    "fan_pressure_pa",
    "plenum_pressure_pa",
    "slot_speed_m_s",
    "slot_reynolds",
    "turbulent_inside_m",
    "reach",
    "temperature_rise_k",
    "power_w",
    "noise_db",
    "noise_change_db",
    "film_back_w_m2k",
    "film_rim_w_m2k",
    "film_front_w_m2k",
    "column_diameter_m",
    "column_k_per_w",
];

/// `sizing.csv`: one row for each system and speed.
pub(crate) fn sizing(report: &SizeReport, out: &mut impl Write) -> io::Result<()> {
    let mut csv = csv::Writer::from_writer(out);
    let mut header = vec!["system"];
    header.extend(COLUMNS);
    csv.write_record(header)?;
    for (place, system) in (1..).zip(&report.sizing.systems) {
        for step in &system.steps {
            let mut row = vec![i32::to_string(&place)];
            row.extend(cells(step));
            csv.write_record(row)?;
        }
    }
    csv.flush()
}

fn cells(step: &Step) -> [String; 23] {
    let operating = &step.operating;
    let turning = matches!(operating.state, State::Running | State::Stalling);
    let sheet = step.sheet.as_ref();
    let column = step.column.as_ref();
    let some = |value: Option<f64>| value.map_or_else(String::new, number);
    [
        number(step.asked),
        number(step.running),
        state(&operating.state).to_owned(),
        number(operating.flow),
        number(operating.flow_sigma),
        number(step.flows[0]),
        number(step.flows[1]),
        number(step.flows[2]),
        number(operating.fan_pressure),
        number(operating.plenum_pressure),
        some(sheet.map(|sheet| sheet.slot_speed)),
        some(sheet.map(|sheet| sheet.slot_reynolds)),
        some(sheet.and_then(|sheet| sheet.turbulent_inside)),
        sheet.map_or("", |sheet| reach(sheet.reach)).to_owned(),
        number(operating.temperature_rise),
        number(operating.electric_power),
        some(step.noise_db.filter(|_| turning)),
        some(turning.then_some(operating.noise_change_db)),
        number(step.mean_films[0]),
        number(step.rim_film),
        number(step.mean_films[1]),
        some(column.map(|column| column.diameter)),
        some(column.map(|column| column.excess_per_watt)),
    ]
}

/// The word scripts find for a state.
pub(crate) fn state(state: &State) -> &'static str {
    match state {
        State::Running => "running",
        State::Stalling => "stalling",
        State::Stopped => "stopped",
        State::NoOperatingPoint { .. } => "no-balance",
    }
}

/// The word scripts find for how far a sheet gets.
pub(crate) fn reach(reach: Reach) -> &'static str {
    match reach {
        Reach::Centre => "centre",
        Reach::LiftsEarly => "lifts-early",
        Reach::MayStayOff => "may-stay-off",
        Reach::Still => "still",
    }
}

/// `films.csv`: the forced films at full speed, radius by radius; empty without moved air.
pub(crate) fn films(report: &SizeReport, out: &mut impl Write) -> io::Result<()> {
    let mut csv = csv::Writer::from_writer(out);
    csv.write_record(["system", "radius_m", "back", "back_sigma", "front", "front_sigma"])?;
    for (place, system) in (1..).zip(&report.sizing.systems) {
        for row in full(system).map_or(&[][..], |step| &step.films) {
            let pair = |film: Option<(f64, f64)>| match film {
                Some((film, share)) => [number(film), number(film * share)],
                None => [String::new(), String::new()],
            };
            let [back, back_sigma] = pair(row.back);
            let [front, front_sigma] = pair(row.front);
            let place = i32::to_string(&place);
            csv.write_record([place, number(row.radius), back, back_sigma, front, front_sigma])?;
        }
    }
    csv.flush()
}

fn full(system: &Sized) -> Option<&Step> {
    system.steps.first()
}
