//! Pictures: they exist, have the promised size, and something is drawn in each part.
//!
//! They stay under cargo's folder for test files, in `pictures`, so that a person can look at them.

use std::fs;
use std::io::BufReader;
use std::path::{Path, PathBuf};

use evenglass_report::{
    Axis, Outcome, ResultFolder, SweepTable, write_comparison, write_night, write_sweep,
};
use evenglass_simulation::Night;

use crate::toy::Toy;

fn target(name: &str) -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join("pictures").join(name)
}

/// Writes a night's files and returns their folder.
fn drawn(name: &str, night: &Night) -> PathBuf {
    let folder = ResultFolder::prepare(&target(name)).unwrap();
    write_night(&folder, night).unwrap();
    folder.commit().unwrap();
    target(name)
}

/// Pixels of a picture.
pub(crate) struct Picture {
    width: usize,
    height: usize,
    rgb: Vec<u8>,
}

impl Picture {
    pub(crate) fn read(path: &Path) -> Self {
        let file = BufReader::new(fs::File::open(path).unwrap());
        let mut reader = png::Decoder::new(file).read_info().unwrap();
        let mut rgb = vec![0; reader.output_buffer_size().unwrap()];
        let info = reader.next_frame(&mut rgb).unwrap();
        assert_eq!(info.color_type, png::ColorType::Rgb, "{}", path.display());
        let (width, height) = (info.width as usize, info.height as usize);
        Self { width, height, rgb }
    }

    fn at(&self, x: usize, y: usize) -> [u8; 3] {
        let start = 3 * (y * self.width + x);
        [self.rgb[start], self.rgb[start + 1], self.rgb[start + 2]]
    }

    /// Share of pixels in a box that have exactly that colour.
    pub(crate) fn painted(&self, columns: (f64, f64), rows: (f64, f64), colour: [u8; 3]) -> f64 {
        self.counted(columns, rows, |p| p == colour)
    }

    /// Share of pixels in a box, given in shares of the sheet, that are strongly coloured.
    pub(crate) fn coloured(&self, (x0, x1): (f64, f64), (y0, y1): (f64, f64)) -> f64 {
        self.counted((x0, x1), (y0, y1), |p| p.iter().max().unwrap() - p.iter().min().unwrap() > 60)
    }

    /// Share of pixels in a box that are dark.
    pub(crate) fn dark(&self, (x0, x1): (f64, f64), (y0, y1): (f64, f64)) -> f64 {
        self.counted((x0, x1), (y0, y1), |p| *p.iter().max().unwrap() < 140)
    }

    fn counted(
        &self,
        (x0, x1): (f64, f64),
        (y0, y1): (f64, f64),
        wanted: impl Fn(&[u8]) -> bool,
    ) -> f64 {
        let (mut hits, mut all) = (0.0, 0.0);
        for (i, pixel) in self.rgb.chunks_exact(3).enumerate() {
            let share = |at: usize, whole: usize| {
                f64::from(u32::try_from(at).unwrap()) / f64::from(u32::try_from(whole).unwrap())
            };
            let (x, y) = (share(i % self.width, self.width), share(i / self.width, self.height));
            if (x0..x1).contains(&x) && (y0..y1).contains(&y) {
                all += 1.0;
                hits += f64::from(u8::from(wanted(pixel)));
            }
        }
        hits / all
    }
}

const TITLE: ((f64, f64), (f64, f64)) = ((0.05, 0.9), (0.0, 0.07));

#[test]
fn a_night_has_three_pictures_with_something_in_every_panel() {
    let more = "[[event]]\nat = '22:30'\nfan_speed = 0.33\n[output]\nfields_at = ['1 h', '23:00']";
    let night = Toy { more, ..Toy::default() }.night();
    let folder = drawn("night", &night);
    let edge = Picture::read(&folder.join("edge-to-centre.png"));
    assert_eq!((edge.width, edge.height), (1600, 1000));
    assert!(edge.dark(TITLE.0, TITLE.1) > 0.01, "a title");
    assert!(edge.coloured((0.08, 0.8), (0.18, 0.69)) > 0.002, "curves");
    assert!(edge.coloured((0.84, 1.0), (0.18, 0.69)) > 0.002, "their names");
    assert!(edge.dark((0.08, 0.8), (0.77, 0.915)) > 0.002, "the air below");
    let temperatures = Picture::read(&folder.join("temperatures.png"));
    assert!(temperatures.coloured((0.08, 0.8), (0.18, 0.61)) > 0.01, "curves");
    assert!(temperatures.dark((0.08, 0.8), (0.69, 0.915)) > 0.002, "front minus air");
    let section = Picture::read(&folder.join("section.png"));
    assert!(section.coloured((0.1, 0.8), (0.2, 0.9)) > 0.4, "glass");
    assert!(section.coloured((0.89, 0.93), (0.25, 0.85)) > 0.4, "the colour bar");
}

