//! The solver beside the worked examples of `tests/references/handbook.rs`.

use evenglass_units::Temperature;

use crate::case::Case;
use crate::handbook::{
    PIPELINE, PIPELINE_ALLOWED, PIPELINE_OUTSIDE, RUBBER_SLAB, RUBBER_SLAB_ALLOWED,
    RUBBER_SLAB_MIDDLE, WidePlate, log, rod,
};
use crate::page::Comparison;
use crate::solver::{Accuracy, temperatures};

/// A worked example: the body, where to look, and what the book prints.
struct Example {
    source: &'static str,
    inputs: &'static str,
    case: Case,
    /// Radius and height [m]; the time is the end of the case.
    place: (f64, f64),
    /// Of the value: what is printed as 0 and as 1 [°C].
    scale: (f64, f64),
    published: f64,
    digits: usize,
    /// Of the value.
    allowed: f64,
    /// Whether the promise for a step adds to what the print allows.
    is_sharper_than_the_promise: bool,
}

/// Values in °C themselves.
const CELSIUS: (f64, f64) = (0.0, 1.0);

fn plate(example: &WidePlate, thickness: f64) -> Case {
    Case {
        conductivity: example.conductivity,
        density: example.density,
        specific_heat: example.specific_heat,
        edge_thickness_m: thickness,
        start_c: example.start,
        air: vec![(0.0, example.air)],
        front: vec![(0.0, example.film)],
        duration_s: example.time,
        ..Case::flat()
    }
}

/// A long rod of a given density, which alone decides nothing.
fn round(radius: f64, conductivity: f64, diffusivity: f64) -> Case {
    let density = 1000.0;
    let specific_heat = conductivity / diffusivity / density;
    Case { diameter_m: 2.0 * radius, conductivity, density, specific_heat, ..Case::flat() }
}

fn plates() -> [Example; 2] {
    let slab = RUBBER_SLAB;
    let mut both_faces = plate(&slab, 2.0 * slab.half);
    both_faces.back.clone_from(&both_faces.front);
    [
        Example {
            source: "Incropera and DeWitt, example 5.4",
            inputs: "oil begins to flow through a cold steel pipe, outside after 8 min [°C]",
            case: plate(&PIPELINE, PIPELINE.half),
            place: (0.0, 0.0),
            scale: CELSIUS,
            published: PIPELINE_OUTSIDE,
            digits: 2,
            allowed: PIPELINE_ALLOWED,
            is_sharper_than_the_promise: false,
        },
        Example {
            source: "Sukhatme, example 2.10",
            inputs: "a slab of 10 mm cools in air, middle after 5 min [share left]",
            case: both_faces,
            place: (0.0, slab.half),
            scale: (slab.air, slab.start),
            published: RUBBER_SLAB_MIDDLE,
            digits: 2,
            allowed: RUBBER_SLAB_ALLOWED,
            is_sharper_than_the_promise: false,
        },
    ]
}

fn rods() -> [Example; 2] {
    [
        Example {
            source: "Holman, examples 4.7 and 4.8",
            inputs: "an aluminium rod of 5 cm in 70 °C, axis after 1 min [share left]",
            case: Case {
                start_c: 200.0,
                air: vec![(0.0, 70.0)],
                rim: vec![(0.0, rod::FILM)],
                duration_s: rod::TIME,
                ..round(rod::RADIUS, rod::CONDUCTIVITY, rod::DIFFUSIVITY)
            },
            place: (0.0, 0.01),
            scale: (70.0, 200.0),
            published: rod::AXIS,
            digits: 2,
            allowed: rod::ALLOWED,
            is_sharper_than_the_promise: false,
        },
        Example {
            source: "pychemengg 0.1a11, transient heat transfer, example 3",
            inputs: "a wooden log of 10 cm in gases of 550 °C, surface after 2966 s [°C]",
            case: Case {
                start_c: log::START,
                air: vec![(0.0, log::GASES)],
                rim: vec![(0.0, log::FILM)],
                duration_s: log::TIME,
                ..round(log::RADIUS, log::CONDUCTIVITY, log::DIFFUSIVITY)
            },
            place: (log::RADIUS, 0.02),
            scale: CELSIUS,
            published: log::SURFACE,
            digits: 0,
            allowed: log::ALLOWED,
            is_sharper_than_the_promise: true,
        },
    ]
}

impl Example {
    /// Ours minus published, and what is allowed, both in the unit of the value.
    fn gap(&self, accuracy: Accuracy) -> (f64, f64) {
        let step = (self.case.air[0].1 - self.case.start_c).abs() / 10.0;
        let promise = accuracy.per_ten_kelvin() * step / (self.scale.1 - self.scale.0);
        let more = if self.is_sharper_than_the_promise { promise } else { 0.0 };
        (self.ours(accuracy) - self.published, self.allowed + more)
    }

    fn ours(&self, accuracy: Accuracy) -> f64 {
        let probe = (self.case.duration_s, self.place.0, self.place.1);
        let kelvin = temperatures(&self.case.scenario(), &[probe], accuracy)[0];
        let (zero, one) = self.scale;
        (Temperature::from_kelvin(kelvin).celsius() - zero) / (one - zero)
    }

    fn comparison(&self) -> Comparison {
        // In units of a thousandth, so that shares and degrees have digits to show.
        let thousandths = |(gap, allowed): (f64, f64)| (1e3 * gap, 1e3 * allowed);
        let (gap, allowed) = thousandths(self.gap(Accuracy::Default));
        let digits = self.digits;
        Comparison {
            quantity: "worked examples, as printed".to_owned(),
            inputs: self.inputs.to_owned(),
            source: self.source.to_owned(),
            published: format!("{:.digits$}", self.published),
            ours: format!("{:.*}", digits + 2, self.ours(Accuracy::Default)),
            gap,
            allowed,
            fine: Some(thousandths(self.gap(Accuracy::Fine))),
            unit: "thousandths",
        }
    }
}

/// Every worked example the solver can be asked for.
pub(crate) fn compared() -> Vec<Comparison> {
    plates().iter().chain(&rods()).map(Example::comparison).collect()
}
