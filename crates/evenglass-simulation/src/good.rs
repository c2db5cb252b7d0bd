//! When the image is good, found to a fraction of a second, whatever the output interval.

use evenglass_scenario::Scenario;
use evenglass_units::TemperatureDifference;

use crate::result::{Criterion, Ending, GoodInterval, Passing, Record};

/// To what a change is found \[s\].
const CLOSE_ENOUGH: f64 = 0.05;

/// Readings taken for it at most.
const MOST_READINGS: usize = 40;

/// Follows every criterion through the night.
#[derive(Debug)]
pub(crate) struct GoodTracker {
    held_for: f64,
    criteria: Vec<Course>,
}

/// One criterion through the night.
#[derive(Debug)]
struct Course {
    criterion: Criterion,
    limit: f64,
    met_since: Option<f64>,
    stretches: Vec<(f64, f64)>,
}

impl GoodTracker {
    pub(crate) fn new(scenario: &Scenario) -> Self {
        let good = &scenario.good;
        let mut limits = vec![
            (Criterion::Figure, good.figure_rms.metres()),
            (Criterion::Shimmer, good.shimmer_arcsec),
        ];
        if scenario.night.dew_point.is_some() {
            limits.push((Criterion::Dew, good.dew_margin.kelvins()));
        }
        limits.extend(good.front_minus_air.map(|k| (Criterion::FrontMinusAir, k.kelvins())));
        let course =
            |(criterion, limit)| Course { criterion, limit, met_since: None, stretches: vec![] };
        Self {
            held_for: good.held_for.seconds(),
            criteria: limits.into_iter().map(course).collect(),
        }
    }

    /// Follows a step of which `records` are the readings at its start, within it and at its
    /// end, in order; `read` takes another one. Returns when a criterion came to be met.
    pub(crate) fn follow(
        &mut self,
        records: [&Record; 4],
        mut read: impl FnMut(f64) -> Record,
    ) -> Vec<f64> {
        let mut met_from = vec![];
        for course in &mut self.criteria {
            // Where something jumped between the steps it changed there.
            let start = records[0];
            if course.update(start.time_s, course.margin(start) >= 0.0) {
                met_from.push(start.time_s);
            }
            for pair in records.windows(2) {
                let met = course.margin(pair[1]) >= 0.0;
                if met != course.met_since.is_some() {
                    let margin = |time| course.margin(&read(time));
                    let ends =
                        [pair[0], pair[1]].map(|record| (record.time_s, course.margin(record)));
                    let time = crossing(ends, margin);
                    if course.update(time, met) {
                        met_from.push(time);
                    }
                }
            }
        }
        met_from
    }

    /// Good stretches of a run that ends at a time \[s\], and those of each criterion alone.
    pub(crate) fn finish(self, end: f64) -> (Vec<GoodInterval>, Vec<Passing>) {
        let passing: Vec<Passing> = self
            .criteria
            .into_iter()
            .map(|mut course| {
                course.update(end, false);
                Passing { criterion: course.criterion, stretches: course.stretches }
            })
            .collect();
        let good = common(&passing).into_iter().filter(|(from, to)| to - from >= self.held_for);
        let intervals = good.map(|(from_s, to_s)| GoodInterval {
            from_s,
            to_s,
            ended_by: missed(&passing, to_s, end),
            begun_by: met_last(&passing, from_s),
        });
        (intervals.collect(), passing)
    }
}

impl Course {
    /// By how much the criterion is met, in its own unit; below zero or NaN if it is not.
    fn margin(&self, record: &Record) -> f64 {
        let value = match self.criterion {
            Criterion::Figure => record.image.total_rms_m,
            Criterion::Shimmer => record.image.seeing.value,
            Criterion::FrontMinusAir => record.front_minus_air.kelvins().abs(),
            Criterion::Dew => {
                // Without a secondary its margin is not a number, and the smaller one is the other.
                let margins = [record.dew_margin_primary, record.dew_margin_secondary];
                return margins
                    .map(TemperatureDifference::kelvins)
                    .into_iter()
                    .fold(f64::NAN, f64::min)
                    - self.limit;
            }
        };
        self.limit - value
    }

    /// Notes whether it is met from a time on; returns whether it has just come to be.
    fn update(&mut self, time: f64, met: bool) -> bool {
        match (self.met_since, met) {
            (None, true) => {
                self.met_since = Some(time);
                true
            }
            (Some(since), false) => {
                if time > since {
                    self.stretches.push((since, time));
                }
                self.met_since = None;
                false
            }
            _ => false,
        }
    }
}

