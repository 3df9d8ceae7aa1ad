//! What valves are made of.

use ringland_mechanics::valve::LarsonMiller;

/// Temperature \[K\] and value, by rising temperature.
pub type Curve = &'static [(f64, f64)];

/// Straight between the points of a curve, held beyond.
pub fn at(curve: Curve, temp_k: f64) -> f64 {
    let after = curve.partition_point(|point| point.0 < temp_k);
    let before = after.checked_sub(1).and_then(|k| curve.get(k));
    match (before, curve.get(after)) {
        (Some((t0, v0)), Some((t1, v1))) => v0 + (v1 - v0) * (temp_k - t0) / (t1 - t0),
        (Some(point), None) | (None, Some(point)) => point.1,
        (None, None) => 0.0,
    }
}

/// A valve material.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    /// Ultimate strength \[Pa\].
    pub ultimate_pa: Curve,
    /// Fatigue strength that nine of ten valves survive, fully reversed, at 1e7 cycles \[Pa\].
    pub fatigue_pa: Curve,
    /// Modulus of elasticity \[Pa\].
    pub modulus_pa: Curve,
    /// Mean thermal expansion from room temperature \[1/K\].
    pub expansion_per_k: f64,
    /// Conductivity when hot \[W/(m·K)\].
    pub conductivity_w_m_k: f64,
    /// Density \[kg/m³\].
    pub density_kg_m3: f64,
    /// Creep rupture.
    pub creep: LarsonMiller,
    /// Highest temperature of long service \[K\].
    pub service_k: f64,
}

/// Options of the choice `material`.
pub mod option {
    /// Martensitic chromium-silicon steel.
    pub const MARTENSITIC: u32 = 0;
    /// Austenitic chromium-manganese-nickel steel with nitrogen.
    pub const AUSTENITIC: u32 = 1;
    /// Nickel alloy with 20 % chromium, hardened by titanium and aluminium.
    pub const NICKEL: u32 = 2;
    /// Titanium alloy, near alpha.
    pub const TITANIUM: u32 = 3;
}

/// Names and labels of the options, in order.
pub const OPTIONS: [(&str, &str); 4] = [
    (
        "martensitic",
        "martensitic CrSi steel, as X45CrSi9-3 (intake)",
    ),
    (
        "austenitic",
        "austenitic CrMnNiN steel, as X53CrMnNiN21-9 (exhaust)",
    ),
    ("nickel", "nickel alloy, as NiCr20TiAl (exhaust)"),
    (
        "titanium",
        "titanium alloy, as Ti-6Al-2Sn-4Zr-2Mo (intake, coated)",
    ),
];

/// The material of an option; the nickel alloy for one that the card does not have.
pub fn material(option: u32) -> Material {
    match option {
        option::MARTENSITIC => MARTENSITIC,
        option::AUSTENITIC => AUSTENITIC,
        option::TITANIUM => TITANIUM,
        _ => NICKEL,
    }
}

/// Highest temperature of long service of the austenitic steel \[K\].
pub const AUSTENITIC_LIMIT_K: f64 = 1073.0;

const fn line(intercept: f64, slope: f64) -> LarsonMiller {
    LarsonMiller {
        constant: 20.0,
        intercept,
        slope,
    }
}

const MARTENSITIC: Material = Material {
    ultimate_pa: &[
        (293.0, 9.5e8),
        (573.0, 7.5e8),
        (773.0, 5.0e8),
        (823.0, 3.6e8),
        (873.0, 2.5e8),
        (923.0, 1.7e8),
        (973.0, 1.1e8),
    ],
    fatigue_pa: &[
        (293.0, 2.8e8),
        (573.0, 2.7e8),
        (723.0, 2.3e8),
        (823.0, 1.6e8),
        (923.0, 0.8e8),
        (973.0, 0.5e8),
    ],
    modulus_pa: &[(293.0, 2.1e11), (873.0, 1.65e11)],
    expansion_per_k: 13.0e-6,
    conductivity_w_m_k: 21.0,
    density_kg_m3: 7620.0,
    creep: line(29.4, 5.1),
    service_k: 873.0,
};

