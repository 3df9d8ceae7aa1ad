use super::kinematics::SliderCrank;

/// Masses that move with the piston pin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reciprocating {
    /// Piston, pin, rings and the small-end share of the rod \[kg\].
    pub mass_kg: f64,
    /// Cylinder bore \[m\].
    pub bore_m: f64,
}

/// Forces on the crank mechanism at one crank angle. Leaves out friction and the rod's own
/// transverse inertia.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CrankForces {
    /// Gas force on the piston \[N\], positive downwards.
    pub gas_n: f64,
    /// Inertia force `−m a` of the reciprocating mass \[N\], positive downwards: negative (it lifts
    /// the piston off the rod) at top dead centre.
    pub inertia_n: f64,
    /// Force along the rod \[N\], positive in compression.
    pub rod_n: f64,
    /// Side thrust of the piston on the bore \[N\], positive towards the side opposite the crank pin.
    pub side_n: f64,
    /// Torque on the crank \[N·m\].
    pub torque_n_m: f64,
}

impl Reciprocating {
    /// Forces at a crank angle \[rad\], speed \[rad/s\] and pressure difference between chamber and
    /// crankcase \[Pa\].
    pub fn forces(
        &self,
        crank: &SliderCrank,
        angle_rad: f64,
        speed_rad_s: f64,
        pressure_difference_pa: f64,
    ) -> CrankForces {
        let area = 0.25 * std::f64::consts::PI * self.bore_m * self.bore_m;
        let gas_n = pressure_difference_pa * area;
        let inertia_n = -self.mass_kg * crank.acceleration_m_s2(angle_rad, speed_rad_s);
        let down = gas_n + inertia_n;
        let rod_angle = crank.rod_angle_rad(angle_rad);
        CrankForces {
            gas_n,
            inertia_n,
            rod_n: down / rod_angle.cos(),
            side_n: down * rod_angle.tan(),
            torque_n_m: down * crank.displacement_per_rad_m(angle_rad),
        }
    }
}
