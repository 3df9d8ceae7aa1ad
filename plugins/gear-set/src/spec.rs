//! The specimen as named numbers, in the order of the card.

use ringland_mechanics::contact::effective_modulus_pa;
use ringland_mechanics::fatigue::ResidualProfile;
use ringland_mechanics::gear::bending::{RootSection, root_section};
use ringland_mechanics::gear::geometry::{Mesh, Pair, Rack};
use ringland_mechanics::gear::life::LongLife;
use ringland_mechanics::gear::load::{Deviations, root_face_factor};
use ringland_mechanics::oil::Vogel;
use ringland_mechanics::range::OutOfRange;
use ringland_plugin::{Finding, Specimen, Surface, Table, error};

use crate::constants::{GEARS, POISSON};

/// A pair of gears ready for load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GearPair {
    /// Geometry.
    pub mesh: Mesh,
    /// Root sections of pinion and wheel.
    pub roots: [RootSection; 2],
    /// Face load factor of the root.
    pub root_face_factor: f64,
}

/// Flanks of all gears.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Flank {
    pub ra_m: f64,
    pub hardness_pa: f64,
    pub wear_coefficient_m2_n: f64,
    /// Spread of ln(Ra) and of ln(wear coefficient).
    pub ln_sd: [f64; 2],
}

/// Root fillets of all gears.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Root {
    pub ra_m: f64,
    pub hardness_pa: f64,
    pub residual: ResidualProfile,
}

/// Everything the model reads of a specimen.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub rack: Rack,
    pub centre_distance_m: f64,
    pub modulus_pa: f64,
    pub contact_strength_pa: f64,
    pub root_strength_pa: f64,
    pub contact_strength_scatter: f64,
    pub root_strength_scatter: f64,
    pub application_factor: f64,
    pub face_load_factor: f64,
    pub transverse_load_factor: f64,
    pub deviations: Deviations,
    pub oil: Vogel,
    pub pressure_viscosity_per_pa: f64,
    pub oil_friction_factor: f64,
    pub supply_factor: f64,
    pub scuffing_temp_k: f64,
    pub dog_inertia_kg_m2: f64,
    pub dog_wear_m_j: f64,
    pub dog_speed_share: f64,
    pub dog_corner_m: f64,
    pub limit_dog_corner_m: f64,
    pub backlash_m: f64,
    pub limit_backlash_growth_m: f64,
    pub long_life: LongLife,
    pub flank: Flank,
    pub root: Root,
    /// The pairs, first gear first.
    pub gears: Vec<GearPair>,
}

/// Numbers of the spec.
pub const NUMBERS: usize = 32;

impl Spec {
    /// Reads a specimen; lengths of lists and whether the gears mesh are judged here.
    ///
    /// # Errors
    /// A finding when a list does not have the card's length, and one for each pair that does not mesh.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        let &[
            module_m,
            pressure_angle_rad,
            helix_angle_rad,
            addendum,
            dedendum,
            root_radius,
            centre_distance_m,
            modulus_pa,
            contact_strength_pa,
            root_strength_pa,
            contact_strength_scatter,
            root_strength_scatter,
            application_factor,
            face_load_factor,
            transverse_load_factor,
            base_pitch_m,
            profile_m,
            tip_relief_m,
            oil_factor_pa_s,
            oil_slope_k,
            oil_pole_k,
            pressure_viscosity_per_pa,
            oil_friction_factor,
            supply_factor,
            scuffing_temp_k,
            dog_inertia_kg_m2,
            dog_wear_m_j,
            dog_speed_share,
            dog_corner_m,
            limit_dog_corner_m,
            backlash_m,
            limit_backlash_growth_m,
        ] = specimen.numbers.as_slice()
        else {
            return Err(wrong("numbers", specimen.numbers.len(), NUMBERS));
        };
        let (&[option], [table]) = (specimen.choices.as_slice(), specimen.tables.as_slice()) else {
            return Err(wrong("tables", specimen.tables.len(), 1));
        };
        let (flank, root) = surfaces(&specimen.surfaces)?;
        let rack = Rack {
            module_m,
            pressure_angle_rad,
            helix_angle_rad,
            addendum,
            dedendum,
            root_radius,
        };
        let oil =
            Vogel::new(oil_factor_pa_s, oil_slope_k, oil_pole_k).map_err(|out| refused(&out))?;
        Ok(Self {
            rack,
            centre_distance_m,
            modulus_pa: effective_modulus_pa((modulus_pa, POISSON), (modulus_pa, POISSON)),
            contact_strength_pa,
            root_strength_pa,
            contact_strength_scatter,
            root_strength_scatter,
            application_factor,
            face_load_factor,
            transverse_load_factor,
            deviations: Deviations {
                base_pitch_m,
                profile_m,
                tip_relief_m,
            },
            oil,
            pressure_viscosity_per_pa,
            oil_friction_factor,
            supply_factor,
            scuffing_temp_k,
            dog_inertia_kg_m2,
            dog_wear_m_j,
            dog_speed_share,
            dog_corner_m,
            limit_dog_corner_m,
            backlash_m,
            limit_backlash_growth_m,
            long_life: if option == 0 {
                LongLife::Falling
            } else {
                LongLife::Level
            },
            flank,
            root,
            gears: pairs(&rack, centre_distance_m, face_load_factor, table)?,
        })
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

