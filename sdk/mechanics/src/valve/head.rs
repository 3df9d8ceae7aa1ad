//! The head as a plate.

/// A round plate, simply supported at its edge (the seat), with a rigid hub at its centre (stem and neck), under even pressure.
///
/// Thin-plate theory (S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, chapter 3): slope
/// `φ = C1 r + C2/r − p r³/(16 D)` with `φ = 0` at the hub and no radial moment at the edge. Leaves out shear, the cone of the seat, and the change of
/// thickness from rim to neck.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HubbedPlate {
    /// Radius of the support \[m\].
    pub edge_m: f64,
    /// Radius of the hub \[m\], above 0 and below that of the edge.
    pub hub_m: f64,
    /// Thickness \[m\].
    pub thickness_m: f64,
    /// Poisson's ratio.
    pub poisson: f64,
}

impl HubbedPlate {
    /// `16 D C1 / p` \[m²\].
    fn slope_share_m2(&self) -> f64 {
        let (a2, b2) = (self.edge_m * self.edge_m, self.hub_m * self.hub_m);
        let (more, less) = (1.0 + self.poisson, 1.0 - self.poisson);
        ((3.0 + self.poisson) * a2 + less * b2 * b2 / a2) / (more + less * b2 / a2)
    }

    /// `16 D φ / p` at the edge \[m³\].
    fn edge_share_m3(&self) -> f64 {
        let (a, b2) = (self.edge_m, self.hub_m * self.hub_m);
        let c1 = self.slope_share_m2();
        c1 * a + (b2 * b2 - c1 * b2) / a - a * a * a
    }

    /// Radial bending stress at the hub over pressure: tension on the far side of the pressure.
    pub fn hub_stress_ratio(&self) -> f64 {
        let moment_m2 = self.slope_share_m2() / 8.0 - 0.25 * self.hub_m * self.hub_m;
        6.0 * moment_m2 / (self.thickness_m * self.thickness_m)
    }

    /// Hoop bending stress at the edge over pressure: tension on the far side of the pressure.
    pub fn edge_stress_ratio(&self) -> f64 {
        let poisson = self.poisson;
        let moment_m2 = self.edge_share_m3() * (1.0 - poisson * poisson) / (16.0 * self.edge_m);
        6.0 * moment_m2 / (self.thickness_m * self.thickness_m)
    }

    /// Slope of the edge over pressure \[rad/Pa\] of a material of a modulus \[Pa\].
    pub fn edge_slope_per_pa(&self, modulus_pa: f64) -> f64 {
        let cube = self.thickness_m * self.thickness_m * self.thickness_m;
        let rigidity = modulus_pa * cube / (12.0 * (1.0 - self.poisson * self.poisson));
        self.edge_share_m3() / (16.0 * rigidity)
    }

    /// Slip of the edge on its seat over pressure \[m/Pa\]: the slope turns the far side outwards by half the thickness.
    pub fn edge_slip_m_pa(&self, modulus_pa: f64) -> f64 {
        0.5 * self.thickness_m * self.edge_slope_per_pa(modulus_pa)
    }
}

/// Reference stress of creep of a simply supported round plate \[Pa\]: yield strength times pressure over the limit pressure `6 Mp/a²` with
/// `Mp = σ t²/4` (H. G. Hopkins and W. Prager 1953; textbook), `2/3 p (a/t)²`. Bending stress above it is taken to even out by creep. The hub is left out,
/// which is on the safe side.
pub fn limit_stress_pa(pressure_pa: f64, edge_m: f64, thickness_m: f64) -> f64 {
    2.0 / 3.0 * pressure_pa * (edge_m / thickness_m) * (edge_m / thickness_m)
}

/// Hoop stress at the rim \[Pa\] of a free disc whose temperature falls from centre to rim by so much \[K\], as the square of the radius: `E α ΔT/2`
/// (plane stress; S. Timoshenko and J. N. Goodier, Theory of Elasticity, article 150). Tension when the rim is cooler.
pub fn rim_thermal_pa(modulus_pa: f64, expansion_per_k: f64, centre_less_rim_k: f64) -> f64 {
    0.5 * modulus_pa * expansion_per_k * centre_less_rim_k
}

