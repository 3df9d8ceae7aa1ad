//! Surfaces: what each number does, and in which direction.

use ringland_plugin::Specimen;
use ringland_plugin_axle_shaft::AxleShaft;
use ringland_plugin_axle_shaft::card::{mechanism, slot};
use ringland_plugin_axle_shaft::condition::Shaft;
use ringland_plugin_axle_shaft::spec::site;
use ringland_trials::{Record, changed, quantile, with};

use crate::scenario::{
    DEPTH_M, PEENED_PA, Prepared, TREATED, bare, event, peened, treated, untreated,
};

fn damage(specimen: Specimen) -> f64 {
    let row = Prepared::new(specimen).after(&event());
    row[0].max(row[1])
}

/// Wear goes with its coefficient and with nothing else of the surface (J. F. Archard).
#[test]
fn wear_follows_its_coefficient() {
    let usual = bare().after(&event())[slot::WEAR];
    let worn = |name: &str| {
        let specimen = changed::<AxleShaft>(&untreated(), name, 2.0);
        Prepared::new(specimen).after(&event())[slot::WEAR]
    };
    assert!((worn("spline.wear_coefficient_m2_n") / usual - 2.0).abs() < 1e-9);
    assert_eq!(worn("spline.ra_m"), usual);
}

/// A straight drive line tilts nothing: what is left is what the changes of torque slide. Wear by tilt goes with the couple, `tan(β/2)`.
#[test]
fn a_bent_drive_line_wears_the_spline() {
    let worn = |angle_rad: f64| {
        let bent = Record::edit::<AxleShaft>(&event()).channel("joint_angle_rad", angle_rad);
        bare().after(&bent.duty())[slot::WEAR]
    };
    let (straight, usual, more) = (worn(0.0), worn(0.105), worn(0.21));
    println!(
        "share of the wear by tilt at 0.105 rad: {:.3}",
        1.0 - straight / usual
    );
    let couples = 0.105_f64.tan() / 0.0525_f64.tan();
    assert!(((more - straight) / (usual - straight) / couples - 1.0).abs() < 1e-9);
    assert!(straight > 0.0 && straight < 0.1 * usual && worn(-0.105) == usual);
}

/// Residual compression spares, tension costs; each surface where it is.
#[test]
fn residual_stress_shifts_strength_where_it_is() {
    let with_stress = |surface: usize, stress_pa: &[f64]| {
        let mut specimen = untreated();
        specimen.surfaces[surface].depth_m = DEPTH_M[..stress_pa.len()].to_vec();
        specimen.surfaces[surface].residual_stress_pa = stress_pa.to_vec();
        Prepared::new(specimen).after(&event())
    };
    let usual = bare().after(&event());
    let (roots, body) = (with_stress(0, &PEENED_PA), with_stress(1, &PEENED_PA));
    assert!(roots[0] < 0.6 * usual[0] && roots[4] == usual[4]);
    assert!(body[4] < 0.6 * usual[4] && body[2] < usual[2] && body[0] == usual[0]);
    let ground = with_stress(0, &[2.0e8, 2.0e8, 1.0e8]);
    assert!(ground[0] > usual[0]);
}

/// Of residual stress less is left the harder the notch has been pulled, never less than what stays.
#[test]
fn hard_torque_takes_residual_stress() {
    let shaft = Shaft::new(&treated(), &peened().map).unwrap();
    let site = &shaft.sites[site::SPLINE];
    let yields_n_m = 9.5e8 / site.elastic_pa(1.0);
    assert!((site.retained(yields_n_m) - 0.6).abs() < 1e-12);
    assert!((site.retained(0.0) - 1.0).abs() < 1e-12);
    assert!((site.retained(1.0e6) - 0.3).abs() < 1e-12);
}

/// Each number of the treatment by itself: which of them give life.
#[test]
fn what_each_number_of_the_treatment_gives() {
    let usual = damage(untreated());
    for (name, value) in TREATED {
        let one = damage(with::<AxleShaft>(&untreated(), name, value));
        println!("{name}: damage of the spline root x {:.3}", one / usual);
    }
    let mut stress = untreated();
    stress.surfaces[0].depth_m = DEPTH_M.to_vec();
    stress.surfaces[0].residual_stress_pa = PEENED_PA.to_vec();
    println!(
        "residual stress: damage of the spline root x {:.3}",
        damage(stress) / usual
    );
    println!(
        "together: damage of the spline root x {:.3}",
        damage(treated()) / usual
    );
    assert!(damage(treated()) < usual);
}

/// Unknown surfaces widen the lives and do not move their median.
#[test]
fn a_spread_of_surface_widens_lives() {
    let mut unsure = treated();
    unsure.surfaces[0].ln_sd = vec![0.5, 0.0, 0.4];
    let unsure = peened().with(unsure);
    for index in [mechanism::SPLINE, mechanism::WEAR] {
        let lives = |model: &Prepared| {
            let forecast = model.forecast(&model.begin(), &event());
            [0.1, 0.5].map(|p| quantile(&forecast.mechanisms[index].lives_events, p))
        };
        let (known, unknown) = (lives(peened()), lives(&unsure));
        assert!(unknown[0] < known[0], "{known:?} {unknown:?}");
        assert!((unknown[1] / known[1] - 1.0).abs() < 0.02);
    }
}
