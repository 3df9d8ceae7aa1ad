//! The spec, read from a specimen, and the joint that follows from it.

use ringland_engine::{Engine, NUMBERS as ENGINE_NUMBERS};
use ringland_mechanics::bolted_joint::{
    BoltEndurance, Clamp, Joint, Layer, Rolling, Thread, TighteningFriction, Yielding,
    bolt_compliance_m_n, clamped_compliance_m_n, prying_factor, threaded_bolt_segments,
};
use ringland_mechanics::range::OutOfRange;
use ringland_plugin::{Finding, Specimen, error};
use std::f64::consts::{FRAC_PI_4, FRAC_PI_6};

use crate::constants::UNIFORM_STRAIN;

/// How many numbers of its own the card has, after those of the engine.
pub const NUMBERS: usize = 32;

/// How the bolts are tightened.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tightening {
    /// By measured stretch.
    Stretch,
    /// By torque.
    Torque,
}

/// A surface whose friction takes part in tightening.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrictionSurface {
    /// Coefficient of friction \[1\].
    pub friction: f64,
    /// Its spread: standard deviation of ln(friction).
    pub friction_ln_sd: f64,
    /// Thickness of a coating \[m\].
    pub coating_m: f64,
}

/// The spec.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub engine: Engine,
    pub bolts_per_rod: f64,
    pub cap_mass_kg: f64,
    pub thread_diameter_m: f64,
    pub thread_pitch_m: f64,
    pub shank_diameter_m: f64,
    pub shank_length_m: f64,
    pub free_thread_m: f64,
    pub bearing_diameter_m: f64,
    pub hole_diameter_m: f64,
    pub boss_diameter_m: f64,
    pub load_introduction: f64,
    pub load_offset_m: f64,
    pub edge_distance_m: f64,
    pub bolt_modulus_pa: f64,
    pub rod_modulus_pa: f64,
    pub bolt_expansion_per_k: f64,
    pub rod_expansion_per_k: f64,
    pub assembly_temp_k: f64,
    pub yield_strength_pa: f64,
    pub tensile_strength_pa: f64,
    pub tightening_stretch_m: f64,
    pub tightening_torque_n_m: f64,
    pub specified_friction: f64,
    pub embedding_m: f64,
    pub stretch_ln_sd: f64,
    pub torque_ln_sd: f64,
    pub tightenings_per_build: f64,
    pub tightening_interval_s: f64,
    pub redline_rad_s: f64,
    pub limit_permanent_stretch_m: f64,
    pub limit_tightenings: f64,
    pub limit_over_redline: f64,
    pub tightening: Tightening,
    pub rolling: Rolling,
    pub thread: FrictionSurface,
    pub bearing_face: FrictionSurface,
}

