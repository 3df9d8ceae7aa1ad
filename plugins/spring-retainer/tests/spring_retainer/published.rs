//! Published values through the plugin's own spec, joint and turn.

use ringland_mechanics::counting::Cycle;
use ringland_plugin::Specimen;
use ringland_plugin_spring_retainer::SpringRetainer;
use ringland_plugin_spring_retainer::constants as c;
use ringland_plugin_spring_retainer::joint::Site;
use ringland_plugin_spring_retainer::material::{Material, STEEL, TITANIUM};
use ringland_plugin_spring_retainer::spec::Spec;
use ringland_plugin_spring_retainer::turn::Bodies;
use ringland_plugin_spring_retainer::wear::Layered;
use ringland_trials::with_all;

use crate::scenario::untreated;

fn spec(changes: &[(&str, f64)]) -> Spec {
    Spec::read(&specimen(changes)).unwrap()
}

fn specimen(changes: &[(&str, f64)]) -> Specimen {
    with_all::<SpringRetainer>(&untreated(), changes)
}

/// Largest stress `k P/t²` and deflection `k1 P a²/(E t³)` of annular plates clamped inside and loaded at the outer edge, by outer over inner radius
/// (Mechanical Engineer's Data Handbook, page 55, case 8, read on the web; ν = 0.3 there, 0.29 for steel here: within 1.5 %).
#[test]
fn the_flange_is_the_handbooks_plate() {
    for (ratio, k1, k) in [
        (1.25, 0.005_10, 0.227),
        (1.5, 0.0249, 0.428),
        (2.0, 0.0877, 0.753),
        (3.0, 0.209, 1.205),
    ] {
        let outer = 27.0e-3;
        let mut specimen = specimen(&[
            ("flange_outer_m", outer),
            ("coil_m", outer),
            ("hub_outer_m", outer / ratio),
            ("flange_m", 1.0e-3),
        ]);
        specimen.choices[1] = STEEL;
        let flange = Spec::read(&specimen).unwrap().flange();
        let stress = flange.root_stress_pa(1.0, outer) * 1.0e-6;
        assert!((stress / k - 1.0).abs() < 0.015, "{ratio}: {stress}");
        let sag = flange.edge_sag_m(1.0, outer) * 2.05e11 * 1.0e-9 / (0.25 * outer * outer);
        assert!((sag / k1 - 1.0).abs() < 0.015, "{ratio}: {sag}");
    }
}

/// Hoop stress at the bore `p (R² + r²)/(R² − r²)` (Lamé; formula as printed in textbooks and read on the web): 5/3 p where the hub is twice its bore, 17/8 p of
/// a 60 by 100 mm cylinder.
#[test]
fn the_hub_is_lames_ring() {
    for (outer, expected) in [(17.0e-3, 5.0 / 3.0), (8.5e-3 * 10.0 / 6.0, 17.0 / 8.0)] {
        let hub = spec(&[("hub_outer_m", outer), ("coil_m", 25.0e-3)]).hub();
        assert!(
            (hub.bore_hoop() - expected).abs() < 1e-9,
            "{}",
            hub.bore_hoop()
        );
    }
}

/// A stress cycle of 200 about 150 MPa in a material of 900 MPa is 240 MPa fully reversed by J. Goodman's line (textbook arithmetic); about −150 MPa it is
/// 171.429. Here in shares of the tensile strength, through residual stress, strength and S-N line of the hub.
#[test]
fn goodman_through_the_hub() {
    for material in [STEEL, TITANIUM] {
        let mut specimen = specimen(&[("body.ra_m", 0.1e-6)]);
        specimen.choices[1] = material;
        let spec = Spec::read(&specimen).unwrap();
        let (scale, strength) = (spec.material.tensile_pa / 900.0, spec.material.strength_pa);
        let site = Site::hub(&spec).unwrap();
        for (mean, reversed) in [(150.0, 240.0), (-150.0, 171.428_571)] {
            let share = site.utilisation(&spec, 200.0 * scale, mean * scale);
            let equal = spec.material.strength_pa * share;
            // The line is that of strengths; equal damage by Goodman's amplitude only where share is 1.
            let limit = 200.0 * scale / (strength * (1.0 - mean / 900.0));
            assert!((share / limit - 1.0).abs() < 1e-9, "{equal}");
            assert!(
                (strength * share / (reversed * scale) - 1.0).abs() < 1e-6,
                "{share}"
            );
        }
    }
}

/// The endurance at the knee is that of Miner and Basquin: a tenth more stress is 1.1^9 of the damage, cycles add up (P. G. Basquin, M. A. Miner).
#[test]
fn miner_and_basquin_through_the_flange() {
    let spec = spec(&[]);
    let bodies = Bodies::new(&spec).unwrap();
    let cycle = |by: f64, count| Cycle {
        range: 4000.0 * by,
        mean: 0.0,
        count,
    };
    let one = bodies.flange_damage(&cycle(1.0, 1.0));
    assert!((bodies.flange_damage(&cycle(1.1, 1.0)) / one / 1.1_f64.powi(9) - 1.0).abs() < 1e-9);
    assert!((bodies.flange_damage(&cycle(1.0, 0.5)) / one - 0.5).abs() < 1e-12);
}

/// Archard: 1e-6 of dimensionless coefficient, 200 N, 1e6 m, 6 GPa are 33.3333 mm³ (arithmetic of the law). Over an area of 100 mm² that is a depth of 0.333 mm.
#[test]
fn archard_through_the_taper() {
    let (hardness, area) = (6.0e9, 1.0e-4);
    let spec = spec(&[("taper.wear_coefficient_m2_n", 1.0e-6 / hardness)]);
    let taper = Layered::new(spec.taper, &spec.material, c::TAPER_WEAR_M2_N);
    let (depth, _) = taper.worn(0.0, 200.0 / area * 1.0e6);
    assert!((depth * area / 33.3333e-9 - 1.0).abs() < 1e-5, "{depth}");
}

/// The calibrated coefficients times a hardness of 3.5 GPa (titanium, from memory) lie between a fretting coefficient, 1e-6 to 1e-4 (a lecture read on the
/// web), and those of unlubricated metals, up to 1e-2 (from memory): bounds, no more.
#[test]
fn coefficients_lie_where_fretting_does() {
    for coefficient in [c::TAPER_WEAR_M2_N, c::SEAT_WEAR_M2_N] {
        let dimensionless = coefficient * 3.5e9;
        println!("wear coefficient {dimensionless:.1e}");
        assert!((1e-6..1e-2).contains(&dimensionless));
    }
}

/// Materials in order: titanium is softer, weaker and lighter to bend (from memory of handbooks).
#[test]
fn materials_stand_in_order() {
    let [steel, titanium] = [STEEL, TITANIUM].map(Material::of);
    for material in [steel, titanium] {
        assert!(
            material.strength_pa < material.yield_pa && material.yield_pa < material.tensile_pa
        );
        let ratio = material.strength_pa / material.tensile_pa;
        assert!((0.4..0.6).contains(&ratio), "{ratio}");
    }
    assert!((steel.shear_pa() / 7.95e10 - 1.0).abs() < 0.02 && titanium.shear_pa() < 4.5e10);
}
