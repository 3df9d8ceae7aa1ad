//! A duty record as what it adds: each operating point looked up and rated, each impact as dents.

use std::f64::consts::PI;

use ringland_driveline::{Block, Impact};
use ringland_mechanics::rolling_bearing::{
    Cleaning, LifeModification, basic_life_revs, contamination_factor, reference_viscosity_m2_s,
    smoothed_kappa,
};

use crate::constants as c;
use crate::operating_map::{OperatingMap, STATES};
use crate::spec::{Place, Spec};

/// What an operating point adds, or a whole record.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Added {
    /// Revolutions.
    pub turns: f64,
    /// Rated life used by A and B at each growth of play \[1\].
    pub fatigue: [[f64; STATES]; 2],
    /// Growth of play \[m\].
    pub growth_m: f64,
    /// Grease life used \[1\].
    pub grease: f64,
    /// Hazard of the cage \[1\].
    pub cage: f64,
    /// Time \[s\] at a thin film, and at any speed at all.
    pub thin_s: [f64; 2],
    /// Highest speed over the limiting speed.
    pub fastest: f64,
    /// Whether a load lies beyond the map.
    pub beyond: bool,
}

/// Where an operating point is on the map, and how the set turns there.
struct Running {
    case: usize,
    driver: f64,
    speed_rad_s: f64,
    oil_k: f64,
}

fn running(spec: &Spec, block: &Block) -> Option<Running> {
    let (index, gear) = spec.gear(block.gear)?;
    let engaged = block.gear.round() != 0.0;
    // Behind the gears nothing is known of the speed in neutral: it counts as standing.
    let behind = |ratio: f64| {
        let over = if engaged {
            1.0 / (gear.ratio * ratio)
        } else {
            0.0
        };
        block.engine_speed_rad_s * over
    };
    let torque_n_m = if engaged {
        block.engine_torque_n_m
    } else {
        0.0
    };
    let (case, driver, speed_rad_s, oil_k) = match spec.place {
        Place::InputShaft => (
            index,
            torque_n_m,
            block.engine_speed_rad_s,
            block.gearbox_oil_k,
        ),
        Place::OutputShaft => (index, torque_n_m, behind(1.0), block.gearbox_oil_k),
        Place::Pinion => {
            let grip_n_m = spec.grip_torque_n_m;
            let pinion_n_m = (torque_n_m * gear.ratio).clamp(-grip_n_m, grip_n_m);
            (0, pinion_n_m, behind(1.0), block.axle_oil_k)
        }
        Place::Hub => (
            0,
            block.lateral_m_s2,
            behind(spec.final_drive_ratio),
            block.ambient_k,
        ),
    };
    Some(Running {
        case,
        driver,
        speed_rad_s: speed_rad_s.abs(),
        oil_k: oil_k + spec.temp_rise_k,
    })
}

/// What an operating point adds.
pub fn added(spec: &Spec, map: &OperatingMap<'_>, block: &Block) -> Added {
    let Some(at) = running(spec, block) else {
        return Added::default();
    };
    if at.speed_rad_s <= 0.0 || block.time_s <= 0.0 {
        return Added::default();
    }
    let turns = at.speed_rad_s * block.time_s / (2.0 * PI);
    let looked = map.look_up(at.case, at.driver);
    let film = Film::at(spec, &at, block.contamination);
    let wear = [0, 1].map(|k| {
        spec.growth_of_wear(k) * spec.wear_m2_n * looked.wear_n_m[k] * turns * block.contamination
    });
    let growth_m = if spec.build.paired() {
        wear[0] + wear[1]
    } else {
        wear[0].max(wear[1])
    };
    let speed = at.speed_rad_s / spec.limiting_speed_rad_s;
    let thinnest = film.kappa[0].min(film.kappa[1]);
    let grease = if spec.cleaning == Cleaning::Grease {
        block.time_s / grease_life_s(speed, at.oil_k)
    } else {
        0.0
    };
    Added {
        turns,
        fatigue: [0, 1]
            .map(|k| looked.equivalent_n[k].map(|load_n| film.life_used(spec, k, load_n, turns))),
        growth_m,
        grease,
        cage: c::CAGE_PER_S * block.time_s * libm::pow(speed, c::CAGE_EXPONENT),
        thin_s: [
            if thinnest < c::THIN_FILM {
                block.time_s
            } else {
                0.0
            },
            block.time_s,
        ],
        fastest: speed,
        beyond: looked.beyond,
    }
}

/// Film and cleanliness of both bearings.
struct Film {
    kappa: [f64; 2],
    contamination: [f64; 2],
    modification: [LifeModification; 2],
}

