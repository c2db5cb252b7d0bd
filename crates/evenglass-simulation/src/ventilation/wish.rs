//! The inverse of sizing: what to build, or how fast to run, for a wanted speed or film.

use evenglass_airflow::fan::Rotor;
use evenglass_disc::FaceName;
use evenglass_scenario::Scenario;
use evenglass_scenario::ventilation::{Arrangement, LayerKind};
use evenglass_units::Length;

use super::moved::{Planned, plan};
use super::sizing::{mean_air, mean_film_of};

/// Bisections until an answer is as good as its inputs.
const BISECTIONS: u32 = 50;

/// Least narrowing of a slot that is looked at: one ten times as wide.
const WIDEST: f64 = 0.1;

/// Narrowings tried for the strongest, from [`WIDEST`] to a slot a tenth as wide; each an
/// eighth narrower than the last, which at the flat top of a film misses less than 1 %.
const NARROWINGS: u32 = 40;

/// Largest share of the fans' pressure that a filter should take [-]; common practice, no
/// source.
pub const FILTER_SHARE: f64 = 0.25;

/// What a builder wants.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Wish {
    /// Of the air in a ring nozzle's slot [m/s].
    SlotSpeed(f64),
    /// Area mean of the forced film, on the front where air moves there, else on the
    /// back [W m⁻² K⁻¹].
    Film(f64),
}

/// How a wish is met.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Answer {
    /// With this.
    Value(f64),
    /// Not at all; the nearest that can be reached.
    AtMost(f64),
    /// Only with fans that run slower than theirs can; the least that can be reached.
    AtLeast(f64),
    /// The question does not apply to this arrangement.
    NoMeaning,
}

/// The answers to a wish for the main arrangement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wished {
    /// Share of full speed [-] with everything else as it is.
    pub speed: Answer,
    /// Width of a ring nozzle's slot \[m\] at full speed.
    pub slot: Answer,
}

/// How a wish can be met by fan speed, or by the slot; `None` without fans.
#[must_use]
pub fn answer(scenario: &Scenario, wish: Wish) -> Option<Wished> {
    let planned = plan(scenario).into_iter().next()?;
    planned.network.as_ref()?;
    let reached = |scenario: &Scenario, speed: f64| -> Option<f64> {
        let planned = plan(scenario).into_iter().next()?;
        reached(scenario, &planned, speed, wish)
    };
    let wanted = match wish {
        Wish::SlotSpeed(speed) => speed,
        Wish::Film(film) => film,
    };
    let (least, most) = speeds(&planned);
    let by_speed = |speed: f64| reached(scenario, speed);
    let slot = match &planned.system.arrangement {
        Arrangement::RingNozzle(ring) => {
            let present = ring.slot.metres();
            // A narrower slot blows faster, until too little air is left to make a film.
            let by_width =
                |narrowing: f64| reached(&with_slot(scenario, present / narrowing), most);
            match root(by_width, wanted, (WIDEST, strongest(by_width))) {
                Answer::Value(narrowing) => Answer::Value(present / narrowing),
                other => other,
            }
        }
        _ => Answer::NoMeaning,
    };
    Some(Wished { speed: root(by_speed, wanted, (least, most)), slot })
}

/// Face area \[m²\] at which the filters before the main fans take [`FILTER_SHARE`] of the
/// fans' pressure at full speed; `None` without a filter.
#[must_use]
pub fn filter_area(scenario: &Scenario) -> Option<Answer> {
    let share = |factor: f64| filter_share(&with_filters(scenario, factor));
    share(1.0)?;
    let area = filters_area(scenario)?;
    // The share falls as the area grows.
    let free = |factor: f64| share(factor).map(|share| 1.0 - share);
    Some(match root(free, 1.0 - FILTER_SHARE, (0.02, 200.0)) {
        Answer::Value(factor) => Answer::Value(area * factor),
        Answer::AtLeast(_) => Answer::Value(area * 0.02),
        other => other,
    })
}

