//! Torsion of a round bar beyond yield: twist that stays, and the shear stress that unloading leaves.
//!
//! Sections stay plane, so the shear strain is `r θ/l`. The steel is elastic up to its shear yield strength and hardens in a straight
//! line from there; a hardening ratio of 0 is ideal plasticity. Unloading is elastic (textbook; S. P. Timoshenko, Strength of Materials, part II).

use std::f64::consts::PI;

use super::section::polar_moment_m4;

/// A round bar in torsion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlasticBar {
    /// Outer diameter \[m\], above 0.
    pub diameter_m: f64,
    /// Bore \[m\], 0 for a solid bar, less than the diameter.
    pub bore_m: f64,
    /// Length \[m\], above 0.
    pub length_m: f64,
    /// Shear modulus \[Pa\], above 0.
    pub shear_modulus_pa: f64,
    /// Shear yield strength \[Pa\], above 0.
    pub shear_yield_pa: f64,
    /// Slope beyond yield over the shear modulus, 0 to less than 1.
    pub hardening_ratio: f64,
}

/// Halvings of a bracket: to the last bit.
const HALVINGS: u32 = 60;

impl PlasticBar {
    /// Elastic stiffness `G Ip/l` \[N·m/rad\].
    pub fn stiffness_n_m_rad(&self) -> f64 {
        let polar_m4 = polar_moment_m4(self.diameter_m, self.bore_m);
        self.shear_modulus_pa * polar_m4 / self.length_m
    }

    /// Torque at which the surface yields \[N·m\].
    pub fn yield_torque_n_m(&self) -> f64 {
        self.stiffness_n_m_rad() * self.yield_twist_rad()
    }

    /// Torque that a bar of the ideally plastic steel bears at most \[N·m\]: 4/3 of the yield torque when solid.
    pub fn plastic_torque_n_m(&self) -> f64 {
        let [outer_m, bore_m] = self.radii_m();
        2.0 / 3.0 * PI * self.shear_yield_pa * (outer_m.powi(3) - bore_m.powi(3))
    }

    /// Twist at which the surface yields \[rad\].
    pub fn yield_twist_rad(&self) -> f64 {
        let strain = self.shear_yield_pa / self.shear_modulus_pa;
        2.0 * strain * self.length_m / self.diameter_m
    }

    /// Torque \[N·m\] at a twist \[rad\], 0 or more, of a bar that has not yielded before.
    pub fn torque_n_m(&self, twist_rad: f64) -> f64 {
        let [outer_m, bore_m] = self.radii_m();
        let rate_per_m = twist_rad / self.length_m;
        let (modulus_pa, hardening) = (self.shear_modulus_pa, self.hardening_ratio);
        let elastic_m = self.elastic_radius_m(twist_rad).max(bore_m);
        let fourth_m4 = |from: f64, to: f64| 0.25 * (to.powi(4) - from.powi(4));
        let elastic = modulus_pa * rate_per_m * fourth_m4(bore_m, elastic_m);
        let yielded_pa = self.shear_yield_pa * (1.0 - hardening);
        let plastic = yielded_pa * (outer_m.powi(3) - elastic_m.powi(3)) / 3.0;
        let hardened = hardening * modulus_pa * rate_per_m * fourth_m4(elastic_m, outer_m);
        2.0 * PI * (elastic + plastic + hardened)
    }

    /// Radius within which the bar is elastic at a twist \[rad\], at most the outer radius \[m\].
    pub fn elastic_radius_m(&self, twist_rad: f64) -> f64 {
        let outer_m = 0.5 * self.diameter_m;
        if twist_rad <= self.yield_twist_rad() {
            outer_m
        } else {
            outer_m * self.yield_twist_rad() / twist_rad
        }
    }

    /// Twist \[rad\] under a torque \[N·m\], 0 or more; at most `most_rad`, also where an ideally plastic bar gives way.
    pub fn twist_rad(&self, torque_n_m: f64, most_rad: f64) -> f64 {
        let elastic_rad = torque_n_m / self.stiffness_n_m_rad();
        if elastic_rad <= self.yield_twist_rad() {
            return elastic_rad.min(most_rad);
        }
        lowest(elastic_rad.min(most_rad), most_rad, |twist| {
            self.torque_n_m(twist) >= torque_n_m
        })
    }

