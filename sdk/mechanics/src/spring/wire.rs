//! Strength of spring wire.
//!
//! J. E. Shigley, Mechanical Engineering Design, 9th edition, table 10-4 and equations 10-14 and 10-30. From memory.

use crate::range::{OutOfRange, within};

/// Tensile strength of a wire by its diameter: `A / d^m`, as drawing hardens thin wire more.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WireGrade {
    /// Strength at 1 mm \[Pa\].
    pub strength_at_1_mm_pa: f64,
    /// Exponent m.
    pub exponent: f64,
    /// Thinnest wire of the table \[m\].
    pub thinnest_m: f64,
    /// Thickest wire of the table \[m\].
    pub thickest_m: f64,
}

/// Music wire, ASTM A228.
pub const MUSIC_WIRE: WireGrade = WireGrade {
    strength_at_1_mm_pa: 2.211e9,
    exponent: 0.145,
    thinnest_m: 1.0e-4,
    thickest_m: 6.5e-3,
};
/// Oil-hardened and tempered carbon steel, ASTM A229.
pub const OIL_TEMPERED: WireGrade = WireGrade {
    strength_at_1_mm_pa: 1.855e9,
    exponent: 0.187,
    thinnest_m: 5.0e-4,
    thickest_m: 1.27e-2,
};
/// Chromium-vanadium steel, ASTM A232.
pub const CHROMIUM_VANADIUM: WireGrade = WireGrade {
    strength_at_1_mm_pa: 2.005e9,
    exponent: 0.168,
    thinnest_m: 8.0e-4,
    thickest_m: 1.11e-2,
};
/// Chromium-silicon steel, ASTM A401.
pub const CHROMIUM_SILICON: WireGrade = WireGrade {
    strength_at_1_mm_pa: 1.974e9,
    exponent: 0.108,
    thinnest_m: 1.6e-3,
    thickest_m: 9.5e-3,
};

impl WireGrade {
    /// Tensile strength \[Pa\] at a wire diameter \[m\].
    ///
    /// # Errors
    /// A diameter outside the table.
    pub fn tensile_pa(&self, wire_m: f64) -> Result<f64, OutOfRange> {
        let range = (self.thinnest_m, self.thickest_m);
        let expected = "a diameter for which the grade is drawn";
        let wire_mm = 1.0e3 * within("wire_m", wire_m, range, expected)?;
        Ok(self.strength_at_1_mm_pa / libm::pow(wire_mm, self.exponent))
    }
}

/// Ultimate strength in torsion over tensile strength: 0.67.
pub const TORSIONAL_SHARE: f64 = 0.67;

/// Ultimate strength in torsion \[Pa\].
pub fn torsional_strength_pa(tensile_pa: f64) -> f64 {
    TORSIONAL_SHARE * tensile_pa
}
