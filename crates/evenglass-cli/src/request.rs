//! What the command line means: keys and values read, folders named, contradictions found.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use evenglass_scenario::{
    Axis, Override, Scenario, load, parse_axis, parse_override, parse_variant,
};
use evenglass_simulation::Resolution;
use evenglass_simulation::ventilation::wish::Wish;
use evenglass_units::Kind;

use crate::arguments::{
    CompareArguments, ResolutionArguments, ResultArguments, RunArguments, ScenarioArguments,
    SizeArguments, SweepArguments,
};
use crate::failure::Failure;

/// A scenario file and what is changed in it.
#[derive(Debug, Clone)]
pub(crate) struct Case {
    pub(crate) file: PathBuf,
    pub(crate) overrides: Vec<Override>,
}

/// Where the result goes and how the answer is given.
#[derive(Debug)]
pub(crate) struct Delivery {
    pub(crate) folder: PathBuf,
    pub(crate) answer: Answer,
}

/// The form of the answer on standard output.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Answer {
    /// A summary for a person.
    Words,
    /// The object of `summary.json`.
    Json,
}

/// `evenglass run`.
#[derive(Debug)]
pub(crate) struct Run {
    pub(crate) case: Case,
    pub(crate) delivery: Delivery,
    pub(crate) resolution: Resolution,
}

/// `evenglass compare`.
#[derive(Debug)]
pub(crate) struct Compare {
    pub(crate) nights: Nights,
    pub(crate) delivery: Delivery,
    pub(crate) resolution: Resolution,
}

/// What is compared.
#[derive(Debug)]
pub(crate) enum Nights {
    /// Label and case, in the order asked for; at least two, all labels different.
    Named(Vec<(String, Case)>),
    /// One case, and every small change of it that makes sense.
    Changes(Case),
}

/// `evenglass sweep`.
#[derive(Debug)]
pub(crate) struct Sweep {
    pub(crate) case: Case,
    /// At least one; the last varies fastest.
    pub(crate) axes: Vec<Axis>,
    /// How many nights the grid has.
    pub(crate) nights: usize,
    pub(crate) threads: Option<usize>,
    pub(crate) delivery: Delivery,
    pub(crate) resolution: Resolution,
}

/// `evenglass size`.
#[derive(Debug)]
pub(crate) struct Size {
    pub(crate) case: Case,
    pub(crate) wishes: Vec<Wish>,
    pub(crate) delivery: Delivery,
}

/// What the scenario without changes is called.
pub(crate) const AS_WRITTEN: &str = "as written";

/// More nights than anyone waits for; a grid this large is a slip of the pen.
const MOST_NIGHTS: usize = 100_000;

impl Case {
    /// From what was typed.
    pub(crate) fn meant(typed: ScenarioArguments) -> Result<Self, Failure> {
        Ok(Self { file: typed.file, overrides: overrides(&typed.set)? })
    }

    /// Reads and checks the file.
    pub(crate) fn load(&self) -> Result<Scenario, Failure> {
        Ok(load(&self.file, &self.overrides)?)
    }

    /// The same with more changes, which win over the earlier ones.
    pub(crate) fn with(&self, more: impl IntoIterator<Item = Override>) -> Self {
        let overrides = self.overrides.iter().cloned().chain(more).collect();
        Self { file: self.file.clone(), overrides }
    }
}

impl Run {
    /// From what was typed.
    pub(crate) fn meant(typed: RunArguments) -> Result<Self, Failure> {
        Ok(Self {
            delivery: delivery(typed.result, &typed.scenario.file),
            case: Case::meant(typed.scenario)?,
            resolution: resolution(&typed.resolution)?,
        })
    }
}

impl Compare {
    /// From what was typed.
    pub(crate) fn meant(typed: CompareArguments) -> Result<Self, Failure> {
        let set = overrides(&typed.set)?;
        let case = |file: &PathBuf| Case { file: file.clone(), overrides: set.clone() };
        let delivery = delivery(typed.result, &typed.files[0]);
        let resolution = resolution(&typed.resolution)?;
        let cases = match (typed.files.as_slice(), typed.variant.as_slice()) {
            ([file], []) => {
                let nights = Nights::Changes(case(file));
                return Ok(Self { nights, delivery, resolution });
            }
            ([file], variants) => with_variants(&case(file), variants)?,
            (files, []) => files.iter().map(|file| (label(file, files), case(file))).collect(),
            (_, [_, ..]) => return Err(variants_of_several()),
        };
        refuse_equal_labels(&cases)?;
        Ok(Self { nights: Nights::Named(cases), delivery, resolution })
    }
}

impl Sweep {
    /// From what was typed.
    pub(crate) fn meant(typed: SweepArguments) -> Result<Self, Failure> {
        let axes: Vec<Axis> =
            typed.vary.iter().map(|text| parse_axis(text)).collect::<Result<_, _>>()?;
        refuse_repeated_keys(&axes)?;
        Ok(Self {
            delivery: delivery(typed.result, &typed.scenario.file),
            case: Case::meant(typed.scenario)?,
            nights: nights(&axes)?,
            axes,
            threads: typed.threads.map(usize::from),
            resolution: resolution(&typed.resolution)?,
        })
    }

