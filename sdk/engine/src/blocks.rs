//! Duty records of an engine as blocks: time at operating points, and over-revs.

use ringland_plugin::{
    Bounds, ChannelNeed, Duty, DutyNeed, Finding, ShockNeed, channel, channel_or, check_duty,
    shock, time_mean,
};

/// Warm engine oil \[K\].
const OIL_K: f64 = 378.15;
/// Warm coolant \[K\].
const COOLANT_K: f64 = 363.15;
/// Oil pressure of a warm engine at speed, gauge \[Pa\].
const OIL_PRESSURE_PA: f64 = 5.0e5;

/// Time at one operating point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Block {
    /// Time \[s\].
    pub time_s: f64,
    /// Engine speed \[rad/s\].
    pub speed_rad_s: f64,
    /// Engine torque \[N·m\], negative on overrun.
    pub torque_n_m: f64,
    /// Oil temperature \[K\].
    pub oil_k: f64,
    /// Coolant temperature \[K\].
    pub coolant_k: f64,
    /// Oil gauge pressure \[Pa\].
    pub oil_pressure_pa: f64,
    /// Fuel in the oil \[1\].
    pub fuel_fraction: f64,
    /// Wear multiplier of contamination \[1\].
    pub contamination: f64,
    /// Knock intensity, 1 = alarm \[1\].
    pub knock_level: f64,
}

impl Default for Block {
    /// A warm, clean engine at rest.
    fn default() -> Self {
        Self {
            time_s: 0.0,
            speed_rad_s: 0.0,
            torque_n_m: 0.0,
            oil_k: OIL_K,
            coolant_k: COOLANT_K,
            oil_pressure_pa: OIL_PRESSURE_PA,
            fuel_fraction: 0.0,
            contamination: 1.0,
            knock_level: 0.0,
        }
    }
}

impl Block {
    /// Four-stroke cycles of one cylinder in the block.
    pub fn cycles(&self) -> f64 {
        self.time_s * self.speed_rad_s / (4.0 * std::f64::consts::PI)
    }

    fn set(&mut self, name: &str, value: f64) {
        match name {
            "engine_speed_rad_s" => self.speed_rad_s = value,
            "engine_torque_n_m" => self.torque_n_m = value,
            "oil_temp_k" => self.oil_k = value,
            "coolant_temp_k" => self.coolant_k = value,
            "oil_pressure_pa" => self.oil_pressure_pa = value,
            "fuel_dilution_fraction" => self.fuel_fraction = value,
            "contamination_factor" => self.contamination = value,
            "knock_level" => self.knock_level = value,
            _ => {} // a channel of the plugin's own
        }
    }
}

/// Needs of a card for channels that a block holds: speed and torque, then those named.
pub fn channels(further: &[&str]) -> Vec<ChannelNeed> {
    let mut needs = vec![
        channel("engine_speed_rad_s", "Cycles, inertia, sliding speed."),
        channel(
            "engine_torque_n_m",
            "Cylinder pressure. Negative on overrun.",
        ),
    ];
    for name in further {
        let (default_value, note) = match *name {
            "oil_temp_k" => (OIL_K, "Viscosity of the film."),
            "coolant_temp_k" => (COOLANT_K, "Temperature of cylinder and piston."),
            "oil_pressure_pa" => (OIL_PRESSURE_PA, "Supply of the film."),
            "fuel_dilution_fraction" => (0.0, "Thins the film."),
            "contamination_factor" => (
                1.0,
                "Multiplies wear: 1 clean, 3 to 5 with visible dust (common practice, no source).",
            ),
            "knock_level" => (0.0, "Raises peak pressure."),
            _ => (0.0, ""),
        };
        needs.push(channel_or(name, default_value, note));
    }
    needs
}

/// Need of a card for over-revs, as [`points_and_over_revs`] reads them.
pub fn over_rev() -> ShockNeed {
    shock(
        "over_rev",
        &[
            "duration_s",
            "peak_engine_speed_rad_s",
            "mean_engine_torque_n_m",
        ],
    )
}

