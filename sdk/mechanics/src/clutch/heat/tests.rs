//! Against closed solutions of conduction (H. S. Carslaw and J. C. Jaeger, Conduction of Heat in Solids, chapter 2 and 3,
//! from memory), worked out beforehand to eight figures.

use super::*;

/// k = 50 W/(m·K), diffusivity 1.4e-5 m²/s, and thick enough not to feel its far face.
fn thick() -> Body {
    let layer = Layer {
        thickness_m: 0.03,
        conductivity_w_m_k: 50.0,
        density_kg_m3: 7800.0,
        heat_capacity_j_kg_k: 50.0 / (7800.0 * 1.4e-5),
    };
    Body::new(&[layer], &[Boundary::heated(1.0), Boundary::PLAIN], 120)
}

fn at_depth_k(body: &Body, profile_k: &[f64], depth_m: f64) -> f64 {
    let depths = &body.spans[0].depth_m;
    let after = depths.iter().position(|&z| z > depth_m).unwrap_or(1);
    let share = (depth_m - depths[after - 1]) / (depths[after] - depths[after - 1]);
    profile_k[after - 1] + share * (profile_k[after] - profile_k[after - 1])
}

/// Constant 1 MW/m² for 0.5 s: 2 q √(αt/π)/k = 59.708 213 K at the face, 41.828 046 K at 1 mm depth.
#[test]
fn constant_flux_heats_a_thick_wall_as_a_half_space() {
    let body = thick();
    let history = body.heat(&body.uniform(&[0.0]), 0.5, 200, |_| 1e6);
    let face = history.boundaries_k[0][200];
    assert!((face / 59.708_213 - 1.0).abs() < 1e-3, "{face}");
    let inside = at_depth_k(&body, &history.profile_k, 1e-3);
    assert!((inside / 41.828_046 - 1.0).abs() < 1e-3, "{inside}");
}

/// 2 MW/m² falling to 0 in 0.5 s: T = 2 q √(αt/π)/k (1 − 2t/3t_s), highest 56.293 443 K at half time, 39.805 455 K at the end.
#[test]
fn decaying_flux_peaks_half_way() {
    let body = thick();
    let flux = |t| linear_decay_w_m2(2e6, 0.5, t);
    let history = body.heat(&body.uniform(&[0.0]), 0.5, 200, flux);
    let peak = history.peak(0).unwrap();
    assert!((peak.value / 56.293_443 - 1.0).abs() < 1e-3, "{peak:?}");
    assert!((peak.at_s - 0.25).abs() < 0.01, "{peak:?}");
    let end = history.boundaries_k[0][200];
    assert!((end / 39.805_455 - 1.0).abs() < 1e-3, "{end}");
}

/// Steps and cells doubled: the decaying flux's peak changes by less than a thousandth.
#[test]
fn the_peak_converges() {
    let layer = Layer {
        thickness_m: 3e-3,
        conductivity_w_m_k: 40.0,
        density_kg_m3: 7800.0,
        heat_capacity_j_kg_k: 480.0,
    };
    let peak = |cells, steps| {
        let body = Body::new(&[layer], &[Boundary::heated(1.0), Boundary::PLAIN], cells);
        let flux = |t| linear_decay_w_m2(4e6, 1.0, t);
        let history = body.heat(&body.uniform(&[300.0]), 1.0, steps, flux);
        history.peak(0).unwrap().value - 300.0
    };
    let (coarse, fine) = (peak(12, 60), peak(24, 120));
    assert!((coarse / fine - 1.0).abs() < 1e-3, "{coarse} {fine}");
}