/// Share of the fans' pressure at full speed that the filters take [-]; `None` without.
#[must_use]
pub fn filter_share(scenario: &Scenario) -> Option<f64> {
    let planned = plan(scenario).into_iter().next()?;
    let (air, _) = mean_air(scenario);
    let operating = planned.moved(speeds(&planned).1, &air).operating?;
    let taken: Vec<f64> = operating
        .trunk
        .iter()
        .filter(|passage| passage.name == super::network::FILTER)
        .map(|passage| passage.drop)
        .collect();
    let pressure = operating.fan_pressure;
    (!taken.is_empty() && pressure > 0.0).then(|| taken.iter().sum::<f64>() / pressure)
}

/// Least and greatest share of full speed at which the fans turn.
fn speeds(planned: &Planned) -> (f64, f64) {
    let most = planned.running_speed(1.0, 0.0, Rotor::Turning);
    let least = planned.system.fans.as_ref().map_or(0.0, |fans| fans.minimum_speed);
    (least.clamp(1e-3, 1.0) * most.max(1e-3), most)
}

/// What a speed of the fans reaches of a wish.
fn reached(scenario: &Scenario, planned: &Planned, speed: f64, wish: Wish) -> Option<f64> {
    let (air, _) = mean_air(scenario);
    let moved = planned.moved(speed, &air);
    match wish {
        Wish::SlotSpeed(_) => moved.sheet.as_ref().map(|sheet| sheet.slot_speed),
        Wish::Film(_) => {
            let face = if moved.front.is_some() { FaceName::Front } else { FaceName::Back };
            moved.field(face).map(|_| mean_film_of(scenario, &moved, face))
        }
    }
}

/// Where a rising function reaches `wanted` between two places.
fn root(f: impl Fn(f64) -> Option<f64>, wanted: f64, (low, high): (f64, f64)) -> Answer {
    let (Some(least), Some(most)) = (f(low), f(high)) else { return Answer::NoMeaning };
    if wanted > most {
        return Answer::AtMost(most);
    }
    if wanted < least {
        return Answer::AtLeast(least);
    }
    let (mut low, mut high) = (low, high);
    for _ in 0..BISECTIONS {
        let middle = 0.5 * (low + high);
        if f(middle).is_some_and(|value| value < wanted) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Answer::Value(0.5 * (low + high))
}

/// The narrowing at which a slot reaches most; up to it, narrower is more.
fn strongest(by_width: impl Fn(f64) -> Option<f64>) -> f64 {
    let narrowing = |n: u32| WIDEST.powf(1.0 - 2.0 * f64::from(n) / f64::from(NARROWINGS));
    let tried = (0..=NARROWINGS).map(|n| (narrowing(n), by_width(narrowing(n))));
    let reached = tried.filter_map(|(narrowing, value)| Some((narrowing, value?)));
    reached.max_by(|a, b| a.1.total_cmp(&b.1)).map_or(1.0, |best| best.0)
}

fn with_slot(scenario: &Scenario, width: f64) -> Scenario {
    let mut changed = scenario.clone();
    if let Some(ventilation) = &mut changed.ventilation
        && let Arrangement::RingNozzle(ring) = &mut ventilation.main.arrangement
    {
        ring.slot = Length::from_metres(width);
    }
    changed
}

/// Filters before the main fans with their areas multiplied by a factor.
fn with_filters(scenario: &Scenario, factor: f64) -> Scenario {
    let mut changed = scenario.clone();
    let layers = changed.ventilation.iter_mut().flat_map(|v| &mut v.main.layers);
    for layer in layers {
        if let LayerKind::Filter { area, .. } = &mut layer.kind {
            *area = evenglass_units::Area::from_m2(area.m2() * factor);
        }
    }
    changed
}

/// Area of the first filter \[m²\].
fn filters_area(scenario: &Scenario) -> Option<f64> {
    let layers = &scenario.ventilation.as_ref()?.main.layers;
    layers.iter().find_map(|layer| match &layer.kind {
        LayerKind::Filter { area, .. } => Some(area.m2()),
        _ => None,
    })
}
