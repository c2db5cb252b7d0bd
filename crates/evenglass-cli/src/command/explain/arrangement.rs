//! The ways `[ventilation]` can move the air.

use super::keys::{Table, tables};
use super::{Article, find, unknown_name, whole};
use crate::failure::Failure;

macro_rules! arrangement {
    ($name:literal, $about:literal, $text:literal) => {
        Article { name: $name, about: $about, text: $text }
    };
}

/// One arrangement: what it does, then its keys.
pub(super) fn one(name: &str) -> Result<String, Failure> {
    let Some(article) = find(ARTICLES, name) else {
        let names: Vec<_> = ARTICLES.iter().map(|article| article.name).collect();
        return Err(unknown_name("arrangement", name, &names));
    };
    let path = ["ventilation", article.name];
    Ok(format!("{}\n{}", whole(article), tables(&Table { title: "[ventilation]", path: &path })))
}

/// Every `kind` of `[ventilation]`, in the order of the scenario's own description.
pub(super) const ARTICLES: &[Article] = &[
    arrangement!(
        "fan-behind",
        "one fan behind the middle blows at the back",
        "\
Back: strong under the fan, falling outward about as one over the distance from the axis. In a
closed cell a board leads the air outward, and the narrower the gap the stronger the film there.
Rim: in a closed cell all of the air passes it; in an open one it feels a little of it.
Front: left alone, still air and radiation. `second` may put an arrangement over it.

Refused: more than one fan (see fans-behind), a fan wider than mirror or box, a closed cell
without its `gap`, an open one with it, a fan so far beside the axis that it misses the glass.

Known to a third: a published law of a round jet on a plate, the fall outward set by makers'
practice (no source); swirl and the dead spot under the hub are left out."
    ),
    arrangement!(
        "fans-behind",
        "several fans on a circle behind the glass blow at the back",
        "\
Back: a peak under each fan. On a circle of half to two thirds of the mirror the cooling is
evener than from one fan (common practice, no source).
Rim: as with one fan in the same cell. Front: left alone; `second` may stand over it.

Refused: one fan (see fan-behind), fans that overlap on their circle or stand out of the box, a
closed cell without its `gap`.

Known to a third: each fan as if it were alone, joined so that the stronger counts most. Streams
that hit each other are not computed. `failed = 1` shows what one dead fan does."
    ),
    arrangement!(
        "suction",
        "fans draw the air in past the rim, along the back to the middle and out",
        "\
Back: weak and nearly even, 2 to 4 W/m²/K, for a flow that is drawn inward stays smooth.
Rim: the freshest air, so it runs ahead; foam holds it back.
Front: only its edge, as far in as twice the rim gap; a baffle, a ring over the edge, leads the
air over more of it. The warm air leaves behind, away from the light path.

Refused: a `baffle` as wide as the mirror, a `rim_gap` wider than `clearance` of [telescope], or
neither of the two. The air reaches the glass unfiltered; `layers` only add resistance.

The gap is known to a seventh, the edge of the front to a third."
    ),
    arrangement!(
        "plenum",
        "a plenum blows through a perforated plate at the back and a slot around the rim",
        "\
Back: many small jets, nearly alike everywhere, the outer ones weakened by the air that leaves.
Rim: the fast stream of the outlet. Front: left alone; `second` may stand over it.
One pressure drives both: if the middle must be slow, put felt or foam as `cover` on the plate.

Refused: a plate or an outlet wider than the box, a plate that reaches into the outlet, holes
wider than the plate or so many that they run into each other.

The back is known to a quarter inside the plate's law (2 to 12 hole diameters away, 4 % open),
the rim as a gap, of which only the part of the stream counts that runs along it (`angle`)."
    ),
    arrangement!(
        "ring-nozzle",
        "a ring nozzle around the rim sends a thin sheet of air inward over the front",
        "\
Front: strong just inside the edge, weaker where the smooth sheet ends, stronger again where it
has become turbulent, and one warm column in the middle where the sheets meet.
Back and rim: cooled on the way if `path` leads the air there; else left alone.

Refused: a slot so high or so far out that the sheet cannot attach, a lip that covers the whole
mirror, a `ring_section` smaller than the slot itself, a mean slot outside `slot_range`, a
`feed_angle` of a ring that is fed evenly, and a `second` over the same front.

The mean is known to a quarter, one place to a half: no published measurement of a sheet that
runs inward over a disc was found. The program warns if the sheet may not attach."
    ),
    arrangement!(
        "side-fans",
        "rows of fans beside the mirror blow across the front",
        "\
Front: a sweep, strongest at the near edge and weakest at the far one; two rows that face each
other are evener and meet in the middle. Back and rim: left alone.

Refused: a row longer than the box or its own `width`, and an odd number of fans in two rows.

Known to a third: each fan a jet along a wall by published widths and decay. Temperatures
that differ from side to side are followed in four orders, and show as astigmatism and coma."
    ),
    arrangement!(
        "corner-fans",
        "fans in the corners of the box blow across the front towards the middle",
        "\
Front: a streak from each corner, on average like fans beside the mirror; they meet in the middle
and rise. Back and rim: left alone.

Refused: fans that overlap around the mirror.

Known to a third; what happens where the streams meet is not computed."
    ),
    arrangement!(
        "fan-above",
        "a fan on the axis above the front blows down",
        "\
Front: strong in the middle, falling outward, like the back above a fan behind. For the first
hour, before anyone looks: it stands in the light. Back and rim: left alone.

Refused: more than one fan, and a fan that hides the whole mirror.

The law of a round jet on a plate, two to twelve diameters away; for a fan known to a third."
    ),
    arrangement!(
        "open",
        "no fans: the wind reaches the front as far as the telescope lets it",
        "\
Front: the wind of [night] times `shelter` of [telescope], or still air in a calm.
Back and rim: still air and radiation.

Refused: fans, and a night of which the wind is not given.

A published law for inclined plates in wind, here good to a fifth; the shelter, where it is left
out, is an estimate of ours, good to a half."
    ),
    arrangement!(
        "sealed",
        "no fans and no openings: the air stays in the box",
        "\
All faces: the enclosed air turns over above a warm front and lies in layers below the back, and
the heat leaves through the walls. Write `cover = \"on\"` in [night] and the box in [telescope].

Refused: fans and layers.

Published laws for still air in shallow gaps; a fifth with real corners, pads and leaks."
    ),
];

