//! Laws and closed forms of the taper on friction.

use super::*;
use proptest::prelude::*;

fn joint(friction: f64) -> MicroSlip {
    MicroSlip {
        cone: Cone {
            half_angle_rad: 7.0_f64.to_radians(),
            mean_m: 8.5e-3,
            length_m: 10.0e-3,
            friction,
        },
        normal_pa_m: 1.0e13,
        shear_pa_m: 3.4e13,
        hub_bending_n_m2: 186.0,
        core_bending_n_m2: 52.0,
        edge_modulus_pa: 1.6e11,
        hub_n: 1.1e7,
        core_n: 1.16e7,
        load_at: 0.8,
        reaction_at: 0.5,
        roll: Roll {
            stiffness_n_m: 3.7e4,
            centre_m: 5.7e-3,
        },
        roll_arm_m: 6.75e-3,
        stations: 24,
        steps: 4,
    }
}

/// Driven on, the pressures carry the force as a rigid wedge's do: `∫ p b dz (sin α + μ cos α) = F`.
#[test]
fn driven_on_it_is_the_wedge() {
    let joint = joint(0.12);
    let mut march = March::new(&joint);
    march.go_to(926.0).unwrap();
    let mean = march.stations.iter().map(|s| s.pressure_pa).sum::<f64>() / 24.0;
    assert!(
        (mean / joint.cone.pressure_pa(926.0) - 1.0).abs() < 1e-6,
        "{mean}"
    );
}

/// A hub that does not roll.
const STIFF: Roll = Roll {
    stiffness_n_m: 1.0e15,
    centre_m: 5.0e-3,
};

/// Without friction and with stiff bars: even pressure of the wedge, and a slope of pressure that carries the couple with the ring,
/// `θ = F a/(K + k_n π D L³/12)` for a roll about the middle (by hand; the sine and cosine of the cone left out of the second term to first order).
#[test]
fn the_hub_rolls_against_its_contact() {
    let joint = MicroSlip {
        hub_n: 1.0e13,
        core_n: 1.0e13,
        roll: Roll {
            centre_m: 5.0e-3,
            ..joint(0.12).roll
        },
        stations: 200,
        ..joint(0.0)
    };
    let mut march = March::new(&joint);
    march.go_to(600.0).unwrap();
    let (cone, cos) = (joint.cone, joint.cone.half_angle_rad.cos());
    let contact =
        joint.normal_pa_m * cos * std::f64::consts::PI * cone.mean_m * cone.length_m.powi(3) / 12.0;
    let expected = 600.0 * joint.roll_arm_m / (joint.roll.stiffness_n_m + contact);
    assert!(
        (march.roll_rad / expected - 1.0).abs() < 2e-3,
        "{} {expected}",
        march.roll_rad
    );
    let (first, last) = (
        march.stations[0].pressure_pa,
        march.stations[199].pressure_pa,
    );
    let even = cone.pressure_pa(600.0);
    assert!((0.5 * (first + last) / even - 1.0).abs() < 1e-3 && last > 1.2 * first);
}

/// Bar on a friction foundation (closed form by hand): a force that falls by ΔF at the end of a bar held by even friction makes a length
/// `l = ΔF/(2 f)` slide, by `ΔF²/(4 EA f)` at the end and a third of that on the mean over l, with f the friction over length; there and back alike.
#[test]
fn the_bar_on_friction() {
    let fine = MicroSlip {
        cone: Cone {
            length_m: 20.0e-3,
            ..joint(0.12).cone
        },
        normal_pa_m: 1.0e11,
        shear_pa_m: 2.0e16,
        core_n: 1.0e12,
        load_at: 1.0,
        reaction_at: 0.0,
        roll_arm_m: 0.0,
        roll: STIFF,
        stations: 400,
        steps: 8,
        ..joint(0.12)
    };
    let (high_n, fall_n) = (926.0, 200.0);
    let cycle = fine.cycle(&[high_n, high_n - fall_n]).unwrap();
    let pressure = fine.cone.pressure_pa(high_n);
    let friction_n_m = 0.12 * pressure * std::f64::consts::PI * fine.cone.mean_m;
    let slides_m = fall_n / (2.0 * friction_n_m);
    assert!(slides_m < 0.5 * fine.cone.length_m, "{slides_m}");
    let end_m = fall_n * fall_n / (4.0 * fine.hub_n * friction_n_m);
    let mean_m = 2.0 * end_m / 3.0 * slides_m / fine.cone.length_m;
    assert!(
        (cycle.slid_m / mean_m - 1.0).abs() < 0.02,
        "{} {mean_m}",
        cycle.slid_m
    );
    assert!((cycle.dose_pa_m / (pressure * mean_m) - 1.0).abs() < 0.02);
    assert!(cycle.came_off == 0);
}

