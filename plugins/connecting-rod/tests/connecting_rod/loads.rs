//! Forces and bending against statics and textbook formulas.

use ringland_engine::{CycleSolver, POINTS};
use ringland_plugin_connecting_rod::spec::{Spec, site};
use ringland_plugin_connecting_rod::stress::{bending_n_m, forces, peaks_n, traces};

use crate::scenario::untreated;

fn spec() -> Spec {
    Spec::read(&untreated()).unwrap()
}

/// At the gas-exchange dead centre, textbook: m r ω² (1 + r/l) of what hangs on the section, and the big end's share above the split at r ω²;
/// the gas pushes back.
#[test]
fn tension_at_the_upper_dead_centre() {
    let spec = spec();
    let loads = CycleSolver::new(&spec.engine, POINTS).unwrap();
    let loads = loads.loads(837.758, 2.5e6).unwrap();
    let at = forces(&spec, &loads, 0).unwrap();
    let gas_n = loads.forces[0].gas_n;
    let throw = 0.043 * 837.758_f64.powi(2);
    let pull = throw * (1.0 + 0.043 / 0.145);
    for (found, expected) in [
        (at.eye_n, 0.43 * pull - gas_n),
        (at.beam_n, 0.56 * pull - gas_n),
        (at.split_n, 0.56 * pull + 0.25 * throw - gas_n),
    ] {
        assert!((found / expected - 1.0).abs() < 1e-9, "{found} {expected}");
    }
    assert!(at.across_n_m.iter().all(|load| load.abs() < 1e-6));
}

/// A bar whipped at one end: the load rises straight to m' r ω² there; the moment is largest at 1/√3 of the length, w l²/(9 √3) (textbook, from
/// memory). Equal loads at both ends: w l²/8 in the middle.
#[test]
fn bending_by_the_rods_own_inertia() {
    let place = 1.0 / 3.0_f64.sqrt();
    let found = bending_n_m([0.0, 1000.0], 0.145, place);
    let textbook = 1000.0 * 0.145 * 0.145 / (9.0 * 3.0_f64.sqrt());
    assert!((found / textbook - 1.0).abs() < 1e-12);
    assert!(bending_n_m([0.0, 1000.0], 0.145, place + 0.01) < found);
    assert!(bending_n_m([0.0, 1000.0], 0.145, place - 0.01) < found);
    let even = bending_n_m([1000.0, 1000.0], 0.145, 0.5);
    assert!((even / (1000.0 * 0.145 * 0.145 / 8.0) - 1.0).abs() < 1e-12);
}

/// The transverse acceleration of both ends by differences of their positions over crank angle: independent of the formulas.
#[test]
fn the_transverse_load_is_mass_times_acceleration() {
    let spec = spec();
    let (radius, length, speed) = (0.043, 0.145, 800.0);
    let solver = CycleSolver::new(&spec.engine, POINTS).unwrap();
    let loads = solver.loads(speed, 2.0e6).unwrap();
    let mass_kg_m = 7850.0 * 2.0e-4;
    let sine = |angle: f64| radius / length * angle.sin();
    let crank_pin = |angle: f64| (radius * angle.sin(), radius * angle.cos());
    let piston_pin = |angle: f64| {
        let swing = sine(angle).asin();
        (0.0, radius * angle.cos() + length * swing.cos())
    };
    let second = |of: &dyn Fn(f64) -> (f64, f64), angle: f64| {
        let h = 1e-4;
        let (a, b, c) = (of(angle - h), of(angle), of(angle + h));
        let by = speed * speed / (h * h);
        ((a.0 - 2.0 * b.0 + c.0) * by, (a.1 - 2.0 * b.1 + c.1) * by)
    };
    for point in (0..POINTS).step_by(17) {
        let angle = loads.angle_rad[point];
        let swing = sine(angle).asin();
        let normal = (swing.cos(), swing.sin());
        let across = |a: (f64, f64)| -mass_kg_m * (a.0 * normal.0 + a.1 * normal.1);
        let expected = [
            across(second(&piston_pin, angle)),
            across(second(&crank_pin, angle)),
        ];
        let found = forces(&spec, &loads, point).unwrap().across_n_m;
        for (found, expected) in found.iter().zip(expected) {
            assert!(
                (found - expected).abs() < 2.0,
                "{point}: {found} {expected}"
            );
        }
    }
}

/// The joint never sees compression; the shoulder sees both; both faces of the beam see the same in the dead centres.
#[test]
fn what_each_site_sees() {
    let spec = spec();
    let loads = CycleSolver::new(&spec.engine, POINTS).unwrap();
    let loads = loads.loads(800.0, 2.9e6).unwrap();
    let range = |trace: &[f64]| {
        let bounds = (f64::INFINITY, f64::NEG_INFINITY);
        trace
            .iter()
            .fold(bounds, |(low, high), s| (low.min(*s), high.max(*s)))
    };
    let [spot_face, other] = traces(&spec, &loads, site::SPOT_FACE);
    assert!(range(&spot_face).0 >= 0.0 && spot_face == other);
    let [leading, trailing] = traces(&spec, &loads, site::SHOULDER);
    let (low, high) = range(&leading);
    assert!(low < 0.0 && high > 0.0 && leading != trailing);
    assert!((leading[0] - trailing[0]).abs() < 1.0);
    let (tension_n, compression_n) = peaks_n(&loads);
    assert!(tension_n > 15.0e3 && compression_n > 40.0e3);
}
