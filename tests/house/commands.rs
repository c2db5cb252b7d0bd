//! Every command the documents show can be typed as it stands there, answers what
//! they say it answers, and draws the pictures they show.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use tempfile::TempDir;

use crate::pictures;
use crate::workspace::{is_to_be_updated, root, text_files};

/// What a reader types to start the program; the README's first command builds it, too.
const PROMPTS: [&str; 2] = ["$ evenglass ", "    cargo run --release -p evenglass-cli -- "];

/// Stands before a picture and says where in the results it comes from.
const PICTURE: &str = "<!-- made by the command above: ";

/// Ends an answer that is not shown to its end.
const GOES_ON: &str = "…";

/// What a document asks of its reader, in its order.
#[derive(Debug, PartialEq, Eq)]
enum Step {
    /// The words to type, and the lines shown as the answer, `from..to` of the document.
    Command { words: Vec<String>, answer: (usize, usize) },
    /// The file in the results, and the committed one beside the document.
    Picture { made: String, shown: String },
}

fn steps(lines: &[&str]) -> Vec<Step> {
    let mut steps = vec![];
    let mut at = 0;
    while at < lines.len() {
        let line = lines[at];
        at += 1;
        if let Some(made) = line.strip_prefix(PICTURE) {
            let made = made.trim_end_matches("-->").trim().to_owned();
            let shown = lines.get(at).and_then(|next| target(next)).unwrap_or_default();
            steps.push(Step::Picture { made, shown });
        } else if let Some(typed) = PROMPTS.iter().find_map(|prompt| line.strip_prefix(prompt)) {
            let mut typed = typed.to_owned();
            while let Some(head) = typed.strip_suffix('\\') {
                typed = format!("{head} {}", lines[at].trim());
                at += 1;
            }
            let from = at;
            if line.starts_with('$') {
                at += lines[at..].iter().take_while(|line| !ends_answer(line)).count();
            }
            steps.push(Step::Command { words: words(&typed), answer: (from, at) });
        }
    }
    steps
}

fn ends_answer(line: &str) -> bool {
    line.starts_with("```") || line.starts_with("$ ")
}

/// `file` of `![words](file)`.
fn target(line: &str) -> Option<String> {
    let (_, link) = line.strip_prefix("![")?.rsplit_once("](")?;
    link.strip_suffix(')').map(str::to_owned)
}

/// Splits as a shell does, as far as documents need it: blanks, '…' and "…".
fn words(line: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut word = String::new();
    let mut quote = None;
    for c in line.chars() {
        match (c, quote) {
            (c, Some(open)) if c == open => quote = None,
            ('\'' | '"', None) => quote = Some(c),
            (' ', None) => words.extend(Some(std::mem::take(&mut word)).filter(|w| !w.is_empty())),
            (c, _) => word.push(c),
        }
    }
    words.extend(Some(word).filter(|word| !word.is_empty()));
    words
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap().map(Result::unwrap) {
        let target = to.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            copy(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).unwrap();
        }
    }
}

/// The answer of the program, as lines without blanks at the end.
fn answer(document: &str, words: &[String], place: &Path) -> Vec<String> {
    let output = Command::new(env!("CARGO_BIN_EXE_evenglass"))
        .args(words)
        .current_dir(place)
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{document}: {words:?}\n{said}");
    let answered = String::from_utf8(output.stdout).unwrap();
    answered.trim_end().lines().map(|line| line.trim_end().to_owned()).collect()
}

/// What the document should show, given how much of the answer it shows now.
fn due(shown: &[&str], answered: &[String]) -> Vec<String> {
    match shown.split_last() {
        None => vec![],
        Some((&GOES_ON, before)) => {
            let mut due: Vec<String> = answered.iter().take(before.len()).cloned().collect();
            due.push(GOES_ON.to_owned());
            due
        }
        Some(_) => answered.to_vec(),
    }
}

/// Works through one document; returns it as it should be.
fn follow(name: &str, text: &str, tried: &mut usize) -> String {
    // Read from top to bottom, so that commands may build on one another.
    let place = TempDir::new().unwrap();
    copy(&root().join("scenarios"), &place.path().join("scenarios"));
    let lines: Vec<&str> = text.lines().collect();
    let mut fresh: Vec<String> = vec![];
    let mut taken = 0;
    for step in steps(&lines) {
        match step {
            Step::Command { words, answer: (from, to) } => {
                let answered = answer(name, &words, place.path());
                fresh.extend(lines[taken..from].iter().map(|line| (*line).to_owned()));
                fresh.extend(due(&lines[from..to], &answered));
                taken = to;
                *tried += 1;
            }
            Step::Picture { made, shown } => {
                let folder: PathBuf = root().join(name).parent().unwrap().to_owned();
                pictures::compare(&place.path().join(made), &folder.join(shown));
            }
        }
    }
    fresh.extend(lines[taken..].iter().map(|line| (*line).to_owned()));
    fresh.join("\n") + "\n"
}

#[test]
fn every_command_in_the_documents_works_from_a_fresh_copy_and_answers_as_shown() {
    let mut tried = 0;
    for document in text_files(&[".md"]) {
        let fresh = follow(&document.name, &document.text, &mut tried);
        if is_to_be_updated() {
            fs::write(root().join(&document.name), fresh).unwrap();
            continue;
        }
        for (number, (shown, due)) in document.text.lines().zip(fresh.lines()).enumerate() {
            assert_eq!(
                shown,
                due,
                "{}, line {}: the program answers otherwise. If that is right, \
                 EVENGLASS_UPDATE=1 cargo house rewrites it",
                document.name,
                number + 1
            );
        }
        assert_eq!(document.text.lines().count(), fresh.lines().count(), "{}", document.name);
    }
    assert!(tried >= 5, "the documents show {tried} commands: is the search broken?");
}

#[test]
fn commands_are_found_with_their_quotes_their_answers_and_over_two_lines() {
    let document = "text\n$ evenglass sweep a.toml \\\n    --vary 'k.l=1, 2'\nready\n…\n```\n\
                    <!-- made by the command above: a-out/b.png -->\n![c](d/e.png)\n\
                    $ cargo test\nevenglass run\n";
    let lines: Vec<&str> = document.lines().collect();
    let words = ["sweep", "a.toml", "--vary", "k.l=1, 2"].map(str::to_owned).to_vec();
    let picture = Step::Picture { made: "a-out/b.png".to_owned(), shown: "d/e.png".to_owned() };
    assert_eq!(steps(&lines), [Step::Command { words, answer: (3, 5) }, picture]);
}

#[test]
fn a_stale_answer_is_told_from_one_that_goes_on() {
    let answered = ["ready 22:09", "good 5.9 h"].map(str::to_owned);
    assert_eq!(due(&["ready 21:00", GOES_ON], &answered), ["ready 22:09", GOES_ON]);
    assert_eq!(due(&["ready 22:09"], &answered), answered, "an answer cut short must say so");
    assert!(due(&[], &answered).is_empty(), "a command may stand alone");
}
