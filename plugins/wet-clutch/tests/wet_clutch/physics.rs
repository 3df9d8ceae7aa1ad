//! What the pack does, each effect by itself.

use ringland_plugin_wet_clutch::WetClutch;
use ringland_plugin_wet_clutch::card::{mechanism, reading, slot};
use ringland_trials::{Record, changed, fields, median, with, with_all};

use crate::scenario::{Prepared, event, ground, hour, launch, untreated, with_launches};

/// A pack of 10 faces of 150 and 118 mm on thin separators would see red heat in one launch of 250 kJ (3.7 J/mm²): all the heat into the steel
/// of its separators is the upper bound. The model says so, and refuses nothing.
#[test]
fn a_small_pack_is_told_to_be_too_small() {
    let changes = [
        ("faces", 10.0),
        ("outer_diameter_m", 0.150),
        ("inner_diameter_m", 0.118),
        ("separator_m", 1.8e-3),
    ];
    let small = Prepared::new(with_all::<WetClutch>(&untreated(), &changes));
    let record = hour(&[launch(10.0, 250.0e3)]);
    let row = small.after(&record);
    let adiabatic_k = 250.0e3 / 0.067_356 / (0.9e-3 * 7800.0 * 500.0);
    println!("1.8 mm separators, 3.7 J/mm2: {:.0} K", row[slot::HOTTEST]);
    assert!(row[slot::HOTTEST] > 900.0 && row[slot::HOTTEST] < 368.15 + adiabatic_k);
    let notes = small.forecast(&small.begin(), &record).notes;
    assert!(fields(&notes).contains(&"hottest_k"));
    assert!(!fields(&ground().forecast(&ground().begin(), &event()).notes).contains(&"hottest_k"));
}

/// Which numbers of the pack give life, by the glaze over the event.
#[test]
fn what_gives_life() {
    let usual = ground().after(&event());
    for (name, by) in [
        ("separator_m", 1.2),
        ("faces", 16.0 / 14.0),
        ("oil_flow_m3_s", 1.3),
        ("groove_count", 96.0 / 72.0),
        ("lining_conductivity_w_m_k", 2.0),
    ] {
        let other = Prepared::new(changed::<WetClutch>(&untreated(), name, by)).after(&event());
        let glaze = other[slot::GLAZE] / usual[slot::GLAZE];
        println!(
            "{name} x {by:.2}: glaze x {glaze:.3}, hottest {:.0} K",
            other[slot::HOTTEST]
        );
        assert!(glaze < 1.0);
    }
}

/// A launch right after another meets hot plates; ten minutes later they are cold.
#[test]
fn heat_stays_for_the_next_launch() {
    let glaze = |gap_s: f64| {
        let record = hour(&[launch(10.0, 264.0e3), launch(11.6 + gap_s, 264.0e3)]);
        ground().after(&record)[slot::GLAZE]
    };
    let one = ground().after(&hour(&[launch(10.0, 264.0e3)]))[slot::GLAZE];
    let (soon, later, cold) = (glaze(2.0), glaze(20.0), glaze(600.0));
    println!(
        "second launch after 2, 20, 600 s: glaze x {:.1}, {:.2}, {:.3}",
        soon / one - 1.0,
        later / one - 1.0,
        cold / one - 1.0
    );
    assert!(soon > 10.0 * one && later > 2.2 * one && later < soon);
    assert!((cold / one - 2.0).abs() < 0.01);
    // Launches by turns are the same whichever is written first.
    let there = hour(&[launch(10.0, 264.0e3), launch(30.0, 100.0e3)]);
    let back = hour(&[launch(30.0, 100.0e3), launch(10.0, 264.0e3)]);
    assert_eq!(ground().after(&there), ground().after(&back));
}

/// Slip far faster than the critical speed makes hot spots, yields the separators and is told of; the default launch does not.
#[test]
fn fast_slip_makes_hot_spots() {
    let fast = hour(&[[10.0, 1.6, 264.0e3, 330.0e3, 150.0]]);
    let row = ground().after(&fast);
    println!(
        "slip from 2200 rad/s: flatness + {:.2e} m",
        row[slot::FLATNESS]
    );
    assert!(row[slot::FLATNESS] > 0.0);
    let told = ground().forecast(&ground().begin(), &fast);
    assert!(fields(&told.notes).contains(&"event.hot_spots"));
    assert!(median(&told.mechanisms[mechanism::FLATNESS].lives_events) < 1000.0);
    let usual = ground().after(&event());
    assert_eq!(usual[slot::FLATNESS], 0.0);
    // A stiff lining evens out less: its spots start at a slower slip, closer together.
    let stiff = Prepared::new(with::<WetClutch>(&untreated(), "lining_modulus_pa", 2.0e9));
    let spots = [ground(), &stiff].map(|pack| (pack.map[1], pack.map[2]));
    println!("hot spots from [m/s], at [1/m], soft and stiff lining: {spots:.1?}");
    assert!(spots[1].0 < 0.6 * spots[0].0 && spots[1].1 > spots[0].1);
}

