//! The spec, typed.

use ringland_mechanics::fatigue::ResidualProfile;
use ringland_mechanics::range::OutOfRange;
use ringland_mechanics::shaft::{
    PlasticBar, ShoulderLoad, Spline, groove_concentration_torsion, shoulder_concentration,
};
use ringland_plugin::{Finding, Specimen, Surface, error};

use crate::site::{Finish, Notch, Site, Steel, shear_pa_per_n_m};

/// Sites at which a crack may start.
pub const SITES: usize = 3;
/// Indices of the sites.
#[allow(missing_docs, reason = "named on the card")]
pub mod site {
    pub const SPLINE: usize = 0;
    pub const GROOVE: usize = 1;
    pub const SHOULDER: usize = 2;
}

/// Numbers of the spec.
pub const NUMBERS: usize = 31;

/// What the model reads of a specimen.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub body: PlasticBar,
    pub torque_share: f64,
    pub spline: Spline,
    pub groove_diameter_m: f64,
    pub groove_depth_m: f64,
    pub groove_radius_m: f64,
    pub groove_torque_share: f64,
    pub shoulder_diameter_m: f64,
    pub shoulder_radius_m: f64,
    pub ultimate_strength_pa: f64,
    pub strength_pa: f64,
    pub slope: f64,
    pub strength_scatter: f64,
    pub preset_torque_n_m: f64,
    pub first_gear_ratio: f64,
    pub final_drive_ratio: f64,
    pub grip_torque_n_m: f64,
    pub dynamic_factor: f64,
    pub build_runout_m: f64,
    pub limit_twist_rad: f64,
    pub limit_pins_m: f64,
    pub limit_runout_m: f64,
    /// Whether launches come from the clutch's torque.
    pub launches_by_clutch: bool,
    pub friction: f64,
    pub wear_m2_n: f64,
    pub wear_ln_sd: f64,
    /// Roughness and residual stress of the spline and of the body.
    pub finishes: [Finish; 2],
}

