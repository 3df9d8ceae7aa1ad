//! Fields of the spec that describe the engine. The names are the same in every plugin; the defaults are an invented 2.0 l
//! turbocharged in-line four of 336 kW at 8000 1/min.

use std::f64::consts::PI;

use ringland_mechanics::engine::SliderCrank;
use ringland_mechanics::oil::Vogel;
use ringland_plugin::{Finding, NumberField, error, number, warning};

/// How many [`numbers`] there are.
pub const NUMBERS: usize = 10;
/// How many [`oil_numbers`] there are.
pub const OIL_NUMBERS: usize = 3;

/// Numbers of the engine, first on the card of its component.
#[rustfmt::skip]
pub fn numbers() -> Vec<NumberField> {
    vec![
        number("bore_m", "bore", "m", (0.03, 0.2), 0.086, "Dial bore gauge."),
        number("stroke_m", "stroke", "m", (0.03, 0.2), 0.086, ""),
        number("rod_length_m", "connecting-rod length", "m", (0.05, 0.5), 0.145, "Between centres."),
        number("compression_ratio", "compression ratio", "1", (5.0, 20.0), 9.5, ""),
        number("cylinders", "cylinders of the engine", "1", (1.0, 16.0), 4.0, "Turns engine torque into mean effective pressure."),
        number("reciprocating_mass_kg", "reciprocating mass of one cylinder", "kg", (0.05, 5.0), 0.56, "Piston, pin, rings and the small-end share of the rod, weighed."),
        number("rotating_rod_mass_kg", "big-end share of the rod's mass", "kg", (0.05, 5.0), 0.39, "Rod weighed on its big end, small end level; with bolts and bearings."),
        number("full_load_imep_pa", "indicated mean effective pressure at full load", "Pa", (5.0e5, 6.0e6), 3.0e6, "Reference for maps, temperatures and readings at full load."),
        number("rated_speed_rad_s", "engine speed at full power", "rad/s", (200.0, 1800.0), 838.0, "Reference for maps, temperatures and readings at full load."),
        number("exhaust_pressure_pa", "absolute exhaust pressure at full load", "Pa", (0.9e5, 6.0e5), 2.0e5, "Assumed."),
    ]
}

/// Numbers of the engine oil.
#[rustfmt::skip]
pub fn oil_numbers() -> Vec<NumberField> {
    vec![
        number("oil_factor_pa_s", "oil: factor a of Vogel's law", "Pa.s", (1.0e-6, 1.0e-2), 8.0e-5, "eta = a exp(b/(T - c)). Default: 11.4 mPa.s at 80 degC, 4.5 at 120. Assumed."),
        number("oil_slope_k", "oil: slope b of Vogel's law", "K", (200.0, 3000.0), 868.0, "Fit three measured viscosities."),
        number("oil_pole_k", "oil: pole c of Vogel's law", "K", (100.0, 220.0), 178.15, ""),
    ]
}

/// The oil of [`oil_numbers`].
pub fn oil([factor_pa_s, slope_k, pole_k]: [f64; OIL_NUMBERS]) -> Vogel {
    Vogel {
        factor_pa_s,
        slope_k,
        pole_k,
    }
}

/// One cylinder of the engine and what stands for full load.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Engine {
    pub bore_m: f64,
    pub stroke_m: f64,
    pub rod_length_m: f64,
    pub compression_ratio: f64,
    pub cylinders: f64,
    pub reciprocating_mass_kg: f64,
    pub rotating_rod_mass_kg: f64,
    pub full_load_imep_pa: f64,
    pub rated_speed_rad_s: f64,
    pub exhaust_pressure_pa: f64,
}

impl Engine {
    /// Reads the first [`NUMBERS`] numbers of a specimen.
    ///
    /// # Errors
    /// A finding when there are fewer.
    pub fn read(numbers: &[f64]) -> Result<Self, Vec<Finding>> {
        let Some(&first) = numbers.first_chunk::<NUMBERS>() else {
            return Err(vec![error(
                "numbers",
                numbers.len() as f64,
                &format!("at least {NUMBERS} values, in card order"),
                "give one value for each entry of the card",
            )]);
        };
        let [
            bore_m,
            stroke_m,
            rod_length_m,
            compression_ratio,
            cylinders,
            reciprocating_mass_kg,
            rotating_rod_mass_kg,
            full_load_imep_pa,
            rated_speed_rad_s,
            exhaust_pressure_pa,
        ] = first;
        Ok(Self {
            bore_m,
            stroke_m,
            rod_length_m,
            compression_ratio,
            cylinders,
            reciprocating_mass_kg,
            rotating_rod_mass_kg,
            full_load_imep_pa,
            rated_speed_rad_s,
            exhaust_pressure_pa,
        })
    }

    /// The engine against itself.
    pub fn check(&self) -> Vec<Finding> {
        let mut findings = Vec::new();
        let shortest_m = 1.1 * self.stroke_m;
        if self.rod_length_m < shortest_m {
            findings.push(error(
                "rod_length_m",
                self.rod_length_m,
                &format!("at least {shortest_m:.4} m for this stroke"),
                "measure between centres; check the stroke",
            ));
        }
        if self.mean_piston_speed_m_s(self.rated_speed_rad_s) > 28.0 {
            findings.push(warning(
                "rated_speed_rad_s",
                self.rated_speed_rad_s,
                "a mean piston speed of at most 28 m/s",
                "check the speed's unit (rad/s) and the stroke",
            ));
        }
        findings
    }

    /// Swept volume of one cylinder \[m³\].
    pub fn displacement_m3(&self) -> f64 {
        0.25 * PI * self.bore_m * self.bore_m * self.stroke_m
    }

    /// Mean piston speed \[m/s\] at a crank speed \[rad/s\].
    pub fn mean_piston_speed_m_s(&self, speed_rad_s: f64) -> f64 {
        self.stroke_m * speed_rad_s / PI
    }

    /// Crank and rod.
    pub fn crank(&self) -> SliderCrank {
        SliderCrank {
            crank_radius_m: 0.5 * self.stroke_m,
            rod_length_m: self.rod_length_m,
            pin_offset_m: 0.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn defaults() -> Vec<f64> {
        numbers().iter().map(|field| field.default_value).collect()
    }

    #[test]
    fn numbers_are_read_in_their_order() {
        let engine = Engine::read(&defaults()).unwrap();
        let values = [
            engine.bore_m,
            engine.stroke_m,
            engine.rod_length_m,
            engine.compression_ratio,
            engine.cylinders,
            engine.reciprocating_mass_kg,
            engine.rotating_rod_mass_kg,
            engine.full_load_imep_pa,
            engine.rated_speed_rad_s,
            engine.exhaust_pressure_pa,
        ];
        assert_eq!(values.as_slice(), defaults());
        assert_eq!(oil_numbers().len(), OIL_NUMBERS);
        assert!(Engine::read(&defaults()[1..]).is_err());
    }

    #[test]
    fn an_engine_that_cannot_turn_is_refused() {
        let engine = Engine::read(&defaults()).unwrap();
        assert!(engine.check().is_empty());
        let short = Engine {
            rod_length_m: 0.09,
            rated_speed_rad_s: 1500.0,
            ..engine
        };
        let fields: Vec<String> = short.check().into_iter().map(|f| f.field).collect();
        assert_eq!(fields, ["rod_length_m", "rated_speed_rad_s"]);
    }
}
