//! Signs of the image, and where it is known without a solver.

use std::path::Path;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use evenglass_disc::Resolution;
use evenglass_simulation::image::Image;
use evenglass_simulation::result::{COLUMNS, Record};
use evenglass_simulation::scenario::parse;
use evenglass_simulation::scenario::scenario::Harmonic;
use evenglass_simulation::{Night, simulate};
use evenglass_units::{Conductivity, Expansion, Pressure, Temperature};

use crate::bending;
use crate::case::Case;
use crate::even;

const RADIUS: f64 = 0.2;
const FOCAL_LENGTH: f64 = 2.0;

/// 400 x 50 mm, f/5, bare all round.
fn bare() -> Case {
    Case {
        focal_ratio: Some(5.0),
        start_c: 20.0,
        air: vec![(0.0, 10.0)],
        front: even(10.0),
        back: even(10.0),
        rim: even(10.0),
        duration_s: 7200.0,
        ..Case::flat()
    }
}

fn night(case: &Case) -> Night {
    simulate(&bending(case), &Resolution::default()).unwrap()
}

/// From five minutes after the start on.
fn settled(night: &Night) -> impl Iterator<Item = &Record> {
    let rows = night.history.iter().filter(|row| row.time_s >= 300.0);
    assert!(rows.clone().count() > 3, "a night has rows");
    rows
}

fn at_an_hour(night: &Night) -> &Image {
    let row = night.history.iter().find(|row| (row.time_s - 3600.0).abs() < 1e-6);
    &row.expect("a row at an hour").image
}

#[test]
fn a_bare_mirror_over_corrects_while_it_cools_and_under_corrects_while_it_warms() {
    let cooling = night(&bare());
    let warming = night(&Case { start_c: 0.0, ..bare() });
    for (cools, warms) in settled(&cooling).zip(settled(&warming)) {
        assert!(cools.image.correction > 0.03, "{} at {} s", cools.image.correction, cools.time_s);
        // Constant properties: the one night is the other with all signs turned.
        let pairs = [
            (cools.image.correction, warms.image.correction),
            (cools.image.defocus_m, warms.image.defocus_m),
            (cools.image.spherical_m, warms.image.spherical_m),
            (cools.image.focus_shift_m, warms.image.focus_shift_m),
            (cools.image.figure_rms_m, -warms.image.figure_rms_m),
            (cools.image.figure_pv_m, -warms.image.figure_pv_m),
        ];
        for (down, up) in pairs {
            assert_relative_eq!(down, -up, max_relative = 1e-6);
        }
    }
}

/// A warm front bulges, and the focus moves away; thin plates bend by α ΔT/t, and so the
/// focus moves by α ΔT R²/(2t) = 1.44 mm per kelvin (`docs/physics/image.md`, eq. I-8). A
/// ΔT that is not linear through the glass bends it by its moment, within a fifth of this.
#[test]
fn a_front_warmer_than_the_back_moves_the_focus_away() {
    let faces = |front: f64, back: f64| {
        night(&Case { front: even(front), back: even(back), rim: even(0.0), ..bare() })
    };
    let (warm, even, cold) = (faces(5.0, 15.0), faces(10.0, 10.0), faces(15.0, 5.0));
    for ((warm, even), cold) in settled(&warm).zip(settled(&even)).zip(settled(&cold)) {
        let more = warm.image.focus_shift_m - even.image.focus_shift_m;
        let less = even.image.focus_shift_m - cold.image.focus_shift_m;
        assert!(more > 0.0 && less > 0.0, "{more} m and {less} m at {} s", warm.time_s);
        let kelvins = (warm.front_centre - warm.back_centre).kelvins();
        let radius_of_curvature: f64 = 2.0 * FOCAL_LENGTH;
        let thin = 9e-6 * kelvins * radius_of_curvature.powi(2) / (2.0 * 0.05);
        assert!((0.8..1.25).contains(&(more / thin)), "{more} m, thin {thin} m");
    }
}

/// Poles as cold as the night: a focuser that comes nearer leaves the image farther out.
#[test]
fn a_tube_that_shortens_moves_the_focus_out_by_expansion_times_focal_length() {
    const SCENARIO: &str = r#"
        [mirror]
        diameter = "400 mm"
        edge_thickness = "50 mm"
        focal_ratio = 5
        glass = "soda-lime"
        [night]
        start = "20:00"
        duration = "2 h"
        glass_temperature = "20 degC"
        air = { kind = "falling", from = "20 degC", rate = "-3 K/h" }
        [telescope]
        form = "truss"
        expansion = "23e-6 /K"
        clearance = "15 mm"
        length = "100 mm"
        behind = "60 mm"
    "#;
    let scenario = parse("tube.toml", SCENARIO, Path::new(""), &[])
        .unwrap_or_else(|error| panic!("{:?}", error.faults));
    let night = simulate(&scenario, &Resolution::default()).unwrap();
    for row in &night.history {
        let fallen = 3.0 * row.time_s / 3600.0;
        let expected = 23e-6 * FOCAL_LENGTH * fallen;
        assert_abs_diff_eq!(row.image.tube_focus_m, expected, epsilon = 1e-12);
    }
}

