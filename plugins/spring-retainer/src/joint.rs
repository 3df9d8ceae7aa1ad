//! Retainer, keepers and spring end as bodies: stiffness, stress, strength.

use ringland_mechanics::fatigue::marin::roughness_factor;
use ringland_mechanics::fatigue::notch::relative_gradient_per_m;
use ringland_mechanics::fatigue::{BelowKnee, NearSurface, SnLine};
use ringland_mechanics::range::OutOfRange;
use ringland_mechanics::shaft::{ShoulderLoad, shoulder_concentration};
use ringland_mechanics::taper::{
    Band, Cone, EndCoil, Flange, MicroSlip, Ring, Roll, core_approach_m_pa,
};

use crate::constants as c;
use crate::material::shear_pa;
use crate::spec::{GRIPPING, Spec};

/// Diameter ratio at which a flange's root is read in the charts of shoulders: a plate is far wider than its fillet.
const SHOULDER_RATIO: f64 = 6.0;
/// Young's over shear modulus of a spring steel, ν = 0.3.
const YOUNG_PER_SHEAR: f64 = 2.6;
/// Utilisation beyond which a cycle is past all fatigue.
const LARGEST: f64 = 20.0;

impl Spec {
    /// The taper.
    pub fn cone(&self) -> Cone {
        Cone {
            half_angle_rad: self.cone_half_angle_rad,
            mean_m: self.cone_mean_m,
            length_m: self.cone_length_m,
            friction: self.taper.friction,
        }
    }

    /// The hub of the retainer about its taper.
    pub fn hub(&self) -> Ring {
        Ring {
            inner_m: self.cone_mean_m,
            outer_m: self.hub_outer_m,
            modulus_pa: self.material.modulus_pa,
            poisson: self.material.poisson,
        }
    }

    /// What the hub sits on: keepers and the stem that they clamp, or keepers alone, whose halves butt.
    pub fn core(&self) -> Ring {
        let (modulus_pa, poisson) = c::STEEL;
        Ring {
            inner_m: if self.locks == GRIPPING {
                0.0
            } else {
                self.stem_m
            },
            outer_m: self.cone_mean_m,
            modulus_pa,
            poisson,
        }
    }

    /// The taper between its two bars. A bar that is sheared on one side gives by a third of its wall over its shear modulus, a solid
    /// one by a quarter of its radius (shear even over the section, as in shear lag).
    pub fn micro_slip(&self) -> MicroSlip {
        let (hub, core) = (self.hub(), self.core());
        let (modulus_pa, poisson) = c::STEEL;
        let core_m = if self.locks == GRIPPING {
            0.125 * core.outer_m
        } else {
            (core.outer_m - core.inner_m) / 6.0
        };
        let hub_shear_m_pa = (hub.outer_m - hub.inner_m) / 6.0 / self.material.shear_pa();
        let core_shear_m_pa = core_m / shear_pa(modulus_pa, poisson);
        MicroSlip {
            cone: self.cone(),
            normal_pa_m: 1.0 / (hub.bore_growth_m_pa() + core_approach_m_pa(&core)),
            shear_pa_m: 1.0 / (hub_shear_m_pa + core_shear_m_pa),
            hub_n: hub.modulus_pa * hub.section_m2(),
            core_n: core.modulus_pa * core.section_m2(),
            hub_bending_n_m2: hub.modulus_pa * hub.inertia_m4(),
            core_bending_n_m2: core.modulus_pa * core.inertia_m4(),
            edge_modulus_pa: 2.0
                / (plane(self.material.modulus_pa, self.material.poisson)
                    + plane(modulus_pa, poisson)),
            load_at: self.load_at,
            reaction_at: self.groove_at,
            roll: self.roll(),
            roll_arm_m: 0.5 * (self.train.spring.coil_m - self.cone_mean_m),
            stations: c::TAPER_CELLS,
            steps: c::TAPER_STEPS,
        }
    }

    /// Roll of hub and flange together. The hub is as high as its taper is long.
    pub fn roll(&self) -> Roll {
        let hub = Band {
            diameters_m: [self.cone_mean_m, self.hub_outer_m],
            along_m: [0.0, self.cone_length_m],
        };
        let (middle_m, half_m) = (self.load_at * self.cone_length_m, 0.5 * self.flange_m);
        let flange = Band {
            diameters_m: [self.hub_outer_m, self.flange_outer_m],
            along_m: [middle_m - half_m, middle_m + half_m],
        };
        Roll::of(&[hub, flange], self.material.modulus_pa)
    }

    /// The flange from hub to edge.
    pub fn flange(&self) -> Flange {
        Flange {
            root_m: self.hub_outer_m,
            outer_m: self.flange_outer_m,
            thickness_m: self.flange_m,
            modulus_pa: self.material.modulus_pa,
            poisson: self.material.poisson,
        }
    }

