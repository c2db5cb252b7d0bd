//! The columns of the tables that are written.

use super::Article;

macro_rules! column {
    ($name:literal, $about:literal, $text:literal) => {
        Article { name: $name, about: $about, text: $text }
    };
}

/// The columns of `history.csv` in their order, then what `compare.csv` and `sweep.csv` add.
pub(super) const ARTICLES: &[Article] = &[
    column!(
        "time_s",
        "seconds since the start of the run",
        "One row per output interval. At a jump, of a film or a fan, the row holds the state after it."
    ),
    column!("clock", "local time, HH:MM:SS", "The same instant on the clock of the scenario."),
    column!("air_c", "night air [°C]", "What the scenario or the weather file says."),
    column!(
        "front_centre_c",
        "front face, centre [°C]",
        "On the axis, or at the wall of the hole. The temperature of the surface itself."
    ),
    column!(
        "front_edge_c",
        "front face, edge [°C]",
        "Where the front meets the rim. The temperature of the surface itself."
    ),
    column!(
        "mid_centre_c",
        "half the thickness, centre [°C]",
        "On the axis, or at the wall of the hole, halfway between back and front."
    ),
    column!("mid_edge_c", "half the thickness, rim [°C]", "On the rim, halfway up."),
    column!(
        "back_centre_c",
        "back face, centre [°C]",
        "On the axis, or at the wall of the hole. The temperature of the surface itself."
    ),
    column!(
        "back_edge_c",
        "back face, edge [°C]",
        "Where the back meets the rim. The temperature of the surface itself."
    ),
    column!("mean_c", "mean of the glass [°C]", "By volume."),
    column!(
        "edge_minus_centre_k",
        "rim minus centre, at half the thickness [K]",
        "\
Always given because it is what makers measure. It is not a measure of the figure: a film that
varies over a face bends the mirror with either sign while this difference looks harmless."
    ),
    column!(
        "front_edge_minus_centre_k",
        "edge minus centre on the front face [K]",
        "As edge_minus_centre_k, on the optical face."
    ),
    column!("spread_k", "warmest minus coldest point of the glass [K]", "Over the whole section."),
    column!(
        "front_minus_air_k",
        "mean of the front face minus air [K]",
        "\
By area. What drives the shimmer over the face. It is held against a limit of its own only where
`good.front_minus_air` sets one."
    ),
    column!(
        "heat_lost_j",
        "heat that has left the glass since the start [J]",
        "Falls when the glass takes heat up."
    ),
    column!(
        "defocus_nm",
        "coefficient of (r/a)² in the best fit of piston and (r/a)² to the surface [nm]",
        "\
a is the radius of the mirror. + is an edge that stands high against the centre: the mirror is
deeper and its focus shorter. It is refocused away, and does not count as figure. The surface is
what the temperatures have made of the front since the glass was free of stress
(docs/physics/figure.md, docs/physics/image.md)."
    ),
    column!(
        "focus_shift_um",
        "how far the focus of the glass has moved, + away from the mirror [µm]",
        "\
-defocus R²/a², with R the radius of curvature at the vertex. The glass alone; tube_focus_um is the
tube's share. Empty for a flat."
    ),
    column!(
        "refocus_minutes",
        "time until the focus, at its present rate, has moved by its depth [min]",
        "\
The depth is 2 λ N², a quarter wave at the edge, for 550 nm and the focal ratio N. Glass and tube
together where the tube's expansion is known. Empty for a flat."
    ),
    column!(
        "figure_pv_nm",
        "peak to valley of the round part of the figure, after refocusing [nm]",
        "Of the surface from hole to rim. The wavefront has twice as much."
    ),
    column!(
        "figure_rms_nm",
        "the round part of the figure, after refocusing, RMS over the area [nm]",
        "\
Of the surface from hole to rim; the wavefront has twice as much. Whether the image is good is
judged with the lopsided orders as well: the root of the sum of all squares."
    ),
    column!(
        "spherical_nm",
        "third-order spherical error of the surface: Noll's term 11, RMS [nm]",
        "Negative where the edge is low: over-corrected."
    ),
    column!(
        "correction_percent",
        "the same against what parabolising takes off, + over-corrected [%]",
        "\
100 times spherical_nm over -a⁴/(48 √5 R³), the paraboloid against its sphere to third order. A
mirror whose rim is colder than its middle goes over-corrected. Empty for a flat."
    ),
    column!(
        "coma_nm",
        "coma of the surface: Noll's terms 7 and 8 together, RMS [nm]",
        "\
Made by air that is stronger on one side. Tilt is taken off. The summary says where the rim is
high, on a clock seen from the front."
    ),
    column!(
        "astigmatism_nm",
        "astigmatism of the surface: Noll's terms 5 and 6 together, RMS [nm]",
        "Made by air that is stronger along one diameter."
    ),
    column!(
        "trefoil_nm",
        "trefoil of the surface: Noll's terms 9 and 10 together, RMS [nm]",
        "Made by air or pads that repeat three times around."
    ),
    column!(
        "strehl",
        "Strehl ratio of figure and mirror's own air at 550 nm [-]",
        "\
How bright the peak of a star is against that of a perfect mirror of the same obstruction
(`telescope.secondary`), the sky left out: exp(-σ²) of the phase (docs/physics/image.md). Empty
below 0.3, where that formula ends and the image is poor anyway."
    ),
    column!(
        "seeing_arcsec",
        "blur by the mirror's own air [arcsec]",
        "\
Full width at half maximum: the face, the column above it and the air in a box, without the
sky's. It adds to the sky's to the power 5/3. Its band is wide and
stands in summary.json under `bands`."
    ),
    column!(
        "fan_speed",
        "speed of the fans, as a fraction of full speed",
        "\
What the fans of [ventilation] really do: 0 where they are asked for less than they can turn at,
and less than asked where the supply is below the rated voltage. With a fan-behind film, what the
night asks for. 0 where nothing turns."
    ),
    column!(
        "flow_l_s",
        "air that reaches the glass [L/s]",
        "\
Less than the fans move where some of it leaks. 0 while the fans stand still and where there are
none. With a fan-behind film it is the flow that was written, times the speed."
    ),
    column!(
        "column_excess_k",
        "air that rises over the mirror minus night air [K]",
        "\
At the foot of the column in which moved air ends after it has taken up the heat of the glass.
Empty where there is no such column: no fans, fans that stand still, or air that leaves behind."
    ),
    column!(
        "dew_margin_primary_k",
        "coldest point of the primary's front minus the dew point [K]",
        "\
Below 0 °C the frost point, which is a little higher. Dew forms below 0 K. The vapour is that of the
night air, also in a tube or under a cover. Empty where the night tells neither its `dew_point` nor
its `relative_humidity`."
    ),
    column!(
        "dew_margin_secondary_k",
        "the secondary's face minus the dew point [K]",
        "The same of the secondary. Empty without `telescope.secondary` as well."
    ),
    column!(
        "good",
        "whether the image is good: true or false",
        "\
Figure and shimmer are within the limits of [good], the dew margins where the night tells its
humidity, and front minus air where a limit of it is written, in a stretch that lasts at least `good.held_for`."
    ),
    column!(
        "wall_c",
        "wall around the mirror [°C]",
        "The wall of tube or box as one body. Empty without [telescope]."
    ),
    column!(
        "tube_focus_um",
        "the tube's share in the focus since the start, + away from the mirror [µm]",
        "\
A tube that shrinks brings the focuser nearer to the mirror, and the focus comes to lie beyond it:
minus the tube's expansion times focal length times warming. Empty where nothing is said of the
tube: `telescope.expansion`, or a wall of a known material."
    ),
    column!(
        "good_aperture_mm",
        "widest aperture on which the figure is within its limit [mm]",
        "\
The whole mirror, or what a round mask leaves: what `good.figure_rms` allows, refocused for that
aperture. 0 if no mask of two fifths of the diameter or more helps."
    ),
    column!(
        "secondary_c",
        "face of the secondary [°C]",
        "\
It follows the air, the column and the wall around it, and its back the sky (docs/physics/dew.md).
Empty without `telescope.secondary`."
    ),
    column!(
        "good_hours",
        "hours of good image in the night",
        "\
In compare.csv and sweep.csv. What counts as good is the [good] section of the scenario."
    ),
    column!(
        "ready_at",
        "when the first good stretch begins, on the clock",
        "In compare.csv and sweep.csv. Empty where there is none."
    ),
    column!(
        "end.NAME",
        "a column of history.csv at the end of the night",
        "In compare.csv and sweep.csv, for every NAME of history.csv but time_s and clock."
    ),
    column!(
        "min.NAME",
        "the smallest value of a column of history.csv in the night",
        "In compare.csv and sweep.csv, for every NAME of history.csv but time_s and clock."
    ),
    column!(
        "max.NAME",
        "the largest value of a column of history.csv in the night",
        "In compare.csv and sweep.csv, for every NAME of history.csv but time_s and clock."
    ),
];
