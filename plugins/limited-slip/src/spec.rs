//! The specimen as named numbers, in the order of the card.

use ringland_mechanics::clutch::judder::Driveline;
use ringland_mechanics::clutch::torque::Annulus;
use ringland_mechanics::spring::belleville::DiscSpring;
use ringland_plugin::{Finding, Specimen, Surface, error};

use crate::constants as c;

/// How many numbers the card has.
pub const NUMBERS: usize = 33;
const SURFACES: usize = 3;

/// Everything the model reads of a specimen.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub faces: f64,
    pub face: Annulus,
    pub steel_m: f64,
    pub lining_m: f64,
    pub core_m: f64,
    pub ramp_radius_m: f64,
    pub drive_ramp_rad: f64,
    pub coast_ramp_rad: f64,
    pub spring: DiscSpring,
    pub spring_deflection_m: f64,
    pub oil_m3: f64,
    pub modifier_share: f64,
    pub corner_s: f64,
    pub cooling_w_m2_k: f64,
    pub hot_band_factor: f64,
    pub flatness_m: f64,
    pub side: Driveline,
    pub chatter_torque_n_m: f64,
    pub tab_radius_m: f64,
    pub tab_area_m2: f64,
    pub axial_n_m: f64,
    pub limit_stack_wear_m: f64,
    pub limit_breakaway_n_m: f64,
    pub limit_flatness_m: f64,
    pub limit_tab_wear_m: f64,
    pub friction: f64,
    pub slope_s_m: f64,
    pub steel_wear_m2_n: f64,
    pub ra_m: f64,
    pub lining_wear_m2_n: f64,
    pub tab_wear_m2_n: f64,
    /// Spread of ln(friction).
    pub friction_ln_sd: f64,
    /// Spread of ln(slope of friction).
    pub slope_ln_sd: f64,
    /// Spread of ln(stack wear) that comes from the surfaces.
    pub wear_ln_sd: f64,
}

impl Spec {
    /// Reads a specimen; only the lengths of its lists are judged here.
    ///
    /// # Errors
    /// One finding when a list does not have the card's length.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let Ok(numbers) = <&[f64; NUMBERS]>::try_from(specimen.numbers.as_slice()) else {
            return Err(wrong("numbers", specimen.numbers.len(), NUMBERS));
        };
        let [steel, lining, tabs] = specimen.surfaces.as_slice() else {
            return Err(wrong("surfaces", specimen.surfaces.len(), SURFACES));
        };
        let ([friction, slope_s_m, steel_wear_m2_n, ra_m], steel_sd) =
            properties::<4>("steel", steel)?;
        let ([lining_wear_m2_n], [lining_ln_sd]) = properties("lining", lining)?;
        let ([tab_wear_m2_n], _) = properties::<1>("tabs", tabs)?;
        let [friction_ln_sd, slope_ln_sd, steel_ln_sd, ra_ln_sd] = steel_sd;
        let lining_ln_sd = lining_ln_sd.hypot(c::ROUGHNESS_EXPONENT * ra_ln_sd);
        let &[
            faces,
            outer_diameter_m,
            inner_diameter_m,
            steel_m,
            lining_m,
            core_m,
            ramp_radius_m,
            drive_ramp_rad,
            coast_ramp_rad,
            spring_outer_m,
            spring_inner_m,
            spring_thickness_m,
            spring_height_m,
            spring_deflection_m,
            oil_m3,
            modifier_share,
            corner_s,
            cooling_w_m2_k,
            hot_band_factor,
            flatness_m,
            hub_kg_m2,
            wheel_kg_m2,
            shaft_n_m,
            shaft_damping_n_m_s,
            chatter_torque_n_m,
            tab_radius_m,
            tab_area_m2,
            axial_n_m,
            limit_stack_wear_m,
            limit_breakaway_n_m,
            limit_flatness_m,
            limit_tab_wear_m,
            springs_nested,
        ] = numbers;
        Ok(Self {
            faces,
            face: Annulus {
                outer_m: 0.5 * outer_diameter_m,
                inner_m: 0.5 * inner_diameter_m,
            },
            steel_m,
            lining_m,
            core_m,
            ramp_radius_m,
            drive_ramp_rad,
            coast_ramp_rad,
            spring: disc_spring(
                [spring_outer_m, spring_inner_m],
                spring_thickness_m,
                spring_height_m,
                springs_nested,
            ),
            spring_deflection_m,
            oil_m3,
            modifier_share,
            corner_s,
            cooling_w_m2_k,
            hot_band_factor,
            flatness_m,
            side: Driveline {
                driven_kg_m2: hub_kg_m2,
                load_kg_m2: wheel_kg_m2,
                stiffness_n_m: shaft_n_m,
                damping_n_m_s: shaft_damping_n_m_s,
            },
            chatter_torque_n_m,
            tab_radius_m,
            tab_area_m2,
            axial_n_m,
            limit_stack_wear_m,
            limit_breakaway_n_m,
            limit_flatness_m,
            limit_tab_wear_m,
            friction,
            slope_s_m,
            steel_wear_m2_n,
            ra_m,
            lining_wear_m2_n,
            tab_wear_m2_n,
            friction_ln_sd,
            slope_ln_sd,
            wear_ln_sd: sum_ln_sd([
                (steel_wear_m2_n, steel_ln_sd),
                (lining_wear_m2_n * roughened(ra_m), lining_ln_sd),
            ]),
        })
    }

    /// Wear of both faces of a pair \[m²/N\], warm: the lining's goes with the roughness of the steel.
    pub fn pair_wear_m2_n(&self) -> f64 {
        self.steel_wear_m2_n + self.lining_wear_m2_n * roughened(self.ra_m)
    }

    /// Friction radius \[m\], worn in.
    pub fn radius_m(&self) -> f64 {
        self.face.uniform_wear_radius_m()
    }
}

/// Springs nested the same way share the load: as one of so much the modulus.
fn disc_spring(
    [outer_m, inner_m]: [f64; 2],
    thickness_m: f64,
    height_m: f64,
    nested: f64,
) -> DiscSpring {
    DiscSpring {
        outer_m,
        inner_m,
        thickness_m,
        height_m,
        modulus_pa: nested * c::SPRING_PA,
        poisson: c::SPRING_POISSON,
    }
}

/// The lining's wear on a steel of a roughness over that at which it is stated.
fn roughened(ra_m: f64) -> f64 {
    libm::pow(ra_m / c::ROUGHNESS_M, c::ROUGHNESS_EXPONENT)
}

/// Spread of the logarithm of a sum of two independent parts, for small spreads.
fn sum_ln_sd([(one, one_sd), (other, other_sd)]: [(f64, f64); 2]) -> f64 {
    (one * one_sd).hypot(other * other_sd) / (one + other)
}

/// Values of a surface and the spreads of their logarithms.
type Properties<const N: usize> = ([f64; N], [f64; N]);

fn properties<const N: usize>(
    name: &str,
    surface: &Surface,
) -> Result<Properties<N>, Vec<Finding>> {
    let values = surface.values.as_slice().try_into();
    let ln_sd = surface.ln_sd.as_slice().try_into();
    match (values, ln_sd) {
        (Ok(values), Ok(ln_sd)) => Ok((values, ln_sd)),
        _ => Err(wrong(name, surface.values.len(), N)),
    }
}

fn wrong(field: &str, given: usize, expected: usize) -> Vec<Finding> {
    vec![error(
        field,
        given as f64,
        &format!("{expected} values, in card order"),
        "give one value for each entry of the card",
    )]
}