/// Forces, and with them every pressure and shift, scale together: the dose goes with the square.
#[test]
fn the_dose_goes_with_the_square_of_the_forces() {
    let joint = joint(0.12);
    let one = joint.cycle(&[900.0, 350.0, 600.0, 420.0]).unwrap();
    let two = joint.cycle(&[1800.0, 700.0, 1200.0, 840.0]).unwrap();
    assert!((two.dose_pa_m / one.dose_pa_m - 4.0).abs() < 1e-5);
    assert!((two.slid_m / one.slid_m - 2.0).abs() < 1e-5);
}

/// A rigid wedge slides back below `(tan α − μ)/(tan α + μ)` of its highest force: with 0.04 at half of it. Beyond that sliding is of
/// the size of the whole elastic travel, before it micro-slip.
#[test]
fn below_the_share_at_which_a_wedge_slides_back_all_of_it_slides() {
    let slippery = joint(0.04);
    let share = slippery.cone.slides_back_share();
    let (above, below) = (share + 0.05, share - 0.2);
    let held = slippery.cycle(&[1000.0, 1000.0 * above]).unwrap();
    let back = slippery.cycle(&[1000.0, 1000.0 * below]).unwrap();
    assert!(
        back.slid_m > 5.0 * held.slid_m,
        "{} {}",
        held.slid_m,
        back.slid_m
    );
}

/// A cone that locks itself holds without a force and against some pull; one that does not lets go.
#[test]
fn a_force_that_turns_round_takes_the_hub_off() {
    let locking = joint(0.16);
    assert_eq!(locking.cycle(&[1000.0, 0.0]).unwrap().came_off, 0);
    assert_eq!(locking.cycle(&[1000.0, -50.0]).unwrap().came_off, 0);
    let off = locking.cycle(&[1000.0, -400.0]).unwrap();
    assert_eq!(off.came_off, 1);
    assert_eq!(joint(0.10).cycle(&[1000.0, -1.0]).unwrap().came_off, 1);
    let on = locking.cycle(&[1000.0, 0.0]).unwrap();
    assert!(
        off.dose_pa_m > 5.0 * on.dose_pa_m,
        "{} {}",
        off.dose_pa_m,
        on.dose_pa_m
    );
    assert_eq!(
        joint(0.1).cycle(&[-1.0, -5.0]).unwrap(),
        SlipCycle::default()
    );
}

/// Four times the cells and steps change the dose by less than 5 %, where only the ends slide, where some of it does and where it comes off.
#[test]
fn cells_and_steps_refined() {
    for (high, low, moment) in [
        (926.0, 390.0, 1.0),
        (950.0, 184.0, 0.3),
        (1000.0, -60.0, 0.0),
    ] {
        let dose = |stations, steps| {
            let joint = MicroSlip {
                stations,
                steps,
                ..joint(0.12)
            };
            let cycle = joint.cycle(&[high, low]).unwrap();
            let loads = [(high, moment), (low, 0.0)];
            joint.with_edges(cycle, &loads).dose_pa_m
        };
        let off = dose(24, 4) / dose(96, 16) - 1.0;
        assert!(off.abs() < 0.05, "{high} {low} {moment}: {off}");
    }
}

