//! Published figures through the functions that the model uses.

use ringland_mechanics::fatigue::marin::{Finish, size_factor, specimen_limit_pa, surface_factor};
use ringland_mechanics::fatigue::notch::{fatigue_notch_factor, neuber_root_m, neuber_sensitivity};
use ringland_mechanics::fatigue::{BelowKnee, SnLine};
use ringland_mechanics::shaft::{
    CHART_TOLERANCE, ShoulderLoad, TORSION_FATIGUE_RATIO, TORSION_FATIGUE_RATIO_VON_MISES,
    bending_stress_pa, forging_strength_pa, shoulder_concentration, torsion_stress_pa,
};
use ringland_plugin_crankshaft::duty::Crank;
use ringland_plugin_crankshaft::operating_map::OperatingMap;
use ringland_plugin_crankshaft::spec::Spec;
use ringland_plugin_crankshaft::stress::{CycleStress, NotchFactors, cycle_stress};

use crate::scenario::{plain, untreated};

fn near(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!(
        (found / expected - 1.0).abs() < tolerance,
        "{what}: {found}, expected {expected}"
    );
}

/// Life of a rotating shaft with a shoulder: Shigley's Mechanical Engineering Design, 9th edition, example 6-9 (factors and q read in public
/// scans; the book's life of 68 000 cycles from memory). 690 `MPa`, machined, d 32 mm, r 3 mm, D 38 mm, 6.8 kN 225 mm from one end of a span of 550 mm, the
/// shoulder 250 mm from the other.
#[test]
fn life_of_a_stepped_rotating_shaft() {
    let (ultimate, diameter, radius) = (6.9e8, 0.032, 0.003);
    let surface = surface_factor(Finish::Machined, ultimate);
    let size = size_factor(diameter).unwrap();
    near(surface, 0.797_78, 1e-4, "surface factor");
    near(size, 0.857_67, 1e-4, "size factor");
    let limit = surface * size * specimen_limit_pa(ultimate);
    near(limit, 2.36e8, 0.005, "endurance limit");
    let sensitivity = neuber_sensitivity(neuber_root_m(ultimate).unwrap(), radius);
    near(sensitivity, 0.8467, 1e-3, "notch sensitivity");
    let chart = 1.65;
    let fit = shoulder_concentration(ShoulderLoad::Bending, 0.038 / 0.032, radius / diameter);
    near(
        fit.unwrap(),
        chart,
        CHART_TOLERANCE,
        "chart reading of the shoulder",
    );
    let factor = fatigue_notch_factor(chart, sensitivity);
    near(factor, 1.550, 1e-3, "fatigue notch factor");
    let moment = 6800.0 * 0.225 / 0.550 * 0.250;
    near(moment, 695.5, 1e-3, "moment");
    // A rotating shaft: fully reversed once a turn, through the model's own count.
    let nominal = factor * bending_stress_pa(moment, diameter);
    let turn: Vec<f64> = (0..360)
        .map(|k| nominal * (f64::from(k) * std::f64::consts::TAU / 360.0).cos())
        .collect();
    let line = SnLine::through(
        (0.844 * ultimate, 1.0e3),
        (limit, 1.0e6),
        BelowKnee::Endless,
    );
    let line = line.unwrap();
    let stress = cycle_stress(&turn, &[0.0; 360], line.slope()).unwrap();
    near(stress.amplitude_pa, 3.351e8, 1e-3, "reversed stress");
    assert!(stress.mean_pa.abs() < 1.0 && stress.torsion_share < 1e-12);
    near(1.0 / line.slope(), 0.130_72, 1e-3, "exponent");
    near(line.cycles(stress.amplitude_pa), 6.86e4, 0.02, "life");
}

/// 1000 N·m on 40 mm: 79.577472 `MPa` (arithmetic); chart readings 1.65 and 1.35 at D/d 1.1875, r/d 0.09375 (public scan of a textbook) to 4 %; torsion over bending
/// strength 0.577 (von Mises) and 0.59 (Shigley).
#[test]
fn stress_of_shafts() {
    near(
        torsion_stress_pa(1000.0, 0.04),
        79.577_472e6,
        1e-8,
        "torsion",
    );
    for (load, chart) in [(ShoulderLoad::Bending, 1.65), (ShoulderLoad::Torsion, 1.35)] {
        let fit = shoulder_concentration(load, 1.1875, 0.093_75).unwrap();
        near(fit, chart, CHART_TOLERANCE, "shoulder");
    }
    // Pure torsion through the model's count: its equivalent amplitude is √3 times the shear.
    let turn: Vec<f64> = (0..360)
        .map(|k| 1.0e8 * (f64::from(k) * std::f64::consts::TAU / 180.0).cos())
        .collect();
    let two = cycle_stress(&[0.0; 360], &turn, 8.0).unwrap();
    // Two cycles in the trace count as one of 2^(1/8).
    let expected = 1.0e8 * 2.0_f64.powf(0.125) / TORSION_FATIGUE_RATIO_VON_MISES;
    near(two.amplitude_pa, expected, 1e-3, "torsion twice a trace");
    near(
        TORSION_FATIGUE_RATIO,
        TORSION_FATIGUE_RATIO_VON_MISES,
        0.025,
        "ratio",
    );
}

/// The default throw against an independent evaluation of the same remembered polynomials (3.30, 2.06) and of the published form of the fatigue
/// strength (422 `MPa` at 1050 `MPa`). The arithmetic is checked by that, not the memory.
#[test]
fn factors_of_the_default_throw() {
    let spec = Spec::read(&untreated()).unwrap();
    let factors = spec.web(0.0).factors().unwrap();
    near(factors.alpha_b, 3.30, 0.003, "alpha_B");
    near(factors.alpha_t, 2.06, 0.003, "alpha_T");
    let strength = forging_strength_pa(1.05, 1.05e9, 0.048, 0.002).unwrap();
    near(strength, 4.22e8, 1e-3, "strength");
    let felt = NotchFactors::new(&spec, 0.0).unwrap();
    assert!(felt.pin[0] < factors.alpha_b && felt.pin[0] > 0.9 * factors.alpha_b);
}

/// The model's damage of a cycle is Miner's on the S-N line: at the strength the knee, at twice the strength 2^m fewer cycles.
#[test]
fn damage_follows_the_line() {
    let mut smooth = untreated();
    smooth.surfaces[0].values[1] = 0.01e-6;
    let spec = Spec::read(&smooth).unwrap();
    let map = OperatingMap::read(&plain().map, &spec).unwrap();
    let crank = Crank::new(&spec, map, 0.0).unwrap();
    let damage = |amplitude_pa: f64| {
        let stress = CycleStress {
            amplitude_pa,
            mean_pa: 0.0,
            torsion_share: 0.2,
        };
        crank.damage_of_cycle(0, stress)
    };
    near(damage(spec.strength_pa), 1.0e-7, 0.01, "at the knee");
    near(
        damage(2.0 * spec.strength_pa),
        2.56e-5,
        0.01,
        "at twice the strength",
    );
}
