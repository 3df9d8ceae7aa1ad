//! Convergence, and the map against direct solutions: `cargo test --release -p ringland-plugin-wet-clutch map -- --nocapture`.

use ringland_plugin_wet_clutch::card::slot;
use ringland_plugin_wet_clutch::constants as c;
use ringland_plugin_wet_clutch::duty::SMALL_K;
use ringland_plugin_wet_clutch::heat_map::HeatMap;
use ringland_plugin_wet_clutch::pack::INTERFACE;
use ringland_plugin_wet_clutch::spec::Spec;

use crate::scenario::{ground, hour, untreated};

const OIL_K: f64 = 368.15;

/// Glaze and peak rise of one engagement with power falling in a straight line, solved directly with as many cells and steps, integrated over
/// every step, and cooled for as long as the map follows it.
fn direct(spec: &Spec, duration_s: f64, energy_j: f64, cells: usize, steps: usize) -> [f64; 2] {
    let wall = spec.wall(cells);
    let heat = energy_j / spec.area_m2();
    let flux = |t: f64| 2.0 * heat / duration_s * (1.0 - t / duration_s).max(0.0);
    let cold = wall.uniform(&[0.0; 3]);
    let heating = wall.heat(&cold, duration_s, steps, flux);
    let peak = heating.peak(INTERFACE).unwrap().value;
    let mut temperatures: Vec<(f64, f64)> = heating
        .times_s
        .iter()
        .copied()
        .zip(heating.boundaries_k[INTERFACE].iter().copied())
        .collect();
    let (mut profile, mut from_s) = (heating.profile_k, duration_s);
    // Stretches that double, so that short times are fine.
    let mut stretch_s = 0.01_f64;
    let end_s = duration_s + 5.0 * spec.cooling_s();
    while from_s < end_s {
        let span_s = stretch_s.min(end_s - from_s);
        let cooling = wall.heat(&profile, span_s, steps, |_| 0.0);
        let later = cooling
            .times_s
            .iter()
            .zip(&cooling.boundaries_k[INTERFACE])
            .skip(1);
        temperatures.extend(later.map(|(t, k)| (from_s + t, *k)));
        (profile, from_s) = (cooling.profile_k, from_s + span_s);
        stretch_s *= 2.0;
    }
    // By the trapezoidal rule, without the plugin's integral.
    let law = spec.glazing();
    let rate = |rise: f64| law.rate_per_s(OIL_K + rise) - law.rate_per_s(OIL_K);
    let pairs = temperatures.iter().zip(temperatures.iter().skip(1));
    let glaze = pairs
        .map(|((t0, a), (t1, b))| 0.5 * (rate(*a) + rate(*b)) * (t1 - t0))
        .sum();
    [glaze, peak]
}

/// Between nodes of the map and on them, from shifts to long slips.
#[test]
fn map_against_direct_solutions() {
    let spec = Spec::read(&untreated()).unwrap();
    for (duration_s, energy_j) in [
        (0.05, 40.0e3),
        (0.12, 60.0e3),
        (0.4, 150.0e3),
        (1.0, 40.0e3),
        (1.6, 264.0e3),
        (5.0, 300.0e3),
        (15.0, 500.0e3),
    ] {
        let [glaze, peak] = direct(&spec, duration_s, energy_j, 36, 600);
        let engagement = [10.0, duration_s, energy_j, 2.0 * energy_j / duration_s, 1e4];
        let (hot, idle) = (
            ground().after(&hour(&[engagement])),
            ground().after(&hour(&[])),
        );
        let glaze_by_map = (hot[slot::GLAZE] - idle[slot::GLAZE]) / glaze - 1.0;
        let peak_by_map = (hot[slot::HOTTEST] - OIL_K) / peak - 1.0;
        println!(
            "{duration_s} s, {} kJ: peak rise {peak:.1} K, by map {:+.2} %; glaze {glaze:.2e}, by map {:+.1} %",
            energy_j / 1e3,
            100.0 * peak_by_map,
            100.0 * glaze_by_map
        );
        assert!(
            peak_by_map.abs() < 0.01 && glaze_by_map.abs() < 0.06,
            "{peak_by_map} {glaze_by_map}"
        );
    }
}

/// Cells and steps as the map has them, doubled and halved.
#[test]
fn cells_and_steps_are_enough() {
    let spec = Spec::read(&untreated()).unwrap();
    let of = |cells, steps| direct(&spec, 1.6, 264.0e3, cells, steps);
    let (fine, usual, coarse) = (
        of(4 * c::CELLS, 16 * c::STEPS),
        of(c::CELLS, c::STEPS),
        of(c::CELLS / 2, c::STEPS / 2),
    );
    for (index, name) in ["glaze", "peak rise"].into_iter().enumerate() {
        let percent = |of: [f64; 2]| 100.0 * (of[index] / fine[index] - 1.0);
        println!(
            "{name}: as in the map {:+.3} %, cells and steps halved {:+.3} %",
            percent(usual),
            percent(coarse)
        );
        assert!(percent(usual).abs() < 1.0);
    }
}

/// A rise that counts as small is integrated by its moments, not over its history.
#[test]
fn moments_serve_a_small_rise() {
    let spec = Spec::read(&untreated()).unwrap();
    let map = HeatMap::read(&ground().map, &spec).unwrap();
    let law = spec.glazing();
    for duration_s in [0.05, 0.12, 0.5, 1.6] {
        let (answer, off) = map.answer(duration_s, 2.0);
        let heat = SMALL_K / answer.peak_rise;
        let [first, second, third] = answer.moments;
        let moments = [
            first * heat,
            second * heat * heat,
            third * heat * heat * heat,
        ];
        let hot = answer.history().map(|(t, rise)| (t, OIL_K + heat * rise));
        let whole = law.dose(hot) - law.rate_per_s(OIL_K) * answer.followed_s();
        let change = law.small_rise(OIL_K, moments) / whole - 1.0;
        println!(
            "{duration_s} s, {SMALL_K} K: by moments {:+.1} %",
            100.0 * change
        );
        assert!(!off && change.abs() < 0.05, "{change}");
    }
}

/// Energy: what the wall takes up and gives to the oil is what was made, to the end of the cooling.
#[test]
fn the_oil_takes_all_of_the_heat() {
    let spec = Spec::read(&untreated()).unwrap();
    let wall = spec.wall(c::CELLS);
    let cold = wall.uniform(&[0.0; 3]);
    let history = wall.heat(&cold, 1.6, c::STEPS, |_| 1.0e6);
    let face = &history.boundaries_k[INTERFACE];
    let pairs = face.iter().zip(face.iter().skip(1));
    let lost: f64 = pairs.map(|(a, b)| 0.5 * (a + b)).sum::<f64>() * 1.6 / c::STEPS as f64
        * spec.cooling_w_m2_k();
    let kept = wall.heat_j_m2(&history.profile_k);
    println!(
        "oil through the grooves {:.0} W/(m2.K), takes {:.1} % of the heat of a launch while it slips, the rest in {:.0} s; hot spots from {:.1} m/s",
        spec.cooling_w_m2_k(),
        100.0 * lost / 1.6e6,
        spec.cooling_s(),
        HeatMap::read(&ground().map, &spec).unwrap().critical_m_s
    );
    assert!(((lost + kept) / 1.6e6 - 1.0).abs() < 1e-3, "{lost} {kept}");
}
