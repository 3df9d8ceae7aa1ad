use std::f64::consts::PI;

/// A hollow piston pin between the small end, which loads its middle, and two bosses, which carry it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pin {
    /// Outer diameter \[m\].
    pub outer_m: f64,
    /// Inner diameter \[m\], 0 to less than the outer.
    pub inner_m: f64,
    /// Length \[m\].
    pub length_m: f64,
    /// Width of the small end \[m\].
    pub rod_width_m: f64,
    /// Bearing length of one boss \[m\].
    pub boss_length_m: f64,
    /// Modulus of elasticity \[Pa\].
    pub modulus_pa: f64,
}

impl Pin {
    /// Bending moment in the middle \[N·m\] under a force \[N\] that is spread evenly over small end and bosses: half the force acts at the
    /// middle of a boss, half of the load of the small end at a quarter of its width: `F/2 (b/4 + c + l/2)`, c the gap between rod and boss.
    pub fn bending_moment_n_m(&self, force_n: f64) -> f64 {
        let gap_m = 0.5 * (self.length_m - self.rod_width_m) - self.boss_length_m;
        0.5 * force_n * (0.25 * self.rod_width_m + gap_m + 0.5 * self.boss_length_m)
    }

    /// Bending stress at the outer fibre in the middle \[Pa\].
    pub fn bending_stress_pa(&self, force_n: f64) -> f64 {
        let second_moment_m4 = PI / 64.0 * (self.outer_m.powi(4) - self.inner_m.powi(4));
        self.bending_moment_n_m(force_n) * 0.5 * self.outer_m / second_moment_m4
    }

    /// Ovalisation \[m\], the change of diameter along the load: `0.09 F/(E l) ((1 + a)/(1 − a))³ K`, `K = 1.5 − 15 (a − 0.4)³`, a the inner over
    /// the outer diameter. Textbook formula from memory; between the thin rings under cosine and point loads for a of 0.45 to 0.7; below the lower of them from 0.75 on.
    pub fn ovalisation_m(&self, force_n: f64) -> f64 {
        let a = self.inner_m / self.outer_m;
        let shape = 1.5 - 15.0 * (a - 0.4).powi(3);
        0.09 * force_n / (self.modulus_pa * self.length_m) * ((1.0 + a) / (1.0 - a)).powi(3) * shape
    }

    /// Stress round the pin at its outer and inner fibre \[Pa\] of an ovalisation \[m\]: a ring of which the radius changes by `w cos 2θ` bends by
    /// `3 w/R²`, so `3 E t w/(2 R²)` with w half of the change of diameter, R the mean radius, t the wall.
    pub fn ovalisation_stress_pa(&self, ovalisation_m: f64) -> f64 {
        let (radius_m, wall_m) = (self.mean_radius_m(), self.wall_m());
        1.5 * self.modulus_pa * wall_m * 0.5 * ovalisation_m / (radius_m * radius_m)
    }

    /// Equivalent stress (von Mises) \[Pa\] at the outer fibre of the middle in the plane of the load, on the boss side: bending pulls along the
    /// pin while ovalisation presses round it.
    pub fn equivalent_stress_pa(&self, force_n: f64) -> f64 {
        let along = self.bending_stress_pa(force_n);
        let round = self.ovalisation_stress_pa(self.ovalisation_m(force_n));
        let squared = along * along + along * round + round * round;
        squared.sqrt().copysign(force_n)
    }

    fn mean_radius_m(&self) -> f64 {
        0.25 * (self.outer_m + self.inner_m)
    }

    fn wall_m(&self) -> f64 {
        0.5 * (self.outer_m - self.inner_m)
    }

    fn wall_second_moment_m4(&self) -> f64 {
        self.length_m * self.wall_m().powi(3) / 12.0
    }
}

/// Change of diameter \[m\] along two opposite point loads on the pin as a thin ring: `(π/4 − 2/π) F R³/(E I)` (textbook), the upper bound of a
/// spread load.
pub fn thin_ring_opposite_points_m(pin: &Pin, force_n: f64) -> f64 {
    let stiffness = pin.modulus_pa * pin.wall_second_moment_m4();
    (PI / 4.0 - 2.0 / PI) * force_n * pin.mean_radius_m().powi(3) / stiffness
}

