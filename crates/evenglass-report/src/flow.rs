//! The air that reaches the glass, step by step of the fans.

use evenglass_simulation::Night;
use evenglass_simulation::result::{COLUMNS, Record};

use crate::wording::{moment, plain};

/// Steps of speed named one by one; a supply that runs down passes through many.
const STEPS_NAMED: usize = 4;

/// Speeds nearer to each other than this are one step [-].
const SAME_SPEED: f64 = 0.005;

/// An excess below this \[K\] is not worth a sentence.
const NO_EXCESS: f64 = 0.05;

/// The flows at one speed of the fans \[m³/s\], smallest and largest.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Step {
    speed: f64,
    low: f64,
    high: f64,
}

/// "29 L/s reach the glass at full speed, 8.1 L/s at 0.33 of it."; `None` for a night
/// without fans in \[ventilation\].
pub(crate) fn flow(night: &Night) -> Option<String> {
    let ventilation = night.scenario.ventilation.as_ref()?;
    let systems = [Some(&ventilation.main), ventilation.second.as_ref()];
    if !systems.into_iter().flatten().any(|system| system.fans.is_some()) {
        return None;
    }
    let steps = steps(&night.history);
    let moving: Vec<&Step> = steps.iter().filter(|step| step.high > 0.0).collect();
    let mut text = match moving[..] {
        [] => "The fans move no air.".to_owned(),
        _ if moving.len() > STEPS_NAMED => {
            let low = moving.iter().map(|step| step.low).fold(f64::MAX, f64::min);
            let high = moving.iter().map(|step| step.high).fold(0.0, f64::max);
            format!("{} reach the glass while the fans turn.", litres(low, high))
        }
        [first, ..] => {
            let named = moving.iter().map(|step| {
                let reach = if std::ptr::eq(*step, first) { " reach the glass" } else { "" };
                format!("{}{reach} {}", litres(step.low, step.high), at_speed(step.speed))
            });
            format!("{}.", named.collect::<Vec<_>>().join(", "))
        }
    };
    text.extend(column(night));
    Some(text)
}

/// One step for each speed, in the order in which they first come.
fn steps(history: &[Record]) -> Vec<Step> {
    let mut steps: Vec<Step> = Vec::new();
    for record in history {
        let (speed, flow) = (record.fan_speed, record.flow.m3_per_s());
        if !(speed.is_finite() && flow.is_finite()) {
            continue;
        }
        match steps.iter_mut().find(|step| (step.speed - speed).abs() < SAME_SPEED) {
            Some(step) => {
                step.low = step.low.min(flow);
                step.high = step.high.max(flow);
            }
            None => steps.push(Step { speed, low: flow, high: flow }),
        }
    }
    steps
}

/// "29 L/s", or "8.1 to 9.3 L/s".
fn litres(low: f64, high: f64) -> String {
    let (low, high) = (plain(1e3 * low), plain(1e3 * high));
    if low == high { format!("{high} L/s") } else { format!("{low} to {high} L/s") }
}

fn at_speed(speed: f64) -> String {
    if (speed - 1.0).abs() < SAME_SPEED {
        return "at full speed".to_owned();
    }
    let share = format!("{speed:.2}");
    format!("at {} of full speed", share.trim_end_matches('0').trim_end_matches('.'))
}

/// How much warmer than the night the air is that rises over the mirror.
fn column(night: &Night) -> Option<String> {
    let at = COLUMNS.iter().position(|column| column.name == "column_excess_k")?;
    let (excess, time) = night.maxima.get(at).copied()?;
    (excess >= NO_EXCESS).then(|| {
        format!(
            " What then rises over the mirror is up to {} K warmer than the night, at {}{}.",
            plain(excess),
            moment(&night.scenario, time),
            once_ready(night, excess).unwrap_or_default()
        )
    })
}

/// The largest excess in the rows from when the mirror is ready, where that is clearly less
/// than the `largest` \[K\].
fn once_ready(night: &Night, largest: f64) -> Option<String> {
    let ready = night.ready_at_s?;
    let later = night.history.iter().filter(|record| record.time_s >= ready);
    let excess = later.map(|record| record.column_excess.kelvins()).fold(f64::NAN, f64::max);
    (excess < 0.9 * largest).then(|| format!(", and {} once the mirror is ready", at_most(excess)))
}

fn at_most(excess: f64) -> String {
    if excess < NO_EXCESS {
        return "no warmer to speak of".to_owned();
    }
    format!("up to {} K", plain(excess))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flow_is_told_with_two_digits_and_a_speed_as_a_share_of_the_full_one() {
        assert_eq!(litres(0.0291, 0.0294), "29 L/s");
        assert_eq!(litres(0.0081, 0.0093), "8.1 to 9.3 L/s");
        assert_eq!(at_speed(0.9999), "at full speed");
        assert_eq!(at_speed(0.5), "at 0.5 of full speed");
        assert_eq!(at_speed(0.333), "at 0.33 of full speed");
    }
}
