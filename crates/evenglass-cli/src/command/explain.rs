//! `evenglass explain`: what the program knows, and what its messages mean.

mod arrangement;
mod code;
mod column;
mod film;
mod glass;
mod keys;
mod moved_air;
mod word;

use evenglass_scenario::CODES;

use crate::arguments::ExplainArguments;
use crate::failure::Failure;
use crate::talk::answer;
use crate::wrapping::{cut, wrapped};

/// Something with a name, one line about it, and the whole story.
#[derive(Debug, Clone, Copy)]
struct Article {
    name: &'static str,
    about: &'static str,
    text: &'static str,
}

/// Answers with the topics, one topic, or one entry of it.
pub(super) fn explain(typed: &ExplainArguments) -> Result<(), Failure> {
    let text = match (typed.topic.as_deref(), typed.name.as_deref()) {
        (None, _) => TOPICS.to_owned(),
        (Some(topic), None) => topic_alone(topic)?,
        (Some(topic), Some(name)) => named(topic, name)?,
    };
    answer(&text)
}

const TOPICS: &str = "\
evenglass explain glass [NAME]          the glasses it knows, with sources
evenglass explain film [KIND]           what can cool a face, and when to use which
evenglass explain arrangement [KIND]    the ways to move the air, face by face, with all keys
evenglass explain fan                   how fans are reckoned with
evenglass explain filter [MEDIA]        what filters cost in pressure
evenglass explain wall [MATERIAL]       what boxes and tubes are made of, with sources
evenglass explain columns [NAME]        what the columns of the tables mean
evenglass explain words [WORD]          the words of the answers: figure, correction, shimmer, ...
evenglass explain codes                 every code that a message can carry
evenglass explain CODE                  what a message with that code means, and the remedy
";

fn topic_alone(topic: &str) -> Result<String, Failure> {
    Ok(match topic {
        "glass" | "glasses" => glass::list(),
        "film" | "films" => list("Films, by their `kind`", film::ARTICLES),
        "arrangement" | "arrangements" => {
            list("Arrangements, by the `kind` of [ventilation]", arrangement::ARTICLES)
        }
        "fan" | "fans" => moved_air::fan(),
        "filter" | "filters" => moved_air::filters(),
        "wall" | "walls" => moved_air::walls(),
        "column" | "columns" => {
            list("Columns of history.csv, compare.csv and sweep.csv", column::ARTICLES)
        }
        "word" | "words" => list("Words of the answers", word::ARTICLES),
        "code" | "codes" => list("Codes of messages", &codes()),
        code => message(code)?,
    })
}

fn named(topic: &str, name: &str) -> Result<String, Failure> {
    match topic {
        "glass" | "glasses" => glass::one(name),
        "film" | "films" => one("film", film::ARTICLES, name),
        "arrangement" | "arrangements" => arrangement::one(name),
        "filter" | "filters" => moved_air::filter(name),
        "wall" | "walls" => moved_air::wall(name),
        "column" | "columns" => one("column", column::ARTICLES, name),
        "word" | "words" => one("word", word::ARTICLES, name),
        "code" | "codes" => message(name),
        topic => Err(unknown_topic(topic)),
    }
}

/// The first sentence without its stop, and the rest. The dots of `FROM .. TO` end none.
fn first_sentence(text: &str) -> (&str, &str) {
    let stop = text.match_indices(". ").find(|(at, _)| !text[..*at].ends_with(['.', ' ']));
    match stop {
        Some((at, stop)) => (&text[..at], &text[at + stop.len()..]),
        None => (text.trim_end_matches('.'), ""),
    }
}

fn list(heading: &str, articles: &[Article]) -> String {
    let width = articles.iter().map(|article| article.name.len()).max().unwrap_or(0) + 2;
    let lines =
        articles.iter().map(|article| cut(&format!("  {:<width$}{}", article.name, article.about)));
    format!("{heading}\n\n{}\n", lines.collect::<Vec<_>>().join("\n"))
}

fn one(topic: &str, articles: &[Article], name: &str) -> Result<String, Failure> {
    find(articles, name).map(whole).ok_or_else(|| {
        let names: Vec<_> = articles.iter().map(|article| article.name).collect();
        unknown_name(topic, name, &names)
    })
}

fn message(code: &str) -> Result<String, Failure> {
    find(&codes(), code).map(whole).ok_or_else(|| unknown_topic(code))
}

/// All codes in alphabetical order: those of scenario files come with one text each,
/// whose first sentence says what it is about.
fn codes() -> Vec<Article> {
    let read = CODES.iter().map(|&(name, text)| {
        let (about, rest) = first_sentence(text);
        Article { name, about, text: rest }
    });
    let mut articles: Vec<Article> = read.chain(code::ARTICLES.iter().copied()).collect();
    articles.sort_by_key(|article| article.name);
    articles
}

fn find<'a>(articles: &'a [Article], name: &str) -> Option<&'a Article> {
    articles.iter().find(|article| article.name == name)
}

fn whole(article: &Article) -> String {
    let head = wrapped(&format!("{}: {}", article.name, article.about));
    if article.text.is_empty() {
        return head + "\n";
    }
    let told: Vec<String> = article.text.trim_end().lines().map(wrapped).collect();
    format!("{head}\n\n{}\n", told.join("\n"))
}

fn unknown_topic(topic: &str) -> Failure {
    Failure::request(
        "explain::unknown-topic",
        format!("there is no topic and no code `{topic}`"),
        "`evenglass explain` lists the topics, `evenglass explain codes` the codes",
    )
}

fn unknown_name(topic: &str, name: &str, known: &[&str]) -> Failure {
    Failure::request(
        "explain::unknown-name",
        format!("there is no {topic} `{name}`"),
        &format!("choose one of {}", known.join(", ")),
    )
}

#[cfg(test)]
mod tests {
    use evenglass_simulation::result::COLUMNS;

    use super::*;
    use crate::wrapping::WIDTH;

    fn every_article() -> Vec<Article> {
        [film::ARTICLES, column::ARTICLES, word::ARTICLES, &codes()].concat()
    }

    #[test]
    fn a_sentence_ends_at_its_stop_and_not_at_dots() {
        assert_eq!(first_sentence("From A .. B. Then C."), ("From A .. B", "Then C."));
        assert_eq!(first_sentence("Only one."), ("Only one", ""));
    }

    #[test]
    fn every_line_about_an_arrangement_fits_a_terminal() {
        for article in arrangement::ARTICLES {
            let text = arrangement::one(article.name).unwrap();
            let longest = text.lines().map(|line| line.chars().count()).max();
            assert!(longest <= Some(WIDTH), "{}: {longest:?} characters", article.name);
        }
    }

    #[test]
    fn every_column_of_the_history_is_explained() {
        for column in COLUMNS {
            assert!(find(column::ARTICLES, column.name).is_some(), "{} is not", column.name);
        }
    }

    #[test]
    fn an_explanation_has_lines_that_fit_a_terminal_and_one_name_only() {
        for article in every_article() {
            let longest = whole(&article).lines().map(|line| line.chars().count()).max();
            assert!(longest <= Some(WIDTH), "{}: {longest:?} characters", article.name);
            let namesakes =
                every_article().into_iter().filter(|other| other.name == article.name).count();
            assert_eq!(namesakes, 1, "{}", article.name);
        }
    }
}
