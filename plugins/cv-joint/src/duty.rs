//! What a record does to this joint: turns under torque, heat and the temperature that follows, damage and wear at each operating point.

use std::f64::consts::TAU;

use ringland_driveline::{Block, Use, read};
use ringland_mechanics::cv_joint::{Turn, grease_life_s, rated_turns, steady_temp_k};
use ringland_mechanics::film::ehl::Inlet;
use ringland_mechanics::rolling_bearing::{Kind, a_iso};
use ringland_plugin::{Duty, Finding};

use crate::card::slot;
use crate::condition::Joint;
use crate::constants as c;

/// What is added to each slot.
pub type Added = [f64; slot::COUNT];

/// A record, as it is to this joint.
#[derive(Debug, Clone, PartialEq)]
pub struct JointUse {
    /// What each operating point adds. The slot of pressure holds the highest of the point itself.
    pub points: Vec<Added>,
    /// What each impact adds to the hazard of the boot.
    pub impacts: Vec<f64>,
    /// All of it; the slot of pressure holds the highest of the record.
    pub total: Added,
    /// Mean surface temperature \[K\]; none where no time has passed.
    pub surface_k: Option<f64>,
    /// Film over roughness where the joint works hardest.
    pub film_ratio: f64,
    /// Largest joint angle \[rad\].
    pub angle_rad: f64,
    /// Whether cycles of the axle torque were counted.
    pub counted: bool,
}

/// An operating point of the joint.
struct Point {
    block: Block,
    torque_n_m: f64,
    speed_rad_s: f64,
    turns: f64,
    turn: Turn,
}

/// What film and friction are at a point.
#[derive(Clone, Copy)]
struct Film {
    ratio: f64,
    /// Share of the load that asperities carry.
    boundary: f64,
}

/// Reads a record.
///
/// # Errors
/// Every entry out of bounds.
pub fn joint_use(joint: &Joint, record: &Duty) -> Result<JointUse, Vec<Finding>> {
    let used = read(&joint.need, record)?;
    let points: Vec<Point> = used
        .points
        .iter()
        .map(|block| point(joint, block))
        .collect();
    let surface_k = surface_k(joint, &points, used.mean.ambient_k);
    let films: Vec<Film> = points
        .iter()
        .map(|point| film(joint, point, surface_k))
        .collect();
    let added: Vec<Added> = points
        .iter()
        .zip(&films)
        .map(|(point, film)| added(joint, point, *film, surface_k))
        .collect();
    let impacts: Vec<f64> = used
        .impacts
        .iter()
        .map(|hit| c::BOOT_PER_IMPACT * (hit.peak_vertical_m_s2 / c::BOOT_IMPACT_M_S2).powi(2))
        .collect();
    let mut total = [0.0; slot::COUNT];
    for row in &added {
        for (sum, value) in total.iter_mut().zip(row) {
            *sum += value;
        }
    }
    total[slot::BOOT] += impacts.iter().fold(0.0, |sum, hit| sum + hit);
    total[slot::PRESSURE] = highest_pressure_pa(joint, &used, &added);
    let running = || points.iter().filter(|point| point.block.time_s > 0.0);
    let hardest = running()
        .zip(&films)
        .max_by(|a, b| a.0.torque_n_m.abs().total_cmp(&b.0.torque_n_m.abs()));
    Ok(JointUse {
        points: added,
        impacts,
        total,
        surface_k: (used.mean.time_s > 0.0).then_some(surface_k),
        film_ratio: hardest.map_or(0.0, |(_, film)| film.ratio),
        angle_rad: running().fold(0.0, |most, point| {
            most.max(point.block.joint_angle_rad.abs())
        }),
        counted: !used.cycles.is_empty(),
    })
}

fn point(joint: &Joint, block: &Block) -> Point {
    let speed_rad_s = block.wheel_speed_rad_s().abs();
    Point {
        block: *block,
        torque_n_m: joint.spec.torque_share * block.axle_torque_n_m,
        speed_rad_s,
        turns: block.time_s * speed_rad_s / TAU,
        turn: joint.turns.at(block.joint_angle_rad),
    }
}