/// The strip against the beam on a friction foundation, an independent theory of the same slip: a moment that turns round by M bends the core, friction 2 μ p
/// around it brings `f = 4 R² 2 μ p` of moment over length into the hub until both bend alike, after `l = M/EI_core/(f (1/EI_hub + 1/EI_core))`; or, where that is
/// more than half of the contact, all along it. Integrated numerically, on the mean around: that friction acts the same way all around, where here each plane
/// slides by itself.
#[test]
fn ends_slide_as_the_beam_on_friction() {
    let joint = joint(0.12);
    let (pressure, radius, half) = (14.0e6, 0.5 * 8.5e-3, 0.5 * joint.cone.length_m);
    let friction = 4.0 * radius * radius * 2.0 * 0.12 * pressure;
    for moment in [0.7, 1.0, 1.5, 2.0, 3.0, 5.0] {
        let steps = 10_000;
        let step = half / f64::from(steps);
        let (mut slip, mut area) = (0.0, 0.0);
        for k in (0..steps).rev() {
            let brought = friction * (f64::from(k) + 0.5) * step;
            let strain = ((moment - brought) / 52.0 - brought / 186.0) * radius;
            slip += strain.max(0.0) * step;
            area += slip * step;
        }
        let planes = (0..32).map(|k| {
            let around = (std::f64::consts::PI * (f64::from(k) + 0.5) / 64.0).cos();
            let range = joint.end_traction().per_n_m * around * moment;
            joint.edge(range, pressure).slid_m / 32.0
        });
        let around = 2.0 / std::f64::consts::PI;
        let (found, expected) = (
            planes.sum::<f64>(),
            around * 2.0 * area / joint.cone.length_m,
        );
        println!("{moment} N.m: slid {found:.3e} m, beam {expected:.3e} m");
        // Short of 1/λ the strip is the shorter, and slides less.
        let least = if moment < 1.5 { 0.4 } else { 0.75 };
        assert!(
            (least..1.25).contains(&(found / expected)),
            "{moment}: {found} {expected}"
        );
    }
}

