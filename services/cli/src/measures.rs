//! Units of measure at the edge: the one table of conversions, and which unit a quantity is shown in.
//!
//! Factors are exact where their definition is: NIST Special Publication 811 (2008), appendix B;
//! 1 in = 25.4 mm, 1 lb = 0.45359237 kg, standard gravity 9.80665 m/s2.

use clap::ValueEnum;

/// Units that people want to read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum System {
    /// thou, in, lbf, lbf.ft, psi, degF, hp, cfm.
    #[default]
    Shop,
    /// mm, N, N.m, kPa, degC, kW, L/min.
    Si,
}

/// What is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// Length, SI unit m.
    Length,
    /// Speed, m/s.
    Speed,
    /// Rotational speed, rad/s.
    RotationalSpeed,
    /// Force, N.
    Force,
    /// Torque, N.m.
    Torque,
    /// Stiffness, N/m.
    Stiffness,
    /// Pressure and stress, Pa.
    Pressure,
    /// Power, W.
    Power,
    /// Energy, J.
    Energy,
    /// Temperature, K.
    Temperature,
    /// Volume flow, m3/s.
    Flow,
    /// Mass, kg.
    Mass,
    /// Time, s.
    Time,
    /// Angle, rad.
    Angle,
}

/// A unit of measure: SI value = value * `scale` + `zero`.
#[derive(Debug, PartialEq)]
pub struct Measure {
    /// As written: `lbf.ft`.
    pub symbol: &'static str,
    /// What it measures.
    pub quantity: Quantity,
    /// SI units in one of it.
    pub scale: f64,
    /// SI value of its zero.
    pub zero: f64,
}

impl Measure {
    /// A value of this unit in SI.
    pub fn to_si(&self, value: f64) -> f64 {
        value * self.scale + self.zero
    }

    /// An SI value in this unit.
    pub fn shown(&self, si: f64) -> f64 {
        (si - self.zero) / self.scale
    }

    /// A difference of SI values (a spread, an instrument's error) in this unit.
    pub fn shown_difference(&self, si: f64) -> f64 {
        si / self.scale
    }
}

const INCH_M: f64 = 0.0254;
const FOOT_M: f64 = 12.0 * INCH_M;
const POUND_KG: f64 = 0.453_592_37;
const POUND_FORCE_N: f64 = POUND_KG * 9.806_65;

const fn measure(symbol: &'static str, quantity: Quantity, scale: f64) -> Measure {
    Measure {
        symbol,
        quantity,
        scale,
        zero: 0.0,
    }
}

/// Every unit that is read or shown.
#[rustfmt::skip]
pub const MEASURES: &[Measure] = &[
    measure("m", Quantity::Length, 1.0),
    measure("mm", Quantity::Length, 1e-3),
    measure("um", Quantity::Length, 1e-6),
    measure("in", Quantity::Length, INCH_M),
    measure("thou", Quantity::Length, 1e-3 * INCH_M),
    measure("m/s", Quantity::Speed, 1.0),
    measure("km/h", Quantity::Speed, 1.0 / 3.6),
    measure("mph", Quantity::Speed, 5280.0 * FOOT_M / 3600.0),
    measure("rad/s", Quantity::RotationalSpeed, 1.0),
    measure("rpm", Quantity::RotationalSpeed, std::f64::consts::TAU / 60.0),
    measure("N", Quantity::Force, 1.0),
    measure("kN", Quantity::Force, 1e3),
    measure("lbf", Quantity::Force, POUND_FORCE_N),
    measure("N.m", Quantity::Torque, 1.0),
    measure("lbf.ft", Quantity::Torque, POUND_FORCE_N * FOOT_M),
    measure("lbf.in", Quantity::Torque, POUND_FORCE_N * INCH_M),
    measure("N/m", Quantity::Stiffness, 1.0),
    measure("N/mm", Quantity::Stiffness, 1e3),
    measure("lbf/in", Quantity::Stiffness, POUND_FORCE_N / INCH_M),
    measure("Pa", Quantity::Pressure, 1.0),
    measure("kPa", Quantity::Pressure, 1e3),
    measure("bar", Quantity::Pressure, 1e5),
    measure("MPa", Quantity::Pressure, 1e6),
    measure("psi", Quantity::Pressure, POUND_FORCE_N / (INCH_M * INCH_M)),
    measure("W", Quantity::Power, 1.0),
    measure("kW", Quantity::Power, 1e3),
    measure("hp", Quantity::Power, 550.0 * FOOT_M * POUND_FORCE_N),
    measure("J", Quantity::Energy, 1.0),
    measure("kJ", Quantity::Energy, 1e3),
    measure("ft.lbf", Quantity::Energy, POUND_FORCE_N * FOOT_M),
    measure("K", Quantity::Temperature, 1.0),
    Measure { symbol: "degC", quantity: Quantity::Temperature, scale: 1.0, zero: 273.15 },
    Measure { symbol: "degF", quantity: Quantity::Temperature, scale: 5.0 / 9.0, zero: 459.67 * 5.0 / 9.0 },
    measure("m3/s", Quantity::Flow, 1.0),
    measure("L/min", Quantity::Flow, 1e-3 / 60.0),
    measure("cfm", Quantity::Flow, FOOT_M * FOOT_M * FOOT_M / 60.0),
    measure("kg", Quantity::Mass, 1.0),
    measure("g", Quantity::Mass, 1e-3),
    measure("lb", Quantity::Mass, POUND_KG),
    measure("s", Quantity::Time, 1.0),
    measure("min", Quantity::Time, 60.0),
    measure("h", Quantity::Time, 3600.0),
    measure("rad", Quantity::Angle, 1.0),
    measure("deg", Quantity::Angle, std::f64::consts::TAU / 360.0),
];

