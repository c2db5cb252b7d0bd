//! Lines that fit a terminal, and leave it as it was.

/// Columns that every line of prose fits into.
pub(crate) const WIDTH: usize = 100;

/// Breaks a line that is too long for a terminal between its words.
pub(crate) fn wrapped(line: &str) -> String {
    if line.chars().count() <= WIDTH {
        return line.to_owned();
    }
    broken(line, WIDTH).join("\n")
}

/// The lines of a paragraph, each of at most `width` characters but for longer words.
pub(crate) fn broken(paragraph: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in paragraph.split_whitespace() {
        let last = lines.last().map_or(0, |last| last.chars().count());
        if last > 0 && last + 1 + word.chars().count() > width {
            lines.push(String::new());
        }
        if let Some(last) = lines.last_mut() {
            if !last.is_empty() {
                last.push(' ');
            }
            last.push_str(word);
        }
    }
    lines
}

/// One line, cut where the terminal ends.
pub(crate) fn cut(line: &str) -> String {
    if line.chars().count() <= WIDTH {
        return line.to_owned();
    }
    let kept: String = line.chars().take(WIDTH - 2).collect();
    format!("{} …", kept.trim_end())
}

/// A copy in which nothing can move the cursor, colour the screen, turn the text
/// round or hide itself: what is said quotes files, and a file may come from anyone.
pub(crate) fn visible(text: &str) -> String {
    let unseen = |c: char| {
        (c.is_control() && c != '\n')
            || matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    text.chars().map(|c| if unseen(c) { '\u{fffd}' } else { c }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_line_breaks_between_words_and_a_short_one_is_left_alone() {
        assert_eq!(wrapped("  short   and spaced"), "  short   and spaced");
        let long = "abcd ".repeat(30);
        let lines: Vec<String> = wrapped(&long).lines().map(str::to_owned).collect();
        assert_eq!(lines.len(), 2, "{lines:?}");
        assert!(lines.iter().all(|line| line.len() <= WIDTH), "{lines:?}");
        assert_eq!(lines.join(" "), long.trim_end());
    }

    #[test]
    fn a_line_that_is_cut_ends_with_dots_at_the_edge() {
        assert_eq!(cut("short"), "short");
        let line = cut(&"ä".repeat(150));
        assert_eq!(line.chars().count(), WIDTH);
        assert!(line.ends_with(" …"), "{line}");
    }

    #[test]
    fn what_a_terminal_would_obey_is_shown_instead() {
        assert_eq!(
            visible("a\u{1b}[2Jb\u{7}\nc\u{202e}d °C"),
            "a\u{fffd}[2Jb\u{fffd}\nc\u{fffd}d °C"
        );
    }

    #[test]
    fn a_word_longer_than_a_line_stays_whole() {
        let word = "x".repeat(150);
        assert_eq!(wrapped(&format!("see {word} there")), format!("see\n{word}\nthere"));
    }
}