/// Without friction to speak of the core bends freely in the hub: its ends slide by `M R L/(2 EI_core)`, and never by more.
#[test]
fn a_free_core_bounds_the_slip() {
    let free_m = 3.0 * 0.5 * 8.5e-3 * 0.5 * 0.01 / 52.0;
    for (friction, least) in [(0.002, 0.97), (0.05, 0.0), (0.2, 0.0)] {
        let joint = joint(friction);
        let edge = joint.edge(joint.end_traction().per_n_m * 3.0, 14.0e6);
        let share = edge.worst_dose_pa_m / (2.0 * 14.0e6) / free_m;
        assert!(share <= 1.0 && share >= least, "{friction}: {share}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// Any joint within reason is solved for any forces, and a deeper fall never slides less.
    #[test]
    fn any_joint_is_solved(
        friction in 0.03..0.35_f64, angle in 0.07..0.2_f64, shear in 0.3..8.0_f64, bars in 0.2..5.0_f64,
        load_at in 0.0..1.0_f64, low in -800.0..1900.0_f64, deeper in 0.0..300.0_f64,
    ) {
        let base = joint(friction);
        let joint = MicroSlip {
            cone: Cone { half_angle_rad: angle, ..base.cone },
            shear_pa_m: base.shear_pa_m * shear,
            hub_n: base.hub_n * bars,
            load_at,
            ..base
        };
        let one = joint.cycle(&[2000.0, low]).unwrap();
        let more = joint.cycle(&[2000.0, low - deeper]).unwrap();
        prop_assert!(one.dose_pa_m.is_finite() && one.dose_pa_m >= 0.0);
        prop_assert!(more.dose_pa_m >= one.dose_pa_m * (1.0 - if one.came_off > 0 { 0.03 } else { 1e-3 }) - 1e-6, "{one:?} {more:?}");
        prop_assert!(one.worst_dose_pa_m >= one.dose_pa_m);
    }
}

/// The strip's sliding integrated: `√(1 − ξ) − (ξ/2) ln((1 + √(1 − ξ))/(1 − √(1 − ξ)))` of that at the end (Dugdale's opening close to a crack; textbook)
/// is a third on the mean; and the whole dose is `G d/(6 μ L)` one way, whatever the pressure.
#[test]
fn the_strip_at_an_end() {
    let steps = 200_000;
    let mean: f64 = (0..steps)
        .map(|k| {
            let xi = (f64::from(k) + 0.5) / f64::from(steps);
            let root = (1.0 - xi).sqrt();
            root - 0.5 * xi * ((1.0 + root) / (1.0 - root)).ln()
        })
        .sum::<f64>()
        / f64::from(steps);
    assert!((mean - 1.0 / 3.0).abs() < 1e-6, "{mean}");
    let joint = joint(0.12);
    let (range_pa, pressure_pa) = (2.0e6_f64, 14.0e6);
    let edge = joint.edge(range_pa, pressure_pa);
    let released = range_pa * range_pa / (2.0 * 3.4e13);
    let strip_m = std::f64::consts::PI / 8.0 * 1.6e11 * released / (0.24 * pressure_pa).powi(2);
    let expected = 2.0 * released * strip_m / (6.0 * 0.12 * 0.01);
    // The contact is not endless: its ends ease each other by some hundredths.
    assert!(
        (edge.dose_pa_m / expected - 1.0).abs() < 0.08,
        "{} {expected}",
        edge.dose_pa_m
    );
    assert!((edge.worst_dose_pa_m * 0.12 / released - 1.0).abs() < 0.08);
}

/// Ends of the stuck joint in closed form: a force that enters the hub and leaves the core at the middle of even bars shifts them by
/// `F C_/(2 EA λ sinh(λL/2))` at both ends, `λ² = C b k`; bending as the documentation has it, solved by differences here.
#[test]
fn stuck_ends_in_closed_form() {
    let even = MicroSlip {
        load_at: 0.5,
        reaction_at: 0.5,
        stations: 400,
        ..joint(0.12)
    };
    let (sin, cos) = even.angle();
    let stuck = even.normal_pa_m * sin * sin + even.shear_pa_m * cos * cos;
    let rate = (even.give() * stuck).sqrt();
    let both = 1.0 / even.hub_n + 1.0 / even.core_n;
    let end_m_n = both / (2.0 * rate * (0.5 * rate * even.cone.length_m).sinh());
    let traction = even.end_traction();
    for per_n in traction.per_n {
        assert!(
            (per_n / (even.shear_pa_m * cos * end_m_n) - 1.0).abs() < 1e-3,
            "{per_n}"
        );
    }
    // s″ = λ² s from the middle, where s = 0, to the end, where the slope is M R/EI: shooting.
    let radius = 0.5 * even.cone.mean_m;
    let square = std::f64::consts::PI * radius.powi(3) * stuck * (1.0 / 186.0 + 1.0 / 52.0);
    let (steps, mut shift, mut slope) = (100_000, 0.0, 1.0);
    let step = 0.5 * even.cone.length_m / f64::from(steps);
    for _ in 0..steps {
        slope += square * shift * step;
        shift += slope * step;
    }
    let end_m = shift / slope * radius / 52.0;
    let expected = even.shear_pa_m * cos * end_m;
    assert!(
        (traction.per_n_m / expected - 1.0).abs() < 1e-3,
        "{} {expected}",
        traction.per_n_m
    );
}

/// A moment makes the ends slide more, whichever way it bends; forces and moments scale together.
#[test]
fn ends_slide_by_force_and_moment() {
    let joint = joint(0.12);
    let held = joint.cycle(&[926.0, 400.0]).unwrap();
    let ends = |scale: f64, moment: f64| {
        let cycle = joint.cycle(&[926.0 * scale, 400.0 * scale]).unwrap();
        joint.with_edges(
            cycle,
            &[(926.0 * scale, moment * scale), (400.0 * scale, 0.0)],
        )
    };
    let (force, bent, other) = (ends(1.0, 0.0), ends(1.0, 1.0), ends(1.0, -1.0));
    assert!(force.dose_pa_m > held.dose_pa_m && bent.dose_pa_m > 3.0 * force.dose_pa_m);
    assert!((bent.dose_pa_m / other.dose_pa_m - 1.0).abs() < 1e-9);
    assert!((ends(2.0, 1.0).dose_pa_m / bent.dose_pa_m - 4.0).abs() < 1e-6);
}
