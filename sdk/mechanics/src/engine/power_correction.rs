use super::error::{EngineError, within};

/// How power at full load follows the air, by the standard that says so. All formulas from memory.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PowerCorrection {
    /// Spark ignition, ISO 1585: (99 kPa / dry pressure)^1.2 (T / 298 K)^0.6.
    SparkIgnition,
    /// Spark ignition, SAE J1349 of 1990: 1.18 (99 kPa / dry pressure) (T / 298 K)^0.5 - 0.18, which takes 85 % mechanical
    /// efficiency and corrects indicated power only.
    SparkIgnitionNetOfFriction,
    /// Compression ignition without a turbocharger, ISO 1585: ((99 kPa / dry pressure) (T / 298 K)^0.7)^engine factor.
    CompressionIgnition {
        /// 0.036 times the fuel in mg per litre and cycle (over the boost ratio) less 1.14, within 0.2 and 1.2; 0.3 up to
        /// 40 mg.
        engine_factor: f64,
    },
    /// Compression ignition with a turbocharger, ISO 1585: ((99 kPa / dry pressure)^0.7 (T / 298 K)^1.5)^engine factor.
    CompressionIgnitionTurbocharged {
        /// As above.
        engine_factor: f64,
    },
}

/// Reference air of ISO 1585 and SAE J1349: dry pressure \[Pa\] ...
const REFERENCE_PA: f64 = 99_000.0;
/// ... and temperature \[K\].
const REFERENCE_K: f64 = 298.0;

impl PowerCorrection {
    /// Factor on observed power that gives power in the reference air (99 kPa dry, 298 K), for total pressure \[Pa\],
    /// 70 000 to 115 000, temperature \[K\], 253 to 333, and relative humidity, 0 to 1, of the air that the engine draws.
    /// The standards accept factors of 0.93 to 1.07 (compression ignition 0.9 to 1.1) only; what lies outside is computed
    /// and for the caller to mark.
    ///
    /// # Errors
    /// An input out of its range.
    pub fn factor(
        self,
        air_pressure_pa: f64,
        air_temp_k: f64,
        relative_humidity: f64,
    ) -> Result<f64, EngineError> {
        within(
            "air_pressure_pa",
            air_pressure_pa,
            7e4,
            1.15e5,
            "70 000 to 115 000 Pa",
        )?;
        within("air_temp_k", air_temp_k, 253.0, 333.0, "253 to 333 K")?;
        within("relative_humidity", relative_humidity, 0.0, 1.0, "0 to 1")?;
        let dry_pa = air_pressure_pa - relative_humidity * water_vapour_pa(air_temp_k);
        let (pressure, warmth) = (REFERENCE_PA / dry_pa, air_temp_k / REFERENCE_K);
        Ok(match self {
            Self::SparkIgnition => libm::pow(pressure, 1.2) * libm::pow(warmth, 0.6),
            Self::SparkIgnitionNetOfFriction => 1.18 * pressure * warmth.sqrt() - 0.18,
            Self::CompressionIgnition { engine_factor } => {
                within("engine_factor", engine_factor, 0.2, 1.2, "0.2 to 1.2")?;
                libm::pow(pressure * libm::pow(warmth, 0.7), engine_factor)
            }
            Self::CompressionIgnitionTurbocharged { engine_factor } => {
                within("engine_factor", engine_factor, 0.2, 1.2, "0.2 to 1.2")?;
                libm::pow(
                    libm::pow(pressure, 0.7) * libm::pow(warmth, 1.5),
                    engine_factor,
                )
            }
        })
    }
}

/// Saturation pressure of water vapour \[Pa\] over water at 253 to 333 K: Magnus' formula with the coefficients of the
/// World Meteorological Organization's guide no. 8, from memory; within 1 % of steam tables.
pub fn water_vapour_pa(temp_k: f64) -> f64 {
    let celsius = temp_k - 273.15;
    611.2 * libm::exp(17.62 * celsius / (243.12 + celsius))
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: [PowerCorrection; 4] = [
        PowerCorrection::SparkIgnition,
        PowerCorrection::SparkIgnitionNetOfFriction,
        PowerCorrection::CompressionIgnition { engine_factor: 0.3 },
        PowerCorrection::CompressionIgnitionTurbocharged { engine_factor: 0.3 },
    ];

    #[test]
    fn reference_air_needs_no_correction() {
        for law in ALL {
            let factor = law.factor(99_000.0, 298.0, 0.0).unwrap();
            assert!((factor - 1.0).abs() < 1e-12, "{law:?}: {factor}");
        }
    }

    /// Steam tables, to four digits, from memory: 0 degC 611.2, 20 degC 2339, 25 degC 3170, 40 degC 7384 Pa.
    #[test]
    fn vapour_pressure_is_that_of_steam_tables() {
        for (celsius, pa) in [(0.0, 611.2), (20.0, 2339.0), (25.0, 3170.0), (40.0, 7384.0)] {
            let found = water_vapour_pa(celsius + 273.15);
            assert!((found / pa - 1.0).abs() < 0.01, "{celsius}: {found}");
        }
    }

    /// By hand from the formulas: 95 kPa dry, 308 K. (99/95)^1.2 = 1.050 741, (308/298)^0.6 = 1.020 003;
    /// 1.18 x 1.042 105 x 1.016 640 - 0.18.
    #[test]
    fn thin_warm_air_raises_the_factor() {
        let iso = PowerCorrection::SparkIgnition
            .factor(95_000.0, 308.0, 0.0)
            .unwrap();
        assert!((iso - 1.050_741 * 1.020_003).abs() < 2e-4, "{iso}");
        let sae = PowerCorrection::SparkIgnitionNetOfFriction
            .factor(95_000.0, 308.0, 0.0)
            .unwrap();
        assert!(
            (sae - (1.18 * 1.042_105 * 1.016_640 - 0.18)).abs() < 2e-5,
            "{sae}"
        );
        for law in ALL {
            let dry = law.factor(95_000.0, 308.0, 0.0).unwrap();
            assert!(
                dry > 1.0 && law.factor(95_000.0, 308.0, 0.6).unwrap() > dry,
                "{law:?}"
            );
        }
    }

    #[test]
    fn air_that_cannot_be_is_refused() {
        let law = PowerCorrection::SparkIgnition;
        assert!(law.factor(990.0, 298.0, 0.0).is_err(), "hectopascals");
        assert!(law.factor(99_000.0, 25.0, 0.0).is_err(), "degrees Celsius");
        assert!(law.factor(99_000.0, 298.0, 45.0).is_err(), "percent");
    }
}
