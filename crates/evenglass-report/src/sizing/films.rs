//! The films moved air makes on each part of the glass.

use evenglass_simulation::ventilation::sizing::{FilmRow, Step};

use crate::text::{aligned, wrap};
use crate::wording::plain;

/// A share around the axis that is worth a sentence [-].
const LOPSIDED: f64 = 0.02;

/// Means and values at three radii, and how lopsided; `None` where no air moves.
pub(super) fn table(step: &Step) -> Option<String> {
    let of_back: fn(&FilmRow) -> Option<(f64, f64)> = |row| row.back;
    let of_front: fn(&FilmRow) -> Option<(f64, f64)> = |row| row.front;
    let mut rows = vec![];
    rows.extend(face("back", step.mean_films[0], &step.films, of_back));
    if step.rim_film > 0.0 {
        rows.push(vec!["rim".to_owned(), plain(step.rim_film)]);
    }
    rows.extend(face("front", step.mean_films[1], &step.films, of_front));
    if rows.is_empty() {
        return None;
    }
    let inner = step.films.first().map_or(0.0, |row| row.radius);
    let centre = if inner > 0.0 { "at the hole" } else { "at the centre" };
    let mut all =
        vec![["film", "mean", "at the edge", "half-way", centre].map(str::to_owned).to_vec()];
    all.extend(rows);
    let mut text = format!(
        "Films of moved air at full speed in W/m²/K, ± one standard deviation:\n{}",
        aligned(&all).trim_end()
    );
    let lopsided: Vec<String> = [("back", step.lopsided[0]), ("front", step.lopsided[1])]
        .iter()
        .filter_map(|(face, orders)| lopsided(face, orders))
        .collect();
    if !lopsided.is_empty() {
        text.push('\n');
        text.push_str(&wrap(&lopsided.join(" "), 0));
    }
    Some(text)
}

fn face(
    name: &str,
    mean: f64,
    films: &[FilmRow],
    of: fn(&FilmRow) -> Option<(f64, f64)>,
) -> Option<Vec<String>> {
    let (first, last) = (films.first()?, films.last()?);
    let middle = films.get(films.len() / 2)?;
    let shown = |row: &FilmRow| {
        of(row).map(|(film, share)| format!("{} ± {}", plain(film), plain(film * share)))
    };
    Some(vec![name.to_owned(), plain(mean), shown(last)?, shown(middle)?, shown(first)?])
}

fn lopsided(face: &str, orders: &[f64]) -> Option<String> {
    let told: Vec<String> = (1..)
        .zip(orders)
        .filter(|(_, share)| **share > LOPSIDED)
        .map(|(order, share)| {
            let times = match order {
                1 => "once".to_owned(),
                2 => "twice".to_owned(),
                n => format!("{n} times"),
            };
            format!("by up to {} % {times} around", plain(100.0 * share))
        })
        .collect();
    (!told.is_empty())
        .then(|| format!("On the {face} the film varies around the axis, {}.", told.join(", ")))
}
