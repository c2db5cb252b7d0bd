//! Two mechanisms at one place: forced and free convection, film and insulation.
//!
//! These take film coefficients, not Nusselt numbers: the mechanisms have different
//! lengths.

/// Forced and free convection that help each other (eq. C-25).
///
/// # Source
/// S. W. Churchill, "A comprehensive correlating equation for laminar, assisting,
/// forced and free convection", Am. Inst. Chem. Eng. J. 23 (1977) 10–16; exponent 3.
#[must_use]
pub fn assisting(forced: f64, free: f64) -> f64 {
    (forced.powi(3) + free.powi(3)).cbrt()
}

/// Forced and free convection against each other along a wall (eq. C-26), not below
/// three quarters of the larger.
///
/// # Source
/// Churchill (1977), as for [`assisting`]; the lower limit is ours: real flows do not
/// cancel.
#[must_use]
pub fn opposing(forced: f64, free: f64) -> f64 {
    let difference = (forced.powi(3) - free.powi(3)).abs().cbrt();
    difference.max(0.75 * forced.max(free))
}

/// Independent streams that meet at one place (eq. C-68): the cubes add, but not to more
/// than 1.3 of the largest film [W m⁻² K⁻¹].
///
/// # Source
/// The form of [`assisting`]; the limit is ours: jets that cross disturb one another.
#[must_use]
pub fn independent(films: &[f64]) -> f64 {
    let largest = films.iter().copied().fold(0.0, f64::max);
    let cubes: f64 = films.iter().map(|film| film.powi(3)).sum();
    cubes.cbrt().min(1.3 * largest)
}

/// Share of the forced film left when it must shear a stably layered film (eq. C-27).
///
/// * `richardson` — g β |ΔT| δ / u², with the depth of the moving layer [-]
///
/// # Source
/// The form is that of damping in stably stratified layers; the constant 10 is ours,
/// ± 30 % of the film where it matters.
#[must_use]
pub fn stable_damping(richardson: f64) -> f64 {
    (1.0 + 10.0 * richardson).sqrt().recip()
}

/// Conductance of a film and a plane layer in series [W m⁻² K⁻¹] (eq. C-28).
///
/// * `film` — [W m⁻² K⁻¹]
/// * `thickness` — \[m\]; `conductivity` — [W m⁻¹ K⁻¹]
#[must_use]
pub fn behind_layer(film: f64, thickness: f64, conductivity: f64) -> f64 {
    // Multiplied out, so that a sealed face (film 0) needs no division by zero.
    film / (1.0 + film * thickness / conductivity)
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn one_mechanism_alone_is_itself() {
        assert_relative_eq!(assisting(7.0, 0.0), 7.0, max_relative = 1e-12);
        assert_relative_eq!(opposing(0.0, 7.0), 7.0, max_relative = 1e-12);
        assert_relative_eq!(stable_damping(0.0), 1.0);
        assert_relative_eq!(behind_layer(12.0, 0.0, 0.035), 12.0);
        assert_relative_eq!(behind_layer(0.0, 0.01, 0.035), 0.0);
    }

    /// 1/√(1 + 10 · 0.07) = 0.766965, by hand.
    #[test]
    fn stable_layers_damp_as_worked_by_hand() {
        assert_relative_eq!(stable_damping(0.07), 0.766_965, max_relative = 1e-6);
    }

    #[test]
    fn equal_mechanisms_against_each_other_never_cancel() {
        assert_relative_eq!(opposing(4.0, 4.0), 3.0);
    }

    #[test]
    fn many_streams_add_up_to_little_more_than_the_strongest() {
        assert_relative_eq!(independent(&[5.0, 3.0]), 5.336_803, max_relative = 1e-6);
        assert_relative_eq!(independent(&[4.0; 6]), 5.2, max_relative = 1e-12);
        assert_relative_eq!(independent(&[]), 0.0);
    }

    #[test]
    fn a_layer_can_only_weaken_a_film() {
        assert!(behind_layer(12.0, 0.01, 0.035) < 0.035 / 0.01);
        assert!(stable_damping(0.5) < stable_damping(0.1));
    }

    /// ∛(27 + 64) = ∛91; nine alike would be 2.08 times one, and are held at 1.3.
    #[test]
    fn mechanisms_together_are_at_most_three_tenths_more_than_the_strongest() {
        assert_relative_eq!(independent(&[3.0, 4.0]), 91_f64.cbrt(), max_relative = 1e-12);
        assert_relative_eq!(independent(&[4.0; 9]), 5.2, max_relative = 1e-12);
        assert_relative_eq!(independent(&[0.0, 0.0]), 0.0);
    }
}
