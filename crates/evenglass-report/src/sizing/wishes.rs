//! What a filter takes, and how wishes are met, in sentences.

use evenglass_simulation::scenario::ventilation::LayerKind;
use evenglass_simulation::ventilation::wish::{Answer, FILTER_SHARE, Wish, Wished};

use super::{SizeReport, hundredths};
use crate::text::wrap;
use crate::wording::{plain, two_digits};

/// The filters' share, and the area that would make it a quarter; `None` without one.
pub(super) fn filter(report: &SizeReport) -> Option<String> {
    let filter = report.filter?;
    let layers = report.scenario.ventilation.iter().flat_map(|v| &v.main.layers);
    let filters = layers.filter(|layer| matches!(layer.kind, LayerKind::Filter { .. }));
    let several = filters.map(|layer| layer.count).sum::<u32>() > 1;
    let (noun, take) = if several { ("filters", "take") } else { ("filter", "takes") };
    let share = plain(100.0 * filter.share);
    let fact = format!("The {noun} {take} {share} % of the fans' pressure");
    if filter.share <= FILTER_SHARE {
        return Some(wrap(&format!("{fact}, within the quarter that is common practice."), 0));
    }
    let rest = match filter.area {
        Answer::Value(area) => {
            let grown = if several { " in the first, and the others larger alike," } else { "" };
            let area = two_digits(1e4 * area);
            format!("; {area} cm² of mat{grown} would bring that to a quarter.")
        }
        _ => ", and no area brings that to a quarter.".to_owned(),
    };
    Some(wrap(&format!("{fact}{rest}"), 0))
}

/// One paragraph for each wish.
pub(super) fn answers(report: &SizeReport) -> Vec<String> {
    let films = report.sizing.systems.first().and_then(|system| system.steps.first());
    let front = films.is_some_and(|step| step.films.iter().any(|row| row.front.is_some()));
    let told = report.wishes.iter().map(|(wish, wished)| {
        let asked = Asked { wish: *wish, face: if front { "front" } else { "back" } };
        let text = match wished {
            None => "the main arrangement has no fans.".to_owned(),
            Some(wished) => asked.answered(*wished),
        };
        wrap(&format!("{}: {text}", asked.heading()), 0)
    });
    told.collect()
}

/// A wish, and the face a film is wished for.
struct Asked {
    wish: Wish,
    face: &'static str,
}

impl Asked {
    fn heading(&self) -> String {
        match self.wish {
            Wish::SlotSpeed(speed) => format!("{} in the slot", self.amount(speed)),
            Wish::Film(film) => format!("{} in the mean of the {}", self.amount(film), self.face),
        }
    }

    fn amount(&self, value: f64) -> String {
        let unit = match self.wish {
            Wish::SlotSpeed(_) => "m/s",
            Wish::Film(_) => "W/m²/K",
        };
        format!("{} {unit}", two_digits(value))
    }

    fn answered(&self, wished: Wished) -> String {
        let speed = match wished.speed {
            Answer::Value(share) if share > 0.995 => "run at full speed".to_owned(),
            Answer::Value(share) => format!("run at {} of full speed", hundredths(share)),
            Answer::AtMost(most) => {
                format!("out of reach, full speed gives {}", self.amount(most))
            }
            Answer::AtLeast(least) => format!(
                "the fans cannot turn so slowly, at their slowest they give {}",
                self.amount(least)
            ),
            Answer::NoMeaning => return self.without_meaning().to_owned(),
        };
        let slot = match wished.slot {
            Answer::Value(width) => {
                format!("; at full speed, a slot {} mm wide", plain(1e3 * width))
            }
            Answer::AtMost(most) => {
                format!("; no slot down to a tenth as wide gives more than {}", self.amount(most))
            }
            Answer::AtLeast(least) => {
                format!("; even a slot ten times as wide gives {}", self.amount(least))
            }
            Answer::NoMeaning => String::new(),
        };
        format!("{speed}{slot}.")
    }

    fn without_meaning(&self) -> &'static str {
        match self.wish {
            Wish::SlotSpeed(_) => "no answer, as no air leaves a ring nozzle here.",
            Wish::Film(_) => "no answer, as no air moves over that face here.",
        }
    }
}