fn refused(out: &OutOfRange) -> Vec<Finding> {
    vec![error(
        out.field,
        out.value,
        out.expected,
        "measure it again",
    )]
}

fn surfaces(surfaces: &[Surface]) -> Result<(Flank, Root), Vec<Finding>> {
    let [flank, root] = surfaces else {
        return Err(wrong("surfaces", surfaces.len(), 2));
    };
    let (&[ra_m, hardness_pa, wear_coefficient_m2_n], &[ra_sd, _, wear_sd]) =
        (flank.values.as_slice(), flank.ln_sd.as_slice())
    else {
        return Err(wrong("flank", flank.values.len(), 3));
    };
    let &[root_ra_m, root_hardness_pa] = root.values.as_slice() else {
        return Err(wrong("root", root.values.len(), 2));
    };
    let residual = ResidualProfile::new(&root.depth_m, &root.residual_stress_pa);
    let flank = Flank {
        ra_m,
        hardness_pa,
        wear_coefficient_m2_n,
        ln_sd: [ra_sd, wear_sd],
    };
    let root = Root {
        ra_m: root_ra_m,
        hardness_pa: root_hardness_pa,
        residual: residual.map_err(|out| refused(&out))?,
    };
    Ok((flank, root))
}

fn pairs(
    rack: &Rack,
    centre_distance_m: f64,
    face_load_factor: f64,
    table: &Table,
) -> Result<Vec<GearPair>, Vec<Finding>> {
    let [pinion, wheel, width, shift] = table.columns.as_slice() else {
        let expected = "4 columns: teeth of pinion and wheel, face width, pinion shift";
        let given = table.columns.len() as f64;
        return Err(vec![error("gears", given, expected, "give every column")]);
    };
    let rows = pinion.iter().zip(wheel).zip(width).zip(shift);
    let mut findings = Vec::new();
    let mut gears = Vec::with_capacity(GEARS);
    for (row, (((z1, z2), face_width_m), pinion_shift)) in rows.take(GEARS).enumerate() {
        let pair = Pair {
            rack: *rack,
            teeth: [*z1, *z2],
            pinion_shift: *pinion_shift,
            centre_distance_m,
            face_width_m: *face_width_m,
        };
        match pair.mesh() {
            Ok(mesh) => gears.push(GearPair {
                roots: [root_section(&mesh, 0), root_section(&mesh, 1)],
                root_face_factor: root_face_factor(&mesh, face_load_factor),
                mesh,
            }),
            Err(out) => findings.push(error(
                &format!("gears.{}[{row}]", column(out.field)),
                out.value,
                &format!("{}: {}", out.field, out.expected),
                "check teeth, shift and centre distance of this pair against the drawing",
            )),
        }
    }
    if findings.is_empty() {
        Ok(gears)
    } else {
        Err(findings)
    }
}

/// Column of the table that a refusal of the geometry points to.
fn column(field: &str) -> &'static str {
    match field {
        "profile_shift" | "tip_thickness" | "contact_start" | "contact_end" => "pinion_shift",
        _ => "pinion_teeth",
    }
}