/// Where a margin changes sign between two (time \[s\], margin), by false position with the
/// weight of an end that stays halved.
fn crossing([mut low, mut high]: [(f64, f64); 2], mut margin: impl FnMut(f64) -> f64) -> f64 {
    let rises = high.1 >= 0.0;
    let mut stayed = None;
    for _ in 0..MOST_READINGS {
        if high.0 - low.0 <= CLOSE_ENOUGH {
            break;
        }
        let share = low.1 / (low.1 - high.1);
        let share = if share.is_finite() { share.clamp(0.01, 0.99) } else { 0.5 };
        let time = low.0 + share * (high.0 - low.0);
        let here = margin(time);
        if (here >= 0.0) == rises {
            high = (time, here);
            if stayed == Some(false) {
                low.1 *= 0.5;
            }
            stayed = Some(false);
        } else {
            low = (time, here);
            if stayed == Some(true) {
                high.1 *= 0.5;
            }
            stayed = Some(true);
        }
    }
    0.5 * (low.0 + high.0)
}

/// Where all are met.
fn common(passing: &[Passing]) -> Vec<(f64, f64)> {
    let all = vec![(0.0, f64::INFINITY)];
    passing.iter().fold(all, |so_far, next| {
        let both = |&(from, to): &(f64, f64)| {
            let met = next.stretches.iter();
            let parts = met.map(move |stretch| (stretch.0.max(from), stretch.1.min(to)));
            parts.filter(|part| part.1 > part.0).collect::<Vec<_>>()
        };
        so_far.iter().flat_map(both).collect()
    })
}

fn missed(passing: &[Passing], at: f64, end: f64) -> Ending {
    let ended = |passing: &&Passing| {
        passing.stretches.iter().any(|stretch| stretch.1.total_cmp(&at).is_eq())
    };
    match passing.iter().find(ended) {
        Some(passing) if at < end => Ending::Missed(passing.criterion),
        _ => Ending::EndOfRun,
    }
}

fn met_last(passing: &[Passing], at: f64) -> Option<Criterion> {
    let begun = |passing: &&Passing| {
        passing.stretches.iter().any(|stretch| stretch.0.total_cmp(&at).is_eq())
    };
    passing.iter().find(begun).filter(|_| at > 0.0).map(|passing| passing.criterion)
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;

    #[test]
    fn a_crossing_is_found_whichever_way_and_however_bent() {
        for sign in [1.0, -1.0] {
            let margin = |time: f64| sign * ((time / 1000.0).powi(7) - 0.5);
            let ends = [0.0, 1000.0].map(|time| (time, margin(time)));
            let exact = 1000.0 * 0.5_f64.powf(1.0 / 7.0);
            assert_abs_diff_eq!(crossing(ends, margin), exact, epsilon = CLOSE_ENOUGH);
        }
    }

    #[test]
    fn a_jump_is_found_too() {
        let margin = |time: f64| if time < 123.0 { f64::NAN } else { 2.0 };
        let ends = [0.0, 1000.0].map(|time| (time, margin(time)));
        assert_abs_diff_eq!(crossing(ends, margin), 123.0, epsilon = CLOSE_ENOUGH);
    }

    #[test]
    fn an_interval_knows_what_it_waited_for_and_what_ended_it() {
        let passing = [
            Passing {
                criterion: Criterion::Figure,
                stretches: vec![(100.0, 500.0), (700.0, 900.0)],
            },
            Passing {
                criterion: Criterion::Shimmer,
                stretches: vec![(0.0, 400.0), (450.0, 900.0)],
            },
        ];
        let good = common(&passing);
        assert_eq!(good, [(100.0, 400.0), (450.0, 500.0), (700.0, 900.0)]);
        assert_eq!(met_last(&passing, 100.0), Some(Criterion::Figure));
        assert_eq!(met_last(&passing, 450.0), Some(Criterion::Shimmer));
        assert_eq!(missed(&passing, 400.0, 900.0), Ending::Missed(Criterion::Shimmer));
        assert_eq!(missed(&passing, 500.0, 900.0), Ending::Missed(Criterion::Figure));
        assert_eq!(missed(&passing, 900.0, 900.0), Ending::EndOfRun);
    }
}
