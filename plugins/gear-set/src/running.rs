//! A pair of gears under torque: stresses, heat, film, and what each turn does.

use ringland_mechanics::gear::bending::root_stress_pa;
use ringland_mechanics::gear::life::{Flank, LifeCurve, Root};
use ringland_mechanics::gear::load::{dynamic_factor, stiffness};
use ringland_mechanics::gear::path::{LineLoad, Oil, film_m, line_load_n_m, stations};
use ringland_mechanics::gear::pitting::{Film, contact_stress_pa, film_factors};
use ringland_mechanics::gear::scuffing::{Flanks, Heat, heat};
use ringland_plugin::{Finding, error};

use crate::asperities::Asperities;
use crate::constants::{
    FILM_STRIDE, FLANK_LN_SD, FORTY_DEGC_K, LEAST_ROOM_K, OIL_CONDUCTIVITY_W_M_K, OIL_KG_M3,
    ONE_PER_CENT, ROOT_LN_SD, RQ_PER_RA, RZ_PER_RA, STEPS, THERMAL_CONTACT,
};
use crate::root_strength;
use crate::spec::{GearPair, Spec};

/// What a pair carries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Running {
    /// Torque of the pinion at its peaks, application factor in it \[N·m\], above 0.
    pub torque_n_m: f64,
    /// Speed of the pinion \[rad/s\], above 0.
    pub speed_rad_s: f64,
    /// Temperature of the oil \[K\].
    pub oil_k: f64,
    /// Whether it lasts long enough for the bulk of the teeth to warm.
    pub steady: bool,
}

/// Loads and stresses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stresses {
    /// Internal dynamic factor.
    pub dynamic_factor: f64,
    /// Normal line load of the flanks, all load factors in it \[N/m\].
    pub line_load_n_m: f64,
    /// Contact stress of pinion and wheel \[Pa\].
    pub contact_pa: [f64; 2],
    /// Root stress of pinion and wheel \[Pa\].
    pub root_pa: [f64; 2],
}

/// Loads and stresses of a pair.
pub fn stresses(spec: &Spec, pair: &GearPair, running: &Running) -> Stresses {
    let mesh = &pair.mesh;
    let width_m = mesh.pair.face_width_m;
    let tangential_n = running.torque_n_m / mesh.gears[0].reference_m;
    let dynamic_factor = dynamic_factor(
        mesh,
        &spec.deviations,
        tangential_n / width_m,
        running.speed_rad_s,
    );
    let shared_n = tangential_n * dynamic_factor * spec.transverse_load_factor;
    let flank_n = shared_n * spec.face_load_factor;
    let root_n = shared_n * pair.root_face_factor;
    Stresses {
        dynamic_factor,
        line_load_n_m: line_load_n_m(mesh, flank_n),
        contact_pa: contact_stress_pa(mesh, flank_n, spec.modulus_pa),
        root_pa: pair
            .roots
            .map(|section| root_stress_pa(mesh, &section, root_n)),
    }
}

/// Load cycles to a Miner sum of 1, at which half of such teeth have failed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lives {
    /// Of the flanks of pinion and wheel.
    pub pitting: [f64; 2],
    /// Of their roots.
    pub root: [f64; 2],
    /// Largest stress over the static strength that the life curves hold good for.
    pub static_share: f64,
}

/// Lives of a pair under stresses.
///
/// # Errors
/// Influences that leave no life curve: endurance at or above the static strength.
pub fn lives(
    spec: &Spec,
    pair: &GearPair,
    running: &Running,
    stresses: &Stresses,
) -> Result<Lives, Vec<Finding>> {
    let mesh = &pair.mesh;
    let film = Film {
        viscosity_40_m2_s: spec.oil.viscosity_pa_s(FORTY_DEGC_K) / OIL_KG_M3,
        pitch_speed_m_s: running.speed_rad_s * mesh.gears[0].reference_m,
        rz_m: RZ_PER_RA * spec.flank.ra_m,
        radius_m: mesh.relative_radius_m(mesh.pinion_radii_m[2]),
    };
    let influences: f64 = film_factors(&film, spec.contact_strength_pa)
        .iter()
        .product();
    let half = libm::exp(ONE_PER_CENT * FLANK_LN_SD);
    let plain = LifeCurve::pitting(Flank::Hardened, spec.long_life);
    let mut static_share = share(
        &stresses.contact_pa,
        plain.static_factor() * spec.contact_strength_pa,
    );
    let curve = plain
        .influenced(half, half * influences)
        .ok_or_else(|| no_curve("contact_strength_pa", influences))?;
    let pitting = stresses
        .contact_pa
        .map(|stress_pa| curve.cycles(stress_pa / spec.contact_strength_pa));
    let half = libm::exp(ONE_PER_CENT * ROOT_LN_SD);
    let plain = LifeCurve::bending(Root::CaseHardened, spec.long_life);
    static_share = static_share.max(share(
        &stresses.root_pa,
        plain.static_factor() * spec.root_strength_pa,
    ));
    let mut root = [0.0; 2];
    for ((cycles, section), stress_pa) in root.iter_mut().zip(&pair.roots).zip(stresses.root_pa) {
        let influence = root_strength::endurance(spec, section);
        let curve = plain
            .influenced(half, half * influence)
            .ok_or_else(|| no_curve("root_strength_pa", influence))?;
        *cycles = curve.cycles(stress_pa / spec.root_strength_pa);
    }
    Ok(Lives {
        pitting,
        root,
        static_share,
    })
}

