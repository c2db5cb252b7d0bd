//! One row for each speed of the fans.

use evenglass_simulation::ventilation::sizing::{Passage, Reach, Sized, State, Step};

use super::{CFM, reaching, share};
use crate::text::aligned;
use crate::wording::{plain, signed, two_digits};

/// Name of the layer of a perforated plate's holes.
const HOLES: &str = "holes of the plate";

/// The steps, and how the sheet fares at each if there is one.
pub(super) fn table(system: &Sized) -> String {
    let mut text = aligned(&rows(system));
    let sheets: Vec<Vec<String>> = system.steps.iter().filter_map(sheet_row).collect();
    if !sheets.is_empty() {
        let mut rows = vec![
            ["sheet", "slot Re", "turns turbulent at", "to the middle"].map(str::to_owned).to_vec(),
        ];
        rows.extend(sheets);
        text.push('\n');
        text.push_str(&aligned(&rows));
    }
    text.trim_end().to_owned()
}

fn rows(system: &Sized) -> Vec<Vec<String>> {
    let jet = system.steps.iter().find_map(jet).map_or("", |(name, _)| name);
    let levels = system.system.fans.as_ref().is_some_and(|fans| fans.noise_db.is_some());
    let noise = if levels { "noise at 1 m" } else { "noise change" };
    let mut header = vec!["speed", "to the glass", "", "pressure"];
    if !jet.is_empty() {
        header.push(jet);
    }
    header.extend(["warms by", "power", noise]);
    let width = header.len();
    let mut rows = vec![header.into_iter().map(str::to_owned).collect::<Vec<String>>()];
    for step in &system.steps {
        let mut row = vec![share(step.asked)];
        match &step.operating.state {
            State::Stopped => row.push("stands still".to_owned()),
            State::NoOperatingPoint { .. } => row.push("no balance".to_owned()),
            State::Running | State::Stalling => row.extend(cells(step, width)),
        }
        rows.push(row);
    }
    rows
}

fn cells(step: &Step, width: usize) -> Vec<String> {
    let operating = &step.operating;
    let flow = reaching(step);
    let mut cells = vec![
        format!("{} L/s", plain(1e3 * flow)),
        format!("{} cfm", plain(CFM * flow)),
        format!("{} Pa", plain(operating.fan_pressure)),
    ];
    if width == 8 {
        cells.push(jet(step).map_or("–".to_owned(), |(_, speed)| format!("{} m/s", plain(speed))));
    }
    cells.push(format!("{} K", plain(operating.temperature_rise)));
    cells.push(format!("{} W", plain(operating.electric_power)));
    cells.push(match step.noise_db {
        Some(level) => format!("{} dB", plain(level)),
        None => format!("{} dB", signed(operating.noise_change_db)),
    });
    cells
}

/// What the fastest part made by the builder is called, and its speed [m/s].
fn jet(step: &Step) -> Option<(&'static str, f64)> {
    if let Some(sheet) = &step.sheet {
        return Some(("in the slot", sheet.slot_speed));
    }
    let operating = &step.operating;
    let branches = operating.branches.iter().flat_map(|branch| &branch.passages);
    let holes = |part: &&Passage| part.name == HOLES;
    operating.trunk.iter().chain(branches).find(holes).map(|part| ("in the holes", part.speed))
}

fn sheet_row(step: &Step) -> Option<Vec<String>> {
    let sheet = step.sheet.as_ref()?;
    let turbulent = match sheet.turbulent_inside {
        Some(radius) => format!("{:.0} mm radius", 1e3 * radius),
        None => "laminar throughout".to_owned(),
    };
    let reach = match sheet.reach {
        Reach::Centre => "reaches it",
        Reach::LiftsEarly => "lifts off outside half the radius",
        Reach::MayStayOff => "may pass over the glass",
        Reach::Still => "no air",
    };
    let reynolds = format!("{:.0}", two_digits(sheet.slot_reynolds));
    Some(vec![share(step.asked), reynolds, turbulent, reach.to_owned()])
}
