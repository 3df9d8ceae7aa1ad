//! Ordinary use for any card: a few operating points, some cycles, one shock of each kind. The
//! values are invented, and ordinary for a race car; laws that hold for every model need no more.

use ringland_host::contract::{Card, Duty, LoadCycles, Table, vocabulary::CHANNELS};

/// Three operating points for channels whose middle of the plausible range is not ordinary.
#[rustfmt::skip]
const POINTS: &[(&str, [f64; 3])] = &[
    ("engine_speed_rad_s", [420.0, 650.0, 790.0]),
    ("engine_torque_n_m", [60.0, 300.0, 400.0]),
    ("gear", [2.0, 3.0, 4.0]),
    ("oil_temp_k", [365.0, 378.0, 383.0]),
    ("coolant_temp_k", [355.0, 360.0, 365.0]),
    ("oil_pressure_pa", [3e5, 4.5e5, 5e5]),
    ("fuel_dilution_fraction", [0.02, 0.02, 0.02]),
    ("contamination_factor", [1.0, 1.0, 1.0]),
    ("manifold_pressure_pa", [8e4, 1.8e5, 2.2e5]),
    ("throttle_fraction", [0.2, 0.7, 1.0]),
    ("lambda", [1.0, 0.9, 0.85]),
    ("exhaust_temp_k", [900.0, 1100.0, 1200.0]),
    ("knock_level", [0.0, 0.1, 0.2]),
    ("crankcase_pressure_pa", [9e4, 9.5e4, 1e5]),
    ("blow_by_flow_m3_s", [2e-4, 5e-4, 8e-4]),
    ("vehicle_speed_m_s", [25.0, 45.0, 60.0]),
    ("wheel_speed_left_rad_s", [80.0, 145.0, 194.0]),
    ("wheel_speed_right_rad_s", [83.0, 146.0, 194.0]),
    ("axle_torque_n_m", [400.0, 1500.0, 2400.0]),
    ("clutch_slip_speed_rad_s", [0.0, 0.0, 5.0]),
    ("clutch_torque_n_m", [60.0, 300.0, 400.0]),
    ("differential_slip_speed_rad_s", [4.0, 2.0, 0.5]),
    ("gearbox_oil_temp_k", [370.0, 380.0, 385.0]),
    ("axle_oil_temp_k", [370.0, 383.0, 390.0]),
    ("joint_angle_rad", [0.06, 0.08, 0.1]),
    ("lateral_acceleration_m_s2", [3.0, 10.0, 15.0]),
    ("longitudinal_acceleration_m_s2", [-5.0, 2.0, 6.0]),
    ("vertical_acceleration_m_s2", [0.0, 2.0, 5.0]),
    ("ambient_temp_k", [293.0, 295.0, 298.0]),
];

/// Fields of a shock, by name.
#[rustfmt::skip]
const SHOCK_FIELDS: &[(&str, f64)] = &[
    ("start_s", 10.0), ("duration_s", 0.5), ("peak_engine_speed_rad_s", 890.0),
    ("mean_engine_speed_rad_s", 850.0), ("mean_engine_torque_n_m", 300.0),
    ("minimum_oil_pressure_pa", 1.2e5), ("peak_oil_temp_k", 410.0), ("peak_knock_level", 1.5),
    ("oil_temp_k", 330.0), ("energy_j", 2e4), ("peak_power_w", 6e4), ("peak_torque_n_m", 500.0),
    ("from_gear", 2.0), ("to_gear", 3.0), ("engine_speed_step_rad_s", 150.0),
    ("peak_vertical_acceleration_m_s2", 60.0),
];

pub(crate) fn duty(card: &Card, seconds: f64) -> Duty {
    let need = &card.duty;
    let cycles = |channel: &String| {
        let [low, middle, high] = points(channel);
        LoadCycles {
            ranges: vec![high - low, high],
            means: vec![middle, high / 2.0],
            counts: vec![seconds / 10.0, seconds / 100.0],
        }
    };
    let field = |name: &String| vec![shock_field(name)];
    let shocks = need.shocks.iter().map(|shock| Table {
        columns: shock.fields.iter().map(field).collect(),
    });
    Duty {
        duration_s: seconds,
        time_s: [0.3, 0.5, 0.2].map(|share| share * seconds).to_vec(),
        points: need
            .channels
            .iter()
            .map(|c| points(&c.name).to_vec())
            .collect(),
        cycles: need.cycles.iter().map(cycles).collect(),
        shocks: shocks.collect(),
        mates: need.mates.iter().map(|mate| mate.default_value).collect(),
    }
}

/// A record in which nothing happens.
pub(crate) fn no_duty(card: &Card) -> Duty {
    let need = &card.duty;
    let empty = |shock: &ringland_host::contract::ShockNeed| Table {
        columns: vec![Vec::new(); shock.fields.len()],
    };
    Duty {
        points: vec![Vec::new(); need.channels.len()],
        cycles: vec![LoadCycles::default(); need.cycles.len()],
        shocks: need.shocks.iter().map(empty).collect(),
        mates: need.mates.iter().map(|mate| mate.default_value).collect(),
        ..Duty::default()
    }
}

/// A record cut in two: half of time and cycles in each, all shocks in the first.
pub(crate) fn halves(card: &Card, duty: &Duty) -> [Duty; 2] {
    let mut first = duty.clone();
    first.duration_s /= 2.0;
    first.time_s.iter_mut().for_each(|time| *time /= 2.0);
    for cycles in &mut first.cycles {
        cycles.counts.iter_mut().for_each(|count| *count /= 2.0);
    }
    let mut second = first.clone();
    second.shocks = no_duty(card).shocks;
    [first, second]
}

fn points(channel: &str) -> [f64; 3] {
    if let Some((_, points)) = POINTS.iter().find(|(name, _)| *name == channel) {
        return *points;
    }
    let known = CHANNELS.iter().find(|known| known.name == channel);
    known.map_or([0.0; 3], |c| {
        [0.4, 0.5, 0.6].map(|part| c.minimum + part * (c.maximum - c.minimum))
    })
}

fn shock_field(name: &str) -> f64 {
    let known = SHOCK_FIELDS.iter().find(|(field, _)| *field == name);
    known.map_or(1.0, |(_, value)| *value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use ringland_host::contract::vocabulary::SHOCKS;

    #[test]
    fn every_channel_and_field_of_the_vocabulary_has_ordinary_values() {
        for channel in CHANNELS {
            let listed = POINTS.iter().find(|(name, _)| *name == channel.name);
            let (_, points) = listed.unwrap_or_else(|| panic!("{}", channel.name));
            let range = channel.minimum..=channel.maximum;
            assert!(
                points.iter().all(|point| range.contains(point)),
                "{}",
                channel.name
            );
        }
        for field in SHOCKS.iter().flat_map(|shock| shock.fields) {
            assert!(
                SHOCK_FIELDS.iter().any(|(name, _)| name == field),
                "{field}"
            );
        }
    }
}
