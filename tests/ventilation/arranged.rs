//! Every arrangement, sized to a mirror and written as a maker would write it.

use std::fmt::Write as _;
use std::path::Path;

use evenglass_scenario::{Scenario, parse};

/// A mirror, its telescope and its night. Lengths in mm, temperatures in °C.
#[derive(Debug, Clone)]
pub(crate) struct Draft {
    pub(crate) diameter: f64,
    pub(crate) thickness: f64,
    pub(crate) focal_ratio: Option<f64>,
    pub(crate) hole: bool,
    pub(crate) glass: f64,
    pub(crate) air: f64,
    /// Of the air, K/h, not positive.
    pub(crate) rate: f64,
    /// m/s
    pub(crate) wind: f64,
    /// hPa
    pub(crate) pressure: f64,
    pub(crate) cover: &'static str,
    /// Of full speed, at the start and after 40 % of the night.
    pub(crate) speeds: [f64; 2],
    /// Of the telescope; empty for none.
    pub(crate) form: &'static str,
    pub(crate) hours: f64,
    /// The table `ventilation`, inline; empty for none.
    pub(crate) ventilation: String,
    /// Further lines, whole tables.
    pub(crate) more: String,
}

impl Draft {
    /// 406 mm of plain plate glass, 10 K warmer than steady air, in a box under a truss.
    pub(crate) fn usual() -> Self {
        Self {
            diameter: 406.0,
            thickness: 41.0,
            focal_ratio: Some(4.5),
            hole: false,
            glass: 20.0,
            air: 10.0,
            rate: 0.0,
            wind: 0.5,
            pressure: 1013.25,
            cover: "off",
            speeds: [1.0, 1.0],
            form: "truss",
            hours: 2.0,
            ventilation: String::new(),
            more: String::new(),
        }
    }

    pub(crate) fn text(&self) -> String {
        let mut text = String::new();
        if !self.ventilation.is_empty() {
            writeln!(text, "ventilation = {}", self.ventilation).unwrap();
        }
        let d = self.diameter;
        write!(
            text,
            "[mirror]\ndiameter = \"{d} mm\"\nedge_thickness = \"{} mm\"\nglass = \"soda-lime\"\n",
            self.thickness
        )
        .unwrap();
        if let Some(ratio) = self.focal_ratio {
            writeln!(text, "focal_ratio = {ratio}").unwrap();
        }
        if self.hole {
            writeln!(text, "hole_diameter = \"{} mm\"", 0.2 * d).unwrap();
        }
        write!(
            text,
            "[night]\nstart = \"20:00\"\nduration = \"{} h\"\nglass_temperature = \"{} degC\"\n\
             air = {{ kind = \"falling\", from = \"{} degC\", rate = \"{} K/h\" }}\n\
             wind = \"{} m/s\"\npressure = \"{} hPa\"\ncover = \"{}\"\nfan_speed = {}\n\
             [[event]]\nat = \"{} h\"\nfan_speed = {}\n",
            self.hours,
            self.glass,
            self.air,
            self.rate,
            self.wind,
            self.pressure,
            self.cover,
            self.speeds[0],
            0.4 * self.hours,
            self.speeds[1]
        )
        .unwrap();
        if !self.form.is_empty() {
            write!(
                text,
                "[telescope]\nform = \"{}\"\nclearance = \"{} mm\"\nlength = \"{} mm\"\nbehind = \"{} mm\"\n",
                self.form,
                0.05 * d,
                0.4 * d,
                0.25 * d
            )
            .unwrap();
        }
        text + &self.more
    }

    pub(crate) fn scenario(&self) -> Scenario {
        let text = self.text();
        parse("draft.toml", &text, Path::new(""), &[])
            .unwrap_or_else(|error| panic!("{text}\n{:?}", error.faults))
    }
}

/// So many fans, together 28 L/s for 610 mm, that may turn as slowly as one likes.
pub(crate) fn fans(diameter: f64, each_over_mirror: f64, count: u32) -> String {
    let flow = 45.0 * (diameter / 610.0).powi(2) / f64::from(count);
    format!(
        "fans = {{ diameter = \"{} mm\", free_flow = \"{flow} L/s\", max_pressure = \"50 Pa\", \
         power = \"{} W\", motor = \"outside\", count = {count}, minimum_speed = 0, start_speed = 0 }}",
        (each_over_mirror * diameter).max(20.0),
        0.05 * flow
    )
}

