//! Straight passages: ducts, the gap past a rim, the space between two discs.

use std::f64::consts::PI;

use crate::Air;

use super::Loss;

/// One standard deviation of a channel's drop [-]: short, with entries that are not
/// quite sharp.
pub(super) const CHANNEL_SIGMA: f64 = 0.15;

/// One standard deviation of the drop between discs [-].
pub(super) const DISCS_SIGMA: f64 = 0.20;

/// Reynolds number below which flow is laminar [-].
const LAMINAR_BELOW: f64 = 2300.0;

/// Reynolds number above which flow is fully turbulent [-].
const TURBULENT_ABOVE: f64 = 4000.0;

/// Reynolds numbers beyond this are as good as infinite, and overflow nothing.
const FASTEST: f64 = 1e12;

/// Greatest roughness over diameter of Moody's chart [-]; held beyond.
const ROUGHEST: f64 = 0.05;

/// Steps of Simpson's rule between two discs; friction changes little over each.
const STEPS: u32 = 8;

/// Share of the difference of velocity heads that a flow slowing down between discs
/// does not get back [-]; ours, ± 0.3.
const DIFFUSION_LOSS: f64 = 0.5;

/// Form of a passage's section.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Section {
    /// A round pipe.
    Round,
    /// A gap much wider than deep.
    Slit,
}

/// A straight passage with an entry and an exit (eqs. N-8 to N-10).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Channel {
    /// Form of the section.
    pub section: Section,
    /// Of the section \[m²\].
    pub area: f64,
    /// Hydraulic diameter: of a pipe its own, of a gap twice its depth \[m\].
    pub hydraulic: f64,
    /// \[m\]
    pub length: f64,
    /// Height of the wall's roughness \[m\].
    pub roughness: f64,
    /// Entry and exit together, in velocity heads [-].
    pub ends: f64,
}

/// Which way air flows between two discs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// From the middle to the rim, ever slower.
    Outward,
    /// From the rim to the middle, ever faster: laminar.
    Inward,
}

/// The space between two discs, from one radius to another (eqs. N-11 and N-12).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Discs {
    /// Where the flow is nearest to the axis \[m\].
    pub inner: f64,
    /// Where it is farthest \[m\].
    pub outer: f64,
    /// Between the discs \[m\].
    pub gap: f64,
    /// Which way air flows.
    pub direction: Direction,
}

impl Section {
    /// f Re of developed laminar flow, Darcy's [-].
    fn laminar(self) -> f64 {
        match self {
            Self::Round => 64.0,
            Self::Slit => 96.0,
        }
    }

    /// The two constants of the developing layer: pressure used up by its growth in
    /// velocity heads, and where the layers meet.
    fn developing(self) -> (f64, f64) {
        match self {
            Self::Round => (1.25, 2.12e-4),
            Self::Slit => (0.674, 2.9e-5),
        }
    }
}

impl Channel {
    /// The gap past a rim: `gap` deep around a disc of `radius`, `length` long, with a
    /// sharp entry (0.5) and an exit into the open (1.0) \[m\].
    #[must_use]
    pub fn past_rim(radius: f64, gap: f64, length: f64) -> Self {
        Self {
            section: Section::Slit,
            area: PI * gap * (2.0 * radius + gap),
            hydraulic: 2.0 * gap,
            length,
            roughness: 0.0,
            ends: 1.5,
        }
    }

    /// A round pipe of `diameter` and `length`, smooth, without its ends \[m\].
    #[must_use]
    pub fn pipe(diameter: f64, length: f64) -> Self {
        Self {
            section: Section::Round,
            area: 0.25 * PI * diameter * diameter,
            hydraulic: diameter,
            length,
            roughness: 0.0,
            ends: 0.0,
        }
    }

    /// This passage as a law.
    #[must_use]
    pub fn loss(self) -> Loss {
        Loss::Channel(self)
    }

