//! `summary.json` of a sizing.

use evenglass_simulation::ventilation::sizing::{Attachment, BREEZES, Sized, State, Step, Verdict};
use evenglass_simulation::ventilation::wish::{Answer, Wish};
use serde_json::{Value, json};

use super::{scenario, written};
use crate::sizing::SizeReport;
use crate::table;

/// The object written to `summary.json` by a sizing, in SI; what does not exist is `null`.
#[must_use]
pub fn sizing_json(report: &SizeReport) -> String {
    let systems: Vec<Value> = report.sizing.systems.iter().map(system).collect();
    let wishes: Vec<Value> = report
        .wishes
        .iter()
        .map(|(wish, answers)| {
            let (what, wanted) = match wish {
                Wish::SlotSpeed(speed) => ("slot_speed_m_s", speed),
                Wish::Film(film) => ("film_w_m2k", film),
            };
            json!({
                "wish": what,
                "wanted": wanted,
                "speed": answers.map(|answers| answer(answers.speed)),
                "slot_m": answers.map(|answers| answer(answers.slot)),
            })
        })
        .collect();
    let filter = report.filter.map(|filter| {
        json!({ "share_of_pressure": filter.share, "area_for_a_quarter_m2": answer(filter.area) })
    });
    written(json!({
        "scenario": scenario(&report.scenario),
        "air": {
            "temperature_k": report.sizing.air.temperature,
            "density_kg_m3": report.sizing.air.density,
            "pressure_pa": report.sizing.pressure_pa,
        },
        "systems": systems,
        "filter": filter,
        "wishes": wishes,
    }))
}

fn answer(answer: Answer) -> Value {
    match answer {
        Answer::Value(value) => json!({ "value": value }),
        Answer::AtMost(most) => json!({ "reached_at_most": most }),
        Answer::AtLeast(least) => json!({ "reached_at_least": least }),
        Answer::NoMeaning => Value::Null,
    }
}

fn system(system: &Sized) -> Value {
    json!({
        "steps": system.steps.iter().map(step).collect::<Vec<Value>>(),
        "fan_curve_m3_s_pa": system.fan_curve,
        "system_curve_m3_s_pa": system.system_curve,
    })
}

fn step(step: &Step) -> Value {
    let operating = &step.operating;
    let turning = matches!(operating.state, State::Running | State::Stalling);
    let reason = match &operating.state {
        State::NoOperatingPoint { reason } => Some(reason.to_string()),
        _ => None,
    };
    let branches: Vec<Value> = operating
        .branches
        .iter()
        .map(|branch| {
            let parts = passages(&branch.passages);
            json!({ "name": branch.name, "flow_m3_s": branch.flow, "parts": parts })
        })
        .collect();
    json!({
        "speed_asked": step.asked,
        "speed_running": step.running,
        "state": table::state(&operating.state),
        "reason": reason,
        "flow_m3_s": operating.flow,
        "flow_relative_sigma": operating.flow_sigma,
        "flow_back_m3_s": step.flows[0],
        "flow_rim_m3_s": step.flows[1],
        "flow_front_m3_s": step.flows[2],
        "fan_pressure_pa": operating.fan_pressure,
        "plenum_pressure_pa": operating.plenum_pressure,
        "temperature_rise_k": operating.temperature_rise,
        "power_w": operating.electric_power,
        "noise_db": step.noise_db.filter(|_| turning),
        "noise_change_db": turning.then_some(operating.noise_change_db),
        "trunk": passages(&operating.trunk),
        "branches": branches,
        "sheet": sheet(step),
        "column": column(step),
        "films_w_m2k": {
            "back": step.mean_films[0],
            "rim": step.rim_film,
            "front": step.mean_films[1],
        },
        "lopsided": { "back": step.lopsided[0], "front": step.lopsided[1] },
    })
}

fn passages(passages: &[evenglass_simulation::ventilation::sizing::Passage]) -> Vec<Value> {
    passages
        .iter()
        .map(|part| json!({ "name": part.name, "drop_pa": part.drop, "speed_m_s": part.speed }))
        .collect()
}

fn sheet(step: &Step) -> Option<Value> {
    let sheet = step.sheet.as_ref()?;
    let (attached, at) = match sheet.attached {
        Attachment::OnGlass => ("on-glass", None),
        Attachment::Reattaches { at } => ("reattaches", Some(at)),
        Attachment::MayNotAttach => ("may-not-attach", None),
    };
    let breezes: Vec<Value> = BREEZES
        .iter()
        .zip(sheet.breezes)
        .map(|(wind, verdict)| json!({ "wind_m_s": wind, "sheet": word(verdict) }))
        .collect();
    Some(json!({
        "slot_speed_m_s": sheet.slot_speed,
        "slot_reynolds": sheet.slot_reynolds,
        "turbulent_inside_m": sheet.turbulent_inside,
        "attached": attached,
        "attached_inside_m": at,
        "reach": table::reach(sheet.reach),
        "breezes": breezes,
    }))
}

fn word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Stable => "stable",
        Verdict::Disturbed => "disturbed",
        Verdict::Broken => "broken",
    }
}

fn column(step: &Step) -> Option<Value> {
    let column = step.column.as_ref()?;
    Some(json!({
        "diameter_m": column.diameter,
        "speed_m_s": column.speed,
        "height_m": column.height,
        "speed_above_m_s": column.speed_above.0,
        "speed_above_relative_sigma": column.speed_above.1,
        "excess_k_per_w": column.excess_per_watt,
    }))
}