/// The green of good stretches.
const GOOD: [u8; 3] = [222, 242, 237];

#[test]
fn only_good_stretches_are_green_and_they_stand_where_the_clock_says() {
    let night = Toy::default().night();
    let ready = night.ready_at_s.unwrap() / night.scenario.night.duration.seconds();
    let picture = Picture::read(&drawn("good", &night).join("edge-to-centre.png"));
    // The panel runs from 120 to 1330 of 1600 pixels.
    let x = |share: f64| (120.0 + 1210.0 * share) / 1600.0;
    let rows = (0.2, 0.68);
    assert!(picture.painted((x(ready + 0.01), x(0.99)), rows, GOOD) > 0.9, "green while good");
    assert!(picture.painted((x(0.0), x(ready - 0.01)), rows, GOOD) < 1e-6, "and not before");

    let never = Toy { follow_h: 5.0, ..Toy::default() }.night();
    let picture = Picture::read(&drawn("never-good", &never).join("edge-to-centre.png"));
    assert!(picture.painted((0.0, 1.0), (0.0, 1.0), GOOD) < 1e-6, "no green at all");
}

#[test]
fn the_section_is_lightest_where_the_glass_is_warmest_and_the_same_on_both_sides() {
    let picture = Picture::read(&drawn("sides", &Toy::default().night()).join("section.png"));
    // One section, 430 pixels high at most, around the axis at 745, below its surface.
    let bright = |x: usize, y: usize| picture.at(x, y).iter().map(|&c| u32::from(c)).sum::<u32>();
    let warm = bright(745, 422);
    let corner = bright(1355, 637);
    assert!(warm > corner + 150, "middle {warm}, corner {corner}");
    for (out, y) in [(100, 392), (333, 492), (521, 442), (590, 342)] {
        let (left, right) = (picture.at(744 - out, y), picture.at(745 + out, y));
        let gap = left.iter().zip(right).map(|(a, b)| a.abs_diff(b)).max().unwrap();
        assert!(gap < 24, "{left:?} and {right:?} at {out}, {y}");
    }
}

#[test]
fn mirrors_of_every_shape_are_drawn() {
    let shapes = [
        ("flat", "diameter = '200 mm'\nedge_thickness = '25 mm'\nglass = 'borosilicate'"),
        (
            "thick",
            "diameter = '150 mm'\nedge_thickness = '140 mm'\nfocal_ratio = 6\nglass = 'soda-lime'",
        ),
        (
            "holed",
            "diameter = '600 mm'\nedge_thickness = '80 mm'\nfocal_ratio = 3\nhole_diameter = '150 mm'\nglass = 'borosilicate'",
        ),
        (
            "thin",
            "diameter = '800 mm'\nedge_thickness = '20 mm'\nfocal_ratio = 3.3\nglass = 'soda-lime'",
        ),
    ];
    for (name, mirror) in shapes {
        let folder = drawn(name, &Toy { mirror, ..Toy::default() }.night());
        let section = Picture::read(&folder.join("section.png"));
        assert!(section.coloured((0.2, 0.75), (0.3, 0.8)) > 0.1, "{name} shows glass");
    }
}

#[test]
fn a_nearly_uniform_glass_is_not_drawn_as_if_it_were_hot() {
    let night = "start = '20:00'\nduration = '8 h'\nglass_temperature = '10 degC'\n\
                 air = { kind = 'steady', temperature = '9.8 degC' }";
    let folder = drawn("nearly-uniform", &Toy { night, more: "", ..Toy::default() }.night());
    let section = Picture::read(&folder.join("section.png"));
    // Half of the scale is red and yellow: not one pixel of the glass is.
    let red = section.counted((0.1, 0.83), (0.3, 0.75), |p| p[0] > 130 && p[0] / 2 > p[2]);
    assert!(red < 1e-9, "{red} of the glass is red");
}