    pub(super) fn drop(&self, flow: f64, air: &Air) -> f64 {
        if !(self.area > 0.0 && self.hydraulic > 0.0) {
            return f64::INFINITY;
        }
        let speed = flow / self.area;
        let reynolds = speed * self.hydraulic * air.density / air.viscosity;
        if reynolds <= 0.0 {
            // Lost in the denormal numbers.
            return 0.0;
        }
        let reynolds = reynolds.min(FASTEST);
        let slenderness = self.length.max(0.0) / self.hydraulic;
        let rough = self.roughness / self.hydraulic;
        // Layers that have not met yet rub more than the developed flow does.
        let developing = developing_heads(self.section, reynolds, slenderness);
        let developed = friction(self.section, reynolds, rough) * slenderness;
        let heads = self.ends.max(0.0) + developed.max(developing);
        0.5 * heads * air.density * speed * speed
    }
}

/// Darcy friction factor [-] (eq. N-8).
///
/// * `reynolds` — on the hydraulic diameter [-]; `roughness` — over it [-], to 0.05
///
/// Laminar below 2300, turbulent above 4000, a straight line between.
///
/// # Source
/// Laminar: R. K. Shah and A. L. London, *Laminar Flow Forced Convection in Ducts* (1978).
/// Turbulent: [`turbulent_friction`].
#[must_use]
pub fn friction(section: Section, reynolds: f64, roughness: f64) -> f64 {
    let laminar = |re: f64| section.laminar() / re;
    if reynolds <= LAMINAR_BELOW {
        laminar(reynolds)
    } else if reynolds >= TURBULENT_ABOVE {
        turbulent_friction(reynolds, roughness)
    } else {
        let share = (reynolds - LAMINAR_BELOW) / (TURBULENT_ABOVE - LAMINAR_BELOW);
        let turbulent = turbulent_friction(TURBULENT_ABOVE, roughness);
        (1.0 - share) * laminar(LAMINAR_BELOW) + share * turbulent
    }
}

/// Darcy friction factor of turbulent flow [-] (eq. N-9).
///
/// * `reynolds` — [-], from 4000; `roughness` — over the diameter [-], to 0.05
///
/// # Source
/// C. F. Colebrook, J. Inst. Civ. Eng. 11 (1939) 133–156, solved by Newton's method from
/// the start of S. E. Haaland, J. Fluids Eng. 105 (1983) 89–90.
#[must_use]
pub fn turbulent_friction(reynolds: f64, roughness: f64) -> f64 {
    let rough = roughness.clamp(0.0, ROUGHEST) / 3.7;
    let mut root = -1.8 * (rough.powf(1.11) + 6.9 / reynolds).log10();
    // The error of the start, 1 %, squares twice.
    for _ in 0..3 {
        let inside = rough + 2.51 * root / reynolds;
        let slope = 1.0 + 2.0 * std::f64::consts::LOG10_E * 2.51 / reynolds / inside;
        root -= (root + 2.0 * inside.log10()) / slope;
    }
    root.powi(-2)
}

/// Friction of a laminar layer that grows from the entry, in velocity heads (eq. N-10).
///
/// * `slenderness` — length over hydraulic diameter [-]
///
/// # Source
/// R. K. Shah and A. L. London (1978), as above; from memory.
#[must_use]
pub fn developing_heads(section: Section, reynolds: f64, slenderness: f64) -> f64 {
    if slenderness <= 0.0 {
        return 0.0;
    }
    let x = slenderness / reynolds;
    let (growth, meeting) = section.developing();
    let entry = 3.44 / x.sqrt();
    let developed = 0.25 * section.laminar();
    let fanning = entry + (developed + 0.25 * growth / x - entry) / (1.0 + meeting / (x * x));
    4.0 * fanning * x
}

impl Discs {
    /// This passage as a law.
    #[must_use]
    pub fn loss(self) -> Loss {
        Loss::Discs(self)
    }

    /// Section at `radius` \[m²\].
    #[must_use]
    pub fn area(&self, radius: f64) -> f64 {
        2.0 * PI * radius * self.gap
    }

