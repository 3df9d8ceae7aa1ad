//! Surfaces and choices: what each does, and in which direction.

use ringland_plugin::Specimen;
use ringland_plugin_spring_retainer::SpringRetainer;
use ringland_plugin_spring_retainer::card::{mechanism, slot};
use ringland_plugin_spring_retainer::material::STEEL;
use ringland_trials::{changed, with, with_all};

use crate::scenario::{Prepared, TREATED, bare, event, peened, treated, untreated};

/// A specimen on the default map: for what the map does not depend on.
fn worn(specimen: Specimen) -> Vec<f64> {
    bare().with(specimen).after(&event())
}

/// Wear goes with its coefficient, each in its own slot (J. F. Archard).
#[test]
fn wear_follows_its_coefficient() {
    let usual = bare().after(&event());
    let doubled = |name: &str| worn(changed::<SpringRetainer>(&untreated(), name, 2.0));
    let taper = doubled("taper.wear_coefficient_m2_n");
    assert!((taper[slot::TAPER] / usual[slot::TAPER] - 2.0).abs() < 1e-9);
    assert!((taper[slot::STEP] / usual[slot::STEP] - 1.0).abs() < 1e-12);
    let seat = doubled("spring_seat.wear_coefficient_m2_n");
    assert!((seat[slot::STEP] / usual[slot::STEP] - 2.0).abs() < 1e-9);
    let keeper = doubled("keeper.wear_coefficient_m2_n");
    assert!(keeper[slot::SINK] > usual[slot::SINK] && keeper[slot::TAPER] == usual[slot::TAPER]);
}

/// A coating spares the taper until it is through, bears no galling, and bare metal wears from there on.
#[test]
fn a_coating_spares_until_it_is_through() {
    let thin = |coating_m: f64| {
        let changes = [
            ("taper.coating_thickness_m", coating_m),
            ("taper.wear_coefficient_m2_n", 1.0e-14),
        ];
        bare().with(with_all::<SpringRetainer>(&untreated(), &changes))
    };
    let (thick, through) = (thin(3.0e-6), thin(0.05e-6));
    let event = event();
    let rows = [&thick, &through].map(|model| model.repeated(&model.begin(), &event, 10));
    assert_eq!(rows[0][slot::GALLING], 0.0);
    assert!(rows[1][slot::GALLING] > 0.0 && rows[1][slot::TAPER] > 2.0 * rows[0][slot::TAPER]);
    // Coatings of any thickness commute and cut as duty does.
    let halves = through.advance(
        &through.begin(),
        &ringland_trials::cut::<SpringRetainer>(&event, 0.37),
    );
    let whole = through.after(&event);
    assert!((halves[1][slot::TAPER] / whole[slot::TAPER] - 1.0).abs() < 1e-9);
}

/// Steel does not gall and is stiffer; free keepers are not bent by the stem.
#[test]
fn material_and_locks() {
    let mut steel = untreated();
    steel.choices[1] = STEEL;
    let row = Prepared::new(steel).after(&event());
    assert_eq!(row[slot::GALLING], 0.0);
    assert!(bare().after(&event())[slot::GALLING] > 0.0);
    let mut free = untreated();
    free.choices[2] = 1;
    let free = Prepared::new(free).after(&event());
    assert!(free[slot::TAPER] < 0.5 * bare().after(&event())[slot::TAPER]);
}

/// Residual compression at the fillet, and nothing else, spares the flange; roughness costs it.
#[test]
fn compression_spares_and_roughness_costs() {
    let damage = |model: &Prepared| model.after(&event())[slot::FLANGE];
    assert!(damage(peened()) < 0.7 * damage(bare()));
    let tension = {
        let mut specimen = untreated();
        specimen.surfaces[3].depth_m = vec![0.0, 1e-4];
        specimen.surfaces[3].residual_stress_pa = vec![2.0e8, 2.0e8];
        Prepared::new(specimen)
    };
    let rough = Prepared::new(with::<SpringRetainer>(&untreated(), "body.ra_m", 3.2e-6));
    assert!(damage(&tension) > damage(bare()) && damage(&rough) > damage(bare()));
}

/// Each number of the treatment by itself: which of them give life.
#[test]
fn what_each_number_of_the_treatment_gives() {
    let sink = |model: &Prepared| {
        let rows = model.advance(&model.begin(), &[event(), event()]);
        rows[1][slot::SINK] - rows[0][slot::SINK]
    };
    let usual = sink(bare());
    for (name, value) in TREATED {
        let one = Prepared::new(with::<SpringRetainer>(&untreated(), name, value));
        println!(
            "{name}: sink x {:.3}, step x {:.3}",
            sink(&one) / usual,
            one.after(&event())[slot::STEP] / bare().after(&event())[slot::STEP]
        );
    }
    println!("together: sink x {:.3}", sink(peened()) / usual);
    // The slippery taper gives part of what the harder one spares back.
    let slippery = Prepared::new(with::<SpringRetainer>(
        &untreated(),
        "taper.boundary_friction",
        0.102,
    ));
    assert!(sink(&slippery) > usual && sink(peened()) < usual);
}

/// Unknown surfaces widen the lives and do not move their median.
#[test]
fn a_spread_of_wear_widens_lives() {
    let mut unsure = treated();
    unsure.surfaces[0].ln_sd[1] = 0.4;
    let lives = |model: &Prepared| {
        let forecast = model.forecast(&model.begin(), &event());
        [0.1, 0.5].map(|p| {
            ringland_trials::quantile(&forecast.mechanisms[mechanism::SINK].lives_events, p)
        })
    };
    let (known, unknown) = (lives(peened()), lives(&peened().with(unsure)));
    assert!(unknown[0] < known[0] && (unknown[1] / known[1] - 1.0).abs() < 0.02);
}
