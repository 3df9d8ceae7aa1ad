//! Published and hand-worked values through the plugin's own code path.

use std::f64::consts::PI;

use ringland_engine::CycleSolver;
use ringland_mechanics::piston_pin::{thin_ring_cosine_m, thin_ring_opposite_points_m};
use ringland_plugin_piston_pin::card::reading;
use ringland_plugin_piston_pin::duty::pin_damage;
use ringland_plugin_piston_pin::solve::steps;
use ringland_plugin_piston_pin::spec::Spec;

use crate::scenario::{event, plain};

fn spec() -> Spec {
    Spec::read(&plain().specimen).unwrap()
}

/// The swing by hand: in a turn the pin swings four times asin(r/l) and slides half of that times its radius in the bush (half in the
/// bosses): 0.5 · 4 · 11 mm · 0.30108 = 6.62 mm, 13.2 mm for two turns.
#[test]
fn sliding_by_hand() {
    let spec = spec();
    let loads = CycleSolver::new(&spec.engine, 720)
        .unwrap()
        .loads(700.0, 1.0e6)
        .unwrap();
    let slid_m: f64 = steps(&spec, &loads, 1.0)
        .iter()
        .map(|step| step.sliding_m_s)
        .sum::<f64>()
        * loads.period_s()
        / 720.0;
    let by_hand = 2.0 * 0.5 * 4.0 * 0.011 * (0.043_f64 / 0.145).asin();
    assert!((by_hand - 13.25e-3).abs() < 0.01e-3);
    assert!((slid_m / by_hand - 1.0).abs() < 1e-3, "{slid_m} {by_hand}");
}

/// Force at the gas-exchange dead centre: the pull of piston and pin, 0.43 kg · r ω² (1 + r/l), less the gas. Force at firing dead centre, where
/// the rod is upright: gas less that pull.
#[test]
fn forces_at_the_dead_centres() {
    let spec = spec();
    let loads = CycleSolver::new(&spec.engine, 360)
        .unwrap()
        .loads(650.0, 2.9e6)
        .unwrap();
    let steps = steps(&spec, &loads, 1.0);
    let area = PI * 0.086 * 0.086 / 4.0;
    let pull = 0.43 * 0.043 * 650.0_f64.powi(2) * (1.0 + 0.043 / 0.145);
    for point in [0, 180] {
        let by_hand = (loads.pressure_pa[point] - 1.0e5) * area - pull;
        assert!(
            (steps[point].force_n - by_hand).abs() < 1e-6 * pull,
            "{point}"
        );
    }
    assert!(steps[0].force_n < 0.0, "the load turns");
}

/// Damage by hand, `MPa`: 57 750 N bend the pin by 439.4 and ovalise it by 26.0 µm, 277 round it; von Mises 439.4² + 439.4 · 277 + 277² = 625². From 0
/// the amplitude is 312.6 about 312.6; Goodman with 1800: 378.3; (550/378.3)^9 · 1e7 = 2.9e8 cycles.
#[test]
fn pin_life_by_hand() {
    let spec = spec();
    let (along, round) = (
        spec.pin.bending_stress_pa(57_750.0),
        spec.pin
            .ovalisation_stress_pa(spec.pin.ovalisation_m(57_750.0)),
    );
    assert!(
        (along - 439.4e6).abs() < 0.2e6 && (round - 277.0e6).abs() < 3.0e6,
        "{along} {round}"
    );
    let equivalent = (along * along + along * round + round * round).sqrt();
    let half = 0.5 * equivalent;
    let reversed = half / (1.0 - half / 1.8e9);
    let by_hand = 1.0 / (1.0e7 * (5.5e8 / reversed).powi(9));
    let found = pin_damage(&spec, [57_750.0, 0.0], 1.0);
    assert!((found / by_hand - 1.0).abs() < 1e-9);
    assert!((1.0 / found / 2.9e8 - 1.0).abs() < 0.05, "{}", 1.0 / found);
}

/// The reading of ovalisation lies between the thin rings under cosine and point loads of the full-load force.
#[test]
fn ovalisation_between_thin_rings() {
    let spec = spec();
    let forecast = plain().forecast(&plain().begin(), &event());
    let force_n = forecast.readings[reading::PEAK_PRESSURE].median[0] * spec.bush_area_m2();
    let found = forecast.readings[reading::OVALISATION].median[0];
    assert!(found > thin_ring_cosine_m(&spec.pin, force_n));
    assert!(found < thin_ring_opposite_points_m(&spec.pin, force_n));
}
