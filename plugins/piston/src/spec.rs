//! The specimen as named numbers, in the order of the card.

use ringland_engine::Engine;
use ringland_mechanics::fatigue::{BelowKnee, SnLine};
use ringland_mechanics::oil::Vogel;
use ringland_mechanics::piston::{LarsonMiller, Softening};
use ringland_plugin::{Finding, Properties, Specimen, error, properties, wrong_count};

use crate::constants::BOSS_CYCLES;

/// Everything the model reads of a specimen.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub engine: Engine,
    pub oil: Vogel,
    pub piston_mass_kg: f64,
    pub pin_diameter_m: f64,
    pub boss_length_m: f64,
    pub boss_load_factor: f64,
    pub skirt_clearance_m: f64,
    pub skirt_length_m: f64,
    pub skirt_width_m: f64,
    pub skirt_rise_m: f64,
    pub skirt_oil_film_m: f64,
    pub top_side_clearance_m: f64,
    pub second_side_clearance_m: f64,
    pub top_ring_mass_kg: f64,
    pub second_ring_mass_kg: f64,
    pub ring_thickness_m: f64,
    pub second_land_share: f64,
    pub third_land_share: f64,
    pub groove_base_k: f64,
    pub groove_rise_k_per_pa: f64,
    pub groove_rise_k_s_per_rad: f64,
    pub jet_cooling_k: f64,
    pub second_groove_drop_k: f64,
    pub activation_energy_j_mol: f64,
    pub hardness_pa: f64,
    pub soft_hardness_pa: f64,
    pub ageing_parameter_k: f64,
    pub boss_slope: f64,
    pub boss_tensile_pa: f64,
    pub piston_modulus_pa: f64,
    pub bore_modulus_pa: f64,
    pub limit_side_clearance_m: f64,
    pub limit_skirt_loss_m: f64,
    pub limit_hardness_loss_pa: f64,
    pub limit_pin_bore_m: f64,
    pub top_groove: GrooveSurface,
    pub second_groove: GrooveSurface,
    pub skirt: SkirtSurface,
    pub skirt_coat: SkirtSurface,
    pub skirt_coat_thickness_m: f64,
    pub bore_rq_m: f64,
    pub pin_bore_wear_m2_n: f64,
    pub pin_bore_wear_ln_sd: f64,
    /// S-N line of the boss at 230 °C, the same slope below its knee.
    pub boss_line: SnLine,
    /// Residual stress at the surface of the boss \[Pa\].
    pub boss_residual_pa: f64,
}

/// The flanks of a groove.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct GrooveSurface {
    /// Specific wear coefficient at 220 °C \[m²/N\].
    pub wear_m2_n: f64,
    /// Spread of its logarithm.
    pub wear_ln_sd: f64,
    /// Height of fresh peaks \[m\].
    pub rpk_m: f64,
    /// Layer that separates ring and alloy \[m\].
    pub coating_m: f64,
}

/// What runs on the bore: the metal of the skirt, or its coat.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SkirtSurface {
    /// Root-mean-square roughness once run in \[m\].
    pub rq_m: f64,
    /// Friction coefficient of asperity contact.
    pub boundary_friction: f64,
    /// Specific wear coefficient \[m²/N\].
    pub wear_m2_n: f64,
    /// Spread of its logarithm.
    pub wear_ln_sd: f64,
    /// Radius of summits \[m\].
    pub summit_radius_m: f64,
    /// Density of summits \[1/m²\].
    pub summit_density_per_m2: f64,
    /// Modulus of elasticity \[Pa\].
    pub modulus_pa: f64,
}

/// How many numbers the card has.
pub const NUMBERS: usize = ringland_engine::NUMBERS + ringland_engine::OIL_NUMBERS + OWN;
const OWN: usize = 34;

