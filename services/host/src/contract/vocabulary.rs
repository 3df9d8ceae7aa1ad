//! The shared vocabulary: channels and shocks of the duty, properties of surfaces, and
//! [`DutyTable`], duty with named channels as it is stored and sent. A plugin's card may name only
//! what stands here; `sdk/wit/README.md` lists it for plugin authors. Adding a name is compatible, changing one
//! is not.

use super::{Card, Duty, LoadCycles, Table};
use serde::{Deserialize, Serialize};

/// A channel of the duty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Channel {
    /// Stable name; the unit is its ending.
    pub name: &'static str,
    /// SI unit.
    pub unit: &'static str,
    /// Name for people.
    pub label: &'static str,
    /// Smallest plausible sample. Ranges are wide: they catch broken sensors, not hard use.
    pub minimum: f64,
    /// Largest plausible sample.
    pub maximum: f64,
    /// Width of an operating-point cell over this channel; `None` when only its mean in a cell is kept.
    pub cell: Option<f64>,
    /// Whether its cycles are rainflow-counted.
    pub counted: bool,
}

const fn channel(
    name: &'static str,
    unit: &'static str,
    label: &'static str,
    (minimum, maximum): (f64, f64),
    cell: Option<f64>,
    counted: bool,
) -> Channel {
    Channel {
        name,
        unit,
        label,
        minimum,
        maximum,
        cell,
        counted,
    }
}

/// 100 rpm: narrow enough for valve-spring surge, since each cell also keeps its mean.
const SPEED_CELL_RAD_S: f64 = 100.0 * std::f64::consts::TAU / 60.0;

/// Every channel, in the order in which stored duty keeps them.
#[rustfmt::skip]
pub const CHANNELS: &[Channel] = &[
    channel("engine_speed_rad_s", "rad/s", "engine speed", (0.0, 2500.0), Some(SPEED_CELL_RAD_S), false),
    channel("engine_torque_n_m", "N.m", "engine torque", (-1000.0, 5000.0), Some(20.0), true),
    channel("gear", "1", "gear", (-1.0, 12.0), Some(1.0), false),
    channel("oil_temp_k", "K", "engine oil temperature", (230.0, 470.0), Some(5.0), false),
    channel("coolant_temp_k", "K", "coolant temperature", (230.0, 430.0), None, false),
    channel("oil_pressure_pa", "Pa", "engine oil gauge pressure", (-1e5, 2e6), None, false),
    channel("fuel_dilution_fraction", "1", "fuel in the oil", (0.0, 0.3), None, false),
    channel("contamination_factor", "1", "wear multiplier of contaminated oil or air", (1.0, 20.0), None, false),
    channel("manifold_pressure_pa", "Pa", "manifold absolute pressure", (1e4, 8e5), None, false),
    channel("throttle_fraction", "1", "throttle opening", (-0.05, 1.05), None, false),
    channel("lambda", "1", "air-fuel ratio over stoichiometric", (0.4, 3.0), None, false),
    channel("exhaust_temp_k", "K", "exhaust gas temperature", (230.0, 1600.0), None, false),
    channel("knock_level", "1", "knock intensity, 1 = alarm", (0.0, 50.0), None, false),
    channel("crankcase_pressure_pa", "Pa", "crankcase absolute pressure", (2e4, 3e5), None, false),
    channel("blow_by_flow_m3_s", "m3/s", "blow-by flow", (0.0, 0.05), None, false),
    channel("vehicle_speed_m_s", "m/s", "vehicle speed", (-5.0, 150.0), None, false),
    channel("wheel_speed_left_rad_s", "rad/s", "driven wheel speed, left", (-20.0, 600.0), None, false),
    channel("wheel_speed_right_rad_s", "rad/s", "driven wheel speed, right", (-20.0, 600.0), None, false),
    channel("axle_torque_n_m", "N.m", "driven axle torque", (-30_000.0, 60_000.0), None, true),
    channel("clutch_slip_speed_rad_s", "rad/s", "clutch slip speed", (-1500.0, 1500.0), None, false),
    channel("clutch_torque_n_m", "N.m", "clutch torque", (-5000.0, 10_000.0), None, false),
    channel("differential_slip_speed_rad_s", "rad/s", "speed difference across the differential", (-600.0, 600.0), Some(1.0), false),
    channel("gearbox_oil_temp_k", "K", "gearbox oil temperature", (230.0, 470.0), None, false),
    channel("axle_oil_temp_k", "K", "final-drive oil temperature", (230.0, 470.0), None, false),
    channel("joint_angle_rad", "rad", "drive-shaft joint angle", (-0.8, 0.8), None, false),
    channel("lateral_acceleration_m_s2", "m/s2", "lateral acceleration", (-80.0, 80.0), Some(8.0), false),
    channel("longitudinal_acceleration_m_s2", "m/s2", "longitudinal acceleration", (-120.0, 120.0), None, false),
    channel("vertical_acceleration_m_s2", "m/s2", "vertical acceleration", (-500.0, 500.0), None, false),
    channel("ambient_temp_k", "K", "ambient air temperature", (220.0, 340.0), None, false),
];

