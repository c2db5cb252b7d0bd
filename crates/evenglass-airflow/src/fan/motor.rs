//! What the motor of a fan needs, and where its heat goes.

use crate::air::REFERENCE_DENSITY;

/// What the electronics of a running fan draw at any speed \[W\]; 0.2 to 0.5, common
/// practice, no source.
const ELECTRONICS: f64 = 0.3;

/// Where a motor's own losses go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MotorPlace {
    /// The stream takes them up: the hub of an axial fan.
    InStream,
    /// They stay outside the stream.
    Outside,
}

/// Whether a fan turns already.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rotor {
    /// It does.
    Turning,
    /// It stands still, and needs more to start than to go on.
    Standing,
}

/// The motor of one fan. Speeds are shares of full speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Motor {
    /// Speed below which a turning fan stops [-]; 0 if it never does. Small fans stop
    /// between 0.2 and 0.4 (common practice, no source).
    pub minimum_speed: f64,
    /// Speed that must be asked for to start from standstill [-].
    pub start_speed: f64,
    /// Drawn at full speed, electronics included \[W\].
    pub rated_power: f64,
    /// Where the motor sits.
    pub in_stream: MotorPlace,
}

impl Motor {
    /// The speed a fan takes when `requested` is asked of it [-]: 0 if it stops, or
    /// does not start.
    #[must_use]
    pub fn running_speed(&self, requested: f64, before: Rotor) -> f64 {
        let least = match before {
            Rotor::Turning => self.minimum_speed,
            Rotor::Standing => self.minimum_speed.max(self.start_speed),
        };
        if requested > 0.0 && requested >= least { requested } else { 0.0 }
    }

    /// Electrical power of one fan at `speed` in air of `density` \[W\] (eq. N-4).
    ///
    /// * `speed` — [-]; `density` — [kg/m³]
    ///
    /// The shaft's share goes with the cube of speed and with density (fan laws of
    /// ISO 5801), that of the electronics stays. Nothing is drawn at rest.
    #[must_use]
    pub fn power(&self, speed: f64, density: f64) -> f64 {
        if speed <= 0.0 {
            return 0.0;
        }
        let electronics = self.rated_power.clamp(0.0, ELECTRONICS);
        let shaft = (self.rated_power - electronics).max(0.0);
        electronics + shaft * speed.powi(3) * density / REFERENCE_DENSITY
    }
}

/// Speed of a direct-current fan at another voltage [-]: in proportion (common practice,
/// no source).
///
/// * `speed` — at rated voltage [-]; `supply`, `rated` — \[V\]; `rated` above 0, else the
///   speed is not changed
#[must_use]
pub fn speed_at_voltage(speed: f64, supply: f64, rated: f64) -> f64 {
    if rated > 0.0 { speed * supply.max(0.0) / rated } else { speed }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    const MOTOR: Motor = Motor {
        minimum_speed: 0.25,
        start_speed: 0.4,
        rated_power: 3.0,
        in_stream: MotorPlace::InStream,
    };

    #[test]
    fn a_fan_needs_more_to_start_than_to_go_on() {
        assert_relative_eq!(MOTOR.running_speed(0.3, Rotor::Turning), 0.3);
        assert_relative_eq!(MOTOR.running_speed(0.3, Rotor::Standing), 0.0);
        assert_relative_eq!(MOTOR.running_speed(0.4, Rotor::Standing), 0.4);
        assert_relative_eq!(MOTOR.running_speed(0.2, Rotor::Turning), 0.0);
        assert_relative_eq!(MOTOR.running_speed(f64::NAN, Rotor::Turning), 0.0);
    }

    /// 0.3 W stay, 2.7 W go with the cube: 2.7/8 + 0.3.
    #[test]
    fn power_falls_with_the_cube_of_speed_to_that_of_the_electronics() {
        assert_relative_eq!(MOTOR.power(1.0, 1.2), 3.0);
        assert_relative_eq!(MOTOR.power(0.5, 1.2), 0.6375, max_relative = 1e-12);
        assert_relative_eq!(MOTOR.power(0.0, 1.2), 0.0);
        assert_relative_eq!(Motor { rated_power: 0.1, ..MOTOR }.power(0.5, 1.2), 0.1);
    }

    #[test]
    fn a_flat_battery_slows_the_fan_in_proportion() {
        assert_relative_eq!(speed_at_voltage(0.8, 10.8, 12.0), 0.72, max_relative = 1e-12);
        assert_relative_eq!(speed_at_voltage(0.8, 10.8, 0.0), 0.8);
    }
}
