//! Mirrors whose temperatures and figure a finite-element library computed.
//!
//! `data/figure_*.csv` holds bodies of revolution, `data/lopsided_*.csv` mirrors whose films
//! vary around the axis, solved in three dimensions; the scripts beside this folder make
//! them again. Shapes, glass and films are read from the tables too, so that there is one
//! description of each mirror.

use std::collections::BTreeMap;

use csv::StringRecord;
use evenglass_optics::Blank;
use evenglass_simulation::scenario::Scenario;
use evenglass_simulation::scenario::scenario::Harmonic;
use evenglass_units::Expansion;

use crate::case::{Case, Points};
use crate::table::{data, number};

/// A number with what its maker says it may be off.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stated {
    pub(crate) value: f64,
    pub(crate) error: f64,
}

/// A mirror of the tables.
#[derive(Debug)]
pub(crate) struct Mirror {
    pub(crate) name: String,
    case: Case,
    /// (face, order, amplitude)
    uneven: Vec<(String, u8, f64)>,
    pub(crate) expansion: f64,
    pub(crate) poisson_ratio: f64,
    pub(crate) time_s: f64,
    /// Of each order around the axis.
    pub(crate) fields: BTreeMap<usize, Field>,
    /// Of each order: (radius \[m\], figure \[m\]).
    pub(crate) profiles: BTreeMap<usize, Vec<(f64, Stated)>>,
    /// By the name of a column of the history, and some more.
    pub(crate) numbers: BTreeMap<String, Stated>,
}

/// Which pair of scripts and tables.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Bodies of revolution.
    Even,
    /// Three dimensions.
    Lopsided,
}

impl Kind {
    fn file(self, what: &str) -> String {
        let kind = if self == Self::Even { "figure" } else { "lopsided" };
        format!("{kind}_{what}.csv")
    }
}

/// All mirrors of a kind, in the order of the table.
pub(crate) fn mirrors(kind: Kind) -> Vec<Mirror> {
    let columns = [
        "case",
        "diameter_m",
        "edge_thickness_m",
        "focal_ratio",
        "hole_m",
        "density",
        "specific_heat",
        "conductivity",
        "expansion",
        "poisson_ratio",
        "start_c",
        "air",
        "films",
        "uneven",
        "time_s",
    ];
    let mut mirrors: Vec<Mirror> =
        records(&kind.file("cases"), &columns).iter().map(described).collect();
    let columns = ["case", "harmonic", "radius_m", "height_m", "temperature", "error"];
    for record in records(&kind.file("temperatures"), &columns) {
        let mirror = named(&mut mirrors, &record[0]);
        let (blank, ends) = (mirror.blank(), mirror.piece_ends());
        let field = mirror.fields.entry(index(&record[1])).or_insert_with(|| Field::new(ends));
        let radius = number(&record[2]);
        field.push(radius, number(&record[3]) / blank.thickness(radius), number(&record[4]));
    }
    let columns = ["case", "harmonic", "radius_m", "figure_m", "error_m"];
    for record in records(&kind.file("profiles"), &columns) {
        let mirror = named(&mut mirrors, &record[0]);
        let stated = Stated { value: number(&record[3]), error: number(&record[4]) };
        let profile = mirror.profiles.entry(index(&record[1])).or_default();
        profile.push((number(&record[2]), stated));
    }
    for record in records(&kind.file("numbers"), &["case", "name", "value", "error"]) {
        let stated = Stated { value: number(&record[2]), error: number(&record[3]) };
        named(&mut mirrors, &record[0]).numbers.insert(record[1].to_owned(), stated);
    }
    mirrors
}

impl Mirror {
    /// Shape of the glass.
    pub(crate) fn blank(&self) -> Blank {
        let Case { diameter_m, edge_thickness_m, focal_ratio, hole_m, .. } = self.case;
        Blank {
            outer_radius_m: 0.5 * diameter_m,
            inner_radius_m: 0.5 * hole_m.unwrap_or(0.0),
            edge_thickness_m,
            curvature_per_m: focal_ratio.map_or(0.0, |ratio| 0.5 / (ratio * diameter_m)),
        }
    }

