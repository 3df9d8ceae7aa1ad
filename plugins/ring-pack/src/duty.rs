//! Duty to what it does: each operating point and over-rev as a block, looked up in the map.

use std::f64::consts::PI;

use ringland_mechanics::engine::{ChenFlynn, bmep_pa};
use ringland_mechanics::oil::dilution_factor;
use ringland_plugin::{Duty, Finding, error};

use crate::constants::{FORM_DEPTH_M, PEAK_SHARE, RELAXATION_DECADE_K, RELAXATION_TEMP_K};
use crate::operating_map::{Looked, OperatingMap};
use crate::pack::{FilmTemperature, power_share};
use crate::spec::Spec;
use crate::wear_law::{FaceRate, Stretch};

/// Channels of the card, in order.
pub(crate) const CHANNELS: usize = 6;
const NAMES: [&str; CHANNELS] = [
    "engine_speed_rad_s",
    "engine_torque_n_m",
    "oil_temp_k",
    "coolant_temp_k",
    "fuel_dilution_fraction",
    "contamination_factor",
];
/// Bounds of each channel: those of the shared vocabulary, tightened where the model ends sooner.
const BOUNDS: [(f64, f64); CHANNELS] = [
    (0.0, 2500.0),
    (-1000.0, 5000.0),
    (230.0, 470.0),
    (230.0, 430.0),
    (0.0, 0.3),
    (1.0, 20.0),
];

/// Time at one operating point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Block {
    /// Time \[s\].
    pub time_s: f64,
    /// Engine speed \[rad/s\].
    pub speed_rad_s: f64,
    /// Engine torque \[N·m\].
    pub torque_n_m: f64,
    /// Oil temperature \[K\].
    pub oil_k: f64,
    /// Coolant temperature \[K\].
    pub coolant_k: f64,
    /// Fuel in the oil \[1\].
    pub fuel_fraction: f64,
    /// Wear multiplier of contamination \[1\].
    pub contamination: f64,
}

/// Blocks of a duty record: operating points, then over-revs.
///
/// # Errors
/// Every entry that is not a number within its bounds, and columns of the wrong length.
pub fn blocks(duty: &Duty) -> Result<(Vec<Block>, Vec<Block>), Vec<Finding>> {
    let mut findings = Vec::new();
    let rows = duty.time_s.len();
    if duty.points.len() != CHANNELS || duty.points.iter().any(|column| column.len() != rows) {
        return Err(vec![error(
            "duty.points",
            duty.points.len() as f64,
            &format!("{CHANNELS} columns of {rows} values"),
            "give one column for each channel of the card, one value for each operating point",
        )]);
    }
    check_column(&mut findings, "duty.time_s", &duty.time_s, (0.0, 1e9));
    for ((name, bounds), column) in NAMES.iter().zip(BOUNDS).zip(&duty.points) {
        check_column(&mut findings, &format!("duty.{name}"), column, bounds);
    }
    let over_revs = over_revs(duty, &mut findings);
    if !findings.is_empty() {
        return Err(findings);
    }
    let points = (0..rows).map(|row| {
        let at = |channel: usize| duty.points[channel][row];
        Block {
            time_s: duty.time_s[row],
            speed_rad_s: at(0),
            torque_n_m: at(1),
            oil_k: at(2),
            coolant_k: at(3),
            fuel_fraction: at(4),
            contamination: at(5),
        }
    });
    Ok((points.collect(), over_revs))
}

fn check_column(
    findings: &mut Vec<Finding>,
    name: &str,
    column: &[f64],
    (least, most): (f64, f64),
) {
    for (row, value) in column.iter().enumerate() {
        if !(least..=most).contains(value) {
            findings.push(error(
                &format!("{name}[{row}]"),
                *value,
                &format!("{least} to {most}"),
                "check the channel's unit and its sensor",
            ));
        }
    }
}

/// Over-revs as blocks at their peak speed, with the record's mean temperatures.
fn over_revs(duty: &Duty, findings: &mut Vec<Finding>) -> Vec<Block> {
    let fields = [0, 1, 2].map(|field| duty.shock_field(0, field));
    let names = [
        "duration_s",
        "peak_engine_speed_rad_s",
        "mean_engine_torque_n_m",
    ];
    let bounds = [(0.0, 3600.0), BOUNDS[0], BOUNDS[1]];
    for ((name, bounds), column) in names.iter().zip(bounds).zip(fields) {
        check_column(findings, &format!("duty.over_rev.{name}"), column, bounds);
    }
    let total_s: f64 = duty.time_s.iter().sum();
    let mean = |channel: usize, otherwise: f64| {
        let weighted = duty.time_s.iter().zip(duty.channel(channel));
        let sum: f64 = weighted.map(|(time_s, value)| time_s * value).sum();
        if total_s > 0.0 {
            sum / total_s
        } else {
            otherwise
        }
    };
    let [durations, speeds, torques] = fields;
    let shocks = durations.iter().zip(speeds).zip(torques);
    let block = |((&time_s, &speed_rad_s), &torque_n_m): ((&f64, &f64), &f64)| Block {
        time_s,
        speed_rad_s,
        torque_n_m,
        oil_k: mean(2, crate::pack::NOMINAL_OIL_K),
        coolant_k: mean(3, crate::pack::NOMINAL_COOLANT_K),
        fuel_fraction: mean(4, 0.0),
        contamination: mean(5, 1.0),
    };
    shocks.map(block).collect()
}

