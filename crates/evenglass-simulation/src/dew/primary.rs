//! The film on the primary's front.

use std::f64::consts::FRAC_PI_2;

use evenglass_convection::free::Stability;
use evenglass_convection::{mass, mixed};
use evenglass_materials::moist_air::{
    lewis_number, vapour_at_surface, vapour_density, vapour_pressure_from_dew_point,
};
use evenglass_scenario::{Profile, Scenario, Side};
use evenglass_units::{Pressure, Temperature};

use super::log::{MirrorDew, MirrorLog};
use super::remedy::{Remedies, film_needed};
use crate::films::{AirState, STEFAN_BOLTZMANN, free_film, usual_air};
use crate::result::{Record, Warning};

/// Follows the film of water or ice on the coldest part of the front.
#[derive(Debug)]
pub(crate) struct Primary<'a> {
    dew_point: &'a Profile,
    pressure: &'a Profile,
    altitude: &'a Profile,
    diameter: f64,
    emissivity: f64,
    /// Film now [kg m⁻²].
    film: f64,
    log: MirrorLog,
    /// Reading and air where the margin was smallest.
    worst: Option<(Record, AirState)>,
    /// Times that fans blew on a front below the dew point, and whether they do now.
    fed: (u64, bool),
}

impl<'a> Primary<'a> {
    /// `None` where the night does not tell its humidity.
    pub(crate) fn of(scenario: &'a Scenario) -> Option<Self> {
        let night = &scenario.night;
        let radiation = scenario.front.radiation.as_ref();
        Some(Self {
            dew_point: night.dew_point.as_ref()?,
            pressure: &night.pressure,
            altitude: &night.altitude,
            diameter: scenario.mirror.diameter.metres(),
            emissivity: radiation.map_or(0.0, |radiation| radiation.emissivity),
            film: 0.0,
            log: MirrorLog::default(),
            worst: None,
            fed: (0, false),
        })
    }

    /// A stretch begins with this reading.
    pub(crate) fn enter(&mut self, record: &Record, air: &AirState) {
        let margin = record.dew_margin_primary.kelvins();
        self.look(record, air);
        self.log.note((record.time_s, record.time_s), [margin; 2], [self.film; 2]);
    }

    /// Follows a step of which these are the readings at start, thirds and end.
    pub(crate) fn follow(&mut self, records: [&Record; 4], airs: [&AirState; 4]) {
        for (pair, airs) in records.windows(2).zip(airs.windows(2)) {
            let times = (pair[0].time_s, pair[1].time_s);
            let margins = [pair[0], pair[1]].map(|r| r.dew_margin_primary.kelvins());
            let before = self.film;
            if before > 0.0 || margins.iter().any(|margin| *margin < 0.0) {
                self.gather(times, [(pair[0], airs[0]), (pair[1], airs[1])]);
            }
            if before <= 0.0 && self.film > 0.0 {
                self.log.forms_at(pair[1].front_coldest.celsius());
            }
            self.look(pair[1], airs[1]);
            self.log.note(times, margins, [before, self.film]);
        }
    }

    /// Film that forms or dries between two readings (eq. D-8).
    fn gather(&mut self, (from, to): (f64, f64), ends: [(&Record, &AirState); 2]) {
        let growth = ends.map(|(record, air)| {
            let growth = self.growth(record, air);
            // From a dry face nothing goes.
            if self.film > 0.0 { growth } else { growth.max(0.0) }
        });
        self.film = (self.film + 0.5 * (growth[0] + growth[1]) * (to - from)).max(0.0);
    }

    /// [kg m⁻² s⁻¹]
    fn growth(&self, record: &Record, air: &AirState) -> f64 {
        let time = record.time_s;
        let pressure = Pressure::from_pascals(self.pressure.at(time, Side::After));
        let around = Temperature::from_kelvin(record.air.kelvin() + air.inside_excess);
        let properties = usual_air(around.kelvin(), pressure.pascals());
        let film = self.film_of(record, air);
        let lewis = lewis_number(&properties, pressure);
        let volume_heat = properties.density * properties.specific_heat;
        let carried = mass::coefficient(film, volume_heat, lewis).value;
        let dew = Temperature::from_kelvin(self.dew_point.at(time, Side::After));
        let there = vapour_density(vapour_pressure_from_dew_point(dew, pressure), around);
        let surface = record.front_coldest;
        carried * (there - vapour_density(vapour_at_surface(surface, pressure), surface))
    }

    /// Film of the front, forced and free [W m⁻² K⁻¹].
    fn film_of(&self, record: &Record, air: &AirState) -> f64 {
        if let Some(given) = air.front_given {
            return given;
        }
        let around = record.air.kelvin() + air.inside_excess;
        let difference = record.front_coldest.kelvin() - around;
        let pressure = self.pressure.at(record.time_s, Side::After);
        let properties = usual_air(around, pressure);
        let stability = if difference < 0.0 { Stability::Stable } else { Stability::Unstable };
        let tilt = FRAC_PI_2 - self.altitude.at(record.time_s, Side::After);
        let free =
            free_film(&properties, 0.25 * self.diameter, difference.abs(), (tilt, stability));
        mixed::assisting(air.front_film, free)
    }

    /// Keeps the worst instant, and counts when fans feed dew.
    fn look(&mut self, record: &Record, air: &AirState) {
        let margin = record.dew_margin_primary.kelvins();
        if margin < self.log.worst_margin() {
            self.worst = Some((record.clone(), *air));
        }
        let feeds = margin < 0.0 && air.fan_speed > 0.0 && air.flow > 0.0;
        self.fed = (self.fed.0 + u64::from(feeds && !self.fed.1), feeds);
    }

    /// What the night did to the front, and what would have kept the margin `target` \[K\].
    pub(crate) fn finish(self, target: f64) -> MirrorDew {
        let remedies = self.worst.as_ref().and_then(|(record, air)| {
            let margin = record.dew_margin_primary.kelvins();
            let warming_k = target - margin;
            (warming_k > 0.0).then(|| {
                let around = record.air.kelvin() + air.inside_excess;
                let wetting = record.front_coldest.kelvin() - margin;
                let radiant = air.front_sees_k.unwrap_or(around);
                let coldest = record.front_coldest.kelvin();
                let net = coldest.powi(4) - radiant.powi(4);
                let radiated = self.emissivity * STEFAN_BOLTZMANN * net;
                Remedies {
                    film_now: self.film_of(record, air),
                    film_needed: film_needed(radiated, around - wetting, target),
                    warming_k,
                    heater_w: None,
                    foil_margin_k: None,
                }
            })
        });
        self.log.finish(remedies)
    }

    /// The warning that fans feed dew, if they did.
    pub(crate) fn warning(&self) -> Option<Warning> {
        (self.fed.0 > 0).then(|| Warning {
            code: "dew::fans-feed-dew",
            text:
                "fans blow at a front that is colder than the dew point: moving damp air over it \
                   makes dew faster until the glass is warmer; cover it or stop the fans meanwhile"
                    .to_owned(),
            count: self.fed.0,
        })
    }
}
