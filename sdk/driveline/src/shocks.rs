//! Shocks of the driveline.

use ringland_plugin::{Duty, DutyNeed};

/// Slip of a clutch under torque.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Engagement {
    /// From rest.
    pub launch: bool,
    /// From the start of the record \[s\].
    pub start_s: f64,
    /// How long it slipped \[s\].
    pub duration_s: f64,
    /// Energy turned into heat: slip speed times torque over time \[J\].
    pub energy_j: f64,
    /// Largest power \[W\].
    pub peak_power_w: f64,
    /// Largest torque of the clutch \[N·m\].
    pub peak_torque_n_m: f64,
}

/// A gear shift.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Shift {
    /// From leaving the one gear to settling in the other \[s\].
    pub duration_s: f64,
    /// Gear left.
    pub from_gear: f64,
    /// Gear engaged.
    pub to_gear: f64,
    /// Engine speed after the shift less that before it \[rad/s\]: negative for a clean upshift. It is the step of the ratios and the
    /// slip that is left when the gear engages, together; what the dogs take is a share of it.
    pub engine_speed_step_rad_s: f64,
    /// Mean engine torque over the shift \[N·m\].
    pub mean_engine_torque_n_m: f64,
}

/// A wheel over a kerb, or a landing.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Impact {
    /// How long \[s\].
    pub duration_s: f64,
    /// Largest vertical acceleration \[m/s²\], without sign.
    pub peak_vertical_m_s2: f64,
}

/// The shocks of one kind, each made of its fields by name; a field that the card does not read is 0.
pub(crate) fn of<T>(
    need: &DutyNeed,
    duty: &Duty,
    kind: &str,
    make: impl Fn(&dyn Fn(&str) -> f64) -> T,
) -> Vec<T> {
    let Some(index) = need.shocks.iter().position(|shock| shock.kind == kind) else {
        return Vec::new();
    };
    let fields = &need.shocks[index].fields;
    let value = |row: usize, name: &str| {
        let field = fields.iter().position(|field| field == name)?;
        duty.shock_field(index, field).get(row).copied()
    };
    (0..duty.shock_count(index))
        .map(|row| make(&|name| value(row, name).unwrap_or(0.0)))
        .collect()
}

impl Engagement {
    pub(crate) fn read(launch: bool, field: &dyn Fn(&str) -> f64) -> Self {
        Self {
            launch,
            start_s: field("start_s"),
            duration_s: field("duration_s"),
            energy_j: field("energy_j"),
            peak_power_w: field("peak_power_w"),
            peak_torque_n_m: field("peak_torque_n_m"),
        }
    }
}

impl Shift {
    pub(crate) fn read(field: &dyn Fn(&str) -> f64) -> Self {
        Self {
            duration_s: field("duration_s"),
            from_gear: field("from_gear"),
            to_gear: field("to_gear"),
            engine_speed_step_rad_s: field("engine_speed_step_rad_s"),
            mean_engine_torque_n_m: field("mean_engine_torque_n_m"),
        }
    }
}

impl Impact {
    pub(crate) fn read(field: &dyn Fn(&str) -> f64) -> Self {
        Self {
            duration_s: field("duration_s"),
            peak_vertical_m_s2: field("peak_vertical_acceleration_m_s2").abs(),
        }
    }
}