/// Stress at the centre of the same disc \[Pa\]: `−E α ΔT/4`.
pub fn centre_thermal_pa(modulus_pa: f64, expansion_per_k: f64, centre_less_rim_k: f64) -> f64 {
    -0.25 * modulus_pa * expansion_per_k * centre_less_rim_k
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLATE: HubbedPlate = HubbedPlate {
        edge_m: 14.5e-3,
        hub_m: 5.0e-3,
        thickness_m: 4.0e-3,
        poisson: 0.3,
    };

    /// Without a hub a plate has `3(3+ν)/8 p (a/t)²` at its centre; a small rigid inclusion raises an even biaxial moment by
    /// `2/(1+ν)` (textbook).
    #[test]
    fn a_vanishing_hub_is_a_rigid_point() {
        let plate = HubbedPlate {
            hub_m: 1e-9,
            ..PLATE
        };
        let solid = 3.0 * 3.3 / 8.0 * (14.5_f64 / 4.0).powi(2);
        let ratio = plate.hub_stress_ratio() / solid;
        assert!((ratio - 2.0 / 1.3).abs() < 1e-9, "{ratio}");
        // Slope p a³/(8 D (1+ν)) and hoop stress 3/4 (1−ν) p (a/t)² at the edge of the solid plate (textbook).
        let rigidity = 2.0e11 * 6.4e-8 / (12.0 * 0.91);
        let slope = 14.5e-3_f64.powi(3) / (8.0 * rigidity * 1.3);
        assert!((plate.edge_slope_per_pa(2.0e11) / slope - 1.0).abs() < 1e-9);
        let hoop = 0.75 * 0.7 * (14.5_f64 / 4.0).powi(2);
        assert!((plate.edge_stress_ratio() / hoop - 1.0).abs() < 1e-9);
    }

    /// The closed form against the differential equation, integrated from the hub with a trial moment (linear shooting).
    #[test]
    fn the_closed_form_solves_the_plate_equation() {
        let (a, b, nu) = (PLATE.edge_m, PLATE.hub_m, PLATE.poisson);
        // φ'' = −φ'/r + φ/r² − r/2 for p/D = 1; returns φ and φ' at the edge.
        let run = |start: f64, loaded: f64| {
            let steps = 4000;
            let h = (a - b) / f64::from(steps);
            let rate = |r: f64, [f, g]: [f64; 2]| [g, -g / r + f / (r * r) - loaded * 0.5 * r];
            let mut state = [0.0, start];
            for k in 0..steps {
                let r = b + h * f64::from(k);
                let add = |s: [f64; 2], d: [f64; 2], h: f64| [s[0] + h * d[0], s[1] + h * d[1]];
                let k1 = rate(r, state);
                let k2 = rate(r + 0.5 * h, add(state, k1, 0.5 * h));
                let k3 = rate(r + 0.5 * h, add(state, k2, 0.5 * h));
                let k4 = rate(r + h, add(state, k3, h));
                for i in 0..2 {
                    state[i] += h / 6.0 * (k1[i] + 2.0 * k2[i] + 2.0 * k3[i] + k4[i]);
                }
            }
            state
        };
        let moment = |[f, g]: [f64; 2]| g + nu * f / a;
        let (free, forced) = (run(1.0, 0.0), run(0.0, 1.0));
        let start = -moment(forced) / moment(free);
        let edge = forced[0] + start * free[0];
        assert!(
            (edge / (PLATE.edge_share_m3() / 16.0) - 1.0).abs() < 1e-6,
            "{edge}"
        );
        let hub = 6.0 * start / PLATE.thickness_m.powi(2);
        assert!((hub / PLATE.hub_stress_ratio() - 1.0).abs() < 1e-6, "{hub}");
    }

    #[test]
    fn a_plate_that_is_all_hub_does_not_bend() {
        let plate = HubbedPlate {
            hub_m: 14.5e-3,
            ..PLATE
        };
        assert!(plate.hub_stress_ratio().abs() < 1e-9);
        assert!(plate.edge_slip_m_pa(2.0e11).abs() < 1e-18);
    }

    /// Thermal stress of a disc by its general solution: `σ_θ = E α (mean over the disc + mean within r − T)`, here by quadrature.
    #[test]
    fn thermal_stress_is_that_of_the_general_solution() {
        let (modulus, expansion, fall) = (1.7e11, 1.5e-5, 80.0);
        let temp = |x: f64| -fall * x * x;
        let mean_within = |x: f64| {
            let steps = 2000;
            let at = |k: i32| (f64::from(k) + 0.5) / f64::from(steps) * x;
            let sum: f64 = (0..steps).map(|k| temp(at(k)) * at(k)).sum();
            2.0 * sum / f64::from(steps) / x
        };
        let disc = 0.5 * mean_within(1.0);
        let hoop = |x: f64| modulus * expansion * (disc + 0.5 * mean_within(x) - temp(x));
        assert!((hoop(1.0) / rim_thermal_pa(modulus, expansion, fall) - 1.0).abs() < 1e-5);
        assert!((hoop(1e-6) / centre_thermal_pa(modulus, expansion, fall) - 1.0).abs() < 1e-5);
    }

    /// Worked by hand: 2/3 · 3 · (14.5/4)² = 26.28 MPa.
    #[test]
    fn reference_stress_by_hand() {
        let stress = limit_stress_pa(3.0e6, 14.5e-3, 4.0e-3);
        assert!((stress / 26.281_25e6 - 1.0).abs() < 1e-9, "{stress}");
    }
}
