//! The pair's geometry and the stresses of both flanks, from the spec.

use ringland_mechanics::bevel::{
    BevelPair, Blank, ContactFactors, Cylinders, Path, RootFactors, Teeth, hypoid_factor,
};
use ringland_mechanics::range::OutOfRange;
use ringland_plugin::{Finding, error};

use crate::constants::{ADDENDUM, BEARING_SHARE, DEDENDUM};
use crate::spec::Spec;

/// One flank of the pair: the drive or the coast flank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flank {
    /// The cylinders that stand for it.
    pub cylinders: Cylinders,
    /// Contact stress.
    pub contact: ContactFactors,
    /// Root stress of pinion and ring gear.
    pub roots: [RootFactors; 2],
    /// Path of contact.
    pub path: Path,
    /// What sliding along the line of contact leaves of the strength.
    pub hypoid: f64,
    /// Normal force for each newton metre of the ring gear \[N/(N·m)\].
    pub normal_per_torque: f64,
    /// Backlash at the ring gear's outer end for each metre of wear square to the flanks.
    pub backlash_per_wear: f64,
    /// The same for each metre that the ring gear moves along its axis; both flanks together.
    pub backlash_per_travel: f64,
}

/// The pair with both its flanks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gears {
    /// Pitch cones.
    pub pair: BevelPair,
    /// Drive flank, coast flank.
    pub flanks: [Flank; 2],
}

/// Index of the drive flank.
pub const DRIVE: usize = 0;
/// Index of the coast flank.
pub const COAST: usize = 1;

impl Gears {
    /// Works the geometry out.
    ///
    /// # Errors
    /// What of the spec gives no pair of gears.
    pub fn new(spec: &Spec) -> Result<Self, Vec<Finding>> {
        Self::solved(spec).map_err(|wrong| {
            let remedy = "check the drawing: teeth, diameter, face, offset, spiral and shifts must make a pair";
            vec![error(wrong.field, wrong.value, wrong.expected, remedy)]
        })
    }

    fn solved(spec: &Spec) -> Result<Self, OutOfRange> {
        let pair = BevelPair::new(Blank {
            pinion_teeth: spec.pinion_teeth,
            ring_teeth: spec.ring_teeth,
            offset_m: spec.offset_m,
            ring_outer_diameter_m: spec.ring_outer_diameter_m,
            face_width_m: spec.face_width_m,
            pinion_spiral_rad: spec.pinion_spiral_rad,
        })?;
        Ok(Self {
            pair,
            flanks: [flank(spec, &pair, DRIVE)?, flank(spec, &pair, COAST)?],
        })
    }

    /// The flank that bears a torque, and its index.
    pub fn loaded(&self, torque_n_m: f64) -> (usize, &Flank) {
        let index = if torque_n_m < 0.0 { COAST } else { DRIVE };
        (index, &self.flanks[index])
    }
}

fn flank(spec: &Spec, pair: &BevelPair, index: usize) -> Result<Flank, OutOfRange> {
    let teeth = Teeth {
        pressure_angle_rad: spec.pressure_angle_rad[index],
        addendum: ADDENDUM,
        dedendum: DEDENDUM,
        profile_shift: spec.profile_shift,
        thickness_shift: spec.thickness_shift,
        edge_radius: spec.edge_radius,
    };
    let cylinders = Cylinders::new(pair, teeth, BEARING_SHARE)?;
    let path = Path::new(pair, &cylinders);
    let (sine, cosine) = libm::sincos(teeth.pressure_angle_rad);
    let spiral = libm::cos(pair.ring_spiral_rad);
    let outer = 0.5 * pair.blank.ring_outer_diameter_m / pair.ring_radius_m;
    let backlash_per_wear = outer / (cosine * spiral);
    // A ring gear that moves along its axis opens the pitch plane by the sine of its pitch angle, and with it both flanks.
    let opened = 2.0 * libm::sin(pair.ring_angle_rad) * sine;
    Ok(Flank {
        cylinders,
        contact: ContactFactors::new(&cylinders),
        roots: [
            RootFactors::new(&cylinders, 0)?,
            RootFactors::new(&cylinders, 1)?,
        ],
        path,
        hypoid: hypoid_factor(&path.surfaces(0.0, 1.0)),
        normal_per_torque: 1.0 / (pair.ring_radius_m * spiral * cosine),
        backlash_per_wear,
        backlash_per_travel: opened * backlash_per_wear,
    })
}

impl Flank {
    /// Contact stress \[Pa\] under an axle torque \[N·m\], with all load factors.
    pub fn contact_stress_pa(&self, spec: &Spec, torque_n_m: f64) -> f64 {
        let normal_n = self.normal_per_torque * torque_n_m.abs() * spec.load_factor();
        self.contact
            .stress_pa(normal_n, spec.effective_modulus_pa())
    }

    /// Root stress \[Pa\] of pinion and ring gear under an axle torque \[N·m\], with all load factors.
    pub fn root_stress_pa(&self, spec: &Spec, torque_n_m: f64) -> [f64; 2] {
        let normal_n = self.normal_per_torque * torque_n_m.abs() * spec.load_factor();
        self.roots.map(|root| root.stress_pa(normal_n))
    }
}
