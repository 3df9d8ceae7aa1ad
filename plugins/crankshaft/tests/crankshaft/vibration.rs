//! Torsional vibration: closed forms, and speeds that count.

use std::f64::consts::PI;

use ringland_engine::CycleSolver;
use ringland_mechanics::shaft::{Complex, Harmonics};
use ringland_plugin_crankshaft::operating_map::NodeSolver;
use ringland_plugin_crankshaft::spec::Spec;
use ringland_plugin_crankshaft::torsion::{chain, respond, torque_harmonics};

use crate::scenario::untreated;

const POINTS: usize = 240;

/// A crank so stiff that nothing vibrates carries what accelerates the flywheel: the sum of torques times its share of the inertia
/// (rigid-body dynamics).
#[test]
fn a_rigid_crank_shares_torque_by_inertia() {
    let mut spec = Spec::read(&untreated()).unwrap();
    spec.shear_modulus_pa *= 1.0e6;
    spec.damper_ring_inertia_kg_m2 = 1.0e-9;
    spec.throw_damping_n_m_s_rad = 0.0;
    let solver = CycleSolver::new(&spec.engine, POINTS).unwrap();
    let loads = solver.loads(700.0, 2.0e6).unwrap();
    let torque = torque_harmonics(&Harmonics::new(POINTS), &loads);
    let rigid = chain(&spec, 0.0).unwrap();
    let vibration = respond(&spec, &rigid, 700.0, &torque).unwrap();
    let rod = 0.39 + 0.5 * 0.56;
    let throws = 4.0 * (spec.throw_inertia_kg_m2 + rod * 0.043 * 0.043);
    let all = throws + spec.hub_inertia_kg_m2 + spec.flywheel_inertia_kg_m2;
    // Order 2 (k = 4) is in phase on all throws of an in-line four: 4 times the torque of one.
    let last = vibration.sections_n_m[4].last().unwrap().magnitude();
    let closed = 4.0 * torque[4].magnitude() * spec.flywheel_inertia_kg_m2 / all;
    assert!((last / closed - 1.0).abs() < 1e-3, "{last} {closed}");
    // Orders 1 and 3 cancel over the four throws.
    for k in [2, 6] {
        let last = vibration.sections_n_m[k].last().unwrap().magnitude();
        assert!(
            last < 1e-3 * torque[k].magnitude().max(1.0),
            "k {k}: {last}"
        );
    }
}

/// Without a damper the pin of a throw sees most torque where order 4 meets the first natural frequency: dwelling there does many times the damage of
/// speeds 12 % off.
#[test]
fn dwelling_on_a_critical_speed_counts() {
    let mut spec = Spec::read(&untreated()).unwrap();
    spec.damper_ring_inertia_kg_m2 = 1.0e-6;
    let natural = chain(&spec, 0.0).unwrap().natural_frequencies_rad_s();
    let damped = chain(&Spec::read(&untreated()).unwrap(), 0.0).unwrap();
    println!(
        "natural frequencies without damper {:.0?} rad/s, with {:.0?}",
        &natural[1..4],
        &damped.natural_frequencies_rad_s()[1..4]
    );
    // The ring of next to no inertia swings by itself at its own frequency; the crank's first mode is the next to it.
    let crank = natural
        .iter()
        .copied()
        .find(|f| *f > 1.0 && (f / spec.damper_frequency_rad_s - 1.0).abs() > 0.01);
    let critical = crank.unwrap() / 4.0;
    let solver = CycleSolver::new(&spec.engine, POINTS).unwrap();
    let nodes = NodeSolver::new(&spec, POINTS).unwrap();
    let nose = 2 * spec.throws();
    let amplitude = |speed: f64| {
        let values = nodes.values(&solver.loads(speed, 2.8e6).unwrap()).unwrap();
        values[3 * nose]
    };
    let at = amplitude(critical);
    for off in [0.88, 1.12] {
        let away = amplitude(off * critical);
        println!(
            "order 4 at {:.0} 1/min: nose {:.0} MPa, at {:.0} 1/min {:.0} MPa",
            critical * 30.0 / PI,
            1e-6 * at,
            off * critical * 30.0 / PI,
            1e-6 * away
        );
        assert!(at > 1.5 * away, "{at} {away}");
    }
}

/// Power balance of the whole crank over all harmonics: what the throws put in is lost in damper, shafts and bearings, and the model's damper power is
/// the damper's part of it.
#[test]
fn what_the_throws_put_in_is_lost() {
    let spec = Spec::read(&untreated()).unwrap();
    let solver = CycleSolver::new(&spec.engine, POINTS).unwrap();
    let speed = 700.0;
    let loads = solver.loads(speed, 2.8e6).unwrap();
    let torque = torque_harmonics(&Harmonics::new(POINTS), &loads);
    let chain = chain(&spec, 0.0).unwrap();
    let (mut given_w, mut lost_w, mut damper_w) = (0.0, 0.0, 0.0);
    for (k, amplitude) in torque.iter().enumerate().skip(1) {
        let frequency = 0.5 * k as f64 * speed;
        let mut torques = vec![Complex::default(); 7];
        for (throw, fires) in spec.firing_angle_rad.iter().enumerate() {
            // A throw that fires later is behind by that angle.
            torques[2 + throw] = *amplitude * Complex::unit(-0.5 * k as f64 * fires);
        }
        let angles = chain.respond(frequency, &torques).unwrap();
        let speeds = angles.iter().map(|a| Complex::new(0.0, frequency) * *a);
        let power = torques.iter().zip(speeds);
        given_w += power
            .map(|(t, w)| 0.5 * (*t * w.conjugate()).re)
            .sum::<f64>();
        let shafts = chain.shaft_losses_w(frequency, &angles);
        damper_w += shafts[0];
        lost_w += shafts.iter().sum::<f64>();
        lost_w += chain.disc_losses_w(frequency, &angles).iter().sum::<f64>();
    }
    let found = respond(&spec, &chain, speed, &torque).unwrap().damper_w;
    println!("vibration power {given_w:.0} W, of which the damper takes {found:.0} W");
    assert!((given_w / lost_w - 1.0).abs() < 1e-9, "{given_w} {lost_w}");
    assert!((found / damper_w - 1.0).abs() < 1e-9, "{found} {damper_w}");
    assert!(found < given_w);
}