/// A kind of shock and its fields, all SI. Every kind starts with `start_s` (from the start of the
/// record) and `duration_s`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shock {
    /// Stable name.
    pub kind: &'static str,
    /// Name for people.
    pub label: &'static str,
    /// Field names, unit as ending.
    pub fields: &'static [&'static str],
}

/// Every kind of shock.
#[rustfmt::skip]
pub const SHOCKS: &[Shock] = &[
    Shock { kind: "over_rev", label: "over-rev", fields: &["start_s", "duration_s", "peak_engine_speed_rad_s", "mean_engine_speed_rad_s", "mean_engine_torque_n_m"] },
    Shock { kind: "oil_pressure_dip", label: "oil-pressure dip", fields: &["start_s", "duration_s", "minimum_oil_pressure_pa", "mean_engine_speed_rad_s"] },
    Shock { kind: "oil_overheat", label: "oil overheat", fields: &["start_s", "duration_s", "peak_oil_temp_k"] },
    Shock { kind: "knock_burst", label: "knock burst", fields: &["start_s", "duration_s", "peak_knock_level", "mean_engine_torque_n_m"] },
    Shock { kind: "start", label: "engine start", fields: &["start_s", "duration_s", "oil_temp_k"] },
    Shock { kind: "launch", label: "launch from rest", fields: &["start_s", "duration_s", "energy_j", "peak_power_w", "peak_torque_n_m"] },
    Shock { kind: "clutch_engagement", label: "clutch engagement other than a launch", fields: &["start_s", "duration_s", "energy_j", "peak_power_w", "peak_torque_n_m"] },
    Shock { kind: "shift", label: "gear shift", fields: &["start_s", "duration_s", "from_gear", "to_gear", "engine_speed_step_rad_s", "mean_engine_torque_n_m"] },
    Shock { kind: "impact", label: "kerb or landing impact", fields: &["start_s", "duration_s", "peak_vertical_acceleration_m_s2"] },
];

/// A property of a working surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SurfaceProperty {
    /// Stable name, unit as ending.
    pub name: &'static str,
    /// SI unit.
    pub unit: &'static str,
    /// Meaning and standard.
    pub meaning: &'static str,
}

const fn property(
    name: &'static str,
    unit: &'static str,
    meaning: &'static str,
) -> SurfaceProperty {
    SurfaceProperty {
        name,
        unit,
        meaning,
    }
}

