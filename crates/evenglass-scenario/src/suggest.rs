//! "Did you mean": the nearest of the words that would have been right.

use strsim::damerau_levenshtein;

/// The candidate that a slip of the pen turns into `word`, if one is near enough.
pub(crate) fn nearest<'a>(
    word: &str,
    candidates: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    let plain = simple(word);
    // A third of the letters wrong is a slip; more is another word.
    let tolerated = (plain.chars().count() / 3).clamp(1, 3);
    if plain.chars().count() > 60 {
        return None;
    }
    candidates
        .into_iter()
        .map(|candidate| (damerau_levenshtein(&plain, &simple(candidate)), candidate))
        .filter(|(distance, candidate)| *distance <= tolerated && *distance < candidate.len())
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate)
}

/// Hyphens, underscores and capitals are not what a slip is about.
fn simple(word: &str) -> String {
    word.to_lowercase().replace(['-', ' '], "_")
}

/// "`a`, `b` and `c`".
pub(crate) fn listed<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    joined(words.into_iter().map(|word| format!("`{word}`")), "and")
}

/// "\"a\", \"b\" or \"c\"", as one writes them in a file.
pub(crate) fn choices<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    joined(words.into_iter().map(|word| format!("\"{word}\"")), "or")
}

fn joined(words: impl Iterator<Item = String>, last_word: &str) -> String {
    let words: Vec<String> = words.collect();
    match words.split_last() {
        None => String::new(),
        Some((only, [])) => only.clone(),
        Some((last, rest)) => format!("{} {last_word} {last}", rest.join(", ")),
    }
}

/// A text as a message shows it: on one line, cut where it grows long.
pub(crate) fn shown(text: &str) -> String {
    const LONGEST: usize = 40;
    let mut short: String =
        text.chars().take(LONGEST).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.chars().count() > LONGEST {
        short.push('…');
    }
    short
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_is_recognised_and_another_word_is_not() {
        let keys = ["diameter", "edge_thickness", "glass"];
        assert_eq!(nearest("diamter", keys), Some("diameter"));
        assert_eq!(nearest("edge-thickness", keys), Some("edge_thickness"));
        assert_eq!(nearest("colour", keys), None);
        assert_eq!(nearest("x", ["h", "s"]), None);
    }

    #[test]
    fn words_are_listed_as_one_says_them() {
        assert_eq!(listed(["a"]), "`a`");
        assert_eq!(listed(["a", "b", "c"]), "`a`, `b` and `c`");
        assert_eq!(choices(["a", "b", "c"]), "\"a\", \"b\" or \"c\"");
    }
}
