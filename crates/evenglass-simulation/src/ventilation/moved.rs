//! One state of the fans: how much air flows where, and the films it makes.

use std::f64::consts::{FRAC_PI_2, PI};
use std::sync::Arc;

use evenglass_airflow::evenness::RingFeed;
use evenglass_airflow::fan::{Rotor, speed_at_voltage};
use evenglass_airflow::loss::opening::{NOZZLE, SHARP, ring_area};
use evenglass_airflow::network::{Network, Operating};
use evenglass_convection::sheet::Sheet;
use evenglass_disc::FaceName;
use evenglass_materials::moist_air::AirProperties;
use evenglass_scenario::scenario::Cell;
use evenglass_scenario::ventilation::{Arrangement, Feed, Path, RingNozzle, System};
use evenglass_scenario::{Scenario, Side};
use evenglass_units::Length;

use super::field::Field;
use super::network::{self, Glass, TO_BACK, TO_FRONT, TO_OUTLET};
use super::{back, front, rim};

/// Darcy's friction factor taken for a ring channel: smooth at Re 10⁴ [-].
const RING_FRICTION: f64 = 0.03;

/// Film of moved air behind the struts and pads of a support over that of a bare back [-]
/// (eq. V-5), ± 0.1: a layer in disturbed air carries 2 to 5 % more for each percent of
/// turbulence (Simonich and Bradshaw 1978, from memory).
const SUPPORT_TURBULENCE: f64 = 1.15;

/// A system of the scenario with its network.
pub(crate) struct Planned {
    pub(crate) system: System,
    pub(crate) network: Option<Network>,
    pub(crate) glass: Glass,
    hole_radius: f64,
    /// Share of the back under the pads of its support, where there is a telescope [-].
    pads: Option<f64>,
}

/// Air moved by one system in one state.
#[derive(Default)]
pub(crate) struct Moved {
    pub(crate) operating: Option<Operating>,
    /// To the back, past the rim, to the front [m³/s].
    pub(crate) flows: Flows,
    pub(crate) back: Option<Field<'static>>,
    pub(crate) rim: Option<Field<'static>>,
    pub(crate) front: Option<Field<'static>>,
    /// Faces in the order in which the air meets them.
    pub(crate) way: Vec<(FaceName, Sense)>,
    /// What flows through the foot of the column the air ends in [m³/s].
    pub(crate) column_flow: Option<f64>,
    pub(crate) sheet: Option<Arc<Sheet>>,
    pub(crate) source: Source,
}

/// Where the air comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum Source {
    /// From outside along the walls beside and behind the glass.
    #[default]
    PastTheWalls,
    /// From outside straight to the glass.
    Outside,
    /// From the air around the glass.
    Around,
}

/// Flow past each part of the glass [m³/s].
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Flows {
    pub(crate) back: f64,
    pub(crate) rim: f64,
    pub(crate) front: f64,
}

/// Which way air runs along a face: with growing radius or height, or against it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sense {
    Ascending,
    Descending,
}

impl Flows {
    /// The largest: the air that reaches the glass.
    pub(crate) fn reaching(self) -> f64 {
        self.back.max(self.rim).max(self.front)
    }
}

/// The systems of a scenario: the main one, and the second if there is one.
pub(crate) fn plan(scenario: &Scenario) -> Vec<Planned> {
    let Some(ventilation) = &scenario.ventilation else { return Vec::new() };
    let mirror = &scenario.mirror;
    let glass = Glass {
        radius: 0.5 * mirror.diameter.metres(),
        thickness: mirror.edge_thickness.metres(),
        clearance: scenario.telescope.as_ref().map(|telescope| telescope.clearance.metres()),
    };
    let hole_radius = 0.5 * mirror.hole_diameter.map_or(0.0, Length::metres);
    let systems = Some(&ventilation.main).into_iter().chain(&ventilation.second);
    systems
        .map(|system| Planned {
            // A checked scenario's fan data make a curve.
            network: network::network(system, glass).ok().flatten(),
            system: system.clone(),
            glass,
            hole_radius,
            pads: scenario.telescope.as_ref().map(|telescope| telescope.pads),
        })
        .collect()
}