/// Mean surface temperature over a record \[K\]: heat, friction, film and viscosity brought together.
fn surface_k(joint: &Joint, points: &[Point], ambient_k: f64) -> f64 {
    let time_s: f64 = points.iter().map(|point| point.block.time_s).sum();
    let mut at_k = ambient_k;
    if time_s <= 0.0 {
        return at_k;
    }
    for _ in 0..c::ROUNDS {
        let heat_j: f64 = points
            .iter()
            .map(|point| heat_j(joint, point, film(joint, point, at_k)))
            .sum();
        let conductance_w_k = joint.spec.heat_transfer_w_k;
        let next_k = steady_temp_k(ambient_k, heat_j / time_s, conductance_w_k).min(HOTTEST_K);
        let settled = (next_k - at_k).abs() < SETTLED_K;
        at_k = next_k;
        if settled {
            break;
        }
    }
    at_k
}

/// Change of temperature from round to round that is taken for none \[K\].
const SETTLED_K: f64 = 1.0e-8;
/// Where a temperature is held \[K\]: far beyond any grease.
const HOTTEST_K: f64 = 800.0;
/// Hottest and coldest for which the oil's viscosity is followed \[K\].
const VISCOSITY_K: (f64, f64) = (230.0, 500.0);

/// Heat of friction at a point \[J\].
fn heat_j(joint: &Joint, point: &Point, film: Film) -> f64 {
    let spec = &joint.spec;
    let friction =
        |boundary: f64| boundary * film.boundary + c::FILM_FRICTION * (1.0 - film.boundary);
    let tracks = Turn {
        window: 0.0,
        sphere: 0.0,
        ..point.turn
    };
    let cage = Turn {
        slide: 0.0,
        pivot: 0.0,
        ..point.turn
    };
    let axes_m = [joint.unit[0].long_m, joint.unit[1].long_m];
    let loss =
        |turn: &Turn, friction: f64| turn.loss(&spec.joint, axes_m, friction, point.torque_n_m);
    let lost =
        loss(&tracks, friction(spec.track_friction)) + loss(&cage, friction(spec.window_friction));
    lost * point.torque_n_m.abs() * TAU * point.turns
}

/// Film of the ball on the inner track at its mean rolling speed.
fn film(joint: &Joint, point: &Point, surface_k: f64) -> Film {
    let rolling_m_s = point.turn.travel_m * point.speed_rad_s / TAU;
    let load_n = point.turn.mean_load * point.torque_n_m.abs();
    if rolling_m_s <= 0.0 || load_n <= 0.0 {
        return Film {
            ratio: 0.0,
            boundary: 1.0,
        };
    }
    let oil_k = surface_k.clamp(VISCOSITY_K.0, VISCOSITY_K.1);
    let inlet = Inlet {
        viscosity_pa_s: joint.spec.oil.viscosity_m2_s(oil_k) * c::DENSITY_KG_M3,
        alpha_per_pa: c::ALPHA_PER_PA,
        entrainment_m_s: rolling_m_s,
        modulus_pa: joint.modulus_pa,
    };
    let inner = &joint.unit[1];
    let film_m =
        inlet.least_elliptic_film_m(load_n, joint.rolling_radius_m, inner.long_m / inner.short_m);
    let ratio = film_m / joint.spec.roughness_m();
    Film {
        ratio,
        boundary: joint.turns.boundary(ratio),
    }
}

