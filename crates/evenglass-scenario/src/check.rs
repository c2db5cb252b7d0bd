//! From what was written to what is meant: every table read, then held against the others.

mod arrangement;
mod event;
mod face;
mod fans;
mod layers;
mod mirror;
mod night;
mod output;
mod series;
mod telescope;
mod unused;
mod ventilation;

use std::path::Path;

use evenglass_units::Temperature;

use crate::keys::FILE;
use crate::ledger::{At, Ledger};
use crate::read::Reader;
use crate::scenario::{Conditions, Event, Face, Film, Mirror, Scenario};
use crate::telescope::Telescope;
use crate::tree::{Node, Table, Value};
use crate::ventilation::Ventilation;

/// What surrounds the tables of a scenario.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Surroundings<'a> {
    /// Title where the file has none.
    pub(crate) title: &'a str,
    /// Folder that relative paths start from.
    pub(crate) base: &'a Path,
}

/// The scenario, if nothing is wrong; whatever is wrong has been noted.
pub(crate) fn scenario(
    root: &Table,
    surroundings: Surroundings<'_>,
    ledger: &Ledger,
) -> Option<Scenario> {
    let at = At { text: 0, span: 0..0 };
    let file = Reader::new(ledger, (root, &at), &FILE, "the file");
    let title = if file.has("title") {
        file.text("title").map(str::to_owned)
    } else {
        Some(surroundings.title.to_owned())
    };
    let mirror = file.inner("mirror", "[mirror]").and_then(|reader| mirror::read(&reader));
    let site = file.inner("site", "[site]").map(|reader| output::site(&reader));
    let night_reader = file.inner("night", "[night]");
    let times = night_reader.as_ref().map(night::times).unwrap_or_default();
    let changes = event::read(&file, &times);
    let elevation = site.as_ref().and_then(|site| site.elevation);
    let night = night_reader.and_then(|reader| {
        night::read(&reader, &night::Known { times, changes, elevation, base: surroundings.base })
    });
    let surely =
        face::Known { times, has_wind: has_wind(root), is_ventilated: file.has("ventilation") };
    let faces = faces(&file, mirror.as_ref(), surely);
    let start = night.as_ref().map(|night| night.glass_temperature);
    let air = air(&file, (mirror.as_ref(), start), surely);
    let good = output::good(file.inner("good", "[good]").as_ref());
    let output = output::output(file.inner("output", "[output]").as_ref(), &times);
    let [front, back, rim, hole] = faces;
    if let (Some(night), true) = (&night, has_wind(root)) {
        check_wind(&file, night, front.as_ref());
        check_open(&file, night, &air);
    }
    check_heater(&file, &air);
    let mirror = mirror?;
    let hole = match mirror.hole_diameter {
        Some(_) => Some(hole?),
        None => None,
    };
    Some(Scenario {
        title: title?,
        night: night?,
        front: front?,
        back: back?,
        rim: rim?,
        hole,
        ventilation: air.ventilation?,
        telescope: air.telescope?,
        good: good?,
        site,
        output: output?,
        unused: unused::unused(root),
        mirror,
    })
}

/// The events of a scenario, as they stand in its file.
pub(crate) fn events(root: &Table, ledger: &Ledger) -> Vec<Event> {
    let at = At { text: 0, span: 0..0 };
    let file = Reader::new(ledger, (root, &at), &FILE, "the file");
    let night = file.inner("night", "[night]");
    event::listed(&file, &night.as_ref().map(night::times).unwrap_or_default())
}

fn faces(file: &Reader<'_>, mirror: Option<&Mirror>, known: face::Known) -> [Option<Face>; 4] {
    let bare = mirror.map(|mirror| mirror.glass.emissivity);
    let fan_room = mirror.map(|mirror| mirror.diameter.metres());
    let side = |name, label, emissivity| face::Side { name, label, emissivity, fan_room };
    let front = face::read(file, &side("front", "[front]", Some(face::ALUMINISED)), known);
    let back = face::read(file, &side("back", "[back]", bare), known);
    let rim = face::read(file, &side("rim", "[rim]", bare), known);
    let hole = face::read(file, &side("hole", "[hole]", bare), known);
    if file.has("hole") && lacks_hole(file.table) {
        file.conflict(
            "hole",
            "[hole] is given, but the mirror has no hole".to_owned(),
            "add `hole_diameter` to [mirror], or leave [hole] out".to_owned(),
        );
    }
    [front, back, rim, hole]
}