/// First law: what an insulated wall of three layers takes up is what was made in it.
#[test]
fn an_insulated_wall_keeps_all_heat() {
    let layer = |thickness_m, conductivity_w_m_k| Layer {
        thickness_m,
        conductivity_w_m_k,
        density_kg_m3: 6000.0,
        heat_capacity_j_kg_k: 500.0,
    };
    let layers = [layer(1e-3, 15.0), layer(0.5e-3, 45.0), layer(2e-3, 42.0)];
    let rub = Boundary::heated(1.0);
    let body = Body::new(&layers, &[Boundary::PLAIN, rub, rub, Boundary::PLAIN], 10);
    let start = body.uniform(&[300.0, 350.0, 400.0]);
    let held = |profile: &[f64]| body.heat_j_m2(profile);
    let flux = |t| linear_decay_w_m2(3e6, 0.4, t);
    let history = body.heat(&start, 0.4, 25, flux);
    // Two boundaries are heated by 3 MW/m² · 0.4 s / 2 each.
    let gained = held(&history.profile_k) - held(&start);
    assert!((gained / 1.2e6 - 1.0).abs() < 1e-9, "{gained}");
}

/// A slab of high conductance in air cools as a lump: ΔT ∝ exp(−h t / (ρ c L)).
#[test]
fn a_thin_wall_cools_as_a_lump() {
    let layer = Layer {
        thickness_m: 2e-3,
        conductivity_w_m_k: 400.0,
        density_kg_m3: 8000.0,
        heat_capacity_j_kg_k: 400.0,
    };
    let body = Body::new(
        &[layer],
        &[Boundary::PLAIN, Boundary::cooled(100.0, 300.0)],
        8,
    );
    let history = body.heat(&body.uniform(&[500.0]), 60.0, 120, |_| 0.0);
    let expected = 300.0 + 200.0 * libm::exp(-60.0 * 100.0 / layer.capacity_j_m2_k());
    let mean = body.layers(&history.profile_k)[0].mean_k;
    assert!((mean - expected).abs() < 0.05, "{mean} {expected}");
}

/// Steady flow through two layers in series: ΔT = q (L₁/k₁ + L₂/k₂ + 1/h), and each layer's gradient is −q/k.
#[test]
fn steady_conduction_is_a_series_of_resistances() {
    let layer = |thickness_m, conductivity_w_m_k| Layer {
        thickness_m,
        conductivity_w_m_k,
        density_kg_m3: 1000.0,
        heat_capacity_j_kg_k: 100.0,
    };
    let layers = [layer(1e-3, 2.0), layer(3e-3, 20.0)];
    let ends = [
        Boundary::heated(1.0),
        Boundary::PLAIN,
        Boundary::cooled(500.0, 290.0),
    ];
    let body = Body::new(&layers, &ends, 6);
    let history = body.heat(&body.uniform(&[290.0, 290.0]), 100.0, 400, |_| 1e4);
    let face = *history.boundaries_k[0].last().unwrap();
    assert!((face - (290.0 + 5.0 + 1.5 + 20.0)).abs() < 1e-6, "{face}");
    let states = body.layers(&history.profile_k);
    assert!((states[0].gradient_k_m + 5000.0).abs() < 1e-3);
    assert!((states[1].gradient_k_m + 500.0).abs() < 1e-3);
}

/// Layers that start at several temperatures hold the heat of each, and what the wall does not have is not there.
#[test]
fn a_start_of_several_temperatures_keeps_its_heat() {
    let thin = Layer {
        thickness_m: 1e-3,
        conductivity_w_m_k: 10.0,
        density_kg_m3: 5000.0,
        heat_capacity_j_kg_k: 600.0,
    };
    let thick = Layer {
        thickness_m: 2e-3,
        heat_capacity_j_kg_k: 450.0,
        ..thin
    };
    let body = Body::new(&[thin, thick], &[Boundary::PLAIN; 3], 5);
    let profile = body.uniform(&[345.0, 500.0]);
    let expected = 345.0 * thin.capacity_j_m2_k() + 500.0 * thick.capacity_j_m2_k();
    assert!((body.heat_j_m2(&profile) / expected - 1.0).abs() < 1e-12);
    let history = body.heat(&profile, 1.0, 3, |_| 0.0);
    assert!(history.peak(3).is_none() && history.steepest(2).is_none());
}