/// Bounds of the channels of a block and of the usual fields of shocks: those of the shared vocabulary, tightened where models end sooner.
pub fn bounds(name: &str) -> Option<Bounds> {
    Some(match name {
        "engine_speed_rad_s" | "peak_engine_speed_rad_s" | "mean_engine_speed_rad_s" => {
            (0.0, 2500.0)
        }
        "engine_torque_n_m" | "mean_engine_torque_n_m" => (-1000.0, 5000.0),
        "oil_temp_k" | "peak_oil_temp_k" => (230.0, 470.0),
        "coolant_temp_k" => (230.0, 430.0),
        "oil_pressure_pa" | "minimum_oil_pressure_pa" => (-1.0e5, 2.0e6),
        "fuel_dilution_fraction" => (0.0, 0.3),
        "contamination_factor" => (1.0, 20.0),
        "knock_level" | "peak_knock_level" => (0.0, 50.0),
        "duration_s" => (0.0, 3600.0),
        _ => return None,
    })
}

/// Checks a record against the card's need and reads its operating points and over-revs as blocks. A channel that the card does not
/// ask for has its warm default. An over-rev is a block at its peak speed with the record's mean temperatures. Its time is also in the operating points of the record, at
/// the speeds the log had: what an over-rev adds is on the safe side by that.
///
/// # Errors
/// Every entry out of bounds.
pub fn points_and_over_revs(
    need: &DutyNeed,
    duty: &Duty,
) -> Result<(Vec<Block>, Vec<Block>), Vec<Finding>> {
    check_duty(need, duty, bounds)?;
    let mut points = vec![Block::default(); duty.time_s.len()];
    for (block, time_s) in points.iter_mut().zip(&duty.time_s) {
        block.time_s = *time_s;
    }
    let mut mean = Block::default();
    for (need, column) in need.channels.iter().zip(&duty.points) {
        for (block, value) in points.iter_mut().zip(column) {
            block.set(&need.name, *value);
        }
        mean.set(&need.name, time_mean(duty, column, need.default_value));
    }
    let over_revs = over_revs(need, duty, &mean);
    Ok((points, over_revs))
}

fn over_revs(need: &DutyNeed, duty: &Duty, mean: &Block) -> Vec<Block> {
    let Some(index) = need
        .shocks
        .iter()
        .position(|shock| shock.kind == "over_rev")
    else {
        return Vec::new();
    };
    let column = |name: &str| {
        let fields = &need.shocks[index].fields;
        let field = fields.iter().position(|field| field == name);
        field.map_or(&[][..], |field| duty.shock_field(index, field))
    };
    let durations = column("duration_s").iter();
    let speeds = column("peak_engine_speed_rad_s").iter();
    let torques = column("mean_engine_torque_n_m").iter();
    let shocks = durations.zip(speeds).zip(torques);
    shocks
        .map(|((time_s, speed_rad_s), torque_n_m)| Block {
            time_s: *time_s,
            speed_rad_s: *speed_rad_s,
            torque_n_m: *torque_n_m,
            ..*mean
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use ringland_plugin::Table;

    fn need() -> DutyNeed {
        DutyNeed {
            channels: channels(&["oil_temp_k"]),
            cycles: Vec::new(),
            shocks: vec![over_rev()],
            mates: Vec::new(),
        }
    }

    fn duty() -> Duty {
        Duty {
            duration_s: 40.0,
            time_s: vec![10.0, 30.0],
            points: vec![vec![500.0, 800.0], vec![100.0, 400.0], vec![370.0, 390.0]],
            cycles: Vec::new(),
            shocks: vec![Table {
                columns: vec![vec![0.5], vec![990.0], vec![-50.0]],
            }],
            mates: Vec::new(),
        }
    }

    #[test]
    fn points_take_their_channels_and_over_revs_the_mean() {
        let (points, over_revs) = points_and_over_revs(&need(), &duty()).unwrap();
        assert_eq!(points.len(), 2);
        let second = points[1];
        assert!((second.speed_rad_s - 800.0).abs() < 1e-12);
        assert!((second.oil_k - 390.0).abs() < 1e-12);
        assert!((second.coolant_k - COOLANT_K).abs() < 1e-12);
        let cycles = 30.0 * 800.0 / (4.0 * std::f64::consts::PI);
        assert!((second.cycles() - cycles).abs() < 1e-9);
        let shock = over_revs[0];
        assert!((shock.oil_k - 385.0).abs() < 1e-9);
        assert!((shock.speed_rad_s - 990.0).abs() < 1e-12);
        assert!((shock.torque_n_m + 50.0).abs() < 1e-12);
    }

    #[test]
    fn a_broken_value_is_named() {
        let mut broken = duty();
        broken.points[0][1] = f64::NAN;
        let findings = points_and_over_revs(&need(), &broken).unwrap_err();
        assert_eq!(findings[0].field, "duty.engine_speed_rad_s[1]");
    }
}
