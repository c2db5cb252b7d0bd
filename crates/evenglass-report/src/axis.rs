//! The varied keys of a sweep, and how their values stand where people read them.

/// One varied key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Axis {
    /// The key, as "back.film.coefficient".
    pub key: String,
    /// Its values in the order of the sweep, as written.
    pub values: Vec<String>,
}

impl Axis {
    /// The values as they are shown: numbers rounded to the fewest digits, three at
    /// least, that still tell them apart. Tables for machines keep them as written.
    pub(crate) fn shown(&self) -> Vec<String> {
        let numbers: Option<Vec<(f64, &str)>> =
            self.values.iter().map(|text| number_and_unit(text)).collect();
        let Some(numbers) = numbers else { return self.values.clone() };
        for digits in 3..=MOST_DIGITS {
            let rounded: Vec<f64> = numbers.iter().map(|n| rounded(n.0, digits)).collect();
            let apart = rounded.windows(2).all(|pair| pair[0].total_cmp(&pair[1]).is_ne());
            let faithful = numbers.iter().zip(&rounded).all(|(n, r)| {
                // Steps between neighbours must not visibly change.
                (n.0 - r).abs() <= 0.05 * smallest_step(&numbers)
            });
            if apart && faithful {
                let texts = rounded.iter().zip(&numbers);
                return texts.map(|(value, (_, unit))| joined(*value, unit)).collect();
            }
        }
        self.values.clone()
    }
}

/// More digits than anyone typed.
const MOST_DIGITS: i32 = 12;

/// The smallest distance between neighbouring values that differ.
fn smallest_step(numbers: &[(f64, &str)]) -> f64 {
    let steps = numbers.windows(2).map(|pair| (pair[1].0 - pair[0].0).abs());
    steps.filter(|&step| step > 0.0).fold(f64::INFINITY, f64::min)
}

fn rounded(value: f64, digits: i32) -> f64 {
    format!("{value:.*e}", usize::try_from(digits - 1).unwrap_or(0)).parse().unwrap_or(value)
}

fn joined(value: f64, unit: &str) -> String {
    if unit.is_empty() { format!("{value}") } else { format!("{value} {unit}") }
}

/// "6 W/m2/K" as 6 and "W/m2/K".
pub(crate) fn number_and_unit(text: &str) -> Option<(f64, &str)> {
    let text = text.trim();
    let end =
        text.find(|c: char| !(c.is_ascii_digit() || ".+-eE".contains(c))).unwrap_or(text.len());
    let (number, unit) = (&text[..end], text[end..].trim());
    let value: f64 = number.parse().ok()?;
    let is_unit =
        unit.is_empty() || unit.starts_with(|c: char| c.is_alphabetic() || "°%/".contains(c));
    (value.is_finite() && is_unit).then_some((value, unit))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(values: &[&str]) -> Vec<String> {
        let values = values.iter().map(|&v| v.to_owned()).collect();
        Axis { key: "k".to_owned(), values }.shown()
    }

    #[test]
    fn values_are_shown_with_the_fewest_digits_that_tell_them_apart() {
        let flows = ["5 L/s", "6.842105263 L/s", "38.15789474 L/s", "40 L/s"];
        assert_eq!(shown(&flows), ["5 L/s", "6.84 L/s", "38.2 L/s", "40 L/s"]);
        assert_eq!(shown(&["100.001 mm", "100.002 mm"]), ["100.001 mm", "100.002 mm"]);
        assert_eq!(shown(&["0.1", "0.2"]), ["0.1", "0.2"]);
        assert_eq!(shown(&["22:30", "23:00"]), ["22:30", "23:00"]);
        assert_eq!(shown(&["soda-lime", "borosilicate"]), ["soda-lime", "borosilicate"]);
        assert_eq!(shown(&["5 mm", "5 mm"]), ["5 mm", "5 mm"]);
    }
}
