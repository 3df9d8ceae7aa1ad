//! What loads the set at its place: statics of a shaft on two supports.

use crate::constants::GRAVITY_M_S2;
use crate::spec::{Place, Spec};

/// Loads of both bearings: radial \[N\], and axial on the shaft \[N\], positive on bearing A.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ShaftLoad {
    /// Radial load of A and B.
    pub radial_n: [f64; 2],
    /// Axial load of the shaft.
    pub axial_n: f64,
}

/// A force on a shaft at a place along it.
struct Force {
    /// From A towards B \[m\].
    position_m: f64,
    /// Across the shaft in two planes \[N\].
    across_n: [f64; 2],
    /// Along the shaft \[N\].
    axial_n: f64,
    /// Moment in the second plane \[N·m\], which adds to B and takes from A.
    moment_n_m: f64,
}

impl Force {
    /// Reactions of two supports a distance apart \[m\].
    fn shared(&self, spread_m: f64) -> ShaftLoad {
        let share = self.position_m / spread_m;
        let b = [
            self.across_n[0] * share,
            self.across_n[1] * share + self.moment_n_m / spread_m,
        ];
        let a = [self.across_n[0] - b[0], self.across_n[1] - b[1]];
        ShaftLoad {
            radial_n: [a[0].hypot(a[1]), b[0].hypot(b[1])],
            axial_n: self.axial_n,
        }
    }
}

/// What drives the load: torque of the shaft at engine speed or of the pinion \[N·m\], lateral acceleration at a hub \[m/s²\].
pub fn load(spec: &Spec, gear: usize, driver: f64) -> ShaftLoad {
    match spec.place {
        Place::InputShaft | Place::OutputShaft => mesh(spec, gear, driver),
        Place::Pinion => pinion(spec, driver),
        Place::Hub => hub(spec, driver),
    }
}

/// A helical mesh: tangential force by torque, separation and thrust by the angles.
fn mesh(spec: &Spec, gear: usize, torque_n_m: f64) -> ShaftLoad {
    let Some(gear) = spec.gears.get(gear) else {
        return ShaftLoad::default();
    };
    let tangential_n = 2.0 * torque_n_m / gear.pitch_m;
    let (tan, cos) = (
        libm::tan(spec.helix_angle_rad),
        libm::cos(spec.helix_angle_rad),
    );
    let apart_n = tangential_n.abs() * libm::tan(spec.pressure_angle_rad) / cos;
    let (own_radius_m, side) = match spec.place {
        Place::OutputShaft => (0.5 * gear.pitch_m * gear.ratio, -1.0),
        _ => (0.5 * gear.pitch_m, 1.0),
    };
    let axial_n = side * tangential_n * tan;
    let force = Force {
        position_m: gear.position_m,
        across_n: [tangential_n, apart_n],
        axial_n,
        moment_n_m: axial_n * own_radius_m,
    };
    force.shared(spec.spread_m)
}

/// A spiral bevel pinion whose drive side pushes it away from the cone's apex, onto A.
fn pinion(spec: &Spec, torque_n_m: f64) -> ShaftLoad {
    let tangential_n = 2.0 * torque_n_m / spec.pinion_pitch_m;
    let (sin_cone, cos_cone) = (
        libm::sin(spec.pinion_cone_rad),
        libm::cos(spec.pinion_cone_rad),
    );
    let (sin, cos) = (
        libm::sin(spec.helix_angle_rad),
        libm::cos(spec.helix_angle_rad),
    );
    let tan = libm::tan(spec.pressure_angle_rad);
    let pressed_n = tangential_n.abs() * tan;
    let axial_n = (pressed_n * sin_cone + tangential_n * sin * cos_cone) / cos;
    let apart_n = (pressed_n * cos_cone - tangential_n * sin * sin_cone) / cos;
    let force = Force {
        position_m: -spec.pinion_overhang_m,
        across_n: [tangential_n, apart_n],
        axial_n,
        moment_n_m: 0.5 * axial_n * spec.pinion_pitch_m,
    };
    force.shared(spec.spread_m)
}

/// A wheel: its load with what cornering adds, its side force at the ground. Positive acceleration makes it the outer wheel.
fn hub(spec: &Spec, lateral_m_s2: f64) -> ShaftLoad {
    let vertical_n = (spec.wheel_load_n + spec.lateral_transfer_kg * lateral_m_s2).max(0.0);
    let side_n = vertical_n * lateral_m_s2 / GRAVITY_M_S2;
    let force = Force {
        position_m: spec.wheel_offset_m,
        across_n: [0.0, vertical_n],
        axial_n: side_n,
        moment_n_m: -side_n * spec.tyre_radius_m,
    };
    force.shared(spec.spread_m)
}

/// An impact of a vertical acceleration \[m/s²\]: at a hub on top of the wheel's load and at the wheel, elsewhere in the middle of the span.
pub fn impact(spec: &Spec, peak_m_s2: f64) -> ShaftLoad {
    let thrown_n = spec.impact_mass_kg * peak_m_s2;
    let (position_m, standing_n) = match spec.place {
        Place::Hub => (spec.wheel_offset_m, spec.wheel_load_n),
        _ => (0.5 * spec.spread_m, 0.0),
    };
    let force = Force {
        position_m,
        across_n: [0.0, thrown_n + standing_n],
        axial_n: 0.0,
        moment_n_m: 0.0,
    };
    force.shared(spec.spread_m)
}

/// Loads that are solved apart: gears for a shaft of the gearbox, one for a pinion or a hub.
pub fn cases(spec: &Spec) -> usize {
    match spec.place {
        Place::InputShaft | Place::OutputShaft => spec.gears.len(),
        Place::Pinion | Place::Hub => 1,
    }
}

/// Largest lateral acceleration that is solved \[m/s²\].
const MOST_LATERAL_M_S2: f64 = 40.0;

/// How far loads are solved, to either side.
pub fn reach(spec: &Spec) -> f64 {
    match spec.place {
        Place::InputShaft | Place::OutputShaft => 1.2 * spec.full_torque_n_m,
        Place::Pinion => spec.grip_torque_n_m,
        Place::Hub => MOST_LATERAL_M_S2,
    }
}

/// A hard corner \[m/s²\]: 1.2 g.
const CORNER_M_S2: f64 = 12.0;

/// Hardest regular load: full torque, a pinion's at the tyres' grip, a hard corner.
pub fn hardest(spec: &Spec) -> f64 {
    match spec.place {
        Place::InputShaft | Place::OutputShaft => spec.full_torque_n_m,
        Place::Pinion => spec.grip_torque_n_m,
        Place::Hub => CORNER_M_S2,
    }
}