/// A short run's name stands at its own end; nothing is drawn on the empty paper beyond.
#[test]
fn the_name_of_a_run_that_ends_early_stands_beside_its_end() {
    let short = "start = '20:00'\nduration = '2 h'\nglass_temperature = '20 degC'\n\
                 air = { kind = 'steady', temperature = '11 degC' }";
    let short = Toy { night: short, more: "", uneven: 0.6, ..Toy::default() }.night();
    let nights = [("whole".to_owned(), Toy::default().night()), ("brief".to_owned(), short)];
    let folder = ResultFolder::prepare(&target("unequal-lengths")).unwrap();
    write_comparison(&folder, &nights).unwrap();
    folder.commit().unwrap();
    let picture = Picture::read(&target("unequal-lengths").join("compare.png"));
    let orange = |columns| picture.counted(columns, (0.15, 0.8), |p| p[0] > 180 && p[2] < 120);
    assert!(orange((0.1, 0.4)) > 1e-4, "the curve and its name are there");
    assert!(orange((0.45, 1.0)) < 1e-9, "and nothing of it beyond");
}

#[test]
fn odd_nights_are_drawn() {
    let night = |night, more, uneven| Toy { night, more, uneven, ..Toy::default() };
    let steady = "start = '20:00'\nduration = '8 h'\nglass_temperature = '10 degC'\n\
                  air = { kind = 'steady', temperature = '10 degC' }";
    let long = "start = '18:30'\ndate = '2026-10-30'\nduration = '72 h'\nglass_temperature = '20 degC'\n\
                air = { kind = 'table', time = ['0 h', '10 h', '20 h', '34 h', '44 h', '58 h', '72 h'], \
                temperature = ['18 degC', '5 degC', '16 degC', '2 degC', '14 degC', '-3 degC', '9 degC'] }";
    let short = "start = '23:10'\nduration = '1 h'\nglass_temperature = '12 degC'\n\
                 air = { kind = 'steady', temperature = '5 degC' }";
    let frost = "start = '20:00'\nduration = '10 h'\nglass_temperature = '-5 degC'\n\
                 air = { kind = 'steady', temperature = '-12 degC' }";
    let cases = [
        ("equal-temperatures", night(steady, "", 0.2)),
        ("seventy-two-hours", night(long, "", 0.3)),
        ("one-hour", night(short, "", 0.3)),
        ("one-row", night(short, "[output]\ninterval = '1 h'", 0.3)),
        ("frost", night(frost, "", 0.3)),
        ("tiny-spread", Toy { uneven: 1e-10, ..Toy::default() }),
        (
            "long-title",
            Toy {
                title: "A very long title that a maker wrote because the whole story of the \
                        mirror and its cell and its fans seemed worth telling, twice over, \
                        with every detail that could be remembered on a cold night",
                ..Toy::default()
            },
        ),
    ];
    for (name, toy) in cases {
        let folder = drawn(name, &toy.night());
        for picture in ["edge-to-centre.png", "temperatures.png", "section.png"] {
            let picture = Picture::read(&folder.join(picture));
            assert!(picture.dark(TITLE.0, (0.0, 0.2)) > 0.005, "{name} has a title");
        }
    }
}

#[test]
fn numbers_that_are_not_finite_leave_a_gap_and_no_panic() {
    let mut night = Toy::default().night();
    let nan = evenglass_units::Temperature::from_kelvin(f64::NAN);
    night.history[5].front_edge = nan;
    night.history[5].air = nan;
    night.fields[0].temperature_k[[3, 3]] = f64::NAN;
    drawn("not-finite", &night);
    night.history.truncate(1);
    night.fields.clear();
    drawn("almost-nothing", &night);
    night.history.clear();
    drawn("nothing", &night);
}

#[test]
fn alternatives_share_one_picture() {
    let slow = Toy { follow_h: 2.2, ..Toy::default() }.night();
    let later = Toy {
        night: "start = '21:00'\nduration = '7 h'\nglass_temperature = '20 degC'\n\
                air = { kind = 'steady', temperature = '9 degC' }",
        more: "",
        ..Toy::default()
    };
    let nights = [
        ("bare rim, fan behind".to_owned(), Toy::default().night()),
        ("no fan".to_owned(), slow),
        ("an hour later, in steady air, with a long name".to_owned(), later.night()),
    ];
    let folder = ResultFolder::prepare(&target("compare")).unwrap();
    write_comparison(&folder, &nights).unwrap();
    folder.commit().unwrap();
    let picture = Picture::read(&target("compare").join("compare.png"));
    assert_eq!(picture.width, 1600);
    for (what, rows) in [("edge", (0.17, 0.47)), ("front", (0.54, 0.75)), ("good", (0.83, 0.92))] {
        assert!(picture.coloured((0.08, 0.8), rows) > 0.002, "{what} curves");
    }
    let many: Vec<(String, Night)> = (0..18)
        .map(|i| {
            (
                format!("variant {i}"),
                Toy { follow_h: 0.5 + 0.2 * f64::from(i), ..Toy::default() }.night(),
            )
        })
        .collect();
    let folder = ResultFolder::prepare(&target("compare-many")).unwrap();
    write_comparison(&folder, &many).unwrap();
    folder.commit().unwrap();
}

