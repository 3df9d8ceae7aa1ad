//! Heat of a working spring: what friction within the wire and at a damper makes of the work, and what the oil carries away.

use super::Spring;

/// Work \[J\] stored between two forces \[N\] at a rate \[N/m\]: `(F2² − F1²)/(2k)`.
pub fn stroke_work_j(rate_n_m: f64, from_n: f64, to_n: f64) -> f64 {
    (to_n * to_n - from_n * from_n) / (2.0 * rate_n_m)
}

/// Work \[J\] that a closed loop of force \[N\] over travel \[m\] takes in: its area, by trapezoids; the last point joins the first. For a spring
/// in steady motion it is what friction turns into heat. 0 for lists of different lengths.
pub fn loop_work_j(force_n: &[f64], travel_m: &[f64]) -> f64 {
    if force_n.len() != travel_m.len() {
        return 0.0;
    }
    let next = |values: &[f64], at: usize| values[(at + 1) % values.len()];
    let piece =
        |at: usize| 0.5 * (force_n[at] + next(force_n, at)) * (next(travel_m, at) - travel_m[at]);
    (0..force_n.len()).map(piece).sum()
}

/// By how much a spring is hotter than the oil \[K\] when it turns a power \[W\] into heat, at a coefficient of heat transfer \[W/(m²·K)\] over the
/// surface of its active wire. Steady: a spring follows within half a minute.
pub fn rise_k(spring: &Spring, power_w: f64, transfer_w_m2_k: f64) -> f64 {
    let area_m2 = std::f64::consts::PI * spring.wire_m * spring.active_wire_m();
    power_w / (transfer_w_m2_k * area_m2)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 400 to 926 N at 41.8 N/mm store 8.34 J (by hand); 2 % of it at 67 Hz are 11.2 W; the wire has 3.80e-3 m².
    #[test]
    fn work_and_heat_by_hand() {
        let work_j = stroke_work_j(41_800.0, 400.0, 926.0);
        assert!((work_j - 8.343).abs() < 1e-3, "{work_j}");
        let spring = Spring {
            wire_m: 3.8e-3,
            coil_m: 22.0e-3,
            active_coils: 4.6,
            shear_modulus_pa: 7.93e10,
            density_kg_m3: 7850.0,
        };
        let rise_k = rise_k(&spring, 0.02 * work_j * 67.0, 300.0);
        assert!((rise_k - 9.82).abs() < 0.02, "{rise_k}");
    }

    /// A force that follows its travel takes nothing; a circle takes its area.
    #[test]
    fn loops() {
        let angle = |k: i32| f64::from(k) * std::f64::consts::TAU / 4000.0;
        let travel: Vec<f64> = (0..4000).map(|k| angle(k).cos()).collect();
        let stiff: Vec<f64> = travel.iter().map(|x| 3.0 * x).collect();
        assert!(loop_work_j(&stiff, &travel).abs() < 1e-9);
        let late: Vec<f64> = (0..4000).map(|k| -angle(k).sin()).collect();
        assert!((loop_work_j(&late, &travel) / std::f64::consts::PI - 1.0).abs() < 1e-5);
        assert!(loop_work_j(&late, &[]).abs() < 1e-12);
    }
}
