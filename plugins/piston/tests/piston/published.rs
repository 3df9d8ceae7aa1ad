//! Published and hand-worked values through the plugin's own code path.

use std::f64::consts::PI;

use ringland_engine::{Block, CycleSolver};
use ringland_mechanics::contact::GreenwoodTable;
use ringland_plugin_piston::card::slot;
use ringland_plugin_piston::duty::{Temperatures, boss_damage, hot_wear};
use ringland_plugin_piston::solve::direct;
use ringland_plugin_piston::spec::Spec;

use crate::scenario::{duty, plain};

fn spec() -> Spec {
    Spec::read(&plain().specimen).unwrap()
}

/// Side thrust by hand: (gas − inertia) · tan φ with sin φ = r/l sin θ, textbook slider-crank. At 90° after the gas-exchange dead centre
/// tan φ = 0.296552/√(1 − 0.296552²) = 0.310520.
#[test]
fn side_thrust_of_the_slider_crank() {
    let spec = spec();
    let loads = CycleSolver::new(&spec.engine, 360)
        .unwrap()
        .loads(700.0, 2.5e6)
        .unwrap();
    let quarter = 45; // of 360 points over 720°: 90° after the first
    let (pressure, forces) = (loads.pressure_pa[quarter], loads.forces[quarter]);
    let ratio: f64 = 0.043 / 0.145;
    // Exact acceleration at 90°: x'' = −(rλ)/√(1 − λ²) ω² for a centred crank.
    let acceleration = -0.043 * ratio / (1.0 - ratio * ratio).sqrt() * 700.0 * 700.0;
    let down_n = (pressure - 1.0e5) * PI * 0.086 * 0.086 / 4.0 - 0.56 * acceleration;
    let side_n = down_n * 0.310_520;
    assert!(
        (forces.side_n / side_n - 1.0).abs() < 1e-5,
        "{} {side_n}",
        forces.side_n
    );
}

/// Larson-Miller arithmetic by hand through a record: groove at 250 °C for 5 h. P = 523.15 (20 + log10 5) = 10 828.7; the fraction of the
/// way to 10 800 is 10^(20 + log10 5 − 10 800/523.15) = 1.13447.
#[test]
fn five_hours_at_250_degrees() {
    let model = plain();
    let mut specimen = model.specimen.clone();
    let card = ringland_plugin_piston::card::card();
    let mut set =
        |name: &str, value: f64| specimen.numbers[card.number_index(name).unwrap()] = value;
    // A piston whose groove has 250 °C whatever the load and speed.
    set("groove_rise_k_s_per_rad", 0.0);
    set("groove_rise_k_per_pa", 0.2e-5);
    set("jet_cooling_k", 0.0);
    let rise_k =
        0.2e-5 * ringland_mechanics::engine::bmep_pa(401.0, 4.0 * PI * 0.086_f64.powi(3) / 4.0);
    set("groove_base_k", 500.0);
    let heated = crate::scenario::prepared(specimen);
    let mut five_hours = duty(&[(8000.0, 401.0, 300.0)]);
    // Coolant makes up what is missing to 523.15 K.
    five_hours.points[3][0] = 363.15 + 523.15 - 500.0 - rise_k;
    let fraction = heated.after(&five_hours)[slot::SOFTENING];
    let by_hand = 10_f64.powf(20.0 + 5_f64.log10() - 10_800.0 / 523.15);
    assert!((by_hand - 1.134_47).abs() < 1e-4, "{by_hand}");
    assert!(
        (fraction / by_hand - 1.0).abs() < 1e-9,
        "{fraction} {by_hand}"
    );
}

/// Bearing pressure of the bosses by hand, in `MPa`: 61 kN over 2 × 16.5 × 22 mm is 84; with the factor 1.15, 96.6. Pulsating from 0 the
/// amplitude is 48.3 and the mean 48.3; Goodman with 260: 48.3/(1 − 48.3/260) = 59.3; (87/59.3)^9 · 1e7 = 3.14e8 cycles at 230 °C.
#[test]
fn boss_life_by_hand() {
    let damage = boss_damage(&spec(), [61_000.0, 0.0], 503.15, 1.0e6);
    let stress = 1.15 * 61_000.0 / (2.0 * 16.5 * 22.0);
    let reversed = 0.5 * stress / (1.0 - 0.5 * stress / 260.0);
    let by_hand = 1.0e6 / (1.0e7 * (87.0_f64 / reversed).powi(9));
    assert!((damage / by_hand - 1.0).abs() < 1e-9);
    assert!(
        (1.0e6 / damage / 3.14e8 - 1.0).abs() < 0.02,
        "{}",
        1.0e6 / damage
    );
    // Half as much again of a fully reversed load costs 1.5^9 = 38.4.
    let reversed = |force: f64| boss_damage(&spec(), [force, -force], 503.15, 1.0);
    assert!((reversed(45_000.0) / reversed(30_000.0) / 1.5_f64.powi(9) - 1.0).abs() < 1e-9);
}

/// By hand from the card's numbers: 150 + 2.6 K/bar · 27.65 bar + 1 = 222.9 °C at full torque without jets; wear doubles with 20 K (common
/// practice, no source).
#[test]
fn groove_temperature_by_hand() {
    let block = Block {
        speed_rad_s: 6250.0 * PI / 30.0,
        torque_n_m: 440.0,
        oil_pressure_pa: 0.0,
        ..Block::default()
    };
    let found = Temperatures::new(&spec(), &block, 3.0e6).groove_k - 273.15;
    assert!((found - 222.9).abs() < 0.2, "{found}");
    assert!((hot_wear(513.15) / hot_wear(493.15) - 2.0).abs() < 1e-12);
}

/// The force on the bosses at the gas-exchange dead centre is the pull of the piston alone: 0.31 kg · r ω² (1 + r/l).
#[test]
fn boss_pull_is_the_pistons_own() {
    let spec = spec();
    let loads = CycleSolver::new(&spec.engine, 360)
        .unwrap()
        .loads(838.0, 0.0)
        .unwrap();
    let cycle = direct(&spec, &GreenwoodTable::new(), &loads, 6e-3, 4);
    let pull_n = 0.31 * 0.043 * 838.0_f64.powi(2) * (1.0 + 0.043 / 0.145);
    let gas_n = loads.forces[0].gas_n;
    assert!(
        (cycle.boss_n[1] / (gas_n - pull_n) - 1.0).abs() < 0.01,
        "{:?}",
        cycle.boss_n
    );
}