/// 20 K colder than when it was polished, and as warm as its air: nearer by α ΔT f, exactly
/// (`docs/physics/image.md` after eq. I-8), and of perfect figure.
#[test]
fn even_glass_at_another_temperature_only_changes_its_focus() {
    for (focal_ratio, hole_m) in [(3.0, None), (5.0, None), (5.0, Some(0.08))] {
        let mut scenario = bending(&Case {
            focal_ratio: Some(focal_ratio),
            hole_m,
            start_c: 0.0,
            air: vec![(0.0, 0.0)],
            ..bare()
        });
        scenario.night.stress_free_temperature = Temperature::from_celsius(20.0);
        let night = simulate(&scenario, &Resolution::default()).unwrap();
        for row in &night.history {
            let image = &row.image;
            let expected = 9e-6 * -20.0 * focal_ratio * 2.0 * RADIUS;
            assert_relative_eq!(image.focus_shift_m, expected, max_relative = 1e-8);
            for left in [image.figure_rms_m, image.figure_pv_m, image.spherical_m] {
                assert!(left.abs() < 1e-15, "{left} m at f/{focal_ratio}, hole {hole_m:?}");
            }
            assert_abs_diff_eq!(image.correction, 0.0, epsilon = 1e-8);
            // The wave is refocused by r², of which r²/(1 + z′²) is the exact form: at f/3 and
            // 20 K the rest is 1.6 nm RMS.
            assert!(image.phase_variance < 4e-4, "{} rad²", image.phase_variance);
        }
    }
}

#[test]
fn equal_films_and_a_sealed_rim_leave_little_of_the_figure_of_a_bare_one() {
    let (sealed, bare) = (night(&Case { rim: even(0.0), ..bare() }), night(&bare()));
    let (sealed, bare) = (at_an_hour(&sealed), at_an_hour(&bare));
    assert!(sealed.figure_rms_m < 0.25 * bare.figure_rms_m, "{sealed:?}\n{bare:?}");
    assert!(sealed.spherical_m.abs() < 0.05 * bare.spherical_m.abs(), "{sealed:?}\n{bare:?}");
}

/// Columns of the image that are lengths of the surface, or follow from one.
const PROPORTIONAL: [&str; 6] = [
    "defocus_nm",
    "focus_shift_um",
    "figure_pv_nm",
    "figure_rms_nm",
    "spherical_nm",
    "correction_percent",
];

fn column(name: &str) -> fn(&Record) -> f64 {
    COLUMNS.iter().find(|column| column.name == name).expect("a column of the history").value
}

#[test]
fn the_figure_is_proportional_to_expansion_and_nothing_without() {
    let with = |per_kelvin: f64| {
        let mut scenario = bending(&bare());
        scenario.mirror.glass.expansion = Expansion::from_per_kelvin(per_kelvin);
        simulate(&scenario, &Resolution::default()).unwrap()
    };
    let (usual, double, none) = (with(4e-6), with(8e-6), with(0.0));
    for (row, usual) in usual.history.iter().enumerate() {
        for name in PROPORTIONAL {
            let of = |night: &Night| column(name)(&night.history[row]);
            let once = column(name)(usual);
            assert_relative_eq!(of(&double), 2.0 * once, max_relative = 1e-12, epsilon = 1e-12);
            assert!(of(&none) == 0.0, "{name}: {} without expansion", of(&none));
        }
        assert!(none.history[row].image.phase_variance == 0.0, "a perfect wave");
    }
}

#[test]
fn youngs_modulus_does_not_matter_and_poissons_ratio_little() {
    let with = |youngs_modulus: f64, poisson_ratio: f64| {
        let mut scenario = bending(&bare());
        scenario.mirror.glass.youngs_modulus = Pressure::from_pascals(youngs_modulus);
        scenario.mirror.glass.poisson_ratio = poisson_ratio;
        simulate(&scenario, &Resolution::default()).unwrap().history
    };
    let usual = with(7e10, 0.22);
    let soft = with(1e9, 0.22);
    for (a, b) in usual.iter().zip(&soft) {
        assert_eq!(format!("{a:?}"), format!("{b:?}"), "to the last bit");
    }
    // Thickness grows with 1 + ν, bending by a gradient not at all.
    for (a, b) in usual.iter().zip(&with(7e10, 0.17)).filter(|(row, _)| row.time_s >= 300.0) {
        let share = b.image.figure_rms_m / a.image.figure_rms_m;
        assert!((0.93..0.995).contains(&share), "{share} at {} s", a.time_s);
    }
}

