//! How far the film of the sheet may be trusted.

use super::Sheet;
use super::layer::intermittency;

/// One standard deviation of the laminar film, of the turbulent film at the lip and of
/// the distance of transition, as shares.
const LAMINAR: f64 = 0.05;
const TURBULENT: f64 = 0.25;
const TRANSITION: f64 = 0.35;

impl Sheet {
    /// One standard deviation of the film at `radius`, as a share of it (eq. C-47).
    ///
    /// Estimates of ours: laminar 5 %, up to 11 % at the lip; turbulent 25 % from the
    /// analogy between heat and momentum, growing inward to 40 % with the uncertainty of
    /// the entrainment; where the layer turns turbulent what the place of transition,
    /// known to 35 %, may change; wide about the axis.
    #[must_use]
    pub fn relative_sigma(&self, radius: f64) -> f64 {
        if !self.is_moving() {
            return TURBULENT;
        }
        let column = self.column.radius;
        let layer = self.layer(self.nozzle.radius - radius.max(column));
        let (laminar, turbulent) = self.films(&layer);
        let turbulent = turbulent.max(laminar);
        let gamma = layer.intermittency;
        let film = (1.0 - gamma) * laminar + gamma * turbulent;
        let behind_glass_edge = (layer.distance - self.start_of_glass()).max(0.0);
        let lip = 0.1 * (self.lip_cut() / behind_glass_edge.max(self.lip_cut())).min(1.0);
        let share = layer.distance / self.nozzle.radius;
        let parts = [
            (1.0 - gamma) * laminar * LAMINAR.hypot(lip),
            gamma * turbulent * TURBULENT.hypot(0.3 * share),
            self.transition_doubt(layer.distance) * (turbulent - laminar),
        ];
        let sum: f64 = parts.iter().map(|part| part * part).sum();
        let mut sigma = sum.sqrt() / film;
        if layer.distance < self.reattachment() {
            sigma = sigma.hypot(0.3);
        }
        // The collision: fluctuations known to 30 %, and the loss in the turn.
        let turning = (1.0 - radius.max(0.0) / column).max(0.0);
        sigma.hypot(0.4 * turning)
    }

    /// Half of the change of the intermittency from early to late transition.
    fn transition_doubt(&self, distance: f64) -> f64 {
        if self.transition.is_infinite() {
            return 0.0;
        }
        let early = intermittency(distance, self.transition * (1.0 - TRANSITION));
        let late = intermittency(distance, self.transition * (1.0 + TRANSITION));
        0.5 * (early - late)
    }
}