    pub(super) fn drop(&self, flow: f64, air: &Air) -> f64 {
        if !(self.gap > 0.0 && self.inner > 0.0) {
            return f64::INFINITY;
        }
        let span = (self.outer / self.inner).ln();
        if span.is_nan() || span <= 0.0 {
            return 0.0;
        }
        match self.direction {
            Direction::Inward => 6.0 * air.viscosity * flow * span / (PI * self.gap.powi(3)),
            Direction::Outward => self.rubbing(flow, air, span) + self.diffusion(flow, air),
        }
    }

    /// ∫ f/(2H) ρu²/2 dr by Simpson's rule in ln r.
    fn rubbing(&self, flow: f64, air: &Air, span: f64) -> f64 {
        let at = |step: u32| {
            let radius = self.inner * (span * f64::from(step) / f64::from(STEPS)).exp();
            let reynolds = flow * air.density / (PI * radius * air.viscosity);
            if reynolds <= 0.0 {
                return 0.0;
            }
            let speed = flow / self.area(radius);
            let factor = friction(Section::Slit, reynolds.min(FASTEST), 0.0);
            factor * radius / (2.0 * self.gap) * 0.5 * air.density * speed * speed
        };
        let weight = |step: u32| match step {
            0 | STEPS => 1.0,
            odd if odd % 2 == 1 => 4.0,
            _ => 2.0,
        };
        let sum: f64 = (0..=STEPS).map(|step| weight(step) * at(step)).sum();
        sum * span / (3.0 * f64::from(STEPS))
    }