    /// Twist \[rad\] that stays after a torque \[N·m\], 0 or more, is taken off; at most `most_rad`.
    pub fn permanent_twist_rad(&self, torque_n_m: f64, most_rad: f64) -> f64 {
        if torque_n_m <= self.yield_torque_n_m() {
            return 0.0;
        }
        let sprung_rad = torque_n_m / self.stiffness_n_m_rad();
        let twist_rad = self.twist_rad(torque_n_m, most_rad + sprung_rad);
        (twist_rad - sprung_rad).clamp(0.0, most_rad)
    }

    /// Torque \[N·m\] after which a twist \[rad\], 0 or more, stays. 0 gives the yield torque.
    pub fn torque_for_permanent_n_m(&self, permanent_rad: f64) -> f64 {
        let stays = |twist: f64| twist - self.torque_n_m(twist) / self.stiffness_n_m_rad();
        // Torque is at most 4/3 of the yield torque and what hardening adds, its share of the elastic line: that bounds the twist.
        let least_rad = self.yield_twist_rad() + permanent_rad;
        let most_rad = least_rad * (2.0 + 2.0 / (1.0 - self.hardening_ratio));
        let twist_rad = lowest(self.yield_twist_rad(), most_rad, |twist| {
            stays(twist) >= permanent_rad
        });
        self.torque_n_m(twist_rad)
    }

    /// Shear stress \[Pa\] that stays at a radius \[m\] after a torque \[N·m\] is taken off, positive in its direction: at the surface against it,
    /// inside with it. The torque is below the plastic one unless the steel hardens. `most_rad` bounds the twist under load.
    pub fn residual_shear_pa(&self, torque_n_m: f64, radius_m: f64, most_rad: f64) -> f64 {
        let twist_rad = self.twist_rad(torque_n_m, most_rad);
        let elastic_pa = self.shear_modulus_pa * radius_m * twist_rad / self.length_m;
        let yielded_pa = (elastic_pa - self.shear_yield_pa).max(0.0);
        let loaded_pa = elastic_pa - (1.0 - self.hardening_ratio) * yielded_pa;
        loaded_pa - torque_n_m * radius_m / polar_moment_m4(self.diameter_m, self.bore_m)
    }

    fn radii_m(&self) -> [f64; 2] {
        [0.5 * self.diameter_m, 0.5 * self.bore_m]
    }
}

