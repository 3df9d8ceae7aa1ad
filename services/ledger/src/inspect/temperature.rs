//! Lengths at 20 degC, the standard reference temperature of ISO 1.

use crate::{MasterComparison, Material};

/// 20 degC.
const REFERENCE_K: f64 = 293.15;

/// Coefficient of linear thermal expansion near 20 degC \[1/K\]. Handbook values from memory.
pub(crate) fn expansion_per_k(material: Material) -> f64 {
    match material {
        Material::Steel => 11.5e-6,
        Material::Iron => 11.0e-6,
        Material::Aluminium => 23.0e-6,
        Material::Titanium => 8.6e-6,
        Material::Carbide => 5.5e-6,
    }
}

/// A length, or a deviation from a master, as it would have been read with part and master at 20 degC:
/// `d - size (alpha_part (T_part - 20) - alpha_master (T_master - 20))`.
pub(crate) fn at_reference(value_m: f64, master: &MasterComparison) -> f64 {
    let part = master
        .part_expansion_per_k
        .unwrap_or_else(|| expansion_per_k(master.part_material));
    let of_master = master
        .master_expansion_per_k
        .unwrap_or_else(|| expansion_per_k(master.master_material));
    let grown = part * (master.part_temperature_k - REFERENCE_K)
        - of_master * (master.master_temperature_k - REFERENCE_K);
    value_m - master.size_m * grown
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn iron(part_k: f64, master_k: f64) -> MasterComparison {
        MasterComparison {
            part_temperature_k: part_k,
            master_temperature_k: master_k,
            size_m: 0.086,
            part_material: Material::Iron,
            master_material: Material::Iron,
            ..MasterComparison::default()
        }
    }

    /// An 86 mm iron bore 10 K warmer than its setting ring reads about 9 um large: common practice;
    /// 86e-3 m x 11e-6 1/K x 10 K = 9.46 um by hand.
    #[test]
    fn an_iron_bore_ten_kelvin_off_reads_nine_micrometres_large() {
        let corrected = at_reference(0.0, &iron(303.15, 293.15));
        assert!((corrected + 9.46e-6).abs() < 1e-9, "{corrected}");
        let both_warm = at_reference(12e-6, &iron(303.15, 303.15));
        assert!((both_warm - 12e-6).abs() < 1e-15, "{both_warm}");
    }

    /// A steel master in an iron shop at 30 degC: 0.5e-6 x 10 x 86 mm = 0.43 um, by hand.
    #[test]
    fn unlike_materials_differ_even_when_both_are_as_warm() {
        let master = MasterComparison {
            master_material: Material::Steel,
            ..iron(303.15, 303.15)
        };
        assert!((at_reference(0.0, &master) - 0.43e-6).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn nothing_changes_at_20_degrees_and_a_warmer_part_is_smaller(value in -1e-3..1e-3f64, kelvin in 0.1..60.0f64) {
            prop_assert!((at_reference(value, &iron(293.15, 293.15)) - value).abs() <= 0.0);
            prop_assert!(at_reference(value, &iron(293.15 + kelvin, 293.15)) < value);
        }
    }
}
