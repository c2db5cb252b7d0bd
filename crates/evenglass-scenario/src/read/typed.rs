//! Values with their types: what most keys hold.

use evenglass_units::{Angle, Area, Length};

use super::Reader;

impl Reader<'_> {
    /// A length.
    pub(crate) fn length(&self, key: &str) -> Option<Length> {
        self.si(key).map(Length::from_metres)
    }

    /// An area.
    pub(crate) fn area(&self, key: &str) -> Option<Area> {
        self.si(key).map(Area::from_m2)
    }

    /// An angle.
    pub(crate) fn angle(&self, key: &str) -> Option<Angle> {
        self.si(key).map(Angle::from_radians)
    }

    /// A bare number that is whole.
    pub(crate) fn whole(&self, key: &str) -> Option<u32> {
        let value = self.number(key)?;
        if value.fract().abs() > 0.0 {
            let fact = format!("`{key}` is `{value}`, a whole number is wanted");
            let help = format!("write {key} = {}", value.round());
            self.ledger.note("scenario::range", self.place(key), fact, help);
            return None;
        }
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "whole numbers in files are described with limits of 0 to a million"
        )]
        Some(value as u32)
    }

    /// Whether the key stands there and goes with this table; one that does not has been noted.
    pub(crate) fn has_known(&self, key: &str) -> bool {
        self.has(key) && self.group.keys.iter().any(|known| known.name == key)
    }

    /// `Some(None)` where a key is absent, `None` where it is wrong.
    #[allow(clippy::option_option, reason = "absent and wrong are two things here")]
    pub(crate) fn settled<T>(
        &self,
        key: &str,
        read: impl FnOnce(&Self, &str) -> Option<T>,
    ) -> Option<Option<T>> {
        if self.has(key) { read(self, key).map(Some) } else { Some(None) }
    }

    /// Notes something that cannot be built, at the key that shows it.
    pub(crate) fn unbuildable(&self, key: &str, fact: String, help: String) {
        self.ledger.note("scenario::build", self.place(key), fact, help);
    }

    /// Notes a missing key that others call for.
    pub(crate) fn missing(&self, fact: String, help: String) {
        self.ledger.note("scenario::missing-key", self.at, fact, help);
    }
}

/// A length as messages say it: in mm, to a tenth.
pub(crate) fn mm(metres: f64) -> String {
    format!("{} mm", (metres * 1e4).round() / 10.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_is_said_in_millimetres_without_needless_digits() {
        assert_eq!(mm(0.0406), "40.6 mm");
        assert_eq!(mm(0.4), "400 mm");
        assert_eq!(mm(0.1 + 0.2), "300 mm");
    }
}
