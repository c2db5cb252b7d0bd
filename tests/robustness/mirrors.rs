//! Mirrors nobody thought of: any shape, glass and films a scenario may hold.

use std::fmt::Write as _;
use std::path::Path;

use evenglass_disc::Resolution;
use evenglass_simulation::result::{COLUMNS, Record};
use evenglass_simulation::scenario::{Scenario, parse};
use evenglass_simulation::{Night, simulate};
use proptest::prelude::*;

/// A mirror and its films. Lengths in mm.
#[derive(Debug, Clone)]
struct Drawn {
    diameter: f64,
    /// Thickness at the rim over the diameter [-].
    slimness: f64,
    focal_ratio: Option<f64>,
    /// Of the diameter [-].
    hole: Option<f64>,
    glass: &'static str,
    /// front, back, rim, hole [W m⁻² K⁻¹]
    films: [f64; 4],
    /// Film over which radius, of that of the rim, the front's falls to a quarter [-].
    jump: Option<f64>,
    /// (face, order, amplitude, angle in degrees)
    uneven: Vec<(usize, u8, f64, f64)>,
    /// Of glass and air at the start [°C], and of the air at the end.
    celsius: [f64; 3],
}

fn drawn() -> impl Strategy<Value = Drawn> {
    let glass = ["soda-lime", "borosilicate", "fused-silica", "glass-ceramic"];
    let size = (20.0..2000.0_f64, 0.03..0.4_f64);
    let front = (prop::option::weighted(0.8, 2.5..12.0_f64), prop::option::weighted(0.3, 0.1..0.5));
    let film = prop_oneof![1 => Just(0.0), 6 => 1.0..60.0_f64, 1 => Just(1000.0)];
    let films = [film.clone(), film.clone(), film.clone(), film];
    let uneven = prop::collection::vec((0..3_usize, 1..=4_u8, 0.0..0.45_f64, 0.0..360.0_f64), 0..3);
    let celsius = [-30.0..40.0_f64, -30.0..30.0, -30.0..30.0];
    let jump = prop::option::weighted(0.3, 0.1..0.9_f64);
    (size, front, prop::sample::select(glass.to_vec()), films, jump, uneven, celsius).prop_map(
        |((diameter, slimness), (focal_ratio, hole), glass, films, jump, uneven, celsius)| Drawn {
            diameter,
            slimness,
            focal_ratio,
            hole,
            glass,
            films,
            jump,
            uneven,
            celsius,
        },
    )
}

impl Drawn {
    fn text(&self) -> String {
        let mut text = String::new();
        let Self { diameter, glass, films, .. } = self;
        let thickness = (self.slimness * diameter).clamp(2.0, 500.0);
        write!(
            text,
            "[mirror]\ndiameter = \"{diameter} mm\"\nedge_thickness = \"{thickness} mm\"\nglass = \"{glass}\"\n"
        )
        .unwrap();
        if let Some(ratio) = self.focal_ratio {
            writeln!(text, "focal_ratio = {ratio}").unwrap();
        }
        if let Some(hole) = self.hole {
            writeln!(text, "hole_diameter = \"{} mm\"", hole * diameter).unwrap();
        }
        let [start, from, to] = self.celsius;
        write!(
            text,
            "[night]\nstart = \"20:00\"\nduration = \"2 h\"\nglass_temperature = \"{start} degC\"\n\
             air = {{ kind = \"table\", time = [\"0 h\", \"2 h\"], temperature = [\"{from} degC\", \"{to} degC\"] }}\n\
             [output]\ninterval = \"10 min\"\n"
        )
        .unwrap();
        for (face, (name, film)) in ["front", "back", "rim", "hole"].iter().zip(films).enumerate() {
            if *name == "hole" && self.hole.is_none() {
                continue;
            }
            write!(text, "[{name}]\nfilm = {{ kind = \"given\", ").unwrap();
            match self.jump.filter(|_| *name == "front") {
                Some(share) => {
                    let at = 0.5 * share * diameter;
                    let (film, outer) = (format!("{film} W/m2K"), format!("{} W/m2K", 0.25 * film));
                    writeln!(text, "radius = [\"0 mm\", \"{at} mm\", \"{at} mm\"], coefficient = [\"{film}\", \"{film}\", \"{outer}\"] }}").unwrap();
                }
                None => writeln!(text, "coefficient = \"{film} W/m2K\" }}").unwrap(),
            }
            let terms = self.uneven.iter().filter(|term| term.0 == face);
            let terms: Vec<String> = terms
                .map(|(_, order, amplitude, angle)| {
                    format!(
                        "{{ harmonic = {order}, amplitude = {amplitude}, angle = \"{angle} deg\" }}"
                    )
                })
                .collect();
            if !terms.is_empty() {
                writeln!(text, "uneven = [{}]", terms.join(", ")).unwrap();
            }
        }
        text
    }
}

/// Whether a night can have no value in a column.
fn is_undefined(scenario: &Scenario, column: &str) -> bool {
    let flat = scenario.mirror.focal_ratio.is_none();
    match column {
        "focus_shift_um" | "refocus_minutes" | "correction_percent" => flat,
        "wall_c" => scenario.telescope.is_none(),
        "tube_focus_um" => {
            flat || scenario.telescope.as_ref().is_none_or(|tube| tube.expansion.is_none())
        }
        _ => false,
    }
}

