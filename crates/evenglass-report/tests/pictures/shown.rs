//! What the pictures of a night show, held against its numbers.

use evenglass_simulation::Night;

use crate::nights::{compared, drawn, flat, interrupted, long, lopsided, never, night, shipped};
use crate::pixels::Pixels;

/// The pictures every night has.
const PICTURES: [&str; 7] = [
    "image.png",
    "good.png",
    "figure.png",
    "surface.png",
    "section.png",
    "temperatures.png",
    "edge-to-centre.png",
];

#[test]
fn every_kind_of_night_has_all_its_pictures() {
    let kinds = vec![
        ("first-night", shipped("first-night")),
        ("plenum", shipped("plenum-610mm")),
        ("truss", shipped("truss-400mm")),
        ("with-hole", shipped("silica-with-hole")),
        ("interrupted", interrupted()),
        ("flat", flat()),
        ("lopsided", lopsided()),
        ("never", never()),
        ("long", long()),
    ];
    for (name, scenario) in kinds {
        let folder = drawn(name, &night(&scenario));
        for picture in PICTURES {
            let pixels = Pixels::read(&folder.join(picture));
            assert!(pixels.width == 1600 && pixels.height > 400, "{name}: {picture}");
        }
    }
}

/// Left edge and width of everything that stands on the clock \[px\].
const CLOCK: (f64, f64) = (120.0, 1210.0);

const BLUE: [u8; 3] = [0x00, 0x72, 0xb2];
const GREEN: [u8; 3] = [0x00, 0x9e, 0x73];
const ORANGE: [u8; 3] = [0xe6, 0x9f, 0x00];

/// Asserts that runs of a colour lie where these stretches \[s\] of a run of that length lie.
fn assert_bars(runs: &[(usize, usize)], stretches: &[(f64, f64)], duration: f64) {
    assert_eq!(runs.len(), stretches.len(), "{runs:?} for {stretches:?}");
    for (run, stretch) in runs.iter().zip(stretches) {
        let column = |seconds: f64| CLOCK.0 + CLOCK.1 * seconds / duration;
        let wanted = (column(stretch.0), column(stretch.1));
        let found = (run.0 as f64, 1.0 + run.1 as f64);
        // The line at the time of readiness covers a pixel and a half, blending another.
        let off = (found.0 - wanted.0).abs().max((found.1 - wanted.1).abs());
        assert!(off < 3.0, "{found:?} for {wanted:?}");
    }
}

#[test]
fn bars_reach_as_far_as_each_criterion_is_met() {
    let night = night(&interrupted());
    assert!(night.good_intervals.len() > 1, "{:?}", night.good_intervals);
    let picture = Pixels::read(&drawn("bars", &night).join("good.png"));
    let duration = night.scenario.night.duration.seconds();
    // Rows are 40 pixels high from 184 down; a bar begins 7 pixels into its row.
    let runs = |row: usize, colour| picture.runs(184 + 40 * row + 9, (120, 1330), colour);
    assert_bars(&runs(0, BLUE), &night.passing[0].stretches, duration);
    let good: Vec<(f64, f64)> = night.good_intervals.iter().map(|i| (i.from_s, i.to_s)).collect();
    assert_bars(&runs(night.passing.len(), GREEN), &good, duration);
}

/// Rows of the highest and lowest pixel of a colour inside the panel of the surface.
fn reach(picture: &Pixels, colour: [u8; 3]) -> f64 {
    let rows = 176..749;
    let shown = |&y: &usize| !picture.runs(y, (121, 1249), colour).is_empty();
    let (first, last) = (rows.clone().find(shown).unwrap(), rows.rev().find(shown).unwrap());
    // A line of 3.2 pixels adds its own width.
    (last - first) as f64 + 1.0 - 3.2
}

#[test]
fn profiles_are_as_high_as_the_table_says() {
    let night = night(&never());
    let picture = Pixels::read(&drawn("profiles", &night).join("surface.png"));
    // Requested times in order: blue at 22:00, orange at 23:00; the run starts at 21:00.
    let told = |seconds: f64| {
        let row = night.history.iter().find(|r| (r.time_s - seconds).abs() < 1.0);
        row.unwrap().image.figure_pv_m
    };
    let (shown, told) =
        (reach(&picture, BLUE) / reach(&picture, ORANGE), told(3600.0) / told(7200.0));
    assert!((shown / told - 1.0).abs() < 0.01, "{shown} in the picture, {told} in the table");
}

/// The three star images begin at these columns and at row 728; the fringes at row 238.
const TILES: [usize; 3] = [120, 574, 1028];

#[test]
fn a_round_mirror_has_round_stars_and_even_fringes() {
    let picture = Pixels::read(&drawn("round", &night(&shipped("first-night"))).join("image.png"));
    let grey = |x: usize, y: usize| i32::from(picture.at(x, y)[0]);
    let mut light = 0;
    for left in TILES {
        // The upper half: the scale bar stands in the lower one.
        for (i, j) in (0..210).flat_map(|i| (0..210).map(move |j| (i, j))) {
            let (x, mirrored) = (left + i, left + 419 - i);
            let (upper, lower) = (728 + j, 728 + 419 - j);
            assert!((grey(x, upper) - grey(mirrored, upper)).abs() < 6, "{left} {i} {j}");
            assert!((grey(mirrored, upper) - grey(mirrored, lower)).abs() < 6, "{left} {i} {j}");
            // At the very edge paper and fringes blend, on one side a shade more.
            let inside = (i as f64 - 209.5).hypot(j as f64 - 209.5) < 207.0;
            let fringes = (grey(x, 238 + j) - grey(mirrored, 238 + j)).abs();
            assert!(!inside || fringes < 6, "fringes {left} {i} {j}: {fringes}");
            light = light.max(grey(x, upper));
        }
    }
    assert!(light > 250, "there are stars: {light}");
}

#[test]
fn the_same_night_gives_the_same_bytes() {
    let night = night(&interrupted());
    let (first, second) = (drawn("once", &night), drawn("twice", &night));
    for picture in PICTURES {
        let bytes = |folder: &std::path::Path| std::fs::read(folder.join(picture)).unwrap();
        assert!(bytes(&first) == bytes(&second), "{picture}");
    }
}

#[test]
fn alternatives_are_compared_by_the_image() {
    let nights = [
        ("bare rim", night(&shipped("bare-rim"))),
        ("insulated rim", night(&shipped("insulated-rim"))),
    ];
    let nights = nights.map(|(name, night)| (name.to_owned(), night));
    let picture = Pixels::read(&compared("rims", &nights));
    // The curves of figure error in their panel: the first blue, the second vermilion.
    let highest = |colour| (186..505).find(|&y| !picture.runs(y, (121, 1219), colour).is_empty());
    let (bare, insulated) = (highest(BLUE).unwrap(), highest([0xd5, 0x5e, 0x00]).unwrap());
    let worst =
        |night: &Night| night.history.iter().fold(0.0, |m, r| f64::max(m, r.image.total_rms_m));
    assert!(worst(&nights[0].1) > worst(&nights[1].1), "insulation helps the figure");
    assert!(bare < insulated, "and its curve stays lower: {bare} {insulated}");
}