/// The same when each of the two loads is spread over half of the ring as `cos θ`: harmonics of `|cos θ|` on an inextensible ring, for
/// which a radial load `q cos nθ` for each metre of circumference gives `w = q R⁴/(E I (n² − 1)²)`. Leaves out shear, as thin rings do: a lower bound.
pub fn thin_ring_cosine_m(pin: &Pin, force_n: f64) -> f64 {
    let radius_m = pin.mean_radius_m();
    let stiffness = pin.modulus_pa * pin.wall_second_moment_m4();
    let amplitude_n_m = 2.0 * force_n / (PI * radius_m);
    let harmonic = |k: u32| {
        let n = f64::from(2 * k);
        let sign = if k % 2 == 1 { 1.0 } else { -1.0 };
        let load = sign * 4.0 / PI / (n * n - 1.0) * amplitude_n_m;
        load * radius_m.powi(4) / (stiffness * (n * n - 1.0).powi(2))
    };
    // Both ends of the diameter move.
    2.0 * (1..=20).map(harmonic).sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::*;

    const PIN: Pin = Pin {
        outer_m: 0.022,
        inner_m: 0.012,
        length_m: 0.056,
        rod_width_m: 0.021,
        boss_length_m: 0.0165,
        modulus_pa: 205e9,
    };
    /// 125 N/mm² on 21 × 22 mm.
    const FORCE_N: f64 = 57_750.0;

    /// By hand: gap 1 mm; M = 28 875 N · (5.25 + 1 + 8.25) mm = 418.7 N·m; I = π/64 (22⁴ − 12⁴) = 10 481 mm⁴; σ = 418.7e3 · 11/10 481 = 439.4 N/mm².
    #[test]
    fn bending_by_hand() {
        assert!((PIN.bending_moment_n_m(FORCE_N) - 418.6875).abs() < 1e-6);
        assert!((PIN.bending_stress_pa(FORCE_N) / 439.42e6 - 1.0).abs() < 1e-4);
    }

    /// The moment is that of the distributed loads, integrated numerically over half of the pin.
    #[test]
    fn the_moment_is_that_of_spread_loads() {
        let n = 40_000;
        let half_m = 0.5 * PIN.length_m;
        let dx = half_m / f64::from(n);
        let mut moment = 0.0;
        for k in 0..n {
            let x = (f64::from(k) + 0.5) * dx;
            let boss = if x > half_m - PIN.boss_length_m {
                0.5 / PIN.boss_length_m
            } else {
                0.0
            };
            let rod = if x < 0.5 * PIN.rod_width_m {
                1.0 / PIN.rod_width_m
            } else {
                0.0
            };
            moment += FORCE_N * (boss - rod) * x * dx;
        }
        assert!((moment / PIN.bending_moment_n_m(FORCE_N) - 1.0).abs() < 1e-4);
    }

    /// A thin ring under two opposite loads closes by 0.1488 F R³/(E I); here 44 µm. Spread as a cosine it closes by less. The formula lies
    /// between the two for usual bores.
    #[test]
    fn ovalisation_lies_between_two_thin_rings() {
        let points = thin_ring_opposite_points_m(&PIN, FORCE_N);
        let by_hand =
            0.148_779 * FORCE_N * 8.5e-3_f64.powi(3) / (205e9 * 0.056 * 5e-3_f64.powi(3) / 12.0);
        assert!((points / by_hand - 1.0).abs() < 1e-4 && (points - 44.1e-6).abs() < 0.2e-6);
        for a in [0.45, 0.5, 12.0 / 22.0, 0.6, 0.65, 0.7] {
            let pin = Pin {
                inner_m: a * PIN.outer_m,
                ..PIN
            };
            let (low, high) = (
                thin_ring_cosine_m(&pin, FORCE_N),
                thin_ring_opposite_points_m(&pin, FORCE_N),
            );
            let found = pin.ovalisation_m(FORCE_N);
            assert!(found > low && found < high, "{a}: {low} {found} {high}");
        }
        assert!(
            (PIN.ovalisation_m(FORCE_N) - 26.0e-6).abs() < 0.5e-6,
            "{}",
            PIN.ovalisation_m(FORCE_N)
        );
    }

    /// The harmonic sum against the unit-load method, quadrature over a quarter of the ring from its side up: `M = M0 + N R (1 − cos φ) −
    /// ∫ q R² sin(φ − α) dα` with N half the load and M0 such that the section does not turn; the closing is `4 ∫ M m R dφ/(E I)`.
    #[test]
    fn the_cosine_load_agrees_with_the_unit_load_method() {
        let (radius, stiffness) = (
            PIN.mean_radius_m(),
            PIN.modulus_pa * PIN.wall_second_moment_m4(),
        );
        let (n, load) = (2000, 2.0 * FORCE_N / (PI * radius));
        let step = 0.5 * PI / f64::from(n);
        let at = |k: i32| (f64::from(k) + 0.5) * step;
        let spread = |phi: f64| -> f64 {
            // ∫ sin α sin(φ − α) dα from 0 to φ, by its antiderivative.
            load * radius * radius * 0.5 * (phi.sin() - phi * phi.cos())
        };
        let moment: Vec<f64> = (0..n)
            .map(|k| 0.5 * FORCE_N * radius * (1.0 - at(k).cos()) - spread(at(k)))
            .collect();
        let unit: Vec<f64> = (0..n).map(|k| 0.5 * radius * (1.0 - at(k).cos())).collect();
        let mean = |values: &[f64]| values.iter().sum::<f64>() / f64::from(n);
        let (moment_mean, unit_mean) = (mean(&moment), mean(&unit));
        let products = moment
            .iter()
            .zip(&unit)
            .map(|(m, u)| (m - moment_mean) * (u - unit_mean));
        let closing = 4.0 * products.sum::<f64>() * step * radius / stiffness;
        let found = thin_ring_cosine_m(&PIN, FORCE_N);
        assert!((found / closing - 1.0).abs() < 1e-5, "{found} {closing}");
    }

    /// von Mises of bending along the pin and the ring's bending round it, opposite in sign.
    #[test]
    fn stresses_add_up() {
        let (along, round) = (
            PIN.bending_stress_pa(FORCE_N),
            PIN.ovalisation_stress_pa(PIN.ovalisation_m(FORCE_N)),
        );
        let by_hand = (along * along + round * round + along * round).sqrt();
        assert!((PIN.equivalent_stress_pa(FORCE_N) / by_hand - 1.0).abs() < 1e-12);
        assert!((PIN.equivalent_stress_pa(-FORCE_N) / -by_hand - 1.0).abs() < 1e-12);
    }
}