impl Film {
    /// Debris that wears so many times as fast is so many times the particles: ISO 4406 counts doublings.
    fn at(spec: &Spec, at: &Running, debris: f64) -> Self {
        let viscosity_m2_s = spec.oil.viscosity_m2_s(at.oil_k);
        let code = spec.cleanliness_code + libm::log2(debris);
        let kappa = spec.bearings.map(|bearing| {
            let needed_m2_s = reference_viscosity_m2_s(at.speed_rad_s, bearing.pitch_m);
            smoothed_kappa(
                viscosity_m2_s / needed_m2_s,
                c::USUAL_ROUGHNESS_M,
                spec.roughness_m,
            )
        });
        let contamination = [0, 1]
            .map(|k| contamination_factor(spec.cleaning, code, kappa[k], spec.bearings[k].pitch_m));
        Self {
            kappa,
            contamination,
            modification: kappa.map(|kappa| LifeModification::new(spec.kind(), kappa)),
        }
    }

    /// Rated life used by revolutions under an equivalent load \[N\].
    fn life_used(&self, spec: &Spec, index: usize, load_n: f64, turns: f64) -> f64 {
        if load_n <= 0.0 {
            return 0.0;
        }
        let bearing = &spec.bearings[index];
        let kind = spec.kind();
        let limit = self.contamination[index] * bearing.fatigue_limit_n / load_n;
        turns
            / (self.modification[index].factor(limit)
                * basic_life_revs(kind, bearing.rating_n, load_n))
    }
}

/// Life of grease \[s\] at a speed over the limiting speed and a temperature \[K\].
fn grease_life_s(speed: f64, temp_k: f64) -> f64 {
    let [a, b, c, d] = c::GREASE;
    let speed = speed.clamp(0.25, 1.0);
    let temp_c = (temp_k - 273.15).clamp(70.0, 160.0);
    3600.0 * libm::pow(10.0, a - b * speed - (c - d * speed) * temp_c)
}

/// The sum of what blocks add; the worst of their extremes.
pub fn total<'a>(added: impl Iterator<Item = &'a Added>) -> Added {
    added.fold(Added::default(), |mut sum, block| {
        for (sum, block) in sum.fatigue.iter_mut().zip(&block.fatigue) {
            for (sum, block) in sum.iter_mut().zip(block) {
                *sum += block;
            }
        }
        sum.turns += block.turns;
        sum.growth_m += block.growth_m;
        sum.grease += block.grease;
        sum.cage += block.cage;
        sum.thin_s[0] += block.thin_s[0];
        sum.thin_s[1] += block.thin_s[1];
        sum.fastest = sum.fastest.max(block.fastest);
        sum.beyond = sum.beyond || block.beyond;
        sum
    })
}

/// What impacts leave.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Dents {
    /// Hazard that the dents of A and B add, over that without.
    pub hazard: [f64; 2],
    /// Deepest, over the element's diameter.
    pub deepest: f64,
    /// Impacts below the counted static safety.
    pub count: f64,
}

impl Dents {
    /// The dents of a record.
    pub fn of(spec: &Spec, map: &OperatingMap<'_>, impacts: &[Impact]) -> Self {
        let mut dents = Self::default();
        for impact in impacts {
            let shares = map.static_shares(impact.peak_vertical_m_s2);
            for (k, share) in shares.into_iter().enumerate() {
                let depth = depth(share);
                dents.hazard[k] += dent_hazard(spec, k, depth);
                dents.deepest = dents.deepest.max(depth);
            }
            if shares[0].max(shares[1]) > 1.0 / c::COUNTED_SAFETY {
                dents.count += 1.0;
            }
        }
        dents
    }
}

/// Depth of a dent over the element's diameter, by the largest element load over that of the static rating: it goes with the square (A. Palmgren, from
/// memory).
pub fn depth(share: f64) -> f64 {
    (c::RATED_DENT * share * share).min(c::MOST_DENT)
}

/// Hazard of a dented stretch of raceway over that of the raceway, in excess of what it had: its share of the raceway times the power of the
/// raised stress. Life goes with the ninth (balls: p 3 of a load that goes with the cube of the pressure) or the 20/3rd power of pressure.
fn dent_hazard(spec: &Spec, index: usize, depth: f64) -> f64 {
    let bearing = &spec.bearings[index];
    // Chord of a dent of that depth by a circle of the element's diameter.
    let chord_m = 2.0 * bearing.element_m * (depth * (1.0 - depth)).sqrt();
    let share = chord_m / (PI * bearing.pitch_m);
    let pressure_power = if spec.build.balls() { 9.0 } else { 20.0 / 3.0 };
    let raised = 1.0 + c::DENT_STRESS * depth / c::RATED_DENT;
    share * (libm::pow(raised, pressure_power * c::SLOPE) - 1.0)
}
