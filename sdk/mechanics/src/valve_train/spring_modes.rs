//! Surge of a valve spring.
//!
//! A helical spring between a fixed end and an end that moves as x(t) obeys the wave equation along its wire. With ξ from 0 at the seat to
//! 1 at the retainer, the displacement is `u = x ξ + Σ q_n sin nπξ`, and each mode is driven by the acceleration of the retainer:
//! `q̈_n + 2 ζ ω_n q̇_n + ω_n² q_n = (−1)^n (2/nπ) ẍ` with `ω_n = n ω_1`. The force in the coil at ξ is that of the seat load plus
//! `k (x + Σ nπ q_n cos nπξ)`. Modes above the last one kept follow the retainer without lag: they are a mass on it.

use std::f64::consts::PI;

/// Modes kept.
pub const MODES: usize = 5;
/// Places along the spring at which the coil force is told: quarters of its length, from the seat to the retainer.
pub const STATIONS: usize = 5;

/// A spring as a wave guide.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpringModes {
    rate_n_m: f64,
    active_mass_kg: f64,
    natural_frequency_rad_s: f64,
    /// (−1)^n 2/nπ.
    drive: [f64; MODES],
    /// 2 ζ ω_n \[1/s\].
    damping_1_s: [f64; MODES],
    /// ω_n² \[1/s²\].
    stiffness_1_s2: [f64; MODES],
    /// k nπ (−1)^n \[N/m\].
    on_retainer_n_m: [f64; MODES],
}

/// Displacements \[m\] and velocities \[m/s\] of the modes.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SpringState {
    /// Displacements \[m\].
    pub q_m: [f64; MODES],
    /// Velocities \[m/s\].
    pub velocity_m_s: [f64; MODES],
}

/// Cosine of eighths of a turn: cos(nπ ξ) at quarters of the length.
const EIGHTHS: [f64; 8] = [
    1.0, SQRT_HALF, 0.0, -SQRT_HALF, -1.0, -SQRT_HALF, 0.0, SQRT_HALF,
];
const SQRT_HALF: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// (−1)^n of the mode at an index.
fn sign(index: usize) -> f64 {
    if index.is_multiple_of(2) { -1.0 } else { 1.0 }
}

/// n of the mode at an index.
fn order(index: usize) -> f64 {
    (index + 1) as f64
}

impl SpringModes {
    /// From the rate \[N/m\], the mass of the active coils \[kg\], the first natural frequency between fixed ends \[rad/s\] and the share of critical damping of each
    /// mode.
    pub fn new(
        rate_n_m: f64,
        active_mass_kg: f64,
        natural_frequency_rad_s: f64,
        damping_ratio: f64,
    ) -> Self {
        let each = |value: fn(usize) -> f64| std::array::from_fn(value);
        let orders: [f64; MODES] = each(order);
        Self {
            rate_n_m,
            active_mass_kg,
            natural_frequency_rad_s,
            drive: each(|n| sign(n) * 2.0 / (order(n) * PI)),
            damping_1_s: orders.map(|n| 2.0 * damping_ratio * n * natural_frequency_rad_s),
            stiffness_1_s2: orders
                .map(|n| n * n * natural_frequency_rad_s * natural_frequency_rad_s),
            on_retainer_n_m: each(|n| order(n) * sign(n) * PI).map(|waves| waves * rate_n_m),
        }
    }

    /// Rate \[N/m\].
    pub fn rate_n_m(&self) -> f64 {
        self.rate_n_m
    }

    /// First natural frequency between fixed ends \[rad/s\].
    pub fn natural_frequency_rad_s(&self) -> f64 {
        self.natural_frequency_rad_s
    }

    /// Mass \[kg\] that the modes left out add to the retainer: a third of the active mass less what the kept modes carry.
    pub fn residual_mass_kg(&self) -> f64 {
        let kept: f64 = (0..MODES).map(|n| 1.0 / (order(n) * order(n))).sum();
        self.active_mass_kg * (1.0 / 3.0 - 2.0 / (PI * PI) * kept)
    }

    /// Force \[N\] that surge adds on the retainer.
    pub fn surge_on_retainer_n(&self, state: &SpringState) -> f64 {
        let each = self.on_retainer_n_m.iter().zip(&state.q_m);
        each.map(|(stiffness_n_m, q_m)| stiffness_n_m * q_m).sum()
    }