impl Spec {
    /// Reads a specimen.
    ///
    /// # Errors
    /// Lists of the wrong length, or numbers that the stress or the strength is not defined for.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let numbers = <&[f64; NUMBERS]>::try_from(specimen.numbers.as_slice()).ok();
        let (Some(n), [launch_torque], [spline_surface, body_surface]) = (
            numbers,
            specimen.choices.as_slice(),
            specimen.surfaces.as_slice(),
        ) else {
            return Err(vec![error(
                "numbers",
                specimen.numbers.len() as f64,
                &format!("{NUMBERS} numbers, 1 choice and 2 surfaces, in card order"),
                "give one value for each entry of the card",
            )]);
        };
        let [roughness, friction, wear] = properties::<3>("spline", spline_surface)?;
        let [body_roughness] = properties::<1>("body", body_surface)?;
        let spline = Spline {
            module_m: n[4],
            teeth: n[5],
            root_radius_m: n[6],
            length_m: n[7],
            bearing_share: n[8],
        };
        Ok(Self {
            body: PlasticBar {
                diameter_m: n[0],
                bore_m: n[1],
                length_m: n[2],
                shear_modulus_pa: n[17],
                shear_yield_pa: n[16],
                hardening_ratio: n[18],
            },
            torque_share: n[3],
            spline,
            groove_diameter_m: n[9],
            groove_depth_m: n[10],
            groove_radius_m: n[11],
            groove_torque_share: n[12],
            shoulder_diameter_m: n[13],
            shoulder_radius_m: n[14],
            ultimate_strength_pa: n[15],
            strength_pa: n[19],
            slope: n[20],
            strength_scatter: n[21],
            preset_torque_n_m: n[22],
            first_gear_ratio: n[23],
            final_drive_ratio: n[24],
            grip_torque_n_m: n[25],
            dynamic_factor: n[26],
            build_runout_m: n[27],
            limit_twist_rad: n[28],
            limit_pins_m: n[29],
            limit_runout_m: n[30],
            launches_by_clutch: *launch_torque == 1,
            friction: friction.0,
            wear_m2_n: wear.0,
            wear_ln_sd: wear.1,
            finishes: [
                finish("spline", spline_surface, roughness)?,
                finish("body", body_surface, body_roughness)?,
            ],
        })
    }

    /// The sites, with the shear concentration of the spline's root, which is solved once.
    ///
    /// # Errors
    /// Numbers that the stress or the strength is not defined for.
    pub fn sites(&self, root_shear: f64) -> Result<[Site; SITES], Vec<Finding>> {
        let (body_m, bore_m) = (self.body.diameter_m, self.body.bore_m);
        let root_m = self.spline.minor_diameter_m();
        let thinnest_m = body_m.min(self.groove_diameter_m).min(root_m);
        if bore_m >= 0.9 * thinnest_m {
            let expected = format!("less than 0.9 of the thinnest diameter, {thinnest_m} m");
            let remedy = "measure bore and diameters again";
            return Err(vec![error("bore_m", bore_m, &expected, remedy)]);
        }
        let below = shear_pa_per_n_m(root_m, bore_m);
        let [spline_finish, body_finish] = &self.finishes;
        let spline = Notch {
            nominal_pa_per_n_m: below,
            concentration: self
                .spline
                .root_concentration(root_shear, (1.0, below), self.friction),
            radius_m: self.spline.root_radius_m,
            diameter_m: root_m,
        };
        let groove = Notch {
            nominal_pa_per_n_m: self.groove_torque_share
                * shear_pa_per_n_m(self.groove_diameter_m, bore_m),
            concentration: groove_concentration_torsion(
                self.groove_depth_m,
                self.groove_radius_m,
                self.groove_diameter_m,
            ),
            radius_m: self.groove_radius_m,
            diameter_m: self.groove_diameter_m,
        };
        let shoulder = Notch {
            nominal_pa_per_n_m: shear_pa_per_n_m(body_m, bore_m),
            concentration: self.shoulder_concentration()?,
            radius_m: self.shoulder_radius_m,
            diameter_m: body_m,
        };
        let steel = Steel {
            ultimate_pa: self.ultimate_strength_pa,
            shear_yield_pa: self.body.shear_yield_pa,
            strength_pa: self.strength_pa,
            slope: self.slope,
        };
        let site = |name: &str, notch: &Notch, finish: &Finish| {
            let site = Site::new(notch, &steel, finish);
            site.map_err(|wrong| refused(&format!("{name}.{}", wrong.field), &wrong))
        };
        Ok([
            site("spline", &spline, spline_finish)?,
            site("body", &groove, body_finish)?,
            site("body", &shoulder, body_finish)?,
        ])
    }

    fn shoulder_concentration(&self) -> Result<f64, Vec<Finding>> {
        let body_m = self.body.diameter_m;
        let ratios = (
            self.shoulder_diameter_m / body_m,
            self.shoulder_radius_m / body_m,
        );
        shoulder_concentration(ShoulderLoad::Torsion, ratios.0, ratios.1).map_err(|wrong| {
            let field = match wrong.field {
                "diameter_ratio" => "shoulder_diameter_m",
                _ => "shoulder_radius_m",
            };
            refused(field, &wrong)
        })
    }

    /// Peak torque of this shaft \[N·m\] in a launch whose clutch torque peaks at \[N·m\].
    pub fn launch_torque_n_m(&self, clutch_n_m: f64) -> f64 {
        let by_clutch = clutch_n_m * self.first_gear_ratio * self.final_drive_ratio;
        self.torque_share * by_clutch.min(self.grip_torque_n_m) * self.dynamic_factor
    }
}

/// Roughness and residual stress of a surface.
fn finish(
    name: &str,
    surface: &Surface,
    (ra_m, ra_ln_sd): (f64, f64),
) -> Result<Finish, Vec<Finding>> {
    let residual = ResidualProfile::new(&surface.depth_m, &surface.residual_stress_pa);
    let residual = residual.map_err(|wrong| refused(&format!("{name}.{}", wrong.field), &wrong))?;
    Ok(Finish {
        ra_m,
        ra_ln_sd,
        residual,
    })
}

/// Values of a surface with their spreads.
fn properties<const COUNT: usize>(
    name: &str,
    surface: &Surface,
) -> Result<[(f64, f64); COUNT], Vec<Finding>> {
    let pairs = surface.values.iter().copied();
    let pairs: Vec<(f64, f64)> = pairs.zip(surface.ln_sd.iter().copied()).collect();
    <[(f64, f64); COUNT]>::try_from(pairs).map_err(|pairs| {
        let expected = format!("{COUNT} properties, each with its spread");
        let remedy = "give one value for each property of the card";
        vec![error(name, pairs.len() as f64, &expected, remedy)]
    })
}

fn refused(field: &str, wrong: &OutOfRange) -> Vec<Finding> {
    let expected = match wrong.field {
        "diameter_ratio" => "1.09 to 20 times body_diameter_m, the range of the published fits",
        "radius_ratio" => "0.005 to 0.3 of body_diameter_m, the range of the published fits",
        _ => wrong.expected,
    };
    let remedy = "check the drawing; beyond the range this model has no stress concentration";
    vec![error(field, wrong.value, expected, remedy)]
}