impl Planned {
    /// The speed the fans run at when the night asks for `requested` at `time_s` [-].
    pub(crate) fn running_speed(&self, requested: f64, time_s: f64, before: Rotor) -> f64 {
        let (Some(fans), Some(network)) = (&self.system.fans, &self.network) else { return 0.0 };
        let speed = match (&fans.supply_voltage, fans.rated_voltage) {
            (Some(supply), Some(rated)) => {
                speed_at_voltage(requested, supply.at(time_s, Side::After), rated.volts())
            }
            _ => requested,
        };
        network.bank.motor.running_speed(speed, before)
    }

    /// What moves at a running speed in air of these properties.
    pub(crate) fn moved(&self, speed: f64, air: &AirProperties) -> Moved {
        let Some(network) = &self.network else { return Moved::default() };
        let operating = network.operate(speed, &network::air(air));
        let through = |name: &str| {
            let branch = operating.branches.iter().find(|branch| branch.name == name);
            branch.map_or(0.0, |branch| branch.flow.max(0.0))
        };
        let [to_back, to_front, to_outlet] = [TO_BACK, TO_FRONT, TO_OUTLET].map(through);
        let mut moved = Moved::default();
        if to_back.max(to_front).max(to_outlet) > 0.0 {
            self.fill(&mut moved, (to_back, to_front, to_outlet), air);
        }
        moved.operating = Some(operating);
        if let Some(pads) = self.pads {
            let disturbed = |back: Field<'static>| back.scaled(SUPPORT_TURBULENCE * (1.0 - pads));
            moved.back = moved.back.map(disturbed);
        }
        moved
    }

    fn fill(&self, moved: &mut Moved, flows: (f64, f64, f64), air: &AirProperties) {
        use FaceName::{Back, Rim};
        use Sense::{Ascending, Descending};
        let (to_back, to_front, to_outlet) = flows;
        moved.source = source(&self.system.arrangement);
        let Some(fans) = &self.system.fans else { return };
        let stream = back::Stream { flow: to_back, air, radius: self.glass.radius };
        match &self.system.arrangement {
            Arrangement::FanBehind(behind) | Arrangement::FansBehind { behind, .. } => {
                moved.flows.back = to_back;
                moved.back = Some(match &self.system.arrangement {
                    Arrangement::FansBehind { circle_diameter, angle, .. } => {
                        let circle = (circle_diameter.metres(), angle.radians());
                        back::fans(behind, fans, circle, stream)
                    }
                    _ => back::fan(behind, fans, stream),
                });
                moved.way.push((Back, Ascending));
                if let (Cell::Closed { .. }, Some(gap)) = (behind.cell, self.glass.clearance) {
                    self.past_rim(moved, (to_back, gap), air);
                    moved.way.push((Rim, Ascending));
                    moved.column_flow = Some(to_back);
                }
            }
            Arrangement::Suction { gap, rim_gap, baffle } => {
                moved.flows.back = to_back;
                let front = self.at_front(to_back, air);
                let baffle = baffle.map(Length::metres);
                moved.front = Some(front::towards_rim(baffle, rim_gap.metres(), front));
                self.past_rim(moved, (to_back, rim_gap.metres()), air);
                moved.back = Some(back::suction(gap.metres(), fans, stream));
                moved.way =
                    vec![(FaceName::Front, Ascending), (Rim, Descending), (Back, Descending)];
            }
            Arrangement::Plenum { plate, outlet } => {
                moved.flows.back = to_back;
                let gap = self.glass.clearance.unwrap_or_else(|| outlet.width.metres());
                // What is aimed outward does not run along the rim.
                let along = outlet.angle.radians().cos().max(0.0) * to_outlet;
                let beside = to_back + along;
                moved.back = Some(back::plate(plate, stream).met_by(to_back / beside));
                self.past_rim(moved, (beside, gap), air);
                moved.way = vec![(Back, Ascending), (Rim, Ascending)];
                moved.column_flow = Some(to_back + to_outlet);
            }
            Arrangement::RingNozzle(ring) => self.fill_ring(moved, ring, to_front, air),
            Arrangement::SideFans(side) => {
                let field = front::side_fans(side, fans, self.at_front(to_front, air));
                across_front(moved, field, to_front);
            }
            Arrangement::CornerFans { distance, height, angle } => {
                let place = (distance.metres(), height.metres(), angle.radians());
                let field = front::corner_fans(place, fans, self.at_front(to_front, air));
                across_front(moved, field, to_front);
            }
            Arrangement::FanAbove { distance } => {
                let stream = self.at_front(to_front, air);
                across_front(moved, front::fan_above(distance.metres(), fans, stream), to_front);
            }
            Arrangement::Open | Arrangement::Sealed => {}
        }
    }

