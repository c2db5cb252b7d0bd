//! Weather files: comma-separated readings through a night, turned into tables in SI.
//!
//! The columns and their units are those of the header; values are instants and
//! linear between. Nothing is repaired: a reading that cannot be true, a gap or a
//! missing cell is a fault with its line.

mod header;
mod table;
mod time;

use std::path::Path;

use evenglass_materials::moist_air;
use evenglass_units::Temperature;

use self::header::{Column, Quantity, Unit};
use self::table::{Cell, Text};
use self::time::Times;
use crate::clock::Clock;
use crate::fault::Fault;
use crate::profile::Profile;

/// The weather of one night, against seconds from the start of the run.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Weather {
    /// Air temperature [s → K].
    pub(crate) air: Profile,
    /// Dew point [s → K].
    pub(crate) dew_point: Option<Profile>,
    /// Wind speed [s → m/s].
    pub(crate) wind: Option<Profile>,
    /// Fraction of the sky under cloud [s → 0..1].
    pub(crate) cloud: Option<Profile>,
    /// Air pressure [s → Pa].
    pub(crate) pressure: Option<Profile>,
}

/// Reading stops here: a file with so many faults has one cause.
const MOST_FAULTS: usize = 20;
/// A dew point read this far above the air is rounding, not a fault \[K\].
const DEW_POINT_SLACK: f64 = 0.5;

/// Reads a weather file and cuts it to the night.
///
/// * `shown` — the path as the author wrote it, for messages
/// * `clock` — the local clock at the start of the run
/// * `duration_s` — length of the run \[s\]
///
/// A clock time is taken on the day that makes the file cover the night; so is a
/// date where the run itself has none.
///
/// # Errors
/// All faults found, at most about twenty.
pub(crate) fn read(
    path: &Path,
    shown: &str,
    clock: &Clock,
    duration_s: f64,
) -> Result<Weather, Vec<Fault>> {
    let text = Text::load(path, shown).map_err(|fault| vec![fault])?;
    parse(&text, clock, duration_s)
}

fn parse(text: &Text, clock: &Clock, duration_s: f64) -> Result<Weather, Vec<Fault>> {
    let mut faults = Vec::new();
    let mut columns: Option<Vec<Column>> = None;
    let mut rows: Vec<Vec<f64>> = Vec::new();
    let mut times = Times::new(text, clock);
    text.rows(|cells| {
        let Some(columns) = &columns else {
            match header::read(text, cells) {
                Ok(found) => columns = Some(found),
                Err(found) => faults.extend(found),
            }
            return faults.is_empty();
        };
        match read_row(text, columns, cells, &mut times) {
            Ok(row) => rows.push(row),
            Err(found) => faults.extend(found),
        }
        faults.len() < MOST_FAULTS
    });
    if !faults.is_empty() {
        return Err(faults);
    }
    let Some(columns) = columns else {
        return Err(vec![text.fault(
            "weather::header",
            "the weather file is empty".to_owned(),
            "start it with a line of column names, for example `time,air [degC]`",
            0..0,
        )]);
    };
    let seconds = times.over_the_night(duration_s).map_err(|fault| vec![fault])?;
    Ok(assemble(&columns, &seconds, &rows, duration_s))
}

