//! Paragraphs and aligned tables for a terminal.

use evenglass_simulation::result::Warning;

/// Columns a paragraph fills.
const WIDTH: usize = 80;

/// `paragraph` broken at spaces into lines of at most [`WIDTH`] characters, later lines indented.
pub(crate) fn wrap(paragraph: &str, indent: usize) -> String {
    let mut text = String::new();
    let mut column = 0;
    for word in unbroken(paragraph) {
        let length = word.chars().count();
        if column > 0 && column + 1 + length > WIDTH {
            text.push('\n');
            text.extend(std::iter::repeat_n(' ', indent));
            column = indent;
        } else if column > 0 {
            text.push(' ');
            column += 1;
        }
        text.push_str(&word);
        column += length;
    }
    text
}

/// The words of a paragraph, a number and its unit as one.
fn unbroken(paragraph: &str) -> Vec<String> {
    const UNITS: [&str; 18] = [
        "K", "°C", "mm", "m", "h", "min", "kJ", "%", "L/s", "cfm", "Pa", "m/s", "W/m²/K", "cm²",
        "dB", "nm", "µm", "arcsec",
    ];
    let mut words: Vec<String> = Vec::new();
    for word in paragraph.split(' ') {
        let bare = word.trim_end_matches(|c: char| ",.;:)".contains(c));
        match words.last_mut() {
            Some(last) if UNITS.contains(&bare) && last.ends_with(|c: char| c.is_ascii_digit()) => {
                last.push(' ');
                last.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// Rows as aligned columns, two spaces apart: the first flush left, the others flush right.
pub(crate) fn aligned(rows: &[Vec<String>]) -> String {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let widths: Vec<usize> = (0..columns)
        .map(|c| rows.iter().filter_map(|r| r.get(c)).map(|s| s.chars().count()).max().unwrap_or(0))
        .collect();
    let mut text = String::new();
    for row in rows {
        let padded = row.iter().enumerate().map(|(c, cell)| {
            let gap = " ".repeat(widths[c] - cell.chars().count());
            if c == 0 { format!("{cell}{gap}") } else { format!("{gap}{cell}") }
        });
        let line = padded.collect::<Vec<String>>().join("  ");
        text.push_str(line.trim_end());
        text.push('\n');
    }
    text
}

/// `label` on one line, cut to `longest` characters with an ellipsis.
pub(crate) fn short(label: &str, longest: usize) -> String {
    let clean: String = label.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    if clean.chars().count() <= longest {
        return clean;
    }
    let mut cut: String = clean.chars().take(longest.saturating_sub(1)).collect();
    cut.push('…');
    cut
}

/// "a, b and c"; of many the first and how many more.
pub(crate) fn listed(labels: &[&str]) -> String {
    const MOST: usize = 4;
    let named = labels.iter().take(if labels.len() > MOST + 1 { MOST } else { MOST + 1 });
    let mut named: Vec<String> = named.map(|label| short(label, 40)).collect();
    let rest = labels.len() - named.len();
    if rest > 0 {
        named.push(format!("{rest} more"));
    }
    let last = named.pop().unwrap_or_default();
    if named.is_empty() { last } else { format!("{} and {last}", named.join(", ")) }
}

/// What to know of many nights: each code once, with the number of nights it stands for;
/// `None` where there is nothing.
pub(crate) fn notes_text<'n>(nights: impl Iterator<Item = &'n [Warning]>) -> Option<String> {
    let (codes, nights) = noted(nights);
    let line = |(warning, count): &(&Warning, usize)| {
        let which = match (*count, nights) {
            (_, 1) => String::new(),
            (2, 2) => ", in both nights".to_owned(),
            (count, all) if count == all => format!(", in all {all} nights"),
            (count, all) => format!(", in {count} of {all} nights"),
        };
        let text = short(warning.text.trim_end_matches('.'), 400);
        wrap(&format!("- {text} [{}]{which}", warning.code), 2)
    };
    let lines: Vec<String> = codes.iter().map(line).collect();
    (!lines.is_empty()).then(|| format!("\n\nPlease note:\n{}", lines.join("\n")))
}

/// The first warning of each code with the number of nights that have it, and the number of
/// nights.
pub(crate) fn noted<'n>(
    nights: impl Iterator<Item = &'n [Warning]>,
) -> (Vec<(&'n Warning, usize)>, usize) {
    let mut codes: Vec<(&Warning, usize)> = vec![];
    let mut count = 0;
    for warnings in nights {
        count += 1;
        for (index, warning) in warnings.iter().enumerate() {
            if warnings[..index].iter().any(|earlier| earlier.code == warning.code) {
                continue;
            }
            match codes.iter_mut().find(|(known, _)| known.code == warning.code) {
                Some((_, nights)) => *nights += 1,
                None => codes.push((warning, 1)),
            }
        }
    }
    (codes, count)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_paragraphs_break_at_spaces_and_never_inside_a_word() {
        let text = wrap(&"glass ".repeat(40), 2);
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH), "no line is too long");
        assert!(
            text.lines().skip(1).all(|line| line.starts_with("  ")),
            "later lines are indented"
        );
        assert_eq!(text.matches("glass").count(), 40);
        for lead in 70..80 {
            let text = wrap(&format!("{} 11 °C, again", "x".repeat(lead)), 0);
            assert!(text.contains("11 °C,"), "a number keeps its unit: {text}");
        }
    }

    #[test]
    fn columns_line_up_whatever_the_script() {
        let row = |a: &str, b: &str| vec![a.to_owned(), b.to_owned()];
        let text = aligned(&[row("Ø", "10"), row("breit", "9")]);
        assert_eq!(text, "Ø      10\nbreit   9\n");
    }

    #[test]
    fn a_code_is_told_once_with_the_nights_it_stands_for() {
        let warning = |code| Warning { code, text: "something.".to_owned(), count: 7 };
        let nights = [
            vec![warning("films::cover"), warning("films::cover")],
            vec![warning("films::cover")],
            vec![],
        ];
        let text = notes_text(nights.iter().map(|night| &night[..])).unwrap();
        assert_eq!(text, "\n\nPlease note:\n- something [films::cover], in 2 of 3 nights");
        assert_eq!(notes_text([vec![]].iter().map(|night: &Vec<Warning>| &night[..])), None);
    }

    #[test]
    fn several_labels_are_joined_and_many_are_counted() {
        assert_eq!(listed(&["a", "b"]), "a and b");
        assert_eq!(listed(&["a", "b", "c", "d", "e"]), "a, b, c, d and e");
        assert_eq!(listed(&["a", "b", "c", "d", "e", "f"]), "a, b, c, d and 2 more");
    }

    #[test]
    fn a_label_with_line_breaks_stays_on_one_line() {
        assert_eq!(short("a\nb", 9), "a b");
        assert_eq!(short("abcdef", 4), "abc…");
    }
}
