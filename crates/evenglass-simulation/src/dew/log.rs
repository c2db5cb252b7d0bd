//! What a night did to one mirror.

use super::Remedies;

/// Water or ice on an optic that is seen as fog [g m⁻²]: common practice, no source.
pub const FOG_G_M2: f64 = 1.0;

/// What a night did to one mirror.
#[derive(Debug, Clone, PartialEq)]
pub struct MirrorDew {
    /// Smallest margin of its face \[K\] and when \[s\].
    pub worst_margin_k: f64,
    /// See there.
    pub worst_at_s: f64,
    /// When the face was first colder than the point of wetting \[s\].
    pub dew_from_s: Option<f64>,
    /// When the film was first seen, [`FOG_G_M2`] \[s\].
    pub fogged_from_s: Option<f64>,
    /// How long it was seen in all \[s\].
    pub fogged_s: f64,
    /// Largest film [g m⁻²] and when \[s\].
    pub film_g_m2: f64,
    /// See there.
    pub film_at_s: f64,
    /// Whether it was frost: below 0 °C when it began to form.
    pub frost: bool,
    /// What would have kept it dry, where its margin was smaller than asked for.
    pub remedies: Option<Remedies>,
}

/// Follows a mirror through the night.
#[derive(Debug, Clone)]
pub(crate) struct MirrorLog {
    dew: MirrorDew,
}

impl Default for MirrorLog {
    fn default() -> Self {
        Self {
            dew: MirrorDew {
                worst_margin_k: f64::INFINITY,
                worst_at_s: 0.0,
                dew_from_s: None,
                fogged_from_s: None,
                fogged_s: 0.0,
                film_g_m2: 0.0,
                film_at_s: 0.0,
                frost: false,
                remedies: None,
            },
        }
    }
}

impl MirrorLog {
    /// Smallest margin so far \[K\].
    pub(crate) fn worst_margin(&self) -> f64 {
        self.dew.worst_margin_k
    }

    /// A stretch of time \[s\] in which margin \[K\] and film [kg m⁻²] run straight; NaN is not
    /// known.
    pub(crate) fn note(&mut self, (from, to): (f64, f64), margin: [f64; 2], film: [f64; 2]) {
        let dew = &mut self.dew;
        if margin[1] < dew.worst_margin_k {
            (dew.worst_margin_k, dew.worst_at_s) = (margin[1], to);
        }
        if margin[1] < 0.0 && dew.dew_from_s.is_none() {
            dew.dew_from_s = Some(crossing((from, to), margin));
        }
        let grams = film.map(|film| 1e3 * film);
        if grams[1] > dew.film_g_m2 {
            (dew.film_g_m2, dew.film_at_s) = (grams[1], to);
        }
        let over = grams.map(|grams| grams - FOG_G_M2);
        if over[1] > 0.0 && dew.fogged_from_s.is_none() {
            dew.fogged_from_s = Some(crossing((from, to), over));
        }
        dew.fogged_s += (to - from) * share_above(over);
    }

    /// A film begins to form on a face of a temperature [°C].
    pub(crate) fn forms_at(&mut self, celsius: f64) {
        self.dew.frost |= celsius < 0.0;
    }

    pub(crate) fn finish(self, remedies: Option<Remedies>) -> MirrorDew {
        MirrorDew { remedies, ..self.dew }
    }
}

/// Where a straight line passes zero; its end where it does not.
fn crossing((from, to): (f64, f64), [start, end]: [f64; 2]) -> f64 {
    let share = start / (start - end);
    if (0.0..=1.0).contains(&share) { from + share * (to - from) } else { to }
}

/// Share of a straight line that lies above zero.
fn share_above([start, end]: [f64; 2]) -> f64 {
    match (start > 0.0, end > 0.0) {
        (true, true) => 1.0,
        (false, false) => 0.0,
        (true, false) => start / (start - end),
        (false, true) => end / (end - start),
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;

    #[test]
    fn fog_is_timed_between_the_ends_of_a_step() {
        let mut log = MirrorLog::default();
        log.note((0.0, 100.0), [2.0, -2.0], [0.0, 0.0]);
        log.note((100.0, 200.0), [-2.0, -3.0], [0.0, 2e-3]);
        log.note((200.0, 300.0), [-3.0, 1.0], [2e-3, 0.0]);
        let dew = log.finish(None);
        assert_eq!(dew.dew_from_s, Some(50.0));
        assert_eq!(dew.fogged_from_s, Some(150.0));
        assert_abs_diff_eq!(dew.fogged_s, 100.0, epsilon = 1e-9);
        assert_abs_diff_eq!(dew.film_g_m2, 2.0, epsilon = 1e-12);
        assert_eq!((dew.worst_margin_k, dew.worst_at_s), (-3.0, 200.0));
        assert!(!dew.frost);
    }

    #[test]
    fn what_is_not_known_leaves_no_trace() {
        let mut log = MirrorLog::default();
        log.note((0.0, 100.0), [f64::NAN; 2], [0.0; 2]);
        let dew = log.finish(None);
        assert_eq!((dew.dew_from_s, dew.fogged_from_s), (None, None));
        assert!(dew.worst_margin_k.is_infinite());
    }
}
