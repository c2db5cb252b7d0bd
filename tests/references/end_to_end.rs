//! `data/figure_end_to_end.csv`: a night of given films, and four numbers of the figure it ends in.

use evenglass_disc::Resolution;
use evenglass_simulation::result::COLUMNS;
use evenglass_simulation::simulate;
use evenglass_units::{Expansion, Temperature};

use crate::case::{Case, Points};
use crate::table::{Row, rows_of};

/// Hours of falling air, more than ten time constants of every mirror of the table.
const SETTLED: f64 = 20.0;
const HOUR: f64 = 3600.0;

/// Of the air where the figure is read [°C].
const AIR: f64 = 0.0;

/// A night and what is known of its last instant.
#[derive(Debug)]
pub(crate) struct Known {
    /// As the table describes it.
    pub(crate) inputs: String,
    pub(crate) rows: Vec<Row>,
}

/// All nights, in the order of the table.
pub(crate) fn nights() -> Vec<Known> {
    let mut nights: Vec<Known> = vec![];
    for row in rows_of("figure_end_to_end.csv") {
        match nights.last_mut().filter(|night| night.inputs == row.inputs) {
            Some(night) => night.rows.push(row),
            None => nights.push(Known { inputs: row.inputs.clone(), rows: vec![row] }),
        }
    }
    nights
}

impl Known {
    /// The table's numbers at the end of the night, in its order.
    pub(crate) fn computed(&self, resolution: &Resolution) -> Vec<f64> {
        let row = &self.rows[0];
        let even = |name: &str| -> Points { vec![(0.0, row.input(name))] };
        let (start_c, air, duration_s) = if row.has("step") {
            (AIR + row.input("step"), vec![(0.0, AIR)], row.input("time"))
        } else {
            let begun = AIR + SETTLED * row.input("fall");
            (begun, vec![(0.0, begun), (SETTLED * HOUR, AIR)], SETTLED * HOUR)
        };
        let case = Case {
            diameter_m: row.input("diameter"),
            edge_thickness_m: row.input("thickness"),
            focal_ratio: Some(row.input("focal_ratio")),
            density: row.input("density"),
            specific_heat: row.input("specific_heat"),
            conductivity: row.input("conductivity"),
            start_c,
            air,
            front: even("film_front"),
            back: even("film_back"),
            rim: even("film_rim"),
            duration_s,
            ..Case::flat()
        };
        let mut scenario = case.scenario();
        scenario.mirror.glass.expansion = Expansion::from_per_kelvin(row.input("expansion"));
        scenario.mirror.glass.poisson_ratio = row.input("poisson_ratio");
        scenario.night.stress_free_temperature = Temperature::from_celsius(AIR);
        let night = simulate(&scenario, resolution).expect("the case can be computed");
        let last = night.history.last().expect("a night has rows");
        let value = |row: &Row| {
            let column = COLUMNS.iter().find(|column| column.name == row.quantity);
            (column.expect("rows are named as columns").value)(last)
        };
        self.rows.iter().map(value).collect()
    }
}