impl Spec {
    /// Reads a specimen in card order.
    ///
    /// # Errors
    /// Lists of the wrong length, an option that does not exist.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let engine = Engine::read(&specimen.numbers)?;
        let own = specimen.numbers.get(ENGINE_NUMBERS..);
        let own: Option<&[f64; NUMBERS]> = own.and_then(|own| own.try_into().ok());
        let (Some(&own), [tightening, rolling], [thread, bearing_face]) = (
            own,
            specimen.choices.as_slice(),
            specimen.surfaces.as_slice(),
        ) else {
            return Err(not_as_the_card("specimen"));
        };
        let surface = |surface: &ringland_plugin::Surface| match (
            surface.values.as_slice(),
            surface.ln_sd.as_slice(),
        ) {
            (&[friction, coating_m], &[friction_ln_sd, _]) => Ok(FrictionSurface {
                friction,
                friction_ln_sd,
                coating_m,
            }),
            _ => Err(not_as_the_card("surfaces")),
        };
        let tightening = match tightening {
            0 => Tightening::Stretch,
            1 => Tightening::Torque,
            _ => return Err(not_as_the_card("tightening")),
        };
        let rolling = match rolling {
            0 => Rolling::AfterHeatTreatment,
            1 => Rolling::BeforeHeatTreatment,
            _ => return Err(not_as_the_card("rolling")),
        };
        let surfaces = (surface(thread)?, surface(bearing_face)?);
        Ok(Self::from_numbers(
            engine, own, tightening, rolling, surfaces,
        ))
    }

    fn from_numbers(
        engine: Engine,
        own: [f64; NUMBERS],
        tightening: Tightening,
        rolling: Rolling,
        (thread, bearing_face): (FrictionSurface, FrictionSurface),
    ) -> Self {
        let [
            bolts_per_rod,
            cap_mass_kg,
            thread_diameter_m,
            thread_pitch_m,
            shank_diameter_m,
            shank_length_m,
            free_thread_m,
            bearing_diameter_m,
            hole_diameter_m,
            boss_diameter_m,
            load_introduction,
            load_offset_m,
            edge_distance_m,
            bolt_modulus_pa,
            rod_modulus_pa,
            bolt_expansion_per_k,
            rod_expansion_per_k,
            assembly_temp_k,
            yield_strength_pa,
            tensile_strength_pa,
            tightening_stretch_m,
            tightening_torque_n_m,
            specified_friction,
            embedding_m,
            stretch_ln_sd,
            torque_ln_sd,
            tightenings_per_build,
            tightening_interval_s,
            redline_rad_s,
            limit_permanent_stretch_m,
            limit_tightenings,
            limit_over_redline,
        ] = own;
        Self {
            engine,
            bolts_per_rod,
            cap_mass_kg,
            thread_diameter_m,
            thread_pitch_m,
            shank_diameter_m,
            shank_length_m,
            free_thread_m,
            bearing_diameter_m,
            hole_diameter_m,
            boss_diameter_m,
            load_introduction,
            load_offset_m,
            edge_distance_m,
            bolt_modulus_pa,
            rod_modulus_pa,
            bolt_expansion_per_k,
            rod_expansion_per_k,
            assembly_temp_k,
            yield_strength_pa,
            tensile_strength_pa,
            tightening_stretch_m,
            tightening_torque_n_m,
            specified_friction,
            embedding_m,
            stretch_ln_sd,
            torque_ln_sd,
            tightenings_per_build,
            tightening_interval_s,
            redline_rad_s,
            limit_permanent_stretch_m,
            limit_tightenings,
            limit_over_redline,
            tightening,
            rolling,
            thread,
            bearing_face,
        }
    }

    /// Bolts of the engine, at least one.
    pub fn bolts(&self) -> usize {
        (self.engine.cylinders * self.bolts_per_rod)
            .round()
            .max(1.0) as usize
    }

    /// Clamped length \[m\].
    pub fn grip_m(&self) -> f64 {
        self.shank_length_m + self.free_thread_m
    }

    /// The joint that follows.
    ///
    /// # Errors
    /// Dimensions that make no joint.
    pub fn rod_joint(&self) -> Result<RodJoint, OutOfRange> {
        let thread = Thread::new(self.thread_diameter_m, self.thread_pitch_m)?;
        let segments = threaded_bolt_segments(
            &thread,
            self.shank_diameter_m,
            self.shank_length_m,
            self.free_thread_m,
        );
        let gauge_compliance_m_n = bolt_compliance_m_n(self.bolt_modulus_pa, &segments);
        let clamp = Clamp {
            bearing_m: self.bearing_diameter_m,
            hole_m: self.hole_diameter_m,
            members_m: self.boss_diameter_m,
            half_angle_rad: FRAC_PI_6,
        };
        let layer = Layer {
            thickness_m: self.grip_m(),
            modulus_pa: self.rod_modulus_pa,
        };
        let joint = Joint {
            bolt_compliance_m_n: gauge_compliance_m_n,
            member_compliance_m_n: clamped_compliance_m_n(&clamp, &[layer])?,
            load_introduction: self.load_introduction,
        };
        Ok(RodJoint {
            thread,
            joint,
            yielding: self.yielding(&thread),
            endurance: BoltEndurance {
                diameter_m: self.thread_diameter_m,
                rolling: self.rolling,
            },
            friction: TighteningFriction {
                thread: self.thread.friction,
                head: self.bearing_face.friction,
                bearing_mean_m: 0.5 * (self.bearing_diameter_m + self.hole_diameter_m),
            },
            prying: prying_factor(self.load_offset_m, self.edge_distance_m),
        })
    }

    /// The thread yields, or a shank that is waisted to less than its stress area.
    fn yielding(&self, thread: &Thread) -> Yielding {
        let shank_m2 = FRAC_PI_4 * self.shank_diameter_m * self.shank_diameter_m;
        let stress_m2 = thread.stress_area_m2();
        let (area_m2, length_m) = if shank_m2 < stress_m2 {
            (shank_m2, self.shank_length_m)
        } else {
            (stress_m2, self.free_thread_m)
        };
        let rise_n = (self.tensile_strength_pa - self.yield_strength_pa) * area_m2;
        Yielding {
            yield_load_n: self.yield_strength_pa * area_m2,
            hardening_compliance_m_n: UNIFORM_STRAIN * length_m / rise_n,
        }
    }
}

fn not_as_the_card(field: &str) -> Vec<Finding> {
    vec![error(
        field,
        "another shape",
        "numbers, choices and surfaces as on the card",
        "give one value for each entry of the card",
    )]
}

/// Bolt and joint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RodJoint {
    /// The thread.
    pub thread: Thread,
    /// The joint diagram.
    pub joint: Joint,
    /// Yielding of the bolt.
    pub yielding: Yielding,
    /// Endurance of its thread.
    pub endurance: BoltEndurance,
    /// Friction in tightening.
    pub friction: TighteningFriction,
    /// Load of the bolt over its share of the load once the joint is open.
    pub prying: f64,
}

impl RodJoint {
    /// Preload that tightening as the spec says gives the median bolt \[N\].
    pub fn assembly_preload_n(&self, spec: &Spec) -> f64 {
        match spec.tightening {
            Tightening::Torque => {
                spec.tightening_torque_n_m / self.friction.torque_per_preload_m(&self.thread)
            }
            Tightening::Stretch => {
                let elastic_n = spec.tightening_stretch_m / self.joint.bolt_compliance_m_n;
                let beyond_n = elastic_n - self.yielding.yield_load_n;
                if beyond_n <= 0.0 {
                    return elastic_n;
                }
                // Past yield a newton costs plastic stretch as well.
                let (elastic, plastic) = (
                    self.joint.bolt_compliance_m_n,
                    self.yielding.hardening_compliance_m_n,
                );
                self.yielding.yield_load_n + beyond_n * elastic / (elastic + plastic)
            }
        }
    }

    /// Standard deviation of ln(preload) between bolts tightened so.
    pub fn preload_ln_sd(&self, spec: &Spec) -> f64 {
        match spec.tightening {
            Tightening::Stretch => spec.stretch_ln_sd,
            Tightening::Torque => {
                let whole = self.friction.torque_per_preload_m(&self.thread);
                let share = |friction: TighteningFriction| {
                    1.0 - friction.torque_per_preload_m(&self.thread) / whole
                };
                let thread = share(TighteningFriction {
                    thread: 0.0,
                    ..self.friction
                });
                let head = share(TighteningFriction {
                    head: 0.0,
                    ..self.friction
                });
                spec.torque_ln_sd
                    .hypot(thread * spec.thread.friction_ln_sd)
                    .hypot(head * spec.bearing_face.friction_ln_sd)
            }
        }
    }
}