    /// Stress concentration of the flange's fillet, as of a shoulder in bending.
    ///
    /// # Errors
    /// A fillet out of range of the charts.
    pub fn fillet_factor(&self) -> Result<f64, OutOfRange> {
        let ratio = self.flange_fillet_m / self.flange_m;
        shoulder_concentration(ShoulderLoad::Bending, SHOULDER_RATIO, ratio)
    }

    /// The spring's end on the flange.
    pub fn end_coil(&self) -> EndCoil {
        let spring = &self.train.spring;
        EndCoil {
            wire_m: spring.wire_m,
            coil_m: spring.coil_m,
            pitch_m_n: 1.0 / (spring.rate_n_m() * spring.active_coils),
            modulus_pa: YOUNG_PER_SHEAR * spring.shear_modulus_pa,
            turns: self.end_coil_turns,
            face_m: self.end_coil_face_m,
            friction: self.seat.friction,
        }
    }

    /// Pitch of the spring on the closed valve \[m\]: that at full lift, wire and clearance, and the lift.
    pub fn pitch_m(&self) -> f64 {
        let spring = &self.train.spring;
        let opened_m = self.coil_clearance_m + self.train.lift.largest_m();
        spring.wire_m + opened_m / spring.active_coils
    }

    /// Force of the spring at full lift \[N\], to which an engine turned over by hand drives the retainer on.
    pub fn opened_n(&self) -> f64 {
        let train = &self.train;
        train.seat_load_n + train.spring.rate_n_m() * train.lift.largest_m()
    }

    /// How much further on than by hand a force \[N\] drives the retainer \[m\]: hub and core give by `p/(k_n sin α)`.
    pub fn driven_m(&self, force_n: f64) -> f64 {
        let further_n = (force_n - self.opened_n()).max(0.0);
        let cone = self.cone();
        let approach_m_pa = self.hub().bore_growth_m_pa() + core_approach_m_pa(&self.core());
        cone.sink_m(cone.pressure_pa(further_n) * approach_m_pa)
    }

    /// Axial force \[N\] at which the hub yields through and lets the keepers pass, on a taper that still has its whole length.
    pub fn pull_through_n(&self) -> f64 {
        self.cone()
            .axial_n(self.hub().collapse_pa(self.material.yield_pa))
    }
}

/// Compliance of a body in plane strain \[1/Pa\].
fn plane(modulus_pa: f64, poisson: f64) -> f64 {
    (1.0 - poisson * poisson) / modulus_pa
}

/// Where a crack can start.
#[derive(Debug, Clone, PartialEq)]
pub struct Site {
    gradient_per_m: f64,
    least_share: f64,
    strength: [(f64, f64); 2],
    sensitivity: f64,
}

impl Site {
    fn new(spec: &Spec, gradient_per_m: f64, least_share: f64) -> Result<Self, OutOfRange> {
        let material = &spec.material;
        let rough = roughness_factor(c::RZ_PER_RA * spec.ra_m, material.tensile_pa)?;
        let strength_pa = material.strength_pa;
        Ok(Self {
            gradient_per_m,
            least_share,
            strength: [(0.0, rough * strength_pa), (c::ROUGH_DEPTH_M, strength_pa)],
            // J. Goodman's line is the linear form with this sensitivity.
            sensitivity: strength_pa / material.tensile_pa,
        })
    }

    /// The root of the flange. Amplitudes are those at the fillet's surface.
    ///
    /// # Errors
    /// A roughness or fillet out of range.
    pub fn flange(spec: &Spec) -> Result<Self, OutOfRange> {
        let gradient = relative_gradient_per_m(spec.flange_fillet_m);
        Self::new(spec, gradient, 1.0 / spec.fillet_factor()?)
    }

    /// The bore of the hub, where hoop stress falls as Lamé's.
    ///
    /// # Errors
    /// A roughness out of range.
    pub fn hub(spec: &Spec) -> Result<Self, OutOfRange> {
        let hub = spec.hub();
        let (inner, outer) = (0.5 * hub.inner_m, 0.5 * hub.outer_m);
        let gradient = 2.0 * outer * outer / (inner * (inner * inner + outer * outer));
        Self::new(spec, gradient, 2.0 / (1.0 + hub.bore_hoop()))
    }

    /// Amplitude over strength, at the worst depth, of a cycle at the surface \[Pa\] with the residual stress that stays.
    pub fn utilisation(&self, spec: &Spec, amplitude_pa: f64, mean_pa: f64) -> f64 {
        let layer = NearSurface {
            gradient_per_m: self.gradient_per_m,
            least_share: self.least_share,
            strength: &self.strength,
            residual: &spec.residual,
            retained: c::RETAINED,
            sensitivity: self.sensitivity,
        };
        let worst = layer.worst(amplitude_pa, mean_pa, 0.0, c::DEEPEST_M);
        worst.share.min(LARGEST)
    }
}

/// S-N line of utilisation: 1 lasts to the knee, one slope throughout.
///
/// # Errors
/// None with the constants as they are.
pub fn line() -> Result<SnLine, OutOfRange> {
    SnLine::new(1.0, c::KNEE_CYCLES, c::SLOPE, BelowKnee::Elementary)
}