/// A unit by its symbol.
pub fn find(symbol: &str) -> Option<&'static Measure> {
    MEASURES.iter().find(|measure| measure.symbol == symbol)
}

/// The unit to show values of an SI unit in; `largest` is the largest magnitude among them, so
/// that values to compare share a unit. `None` when the unit is shown as it is.
pub fn shown_in(si_unit: &str, largest: f64, system: System) -> Option<&'static Measure> {
    let quantity = find(si_unit).filter(|unit| is_si(unit))?.quantity;
    let symbol = match system {
        System::Shop => shop_symbol(quantity, largest),
        System::Si => si_symbol(quantity, largest),
    };
    find(symbol)
}

#[allow(clippy::float_cmp)] // exact: coherent SI units are written as 1 and 0 in the table
fn is_si(unit: &Measure) -> bool {
    unit.scale == 1.0 && unit.zero == 0.0
}

fn shop_symbol(quantity: Quantity, largest: f64) -> &'static str {
    match quantity {
        Quantity::Length if largest < 0.1 * INCH_M => "thou",
        Quantity::Length => "in",
        Quantity::Speed => "mph",
        Quantity::RotationalSpeed => "rpm",
        Quantity::Force => "lbf",
        Quantity::Torque => "lbf.ft",
        Quantity::Stiffness => "lbf/in",
        Quantity::Pressure => "psi",
        Quantity::Power => "hp",
        Quantity::Energy => "ft.lbf",
        Quantity::Temperature => "degF",
        Quantity::Flow => "cfm",
        Quantity::Mass => "lb",
        Quantity::Time => time_symbol(largest),
        Quantity::Angle => "deg",
    }
}

fn si_symbol(quantity: Quantity, largest: f64) -> &'static str {
    match quantity {
        Quantity::Length if largest < 1e-4 => "um",
        Quantity::Length if largest < 10.0 => "mm",
        Quantity::Length => "m",
        Quantity::Speed => "m/s",
        Quantity::RotationalSpeed => "rpm",
        Quantity::Force if largest < 1e4 => "N",
        Quantity::Force => "kN",
        Quantity::Torque => "N.m",
        Quantity::Stiffness => "N/mm",
        Quantity::Pressure if largest < 1e7 => "kPa",
        Quantity::Pressure => "MPa",
        Quantity::Power => "kW",
        Quantity::Energy => "kJ",
        Quantity::Temperature => "degC",
        Quantity::Flow => "L/min",
        Quantity::Mass if largest < 1.0 => "g",
        Quantity::Mass => "kg",
        Quantity::Time => time_symbol(largest),
        Quantity::Angle => "deg",
    }
}

fn time_symbol(largest_s: f64) -> &'static str {
    if largest_s < 120.0 {
        "s"
    } else if largest_s < 7200.0 {
        "min"
    } else {
        "h"
    }
}

