//! Why a text is not the quantity wanted: the fact, and the remedy beside it.

use thiserror::Error;

use crate::kind::Kind;

/// Why a text is not the quantity wanted.
///
/// `Display` states the fact; [`UnitError::remedy`] says what to write instead.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("{fault}{}", wanted(.fault, .kind))]
pub struct UnitError {
    /// What is wrong.
    pub fault: UnitFault,
    /// What was wanted.
    pub kind: Kind,
}

/// What is wrong with the text of a quantity.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum UnitFault {
    /// Nothing there.
    #[error("the text is empty")]
    Empty,
    /// It does not begin with a number.
    #[error("`{text}` does not begin with a number")]
    NoNumber {
        /// What the author wrote.
        text: String,
    },
    /// A number alone.
    #[error("`{text}` has no unit")]
    NoUnit {
        /// What the author wrote.
        text: String,
    },
    /// Infinity or not a number, as text.
    #[error("`{text}` is not a finite number")]
    NotFinite {
        /// What the author wrote.
        text: String,
    },
    /// A comma inside the number.
    #[error("`{text}` has a comma in its number")]
    Comma {
        /// What the author wrote.
        text: String,
    },
    /// Several numbers, or a fraction.
    #[error("`{text}` has more than one number")]
    SecondNumber {
        /// What the author wrote.
        text: String,
    },
    /// A symbol that is not a unit here.
    #[error("`{symbol}` in `{text}` is not a unit this program knows")]
    UnknownUnit {
        /// What the author wrote.
        text: String,
        /// The part that is no unit.
        symbol: String,
    },
    /// The unit is not written in a way that can be read.
    #[error("the unit of `{text}` cannot be read")]
    Malformed {
        /// What the author wrote.
        text: String,
    },
    /// The unit measures something else.
    #[error("`{text}` measures {measured}")]
    WrongDimension {
        /// What the author wrote.
        text: String,
        /// What its unit measures, in words.
        measured: &'static str,
    },
    /// The number overflows, here or once in SI.
    #[error("`{text}` is too large a number")]
    TooLarge {
        /// What the author wrote.
        text: String,
    },
    /// Colder than anything can be.
    #[error("`{text}` is below absolute zero")]
    BelowAbsoluteZero {
        /// What the author wrote.
        text: String,
    },
}

impl UnitError {
    /// What to write instead.
    #[must_use]
    pub fn remedy(&self) -> String {
        let examples = self.kind.examples();
        match &self.fault {
            UnitFault::Comma { .. } => {
                format!("write a decimal point and no thousands separator, as in {examples}")
            }
            UnitFault::SecondNumber { .. } => {
                format!("write one decimal number and its unit, as in {examples}")
            }
            UnitFault::NoUnit { text } if self.kind == Kind::TEMPERATURE => {
                format!("add the unit: \"{text} degC\", \"{text} degF\" or \"{text} K\"")
            }
            UnitFault::BelowAbsoluteZero { .. } => {
                "a temperature in kelvin is positive: write \"-5 degC\" for degrees Celsius"
                    .to_owned()
            }
            UnitFault::NoUnit { .. } => format!("add the unit, as in {examples}"),
            UnitFault::WrongDimension { text, .. } if slash_then_space(text) => {
                format!("write it as {examples}; a slash binds only the next unit")
            }
            _ => format!("write it as {examples}"),
        }
    }
}

/// "8 W/m2 K" is W K m⁻²: correct, and seldom meant.
fn slash_then_space(text: &str) -> bool {
    text.split_once('/').is_some_and(|(_, below)| below.trim().contains([' ', '·', '*']))
}

fn wanted(fault: &UnitFault, kind: &Kind) -> String {
    match fault {
        UnitFault::WrongDimension { .. } | UnitFault::Empty | UnitFault::NoNumber { .. } => {
            format!(", {} is wanted", kind.noun())
        }
        _ => String::new(),
    }
}

/// The text as a message shows it: on one line, cut where it grows long.
pub(crate) fn shown(text: &str) -> String {
    const LONGEST: usize = 40;
    let mut short: String =
        text.trim().chars().take(LONGEST).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.trim().chars().count() > LONGEST {
        short.push('…');
    }
    short
}