/// Every property of a surface.
#[rustfmt::skip]
pub const SURFACE_PROPERTIES: &[SurfaceProperty] = &[
    property("hardness_pa", "Pa", "indentation hardness of the surface (100 HV = 0.981e9 Pa)"),
    property("ra_m", "m", "arithmetic mean roughness (ISO 21920-2)"),
    property("rq_m", "m", "root-mean-square roughness of the plateau once run in (ISO 21920-2)"),
    property("rpk_m", "m", "reduced peak height as finished (ISO 21920-2)"),
    property("rk_m", "m", "core height (ISO 21920-2)"),
    property("rvk_m", "m", "reduced valley depth (ISO 21920-2)"),
    property("mr2_fraction", "1", "material ratio at the valley boundary (ISO 21920-2)"),
    property("oil_retention_m", "m", "oil volume held in valleys over area"),
    property("asperity_radius_m", "m", "mean radius of asperity summits"),
    property("asperity_density_per_m2", "1/m2", "density of asperity summits"),
    property("boundary_friction", "1", "coefficient of friction of asperity contact"),
    property("friction_slope_s_m", "s/m", "slope of friction over sliding speed"),
    property("wear_coefficient_m2_n", "m2/N", "specific wear coefficient (volume over load and sliding distance)"),
    property("running_in_multiplier", "1", "wear coefficient of the finished surface over that once run in"),
    property("coating_thickness_m", "m", "thickness of a coating, 0 for none"),
    property("coating_hardness_pa", "Pa", "hardness of the coating"),
    property("coating_modulus_pa", "Pa", "elastic modulus of the coating"),
    property("case_depth_m", "m", "depth of a hardened case"),
    property("retained_austenite_fraction", "1", "retained austenite of the case"),
];

/// Cycles of one named channel.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct DutyCycles {
    /// Channel name.
    pub channel: String,
    /// The cycles.
    pub cycles: LoadCycles,
}

/// Shocks of one kind: named fields, one column each, a row a shock.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct DutyShocks {
    /// Kind.
    pub kind: String,
    /// Field names.
    pub fields: Vec<String>,
    /// One column for each field.
    pub columns: Vec<Vec<f64>>,
}

/// Duty with named channels, independent of any plugin: what is stored and what the API carries.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct DutyTable {
    /// Total time counted.
    pub duration_s: f64,
    /// Channels present.
    pub channels: Vec<String>,
    /// Time at each operating point.
    pub time_s: Vec<f64>,
    /// One column for each channel.
    pub points: Vec<Vec<f64>>,
    /// Rainflow-counted cycles.
    pub cycles: Vec<DutyCycles>,
    /// Shocks.
    pub shocks: Vec<DutyShocks>,
}

impl DutyTable {
    /// The column of a channel, if present.
    pub fn column(&self, channel: &str) -> Option<&[f64]> {
        let index = self.channels.iter().position(|name| name == channel)?;
        self.points.get(index).map(Vec::as_slice)
    }

    /// The duty that a card asks for, in card order. Missing optional channels take the card's
    /// default, mates theirs; missing cycles and shocks are empty.
    ///
    /// # Errors
    /// Names of the required channels that are missing.
    pub fn for_card(&self, card: &Card) -> Result<Duty, Vec<String>> {
        let mut missing = Vec::new();
        let mut points = Vec::with_capacity(card.duty.channels.len());
        for need in &card.duty.channels {
            match self.column(&need.name) {
                Some(column) => points.push(column.to_vec()),
                None if need.required => missing.push(need.name.clone()),
                None => points.push(vec![need.default_value; self.time_s.len()]),
            }
        }
        if !missing.is_empty() {
            return Err(missing);
        }
        let cycles = card.duty.cycles.iter().map(|channel| {
            let counted = self.cycles.iter().find(|c| &c.channel == channel);
            counted.map(|c| c.cycles.clone()).unwrap_or_default()
        });
        let shocks = card
            .duty
            .shocks
            .iter()
            .map(|need| self.shocks_of(&need.kind, &need.fields));
        Ok(Duty {
            duration_s: self.duration_s,
            time_s: self.time_s.clone(),
            points,
            cycles: cycles.collect(),
            shocks: shocks.collect(),
            mates: card
                .duty
                .mates
                .iter()
                .map(|mate| mate.default_value)
                .collect(),
        })
    }

    fn shocks_of(&self, kind: &str, fields: &[String]) -> Table {
        let found = self.shocks.iter().find(|s| s.kind == kind);
        let column = |field: &String| {
            let shocks = found?;
            let index = shocks.fields.iter().position(|name| name == field)?;
            shocks.columns.get(index).cloned()
        };
        Table {
            columns: fields
                .iter()
                .map(|field| column(field).unwrap_or_default())
                .collect(),
        }
    }
}