/// Whether each column of the row has a value where it must, and none where it cannot.
pub(crate) fn assert_told(
    scenario: &Scenario,
    row: &Record,
    text: &str,
) -> Result<(), TestCaseError> {
    for column in &COLUMNS {
        let value = (column.value)(row);
        match column.name {
            // Below its range the Strehl ratio is left out.
            "strehl" => {
                prop_assert!(value.is_nan() || (0.3..=1.0).contains(&value), "{value}\n{text}");
            }
            // Where moved air ends in no column, or nothing is known of vapour or secondary.
            name if name == "column_excess_k"
                || name.starts_with("dew_")
                || name == "secondary_c" =>
            {
                prop_assert!(!value.is_infinite(), "{name} is {value}\n{text}");
            }
            name if is_undefined(scenario, name) => {
                prop_assert!(value.is_nan(), "{name} is {value}\n{text}");
            }
            name => prop_assert!(value.is_finite(), "{name} is {value}\n{text}"),
        }
    }
    let image = &row.image;
    for size in [image.figure_rms_m, image.total_rms_m, image.phase_variance, image.air_variance] {
        prop_assert!(size >= 0.0, "{image:?}\n{text}");
    }
    prop_assert!(image.figure_rms_m <= image.figure_pv_m, "{image:?}\n{text}");
    prop_assert!(image.figure_rms_m <= image.total_rms_m, "{image:?}\n{text}");
    let seeing = image.seeing;
    let ordered = seeing.low <= seeing.value && seeing.value <= seeing.high;
    prop_assert!(ordered && seeing.low >= 0.0, "{seeing:?}\n{text}");
    Ok(())
}

fn coarse() -> Resolution {
    Resolution { radial_order: 3, axial_order: 3, tolerance: 5e-3, ..Resolution::default() }
}

fn cooled(scenario: &Scenario, text: &str) -> Result<Night, TestCaseError> {
    let night = simulate(scenario, &coarse());
    night.map_err(|error| TestCaseError::fail(format!("{error}\n{text}")))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 80, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_mirror_has_an_image_wherever_there_can_be_one(drawn in drawn()) {
        let text = drawn.text();
        match parse("drawn.toml", &text, Path::new(""), &[]) {
            Ok(scenario) => {
                let night = cooled(&scenario, &text)?;
                for row in &night.history {
                    assert_told(&scenario, row, &text)?;
                    // Two metres of glass 70 K warmer than polished bend by some micrometres.
                    prop_assert!(row.image.figure_pv_m < 1e-4, "{:?}\n{text}", row.image);
                }
                let end = scenario.night.duration.seconds();
                for interval in &night.good_intervals {
                    prop_assert!(0.0 <= interval.from_s && interval.to_s <= end, "{interval:?}\n{text}");
                }
                for moment in &night.moments {
                    let heights = moment.surface.round_m.iter();
                    prop_assert!(heights.clone().all(|height| height.is_finite()), "{text}");
                    prop_assert!(heights.len() > 10, "{text}");
                }
            }
            // Too steep for its thickness, or a hole too wide.
            Err(error) => {
                for fault in &error.faults {
                    prop_assert!(fault.help.is_some(), "no remedy: {}\n{text}", fault.message);
                }
                prop_assume!(false, "refused: another is drawn");
            }
        }
    }
}

/// Discs that nobody would polish: like a coin, like paper, like a drum. Whatever is not
/// refused is a number.
#[test]
fn absurd_discs_have_a_figure_or_are_refused() {
    let mut cooled = 0;
    for (diameter, thickness) in [
        (2.0, 2.0),
        (20.0, 2.0),
        (20.0, 20.0),
        (20.0, 500.0),
        (100.0, 500.0),
        (2000.0, 2.0),
        (2000.0, 4.0),
        (2000.0, 500.0),
    ] {
        for more in ["", "focal_ratio = 4\n", "hole_diameter = \"10 mm\"\n"] {
            let text = format!(
                "[mirror]\ndiameter = \"{diameter} mm\"\nedge_thickness = \"{thickness} mm\"\n\
                 glass = \"soda-lime\"\n{more}[night]\nstart = \"20:00\"\nduration = \"30 min\"\n\
                 glass_temperature = \"20 degC\"\nair = {{ kind = \"steady\", temperature = \"10 degC\" }}\n\
                 [front]\nfilm = {{ kind = \"given\", coefficient = \"10 W/m2K\" }}\n\
                 [back]\nfilm = {{ kind = \"given\", coefficient = \"10 W/m2K\" }}\n\
                 uneven = [{{ harmonic = 2, amplitude = 0.3 }}]\n\
                 [rim]\nfilm = {{ kind = \"given\", coefficient = \"10 W/m2K\" }}\n"
            );
            let Ok(scenario) = parse("absurd.toml", &text, Path::new(""), &[]) else { continue };
            let night = match simulate(&scenario, &coarse()) {
                Ok(night) => night,
                Err(error) => panic!("{error}\n{text}"),
            };
            cooled += 1;
            for row in &night.history {
                assert_told(&scenario, row, &text).unwrap();
            }
        }
    }
    assert!(cooled >= 12, "only {cooled} were computed");
}
