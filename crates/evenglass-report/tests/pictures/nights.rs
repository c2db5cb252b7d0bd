//! Nights that the pictures are made of.

use std::path::{Path, PathBuf};

use evenglass_report::{ResultFolder, write_comparison, write_night};
use evenglass_simulation::scenario::{Scenario, load, parse};
use evenglass_simulation::{Night, Resolution, simulate};

/// A scenario that comes with the program.
pub(crate) fn shipped(name: &str) -> Scenario {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../scenarios");
    load(&folder.join(name).with_extension("toml"), &[]).unwrap()
}

/// A scenario of three lines of our own.
pub(crate) fn written(title: &str, mirror: &str, rest: &str) -> Scenario {
    let text = format!("title = '{title}'\n[mirror]\n{mirror}\n{rest}");
    match parse("test.toml", &text, Path::new(""), &[]) {
        Ok(scenario) => scenario,
        Err(error) => panic!("{error:?}\n{text}"),
    }
}

/// 406 mm of plain plate glass.
pub(crate) const PLATE: &str =
    "diameter = '406 mm'\nedge_thickness = '41 mm'\nfocal_ratio = 4.5\nglass = 'soda-lime'";

/// A night that gets good and loses it again: quick falls of the air, one fan.
pub(crate) fn interrupted() -> Scenario {
    written(
        "Two falls of the air",
        PLATE,
        "[night]\nstart = '20:00'\nduration = '9 h'\nglass_temperature = '18 degC'\n\
         air = { kind = 'table', time = ['0 h', '4 h', '4.5 h', '9 h'], \
         temperature = ['15 degC', '15 degC', '8 degC', '7 degC'] }\n\
         [back]\nfilm = { kind = 'given', coefficient = '14 W/m2/K' }\n\
         [front]\nfilm = { kind = 'given', coefficient = '8 W/m2/K' }\n\
         [rim]\nfilm = { kind = 'given', coefficient = '8 W/m2/K' }\n\
         [good]\nfigure_rms = '12 nm'\nshimmer = '4 arcsec'\n\
         [output]\ninterval = '5 min'\nfields_at = ['22:00', '00:40', '04:00']",
    )
}

/// A side breeze and a slot that blows unevenly: the mirror cools lopsidedly.
pub(crate) fn lopsided() -> Scenario {
    written(
        "An uneven slot",
        PLATE,
        "[night]\nstart = '20:00'\nduration = '6 h'\nglass_temperature = '20 degC'\n\
         air = { kind = 'falling', from = '16 degC', rate = '-1.2 K/h', floor = '10 degC' }\n\
         [front]\nfilm = { kind = 'given', coefficient = '12 W/m2/K' }\n\
         uneven = [{ harmonic = 1, amplitude = 0.25, angle = '90 deg' }, \
         { harmonic = 2, amplitude = 0.3, angle = '20 deg' }, \
         { harmonic = 3, amplitude = 0.1, angle = '0 deg' }]\n\
         [telescope]\nform = 'truss'\nclearance = '20 mm'\nlength = '300 mm'\n\
         wall = { material = 'plywood', thickness = '12 mm' }\nsecondary = { diameter = '80 mm', distance = '1.5 m' }\n\
         [output]\nfields_at = ['21:30', '02:00']",
    )
}

/// A flat in a quiet room.
pub(crate) fn flat() -> Scenario {
    written(
        "A flat of 200 mm",
        "diameter = '200 mm'\nedge_thickness = '32 mm'\nglass = 'borosilicate'",
        "[night]\nstart = '19:00'\nduration = '6 h'\nglass_temperature = '21 degC'\n\
         air = { kind = 'falling', from = '17 degC', rate = '-0.8 K/h', floor = '13 degC' }",
    )
}

/// A thick blank that never gets good in time.
pub(crate) fn never() -> Scenario {
    written(
        "A thick blank, no fan",
        "diameter = '500 mm'\nedge_thickness = '90 mm'\nfocal_ratio = 3.6\nglass = 'soda-lime'",
        "[night]\nstart = '21:00'\nduration = '5 h'\nglass_temperature = '24 degC'\n\
         air = { kind = 'falling', from = '12 degC', rate = '-2 K/h', floor = '2 degC' }\n\
         fan_speed = 1.0\n[[event]]\nat = '22:00'\ncover = 'on'\n[[event]]\nat = '22:10'\ncover = 'off'\n\
         [[event]]\nat = '22:20'\ncover = 'vented'\n[[event]]\nat = '22:30'\ncover = 'off'\n\
         [good]\nfront_minus_air = '0.5 K'\n\
         [output]\nfields_at = ['22:00', '23:00', '00:00', '01:00', '02:00']",
    )
}

/// Three days and nights.
pub(crate) fn long() -> Scenario {
    written(
        "Three nights in a row",
        PLATE,
        "[night]\nstart = '18:30'\ndate = '2026-10-30'\nduration = '72 h'\nglass_temperature = '20 degC'\n\
         air = { kind = 'table', time = ['0 h', '10 h', '20 h', '34 h', '44 h', '58 h', '72 h'], \
         temperature = ['18 degC', '5 degC', '16 degC', '2 degC', '14 degC', '-3 degC', '9 degC'] }\n\
         [good]\nfigure_rms = '6 nm'\nfront_minus_air = '0.8 K'",
    )
}

/// The night of a scenario.
pub(crate) fn night(scenario: &Scenario) -> Night {
    simulate(scenario, &Resolution::default()).unwrap()
}

/// Writes a comparison and returns its picture.
pub(crate) fn compared(name: &str, nights: &[(String, Night)]) -> PathBuf {
    let target = Path::new(env!("CARGO_TARGET_TMPDIR")).join("nights").join(name);
    let folder = ResultFolder::prepare(&target).unwrap();
    write_comparison(&folder, nights).unwrap();
    folder.commit().unwrap();
    target.join("compare.png")
}

/// Writes a night's files and returns their folder.
pub(crate) fn drawn(name: &str, night: &Night) -> PathBuf {
    let target = Path::new(env!("CARGO_TARGET_TMPDIR")).join("nights").join(name);
    let folder = ResultFolder::prepare(&target).unwrap();
    write_night(&folder, night).unwrap();
    folder.commit().unwrap();
    target
}