const AUSTENITIC: Material = Material {
    ultimate_pa: &[
        (293.0, 1.0e9),
        (773.0, 6.8e8),
        (823.0, 6.5e8),
        (873.0, 6.0e8),
        (923.0, 5.1e8),
        (973.0, 4.5e8),
        (1023.0, 3.8e8),
        (1073.0, 3.2e8),
        (1173.0, 1.8e8),
    ],
    fatigue_pa: &[
        (293.0, 2.8e8),
        (773.0, 2.6e8),
        (873.0, 2.4e8),
        (973.0, 2.0e8),
        (1073.0, 1.5e8),
        (1173.0, 0.8e8),
    ],
    modulus_pa: &[(293.0, 2.05e11), (973.0, 1.5e11), (1173.0, 1.3e11)],
    expansion_per_k: 18.8e-6,
    conductivity_w_m_k: 25.0,
    density_kg_m3: 7800.0,
    creep: line(33.95, 5.41),
    service_k: AUSTENITIC_LIMIT_K,
};

const NICKEL: Material = Material {
    ultimate_pa: &[
        (293.0, 1.15e9),
        (773.0, 1.05e9),
        (873.0, 1.0e9),
        (923.0, 9.3e8),
        (973.0, 8.2e8),
        (1023.0, 6.8e8),
        (1073.0, 5.0e8),
        (1173.0, 2.2e8),
    ],
    fatigue_pa: &[
        (293.0, 3.0e8),
        (873.0, 3.0e8),
        (973.0, 2.8e8),
        (1023.0, 2.5e8),
        (1073.0, 2.0e8),
        (1173.0, 1.2e8),
    ],
    modulus_pa: &[(293.0, 2.16e11), (1023.0, 1.65e11), (1173.0, 1.5e11)],
    expansion_per_k: 15.2e-6,
    conductivity_w_m_k: 24.0,
    density_kg_m3: 8200.0,
    creep: line(34.5, 4.7),
    service_k: 1088.0,
};

const TITANIUM: Material = Material {
    ultimate_pa: &[
        (293.0, 1.0e9),
        (573.0, 7.8e8),
        (673.0, 7.2e8),
        (773.0, 6.5e8),
        (873.0, 5.0e8),
        (973.0, 2.5e8),
    ],
    fatigue_pa: &[
        (293.0, 2.0e8),
        (573.0, 1.8e8),
        (723.0, 1.6e8),
        (823.0, 1.3e8),
        (923.0, 0.7e8),
    ],
    modulus_pa: &[(293.0, 1.14e11), (773.0, 0.88e11), (973.0, 0.7e11)],
    expansion_per_k: 9.9e-6,
    conductivity_w_m_k: 11.0,
    density_kg_m3: 4540.0,
    creep: line(32.75, 5.5),
    service_k: 873.0,
};

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn curves_are_straight_between_and_held_beyond() {
        let curve: Curve = &[(300.0, 2.0), (500.0, 4.0)];
        for (temp, value) in [(200.0, 2.0), (300.0, 2.0), (400.0, 3.0), (600.0, 4.0)] {
            assert!((at(curve, temp) - value).abs() < 1e-12);
        }
    }

    #[test]
    fn every_material_weakens_with_heat() {
        for index in 0..OPTIONS.len() as u32 {
            let found = material(index);
            for curve in [found.ultimate_pa, found.fatigue_pa, found.modulus_pa] {
                assert!(
                    curve
                        .windows(2)
                        .all(|p| p[0].0 < p[1].0 && p[0].1 >= p[1].1)
                );
            }
        }
        assert_eq!(material(99), material(option::NICKEL));
    }
}