    fn fill_ring(&self, moved: &mut Moved, ring: &RingNozzle, flow: f64, air: &AirProperties) {
        let Some(fans) = &self.system.fans else { return };
        let stream = back::Stream { flow, air, radius: self.glass.radius };
        let behind = match &ring.path {
            Path::Direct => None,
            Path::PastBack { gap, rim_gap } => {
                Some((back::channel(gap.metres(), fans, stream), rim_gap.metres()))
            }
            Path::ThroughPlate { plate, rim_gap } => {
                Some((back::plate(plate, stream), rim_gap.metres()))
            }
        };
        if let Some((field, gap)) = behind {
            moved.flows.back = flow;
            moved.back = Some(field);
            self.past_rim(moved, (flow, gap), air);
            moved.way = vec![(FaceName::Back, Sense::Ascending), (FaceName::Rim, Sense::Ascending)];
        }
        moved.way.push((FaceName::Front, Sense::Descending));
        moved.flows.front = flow;
        let stream = self.at_front(flow, air);
        let sheet = Arc::new(front::sheet(ring, stream));
        let uneven = match ring.feed {
            Feed::Even => [(0.0, 0.0); 2],
            Feed::OnePoint(_) => self.one_point_feed(ring),
        };
        moved.column_flow = Some(sheet.column_flow.max(flow));
        moved.front = Some(front::ring(ring, &sheet, stream, &uneven));
        moved.sheet = Some(sheet);
    }

    /// Orders 1 and 2 of the slot's speed around a ring that is fed at one place, as
    /// (share of the mean, angle from the feed to the strongest place).
    fn one_point_feed(&self, ring: &RingNozzle) -> [(f64, f64); 2] {
        let radius = self.glass.radius + ring.setback.metres();
        let section = ring.ring_section.m2();
        let feed = RingFeed {
            slot_area: ring_area(radius, ring.slot.metres()),
            discharge: if ring.lip.metres() > 0.0 { NOZZLE } else { SHARP },
            plenum_area: section,
            // As of a square channel.
            hydraulic: section.sqrt(),
            radius,
            friction: RING_FRICTION,
        };
        let harmonics = feed.harmonics();
        [(harmonics.first.value, PI), (harmonics.second.value, FRAC_PI_2)]
            .map(|(share, strongest)| (share.abs(), if share < 0.0 { strongest } else { 0.0 }))
    }

    fn past_rim(&self, moved: &mut Moved, (flow, depth): (f64, f64), air: &AirProperties) {
        let Glass { radius, thickness: height, .. } = self.glass;
        moved.flows.rim = flow;
        moved.rim = Some(rim::gap(rim::Gap { flow, depth, height, radius, air }));
    }

    fn at_front<'a>(&self, flow: f64, air: &'a AirProperties) -> front::Stream<'a> {
        front::Stream { flow, air, radius: self.glass.radius, hole_radius: self.hole_radius }
    }
}

fn source(arrangement: &Arrangement) -> Source {
    match arrangement {
        Arrangement::Suction { .. } | Arrangement::FanAbove { .. } => Source::Around,
        Arrangement::SideFans(_) | Arrangement::CornerFans { .. } => Source::Outside,
        Arrangement::RingNozzle(ring) if ring.path == Path::Direct => Source::Outside,
        _ => Source::PastTheWalls,
    }
}

fn across_front(moved: &mut Moved, field: Field<'static>, flow: f64) {
    moved.flows.front = flow;
    moved.front = Some(field);
    moved.way.push((FaceName::Front, Sense::Ascending));
    moved.column_flow = Some(flow);
}

impl Moved {
    /// The field on a face.
    pub(crate) fn field(&self, face: FaceName) -> Option<&Field<'static>> {
        match face {
            FaceName::Front => self.front.as_ref(),
            FaceName::Back => self.back.as_ref(),
            FaceName::Rim => self.rim.as_ref(),
            FaceName::Hole => None,
        }
    }
}