    /// Temperature at the start, without stress [°C].
    pub(crate) fn start_c(&self) -> f64 {
        self.case.start_c
    }

    /// The night up to the instant of the tables.
    pub(crate) fn scenario(&self) -> Scenario {
        let mut scenario = self.case.scenario();
        scenario.mirror.glass.expansion = Expansion::from_per_kelvin(self.expansion);
        scenario.mirror.glass.poisson_ratio = self.poisson_ratio;
        for (face, harmonic, amplitude) in &self.uneven {
            let face = match face.as_str() {
                "front" => &mut scenario.front,
                "back" => &mut scenario.back,
                "rim" => &mut scenario.rim,
                other => panic!("no film of `{other}` is uneven"),
            };
            let term = Harmonic { harmonic: *harmonic, amplitude: *amplitude, angle: 0.0 };
            face.uneven.push(term);
        }
        scenario.output.fields_at = vec![self.time_s];
        scenario
    }

    /// Radii between which temperatures are smooth.
    fn piece_ends(&self) -> Vec<f64> {
        let (inner, outer) = (0.5 * self.case.hole_m.unwrap_or(0.0), 0.5 * self.case.diameter_m);
        let jumps = self.case.front.iter().chain(&self.case.back).map(|point| point.0);
        let mut ends: Vec<f64> = jumps.filter(|&r| inner < r && r < outer).collect();
        ends.extend([inner, outer]);
        ends.sort_by(f64::total_cmp);
        ends.dedup();
        ends
    }
}

/// Temperatures at Chebyshev points, over radius piece by piece and over the thickness.
#[derive(Debug)]
pub(crate) struct Field {
    ends: Vec<f64>,
    /// (radius \[m\], (share of the thickness, temperature) up the glass)
    columns: Vec<(f64, Vec<(f64, f64)>)>,
}

impl Field {
    fn new(ends: Vec<f64>) -> Self {
        Self { ends, columns: Vec::new() }
    }

    fn push(&mut self, radius: f64, share: f64, temperature: f64) {
        match self.columns.last_mut() {
            Some((last, column)) if last.total_cmp(&radius).is_eq() => {
                column.push((share, temperature));
            }
            _ => self.columns.push((radius, vec![(share, temperature)])),
        }
    }

    /// At a radius \[m\] and share of the local thickness.
    pub(crate) fn at(&self, radius: f64, share: f64) -> f64 {
        const SLACK: f64 = 1e-9;
        let above = self.ends.partition_point(|&end| end < radius).clamp(1, self.ends.len() - 1);
        let (low, high) = (self.ends[above - 1] - SLACK, self.ends[above] + SLACK);
        let across: Points = self
            .columns
            .iter()
            .filter(|(r, _)| (low..=high).contains(r))
            .map(|(r, column)| (*r, through(column, share)))
            .collect();
        through(&across, radius)
    }
}

/// The polynomial through values at Chebyshev points of the second kind, barycentric.
///
/// # Source
/// J.-P. Berrut and L. N. Trefethen, "Barycentric Lagrange interpolation", SIAM Review 46
/// (2004) 501–517, equations 4.2 and 5.4; from memory, checked below.
fn through(points: &[(f64, f64)], at: f64) -> f64 {
    const SAME: f64 = 1e-12;
    let (mut above, mut below) = (0.0, 0.0);
    for (i, &(place, value)) in points.iter().enumerate() {
        if (at - place).abs() < SAME {
            return value;
        }
        let half = if i == 0 || i + 1 == points.len() { 0.5 } else { 1.0 };
        let weight = if i % 2 == 0 { half } else { -half } / (at - place);
        above += weight * value;
        below += weight;
    }
    above / below
}