    /// What slowing down loses of the difference of velocity heads.
    fn diffusion(&self, flow: f64, air: &Air) -> f64 {
        // One factor for all flows: a difference of heads would round unevenly.
        let share = 1.0 - (self.inner / self.outer).powi(2);
        let speed = flow / self.area(self.inner);
        DIFFUSION_LOSS * share * 0.5 * air.density * speed * speed
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    use super::*;

    const AIR: Air = Air::REFERENCE;

    /// Plane Poiseuille flow: Δp = 12 μ L Q/(width g³).
    #[test]
    fn a_long_narrow_gap_has_the_drop_of_plane_poiseuille_flow() {
        let (radius, gap, length, flow) = (0.3, 1e-3, 0.5, 1e-4);
        let channel = Channel { ends: 0.0, ..Channel::past_rim(radius, gap, length) };
        let width = channel.area / gap;
        let expected = 12.0 * AIR.viscosity * length * flow / (width * gap.powi(3));
        // The growing layer at the entry adds its part.
        assert_relative_eq!(channel.drop(flow, &AIR), expected, max_relative = 2e-3);
    }

    /// Far from the entry it has used up K∞ velocity heads more than developed flow.
    #[test]
    fn a_layer_that_has_grown_leaves_its_entry_loss_behind() {
        for (section, used) in [(Section::Round, 1.25), (Section::Slit, 0.674)] {
            let (reynolds, slenderness) = (100.0, 3000.0);
            let heads = developing_heads(section, reynolds, slenderness);
            let developed = section.laminar() / reynolds * slenderness;
            assert_relative_eq!(heads - developed, used, max_relative = 1e-3);
        }
    }

    /// Next to the entry it is that of a plate: 4 · 3.44 √x.
    #[test]
    fn a_layer_that_has_just_begun_rubs_like_a_plate() {
        let x = 1e-8;
        let heads = developing_heads(Section::Slit, 1e3, 1e3 * x);
        assert_relative_eq!(heads, 4.0 * 3.44 * x.sqrt(), max_relative = 1e-2);
    }

    /// Velocity heads of the ends alone: 1.5 · 0.6 · 1² where the gap is short.
    #[test]
    fn a_short_gap_past_a_rim_loses_its_entry_and_its_exit() {
        let channel = Channel::past_rim(0.3, 0.02, 1e-9);
        assert_relative_eq!(channel.drop(channel.area, &AIR), 0.9, max_relative = 1e-3);
    }

    #[test]
    fn flow_outward_so_slow_that_it_is_laminar_rubs_as_inward() {
        let discs = |direction| Discs { inner: 0.05, outer: 0.3, gap: 0.02, direction };
        let flow = 1e-5;
        let inward = discs(Direction::Inward).drop(flow, &AIR);
        let expected = 6.0 * AIR.viscosity * flow * 6f64.ln() / (PI * 0.02f64.powi(3));
        assert_relative_eq!(inward, expected, max_relative = 1e-12);
        let outward = discs(Direction::Outward);
        let rubbing = outward.drop(flow, &AIR) - outward.diffusion(flow, &AIR);
        // Simpson's rule with eight steps integrates what is constant in ln r exactly.
        assert_relative_eq!(rubbing, expected, max_relative = 1e-9);
    }

    /// Half of ρ/2 (u₁² − u₂²), with u₁ = Q/(2π r₁ H).
    #[test]
    fn wide_discs_lose_half_of_what_slowing_down_sets_free() {
        let discs = Discs { inner: 0.05, outer: 0.3, gap: 0.05, direction: Direction::Outward };
        let speed = 0.02 / (2.0 * PI * 0.05 * 0.05);
        let expected = 0.5 * 0.6 * speed * speed * (1.0 - 1.0 / 36.0);
        assert_relative_eq!(discs.diffusion(0.02, &AIR), expected, max_relative = 1e-12);
    }

    #[test]
    fn friction_has_no_step_between_laminar_and_turbulent() {
        for section in [Section::Round, Section::Slit] {
            for edge in [LAMINAR_BELOW, TURBULENT_ABOVE] {
                let (below, above) = (edge * (1.0 - 1e-9), edge * (1.0 + 1e-9));
                let (below, above) = (friction(section, below, 0.0), friction(section, above, 0.0));
                assert_relative_eq!(below, above, max_relative = 1e-7);
            }
        }
    }

    proptest! {
        #[test]
        fn drops_rise_with_flow(
            size in (-4.0..0.0f64, -4.0..0.0f64, -3.0..1.0f64, -6.0..-2.0f64),
            flows in prop::collection::vec(-9.0..2.0f64, 40),
        ) {
            let power = |x: f64| 10f64.powf(x);
            let (radius, gap, length) = (power(size.0), power(size.1), power(size.2));
            let slit = Channel { ends: 0.0, ..Channel::past_rim(radius, gap, length) };
            let pipe = Channel { roughness: power(size.3), ..Channel::pipe(gap, length) };
            let direction = Direction::Outward;
            let discs = Discs { inner: radius, outer: radius + length, gap, direction };
            let mut flows: Vec<f64> = flows.into_iter().map(power).collect();
            flows.sort_by(f64::total_cmp);
            for pair in flows.windows(2) {
                prop_assert!(slit.drop(pair[1], &AIR) >= slit.drop(pair[0], &AIR), "{:?}", slit);
                prop_assert!(pipe.drop(pair[1], &AIR) >= pipe.drop(pair[0], &AIR), "{:?}", pipe);
                prop_assert!(discs.drop(pair[1], &AIR) >= discs.drop(pair[0], &AIR), "{:?}", discs);
            }
        }
    }

    #[test]
    fn passages_without_room_let_nothing_through() {
        assert!(Channel::past_rim(0.3, 0.0, 0.05).drop(1e-6, &AIR).is_infinite());
        let discs = Discs { inner: 0.1, outer: 0.3, gap: 0.0, direction: Direction::Inward };
        assert!(discs.drop(1e-6, &AIR).is_infinite());
    }

    /// The ring between 0.3 and 0.32 m: π (0.32² − 0.3²).
    #[test]
    fn the_gap_past_a_rim_is_a_ring() {
        let ring = PI * (0.32f64.powi(2) - 0.3f64.powi(2));
        assert_relative_eq!(Channel::past_rim(0.3, 0.02, 0.05).area, ring, max_relative = 1e-12);
    }

    #[test]
    fn flow_is_turbulent_from_4000_and_no_rougher_than_the_chart() {
        let turbulent = turbulent_friction(4000.0, 0.0);
        assert_relative_eq!(friction(Section::Round, 4000.0, 0.0), turbulent);
        assert_relative_eq!(turbulent_friction(1e5, 0.2), turbulent_friction(1e5, 0.05));
        assert!(turbulent_friction(1e5, 0.049) < turbulent_friction(1e5, 0.05));
    }
}