/// The other pack of a dual clutch, which never launches, lives on; the oil is both's.
#[test]
fn the_other_pack_only_shifts() {
    let other = with::<WetClutch>(&untreated(), "launch_share", 0.0);
    let (other, usual) = (
        ground().with(other).after(&event()),
        ground().after(&event()),
    );
    let bare = ground().after(&Record::edit::<WetClutch>(&with_launches(0)).duty());
    assert!(other[slot::GLAZE] < 1e-3 * usual[slot::GLAZE]);
    assert!(
        other[slot::OIL_AGE] == usual[slot::OIL_AGE] && other[slot::HOTTEST] < bare[slot::HOTTEST]
    );
}

/// Friction falls with glaze, its slope with glaze and the oil; new oil gives back the oil's part.
#[test]
fn new_oil_gives_slope_back() {
    let used = ground().repeated(&ground().begin(), &event(), 20);
    let again = ground().rework(&used, "new_oil");
    let readings = |row: &[f64]| {
        let paths = ground().forecast(row, &event()).readings;
        [
            reading::FRICTION,
            reading::SLOPE,
            reading::JUDDER,
            reading::CAPACITY,
            reading::ACID,
        ]
        .map(|of| paths[of].median[0])
    };
    let [new, old, oiled] = [&ground().begin(), &used, &again].map(|row| readings(row));
    assert!(old[0] < new[0] && oiled[0] == old[0] && old[3] < new[3]);
    assert!(old[1] < oiled[1] && oiled[1] < new[1]);
    assert!(new[2] < oiled[2] && oiled[2] < old[2]);
    assert!(old[4] > 0.0 && oiled[4] == 0.0);
    let glazed = 1.0 - (-used[slot::GLAZE]).exp();
    assert!((new[1] - oiled[1] - 0.006 * glazed).abs() < 1e-12);
}

/// A driveline so damped, for what hangs behind its spring, that it does not vibrate never judders.
#[test]
fn a_damped_driveline_never_judders() {
    let changes = [
        ("driven_kg_m2", 5.0),
        ("load_kg_m2", 0.05),
        ("damping_n_m_s", 0.3),
    ];
    let damped = Prepared::new(with_all::<WetClutch>(&untreated(), &changes));
    let used = damped.repeated(&damped.begin(), &event(), 30);
    let forecast = damped.forecast(&used, &event());
    assert_eq!(forecast.mechanisms[mechanism::JUDDER].risk_next_event, 0.0);
    assert_eq!(forecast.readings[reading::JUDDER].median[0], 0.0);
    // Half the damping judders earlier.
    let less = ground().with(changed::<WetClutch>(&untreated(), "damping_n_m_s", 0.8));
    let lives = |model: &Prepared| {
        let forecast = model.forecast(&model.begin(), &event());
        median(&forecast.mechanisms[mechanism::JUDDER].lives_events)
    };
    assert!(lives(&less) < lives(ground()));
}

/// Friction that is not known well widens the lives and leaves their median.
#[test]
fn unknown_friction_widens_lives() {
    let mut unsure = untreated();
    unsure.surfaces[0].ln_sd[0] = 0.1;
    let lives = |model: &Prepared| {
        let forecast = model.forecast(&model.begin(), &event());
        let lives = &forecast.mechanisms[mechanism::CAPACITY].lives_events;
        [0.1, 0.5].map(|p| ringland_trials::quantile(lives, p))
    };
    let (known, unknown) = (lives(ground()), lives(&ground().with(unsure)));
    assert!(unknown[0] < 0.95 * known[0] && (unknown[1] / known[1] - 1.0).abs() < 0.02);
}

/// Wear after J. F. Archard: 5 mm³/MJ at a friction of 0.13; twice the roughness of the separator wears twice; hotter wears more.
#[test]
fn wear_goes_with_energy() {
    let worn = |energy: f64, seconds: f64| {
        let engagement = [10.0, seconds, energy, 2.0 * energy / seconds, 1e4];
        ground().after(&hour(&[engagement]))[slot::WEAR]
    };
    let slow = worn(1000.0, 10.0);
    let cool = 5.0e-15 * 1000.0 / AREA_M2;
    let softer = (10.0e3 / 8.314_462_618 * (1.0 / 393.15 - 1.0 / 368.15_f64)).exp();
    assert!((slow / (cool * softer) - 1.0).abs() < 0.01, "{slow}");
    let hot = worn(264.0e3, 1.6) / (264.0 * slow);
    println!("wear for each J of a launch over that of a creep: {hot:.2}");
    assert!((1.5..6.0).contains(&hot));
    let rough = Prepared::new(changed::<WetClutch>(&untreated(), "separator.ra_m", 2.0));
    let ratio = rough.after(&event())[slot::WEAR] / ground().after(&event())[slot::WEAR];
    assert!((ratio - 2.0).abs() < 1e-9);
}

/// Area of the default pack: 14 faces of 165 and 125 mm.
const AREA_M2: f64 = 14.0 * std::f64::consts::PI / 4.0 * (0.165 * 0.165 - 0.125 * 0.125);
