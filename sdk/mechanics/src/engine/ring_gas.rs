use std::f64::consts::PI;

use super::error::{EngineError, within};
use super::orifice::OrificeGas;
use super::ring_flow::{MOST_RINGS, Network};

/// The leak paths past one ring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RingSeal {
    /// End gap at running temperature \[m\].
    pub gap_m: f64,
    /// Radial clearance between land and bore at the gap \[m\]: with the gap, its leak area.
    pub land_clearance_m: f64,
    /// Discharge coefficient of the gap \[1\]; 0.86 is the usual one (Heywood 1988, 8.6, from memory).
    pub discharge_coefficient: f64,
    /// Effective area (discharge coefficient included) of the paths round the flank and over an
    /// unseated face \[m²\].
    pub flank_area_m2: f64,
}

impl RingSeal {
    /// Effective leak area, discharge coefficients included \[m²\].
    pub fn effective_area_m2(&self) -> f64 {
        self.discharge_coefficient * self.gap_m * self.land_clearance_m + self.flank_area_m2
    }
}

/// Gas space between one ring and the next: the land's clearance and the groove of the ring below it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Land {
    /// Volume \[m³\], above 1e-10.
    pub volume_m3: f64,
    /// Temperature of the gas, that of the walls \[K\].
    pub temp_k: f64,
}

/// Volume \[m³\] of an annulus of mean diameter `diameter_m`, radial width `width_m`, height `height_m`:
/// a land's clearance, or the space behind and over a ring in its groove.
pub fn annulus_m3(diameter_m: f64, width_m: f64, height_m: f64) -> f64 {
    PI * diameter_m * width_m * height_m
}

/// A ring pack as a chain of volumes joined by leaks, chamber at one end, crankcase at the other.
///
/// Each ring sits on the lower flank of its groove, so the groove has the pressure of the land above
/// it; gas is perfect and at wall temperature. Leaves out ring lift, flutter and twist, the change of
/// gap area down a worn bore, and gas carried in the oil.
#[derive(Debug, Clone, PartialEq)]
pub struct RingPackGas {
    /// Rings from the top down, 1 to 8.
    pub rings: Vec<RingSeal>,
    /// Lands between them: one fewer than rings.
    pub lands: Vec<Land>,
    /// Temperature of the gas in the top land \[K\].
    pub top_land_temp_k: f64,
    /// Absolute crankcase pressure \[Pa\].
    pub crankcase_pressure_pa: f64,
    /// Crankcase gas temperature \[K\].
    pub crankcase_temp_k: f64,
    /// The gas.
    pub gas: OrificeGas,
}

impl Default for RingPackGas {
    /// Two compression rings and an oil ring of an 86 mm piston, hot. Assumed.
    fn default() -> Self {
        let ring = |gap_m: f64, flank_area_m2: f64| RingSeal {
            gap_m,
            land_clearance_m: 0.25e-3,
            discharge_coefficient: 0.86,
            flank_area_m2,
        };
        Self {
            rings: vec![ring(0.30e-3, 0.0), ring(0.40e-3, 0.0), ring(1.0e-3, 2e-6)],
            lands: vec![
                Land {
                    volume_m3: 0.6e-6,
                    temp_k: 500.0,
                },
                Land {
                    volume_m3: 0.8e-6,
                    temp_k: 460.0,
                },
            ],
            top_land_temp_k: 550.0,
            crankcase_pressure_pa: 1.0e5,
            crankcase_temp_k: 390.0,
            gas: OrificeGas::default(),
        }
    }
}

/// Pressures over each ring and the gas that passed, over one periodic cycle.
#[derive(Debug, Clone, PartialEq)]
pub struct LandPressures {
    /// Absolute pressure \[Pa\] over each ring from the top down, then the crankcase; each as long as the trace
    /// that was given. Row 0 is the trace itself.
    pub pressure_pa: Vec<Vec<f64>>,
    /// Gas that reaches the crankcase in one cycle, net \[kg\].
    pub blow_by_kg: f64,
    /// Mean mass flow to the crankcase \[kg/s\].
    pub blow_by_kg_s: f64,
    /// Gas that passes the top ring downwards in one cycle, net \[kg\].
    pub top_ring_kg: f64,
    /// Gas that flows back past the top ring into the chamber in one cycle \[kg\].
    pub blow_back_kg: f64,
    /// Change of the gas stored in the lands over the cycle \[kg\]: nearly 0 once periodic.
    pub stored_kg: f64,
    /// Cycles until periodic.
    pub cycles: usize,
}

impl LandPressures {
    /// Blow-by as a volume flow \[m³/s\] at a stated pressure and temperature.
    pub fn blow_by_m3_s(&self, gas: &OrificeGas, pressure_pa: f64, temp_k: f64) -> f64 {
        self.blow_by_kg_s * gas.gas_constant_j_kg_k * temp_k / pressure_pa
    }
}