/// What one block adds, and where on the map it lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Added {
    /// Its stretch.
    pub stretch: Stretch,
    /// Friction work of the pack \[J\].
    pub friction_j: f64,
    /// Whether the map had to be extrapolated.
    pub extrapolated: bool,
}

/// Net indicated mean effective pressure \[Pa\] of a block: brake mean effective pressure plus friction after Chen and Flynn, not
/// below 0.
pub fn imep_pa(spec: &Spec, map: &OperatingMap<'_>, block: &Block) -> f64 {
    let brake_pa = bmep_pa(block.torque_n_m, spec.cylinders * spec.displacement_m3());
    let piston_speed = spec.stroke_m * block.speed_rad_s / PI;
    let friction = ChenFlynn::default();
    let mut imep_pa = brake_pa.max(0.0);
    // Contracts by 1/200 of the rise of peak pressure with load, about 1/50, each time.
    for _ in 0..8 {
        imep_pa = (brake_pa + friction.fmep_pa(map.peak_pa(imep_pa), piston_speed)).max(0.0);
    }
    imep_pa
}

/// Product of viscosity and speed \[Pa\] at top-ring reversal.
pub fn product_pa(spec: &Spec, block: &Block, imep_pa: f64) -> f64 {
    let speed = block.speed_rad_s;
    let film = FilmTemperature::new(spec, block.coolant_k, block.oil_k, speed, imep_pa);
    speed * film.top_viscosity_pa_s(spec) * dilution_factor(block.fuel_fraction)
}

/// Looks a block up.
pub fn look_up(spec: &Spec, map: &OperatingMap<'_>, block: &Block) -> (Looked, f64) {
    let imep_pa = imep_pa(spec, map, block);
    (
        map.look_up(product_pa(spec, block, imep_pa), imep_pa),
        imep_pa,
    )
}

/// What a block adds.
pub fn added(spec: &Spec, map: &OperatingMap<'_>, block: &Block) -> Added {
    if block.speed_rad_s <= 0.0 || block.time_s <= 0.0 {
        return Added {
            stretch: Stretch::default(),
            friction_j: 0.0,
            extrapolated: false,
        };
    }
    let (looked, imep_pa) = look_up(spec, map, block);
    let cycles = block.time_s * block.speed_rad_s / (4.0 * PI);
    let multiplier = spec.bore.running_in_multiplier;
    let faces = [0, 1, 2].map(|ring| {
        let coefficient = spec.rings[ring].surface.wear_coefficient_m2_n;
        let wear_per_dose = coefficient * cycles * block.contamination;
        FaceRate::new(&looked.dose_pa_m[ring], wear_per_dose, multiplier)
    });
    // The bore's peaks wear as the bore does, under the top ring on the fresh surface.
    let fresh = looked.dose_pa_m[0][2] * cycles * block.contamination;
    let depth_m = 0.5 * PEAK_SHARE * spec.bore.rpk_m + FORM_DEPTH_M;
    let share = power_share(spec, block.speed_rad_s, imep_pa);
    let groove_k = block.coolant_k + spec.groove_rise_k * share;
    let decades = (groove_k - RELAXATION_TEMP_K).max(0.0) / RELAXATION_DECADE_K;
    Added {
        stretch: Stretch {
            faces,
            seating: spec.bore.wear_coefficient_m2_n * multiplier * fresh / depth_m,
            heat_h: block.time_s / 3600.0 * libm::exp(decades * std::f64::consts::LN_10),
        },
        friction_j: cycles * looked.friction_j,
        extrapolated: looked.extrapolated,
    }
}

/// The sum of what blocks add.
pub fn total<'a>(added: impl Iterator<Item = &'a Added>) -> Stretch {
    let mut sum = Stretch::default();
    for block in added {
        for (face, more) in sum.faces.iter_mut().zip(&block.stretch.faces) {
            face.add(more);
        }
        sum.seating += block.stretch.seating;
        sum.heat_h += block.stretch.heat_h;
    }
    sum
}