fn described(record: &StringRecord) -> Mirror {
    let optional = |cell: &str| (!cell.is_empty()).then(|| number(cell));
    let mut films: BTreeMap<String, Points> = BTreeMap::new();
    for face in record[12].split("; ") {
        let (name, points) = face.split_once(' ').expect("a face and its film");
        films.insert(name.to_owned(), pairs(points));
    }
    let mut film = |name: &str| films.remove(name).unwrap_or_default();
    let time_s = number(&record[14]);
    let case = Case {
        diameter_m: number(&record[1]),
        edge_thickness_m: number(&record[2]),
        focal_ratio: optional(&record[3]),
        hole_m: optional(&record[4]),
        density: number(&record[5]),
        specific_heat: number(&record[6]),
        conductivity: number(&record[7]),
        start_c: number(&record[10]),
        air: pairs(&record[11]),
        front: film("front"),
        back: film("back"),
        rim: film("rim"),
        hole: film("hole"),
        duration_s: time_s,
    };
    assert!(films.is_empty(), "a face nobody knows: {films:?}");
    Mirror {
        name: record[0].to_owned(),
        case,
        uneven: uneven(&record[13]),
        expansion: number(&record[8]),
        poisson_ratio: number(&record[9]),
        time_s,
        fields: BTreeMap::new(),
        profiles: BTreeMap::new(),
        numbers: BTreeMap::new(),
    }
}

/// `back 1:0.3 3:0.1; rim 2:0.5`
fn uneven(cell: &str) -> Vec<(String, u8, f64)> {
    let faces = cell.split("; ").filter(|face| !face.is_empty());
    faces
        .flat_map(|face| {
            let (name, terms) = face.split_once(' ').expect("a face and its terms");
            terms.split(' ').map(|term| {
                let (order, amplitude) = term.split_once(':').expect("order:amplitude");
                let order = order.parse().expect("an order is a small whole number");
                (name.to_owned(), order, number(amplitude))
            })
        })
        .collect()
}

/// `position:value position:value`
fn pairs(cell: &str) -> Points {
    let pair = |text: &str| {
        let (position, value) = text.split_once(':').expect("position:value");
        (number(position), number(value))
    };
    cell.split(' ').map(pair).collect()
}

fn named<'a>(mirrors: &'a mut [Mirror], name: &str) -> &'a mut Mirror {
    let found = mirrors.iter_mut().find(|mirror| mirror.name == name);
    found.unwrap_or_else(|| panic!("`{name}` is not among the cases"))
}

fn index(cell: &str) -> usize {
    cell.parse().unwrap_or_else(|_| panic!("`{cell}` is not an order"))
}

fn records(file: &str, columns: &[&str]) -> Vec<StringRecord> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(data(file))
        .expect("the table is in the repository");
    assert_eq!(reader.headers().expect("the table has headers"), columns, "{file}");
    reader.records().map(|record| record.expect("the table is well formed")).collect()
}

#[test]
fn a_polynomial_is_met_between_the_points_of_a_table() {
    let cubic = |x: f64| 1.0 - x + 3.0 * x.powi(3);
    let places =
        [0, 1, 2, 3, 4].map(|i| 0.5 - 0.5 * (std::f64::consts::PI * f64::from(i) / 4.0).cos());
    let points = places.map(|x| (x, cubic(x)));
    for x in [0.0, 0.1, 0.37, 0.5, 0.99, 1.0] {
        let gap = through(&points, x) - cubic(x);
        assert!(gap.abs() < 1e-14, "at {x}: off by {gap:e}");
    }
}

#[test]
fn every_mirror_comes_with_temperatures_profile_and_numbers() {
    let (even, lopsided) = (mirrors(Kind::Even), mirrors(Kind::Lopsided));
    assert_eq!((even.len(), lopsided.len()), (10, 3));
    for mirror in even.iter().chain(&lopsided) {
        let Mirror { name, fields, profiles, numbers, .. } = mirror;
        assert!(fields.contains_key(&0), "`{name}` has no temperatures");
        assert!(fields.keys().eq(profiles.keys()), "`{name}`: {:?}", profiles.keys());
        assert!(profiles.values().all(|profile| profile.len() == 41), "`{name}`");
        assert!(numbers.contains_key("figure_rms_nm"), "`{name}`: {:?}", numbers.keys());
    }
}
