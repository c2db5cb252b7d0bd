//! What must be met for a good image, measured row by row.

use evenglass_simulation::Night;
use evenglass_simulation::result::{Criterion, Record};
use evenglass_units::TemperatureDifference;

use crate::wording::{nanometres, plain, two_digits};

/// Value and limit of a criterion, in SI but for seconds of arc; a margin, which must be large,
/// with the other sign.
pub(crate) fn measured(night: &Night, criterion: Criterion, row: &Record) -> (f64, f64) {
    let good = &night.scenario.good;
    match criterion {
        Criterion::Figure => (row.image.total_rms_m, good.figure_rms.metres()),
        Criterion::Shimmer => (row.image.seeing.value, good.shimmer_arcsec),
        Criterion::Dew => {
            let margins = [row.dew_margin_primary, row.dew_margin_secondary];
            let margin = margins.map(TemperatureDifference::kelvins).into_iter();
            (-margin.fold(f64::NAN, f64::min), -good.dew_margin.kelvins())
        }
        Criterion::FrontMinusAir => {
            let limit = good.front_minus_air.map_or(f64::INFINITY, TemperatureDifference::kelvins);
            (row.front_minus_air.kelvins().abs(), limit)
        }
    }
}

/// The largest value over its limit [-]; infinite where one is not known.
pub(crate) fn worst(night: &Night, row: &Record) -> f64 {
    let ratio = |criterion| {
        let (value, limit) = measured(night, criterion, row);
        let ratio = match criterion {
            // 1 at the limit, more the smaller the margin.
            Criterion::Dew => 1.0 + (value - limit) / limit.abs().max(0.1),
            _ => value / limit,
        };
        Some(ratio).filter(|ratio| !ratio.is_nan()).unwrap_or(f64::INFINITY)
    };
    let all = night.passing.iter().map(|passing| ratio(passing.criterion));
    all.reduce(f64::max).unwrap_or(f64::INFINITY)
}

/// Mean of a value over the rows of the second half of the run; NaN where it is not known.
pub(crate) fn late_mean(night: &Night, value: impl Fn(&Record) -> f64) -> f64 {
    mean_from(night, 0.5 * night.scenario.night.duration.seconds(), value)
}

/// Mean of a value over the rows from a time \[s\] on; NaN where it is not known.
pub(crate) fn mean_from(night: &Night, seconds: f64, value: impl Fn(&Record) -> f64) -> f64 {
    let late = night.history.iter().filter(|row| row.time_s >= seconds);
    let (sum, count) = late.fold((0.0, 0.0), |(sum, count), row| (sum + value(row), count + 1.0));
    sum / count
}

/// A value of a criterion with its unit: "24 nm RMS".
pub(crate) fn with_unit(criterion: Criterion, value: f64) -> String {
    match criterion {
        Criterion::Figure => format!("{} RMS", nanometres(value)),
        Criterion::Shimmer => format!("{} arcsec", plain(two_digits(value))),
        Criterion::Dew => format!("{} K", plain(two_digits(-value))),
        Criterion::FrontMinusAir => format!("{} K", plain(value)),
    }
}

/// What a criterion limits, as a noun.
pub(crate) fn noun(criterion: Criterion) -> &'static str {
    match criterion {
        Criterion::Figure => "figure",
        Criterion::Shimmer => "shimmer",
        Criterion::Dew => "dew",
        Criterion::FrontMinusAir => "front minus air",
    }
}
