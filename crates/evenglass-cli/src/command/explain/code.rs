//! Every code a message can carry, those of scenario files aside: the crate that
//! reads them explains them.

use super::Article;

macro_rules! code {
    ($name:literal, $about:literal, $text:literal) => {
        Article { name: $name, about: $about, text: $text }
    };
}

/// In alphabetical order.
pub(super) const ARTICLES: &[Article] = &[
    code!(
        "airflow::hole",
        "the mirror has a hole, and moved air is computed as if it had none",
        "\
Air that would pass through the hole is missing from the network: a fan on the axis blows at
nothing, suction draws through the hole what should have come past the rim. With a hole that is
small against the other gaps the error is small; close it with a plug to make it none."
    ),
    code!(
        "airflow::may-not-attach",
        "the sheet from the ring nozzle may pass over the glass without touching it",
        "\
A sheet bends down to the glass by the suction below it. From a slot too high above the edge, or
blown too slowly, it may stay free, and then the front has little of it. Lower `height` to two slot
widths or less, make the slot narrower, or blow faster. The night is computed as if it attached."
    ),
    code!(
        "airflow::no-operating-point",
        "fans and resistance find no balance",
        "\
No flow was found at which the fans hold what the air passes; the night is computed as if none
moved. Look for an opening, a gap or an area that is smaller than meant."
    ),
    code!(
        "airflow::sheet-range",
        "the sheet from the ring nozzle is slower or faster than such sheets were watched at",
        "\
Where a thin sheet breaks up was seen at Reynolds numbers of the slot from 300 to 3000 (slot width
times speed over 15 mm²/s). Outside them the place is a guess, and with it the film: twice or half
of it in places, less on average. Do not choose between two slots by such a night."
    ),
    code!(
        "airflow::stall",
        "the fans blow against more pressure than they are made for",
        "\
Left of about four tenths of its free flow an axial fan stalls (common practice, no source): its
flow may be a third lower than computed, it is louder, and it swings. Give the filter more area and
the openings more width, put a second fan in series, or use a blower."
    ),
    code!(
        "airflow::standing",
        "the fans are asked to turn more slowly than they can",
        "\
Below `minimum_speed` a fan stands still, and it needs `start_speed` to start; a supply below the
rated voltage brings that sooner. The faces are computed in still air then. Ask for more, or write
what your fans really do: many turn down to 0.2, some stop at 0.4 (common practice, no source)."
    ),
    code!(
        "airflow::wind-on-sheet",
        "the wind at the mirror breaks the sheet from the ring nozzle",
        "\
As a rough rule a sheet four times as fast as the breeze across it stands, and one less than twice
as fast is blown off the glass. The night is computed as if it stood. A lower `shelter` (a shroud,
a deeper box) or a faster sheet helps; `evenglass size` gives the verdict for three breezes."
    ),
    code!(
        "compare::label",
        "two of the nights to compare have the same label",
        "\
The label names the column, the curve and the row. Give each variant its own, and name each file
once; the scenario without changes is called \"as written\"."
    ),
    code!(
        "compare::variants-of-several",
        "variants were asked for of more than one file",
        "\
`--variant` changes one scenario. Compare either one file and its variants, or several files.
`--set` changes a key in all of them."
    ),
    code!(
        "dew::fans-feed-dew",
        "fans blow at a front that is colder than the dew point",
        "\
Moved air brings glass to the temperature of the air, and brings it vapour as well. As long as the
glass is colder than the dew point every litre of air leaves water on it: more air makes more dew.
That comes to an end when the glass has warmed past the dew point, sooner with more air; until
then cover the mirror, or stop the fans. A mirror that has been cooled below the air, or carried out
cold into a mild damp night, is in that state at the start."
    ),
    code!(
        "explain::unknown-name",
        "nothing of that topic has that name",
        "The message lists the names there are."
    ),
    code!(
        "explain::unknown-topic",
        "neither a topic nor a code",
        "`evenglass explain` lists the topics, `evenglass explain codes` the codes."
    ),
    code!(
        "films::breeze-range",
        "the wind at the glass is weaker or stronger than its law was measured in",
        "\
The film keeps growing with the square root of the speed, which is what the law does inside its
range. Take it with more doubt than the others; a weak breeze is nearly still air."
    ),
    code!(
        "films::calm-clear-sky",
        "the night does not say what wind and sky are; calm and clear are assumed",
        "\
Under a clear sky without wind the walls of a telescope are colder than the air by degrees, and
cool the air on its way to the mirror and the mirror itself. That can decide whether the front ends
above or below the air. Add wind = \"1 m/s\" and cloud = 0.5 (0 is clear, 1 overcast) to [night], or
a weather file that has them; compare both before trusting either."
    ),
    code!(
        "films::cover",
        "the night has a cover, but nothing is said of what it closes",
        "\
A cover, or an arrangement `sealed`, closes the box or tube of [telescope]: then the air inside goes
its own way, and a fan moves it round and round. Without that section there is no air inside to
reckon with, and the night is computed as if the cover were off. Add [telescope], or trust the night
only from when the cover comes off."
    ),
    code!(
        "films::fan-behind-back-only",
        "a fan behind the mirror was written for a face that is not the back",
        "\
The law is that of a jet that meets the back and runs outward. Write `still`, or `given` with a
film you have measured, for the other faces."
    ),
    code!(
        "films::free-range",
        "still air on a mirror smaller, or in air thinner, than the laws were measured in",
        "\
The film of still air is continued beyond its range and may be off by a third there. It matters
little where a fan does the work."
    ),
    code!(
        "films::jet-range",
        "the fan's jet is outside the speeds or distances of its law",
        "\
The law was measured at Reynolds numbers of 2000 and more and 2 to 12 diameters away. A fan that
nearly stands, or sits right under the glass, is continued or held at the end of that range. Take
the film of the back as known to a third at best, and measure a real mirror if it decides anything."
    ),
    code!(
        "films::no-wind",
        "a breeze was written for a face, but the night has no wind",
        "\
The face is computed in still air. Give the night a wind, as in `wind = \"1 m/s\"` or as a column of
the weather file, or write `still` for the face."
    ),
    code!(
        "films::temperature-range",
        "air or glass is colder than -40 or warmer than 60 degrees Celsius",
        "\
The tables of air and of glass end there and are continued. Look for a slip in a temperature; if it
is meant, expect specific heat and conductivity to drift from the truth by a few per cent."
    ),
    code!(
        "films::tilt-range",
        "the telescope points lower than the laws of still air were measured at",
        "\
Free convection on a tilted face was measured down to 30 degrees of altitude. Below that the film
of still air may be off by a third."
    ),
    code!(
        "films::wall-layer-range",
        "the air along the back is slower than its law was measured in",
        "\
Far from the fan, or with the fan turned down, the flow over the back is slower than in the
laboratory. The film there may be off by a third either way. Where it decides between two designs,
compare both with the film a third higher and a third lower, as `given`."
    ),
    code!(
        "films::wind-from-one-side",
        "the wind is taken to blow from one side all night",
        "\
Wind cools the side it comes from most, which bends the mirror: coma and astigmatism. A scenario
says how fast the wind blows, not from where: it is taken to come from the side that is up when the
telescope points low, all night. In truth it turns, and so does a telescope that follows the sky;
the errors turn with it, and what one hour bends the next may mend. Take their size as an upper
bound, good to a factor of two, and their angle as unknown. `telescope.shelter` lowers both; with
0.14 or less, as in a tube, the wind is taken as even."
    ),
    code!(
        "new::exists",
        "a file of that name is there already",
        "\
`new` never overwrites. Choose another name, or move the old file away first."
    ),
    code!(
        "new::unknown-kind",
        "there is no starting scenario of that name",
        "`evenglass new --list` shows them."
    ),
    code!(
        "output::folder",
        "the folder named for the result may not be replaced",
        "\
A result replaces its folder as a whole. So the folder must be new, empty, or an earlier result of
this program, which is recognised by its `summary.json`; anything else is left alone. Name another
folder with `--out`, or empty this one yourself."
    ),
    code!(
        "output::write",
        "a file or folder could not be written",
        "\
The disk may be full, the folder may not be yours to write, or a name may be too long; the message
holds what the system said. An earlier result in the folder is unchanged."
    ),
    code!(
        "request::cells",
        "the grid asked for is too coarse or too fine",
        "\
`--cells 400x100` asks for 400 cells along the radius and 100 through the thickness. The usual
resolution, without the option, keeps every published temperature within 5 mK of the converged
solution, and `--fine` within 1 mK; more cells cost time and change no digit that matters."
    ),
    code!(
        "request::unknown-command",
        "the program has no such command",
        "`evenglass --help` lists the commands."
    ),
    code!(
        "run::not-computed",
        "the scenario is valid, but the night could not be computed",
        "\
The message says where the computation stopped. Try without `--cells`; if it still stops, the
scenario is worth a report to the authors."
    ),
    code!(
        "run::not-used",
        "keys were written that this version reads but does not use",
        "\
They are checked like all others, and change nothing yet: they are meant for answers still to come,
such as dew and dawn. Leave them in for later, and do not take them for granted now."
    ),
    code!(
        "size::no-fans",
        "there are no fans to size",
        "\
`evenglass size` answers how fans and what their air passes balance. The scenario has no
[ventilation], or one of kind `open` or `sealed`, which has no fans. Add a kind with `fans`;
`evenglass explain arrangement` has all of them. What a night without fans does, `run` tells."
    ),
    code!(
        "size::wish",
        "a wished speed or film cannot be read, or is not above zero",
        "\
`--slot-speed` wants a speed with its unit, such as '2 m/s', and `--film` a film coefficient, such as
'10 W/m2/K'; both above zero."
    ),
    code!(
        "sweep::repeated-key",
        "a key is varied twice",
        "One `--vary` holds all values of a key; several `--vary` of different keys make a grid."
    ),
    code!(
        "sweep::too-many",
        "the grid has more nights than anyone waits for",
        "\
The numbers of values multiply: three keys with 50 values each are 125 000 nights. Take fewer
values, or sweep one key after another."
    ),
    code!(
        "weather::coverage",
        "the weather file does not cover the night, or covers several",
        "\
The rows must reach from the start of the night, or before, to its end, or after; the message says
what is missing. Add rows, or change `start` and `duration`. When a file of clock times holds
several nights, write `time` with dates, as in 2026-10-03T20:00, and give `date` in [night]."
    ),
    code!(
        "weather::file",
        "the weather file could not be read",
        "\
Its path is relative to the scenario file. It must be plain text in UTF-8, not a spreadsheet, and
not larger than a night's readings can be."
    ),
    code!(
        "weather::gap",
        "the weather file has no reading for hours",
        "\
Between two rows the weather is taken on a straight line, which is not believable for longer than
three hours. Add rows, from another station if need be."
    ),
    code!(
        "weather::header",
        "the first line of the weather file cannot be read",
        "\
The first line names the columns, each with its unit, as in

  time,air [degC],relative_humidity [%],wind [m/s]

`time` and `air` must be there. The others are `dew_point` [degC or degF] or `relative_humidity`
[% or 1], `wind` [m/s, km/h, mph or kn], `cloud` [tenths, okta or 1] and `pressure` [hPa or inHg]."
    ),
    code!(
        "weather::row",
        "a row of the weather file has more or fewer cells than the header",
        "\
One cell for each column. A comma inside a number is the usual reason: decimals have a point."
    ),
    code!(
        "weather::time",
        "a time of the weather file cannot be read, or goes back",
        "\
Times are durations (\"2 h\"), clock times (22:30) or local dates and times (2026-10-03T22:30), the
same kind in every row, each later than the one before. No zones: local time throughout."
    ),
    code!(
        "weather::value",
        "a reading is no number, or one that no night has",
        "\
Readings are bare numbers; the unit stands in the header. A value outside what weather does is
refused, because a logger's 999 for \"no reading\" would otherwise freeze or boil the glass."
    ),
];