impl RingPackGas {
    /// Refuses a pack outside the range of the model.
    ///
    /// # Errors
    /// [`EngineError::OutOfRange`] naming the field.
    pub fn check(&self) -> Result<(), EngineError> {
        let rings = self.rings.len() as f64;
        within("rings", rings, 1.0, MOST_RINGS as f64, "1 to 8 rings")?;
        let lands = self.lands.len() as f64;
        within(
            "lands",
            lands,
            rings - 1.0,
            rings - 1.0,
            "one land fewer than rings",
        )?;
        for ring in &self.rings {
            let area = ring.effective_area_m2();
            within(
                "effective_area_m2",
                area,
                1e-11,
                1e-3,
                "1e-11 to 1e-3 m2 of leak",
            )?;
        }
        for land in &self.lands {
            within("volume_m3", land.volume_m3, 1e-10, 1e-2, "1e-10 to 1e-2 m3")?;
            within("temp_k", land.temp_k, 200.0, 1500.0, "200 to 1500 K")?;
        }
        within(
            "top_land_temp_k",
            self.top_land_temp_k,
            200.0,
            3000.0,
            "200 to 3000 K",
        )?;
        within(
            "crankcase_pressure_pa",
            self.crankcase_pressure_pa,
            1e4,
            1e6,
            "1e4 to 1e6 Pa",
        )?;
        within(
            "crankcase_temp_k",
            self.crankcase_temp_k,
            200.0,
            1000.0,
            "200 to 1000 K",
        )?;
        within("gamma", self.gas.gamma, 1.05, 1.67, "1.05 to 1.67")?;
        let r = self.gas.gas_constant_j_kg_k;
        within(
            "gas_constant_j_kg_k",
            r,
            100.0,
            1000.0,
            "100 to 1000 J/(kg K)",
        )
    }

    /// Land pressures and blow-by for an absolute chamber pressure \[Pa\] at equal steps of one cycle
    /// that takes `period_s`, repeated until it is periodic: pressures at the start of the cycle come
    /// back within 1e-4.
    ///
    /// One L-stable implicit step for each step of the trace: mass is conserved to the tolerance of
    /// its solution, whatever the step.
    ///
    /// # Errors
    /// [`EngineError::OutOfRange`] naming the field; [`EngineError::NotConverged`] when a step or the
    /// cycle does not settle.
    pub fn land_pressures(
        &self,
        chamber_pa: &[f64],
        period_s: f64,
    ) -> Result<LandPressures, EngineError> {
        self.check()?;
        within(
            "chamber_pa.len()",
            chamber_pa.len() as f64,
            8.0,
            1e6,
            "8 to 1e6 points",
        )?;
        within("period_s", period_s, 1e-4, 100.0, "1e-4 to 100 s")?;
        for pressure in chamber_pa {
            let expected = "an absolute pressure of 1e3 to 1e9 Pa";
            within("chamber_pa", *pressure, 1e3, 1e9, expected)?;
        }
        let mut network = Network::new(self, period_s / chamber_pa.len() as f64);
        let mut restart = Restart::default();
        let mut change = f64::INFINITY;
        for cycles in 1..=MOST_CYCLES {
            let start = network.pressures();
            let mut traced = self.trace(&mut network, chamber_pa)?;
            let end = network.pressures();
            change = largest_change(&start, &end);
            if change <= PERIODIC_WITHIN {
                traced.cycles = cycles;
                traced.blow_by_kg_s = traced.blow_by_kg / period_s;
                return Ok(traced);
            }
            network.set_pressures(&restart.next(&start, &end));
        }
        let advice = "check that the leaks are not tiny beside the land volumes";
        Err(EngineError::NotConverged {
            solving: "periodic land pressures",
            residual: change,
            advice,
        })
    }

    /// One cycle from the present pressures of the network.
    fn trace(
        &self,
        network: &mut Network,
        chamber_pa: &[f64],
    ) -> Result<LandPressures, EngineError> {
        let lands = self.lands.len();
        let mut traced = LandPressures {
            pressure_pa: vec![Vec::with_capacity(chamber_pa.len()); lands + 2],
            blow_by_kg: 0.0,
            blow_by_kg_s: 0.0,
            top_ring_kg: 0.0,
            blow_back_kg: 0.0,
            stored_kg: 0.0,
            cycles: 0,
        };
        let at_start = network.stored_kg();
        let next = chamber_pa.iter().cycle().skip(1);
        for (from, to) in chamber_pa.iter().zip(next) {
            traced.pressure_pa[0].push(*from);
            for (row, pressure) in traced.pressure_pa[1..].iter_mut().zip(network.pressures()) {
                row.push(pressure);
            }
            traced.pressure_pa[lands + 1].push(self.crankcase_pressure_pa);
            let (top_kg, bottom_kg) = network.step(*from, *to)?;
            traced.top_ring_kg += top_kg;
            traced.blow_back_kg += (-top_kg).max(0.0);
            traced.blow_by_kg += bottom_kg;
        }
        traced.stored_kg = network.stored_kg() - at_start;
        Ok(traced)
    }
}

const PERIODIC_WITHIN: f64 = 1e-4;
const MOST_CYCLES: usize = 200;

fn largest_change(start: &[f64], end: &[f64]) -> f64 {
    start
        .iter()
        .zip(end)
        .map(|(a, b)| (b - a).abs() / a)
        .fold(0.0, f64::max)
}

/// Start pressures of the next cycle by one-step Anderson mixing of the last two: the slow decay of
/// one land towards its periodic pressure is extrapolated.
#[derive(Default)]
struct Restart {
    last: Option<(Vec<f64>, Vec<f64>)>,
}

impl Restart {
    fn next(&mut self, start: &[f64], end: &[f64]) -> Vec<f64> {
        let gain: Vec<f64> = start.iter().zip(end).map(|(a, b)| b - a).collect();
        let last = self.last.replace((gain.clone(), end.to_vec()));
        let Some((last_gain, last_end)) = last else {
            return end.to_vec();
        };
        let bend: Vec<f64> = gain.iter().zip(&last_gain).map(|(a, b)| a - b).collect();
        let size: f64 = bend.iter().map(|b| b * b).sum();
        if size == 0.0 {
            return end.to_vec();
        }
        let mix = gain.iter().zip(&bend).map(|(g, b)| g * b).sum::<f64>() / size;
        // A step beyond a factor of two is not an extrapolation to be trusted.
        let mixed =
            |(now, before): (&f64, &f64)| (now - mix * (now - before)).clamp(0.5 * now, 2.0 * now);
        end.iter().zip(&last_end).map(mixed).collect()
    }
}