#[test]
fn a_flat_has_a_figure_but_neither_focus_nor_correction() {
    let night = night(&Case { focal_ratio: None, ..bare() });
    for row in settled(&night) {
        let image = &row.image;
        for undefined in [image.focus_shift_m, image.refocus_s, image.correction] {
            assert!(undefined.is_nan(), "{image:?}");
        }
        for defined in [image.defocus_m, image.spherical_m, image.figure_rms_m] {
            assert!(defined.abs() > 1e-10, "{image:?}");
        }
    }
}

#[test]
fn glass_that_conducts_better_bends_less() {
    let figures = [0.5, 1.0, 2.0, 5.0, 20.0, 400.0].map(|conductivity| {
        let mut scenario = bending(&bare());
        scenario.mirror.glass.conductivity = Conductivity::from_w_per_m_k(conductivity);
        let night = simulate(&scenario, &Resolution::default()).unwrap();
        at_an_hour(&night).figure_rms_m
    });
    for pair in figures.windows(2) {
        assert!(pair[1] < pair[0], "{figures:?} m");
    }
    // Bi = 0.0013: one temperature, but for a thousandth of what it lost.
    assert!(figures[5] < 0.01 * figures[1], "{figures:?} m");
}

/// Every order of films that vary around the axis.
fn lopsided() -> Night {
    let mut scenario = bending(&bare());
    scenario.back.uneven = (1..=4)
        .map(|harmonic| Harmonic { harmonic, amplitude: 0.2, angle: 0.3 * f64::from(harmonic) })
        .collect();
    simulate(&scenario, &Resolution::default()).unwrap()
}

#[test]
fn sizes_of_a_figure_stand_in_their_order() {
    let (even, lopsided) = (night(&bare()), lopsided());
    for row in even.history.iter().chain(&lopsided.history) {
        let image = &row.image;
        assert!(image.figure_rms_m <= image.figure_pv_m, "{image:?}");
        assert!(image.total_rms_m >= image.figure_rms_m, "{image:?}");
        // Each Noll term is part of the whole.
        let terms = [image.coma, image.astigmatism, image.trefoil];
        let squares: f64 = terms.iter().map(|term| term.size_m.powi(2)).sum();
        let all = (squares + image.spherical_m.powi(2)).sqrt();
        assert!(all <= image.total_rms_m * (1.0 + 1e-9) + 1e-15, "{all} m of {image:?}");
    }
    for row in settled(&even) {
        assert_eq!(row.image.total_rms_m.to_bits(), row.image.figure_rms_m.to_bits());
    }
    for row in settled(&lopsided) {
        assert!(row.image.total_rms_m > 1.001 * row.image.figure_rms_m, "{:?}", row.image);
    }
}

#[test]
fn strehl_falls_with_the_variances_of_figure_and_air_and_is_empty_below_its_range() {
    let (even, lopsided) = (night(&bare()), lopsided());
    let mut rows: Vec<&Image> =
        even.history.iter().chain(&lopsided.history).map(|row| &row.image).collect();
    rows.sort_by(|a, b| {
        (a.phase_variance + a.air_variance).total_cmp(&(b.phase_variance + b.air_variance))
    });
    let (shown, empty) = rows.split_at(rows.partition_point(|image| !image.strehl.is_nan()));
    assert!(shown.len() > 3 && empty.len() > 3, "{} and {}", shown.len(), empty.len());
    for pair in shown.windows(2) {
        assert!(pair[1].strehl <= pair[0].strehl, "{pair:?}");
    }
    for image in shown {
        let expected = (-image.phase_variance - image.air_variance).exp();
        assert_relative_eq!(image.strehl, expected, max_relative = 1e-12);
        assert!((0.3..=1.0).contains(&image.strehl), "{image:?}");
    }
    for image in empty {
        let expected = (-image.phase_variance - image.air_variance).exp();
        assert!(image.strehl.is_nan() && expected < 0.3, "{image:?}");
    }
}

/// Third order: a paraboloid of radius R lies a⁴/(8R³) below its sphere at the edge, of which
/// Noll 11 takes 1/(6√5) (`docs/physics/image.md`, eqs. I-11 and I-12).
#[test]
fn correction_counts_in_paraboloids_less_their_sphere() {
    let radius_of_curvature: f64 = 2.0 * FOCAL_LENGTH;
    let paraboloid = -RADIUS.powi(4) / (8.0 * radius_of_curvature.powi(3)) / (6.0 * 5_f64.sqrt());
    assert_abs_diff_eq!(paraboloid, -232.924e-9, epsilon = 5e-13);
    for row in settled(&night(&bare())) {
        let image = &row.image;
        assert_relative_eq!(image.correction, image.spherical_m / paraboloid, max_relative = 1e-9);
        let shift = -image.defocus_m * (radius_of_curvature / RADIUS).powi(2);
        assert_relative_eq!(image.focus_shift_m, shift, max_relative = 1e-12);
    }
}
