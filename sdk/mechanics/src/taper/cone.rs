//! The wedge: axial force, contact pressure, friction (textbook statics of a cone with Coulomb's friction).

use std::f64::consts::PI;

/// A conical contact.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cone {
    /// Half angle \[rad\].
    pub half_angle_rad: f64,
    /// Mean diameter of the contact \[m\].
    pub mean_m: f64,
    /// Length of the contact along the axis \[m\].
    pub length_m: f64,
    /// Coefficient of friction.
    pub friction: f64,
}

impl Cone {
    /// Area of the contact \[m²\]: `π D L / cos α`.
    pub fn area_m2(&self) -> f64 {
        PI * self.mean_m * self.length_m / self.half_angle_rad.cos()
    }

    /// Axial force over normal force while the ring is driven on: `sin α + μ cos α`.
    pub fn driven_on(&self) -> f64 {
        self.half_angle_rad.sin() + self.friction * self.half_angle_rad.cos()
    }

    /// Mean contact pressure \[Pa\] of a ring driven on by an axial force \[N\]: `F / (A (sin α + μ cos α))`.
    pub fn pressure_pa(&self, axial_n: f64) -> f64 {
        axial_n / (self.area_m2() * self.driven_on())
    }

    /// Axial force \[N\] at which a contact pressure \[Pa\] is reached.
    pub fn axial_n(&self, pressure_pa: f64) -> f64 {
        pressure_pa * self.area_m2() * self.driven_on()
    }

    /// Whether the ring stays on when the force is gone: `μ ≥ tan α`.
    pub fn self_locking(&self) -> bool {
        self.friction >= self.half_angle_rad.tan()
    }

    /// Axial force at which a rigid ring slides back, over the force that drove it on: `(tan α − μ)/(tan α + μ)`. Below 0 it has to be
    /// pulled off.
    pub fn slides_back_share(&self) -> f64 {
        let slope = self.half_angle_rad.tan();
        (slope - self.friction) / (slope + self.friction)
    }

    /// How far a ring sinks along the axis \[m\] for a depth worn off square to the cone \[m\].
    pub fn sink_m(&self, worn_m: f64) -> f64 {
        worn_m / self.half_angle_rad.sin()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn keeper(friction: f64) -> Cone {
        Cone {
            half_angle_rad: 7.0_f64.to_radians(),
            mean_m: 8.5e-3,
            length_m: 10.0e-3,
            friction,
        }
    }

    /// By hand: 926 N on a cone of 7° half angle, 8.5 mm and 10 mm long with friction 0.12 press 14 MPa.
    #[test]
    fn a_wedge_by_hand() {
        let pressure = keeper(0.12).pressure_pa(926.0);
        let by_hand = 926.0 / (PI * 8.5e-3 * 10.0e-3 * (0.121_869 / 0.992_546 + 0.12));
        assert!((pressure / by_hand - 1.0).abs() < 1e-5, "{pressure}");
        assert!((pressure / 14.3e6 - 1.0).abs() < 0.01, "{pressure}");
        assert!((keeper(0.12).axial_n(pressure) / 926.0 - 1.0).abs() < 1e-12);
    }

    /// A cone locks itself when its half angle is below the angle of friction (textbook): 7° at 0.123.
    #[test]
    fn a_steep_cone_lets_go() {
        assert!(!keeper(0.12).self_locking() && keeper(0.125).self_locking());
        assert!(keeper(0.12).slides_back_share() > 0.0 && keeper(0.125).slides_back_share() < 0.0);
        assert!((keeper(0.0).slides_back_share() - 1.0).abs() < 1e-12);
    }
}
