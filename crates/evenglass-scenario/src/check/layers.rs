//! `layers` of [ventilation] and `cover` of a plate.

use evenglass_units::{Pressure, Speed};

use crate::read::Reader;
use crate::ventilation::{Layer, LayerKind};

/// Entries of one list.
const MOST_LAYERS: usize = 50;

/// The layers of a key; none where it is left out.
pub(crate) fn read(reader: &Reader<'_>, key: &str) -> Option<Vec<Layer>> {
    if !reader.has(key) {
        return Some(Vec::new());
    }
    let items = reader.list(key)?;
    if items.len() > MOST_LAYERS {
        let fact = format!("`{key}` has {} entries", items.len());
        let help = format!("give at most {MOST_LAYERS}; equal ones are one entry with `count`");
        reader.ledger.note("scenario::range", reader.place(key), fact, help);
        return None;
    }
    let label = format!("`{key}`");
    let read: Vec<Option<Layer>> = items
        .iter()
        .map(|item| {
            let (kind, layer) = reader.kind_at(key, item, &label)?;
            let has_count = layer.whole("count");
            let kind = one(kind, &layer);
            Some(Layer { kind: kind?, count: has_count? })
        })
        .collect();
    read.into_iter().collect()
}

fn one(kind: &str, layer: &Reader<'_>) -> Option<LayerKind> {
    match kind {
        "filter" => {
            let (media, area) = (layer.choice("media"), layer.area("area"));
            let loading = layer.number("loading");
            Some(LayerKind::Filter { media: media?.to_owned(), area: area?, loading: loading? })
        }
        "porous" => porous(layer),
        "perforated" => {
            let (open, area) = (layer.number("open_fraction"), layer.area("area"));
            let [hole, thickness] = ["hole_diameter", "thickness"].map(|key| layer.length(key));
            Some(LayerKind::Perforated {
                open_fraction: open?,
                area: area?,
                hole_diameter: hole?,
                thickness: thickness?,
            })
        }
        "opening" => Some(LayerKind::Opening { area: layer.area("area")? }),
        "bend" => bend(layer),
        "duct" => {
            let [diameter, length] = ["diameter", "length"].map(|key| layer.length(key));
            Some(LayerKind::Duct { diameter: diameter?, length: length? })
        }
        "step" => {
            let [from, to] = ["from", "to"].map(|key| layer.length(key));
            Some(LayerKind::Step { from: from?, to: to? })
        }
        _ => {
            let (coefficient, area) = (layer.number("coefficient"), layer.area("area"));
            Some(LayerKind::Loss { coefficient: coefficient?, area: area? })
        }
    }
}

fn bend(layer: &Reader<'_>) -> Option<LayerKind> {
    let diameter = layer.length("diameter");
    let (radius, angle) = (layer.settled("radius", Reader::length), layer.angle("angle"));
    let (diameter, radius) = (diameter?, radius?);
    if let Some(radius) = radius
        && radius.metres() < 0.5 * diameter.metres() * (1.0 - 1e-9)
    {
        layer.unbuildable(
            "radius",
            format!(
                "a bend of radius `{}` cannot be made of a duct of `{}`",
                layer.written("radius"),
                layer.written("diameter")
            ),
            "give the radius of its middle line, at least half the diameter, or leave it out for a mitre".to_owned(),
        );
    }
    Some(LayerKind::Bend { diameter, radius, angle: angle? })
}

fn porous(layer: &Reader<'_>) -> Option<LayerKind> {
    let (speeds, drops) = (layer.si_list("speed"), layer.si_list("pressure"));
    let (area, loading) = (layer.area("area"), layer.number("loading"));
    let (speeds, drops) = (speeds?, drops?);
    let complain = |key: &str, fact: String, help: &str| {
        layer.ledger.note("scenario::table", layer.place(key), fact, help.to_owned());
        None
    };
    if speeds.len() != drops.len() {
        let fact =
            format!("`speed` has {} entries and `pressure` has {}", speeds.len(), drops.len());
        return complain("pressure", fact, "give one pressure for each speed");
    }
    if speeds.len() > 2 {
        let fact = format!("`speed` has {} entries", speeds.len());
        return complain("speed", fact, "give one or two, those nearest to how the layer is used");
    }
    let rises = |values: &[f64]| values.windows(2).all(|pair| pair[1] > 1.001 * pair[0]);
    if !rises(&speeds) {
        let fact = "`speed` does not rise".to_owned();
        return complain("speed", fact, "put the slower measurement first");
    }
    if !rises(&drops) {
        let fact = "`pressure` does not rise with the speed".to_owned();
        return complain(
            "pressure",
            fact,
            "more speed takes more pressure: check the measurements",
        );
    }
    let points = speeds.into_iter().zip(drops);
    Some(LayerKind::Porous {
        points: points
            .map(|(speed, drop)| {
                (Speed::from_metres_per_second(speed), Pressure::from_pascals(drop))
            })
            .collect(),
        area: area?,
        loading: loading?,
    })
}