/// Reads a quantity with its unit, such as `8600rpm` or `30 psi`, as SI.
///
/// # Errors
/// When there is no number, no unit, or the unit measures something else.
pub fn read(text: &str, quantity: Quantity) -> Result<f64, String> {
    let split = text
        .find(|c: char| c.is_ascii_alphabetic() && c != 'e')
        .unwrap_or(text.len());
    let (number, symbol) = (text[..split].trim(), text[split..].trim());
    let accepted = || {
        let of_kind = MEASURES
            .iter()
            .filter(|measure| measure.quantity == quantity);
        of_kind
            .map(|measure| measure.symbol)
            .collect::<Vec<_>>()
            .join(", ")
    };
    let value: f64 = number
        .parse()
        .map_err(|_| format!("{text:?}: expected a number and a unit ({})", accepted()))?;
    let unit = find(symbol)
        .filter(|measure| measure.quantity == quantity)
        .ok_or_else(|| format!("{text:?}: expected a unit, one of {}", accepted()))?;
    Ok(unit.to_si(value))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// NIST SP 811 (2008), appendix B.8 and B.9; digits as printed there, exact ones in full.
    #[test]
    fn factors_are_those_of_nist_sp_811() {
        let table = [
            ("in", 2.54e-2),
            ("thou", 2.54e-5),
            ("lbf", 4.448_221_615_260_5),
            ("lbf.ft", 1.355_818),
            ("lbf.in", 1.129_848e-1),
            ("lbf/in", 1.751_268e2),
            ("psi", 6.894_757e3),
            ("hp", 7.456_999e2),
            ("ft.lbf", 1.355_818),
            ("cfm", 4.719_474e-4),
            ("lb", 4.535_923_7e-1),
            ("mph", 4.4704e-1),
            ("km/h", 2.777_778e-1),
            ("rpm", 1.047_198e-1),
            ("bar", 1e5),
        ];
        for (symbol, scale) in table {
            let found = find(symbol).unwrap().scale;
            assert!(
                (found / scale - 1.0).abs() < 5e-7,
                "{symbol}: {found} is not {scale}"
            );
        }
    }

    /// Exact by definition: 550 ft.lbf/s, from memory to 17 digits.
    #[test]
    fn mechanical_horsepower_to_the_last_digit() {
        let hp = find("hp").unwrap().scale;
        assert!((hp - 745.699_871_582_270_2).abs() < 1e-12, "{hp}");
    }

    /// Fixed points: ice 32 degF = 0 degC = 273.15 K; the scales meet at -40.
    #[test]
    fn temperatures_at_their_fixed_points() {
        let (c, f) = (find("degC").unwrap(), find("degF").unwrap());
        assert!((f.to_si(32.0) - 273.15).abs() < 1e-12);
        assert!((c.to_si(0.0) - 273.15).abs() < 1e-12);
        assert!((f.to_si(-40.0) - c.to_si(-40.0)).abs() < 1e-12);
        assert!((f.shown_difference(5.0) - 9.0).abs() < 1e-12);
    }

    #[test]
    fn symbols_are_unique_and_every_quantity_has_its_si_unit() {
        for (i, measure) in MEASURES.iter().enumerate() {
            assert!(
                MEASURES[i + 1..]
                    .iter()
                    .all(|other| other.symbol != measure.symbol)
            );
            let mut of_kind = MEASURES.iter().filter(|m| m.quantity == measure.quantity);
            assert!(of_kind.any(is_si), "{measure:?}");
        }
    }

    #[test]
    fn a_quantity_is_read_with_its_unit() {
        let rpm = read("8600rpm", Quantity::RotationalSpeed).unwrap();
        assert!((rpm - 900.589_894_029_074).abs() < 1e-9);
        assert!((read("2e2 kPa", Quantity::Pressure).unwrap() - 2e5).abs() < 1e-9);
        for wrong in ["8600", "8600psi", "rpm", "1.2.3rpm"] {
            let error = read(wrong, Quantity::RotationalSpeed).unwrap_err();
            assert!(error.contains("rpm"), "{error}");
        }
    }

    #[test]
    fn small_lengths_are_shown_in_thou_and_unknown_units_as_they_are() {
        assert_eq!(shown_in("m", 0.5e-3, System::Shop).unwrap().symbol, "thou");
        assert_eq!(shown_in("m", 0.086, System::Shop).unwrap().symbol, "in");
        assert_eq!(shown_in("m", 0.5e-3, System::Si).unwrap().symbol, "mm");
        assert_eq!(shown_in("mm", 1.0, System::Si), None);
        assert_eq!(shown_in("1", 1.0, System::Shop), None);
    }

    proptest! {
        /// Whatever is shown reads back as it was.
        #[test]
        fn there_and_back(index in 0..MEASURES.len(), si in -1e6..1e6_f64) {
            let unit = &MEASURES[index];
            let back = unit.to_si(unit.shown(si));
            prop_assert!((back - si).abs() <= 1e-9 * si.abs().max(1.0));
        }
    }
}
