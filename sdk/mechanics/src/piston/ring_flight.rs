/// A piston ring that moves axially in its groove, driven by inertia and by gas.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RingInGroove {
    /// Mass of the ring \[kg\].
    pub mass_kg: f64,
    /// Axial side clearance \[m\].
    pub clearance_m: f64,
    /// Area of a side \[m²\].
    pub side_area_m2: f64,
}

impl RingInGroove {
    /// Force \[N\] that presses the ring on the lower side of its groove: gas above less gas below \[Pa\] on its side, less `m a` for a piston
    /// acceleration \[m/s²\] positive downwards. Negative: the ring leaves for the upper side.
    pub fn down_n(&self, pressure_difference_pa: f64, piston_acceleration_m_s2: f64) -> f64 {
        self.side_area_m2 * pressure_difference_pa - self.mass_kg * piston_acceleration_m_s2
    }
}

/// Energy \[J\] that a ring brings to the sides of its groove in one cycle, from the force on it \[N\] at even steps \[s\] of a periodic cycle.
///
/// The ring rests on a side until the force turns; then it flies freely, and all of its energy relative to the piston is left at the side
/// where it lands (no rebound). Two cycles are marched and the second is counted. Each step is cut so that the force is linear over
/// `SUBSTEPS` parts. Leaves out squeeze of the oil between the sides, friction on the bore, twist.
pub fn impacts_j(ring: &RingInGroove, down_n: &[f64], step_s: f64) -> f64 {
    let n = down_n.len();
    if n < 2 {
        return 0.0;
    }
    let substep_s = step_s / f64::from(SUBSTEPS);
    // Position from the lower side up, speed upwards.
    let (mut position_m, mut speed_m_s) = (0.0, 0.0);
    let mut energy_j = 0.0;
    for k in 0..2 * n {
        let (from, to) = (down_n[k % n], down_n[(k + 1) % n]);
        for sub in 0..SUBSTEPS {
            let share = (f64::from(sub) + 0.5) / f64::from(SUBSTEPS);
            let up_m_s2 = -(from + (to - from) * share) / ring.mass_kg;
            let landed = fly(ring, &mut position_m, &mut speed_m_s, up_m_s2, substep_s);
            if k >= n {
                energy_j += landed;
            }
        }
    }
    energy_j
}

const SUBSTEPS: u32 = 8;

/// One substep at steady acceleration; the energy left at a side \[J\].
fn fly(
    ring: &RingInGroove,
    position_m: &mut f64,
    speed_m_s: &mut f64,
    up_m_s2: f64,
    step_s: f64,
) -> f64 {
    let reached = *position_m + step_s * (*speed_m_s + 0.5 * up_m_s2 * step_s);
    let side_m = reached.clamp(0.0, ring.clearance_m);
    if reached.to_bits() == side_m.to_bits() {
        *position_m = reached;
        *speed_m_s += up_m_s2 * step_s;
        return 0.0;
    }
    // v² grows by twice acceleration times way.
    let way_m = side_m - *position_m;
    let squared = *speed_m_s * *speed_m_s + 2.0 * up_m_s2 * way_m;
    (*position_m, *speed_m_s) = (side_m, 0.0);
    0.5 * ring.mass_kg * squared.max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::TAU;

    const RING: RingInGroove = RingInGroove {
        mass_kg: 6e-3,
        clearance_m: 45e-6,
        side_area_m2: 7.8e-4,
    };

    /// A square wave of force throws the ring across once each way: work is force times clearance, both ways.
    #[test]
    fn work_is_force_times_clearance() {
        let n = 400;
        let force: Vec<f64> = (0..n)
            .map(|k| if k < n / 2 { 100.0 } else { -60.0 })
            .collect();
        let energy = impacts_j(&RING, &force, 1e-5);
        let expected = (100.0 + 60.0) * RING.clearance_m;
        assert!(
            (energy / expected - 1.0).abs() < 0.01,
            "{energy} {expected}"
        );
    }

    #[test]
    fn a_ring_that_is_always_held_down_never_lands() {
        let force: Vec<f64> = (0..360)
            .map(|k| 50.0 + 40.0 * (TAU * f64::from(k) / 360.0).sin())
            .collect();
        assert!(impacts_j(&RING, &force, 2e-5).abs() < 1e-15);
    }

    /// Half the step, the same energy within 1 %; twice the clearance, more of it.
    #[test]
    fn steps_are_fine_enough() {
        let wave = |n: i32| -> Vec<f64> {
            (0..n)
                .map(|k| 60.0 * (TAU * f64::from(k) / f64::from(n)).cos() + 10.0)
                .collect()
        };
        let coarse = impacts_j(&RING, &wave(360), 1.5e-2 / 360.0);
        let fine = impacts_j(&RING, &wave(1440), 1.5e-2 / 1440.0);
        assert!((coarse / fine - 1.0).abs() < 0.01, "{coarse} {fine}");
        let wide = RingInGroove {
            clearance_m: 90e-6,
            ..RING
        };
        assert!(impacts_j(&wide, &wave(360), 1.5e-2 / 360.0) > coarse);
    }

    /// The piston slows on its way up: the ring is thrown at the upper side; gas holds it down.
    #[test]
    fn inertia_lifts_and_gas_holds() {
        assert!(RING.down_n(0.0, 40_000.0) < 0.0);
        assert!(RING.down_n(1.0e6, 40_000.0) > 0.0);
    }
}