#[cfg(test)]
mod tests {
    use evenglass_scenario::{keys_of, kinds_of};

    use super::*;

    #[test]
    fn every_arrangement_that_can_be_written_is_explained_with_all_its_keys() {
        let kinds = kinds_of(&["ventilation"]);
        let names: Vec<_> = ARTICLES.iter().map(|article| article.name).collect();
        assert_eq!(names, kinds.iter().map(|kind| kind.0).collect::<Vec<_>>());
        for name in names {
            let text = one(name).unwrap();
            for key in keys_of(&["ventilation", name]).unwrap() {
                let line = format!("  {}: ", key.name);
                assert!(
                    text.contains(&line) && text.contains(key.about.split(' ').next().unwrap())
                );
            }
        }
        assert!(one("plenum").unwrap().contains("hole_diameter"), "tables within are shown");
        assert!(one("ring-nozzle").unwrap().contains("kind = \"past-back\""), "kinds within too");
        assert!(one("ring-nozzle").unwrap().contains("Keys of `plate`"), "and tables in kinds");
    }

    #[test]
    fn an_arrangement_says_what_it_does_to_each_face_what_it_refuses_and_how_well_it_is_known() {
        for article in ARTICLES {
            let faces = ["Front: ", "Back", "im: "].iter().all(|face| article.text.contains(face));
            assert!(faces || article.text.starts_with("All faces: "), "{}", article.name);
            let doubts = ["third", "quarter", "fifth", "seventh"];
            assert!(doubts.iter().any(|doubt| article.text.contains(doubt)), "{}", article.name);
            assert!(article.text.contains("Refused: "), "{}", article.name);
        }
    }
}