impl Spec {
    /// Reads a specimen; only the lengths of its lists are judged here.
    ///
    /// # Errors
    /// One finding when a list does not have the card's length.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let numbers = specimen.numbers.as_slice();
        let engine = Engine::read(numbers)?;
        let rest = &numbers[ringland_engine::NUMBERS..];
        let (Some(oil), Some(own)) = (rest.first_chunk(), rest.last_chunk::<OWN>()) else {
            return Err(wrong_count("numbers", numbers.len(), NUMBERS));
        };
        if numbers.len() != NUMBERS {
            return Err(wrong_count("numbers", numbers.len(), NUMBERS));
        }
        let [top, second, skirt, coat, bore, boss] = specimen.surfaces.as_slice() else {
            return Err(wrong_count("surfaces", specimen.surfaces.len(), 6));
        };
        let mut spec = Self::assemble(engine, ringland_engine::oil(*oil), own)?;
        spec.grooves(
            &properties("top_groove", top)?,
            &properties("second_groove", second)?,
        );
        spec.skirts(
            &properties("skirt", skirt)?,
            &properties("skirt_coat", coat)?,
        );
        let ([bore_rq_m], _) = properties("bore", bore)?;
        let ([pin_bore_wear_m2_n], [pin_bore_wear_ln_sd]) = properties("pin_boss", boss)?;
        spec.bore_rq_m = bore_rq_m;
        spec.pin_bore_wear_m2_n = pin_bore_wear_m2_n;
        spec.pin_bore_wear_ln_sd = pin_bore_wear_ln_sd;
        spec.boss_residual_pa = boss.residual_stress_pa.first().copied().unwrap_or(0.0);
        Ok(spec)
    }

    #[rustfmt::skip]
    fn assemble(engine: Engine, oil: Vogel, own: &[f64; OWN]) -> Result<Self, Vec<Finding>> {
        let [
            piston_mass_kg, pin_diameter_m, boss_length_m, boss_load_factor,
            skirt_clearance_m, skirt_length_m, skirt_width_m, skirt_rise_m, skirt_oil_film_m,
            top_side_clearance_m, second_side_clearance_m, top_ring_mass_kg, second_ring_mass_kg, ring_thickness_m,
            second_land_share, third_land_share,
            groove_base_k, groove_rise_k_per_pa, groove_rise_k_s_per_rad, jet_cooling_k, second_groove_drop_k,
            activation_energy_j_mol, hardness_pa, soft_hardness_pa, ageing_parameter_k,
            boss_strength_pa, boss_slope, boss_tensile_pa, piston_modulus_pa, bore_modulus_pa,
            limit_side_clearance_m, limit_skirt_loss_m, limit_hardness_loss_pa, limit_pin_bore_m,
        ] = *own;
        let boss_line = SnLine::new(boss_strength_pa, BOSS_CYCLES, boss_slope, BelowKnee::Elementary)
            .map_err(|wrong| vec![error("boss_strength_pa", wrong.value, wrong.expected, "check strength and slope of the boss")])?;
        Ok(Self {
            engine, oil, piston_mass_kg, pin_diameter_m, boss_length_m, boss_load_factor,
            skirt_clearance_m, skirt_length_m, skirt_width_m, skirt_rise_m, skirt_oil_film_m,
            top_side_clearance_m, second_side_clearance_m, top_ring_mass_kg, second_ring_mass_kg, ring_thickness_m,
            second_land_share, third_land_share,
            groove_base_k, groove_rise_k_per_pa, groove_rise_k_s_per_rad, jet_cooling_k, second_groove_drop_k,
            activation_energy_j_mol, hardness_pa, soft_hardness_pa, ageing_parameter_k,
            boss_line, boss_slope, boss_tensile_pa, piston_modulus_pa, bore_modulus_pa,
            limit_side_clearance_m, limit_skirt_loss_m, limit_hardness_loss_pa, limit_pin_bore_m,
            top_groove: GrooveSurface::default(), second_groove: GrooveSurface::default(),
            skirt: SkirtSurface::default(), skirt_coat: SkirtSurface::default(), skirt_coat_thickness_m: 0.0,
            bore_rq_m: 0.0, pin_bore_wear_m2_n: 0.0, pin_bore_wear_ln_sd: 0.0, boss_residual_pa: 0.0,
        })
    }

    fn grooves(&mut self, top: &Properties<3>, second: &Properties<1>) {
        let ([wear_m2_n, rpk_m, coating_m], [wear_ln_sd, ..]) = *top;
        self.top_groove = GrooveSurface {
            wear_m2_n,
            wear_ln_sd,
            rpk_m,
            coating_m,
        };
        let ([wear_m2_n], [wear_ln_sd]) = *second;
        self.second_groove = GrooveSurface {
            wear_m2_n,
            wear_ln_sd,
            ..self.top_groove
        };
    }

    fn skirts(&mut self, metal: &Properties<5>, coat: &Properties<5>) {
        let (
            [
                rq_m,
                boundary_friction,
                wear_m2_n,
                summit_radius_m,
                summit_density_per_m2,
            ],
            sd,
        ) = *metal;
        self.skirt = SkirtSurface {
            rq_m,
            boundary_friction,
            wear_m2_n,
            wear_ln_sd: sd[2],
            summit_radius_m,
            summit_density_per_m2,
            modulus_pa: self.piston_modulus_pa,
        };
        let ([thickness_m, modulus_pa, rq_m, boundary_friction, wear_m2_n], sd) = *coat;
        self.skirt_coat_thickness_m = thickness_m;
        self.skirt_coat = SkirtSurface {
            rq_m,
            boundary_friction,
            wear_m2_n,
            wear_ln_sd: sd[4],
            modulus_pa,
            ..self.skirt
        };
    }

    /// Area of a side of a ring that lies in its groove \[m²\].
    pub fn ring_side_area_m2(&self) -> f64 {
        let depth_m = self.ring_thickness_m;
        std::f64::consts::PI * (self.engine.bore_m - depth_m) * depth_m
    }

    /// Bearing area of both bosses \[m²\].
    pub fn boss_area_m2(&self) -> f64 {
        2.0 * self.boss_length_m * self.pin_diameter_m
    }

    /// Ageing of the alloy.
    pub fn ageing(&self) -> LarsonMiller {
        LarsonMiller {
            constant: 20.0,
            reference_k: self.ageing_parameter_k,
        }
    }

    /// Softening of the alloy.
    pub fn softening(&self) -> Softening {
        Softening {
            new_pa: self.hardness_pa,
            soft_pa: self.soft_hardness_pa,
        }
    }
}