    /// Force \[N\] that surge adds in the coil at each station.
    pub fn surge_at_stations_n(&self, state: &SpringState) -> [f64; STATIONS] {
        let mut force_n = [0.0; STATIONS];
        for (index, force_n) in force_n.iter_mut().enumerate() {
            for (n, q_m) in state.q_m.iter().enumerate() {
                *force_n += order(n) * q_m * EIGHTHS[(n + 1) * index % 8];
            }
            *force_n *= self.rate_n_m * PI;
        }
        force_n
    }

    /// Accelerations of the modes \[m/s²\] under an acceleration of the retainer.
    pub fn acceleration_m_s2(&self, state: &SpringState, retainer_m_s2: f64) -> [f64; MODES] {
        std::array::from_fn(|n| {
            self.drive[n] * retainer_m_s2
                - self.damping_1_s[n] * state.velocity_m_s[n]
                - self.stiffness_1_s2[n] * state.q_m[n]
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spring(damping_ratio: f64) -> SpringModes {
        let (rate_n_m, active_mass_kg) = (41_800.0_f64, 0.0283);
        let natural_frequency_rad_s = PI * (rate_n_m / active_mass_kg).sqrt();
        SpringModes::new(
            rate_n_m,
            active_mass_kg,
            natural_frequency_rad_s,
            damping_ratio,
        )
    }

    /// A retainer that accelerates steadily carries a third of the active mass: a rod of mass m stretched evenly has the kinetic energy of m/3
    /// at its end (Rayleigh; textbook).
    #[test]
    fn a_slow_spring_is_a_third_of_its_mass() {
        let spring = spring(0.02);
        let steady_m_s2 = 1000.0;
        let mut state = SpringState::default();
        for n in 0..MODES {
            let omega = order(n) * spring.natural_frequency_rad_s;
            state.q_m[n] = sign(n) * 2.0 / (order(n) * PI) * steady_m_s2 / (omega * omega);
        }
        assert!(
            spring
                .acceleration_m_s2(&state, steady_m_s2)
                .iter()
                .all(|a| a.abs() < 1e-6)
        );
        let modes_kg = spring.surge_on_retainer_n(&state) / steady_m_s2;
        let whole_kg = modes_kg + spring.residual_mass_kg();
        assert!(
            (whole_kg / (spring.active_mass_kg / 3.0) - 1.0).abs() < 1e-9,
            "{whole_kg}"
        );
        // At the seat the wave of a steady acceleration pulls: k times half of a/ω² over the length, m/6 of force the other way.
        let at_seat_kg = spring.surge_at_stations_n(&state)[0] / steady_m_s2;
        assert!(
            (at_seat_kg / (-spring.active_mass_kg / 6.0) - 1.0).abs() < 0.15,
            "{at_seat_kg}"
        );
    }

    #[test]
    fn the_ends_agree_with_the_formulas_of_the_ends() {
        let spring = spring(0.02);
        let state = SpringState {
            q_m: [1e-4, -2e-5, 3e-6, 1e-6, -1e-6],
            ..SpringState::default()
        };
        let (top, formula) = (
            spring.surge_on_retainer_n(&state),
            spring.surge_at_stations_n(&state)[STATIONS - 1],
        );
        assert!((top / formula - 1.0).abs() < 1e-12);
    }

    /// The exact wave: a retainer that swings at Ω feels `k κ cot κ`, κ = π Ω/ω_1 (closed form of the wave equation without damping). Five modes and the
    /// residual mass give it within 3 % up to 2.3 times the first natural frequency.
    #[test]
    fn the_modes_kept_give_the_exact_wave() {
        let spring = spring(0.0);
        for share in [0.2, 0.6, 0.9, 1.3, 1.7, 2.3] {
            let omega = share * spring.natural_frequency_rad_s;
            let mut state = SpringState::default();
            for n in 0..MODES {
                state.q_m[n] =
                    -omega * omega * spring.drive[n] / (spring.stiffness_1_s2[n] - omega * omega);
            }
            let inertia = spring.residual_mass_kg() * omega * omega;
            let modal = 1.0 + (spring.surge_on_retainer_n(&state) - inertia) / spring.rate_n_m;
            let kappa = PI * share;
            let exact = kappa / kappa.tan();
            assert!(
                (modal - exact).abs() < 0.03 * exact.abs().max(1.0),
                "{share}: {modal} {exact}"
            );
        }
    }
}
