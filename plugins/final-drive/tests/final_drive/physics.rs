//! What the pair does as its parts are changed.

use ringland_plugin::Specimen;
use ringland_plugin_final_drive::FinalDrive;
use ringland_plugin_final_drive::card::slot;
use ringland_plugin_final_drive::gears::Gears;
use ringland_plugin_final_drive::mesh::{Mating, Running};
use ringland_plugin_final_drive::spec::Spec;
use ringland_plugin_final_drive::strength::Strength;
use ringland_trials::{changed, with, with_all};

use crate::pairs;

fn solved(specimen: &Specimen) -> (Spec, Gears, Strength) {
    let spec = Spec::read(specimen).unwrap();
    let gears = Gears::new(&spec).unwrap();
    let strength = Strength::new(&spec, &gears);
    (spec, gears, strength)
}

fn added(specimen: &Specimen) -> Vec<f64> {
    pairs::prepared(specimen.clone()).after(&pairs::event())
}

/// Lengthwise sliding is what a hypoid pair pays its larger pinion with: more heat, more wear for the force.
#[test]
fn an_offset_trades_stress_for_sliding() {
    let at = |offset_m: f64| {
        let specimen = with::<FinalDrive>(&pairs::hypoid(), "offset_m", offset_m);
        let (spec, gears, _) = solved(&specimen);
        let running = Running {
            ring_rad_s: 90.0,
            torque_n_m: 2500.0,
            oil_k: 378.15,
        };
        let mesh = Mating::new(&spec, &gears.flanks[0], 1.0).mesh(&running);
        (
            gears.pair.pinion_radius_m,
            gears.pair.lengthwise_m_s(90.0),
            mesh,
        )
    };
    let (none, some, more) = (at(0.0), at(0.015), at(0.03));
    println!("offset 0, 15, 30 mm: {none:.4?} {some:.4?} {more:.4?}");
    assert!(none.0 < some.0 && some.0 < more.0);
    assert!(none.1.abs() < 1e-12 && some.1 < more.1);
    assert!(none.2.flash_k < some.2.flash_k && some.2.flash_k < more.2.flash_k);
    assert!(none.2.pinion_dose_n_m < some.2.pinion_dose_n_m);
}

/// Smoother flanks spare in every way, rougher ones in none.
#[test]
fn roughness_never_spares() {
    let mut before = added(&pairs::superfinished(&pairs::hypoid()));
    for ra_m in [0.2e-6, 0.4e-6, 0.8e-6] {
        let rough = with_all::<FinalDrive>(
            &pairs::hypoid(),
            &[("pinion_flank.ra_m", ra_m), ("ring_flank.ra_m", ra_m)],
        );
        let after = added(&rough);
        for index in 0..slot::COUNT {
            assert!(
                after[index] >= before[index] * (1.0 - 1e-9),
                "{ra_m} {index}"
            );
        }
        before = after;
    }
}

/// A bigger ring gear, evener load and stronger steel never shorten a life; a worse coefficient wears in proportion.
#[test]
fn what_helps_helps() {
    let usual = added(&pairs::hypoid());
    for (name, by) in [
        ("ring_outer_diameter_m", 1.05),
        ("face_load_factor", 0.9),
        ("contact_limit_pa", 1.05),
        ("root_limit_pa", 1.05),
        ("root.ra_m", 0.5),
    ] {
        let better = added(&changed::<FinalDrive>(&pairs::hypoid(), name, by));
        let fatigue = slot::DRIVE_PITTING..=slot::RING_ROOT;
        for index in fatigue {
            assert!(
                better[index] <= usual[index] * (1.0 + 1e-9),
                "{name} {index}"
            );
        }
    }
    let doubled =
        changed::<FinalDrive>(&pairs::hypoid(), "pinion_flank.wear_coefficient_m2_n", 2.0);
    let worn = added(&doubled);
    assert!((worn[slot::PINION_WEAR] / usual[slot::PINION_WEAR] - 2.0).abs() < 1e-9);
    assert!((worn[slot::RING_WEAR] / usual[slot::RING_WEAR] - 1.0).abs() < 1e-9);
}

/// A profile that is that of the case changes nothing; peening lengthens root life, and none other.
#[test]
fn only_what_is_over_the_case_counts() {
    let usual = added(&pairs::hypoid());
    let mut as_case = pairs::hypoid();
    as_case.surfaces[2].depth_m = vec![0.0, 1.0e-3];
    as_case.surfaces[2].residual_stress_pa = vec![-2.0e8, -2.0e8];
    assert!(ringland_trials::close(&added(&as_case), &usual, 1e-12));
    let (_, _, plain) = solved(&pairs::hypoid());
    let mut smooth = pairs::peened(&pairs::hypoid());
    smooth.surfaces[2].values[0] = 1.0e-6;
    let (_, _, peened) = solved(&smooth);
    let gain = peened.root_influence[0] / plain.root_influence[0];
    println!("peened root: strength x {gain:.3}");
    assert!((1.05..1.35).contains(&gain));
    let after = added(&smooth);
    assert!(after[slot::PINION_ROOT] < usual[slot::PINION_ROOT]);
    assert_eq!(after[slot::DRIVE_PITTING], usual[slot::DRIVE_PITTING]);
    // Tension from grinding burn costs.
    as_case.surfaces[2].residual_stress_pa = vec![2.0e8, 2.0e8];
    assert!(added(&as_case)[slot::PINION_ROOT] > usual[slot::PINION_ROOT]);
}

/// Units scale: a pair twice as large in all lengths, at eight times the torque, has the same stresses.
#[test]
fn stresses_scale_with_size() {
    let (spec, gears, _) = solved(&pairs::hypoid());
    let twice = with_all::<FinalDrive>(
        &pairs::hypoid(),
        &[
            ("ring_outer_diameter_m", 0.448),
            ("face_width_m", 0.072),
            ("offset_m", 0.04),
        ],
    );
    let (large_spec, large, _) = solved(&twice);
    for flank in 0..2 {
        let one = gears.flanks[flank].contact_stress_pa(&spec, 2000.0);
        let other = large.flanks[flank].contact_stress_pa(&large_spec, 16_000.0);
        assert!((other / one - 1.0).abs() < 1e-9);
        let one = gears.flanks[flank].root_stress_pa(&spec, 2000.0);
        let other = large.flanks[flank].root_stress_pa(&large_spec, 16_000.0);
        assert!((other[0] / one[0] - 1.0).abs() < 1e-9 && (other[1] / one[1] - 1.0).abs() < 1e-9);
    }
}