fn plate(d: f64) -> String {
    format!(
        "{{ diameter = \"{} mm\", distance = \"{} mm\", hole_diameter = \"{} mm\", holes = 300, thickness = \"3 mm\" }}",
        0.9 * d,
        0.06 * d,
        0.01 * d
    )
}

fn ring(d: f64, more: &str) -> String {
    format!(
        "{{ kind = \"ring-nozzle\", slot = \"{} mm\", lip = \"{} mm\", height = \"{} mm\", {}, {more} }}",
        0.012 * d,
        0.04 * d,
        0.004 * d,
        fans(d, 0.25, 1)
    )
}

/// The table `ventilation` of every arrangement for a mirror of a diameter \[mm\].
pub(crate) fn every(d: f64) -> Vec<(&'static str, String)> {
    let mut list = behind(d);
    list.extend(led_around(d));
    list.extend(over_the_front(d));
    list
}

fn behind(d: f64) -> Vec<(&'static str, String)> {
    let one = one_behind(d);
    let circle = format!(
        "kind = \"fans-behind\", circle_diameter = \"{} mm\", distance = \"{} mm\", {}",
        0.55 * d,
        0.12 * d,
        fans(d, 0.15, 4)
    );
    let gap = format!("cell = \"closed\", gap = \"{} mm\"", 0.07 * d);
    vec![
        ("fan behind, open", format!("{{ {one} }}")),
        ("fan behind, closed", format!("{{ {one}, {gap} }}")),
        ("fan beside the axis", format!("{{ {one}, offset = \"{} mm\" }}", 0.1 * d)),
        ("fans behind, open", format!("{{ {circle} }}")),
        ("fans behind, closed", format!("{{ {circle}, {gap} }}")),
    ]
}

fn one_behind(d: f64) -> String {
    format!("kind = \"fan-behind\", distance = \"{} mm\", {}", 0.15 * d, fans(d, 0.25, 1))
}

fn led_around(d: f64) -> Vec<(&'static str, String)> {
    let one = fans(d, 0.25, 1);
    let suction = format!(
        "kind = \"suction\", gap = \"{} mm\", rim_gap = \"{} mm\", {one}",
        0.06 * d,
        0.03 * d
    );
    let outlet = format!("{{ width = \"{} mm\", diameter = \"{} mm\" }}", 0.008 * d, 1.06 * d);
    let plate = plate(d);
    let past_back = format!(
        "path = {{ kind = \"past-back\", gap = \"{} mm\", rim_gap = \"{} mm\" }}",
        0.06 * d,
        0.04 * d
    );
    let through_plate = format!(
        "feed = \"one-point\", path = {{ kind = \"through-plate\", rim_gap = \"{} mm\", plate = {plate} }}",
        0.04 * d
    );
    vec![
        ("suction", format!("{{ {suction} }}")),
        ("suction under a baffle", format!("{{ {suction}, baffle = \"{} mm\" }}", 0.8 * d)),
        ("plenum", format!("{{ kind = \"plenum\", plate = {plate}, outlet = {outlet}, {one} }}")),
        ("ring past the back", ring(d, &past_back)),
        ("ring behind a plate", ring(d, &through_plate)),
        ("ring fed directly", ring(d, "path = { kind = \"direct\" }")),
    ]
}

fn over_the_front(d: f64) -> Vec<(&'static str, String)> {
    let beside = format!("distance = \"{} mm\", {}", 0.1 * d, fans(d, 0.15, 4));
    let one = fans(d, 0.25, 1);
    let behind = one_behind(d);
    vec![
        ("side fans", format!("{{ kind = \"side-fans\", {beside} }}")),
        (
            "side fans on both sides",
            format!("{{ kind = \"side-fans\", rows = \"both-sides\", {beside} }}"),
        ),
        ("corner fans", format!("{{ kind = \"corner-fans\", {beside} }}")),
        ("fan above", format!("{{ kind = \"fan-above\", distance = \"{} mm\", {one} }}", 0.8 * d)),
        ("two systems", format!("{{ {behind}, second = {{ kind = \"corner-fans\", {beside} }} }}")),
        ("open", "{ kind = \"open\" }".to_owned()),
        ("sealed", "{ kind = \"sealed\" }".to_owned()),
    ]
}