fn share(stresses_pa: &[f64; 2], strength_pa: f64) -> f64 {
    stresses_pa[0].max(stresses_pa[1]) / strength_pa
}

fn no_curve(field: &str, influence: f64) -> Vec<Finding> {
    vec![error(
        field,
        influence,
        "influences that leave the endurance below the static strength",
        "check roughness, viscosity and residual stress",
    )]
}

/// Heat and film of a pair, and the wear of one turn of the pinion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contact {
    /// Temperatures over the oil; the bulk's is that of steady running.
    pub heat: Heat,
    /// Highest contact temperature \[K\].
    pub contact_k: f64,
    /// Rise of the contact over the room for it up to scuffing.
    pub scuff_severity: f64,
    /// Least film over mean roughness Ra along the path.
    pub film_ratio: f64,
    /// Growth of backlash by a turn of the pinion \[m\], at a clean oil.
    pub backlash_m: f64,
}

/// Heat, film and wear along the path of contact.
pub fn contact(
    spec: &Spec,
    asperities: &Asperities<'_>,
    pair: &GearPair,
    running: &Running,
    stresses: &Stresses,
) -> Contact {
    contact_with(spec, asperities, pair, running, stresses, STEPS)
}

/// As [`contact`], with another number of steps: a multiple of [`FILM_STRIDE`].
pub fn contact_with(
    spec: &Spec,
    asperities: &Asperities<'_>,
    pair: &GearPair,
    running: &Running,
    stresses: &Stresses,
    steps: usize,
) -> Contact {
    let mesh = &pair.mesh;
    let load = LineLoad {
        load_n_m: stresses.line_load_n_m,
        speed_rad_s: running.speed_rad_s,
    };
    let deflection_m = load.load_n_m / stiffness(mesh).single;
    let stations = stations(mesh, spec.deviations.tip_relief_m / deflection_m, steps);
    let flanks = Flanks {
        modulus_pa: spec.modulus_pa,
        ra_m: spec.flank.ra_m,
        thermal_contact: THERMAL_CONTACT,
        viscosity_pa_s: spec.oil.viscosity_pa_s(running.oil_k),
        oil_factor: spec.oil_friction_factor,
        supply_factor: spec.supply_factor,
    };
    let heat = heat(mesh, &stations, &load, &flanks);
    let room_k = (spec.scuffing_temp_k - running.oil_k).max(LEAST_ROOM_K);
    let bulk_k = running.oil_k
        + if running.steady {
            heat.bulk_rise_k
        } else {
            0.0
        };
    let contact_k = bulk_k + heat.peak_flash_k;
    let oil = oil_at(spec, bulk_k);
    let sigma_m = RQ_PER_RA * spec.flank.ra_m * std::f64::consts::SQRT_2;
    let mut least_m = f64::INFINITY;
    let mut worn_m = 0.0;
    let mut weight = 0.0;
    for station in stations.iter().step_by(FILM_STRIDE) {
        weight += station.weight_m;
        let touch = station.touch(&load, spec.modulus_pa);
        if touch.load_n_m <= 0.0 {
            continue;
        }
        let film_m = film_m(station, &touch, &oil, spec.modulus_pa);
        least_m = least_m.min(film_m);
        let (pinion, wheel) = touch.speeds_m_s;
        let slide = (pinion - wheel).abs();
        // Sliding of each flank under the contact as it passes, the wheel's once in u turns.
        let slid = slide / pinion.max(1e-3) + slide / wheel.max(1e-3) / mesh.ratio();
        worn_m += station.weight_m
            * spec.flank.wear_coefficient_m2_n
            * asperities.share(film_m / sigma_m)
            * touch.load_n_m
            * slid;
    }
    Contact {
        heat,
        contact_k,
        scuff_severity: (contact_k - running.oil_k) / room_k,
        film_ratio: least_m / spec.flank.ra_m,
        backlash_m: worn_m / weight / libm::cos(mesh.working_angle_rad),
    }
}

/// The oil at the temperature of the flanks.
fn oil_at(spec: &Spec, flank_k: f64) -> Oil {
    let viscosity_pa_s = spec.oil.viscosity_pa_s(flank_k);
    // Slope of Vogel's law.
    let log = libm::log(viscosity_pa_s / spec.oil.factor_pa_s).max(0.0);
    Oil {
        viscosity_pa_s,
        slope_pa_s_k: viscosity_pa_s * log * log / spec.oil.slope_k,
        alpha_per_pa: spec.pressure_viscosity_per_pa,
        conductivity_w_m_k: OIL_CONDUCTIVITY_W_M_K,
    }
}
