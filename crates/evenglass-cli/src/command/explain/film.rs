//! What can cool a face of the glass.

use super::Article;

/// Every `kind` of film a scenario can name.
pub(super) const ARTICLES: &[Article] = &[
    Article {
        name: "still",
        about: "no forced air: the face warms the air and the air moves by itself",
        text: "\
What a face has when nothing else is written. The film follows from the difference between
glass and air and from how the face lies: a warm face that looks up, or a cold one that looks
down, stirs the air; the other way round the air lies still on it. The rim counts as a small
vertical wall. Radiation is on.

  film = { kind = \"still\" }

Use it for every face no fan reaches. Typical size: 1 to 4 W/m²/K of moving air, and about 4 of
radiation on bare glass.

Sources: Raithby & Hollands, Handbook of Heat Transfer (1998), ch. 4, for the two faces;
Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1323, for the rim. Published laws for the
upward face differ by a third or more, so take the film as known to 15 to 20 %.",
    },
    Article {
        name: "fan-behind",
        about: "an axial fan on the axis, blowing at the middle of the back",
        text: "\
For the back face only, without [ventilation]. The air leaves the fan, meets the glass under the blades and runs outward
along the back, slower the further it goes; so the middle is cooled harder than the rim.

  film = { kind = \"fan-behind\", fan_diameter = \"120 mm\", hub_diameter = \"40 mm\",
           distance = \"60 mm\", flow = \"20 L/s\", cell = \"closed\", gap = \"40 mm\" }

`flow` is what really passes at full speed, with the filter and the box in place; it is less than
the number printed on the fan. It goes with `fan_speed` of the night and its events.
`cell = \"open\"` lets the air run free; `cell = \"closed\"` is a board behind the glass that leads
the air outward through a gap, and needs `gap`. Radiation is on.

Sources: Martin, Adv. Heat Transfer 13 (1977) 1, for a round jet on a plate. A fan is not a
nozzle: swirl and the hub are not in that law, so take the film as known to a third.

With [ventilation] the flow follows from the fan, the filter and the gaps, and the rim gets its
share: `evenglass explain arrangement fan-behind`.",
    },
    Article {
        name: "breeze",
        about: "wind over the open front",
        text: "\
For a front that the night air sweeps. `wind` must be given in the night, as a value, a table or a
column of the weather file; `shelter` is the share of it that reaches the glass: near 1 for an open
truss in the field, 0.1 or less down a solid tube. With no wind the film is that of still air.
Radiation is on.

  film = { kind = \"breeze\", shelter = 0.4 }",
    },
    Article {
        name: "given",
        about: "a film coefficient you know, in W/m²/K",
        text: "\
For films that were measured, and for checks. One value, or values along the radius (front and
back) or along the height above the back (rim and hole); linear between the points, held beyond
the ends, and a repeated radius is a jump.

  film = { kind = \"given\", coefficient = \"8 W/m2/K\" }
  film = { kind = \"given\", radius = [\"0 mm\", \"124 mm\", \"124 mm\", \"203 mm\"],
           coefficient = [\"25 W/m2/K\", \"25 W/m2/K\", \"4 W/m2/K\", \"4 W/m2/K\"],
           factor = { time = [\"0 h\", \"1 h\", \"1 h\", \"8 h\"], value = [1.0, 1.0, 0.33, 0.33] } }

`factor` multiplies the film through the night; `fan_speed` does not touch it. `air_offset` is how
much warmer the air at the face is than the night. A given film radiates only if `radiation` is
written: for a film measured on the real mirror radiation is already inside the number.
0 W/m²/K is a sealed face.

Typical sizes: 2 to 6 in still air, 8 to 15 under a gentle fan, 20 to 40 where a fan blows on the
glass from near by (common practice, no source).",
    },
];
