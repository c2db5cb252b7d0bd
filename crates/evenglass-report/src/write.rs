//! Which files each command leaves behind.

use std::fs::File;
use std::io::{self, BufWriter, Write as _};
use std::thread;

use evenglass_simulation::Night;

use crate::canvas::Canvas;
use crate::error::ReportError;
use crate::folder::ResultFolder;
use crate::json::{comparison_json, sizing_json, summary_json, sweep_json};
use crate::plot;
use crate::sizing::SizeReport;
use crate::sweep::SweepTable;
use crate::table;

/// Writes every file of one night and returns their names.
///
/// # Errors
/// If a file cannot be written.
pub fn write_night(folder: &ResultFolder, night: &Night) -> Result<Vec<String>, ReportError> {
    thread::scope(|scope| {
        // The pictures take nearly all the time and do not depend on one another.
        let pictures = [
            scope.spawn(|| picture(folder, "good.png", &plot::good(night))),
            scope.spawn(|| picture(folder, "figure.png", &plot::figure(night))),
            scope.spawn(|| picture(folder, "surface.png", &plot::surface(night))),
            scope.spawn(|| picture(folder, "image.png", &plot::image(night))),
            scope.spawn(|| picture(folder, "edge-to-centre.png", &plot::edge_to_centre(night))),
            scope.spawn(|| picture(folder, "temperatures.png", &plot::temperatures(night))),
            scope.spawn(|| picture(folder, "section.png", &plot::section(night))),
        ];
        let mut names = vec![
            text(folder, "summary.json", &summary_json(night))?,
            file(folder, "history.csv", |out| table::history(night, out))?,
            file(folder, "fields.csv", |out| table::fields(night, out))?,
        ];
        for handle in pictures {
            names.push(handle.join().unwrap_or_else(|bug| std::panic::resume_unwind(bug))?);
        }
        Ok(names)
    })
}

/// Writes every file of a comparison, each night with its label, and returns their names.
///
/// # Errors
/// If a file cannot be written.
pub fn write_comparison(
    folder: &ResultFolder,
    nights: &[(String, Night)],
) -> Result<Vec<String>, ReportError> {
    Ok(vec![
        text(folder, "summary.json", &comparison_json(nights))?,
        file(folder, "compare.csv", |out| table::comparison(nights, out))?,
        picture(folder, "compare.png", &plot::comparison(nights))?,
    ])
}

/// Writes every file of a sweep and returns their names.
///
/// # Errors
/// If a file cannot be written.
pub fn write_sweep(folder: &ResultFolder, sweep: &SweepTable) -> Result<Vec<String>, ReportError> {
    Ok(vec![
        text(folder, "summary.json", &sweep_json(sweep))?,
        file(folder, "sweep.csv", |out| table::sweep(sweep, out))?,
        picture(folder, "sweep.png", &plot::sweep(sweep))?,
    ])
}

/// Writes every file of a sizing and returns their names.
///
/// # Errors
/// If a file cannot be written.
pub fn write_sizing(
    folder: &ResultFolder,
    report: &SizeReport,
) -> Result<Vec<String>, ReportError> {
    let mut names = vec![
        text(folder, "summary.json", &sizing_json(report))?,
        file(folder, "sizing.csv", |out| table::sizing(report, out))?,
        file(folder, "films.csv", |out| table::films(report, out))?,
        picture(folder, "fan-curve.png", &plot::fan_curve(report))?,
        picture(folder, "films.png", &plot::films(report))?,
    ];
    if let Some(sheet) = plot::sheet(report) {
        names.push(picture(folder, "sheet.png", &sheet)?);
    }
    Ok(names)
}

fn text(folder: &ResultFolder, name: &str, text: &str) -> Result<String, ReportError> {
    file(folder, name, |out| out.write_all(text.as_bytes()))
}

fn picture(folder: &ResultFolder, name: &str, picture: &Canvas) -> Result<String, ReportError> {
    file(folder, name, |out| picture.write_png(out))
}

fn file(
    folder: &ResultFolder,
    name: &str,
    content: impl FnOnce(&mut BufWriter<File>) -> io::Result<()>,
) -> Result<String, ReportError> {
    folder.write(name, content)?;
    Ok(name.to_owned())
}
