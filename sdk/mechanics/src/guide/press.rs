use std::f64::consts::PI;

/// Force of the stem on the guide at its ends \[N\], positive towards the side to which a positive side force pushes.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct EndForces {
    /// At the spring's end.
    pub top_n: f64,
    /// At the port's end.
    pub bottom_n: f64,
}

/// Equilibrium of a stem that touches a guide of length `length_m` (over 0) at both ends: a side force \[N\] acts `overhang_m` above the
/// guide's top, and a moment \[N·m\] (tip force times its offset from the stem's axis, positive when it turns the stem the way a positive
/// side force on the tip does).
///
/// `top = F (1 + a/L) + M/L`, `bottom = −(F a + M)/L`: a beam on two supports with an overhanging load (any statics text). Forces at other
/// heights add up.
///
/// The overhang of the tip shrinks with lift: pass its length with the valve closed less the lift.
pub fn press(length_m: f64, overhang_m: f64, side_force_n: f64, moment_n_m: f64) -> EndForces {
    let couple_n = (side_force_n * overhang_m + moment_n_m) / length_m;
    EndForces {
        top_n: side_force_n + couple_n,
        bottom_n: -couple_n,
    }
}

impl EndForces {
    /// Both together.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            top_n: self.top_n + other.top_n,
            bottom_n: self.bottom_n + other.bottom_n,
        }
    }
}

/// Force times sliding distance \[N·m\] at each end, on the side that positive forces press and on the other: 0 or more each.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SlideDose {
    /// Top, positive side.
    pub top_plus_n_m: f64,
    /// Top, negative side.
    pub top_minus_n_m: f64,
    /// Bottom, positive side.
    pub bottom_plus_n_m: f64,
    /// Bottom, negative side.
    pub bottom_minus_n_m: f64,
}

impl SlideDose {
    /// Adds a step that slid `slid_m`, of either sign.
    pub fn add(&mut self, forces: EndForces, slid_m: f64) {
        let slid_m = slid_m.abs();
        self.top_plus_n_m += forces.top_n.max(0.0) * slid_m;
        self.top_minus_n_m += (-forces.top_n).max(0.0) * slid_m;
        self.bottom_plus_n_m += forces.bottom_n.max(0.0) * slid_m;
        self.bottom_minus_n_m += (-forces.bottom_n).max(0.0) * slid_m;
    }

    /// Both sides at the top: what a stem that turns sees.
    pub fn top_n_m(&self) -> f64 {
        self.top_plus_n_m + self.top_minus_n_m
    }

    /// Both sides at the bottom.
    pub fn bottom_n_m(&self) -> f64 {
        self.bottom_plus_n_m + self.bottom_minus_n_m
    }
}

/// Volume that one partner loses \[m³\] over a dose \[N·m\] (Archard): its specific wear coefficient \[m²/N\], and the share of the load
/// on asperities (0 to 1).
pub fn worn_m3(wear_coefficient_m2_n: f64, asperity_share: f64, dose_n_m: f64) -> f64 {
    wear_coefficient_m2_n * asperity_share * dose_n_m
}

/// Loss of a stem's diameter \[m\] where a volume \[m³\] came off all round over the stroke \[m\] and the length that bears at one end of
/// the guide \[m\]: the mean over that length.
pub fn stem_loss_m(volume_m3: f64, diameter_m: f64, stroke_m: f64, bearing_m: f64) -> f64 {
    2.0 * volume_m3 / (PI * diameter_m * (stroke_m + bearing_m))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wear::{archard_volume_m3, specific_coefficient_m2_n};

    /// Beam with an overhanging load, as in any table of beams: R1 = P (1 + a/L), R2 = P a/L, opposed.
    #[test]
    fn a_load_beyond_a_support_presses_both() {
        let forces = press(0.040, 0.030, 20.0, 0.0);
        assert!((forces.top_n - 35.0).abs() < 1e-12);
        assert!((forces.bottom_n + 15.0).abs() < 1e-12);
        let twisted = press(0.040, 0.030, 0.0, 0.8);
        assert!((twisted.top_n - 20.0).abs() < 1e-12 && (twisted.bottom_n + 20.0).abs() < 1e-12);
        let both = forces.and(twisted);
        assert_eq!(both, press(0.040, 0.030, 20.0, 0.8));
    }

    /// Forces balance and moments balance about either end, whatever acts.
    #[test]
    fn forces_and_moments_balance() {
        for (overhang, force, moment) in [(0.03, 40.0, -2.0), (-0.01, -12.0, 0.3), (0.0, 5.0, 0.0)]
        {
            let found = press(0.045, overhang, force, moment);
            assert!((found.top_n + found.bottom_n - force).abs() < 1e-12);
            let about_top = force * overhang + moment + found.bottom_n * 0.045;
            assert!(about_top.abs() < 1e-12);
        }
    }

    /// 200 N over 1000 km at K = 1e-6 on a surface of 6 GPa: 33.3 mm³ (Archard's law, worked by hand), through a dose.
    #[test]
    fn a_dose_wears_as_archard_says() {
        let mut dose = SlideDose::default();
        for step in 0..1000 {
            let forces = press(0.04, 0.0, 200.0, 0.0);
            dose.add(forces, if step % 2 == 0 { 1.0e3 } else { -1.0e3 });
        }
        let coefficient = specific_coefficient_m2_n(1e-6, 6e9);
        let volume = worn_m3(coefficient, 1.0, dose.top_n_m());
        assert!((volume / 33.333_333e-9 - 1.0).abs() < 1e-6, "{volume}");
        let law = archard_volume_m3(1e-6, 200.0, 1e6, 6e9);
        assert!((volume / law - 1.0).abs() < 1e-12);
        assert!(dose.bottom_n_m() <= 0.0);
    }

    /// A shell of 1 µm of 6 mm diameter over 20 mm takes 2 µm off the diameter.
    #[test]
    fn a_stem_loses_its_volume_all_round() {
        let volume = PI * 6e-3 * 20e-3 * 1e-6;
        assert!((stem_loss_m(volume, 6e-3, 12e-3, 8e-3) / 2e-6 - 1.0).abs() < 1e-12);
    }
}
