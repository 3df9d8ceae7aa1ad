//! Wear through a coating (J. F. Archard): depth is coefficient times pressure times sliding, by the coating's coefficient while there is any
//! and by the bare surface's below it.

use crate::constants as c;
use crate::material::Material;
use crate::spec::Face;

/// A surface with the coefficient of what is below its coating.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layered {
    /// The surface as it is.
    pub face: Face,
    /// Wear coefficient of the bare material \[m²/N\].
    pub bare_m2_n: f64,
}

impl Layered {
    /// A surface of a material, whose bare titanium wears by a coefficient \[m²/N\].
    pub fn new(face: Face, material: &Material, titanium_m2_n: f64) -> Self {
        let share = if material.galls {
            1.0
        } else {
            c::STEEL_WEAR_SHARE
        };
        Self {
            face,
            bare_m2_n: share * titanium_m2_n,
        }
    }

    /// Depth worn \[m\] after a dose of pressure times sliding \[Pa·m\], from a depth, and how much of the dose met the bare
    /// material. A surface without a coating wears by its own coefficient and is bare.
    pub fn worn(&self, depth_m: f64, dose_pa_m: f64) -> (f64, f64) {
        let face = &self.face;
        if face.coating_m <= 0.0 {
            return (depth_m + face.wear_m2_n * dose_pa_m, dose_pa_m);
        }
        let left_pa_m = ((face.coating_m - depth_m) / face.wear_m2_n).max(0.0);
        let coated_pa_m = dose_pa_m.min(left_pa_m);
        let bare_pa_m = dose_pa_m - coated_pa_m;
        let worn_m = face.wear_m2_n * coated_pa_m + self.bare_m2_n * bare_pa_m;
        (depth_m + worn_m, bare_pa_m)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// J. F. Archard's law by hand, then through a coating, in one stretch or two.
    #[test]
    fn a_coating_wears_and_then_what_is_below() {
        let face = Face {
            friction: 0.12,
            wear_m2_n: 1.0e-14,
            wear_ln_sd: 0.0,
            coating_m: 2.0e-6,
        };
        let layered = Layered {
            face,
            bare_m2_n: 1.0e-13,
        };
        let (depth_m, bare) = layered.worn(0.0, 3.0e8);
        assert!((depth_m - (2.0e-6 + 1.0e-5)).abs() < 1e-18 && (bare - 1.0e8).abs() < 1.0);
        let (half_m, _) = layered.worn(0.0, 1.5e8);
        let (whole_m, _) = layered.worn(half_m, 1.5e8);
        assert!((whole_m / depth_m - 1.0).abs() < 1e-12);
        let uncoated = Layered {
            face: Face {
                coating_m: 0.0,
                ..face
            },
            ..layered
        };
        let (depth_m, bare) = uncoated.worn(1.0e-6, 1.0e8);
        assert!((depth_m - 2.0e-6).abs() < 1e-18 && (bare - 1.0e8).abs() < 1.0);
    }
}