fn added(joint: &Joint, point: &Point, film: Film, surface_k: f64) -> Added {
    let spec = &joint.spec;
    let mut row = [0.0; slot::COUNT];
    let torque_n_m = point.torque_n_m.abs();
    let driving = point.torque_n_m >= 0.0;
    row[slot::TURNS] = point.turns;
    row[slot::GREASE] = point.block.time_s
        / grease_life_s(
            surface_k,
            (spec.grease_life_s, c::GREASE_K),
            c::GREASE_HALVING_K,
        );
    let bend = (point.block.joint_angle_rad / c::BOOT_ANGLE_RAD).powi(2);
    let turning_h = if point.turns > 0.0 {
        point.block.time_s / 3600.0
    } else {
        0.0
    };
    row[slot::BOOT] = c::BOOT_PER_HOUR * turning_h * bend;
    if point.block.time_s > 0.0 {
        row[slot::PRESSURE] = pressure_pa(joint, &point.turn, torque_n_m);
    }
    if point.turns <= 0.0 || torque_n_m <= 0.0 {
        return row;
    }
    let pitting = point.turns / pitting_turns(joint, point, film);
    let (outer, inner) = (worn_m2_n(joint, point, 0), worn_m2_n(joint, point, 1));
    let way = film.boundary * (outer + inner) * point.turns;
    let (track, wear) = if driving {
        (slot::DRIVE_PITTING, slot::DRIVE_WEAR)
    } else {
        (slot::COAST_PITTING, slot::COAST_WEAR)
    };
    row[track] = pitting;
    row[wear] = spec.track_wear_m2_n * way;
    row[slot::BALL_PITTING] = pitting;
    row[slot::BALL_WEAR] = spec.ball_wear_m2_n * way;
    let rubbed = film.boundary * point.turn.window * torque_n_m * point.turns;
    row[slot::WINDOW_WEAR] = spec.window_wear_m2_n * rubbed / spec.window_contact_m2;
    row
}

/// Turns to L10 at a point: the rating of the straight joint, less by the cube of the computed loads over those of the straight joint, and changed by the
/// film as rolling bearings are (`a_ISO` over that of the surfaces for which the capacity holds).
fn pitting_turns(joint: &Joint, point: &Point, film: Film) -> f64 {
    let ratio = point.torque_n_m.abs() / joint.spec.capacity_n_m;
    let uneven = point.turn.cube_load / joint.straight.cube_load;
    rated_turns(ratio, point.speed_rad_s) / uneven * film_life(film.ratio)
}

/// Life by the film over roughness, over that for which the capacity holds.
pub fn film_life(film_ratio: f64) -> f64 {
    let life = |kappa: f64| a_iso(Kind::RadialBall, kappa, c::CONTAMINATED_LIMIT);
    life(libm::pow(film_ratio, c::KAPPA_OF_LAMBDA)) / life(c::CAPACITY_KAPPA)
}

/// Load times sliding of a turn on one track over the band that it wears \[N/m\]: swept by the long axis of the contact, over the ball's travel and the contact's own length.
fn worn_m2_n(joint: &Joint, point: &Point, track: usize) -> f64 {
    let (turn, unit) = (&point.turn, &joint.unit[track]);
    let torque_n_m = point.torque_n_m.abs();
    let size = libm::cbrt(turn.mean_load * torque_n_m);
    let slid =
        turn.slide * torque_n_m + turn.pivot * unit.long_m * torque_n_m * libm::cbrt(torque_n_m);
    let band_m = 0.5 * turn.travel_m + 2.0 * unit.short_m * size;
    slid / (2.0 * unit.long_m * size * band_m)
}

/// Highest pressure of the turn on the inner track \[Pa\].
fn pressure_pa(joint: &Joint, turn: &Turn, torque_n_m: f64) -> f64 {
    joint.unit[1].peak_pressure_pa * libm::cbrt(turn.peak_load * torque_n_m.abs())
}

/// Highest pressure of a record \[Pa\]: at its operating points, and at the peaks of its counted cycles with the mean joint angle.
fn highest_pressure_pa(joint: &Joint, used: &Use, points: &[Added]) -> f64 {
    let peaks = used.cycles.iter().filter(|cycle| cycle.count > 0.0);
    let peaks = peaks.map(|cycle| cycle.mean_n_m.abs() + 0.5 * cycle.range_n_m);
    let most_n_m = joint.spec.torque_share * peaks.fold(0.0, f64::max);
    let turn = joint.turns.at(used.mean.joint_angle_rad);
    let held = points.iter().map(|row| row[slot::PRESSURE]);
    held.fold(pressure_pa(joint, &turn, most_n_m), f64::max)
}
