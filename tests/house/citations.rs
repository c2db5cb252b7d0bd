//! Every equation the code cites is in the physics chapters.

use std::collections::BTreeSet;

use crate::workspace::text_files;

/// Numbers such as `C-3` that follow "eq." or "eqs." in a text.
fn cited(text: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for (at, _) in text.match_indices("eq") {
        let after = text[at + 2..].trim_start_matches('s');
        let Some(after) = after.strip_prefix('.') else { continue };
        let mut words = after.split_whitespace();
        while let Some(number) = words.next().and_then(equation_number) {
            found.insert(number);
            // "eqs. G-1 and G-2", "eqs. G-1 to G-3"
            if !matches!(words.next(), Some("and" | "to" | "or")) {
                break;
            }
        }
    }
    found
}

/// `C-3` from `C-3`, `(C-3),` or `C-3.`; nothing from `9.` or `text`.
fn equation_number(word: &str) -> Option<String> {
    let bare = word.trim_matches(|c: char| !c.is_ascii_alphanumeric());
    let (chapter, number) = bare.split_once('-')?;
    let digits = number.chars().take_while(char::is_ascii_digit).count();
    let is_chapter = !chapter.is_empty() && chapter.chars().all(|c| c.is_ascii_uppercase());
    (is_chapter && digits > 0).then(|| format!("{chapter}-{}", &number[..digits]))
}

/// Numbers that a chapter gives to an equation: `(C-3)`, or a line that starts with it.
fn numbered(text: &str) -> BTreeSet<String> {
    text.split(|c: char| c.is_whitespace() || "()[]|*:,;`".contains(c))
        .filter_map(equation_number)
        .collect()
}

#[test]
fn every_equation_cited_in_the_code_is_in_the_physics_chapters() {
    let chapters: BTreeSet<String> = text_files(&[".md"])
        .iter()
        .filter(|file| file.name.starts_with("docs/physics/"))
        .flat_map(|file| numbered(&file.text))
        .collect();
    let mut checked = 0;
    for file in text_files(&[".rs"]) {
        if file.name.starts_with("tests/house/") {
            continue;
        }
        for equation in cited(&file.text) {
            assert!(chapters.contains(&equation), "{} cites eq. {equation}", file.name);
            checked += 1;
        }
    }
    assert!(checked > 0, "no equation is cited anywhere: is the search broken?");
}

#[test]
fn citations_are_recognised_in_the_ways_they_are_written() {
    let text = "flow (eq. C-3); heat, eqs. G-1 and G-2, A-9 is not; see eq. 9 and eq. AB-12.";
    assert_eq!(cited(text).into_iter().collect::<Vec<_>>(), ["AB-12", "C-3", "G-1", "G-2"]);
}