fn axis(key: &str, values: &[&str]) -> Axis {
    Axis { key: key.to_owned(), values: values.iter().map(|&v| v.to_owned()).collect() }
}

fn outcome(follow_h: f64, uneven: f64) -> Outcome {
    Outcome::from(&Toy { follow_h, uneven, ..Toy::default() }.night())
}

fn swept(name: &str, table: &SweepTable) -> Picture {
    let folder = ResultFolder::prepare(&target(name)).unwrap();
    write_sweep(&folder, table).unwrap();
    folder.commit().unwrap();
    Picture::read(&target(name).join("sweep.png"))
}

#[test]
fn a_sweep_is_drawn_whatever_was_varied() {
    let films: Vec<String> = (0..30).map(|i| format!("{} W/m2/K", 6 + i)).collect();
    let films: Vec<&str> = films.iter().map(String::as_str).collect();
    let follow = |i: usize| 12.0 / f64::from(u32::try_from(6 + i).unwrap());
    let rows = (0..30).map(|i| Ok(outcome(follow(i), 0.2))).collect();
    let line = SweepTable { axes: vec![axis("back.film.coefficient", &films)], rows };
    let picture = swept("sweep-line", &line);
    for rows in [(0.175, 0.365), (0.43, 0.62), (0.685, 0.875)] {
        assert!(picture.coloured((0.08, 0.95), rows) > 0.002, "a curve in {rows:?}");
    }

    let starts = SweepTable {
        axes: vec![axis("night.start", &["21:00", "22:00", "23:00", "00:00"])],
        rows: (0..4).map(|i| Ok(outcome(follow(8 * i), 0.2))).collect(),
    };
    assert!(
        swept("sweep-starts", &starts).coloured((0.08, 0.95), (0.175, 0.37)) > 0.002,
        "a curve"
    );

    let glasses = axis("mirror.glass", &["soda-lime", "borosilicate", "fused-silica"]);
    let rows = vec![Ok(outcome(1.2, 0.2)), Ok(outcome(0.9, 0.3)), Err("no".to_owned())];
    let list = SweepTable { axes: vec![glasses.clone()], rows };
    assert!(swept("sweep-list", &list).coloured((0.4, 1.0), (0.3, 0.9)) > 0.003, "dots");

    let rows = (0..90)
        .map(|i| Ok(outcome(follow(i % 30), 0.1 + 0.1 * f64::from(u32::try_from(i / 30).unwrap()))))
        .collect();
    let map =
        SweepTable { axes: vec![glasses.clone(), axis("back.film.coefficient", &films)], rows };
    assert!(swept("sweep-map", &map).coloured((0.15, 0.45), (0.25, 0.8)) > 0.5, "a map");

    let rows = (0..12)
        .map(|i| if i == 5 { Err("no".to_owned()) } else { Ok(outcome(follow(i), 0.1)) })
        .collect();
    let small = SweepTable {
        axes: vec![
            axis("mirror.edge_thickness", &["25 mm", "32 mm", "41 mm"]),
            axis("night.start", &["19:00", "20:00", "21:00", "22:00"]),
        ],
        rows,
    };
    assert!(swept("sweep-small-map", &small).coloured((0.15, 0.45), (0.25, 0.8)) > 0.5, "a map");

    let three = SweepTable {
        axes: vec![
            glasses,
            axis("rim.film.coefficient", &["6 W/m2/K", "12 W/m2/K"]),
            axis("mirror.edge_thickness", &["25 mm", "32 mm"]),
        ],
        rows: (0..12).map(|i| Ok(outcome(follow(i * 2), 0.1))).collect(),
    };
    assert!(swept("sweep-three", &three).coloured((0.4, 1.0), (0.2, 0.9)) > 0.003, "dots");

    let never = SweepTable {
        axes: vec![axis("a", &["1", "2"]), axis("b", &["x", "y"])],
        rows: vec![
            Ok(outcome(30.0, 0.1)),
            Ok(outcome(40.0, 0.1)),
            Ok(outcome(50.0, 0.1)),
            Err("no".to_owned()),
        ],
    };
    swept("sweep-never", &never);
    let nothing = SweepTable {
        axes: vec![axis("a", &["1", "2"])],
        rows: vec![Err("no".to_owned()), Err("no".to_owned())],
    };
    swept("sweep-nothing", &nothing);
    swept("sweep-no-axes", &SweepTable { axes: vec![], rows: vec![] });
    swept(
        "sweep-no-rows",
        &SweepTable { axes: vec![axis("a", &[]), axis("b", &[])], rows: vec![] },
    );
}