/// What moves the air and what stands around it; `None` where that is wrong.
struct Air {
    #[allow(clippy::option_option, reason = "absent and wrong are two things here")]
    ventilation: Option<Option<Ventilation>>,
    #[allow(clippy::option_option, reason = "absent and wrong are two things here")]
    telescope: Option<Option<Telescope>>,
}

fn air(
    file: &Reader<'_>,
    (mirror, glass_temperature): (Option<&Mirror>, Option<Temperature>),
    known: face::Known,
) -> Air {
    let telescope = file.settled("telescope", |file, key| {
        let known = telescope::Known { mirror, glass_temperature };
        telescope::read(&file.inner(key, "[telescope]")?, known)
    });
    let around = ventilation::Known {
        times: known.times,
        has_wind: known.has_wind,
        mirror,
        telescope: telescope.as_ref().and_then(Option::as_ref),
        has_telescope: file.has("telescope"),
    };
    let ventilation = file.settled("ventilation", |file, _| ventilation::read(file, &around));
    Air { ventilation, telescope }
}

/// The same for an `open` arrangement.
fn check_open(file: &Reader<'_>, night: &Conditions, air: &Air) {
    let open = air.ventilation.iter().flatten().any(Ventilation::needs_wind);
    if open && night.wind.is_none() {
        file.conflict(
            "ventilation",
            "`open` needs the wind, and the weather file does not give it".to_owned(),
            "add a column `wind [m/s]` to the file, or wind = \"1 m/s\" to [night]".to_owned(),
        );
    }
}

/// Whoever turns a heater needs one.
fn check_heater(file: &Reader<'_>, air: &Air) {
    let Some(telescope) = &air.telescope else { return };
    let secondary = telescope.as_ref().and_then(|telescope| telescope.secondary);
    if secondary.is_some_and(|secondary| secondary.heater_w.is_some()) {
        return;
    }
    let turned = |node: &Node| match &node.value {
        Value::Table(table) => table.get("secondary_heater").is_some(),
        _ => false,
    };
    let turns = |key: &str| match file.table.get(key) {
        Some(Node { value: Value::List(items), .. }) => items.iter().any(turned),
        node => node.is_some_and(turned),
    };
    if let Some(key) = ["night", "event"].into_iter().find(|key| turns(key)) {
        file.conflict(
            key,
            "`secondary_heater` turns a heater that the secondary does not have".to_owned(),
            "add heater = \"1.5 W\" to `secondary` in [telescope], or leave `secondary_heater` out"
                .to_owned(),
        );
    }
}

/// A weather file may or may not have a column for the wind; only reading it tells.
fn check_wind(file: &Reader<'_>, night: &Conditions, front: Option<&Face>) {
    let breeze = front.is_some_and(|front| matches!(front.film, Film::Breeze { .. }));
    if breeze && night.wind.is_none() {
        file.conflict(
            "front",
            "a `breeze` film needs the wind, and the weather file does not give it".to_owned(),
            "add a column `wind [m/s]` to the file, or wind = \"1 m/s\" to [night]".to_owned(),
        );
    }
}

/// Whether [mirror] is there without a hole, or anything that might be a misspelt one.
fn lacks_hole(root: &Table) -> bool {
    match root.get("mirror").map(|node| &node.value) {
        Some(Value::Table(mirror)) => !mirror.entries.iter().any(|e| e.key.starts_with("hole")),
        _ => false,
    }
}

/// Whether the night says what the wind does; a weather file may do so, and is asked later.
fn has_wind(root: &Table) -> bool {
    let Some(Value::Table(night)) = root.get("night").map(|node| &node.value) else { return true };
    let from_file = match night.get("air").map(|node| &node.value) {
        Some(Value::Table(air)) => {
            matches!(air.get("kind").map(|node| &node.value), Some(Value::Text(k)) if k == "file")
        }
        _ => false,
    };
    from_file || night.get("wind").is_some()
}
