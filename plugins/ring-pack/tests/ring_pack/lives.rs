//! Lives over the default event against common practice (no source): untreated rings 6 to 7 events to 0.10 mm of gap growth,
//! treated ones about twice; an untreated pack seats almost at once, a treated one over several full-load pulls; rings about half
//! of engine friction. Wear coefficients and seating constants are calibrated (card); the treated set was chosen among trials that gave 1.9 to 3.8 times; the
//! friction is neither.

use ringland_trials::{medians, print_lives};

use crate::scenario::{Prepared, duty, event, plain, smooth};

/// Median lives by each mechanism.
fn lives(name: &str, prepared: &Prepared) -> Vec<f64> {
    let per_hour = 1.0e6 * 3600.0 / event().duration_s;
    let first = prepared.after(&event());
    let [top, bore] = [first[0], first[3]].map(|wear_m| wear_m * per_hour);
    println!("  over the first event: top face {top:.2} um/h, bore {bore:.2} um/h");
    medians(&print_lives(name, prepared, &event()))
}

#[test]
fn lives_over_the_default_event() {
    let untreated = lives("untreated", plain());
    let treated = lives("treated", smooth());
    println!(
        "end gap: treated over untreated {:.2}",
        treated[0] / untreated[0]
    );
    assert!((6.0..7.0).contains(&untreated[0]), "{untreated:?}");
    assert!(
        (1.6..2.6).contains(&(treated[0] / untreated[0])),
        "{treated:?}"
    );
    // The gap governs, as in practice.
    assert!(
        untreated[1..].iter().all(|life| *life > untreated[0]),
        "{untreated:?}"
    );
}

/// Seated share after each 12 s pull at full load from 6000 to 8000 1/min.
#[test]
fn pulls_to_seat() {
    let pull = duty(&[
        (6500.0, 435.0, 0.07),
        (7250.0, 425.0, 0.07),
        (7850.0, 408.0, 0.06),
    ]);
    let after = |prepared: &Prepared| -> Vec<f64> {
        prepared
            .advance(&prepared.begin(), &vec![pull.clone(); 8])
            .iter()
            .map(|row| 1.0 - (-row[4]).exp())
            .collect()
    };
    let (untreated, treated) = (after(plain()), after(smooth()));
    println!("seated share by pull: untreated {untreated:.3?}\n  treated {treated:.3?}");
    let pulls = |shares: &[f64]| shares.iter().take_while(|share| **share < 0.95).count() + 1;
    assert!(untreated[0] > 0.7, "almost at once: {untreated:?}");
    assert!(
        (3..=6).contains(&pulls(&treated)),
        "several pulls: {treated:?}"
    );
}

/// Ring friction is bounded by what it can be: above 0, below half of all engine friction after Chen and Flynn. Common practice puts
/// it near that half of *rubbing* friction; a flooded film gives far less (README).
#[test]
fn ring_friction_is_a_part_of_engine_friction() {
    use ringland_mechanics::film::pack::{FilmTemperature, Grid, Pack, Running};
    let spec = ringland_plugin_ring_pack::spec::Spec::read(&plain().specimen).unwrap();
    let spec = spec.rings.pack;
    let pack = Pack::new(&spec, Grid::MAP).unwrap();
    let speed = spec.rated_speed_rad_s;
    let gas = pack.gas(speed, spec.full_load_imep_pa, 0.0, 0.0).unwrap();
    let film = FilmTemperature::new(&spec, 363.15, 378.15, speed, spec.full_load_imep_pa);
    let work: f64 = (0..3)
        .map(|ring| {
            pack.ring_cycle(ring, &gas, speed, &film, Running::SEATED)
                .unwrap()
                .friction_j
        })
        .sum();
    let fmep_pa = work / spec.displacement_m3();
    println!(
        "full load: rings {:.3} bar of {:.2} bar engine friction: {:.1} %",
        fmep_pa / 1e5,
        gas.load.fmep_pa / 1e5,
        100.0 * fmep_pa / gas.load.fmep_pa
    );
    assert!(fmep_pa > 0.005 * gas.load.fmep_pa && fmep_pa < 0.5 * gas.load.fmep_pa);
}
