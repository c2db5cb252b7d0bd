//! The words of the answers.

use super::Article;

macro_rules! word {
    ($name:literal, $about:literal, $text:literal) => {
        Article { name: $name, about: $about, text: $text }
    };
}

/// In alphabetical order.
pub(super) const ARTICLES: &[Article] = &[
    word!(
        "astigmatism",
        "two opposite sides of the surface high, the sides between them low",
        "Made by air that is stronger along one diameter. A star is a cross beside best focus."
    ),
    word!(
        "coma",
        "one side of the surface high, the other low, beyond a mere tilt",
        "Made by air that is stronger on one side: a fan off the axis, wind from one side."
    ),
    word!(
        "correction",
        "how far the surface is from sphere to paraboloid, against what it was polished to",
        "\
0 % is as polished, + over-corrected, - under-corrected; 100 % is all that parabolising takes off.
A rim that is colder than the middle over-corrects, a middle that is blown at hard under-corrects."
    ),
    word!(
        "edge minus centre",
        "temperature of the rim less that of the centre, at half the thickness",
        "\
What thermistors measure. It is not a measure of the figure: a film that varies over a face bends
the mirror with either sign while edge and centre agree."
    ),
    word!(
        "figure",
        "what the surface differs from the polished one by, after refocusing",
        "\
Root mean square over the clear front, of the surface; the wavefront has twice as much. Glass of
one temperature has its polished figure, whatever that temperature is. 20 nm of surface are some
1/14 wave of wavefront, where a star begins to suffer (Strehl 0.81)."
    ),
    word!(
        "focus",
        "where the image lies, + away from the mirror",
        "\
Warmth that differs between front and back bends the mirror and moves the focus more than anything
else. It is refocused away, so it does not count as figure; what counts is how often."
    ),
    word!(
        "good image",
        "figure, shimmer and dew margins within the limits of [good], for as long as it asks",
        "\
Dew counts where the night tells its humidity, the front near the air only where
`good.front_minus_air` is written."
    ),
    word!(
        "mask",
        "a round opening before the mirror that hides the outer part",
        "The figure of a cooling mirror is worst near its rim, so a mask is ready before the whole."
    ),
    word!(
        "ready",
        "when the first good stretch begins",
        "A stretch shorter than `good.held_for` is not counted."
    ),
    word!(
        "refocus",
        "how long a focus lasts before it has moved by its depth",
        "The depth is 2 λ N², a quarter wave at the edge: 22 µm at f/4.5."
    ),
    word!(
        "shimmer",
        "blur by the mirror's own warm air, the sky's left out",
        "\
Warm air that rises off the face, or moved air that has taken up the heat of the glass. Full width
at half maximum. It adds to the sky's to the power 5/3, so a little of it hides behind a poor sky."
    ),
    word!(
        "Strehl ratio",
        "how bright the peak of a star is, against a perfect mirror",
        "\
1 is perfect; 0.8 is what makers call diffraction limited. Of figure and mirror's air, at 550 nm,
on the pupil that the secondary leaves; the sky is left out."
    ),
    word!(
        "trefoil",
        "three sides of the surface high, three low",
        "Made by air or pads that repeat three times around."
    ),
];