    /// The values of night number `index`, one per axis, the last axis fastest.
    pub(crate) fn member(&self, index: usize) -> Vec<Override> {
        let mut left = index;
        let mut values: Vec<Override> = self
            .axes
            .iter()
            .rev()
            .map(|axis| {
                let value = axis.values[left % axis.values.len()].clone();
                left /= axis.values.len();
                Override { key: axis.key.clone(), value, option: "--vary".to_owned() }
            })
            .collect();
        values.reverse();
        values
    }
}

impl Size {
    /// From what was typed.
    pub(crate) fn meant(typed: SizeArguments) -> Result<Self, Failure> {
        let speed = typed.slot_speed.map(|text| wished("--slot-speed", &text, Kind::SPEED));
        let film = typed.film.map(|text| wished("--film", &text, Kind::FILM_COEFFICIENT));
        let speed = speed.transpose()?.map(Wish::SlotSpeed);
        let film = film.transpose()?.map(Wish::Film);
        Ok(Self {
            delivery: delivery(typed.result, &typed.scenario.file),
            case: Case::meant(typed.scenario)?,
            wishes: speed.into_iter().chain(film).collect(),
        })
    }
}

/// A wish in SI; nothing, and less, cannot be wished for.
fn wished(option: &str, text: &str, kind: Kind) -> Result<f64, Failure> {
    let refused = |fact: String, remedy: &str| {
        Failure::request("size::wish", format!("`{option}`: {fact}"), remedy)
    };
    let value = evenglass_units::parse(text, kind)
        .map_err(|error| refused(error.to_string(), &error.remedy()))?;
    if value > 0.0 {
        return Ok(value);
    }
    let remedy = format!("write {} above zero, as in {}", kind.noun(), kind.examples());
    Err(refused(format!("`{}` is not above zero", text.trim()), &remedy))
}

fn overrides(texts: &[String]) -> Result<Vec<Override>, Failure> {
    Ok(texts.iter().map(|text| parse_override(text)).collect::<Result<_, _>>()?)
}

fn resolution(typed: &ResolutionArguments) -> Result<Resolution, Failure> {
    match typed.cells {
        Some(cells) => Resolution::with_cells(cells.radial, cells.axial).map_err(|error| {
            Failure::request(
                "request::cells",
                error.to_string(),
                "leave `--cells` out, or write it as 400x100",
            )
        }),
        None if typed.fine => Ok(Resolution::fine()),
        None => Ok(Resolution::default()),
    }
}

/// `<scenario name>-out` in the current folder unless a folder was named.
fn delivery(typed: ResultArguments, file: &Path) -> Delivery {
    let folder = typed.out.unwrap_or_else(|| {
        let mut name = file.file_stem().map_or_else(|| OsString::from("evenglass"), OsString::from);
        name.push("-out");
        PathBuf::from(name)
    });
    Delivery { folder, answer: if typed.json { Answer::Json } else { Answer::Words } }
}

/// The file as written comes first: a variant is judged against it.
fn with_variants(case: &Case, variants: &[String]) -> Result<Vec<(String, Case)>, Failure> {
    let mut cases = vec![(AS_WRITTEN.to_owned(), case.clone())];
    for text in variants {
        let variant = parse_variant(text)?;
        cases.push((variant.label, case.with(variant.overrides)));
    }
    Ok(cases)
}

/// The file's name, or its whole path where two files share a name.
fn label(file: &Path, all: &[PathBuf]) -> String {
    let shared = all.iter().filter(|other| other.file_stem() == file.file_stem()).count() > 1;
    match file.file_stem() {
        Some(stem) if !shared => stem.to_string_lossy().into_owned(),
        _ => file.to_string_lossy().into_owned(),
    }
}

fn refuse_equal_labels(cases: &[(String, Case)]) -> Result<(), Failure> {
    for (index, (label, _)) in cases.iter().enumerate() {
        if cases[..index].iter().any(|(earlier, _)| earlier == label) {
            return Err(Failure::request(
                "compare::label",
                format!("two of the things to compare are called `{label}`"),
                "give every variant its own label, and every file once",
            ));
        }
    }
    Ok(())
}

fn refuse_repeated_keys(axes: &[Axis]) -> Result<(), Failure> {
    for (index, axis) in axes.iter().enumerate() {
        if axes[..index].iter().any(|earlier| earlier.key == axis.key) {
            return Err(Failure::request(
                "sweep::repeated-key",
                format!("`{}` is varied twice", axis.key),
                "give all its values in one `--vary`",
            ));
        }
    }
    Ok(())
}

fn nights(axes: &[Axis]) -> Result<usize, Failure> {
    let nights =
        axes.iter().try_fold(1_usize, |nights, axis| nights.checked_mul(axis.values.len()));
    nights.filter(|&nights| nights <= MOST_NIGHTS).ok_or_else(|| {
        Failure::request(
            "sweep::too-many",
            format!("the grid has more than {MOST_NIGHTS} nights"),
            "vary fewer keys at once, or take fewer values of each",
        )
    })
}