/// One value in SI per column (0 for `time`), relative humidity as dew point.
fn read_row(
    text: &Text,
    columns: &[Column],
    cells: &[Cell<'_>],
    times: &mut Times<'_>,
) -> Result<Vec<f64>, Vec<Fault>> {
    if cells.len() != columns.len() {
        let span = cells[0].span.start..cells[cells.len() - 1].span.end;
        let help = if cells.len() > columns.len() {
            "write one cell per column, and decimals with a point, not a comma"
        } else {
            "write one cell per column"
        };
        return Err(vec![text.fault(
            "weather::row",
            format!("{} cells in a row under {} columns", cells.len(), columns.len()),
            help,
            span,
        )]);
    }
    let mut faults = Vec::new();
    let mut row = vec![0.0; columns.len()];
    for ((column, cell), value) in columns.iter().zip(cells).zip(&mut row) {
        let read = match column.unit {
            None => times.push(cell).map(|()| 0.0),
            Some(unit) => number(text, column.quantity, unit, cell),
        };
        match read {
            Ok(number) => *value = number,
            Err(fault) => faults.push(fault),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    moisten(text, columns, cells, &mut row).map_err(|fault| vec![fault])?;
    Ok(row)
}

/// Reads one cell and refuses what no night has.
fn number(text: &Text, quantity: Quantity, unit: Unit, cell: &Cell<'_>) -> Result<f64, Fault> {
    let fault = |message: String, help: String| {
        text.fault("weather::value", message, help, cell.span.clone())
    };
    let name = quantity.name();
    if cell.text.is_empty() {
        return Err(fault(
            format!("the cell of `{name}` is empty"),
            "fill it in, take the row out, or take the column out".to_owned(),
        ));
    }
    let written: f64 =
        cell.text.parse().ok().filter(|number: &f64| number.is_finite()).ok_or_else(|| {
            fault(
                format!("`{}` is not a number", cell.text),
                format!("write `{name}` as a bare number; its unit stands in the header"),
            )
        })?;
    let (low, high, range) = limits(quantity);
    let value = unit.to_si(written);
    // A hair of slack, so that a limit written in another unit is inside.
    let slack = 1e-9 * high.abs();
    if value < low - slack || value > high + slack {
        return Err(fault(
            format!("`{name}` of {written}{} is outside {range}", symbol(unit)),
            "check the value and the unit in the header".to_owned(),
        ));
    }
    Ok(value)
}

/// Smallest and largest believable value in SI, and the same in words.
fn limits(quantity: Quantity) -> (f64, f64, &'static str) {
    let celsius = |degrees| Temperature::from_celsius(degrees).kelvin();
    match quantity {
        Quantity::Time => (f64::NEG_INFINITY, f64::INFINITY, "any time"),
        Quantity::Air | Quantity::DewPoint => (celsius(-60.0), celsius(60.0), "-60 to 60 °C"),
        Quantity::RelativeHumidity => (0.001, 1.0, "0.1 to 100 %"),
        Quantity::Wind => (0.0, 60.0, "0 to 60 m/s"),
        Quantity::Cloud => (0.0, 1.0, "0 (clear) to 1, 8 okta or 10 tenths (covered)"),
        Quantity::Pressure => (40_000.0, 110_000.0, "400 to 1100 hPa"),
    }
}

/// The unit as it follows a number in a sentence.
fn symbol(unit: Unit) -> &'static str {
    match unit {
        Unit::DegC => " °C",
        Unit::DegF => " °F",
        Unit::Percent => " %",
        Unit::One => "",
        Unit::MetrePerSecond => " m/s",
        Unit::KmPerHour => " km/h",
        Unit::Mph => " mph",
        Unit::Knot => " kn",
        Unit::Tenths => " tenths",
        Unit::Okta => " okta",
        Unit::HectoPascal => " hPa",
        Unit::InchOfMercury => " inHg",
    }
}

/// Turns a relative humidity into a dew point, and refuses a dew point above the air.
fn moisten(
    text: &Text,
    columns: &[Column],
    cells: &[Cell<'_>],
    row: &mut [f64],
) -> Result<(), Fault> {
    let place = |quantity| columns.iter().position(|column| column.quantity == quantity);
    let Some(air) = place(Quantity::Air).map(|column| row[column]) else { return Ok(()) };
    if let Some(humidity) = place(Quantity::RelativeHumidity) {
        let air = Temperature::from_kelvin(air);
        row[humidity] = moist_air::dew_point(air, row[humidity]).kelvin();
    }
    if let Some(dew) = place(Quantity::DewPoint)
        && row[dew] > air + DEW_POINT_SLACK
    {
        return Err(text.fault(
            "weather::value",
            format!("the dew point is {:.1} K above the air", row[dew] - air),
            "air cannot hold so much water: check both values and their units",
            cells[dew].span.clone(),
        ));
    }
    Ok(())
}

fn assemble(columns: &[Column], seconds: &[f64], rows: &[Vec<f64>], duration_s: f64) -> Weather {
    // From the last reading before the night to the first one after it.
    let from = seconds.partition_point(|&s| s <= 0.0).saturating_sub(1);
    let to = (seconds.partition_point(|&s| s < duration_s) + 1).min(seconds.len());
    let profile = |quantity| {
        let column = columns.iter().position(|column| column.quantity == quantity)?;
        let values = rows[from..to].iter().map(|row| row[column]).collect();
        Some(Profile::new(seconds[from..to].to_vec(), values))
    };
    Weather {
        air: profile(Quantity::Air).expect("a header without `air` has been refused"),
        dew_point: profile(Quantity::DewPoint).or_else(|| profile(Quantity::RelativeHumidity)),
        wind: profile(Quantity::Wind),
        cloud: profile(Quantity::Cloud),
        pressure: profile(Quantity::Pressure),
    }
}

#[cfg(test)]
mod tests {
    use std::fmt::Write as _;
    use std::fs;
    use std::path::PathBuf;
    use std::sync::Arc;

    use approx::assert_abs_diff_eq;
    use jiff::civil::date;

    use super::*;
    use crate::profile::Side;

    const EIGHT_HOURS: f64 = 8.0 * 3600.0;

    fn dated() -> Clock {
        Clock::dated(date(2026, 10, 3).at(20, 0, 0, 0))
    }

    fn undated() -> Clock {
        Clock::undated(date(2000, 1, 1).at(20, 0, 0, 0))
    }

    fn weather(source: &str, clock: &Clock, duration_s: f64) -> Result<Weather, Vec<Fault>> {
        parse(&Text { name: "night.csv".to_owned(), source: Arc::from(source) }, clock, duration_s)
    }

    fn celsius(profile: &Profile, seconds: f64) -> f64 {
        Temperature::from_kelvin(profile.at(seconds, Side::After)).celsius()
    }

    fn folder(name: &str) -> PathBuf {
        PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../..")).join(name)
    }

    fn files(folder: &Path) -> Vec<PathBuf> {
        let mut files: Vec<PathBuf> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .filter(|path| path.extension().is_some_and(|extension| extension == "csv"))
            .collect();
        files.sort();
        files
    }

    /// "line:column text under the caret", fact and remedy of each fault.
    fn report(faults: &[Fault]) -> String {
        let mut report = String::new();
        for fault in faults {
            if let Some(place) = &fault.place {
                let marked = &place.source[place.span.clone()];
                write!(report, "{}:{} at `{marked}`: ", place.line(), place.column()).unwrap();
            }
            writeln!(report, "{}: {}", fault.code, fault.message).unwrap();
            writeln!(report, "  {}", fault.help.as_deref().unwrap()).unwrap();
        }
        report
    }

    /// Each file in `tests/weather_bad` has its messages beside it, read and judged by a person.
    #[test]
    fn every_bad_file_is_refused_with_its_line_fact_and_remedy() {
        let files = files(&folder("tests/weather_bad"));
        assert!(files.len() >= 25, "only {} bad weather files", files.len());
        let mut wrong = String::new();
        for path in files {
            let shown = path.file_name().unwrap().to_str().unwrap();
            let said = match read(&path, shown, &dated(), EIGHT_HOURS) {
                Ok(_) => "accepted\n".to_owned(),
                Err(faults) => report(&faults),
            };
            let wanted = fs::read_to_string(path.with_extension("expected")).unwrap_or_default();
            if said != wanted {
                writeln!(wrong, "{shown}: said\n{said}wanted\n{wanted}").unwrap();
            }
        }
        assert!(wrong.is_empty(), "{wrong}");
    }

    #[test]
    fn every_real_night_reads_and_covers_its_twelve_hours() {
        let files = files(&folder("scenarios/weather"));
        assert!(files.len() >= 3, "only {} nights", files.len());
        for path in files {
            let six = Clock::undated(date(2000, 1, 1).at(18, 0, 0, 0));
            let weather = read(&path, "night", &six, 12.0 * 3600.0)
                .unwrap_or_else(|faults| panic!("{}: {}", path.display(), report(&faults)));
            let fall = celsius(&weather.air, 0.0) - celsius(&weather.air, 12.0 * 3600.0);
            assert!(fall > 3.0, "{} falls only {fall} K", path.display());
        }
    }

    #[test]
    fn all_columns_arrive_in_si() {
        let source = "# my log\ntime,air [degF],dew_point [degC],wind [km/h],cloud [okta],pressure [inHg]\n\
                      0 h, 50 , 4, 36, 8, 29.92\n90 min,32,-4,0,0,29\n";
        let weather = weather(source, &undated(), 5400.0).unwrap();
        assert_abs_diff_eq!(celsius(&weather.air, 0.0), 10.0, epsilon = 1e-9);
        assert_abs_diff_eq!(celsius(&weather.air, 2700.0), 5.0, epsilon = 1e-9);
        assert_abs_diff_eq!(celsius(&weather.dew_point.unwrap(), 5400.0), -4.0, epsilon = 1e-9);
        assert_eq!(weather.wind.unwrap().values(), [10.0, 0.0]);
        assert_eq!(weather.cloud.unwrap().values(), [1.0, 0.0]);
        assert_abs_diff_eq!(
            weather.pressure.unwrap().at(0.0, Side::After),
            101_320.76,
            epsilon = 0.01
        );
    }

    #[test]
    fn columns_that_are_not_there_stay_unknown() {
        let weather = weather("time,air [degC]\n0 h,10\n1 h,9\n", &undated(), 3600.0).unwrap();
        assert_eq!(
            (weather.dew_point, weather.wind, weather.cloud, weather.pressure),
            (None, None, None, None)
        );
    }

    /// Saturated air has its dew point at its own temperature.
    #[test]
    fn a_relative_humidity_becomes_a_dew_point() {
        let source = "time,air [degC],relative_humidity [%]\n0 h,12,100\n1 h,12,50\n";
        let dew = weather(source, &undated(), 3600.0).unwrap().dew_point.unwrap();
        assert_abs_diff_eq!(celsius(&dew, 0.0), 12.0, epsilon = 1e-6);
        let half = celsius(&dew, 3600.0);
        assert!((1.0..3.0).contains(&half), "half the water at 12 °C: dew point {half} °C");
    }

    #[test]
    fn clock_times_go_on_past_midnight() {
        let source = "time,air [degC]\n19:30,12\n22:00,10\n00:30,8\n03:00,6\n05:00,4\n";
        for clock in [dated(), undated()] {
            let weather = weather(source, &clock, EIGHT_HOURS).unwrap();
            assert_eq!(weather.air.positions(), [-1800.0, 7200.0, 16_200.0, 25_200.0, 32_400.0]);
        }
    }

    #[test]
    fn clock_times_of_a_whole_day_find_the_night_in_it() {
        let mut source = "time,air [degC]\n".to_owned();
        for hour in 12..36 {
            writeln!(source, "{:02}:00,{}", hour % 24, 40 - hour).unwrap();
        }
        let weather = weather(&source, &undated(), EIGHT_HOURS).unwrap();
        assert_abs_diff_eq!(celsius(&weather.air, 0.0), 20.0, epsilon = 0.5);
        assert_eq!(weather.air.positions().len(), 9, "cut to the night");
    }

    #[test]
    fn where_a_clock_time_comes_twice_the_missing_stretch_has_its_day() {
        let source = "time,air [degC]\n19:30,12\n22:00,10\n00:30,8\n03:00,6\n05:00,4\n";
        let said = |clock: Clock, hours: f64| weather(source, &clock, hours * 3600.0).unwrap_err();
        let found = said(dated(), 30.0);
        assert_eq!(
            found[0].message,
            "the file runs from 2026-10-03 19:30 to 2026-10-04 05:00; of the night it misses \
             2026-10-04 05:00 to 2026-10-05 02:00"
        );
        let found = said(undated(), 30.0);
        assert!(found[0].message.ends_with("misses 05:00 on day 2 to 02:00 on day 3"), "{found:?}");
        let short = said(undated(), 10.0);
        assert!(short[0].message.ends_with("misses 05:00 to 06:00"), "{short:?}");
    }

    #[test]
    fn dates_are_matched_to_an_undated_run_by_the_time_of_day() {
        let source = "time,air [degC]\n2013-05-26T20:00,12\n2013-05-26T23:00,10\n\
                      2013-05-27 02:00,8\n2013-05-27T04:00:00,6\n";
        let weather = weather(source, &undated(), EIGHT_HOURS).unwrap();
        assert_eq!(weather.air.positions(), [0.0, 10_800.0, 21_600.0, 28_800.0]);
    }

    #[test]
    fn a_dated_run_takes_its_own_night_from_a_long_file() {
        let mut source = "time,air [degC]\n".to_owned();
        for day in 1..6 {
            for hour in 0..24 {
                writeln!(source, "2026-10-{day:02}T{hour:02}:00,{}", day + 10).unwrap();
            }
        }
        let air = weather(&source, &dated(), EIGHT_HOURS).unwrap().air;
        assert_abs_diff_eq!(celsius(&air, 0.0), 13.0, epsilon = 0.5);
        assert_abs_diff_eq!(celsius(&air, EIGHT_HOURS), 14.0, epsilon = 0.5);
    }

    /// Reading must not look at the file from its start for every row.
    #[test]
    fn a_year_of_minutes_is_read_while_one_waits() {
        let mut source = "time,air [degC]\n".to_owned();
        for minute in 0..525_600 {
            writeln!(source, "{minute} min,{}", 10 + minute % 7).unwrap();
        }
        let begun = std::time::Instant::now();
        let air = weather(&source, &undated(), EIGHT_HOURS).unwrap().air;
        assert_eq!(air.positions().len(), 481, "cut to the night");
        let taken = begun.elapsed().as_secs_f64();
        assert!(taken < 20.0, "{taken} s");
    }

    #[test]
    fn a_gap_by_day_does_not_spoil_the_night() {
        let source = "time,air [degC]\n-20 h,9\n-1 h,12\n1 h,11\n";
        assert!(weather(source, &undated(), 3600.0).is_ok());
    }

    #[test]
    fn a_byte_order_mark_and_carriage_returns_are_ignored() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("bom.csv");
        fs::write(&path, "\u{feff}time,air [degC]\r\n0 h,10\r\n1 h,9\r\n").unwrap();
        assert!(read(&path, "bom.csv", &undated(), 3600.0).is_ok());
    }

    #[test]
    fn a_missing_file_a_folder_and_a_huge_file_are_refused() {
        let folder = tempfile::tempdir().unwrap();
        let huge = folder.path().join("huge.csv");
        fs::File::create(&huge).unwrap().set_len(table::LARGEST_FILE + 1).unwrap();
        let said =
            |path: &Path| read(path, "x.csv", &undated(), 3600.0).unwrap_err().remove(0).message;
        assert_eq!(said(&huge), "the weather file `x.csv` is larger than 50 MB");
        assert!(said(folder.path()).starts_with("cannot read the weather file `x.csv`: "));
        let absent = folder.path().join("absent.csv");
        assert!(said(&absent).starts_with("cannot read the weather file `x.csv`: "));
    }

    proptest::proptest! {
        /// Whatever bytes a file holds, reading ends with an answer.
        #[test]
        fn no_text_makes_reading_stop_dead(
            header in "(time,air \\[degC\\](,wind \\[kn\\])?\n)?",
            rest in "[0-9:,T.\"\n\r# ;a-h\u{e9}-]{0,120}",
        ) {
            let _ = weather(&format!("{header}{rest}"), &undated(), 3600.0);
        }
    }
}
