//! Speed across the sheet.

use super::Sheet;
use super::layer::Layer;
use crate::laminar_jet::plane_distance;

impl Sheet {
    /// Speed along the glass at `height` above it [m/s] (eq. C-45).
    ///
    /// Below the peak the laminar shape is that of the wall layer; above it both shapes
    /// have the right half depth and no more is claimed.
    #[must_use]
    pub fn speed_at_height(&self, radius: f64, height: f64) -> f64 {
        if !self.is_moving() || height <= 0.0 {
            return 0.0;
        }
        let column = self.column.radius;
        let share = (radius.max(0.0) / column).min(1.0);
        let layer = self.layer(self.nozzle.radius - radius.max(column));
        let gamma = layer.intermittency;
        let laminar = self.laminar_shape(&layer, height);
        let turbulent = turbulent_shape(height / layer.turbulent_half_depth());
        share * layer.speed * ((1.0 - gamma) * laminar + gamma * turbulent)
    }

    fn laminar_shape(&self, layer: &Layer, height: f64) -> f64 {
        let radius = self.nozzle.radius;
        let distance = layer.distance.max(self.lip_cut()).min(radius);
        let slope =
            layer.radius / radius * self.jet.wall_shear_rate(plane_distance(radius, distance));
        // tanh(z^1.5)^(2/3) is within 2 % of Blasius' profile with the slope 1 at the wall.
        let inner = (slope * height / layer.speed).powf(1.5).tanh().powf(2.0 / 3.0);
        let outer = (height / layer.half_depth()).powi(4);
        inner / (1.0 + outer)
    }
}

/// Profile of a turbulent wall jet, at a height over the half depth.
///
/// A. Verhoff, *The two-dimensional turbulent wall jet with and without an external
/// stream*, Princeton University report 626 (1963); constants from memory.
fn turbulent_shape(relative: f64) -> f64 {
    1.48 * relative.powf(1.0 / 7.0) * complementary_error(0.68 * relative)
}

/// erfc within 1.5 × 10⁻⁷: M. Abramowitz and I. A. Stegun, *Handbook of Mathematical
/// Functions* (1964), 7.1.26.
fn complementary_error(x: f64) -> f64 {
    let t = 1.0 / (1.0 + 0.327_591_1 * x);
    let tail = 1.421_413_741 + t * (-1.453_152_027 + t * 1.061_405_429);
    t * (0.254_829_592 + t * (-0.284_496_736 + t * tail)) * (-x * x).exp()
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;

    #[test]
    fn the_turbulent_shape_has_its_peak_near_one_and_half_of_it_at_the_half_depth() {
        let peak = (1..200).map(|i| turbulent_shape(f64::from(i) / 100.0)).fold(0.0, f64::max);
        assert_abs_diff_eq!(peak, 1.0, epsilon = 0.01);
        assert_abs_diff_eq!(turbulent_shape(1.0), 0.5, epsilon = 0.01);
    }

    /// erfc(0.5) = 0.479500122, erfc(1) = 0.157299207 (Abramowitz and Stegun, table 7.1).
    #[test]
    fn the_error_function_gives_the_tabulated_values() {
        assert_abs_diff_eq!(complementary_error(0.5), 0.479_500_122, epsilon = 1.5e-7);
        assert_abs_diff_eq!(complementary_error(1.0), 0.157_299_207, epsilon = 1.5e-7);
        assert_abs_diff_eq!(complementary_error(0.0), 1.0, epsilon = 1.5e-7);
    }
}
