use std::f64::consts::PI;

use super::error::{EngineError, within};
use super::gas::CylinderGas;
use super::heat_loss::{MOTORED_EXPONENT, Woschni};
use super::heat_release::Wiebe;
use super::kinematics::SliderCrank;

/// Geometry of one cylinder.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cylinder {
    /// Crank and rod.
    pub crank: SliderCrank,
    /// Bore \[m\].
    pub bore_m: f64,
    /// Largest over smallest volume \[1\].
    pub compression_ratio: f64,
}

impl Default for Cylinder {
    /// 86 by 86 mm, 9.5 to 1.
    fn default() -> Self {
        Self {
            crank: SliderCrank::default(),
            bore_m: 0.086,
            compression_ratio: 9.5,
        }
    }
}

impl Cylinder {
    /// Swept volume of the cylinder \[m³\].
    pub fn displacement_m3(&self) -> f64 {
        self.piston_area_m2() * self.crank.stroke_m()
    }

    /// Cross-section of the bore \[m²\].
    pub fn piston_area_m2(&self) -> f64 {
        0.25 * PI * self.bore_m * self.bore_m
    }

    /// Volume at top dead centre \[m³\].
    pub fn clearance_m3(&self) -> f64 {
        self.displacement_m3() / (self.compression_ratio - 1.0)
    }

    /// Cylinder volume \[m³\] at a crank angle \[rad\].
    pub fn volume_m3(&self, angle_rad: f64) -> f64 {
        self.clearance_m3() + self.piston_area_m2() * self.crank.displacement_m(angle_rad)
    }
}

/// One cylinder with its gas, heat release, wall loss and valve timing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CycleSetup {
    /// Geometry.
    pub cylinder: Cylinder,
    /// Charge properties.
    pub gas: CylinderGas,
    /// Heat release over crank angle.
    pub burn: Wiebe,
    /// Heat lost to the walls while the valves are closed; `None` for an adiabatic cylinder.
    pub wall: Option<Woschni>,
    /// Crank angle at which the trapped mass is fixed \[rad\], −π to −π/2.
    pub intake_close_rad: f64,
    /// Crank angle at which the exhaust begins to open \[rad\], π/2 to π.
    pub exhaust_open_rad: f64,
}

impl Default for CycleSetup {
    /// The default cylinder; intake closes 50° after, exhaust opens 50° before bottom dead centre.
    fn default() -> Self {
        Self {
            cylinder: Cylinder::default(),
            gas: CylinderGas::default(),
            burn: Wiebe::default(),
            wall: Some(Woschni::default()),
            intake_close_rad: (-130.0_f64).to_radians(),
            exhaust_open_rad: 130.0_f64.to_radians(),
        }
    }
}

impl CycleSetup {
    /// Checks every part of the set-up.
    ///
    /// # Errors
    /// [`EngineError::OutOfRange`] naming the first field that is wrong.
    pub fn check(&self) -> Result<(), EngineError> {
        self.cylinder.crank.check()?;
        within("bore_m", self.cylinder.bore_m, 5e-3, 2.0, "0.005 to 2 m")?;
        within(
            "compression_ratio",
            self.cylinder.compression_ratio,
            2.0,
            40.0,
            "2 to 40",
        )?;
        self.gas.check()?;
        self.burn.check()?;
        within(
            "intake_close_rad",
            self.intake_close_rad,
            -PI,
            -0.5 * PI,
            "-pi to -pi/2 rad",
        )?;
        within(
            "exhaust_open_rad",
            self.exhaust_open_rad,
            0.5 * PI,
            PI,
            "pi/2 to pi rad",
        )?;
        let Some(wall) = &self.wall else {
            return Ok(());
        };
        within(
            "wall_temp_k",
            wall.wall_temp_k,
            200.0,
            1500.0,
            "200 to 1500 K",
        )?;
        within(
            "piston_speed_factor",
            wall.piston_speed_factor,
            0.0,
            20.0,
            "0 to 20",
        )?;
        within(
            "combustion_factor_m_s_k",
            wall.combustion_factor_m_s_k,
            0.0,
            0.1,
            "0 to 0.1 m/(s K)",
        )?;
        within(
            "chamber_area_ratio",
            wall.chamber_area_ratio,
            0.5,
            5.0,
            "0.5 to 5",
        )
    }
}

/// What depends on crank angle alone, at every half step of the cycle.
#[derive(Debug, Clone, Copy)]
pub(super) struct Station {
    pub volume_m3: f64,
    pub volume_per_rad_m3: f64,
    pub wall_area_m2: f64,
    /// Motored over reference pressure.
    pub motored_ratio: f64,
}

/// Stations at −2π + k h/2 for k = 0..=2N, and the burned fraction at whole steps.
pub(super) fn stations(setup: &CycleSetup, steps: usize, closing: usize) -> Vec<Station> {
    let cylinder = &setup.cylinder;
    let reference_m3 = cylinder.volume_m3(angle_at(2 * closing, 2 * steps));
    let area = cylinder.piston_area_m2();
    let chamber_ratio = setup.wall.map_or(1.0, |wall| wall.chamber_area_ratio);
    (0..=2 * steps)
        .map(|k| {
            let angle = angle_at(k, 2 * steps);
            let volume_m3 = cylinder.volume_m3(angle);
            let liner_m = (volume_m3 - cylinder.clearance_m3()) / area;
            Station {
                volume_m3,
                volume_per_rad_m3: area * cylinder.crank.displacement_per_rad_m(angle),
                wall_area_m2: 2.0 * area * chamber_ratio + PI * cylinder.bore_m * liner_m,
                motored_ratio: (reference_m3 / volume_m3).powf(MOTORED_EXPONENT),
            }
        })
        .collect()
}

/// Crank angle \[rad\] of point `k` when the cycle is cut into `points` equal parts.
pub(super) fn angle_at(k: usize, points: usize) -> f64 {
    (k as f64 / points as f64 * 4.0 - 2.0) * PI
}
