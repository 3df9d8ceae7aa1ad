//! Units that a log may have its channels in. SI brochure (9th edition) and NIST SP 811 appendix B.

use std::f64::consts::PI;

/// What a pressure is measured from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reference {
    /// From vacuum.
    Absolute,
    /// From ambient pressure.
    Gauge,
}

/// A unit: SI value = value * factor + offset.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    /// As written in a channel map.
    pub name: &'static str,
    /// The SI unit that it converts to, as the vocabulary writes it.
    pub si: &'static str,
    /// Multiplier to SI.
    pub factor: f64,
    /// Added after the multiplier.
    pub offset: f64,
    /// For pressures only. The name says which: a pressure without it is not a unit here.
    pub reference: Option<Reference>,
}

const fn unit(name: &'static str, si: &'static str, factor: f64) -> Unit {
    Unit {
        name,
        si,
        factor,
        offset: 0.0,
        reference: None,
    }
}

const fn temperature(name: &'static str, factor: f64, offset: f64) -> Unit {
    Unit {
        offset,
        ..unit(name, "K", factor)
    }
}

const fn pressure(name: &'static str, factor: f64, reference: Reference) -> Unit {
    Unit {
        reference: Some(reference),
        ..unit(name, "Pa", factor)
    }
}

const G_M_S2: f64 = 9.806_65;
const INCH_M: f64 = 0.0254;
const FOOT_M: f64 = 0.3048;
const LBF_N: f64 = 4.448_221_615_260_5;
const PSI_PA: f64 = LBF_N / (INCH_M * INCH_M);

/// Every unit.
pub const UNITS: &[Unit] = &[
    unit("rad/s", "rad/s", 1.0),
    unit("rpm", "rad/s", PI / 30.0),
    unit("rev/s", "rad/s", 2.0 * PI),
    unit("deg/s", "rad/s", PI / 180.0),
    unit("N.m", "N.m", 1.0),
    unit("kN.m", "N.m", 1000.0),
    unit("kgf.m", "N.m", G_M_S2),
    unit("lbf.ft", "N.m", LBF_N * FOOT_M),
    unit("lbf.in", "N.m", LBF_N * INCH_M),
    unit("1", "1", 1.0),
    unit("%", "1", 0.01),
    temperature("K", 1.0, 0.0),
    temperature("degC", 1.0, 273.15),
    temperature("degF", 5.0 / 9.0, 459.67 * 5.0 / 9.0),
    pressure("Pa_abs", 1.0, Reference::Absolute),
    pressure("Pa_gauge", 1.0, Reference::Gauge),
    pressure("kPa_abs", 1000.0, Reference::Absolute),
    pressure("kPa_gauge", 1000.0, Reference::Gauge),
    pressure("mbar_abs", 100.0, Reference::Absolute),
    pressure("mbar_gauge", 100.0, Reference::Gauge),
    pressure("bar_abs", 1e5, Reference::Absolute),
    pressure("bar_gauge", 1e5, Reference::Gauge),
    pressure("psia", PSI_PA, Reference::Absolute),
    pressure("psig", PSI_PA, Reference::Gauge),
    pressure("inHg_abs", 3386.389, Reference::Absolute),
    unit("m3/s", "m3/s", 1.0),
    unit("L/s", "m3/s", 1e-3),
    unit("L/min", "m3/s", 1e-3 / 60.0),
    unit("m3/h", "m3/s", 1.0 / 3600.0),
    unit("ft3/min", "m3/s", FOOT_M * FOOT_M * FOOT_M / 60.0),
    unit("m/s", "m/s", 1.0),
    unit("km/h", "m/s", 1.0 / 3.6),
    unit("mph", "m/s", 5280.0 * FOOT_M / 3600.0),
    unit("ft/s", "m/s", FOOT_M),
    unit("rad", "rad", 1.0),
    unit("deg", "rad", PI / 180.0),
    unit("m/s2", "m/s2", 1.0),
    unit("g", "m/s2", G_M_S2),
    unit("ft/s2", "m/s2", FOOT_M),
];

/// Units of time columns, to seconds.
pub const TIME_UNITS: &[(&str, f64)] = &[("s", 1.0), ("ms", 1e-3), ("us", 1e-6), ("min", 60.0)];

/// Names of the units that convert to an SI unit.
pub fn accepted(si: &str) -> Vec<&'static str> {
    UNITS
        .iter()
        .filter(|unit| unit.si == si)
        .map(|unit| unit.name)
        .collect()
}

/// The unit of that name that converts to an SI unit.
pub fn find(name: &str, si: &str) -> Option<&'static Unit> {
    UNITS.iter().find(|unit| unit.name == name && unit.si == si)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn si(value: f64, name: &str) -> f64 {
        let unit = UNITS.iter().find(|unit| unit.name == name).unwrap();
        value * unit.factor + unit.offset
    }

    /// NIST SP 811 (2008) appendix B.8, to the digits printed there.
    #[test]
    fn factors_are_those_of_nist_sp_811() {
        let rows = [
            (si(1.0, "lbf.ft"), 1.355_818),
            (si(1.0, "lbf.in"), 0.112_984_8),
            (si(1.0, "psia"), 6894.757),
            (si(1.0, "ft3/min"), 4.719_474e-4),
            (si(1.0, "mph"), 0.447_04),
            (si(1.0, "rpm"), 0.104_719_8),
            (si(1.0, "kgf.m"), 9.806_65),
            (si(212.0, "degF"), 373.15),
            (si(-40.0, "degF"), si(-40.0, "degC")),
        ];
        for (found, printed) in rows {
            assert!(
                (found / printed - 1.0).abs() < 1e-6,
                "{found}, printed {printed}"
            );
        }
    }

    #[test]
    fn every_channel_of_the_vocabulary_has_a_unit() {
        for channel in ringland_host::contract::vocabulary::CHANNELS {
            assert!(!accepted(channel.unit).is_empty(), "{}", channel.name);
        }
    }

    #[test]
    fn names_are_unique() {
        for (index, unit) in UNITS.iter().enumerate() {
            assert!(
                UNITS
                    .iter()
                    .skip(index + 1)
                    .all(|other| other.name != unit.name)
            );
        }
    }
}
