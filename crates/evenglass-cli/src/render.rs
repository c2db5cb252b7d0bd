//! Faults as text: the fact, the line it stands on, the remedy.

use std::ops::Range;

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use evenglass_scenario::{Fault, Place};

use crate::wrapping::visible;

/// Lines of a scenario are shown cut to this many columns around the fault.
const WIDTH: usize = 100;

/// All faults one after another, and their number when there are several.
///
/// The text is coloured; whoever prints it strips what the terminal does not want.
pub(crate) fn faults(faults: &[Fault]) -> String {
    let renderer = Renderer::styled().term_width(WIDTH);
    let mut parts: Vec<String> = faults.iter().map(|fault| rendered(&renderer, fault)).collect();
    if faults.len() > 1 {
        parts.push(format!("{} faults; `evenglass explain CODE` says more", faults.len()));
    }
    parts.join("\n\n")
}

/// The remedy hangs under the line it is for; without a line it is one of its own.
fn rendered(renderer: &Renderer, fault: &Fault) -> String {
    let title = Level::ERROR.primary_title(visible(&fault.message)).id(fault.code);
    let help = fault.help.as_deref().map(visible);
    let Some(place) = &fault.place else {
        let help = help.map(|help| Group::with_title(Level::HELP.primary_title(help)));
        let lines = [Some(Group::with_title(title)), help].into_iter().flatten();
        return lines.map(|line| renderer.render(&[line])).collect::<Vec<_>>().join("\n");
    };
    let mark = AnnotationKind::Primary.span(shown_span(place));
    let snippet = Snippet::source(&*place.source).path(visible(&place.name)).annotation(mark);
    let help = help.map(|help| Level::HELP.message(help));
    renderer.render(&[Group::with_title(title).element(snippet).elements(help)])
}

/// The span as the renderer can take it: inside the text, on whole characters,
/// and on one line, because a fault that runs to the end of the file is still
/// found at its start.
fn shown_span(place: &Place) -> Range<usize> {
    let text = &*place.source;
    let start = boundary_at_or_before(text, place.span.start);
    let end = boundary_at_or_before(text, place.span.end).max(start);
    let line_end = text[start..].find('\n').map_or(text.len(), |length| start + length);
    start..end.min(line_end).max(start)
}

fn boundary_at_or_before(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;

    fn fault(source: &str, span: Range<usize>) -> Fault {
        let place = Place { name: "a.toml".to_owned(), source: Arc::from(source), span };
        Fault {
            code: "scenario::unit",
            message: "`60 cmf` is not a length".to_owned(),
            help: Some("write it as \"24 in\"".to_owned()),
            place: Some(place),
        }
    }

    /// What is left when a terminal has swallowed the colours.
    fn plain(text: &str) -> String {
        anstream::adapter::strip_str(text).to_string()
    }

    #[test]
    fn a_fault_shows_its_line_its_column_and_the_remedy() {
        let source = "[mirror]\ndiameter = \"60 cmf\"\n";
        let text = plain(&faults(&[fault(source, 20..28)]));
        let expected = "\
error[scenario::unit]: `60 cmf` is not a length
 --> a.toml:2:12
  |
2 | diameter = \"60 cmf\"
  |            ^^^^^^^^
  |
  = help: write it as \"24 in\"";
        assert_eq!(text, expected);
    }

    #[test]
    fn a_fault_without_a_place_is_two_lines() {
        let nowhere = Fault { place: None, ..fault("", 0..0) };
        let text = plain(&faults(&[nowhere]));
        let expected = "\
error[scenario::unit]: `60 cmf` is not a length
help: write it as \"24 in\"";
        assert_eq!(text, expected);
    }

    #[test]
    fn several_faults_are_all_told_and_counted() {
        let source = "a = 1\nb = 2\n";
        let text = plain(&faults(&[fault(source, 0..1), fault(source, 6..7)]));
        assert!(text.contains("a.toml:1:1"), "{text}");
        assert!(text.contains("a.toml:2:1"), "{text}");
        assert!(text.ends_with("2 faults; `evenglass explain CODE` says more"), "{text}");
    }

    #[test]
    fn no_text_and_no_span_makes_the_renderer_fall_over() {
        let texts =
            ["", "\n", "\r\n\r\n", "a = \"ü\u{1F52D}\"", "\t\tx", "a\u{0}b\u{1b}[31mc", "x\n\n\n"];
        for text in texts {
            for start in 0..=text.len() + 3 {
                for end in [0, start, start + 1, start + 2, text.len(), usize::MAX] {
                    let rendered = plain(&faults(&[fault(text, start..end)]));
                    assert!(rendered.contains("is not a length"), "{text:?} {start}..{end}");
                    assert!(rendered.contains("24 in"), "{text:?} {start}..{end}");
                }
            }
        }
    }

    #[test]
    fn wide_characters_and_tabs_leave_the_mark_under_the_fault() {
        let text = plain(&faults(&[fault("\tä = \"望遠\" x", 10..13)]));
        let lines: Vec<&str> = text.lines().collect();
        // Every one of 望遠 takes two columns of a terminal and a tab four.
        assert_eq!(lines[3], "1 |     ä = \"望遠\" x", "{text}");
        assert_eq!(lines[4].find('^'), Some(4 + 4 + 5 + 2), "{text}");
    }

    #[test]
    fn a_line_of_a_megabyte_is_cut_to_what_matters() {
        let source = format!("a = \"{}\" # {}", "x".repeat(500_000), "y".repeat(500_000));
        let text = plain(&faults(&[fault(&source, 500_006..500_010)]));
        let longest = text.lines().map(|line| line.chars().count()).max();
        assert!(longest <= Some(200), "{longest:?}");
    }

    #[test]
    fn nothing_quoted_from_a_file_reaches_the_terminal_as_a_command() {
        let mut hostile = fault("a = \"\u{1b}[2J\u{202e}\"", 4..9);
        hostile.message = "`\u{1b}[2J\u{7}` is no length".to_owned();
        hostile.help = Some("not \u{9b}31m".to_owned());
        if let Some(place) = &mut hostile.place {
            place.name = "\u{1b}]0;x\u{7}.toml".to_owned();
        }
        let coloured = faults(&[hostile]);
        let text = plain(&coloured);
        for bad in ['\u{7}', '\u{9b}', '\u{202e}'] {
            assert!(!coloured.contains(bad), "{coloured:?}");
        }
        assert!(!coloured.contains("\u{1b}[2J") && !coloured.contains("\u{1b}]0"), "{coloured:?}");
        assert!(!text.contains('\u{1b}'), "{text:?}");
    }
}
