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
By area. What drives the shimmer over the face; in this version it alone decides whether the image
counts as good."
    ),
    column!(
        "heat_lost_j",
        "heat that has left the glass since the start [J]",
        "Falls when the glass takes heat up."
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
