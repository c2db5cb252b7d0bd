//! Where the fans' pressure goes, part by part.

use evenglass_simulation::ventilation::sizing::{Passage, Step};

use super::flow;
use crate::text::aligned;
use crate::wording::plain;

/// Characters of a bar that is as long as the fans' pressure.
const BAR: usize = 24;

/// Trunk and branches with pressures, speeds and bars; `None` where no air moves.
pub(super) fn table(step: &Step) -> Option<String> {
    let operating = &step.operating;
    let whole = operating.fan_pressure;
    let moves = operating.flow > 0.0;
    if !moves {
        return None;
    }
    let row = |part: &Passage, indent: &str| {
        let share = if whole > 0.0 { part.drop / whole } else { 0.0 };
        vec![
            format!("{indent}{}", part.name),
            format!("{} Pa", plain(part.drop)),
            format!("{} m/s", plain(part.speed)),
            bar(share),
        ]
    };
    let mut rows: Vec<Vec<String>> = operating.trunk.iter().map(|part| row(part, "")).collect();
    let several = operating.branches.len() > 1;
    for branch in &operating.branches {
        if several {
            rows.push(vec![format!("to the {}, {}:", branch.name, flow(branch.flow))]);
        }
        let indent = if several { "  " } else { "" };
        rows.extend(branch.passages.iter().map(|part| row(part, indent)));
    }
    let pressure = plain(whole);
    let heading = format!("What takes the {pressure} Pa at full speed, and the speed there:");
    Some(format!("{heading}\n{}", aligned(&rows).trim_end()))
}

/// A bar of block characters, padded to the length of a whole one.
fn bar(share: f64) -> String {
    const EIGHTHS: [&str; 8] = ["", "▏", "▎", "▍", "▌", "▋", "▊", "▉"];
    let all = if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 };
    let mut left = all * BAR as f64;
    let mut text = String::new();
    while left >= 1.0 {
        text.push('█');
        left -= 1.0;
    }
    let eighth = (0..8_u32).rev().find(|&n| f64::from(n) <= 8.0 * left).unwrap_or(0);
    text.push_str(EIGHTHS[eighth as usize]);
    let blanks = BAR.saturating_sub(text.chars().count());
    text.extend(std::iter::repeat_n(' ', blanks));
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_is_as_long_as_its_share_to_an_eighth_of_a_character() {
        assert_eq!(bar(1.0), "█".repeat(24));
        assert_eq!(bar(0.5).trim_end(), "█".repeat(12));
        assert_eq!(bar(0.1).trim_end(), "██▍");
        for strange in [-0.2, f64::NAN, 0.0] {
            assert_eq!(bar(strange), " ".repeat(24), "{strange}");
        }
        assert_eq!(bar(7.0).chars().count(), 24);
    }
}
