//! The CSV files: names, order, digits, and that the numbers are the night's.

use std::fs;
use std::path::Path;

use evenglass_report::{
    Axis, Outcome, ResultFolder, SweepTable, write_comparison, write_night, write_sweep,
};
use evenglass_simulation::result::COLUMNS;

use crate::toy::Toy;

/// Header and rows of a table in a folder that has been written.
fn table(folder: &ResultFolder, name: &str) -> (Vec<String>, Vec<Vec<String>>) {
    let mut reader = csv::Reader::from_path(folder.path().join(name)).unwrap();
    let header = reader.headers().unwrap().iter().map(str::to_owned).collect();
    let rows = reader.records().map(|r| r.unwrap().iter().map(str::to_owned).collect()).collect();
    (header, rows)
}

fn folder(dir: &Path) -> ResultFolder {
    ResultFolder::prepare(&dir.join("out")).unwrap()
}

#[test]
fn the_history_has_the_contracted_columns_and_seven_digits() {
    let dir = tempfile::tempdir().unwrap();
    let night = Toy::default().night();
    let folder = folder(dir.path());
    write_night(&folder, &night).unwrap();
    let (header, rows) = table(&folder, "history.csv");
    assert_eq!(
        header.join(","),
        "time_s,clock,air_c,front_centre_c,front_edge_c,mid_centre_c,mid_edge_c,back_centre_c,\
         back_edge_c,mean_c,edge_minus_centre_k,front_edge_minus_centre_k,spread_k,\
         front_minus_air_k,heat_lost_j,defocus_nm,focus_shift_um,refocus_minutes,figure_pv_nm,\
         figure_rms_nm,spherical_nm,correction_percent,coma_nm,astigmatism_nm,trefoil_nm,strehl,\
         seeing_arcsec,fan_speed,flow_l_s,column_excess_k,dew_margin_primary_k,dew_margin_secondary_k,good,wall_c,tube_focus_um,good_aperture_mm,secondary_c"
    );
    let good = header.iter().position(|name| name == "good").unwrap();
    assert_eq!(rows.len(), night.history.len());
    assert_eq!(rows[1][..2], ["300", "20:05:00"]);
    for (row, record) in rows.iter().zip(&night.history) {
        assert_eq!(row[good], record.good.to_string());
        let numbers = row.iter().enumerate().filter(|(i, _)| *i != 1 && *i != good);
        let numbers = numbers.map(|(_, cell)| cell);
        for (cell, column) in numbers.zip(COLUMNS) {
            let meant = (column.value)(record);
            if !meant.is_finite() {
                assert!(cell.is_empty(), "no {}, no number: {cell}", column.name);
                continue;
            }
            let read: f64 = cell.parse().unwrap();
            // Half a unit in the tenth digit.
            assert!((read - meant).abs() <= 5e-10 * meant.abs(), "{}: {read} {meant}", column.name);
        }
    }
}

#[test]
fn the_fields_hold_every_point() {
    let dir = tempfile::tempdir().unwrap();
    let night = Toy::default().night();
    let folder = folder(dir.path());
    write_night(&folder, &night).unwrap();
    let (header, rows) = table(&folder, "fields.csv");
    assert_eq!(header, ["time_s", "r_m", "z_m", "temperature_c"]);
    let points: usize = night.fields.iter().map(|f| f.temperature_k.len()).sum();
    assert_eq!(rows.len(), points);
    let (radial, axial) = night.points.height_m.dim();
    let last: Vec<f64> = rows[radial * axial - 1].iter().map(|c| c.parse().unwrap()).collect();
    let kelvin = night.fields[0].temperature_k[[radial - 1, axial - 1]];
    assert!((last[1] - 0.203).abs() < 1e-12 && (last[2] - 0.041).abs() < 1e-12, "{last:?}");
    assert!((last[3] + 273.15 - kelvin).abs() < 1e-7, "{last:?} {kelvin}");
}

#[test]
fn a_comparison_has_a_row_per_alternative_and_quotes_what_needs_it() {
    let dir = tempfile::tempdir().unwrap();
    let folder = folder(dir.path());
    let nights = [
        ("a, \"quoted\"".to_owned(), Toy::default().night()),
        ("never".to_owned(), Toy { follow_h: 9.0, ..Toy::default() }.night()),
    ];
    write_comparison(&folder, &nights).unwrap();
    let (header, rows) = table(&folder, "compare.csv");
    assert_eq!(header[..4], ["alternative", "good_hours", "ready_at", "end.air_c"]);
    assert_eq!(header.len(), 3 + 3 * 34, "end, min and max of 34 columns");
    assert_eq!(rows[0][0], "a, \"quoted\"");
    assert_eq!(rows[0][2], "01:00");
    assert_eq!(rows[1][1..3], ["0", ""]);
    let spread = header.iter().position(|h| h == "max.spread_k").unwrap();
    let column = COLUMNS.iter().position(|c| c.name == "spread_k").unwrap();
    let read: f64 = rows[0][spread].parse().unwrap();
    assert!((read - nights[0].1.maxima[column].0).abs() < 1e-9, "{read}");
}

#[test]
fn a_sweep_has_its_keys_first_and_its_failures_last() {
    let dir = tempfile::tempdir().unwrap();
    let outcome = Outcome::from(&Toy::default().night());
    let axis = |key: &str, values: &[&str]| Axis {
        key: key.to_owned(),
        values: values.iter().map(|&v| v.to_owned()).collect(),
    };
    let mut sweep = SweepTable {
        axes: vec![axis("mirror.glass", &["soda-lime", "borosilicate"]), axis("x", &["1", "2"])],
        rows: vec![Ok(outcome); 4],
    };
    let clean = folder(dir.path());
    write_sweep(&clean, &sweep).unwrap();
    let (header, rows) = table(&clean, "sweep.csv");
    assert_eq!(header[..4], ["mirror.glass", "x", "good_hours", "ready_at"]);
    assert_eq!(header[header.len() - 1], "max.secondary_c");
    assert_eq!(rows[2][..2], ["borosilicate", "1"]);

    sweep.rows[1] = Err("too thick".to_owned());
    let failed = ResultFolder::prepare(&dir.path().join("failed")).unwrap();
    write_sweep(&failed, &sweep).unwrap();
    let (header, rows) = table(&failed, "sweep.csv");
    assert_eq!(header[header.len() - 1], "error");
    assert_eq!(rows[1][2], "");
    assert_eq!(rows[1][header.len() - 1], "too thick");
}

#[test]
fn the_same_night_gives_the_same_bytes() {
    let dir = tempfile::tempdir().unwrap();
    let night = Toy::default().night();
    let (a, b) = (dir.path().join("a"), dir.path().join("b"));
    let mut names = Vec::new();
    for path in [&a, &b] {
        let folder = ResultFolder::prepare(path).unwrap();
        names = write_night(&folder, &night).unwrap();
        folder.commit().unwrap();
    }
    assert_eq!(names.len(), 10);
    for name in names {
        assert!(fs::read(a.join(&name)).unwrap() == fs::read(b.join(&name)).unwrap(), "{name}");
    }
}