fn variants_of_several() -> Failure {
    Failure::request(
        "compare::variants-of-several",
        "variants belong to one scenario, and several files are given".to_owned(),
        "name one file with `--variant`, or several files without it",
    )
}

#[cfg(test)]
mod tests {
    use clap::Parser;

    use super::*;
    use crate::arguments::{Arguments, Command};

    fn command(words: &[&str]) -> Command {
        Arguments::try_parse_from([&["evenglass"], words].concat()).unwrap().command
    }

    fn compare(words: &[&str]) -> Result<Compare, Failure> {
        match command(words) {
            Command::Compare(typed) => Compare::meant(typed),
            other => panic!("not a comparison: {other:?}"),
        }
    }

    fn named(words: &[&str]) -> Vec<(String, Case)> {
        match compare(words).unwrap().nights {
            Nights::Named(cases) => cases,
            Nights::Changes(case) => panic!("one night only: {case:?}"),
        }
    }

    fn sweep(words: &[&str]) -> Result<Sweep, Failure> {
        match command(words) {
            Command::Sweep(typed) => Sweep::meant(typed),
            other => panic!("not a sweep: {other:?}"),
        }
    }

    fn code(failure: &Failure) -> &'static str {
        match failure {
            Failure::Wrong(faults) | Failure::Impossible(faults) => faults[0].code,
            Failure::ClosedPipe => "none",
        }
    }

    #[test]
    fn the_last_axis_of_a_grid_varies_fastest() {
        let grid =
            sweep(&["sweep", "a.toml", "--vary", "x.a=1, 2", "--vary", "y.b=u, v, w"]).unwrap();
        assert_eq!(grid.nights, 6);
        let at = |index| -> Vec<String> {
            grid.member(index).into_iter().map(|change| change.value).collect()
        };
        assert_eq!(at(0), ["1", "u"]);
        assert_eq!(at(2), ["1", "w"]);
        assert_eq!(at(3), ["2", "u"]);
        assert_eq!(at(5), ["2", "w"]);
    }

    #[test]
    fn a_grid_that_nobody_can_wait_for_is_refused() {
        let wide = "x.a=1 .. 2 : 1000";
        let failure =
            sweep(&["sweep", "a.toml", "--vary", wide, "--vary", &wide.replace('x', "y")])
                .unwrap_err();
        assert_eq!(code(&failure), "sweep::too-many");
    }

    #[test]
    fn a_key_varied_twice_is_refused() {
        let failure =
            sweep(&["sweep", "a.toml", "--vary", "x.a=1, 2", "--vary", "x.a=3, 4"]).unwrap_err();
        assert_eq!(code(&failure), "sweep::repeated-key");
    }

    #[test]
    fn variants_are_compared_with_the_file_as_written() {
        let cases = named(&["compare", "a.toml", "--variant", "thin: m.t=3 mm"]);
        let labels: Vec<_> = cases.iter().map(|(label, _)| label.as_str()).collect();
        assert_eq!(labels, ["as written", "thin"]);
        assert_eq!(cases[0].1.overrides.len(), 0);
        assert_eq!(cases[1].1.overrides.len(), 1);
    }

    #[test]
    fn a_file_alone_asks_what_would_help_it() {
        let comparison = compare(&["compare", "a.toml", "--set", "m.t=3 mm"]).unwrap();
        assert!(matches!(comparison.nights, Nights::Changes(case) if case.overrides.len() == 1));
    }

    #[test]
    fn files_of_one_name_are_told_apart_by_their_folders() {
        let cases = named(&["compare", "a/m.toml", "b/m.toml", "n.toml"]);
        let labels: Vec<_> = cases.iter().map(|(label, _)| label.as_str()).collect();
        assert_eq!(labels, ["a/m.toml", "b/m.toml", "n"]);
    }

    #[test]
    fn a_comparison_that_makes_no_sense_says_which_way_it_does_not() {
        for (words, expected) in [
            (vec!["compare", "a.toml", "a.toml"], "compare::label"),
            (
                vec!["compare", "a.toml", "b.toml", "--variant", "x: k.l=1"],
                "compare::variants-of-several",
            ),
            (vec!["compare", "a.toml", "--variant", "as written: k.l=1"], "compare::label"),
        ] {
            assert_eq!(code(&compare(&words).unwrap_err()), expected, "{words:?}");
        }
    }

    #[test]
    fn the_result_folder_is_named_after_the_scenario_and_lies_here() {
        let case = |out: Option<&str>, file: &str| {
            let typed = ResultArguments { out: out.map(PathBuf::from), json: false };
            delivery(typed, Path::new(file)).folder
        };
        assert_eq!(case(None, "scenarios/first night.toml"), Path::new("first night-out"));
        assert_eq!(case(Some("x/y"), "a.toml"), Path::new("x/y"));
    }
}
