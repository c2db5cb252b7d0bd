//! The sheet over the front and the column it ends in, in sentences.

use evenglass_simulation::scenario::Scenario;
use evenglass_simulation::ventilation::sizing::{
    Attachment, BREEZES, ColumnFacts, SheetFacts, Step, Verdict,
};

use super::listed;
use crate::wording::{plain, two_digits};

/// Where the height of the secondary comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Height {
    /// From the scenario.
    Written,
    /// It has none: the usual one is taken.
    Usual,
}

impl Height {
    pub(super) fn of(scenario: &Scenario) -> Self {
        let secondary = scenario.telescope.as_ref().and_then(|t| t.secondary.as_ref());
        if secondary.is_some() { Self::Written } else { Self::Usual }
    }
}

/// Attachment, column and breezes at full speed; `None` without a sheet.
pub(super) fn sentences(step: &Step, height: Height) -> Option<String> {
    let sheet = step.sheet.as_ref()?;
    let mut said: Vec<String> = attachment(sheet).into_iter().collect();
    said.extend(step.column.as_ref().map(|facts| column(facts, height)));
    said.push(breezes(sheet));
    Some(said.join(" "))
}

fn attachment(sheet: &SheetFacts) -> Option<String> {
    match sheet.attached {
        Attachment::OnGlass => None,
        Attachment::Reattaches { at } => Some(format!(
            "The sheet leaves above the glass and comes down to it at a radius of {:.0} mm.",
            1e3 * at
        )),
        Attachment::MayNotAttach => Some(
            "The sheet leaves so high, or so slowly, that it may pass over the glass: lower the slot \
             or make it faster."
                .to_owned(),
        ),
    }
}

fn column(column: &ColumnFacts, height: Height) -> String {
    let up = plain(column.height);
    let place = match height {
        Height::Written => format!("at the secondary, {up} m up,"),
        Height::Usual => format!("{up} m up, about where a secondary stands at f/4,"),
    };
    let (above, share) = column.speed_above;
    format!(
        "The column that rises over the mirror is {:.0} mm wide at its foot and {} m/s fast; {place} \
         {} ± {} m/s. Each watt the glass gives off warms its foot by {} K.",
        two_digits(1e3 * column.diameter),
        plain(column.speed),
        plain(above),
        plain(above * share),
        plain(column.excess_per_watt)
    )
}

fn breezes(sheet: &SheetFacts) -> String {
    let verdicts = [
        (Verdict::Stable, "the sheet stands in"),
        (Verdict::Disturbed, "its middle wanders in"),
        (Verdict::Broken, "the wind gets to the mirror in"),
    ];
    let told = verdicts.iter().filter_map(|(verdict, what)| {
        let met = BREEZES.iter().zip(sheet.breezes).filter(|(_, met)| met == verdict);
        let winds: Vec<String> = met.map(|(wind, _)| wind.to_string()).collect();
        (!winds.is_empty()).then(|| format!("{what} {} m/s", listed(&winds)))
    });
    format!("Breezes at the mirror, as a rough rule: {}.", told.collect::<Vec<_>>().join(", "))
}