/// Lowest point of a bracket from which on a condition holds; its end where it never does.
fn lowest(mut low: f64, mut high: f64, holds: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if holds(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    high
}

/// Shear stress set in a notch \[Pa\] by loads that make it yield: it is what the notch root has less than the elastic stress of the load. The
/// root is elastic-ideally plastic and small in an elastic body, so that its strain follows the load; between loads whose elastic root stresses are `low` and `high`, it settles
/// where neither passes the shear yield strength, with as little flow as that takes. Where the range is beyond twice that strength, both ends yield in each cycle and the set is in
/// their middle (the stop operator of plasticity).
pub fn notch_set_pa(set_pa: f64, [low_pa, high_pa]: [f64; 2], shear_yield_pa: f64) -> f64 {
    let (least_pa, most_pa) = (-shear_yield_pa - low_pa, shear_yield_pa - high_pa);
    if least_pa <= most_pa {
        set_pa.clamp(least_pa, most_pa)
    } else {
        0.5 * (least_pa + most_pa)
    }
}

/// Mean shear stress of a cycle in a notch \[Pa\]: its elastic mean with the set, held so that neither end passes the shear yield strength; 0 where the
/// amplitude does.
pub fn notch_mean_pa(mean_pa: f64, amplitude_pa: f64, set_pa: f64, shear_yield_pa: f64) -> f64 {
    let most_pa = (shear_yield_pa - amplitude_pa).max(0.0);
    (mean_pa + set_pa).clamp(-most_pa, most_pa)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const FAR_RAD: f64 = 50.0;

    fn bar(bore_m: f64, hardening_ratio: f64) -> PlasticBar {
        PlasticBar {
            diameter_m: 0.028,
            bore_m,
            length_m: 0.42,
            shear_modulus_pa: 7.9e10,
            shear_yield_pa: 9.5e8,
            hardening_ratio,
        }
    }

    /// Solid bar of ideally plastic steel (textbook): `T = 4/3 Ty (1 − ¼ (ρ/c)³)` with the elastic radius ρ, up to 4/3 of the yield torque.
    #[test]
    fn torque_of_a_partly_plastic_bar() {
        let solid = bar(0.0, 0.0);
        let by_hand = PI * 0.014_f64.powi(3) * 9.5e8 / 2.0;
        assert!((solid.yield_torque_n_m() / by_hand - 1.0).abs() < 1e-12);
        let ratio = solid.plastic_torque_n_m() / solid.yield_torque_n_m();
        assert!((ratio - 4.0 / 3.0).abs() < 1e-12);
        for share in [1.0, 0.8, 0.5, 0.1] {
            let twist_rad = solid.yield_twist_rad() / share;
            let book = 4.0 / 3.0 * (1.0 - 0.25 * share * share * share);
            let found = solid.torque_n_m(twist_rad) / solid.yield_torque_n_m();
            assert!((found - book).abs() < 1e-12, "{share}: {found} {book}");
        }
        assert!(solid.twist_rad(1.4 * by_hand, FAR_RAD) >= FAR_RAD);
    }

    /// A lecture's example (R. V. Kukta and K. S. Kirane, 2018, read on the web): radius 50 mm, 1 m, G 200 GPa, yield 150 MPa, 35 kN·m: it prints 29.45 kN·m at
    /// yield and 39.27 plastic through; elastic radius and twist are its formulas by hand.
    #[test]
    fn a_lectures_example() {
        let shaft = PlasticBar {
            diameter_m: 0.1,
            bore_m: 0.0,
            length_m: 1.0,
            shear_modulus_pa: 2.0e11,
            shear_yield_pa: 1.5e8,
            hardening_ratio: 0.0,
        };
        assert!((shaft.yield_torque_n_m() / 29.45e3 - 1.0).abs() < 2e-4);
        assert!((shaft.plastic_torque_n_m() / 39.27e3 - 1.0).abs() < 2e-4);
        let twist = shaft.twist_rad(35.0e3, FAR_RAD);
        let core = shaft.elastic_radius_m(twist);
        assert!((core / 0.037_882_87 - 1.0).abs() < 1e-6, "{core}");
        let stays = shaft.permanent_twist_rad(35.0e3, FAR_RAD);
        assert!((stays / 1.972_512_3e-3 - 1.0).abs() < 1e-6, "{stays}");
    }

    /// Hollow bar of 100 and 80 mm, yield 120 MPa (E. J. Hearn, Mechanics of Materials 2, example 3.6: the question read on the web, the
    /// answers by hand from its formulas): 13.91 kN·m at yield, 14.97 with 5 mm plastic, 15.33 plastic through.
    #[test]
    fn a_textbooks_hollow_bar() {
        let hollow = PlasticBar {
            diameter_m: 0.1,
            bore_m: 0.08,
            length_m: 1.0,
            shear_modulus_pa: 8.0e10,
            shear_yield_pa: 1.2e8,
            hardening_ratio: 0.0,
        };
        let partly = hollow.torque_n_m(hollow.yield_twist_rad() * 50.0 / 45.0);
        assert!((hollow.yield_torque_n_m() / 13.910_972e3 - 1.0).abs() < 1e-6);
        assert!((partly / 14.967_071e3 - 1.0).abs() < 1e-6, "{partly}");
        assert!((hollow.plastic_torque_n_m() / 15.330_972e3 - 1.0).abs() < 1e-6);
    }

    /// Unloaded from the full plastic torque, the surface keeps a third of the yield strength against the load and the axis all of it with
    /// the load (textbook). At such a twist the bar is fully plastic to 1e-6 of its torque.
    #[test]
    fn residual_stress_of_the_full_plastic_torque() {
        let solid = bar(0.0, 0.0);
        let torque = solid.torque_n_m(FAR_RAD);
        let surface = solid.residual_shear_pa(torque, 0.014, 2.0 * FAR_RAD) / 9.5e8;
        assert!((surface + 1.0 / 3.0).abs() < 1e-5, "{surface}");
        let inside = solid.residual_shear_pa(torque, 0.014e-1, 2.0 * FAR_RAD) / 9.5e8;
        assert!((inside - (1.0 - 0.4 / 3.0)).abs() < 1e-5, "{inside}");
    }

    /// The stress left carries no torque: integrated over the section it is 0.
    #[test]
    fn residual_stress_balances() {
        for (bore_m, hardening) in [(0.0, 0.0), (0.0, 0.05), (0.012, 0.02)] {
            let bar = bar(bore_m, hardening);
            let torque = 1.15 * bar.yield_torque_n_m();
            let steps = 4000;
            let width_m = 0.5 * (bar.diameter_m - bore_m) / f64::from(steps);
            let ring = |k: i32| {
                let radius_m = 0.5 * bore_m + width_m * (f64::from(k) + 0.5);
                let stress_pa = bar.residual_shear_pa(torque, radius_m, FAR_RAD);
                2.0 * PI * radius_m * radius_m * stress_pa * width_m
            };
            let left: f64 = (0..steps).map(ring).sum();
            assert!(left.abs() < 1e-6 * torque, "{bore_m} {hardening}: {left}");
        }
    }

    #[test]
    fn below_yield_nothing_stays_and_the_bar_is_elastic() {
        let solid = bar(0.0, 0.02);
        let below = 0.999 * solid.yield_torque_n_m();
        assert!(solid.permanent_twist_rad(below, FAR_RAD) <= 0.0);
        let twist = solid.twist_rad(below, FAR_RAD);
        assert!((twist * solid.stiffness_n_m_rad() / below - 1.0).abs() < 1e-12);
        let first = solid.torque_for_permanent_n_m(0.0);
        assert!((first / solid.yield_torque_n_m() - 1.0).abs() < 1e-12);
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

        /// Twist and torque undo each other, and more torque leaves more twist.
        #[test]
        fn torque_and_permanent_twist_undo_each_other(
            stays in 1e-4..0.6_f64, bore_m in 0.0..0.02_f64, hardening in 0.0..0.2_f64
        ) {
            let bar = bar(bore_m, hardening);
            let torque = bar.torque_for_permanent_n_m(stays);
            let found = bar.permanent_twist_rad(torque, FAR_RAD);
            prop_assert!((found - stays).abs() < 1e-6 * (1.0 + stays), "{found} {stays}");
            prop_assert!(bar.permanent_twist_rad(1.01 * torque, FAR_RAD) >= found);
        }

        /// A notch settles within yield, and the same loads again change nothing.
        #[test]
        fn a_notch_settles_at_once(set in -9e8..9e8_f64, low in -1.5e9..5e8_f64, range in 0.0..3e9_f64) {
            let loads = [low, low + range];
            let settled = notch_set_pa(set, loads, 9.5e8);
            prop_assert!((notch_set_pa(settled, loads, 9.5e8) - settled).abs() < 1.0);
            if range < 1.9e9 {
                prop_assert!(loads.iter().all(|load| (load + settled).abs() <= 9.5e8 + 1.0));
            }
            let mean = notch_mean_pa(low + 0.5 * range, 0.5 * range, settled, 9.5e8);
            prop_assert!(mean.abs() + 0.5 * range <= 9.5e8_f64.max(0.5 * range) + 1.0);
        }
    }

    /// One overload leaves stress against it: the mean of the same torque after it is lower, of the opposite torque higher.
    #[test]
    fn an_overload_favours_its_own_direction() {
        let set = notch_set_pa(0.0, [0.0, 1.2e9], 9.5e8);
        assert!((set + 2.5e8).abs() < 1.0);
        let mean = |elastic_pa: f64| notch_mean_pa(elastic_pa, 3.0e8, set, 9.5e8);
        assert!((mean(3.0e8) - 0.5e8).abs() < 1.0 && (mean(-3.0e8) + 5.5e8).abs() < 1.0);
    }
}
