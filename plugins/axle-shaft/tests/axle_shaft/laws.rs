//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_axle_shaft::AxleShaft;
use ringland_plugin_axle_shaft::card::slot;
use ringland_trials::{Record, changed, driveline, first, laws, with};

use crate::scenario::{Prepared, bare, event, peened, untreated};

fn any_duty() -> BoxedStrategy<Duty> {
    driveline::any_record::<AxleShaft>().strategy()
}

fn starts(model: &Prepared) -> BoxedStrategy<Vec<f64>> {
    model.any_used(&[
        ("spline_surface_damage", 0.0..0.5),
        ("highest_torque_n_m", 0.0..3500.0),
        ("spline_set_pa", -9.0e8..9.0e8),
        ("flank_wear_m", 0.0..2.0e-5),
    ])
}

#[test]
fn no_slot_falls_and_a_cut_record_gives_the_same() {
    for model in [bare(), peened()] {
        laws::slots_follow_their_trends(model, &starts(model), &any_duty());
        laws::cut_records_add_up(model, &starts(model), &any_duty(), 1e-9);
    }
}

/// What the hardest torques are, and wear, do not ask for the order of records. Damage does, as a hard torque sets the notches for what follows.
#[test]
fn order_does_not_matter_to_torque_and_wear() {
    for slots in [slot::HIGHEST..slot::SET, slot::WEAR..slot::COUNT] {
        laws::order_of_records_does_not_matter_to(
            bare(),
            slots,
            &starts(bare()),
            &any_duty(),
            1e-9,
        );
    }
    laws::order_within_a_record_does_not_matter(bare(), &starts(bare()), &any_duty(), 1e-9);
}

/// Once the hardest torque has been, damage does not ask for the order either.
#[test]
fn order_does_not_matter_once_the_shaft_is_set() {
    let set = bare().after(&event());
    let one = driveline::event::<AxleShaft>();
    let other =
        Record::edit::<AxleShaft>(&event()).cycles("axle_torque_n_m", &[[900.0, 800.0, 40.0]]);
    let other = other.duty();
    let there = bare()
        .advance(&set, &[one.clone(), other.clone()])
        .remove(1);
    let back = bare().advance(&set, &[other, one]).remove(1);
    assert!(ringland_trials::close(&there, &back, 1e-12));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// More torque, cycles, time, turns and bend of the drive line never spare the shaft. (A harder torque before softer ones may, where it makes a notch yield: see the
    /// overload.)
    #[test]
    fn more_of_anything_never_spares(torque in 100.0..5500.0_f64, low in -0.5..0.9_f64, more in 1.01..1.3_f64) {
        let run = |torque: f64, count: f64, speed: f64, angle: f64| {
            let class = [torque * (1.0 - low), 0.5 * torque * (1.0 + low), count];
            let record = Record::of::<AxleShaft>(&[600.0]).channel("axle_torque_n_m", torque);
            let record = record.channel("wheel_speed_left_rad_s", speed).channel("wheel_speed_right_rad_s", speed);
            let record = record.channel("joint_angle_rad", angle);
            bare().after(&record.cycles("axle_torque_n_m", &[class]).duty())
        };
        let usual = run(torque, 10.0, 80.0, 0.1);
        for more in [
            run(torque * more, 10.0, 80.0, 0.1),
            run(torque, 10.0 * more, 80.0, 0.1),
            run(torque, 10.0, 80.0 * more, 0.1),
            run(torque, 10.0, 80.0, 0.1 * more),
        ] {
            for index in (0..slot::SET).chain(slot::WEAR..slot::COUNT) {
                prop_assert!(more[index] >= usual[index] * (1.0 - 1e-12), "{index}: {} {}", more[index], usual[index]);
            }
        }
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    laws::higher_rate_never_lengthens_life(bare(), &bare().after(&event()), &event());
}

/// A thinner, sharper, shorter or rougher shaft never lasts longer, each where it counts; more of the torque nowhere.
#[test]
fn a_worse_shaft_never_lasts_longer() {
    let usual = bare().after(&event());
    for (name, by, index) in [
        ("body_diameter_m", 0.96, 4),
        ("shoulder_radius_m", 0.5, 4),
        ("spline_module_m", 0.96, 0),
        ("spline_root_m", 0.6, 0),
        ("spline_length_m", 0.8, 0),
        ("spline_length_m", 0.8, slot::WEAR),
        ("spline_bearing_share", 0.8, 0),
        ("groove_diameter_m", 0.96, 2),
        ("groove_depth_m", 1.5, 2),
        ("groove_radius_m", 0.6, 2),
        ("groove_torque_share", 1.4, 2),
        ("strength_pa", 0.95, 0),
        ("spline.ra_m", 2.0, 0),
        ("body.ra_m", 2.0, 4),
        ("spline.boundary_friction", 1.5, 0),
        ("torque_share", 1.1, 0),
    ] {
        let worse = Prepared::new(changed::<AxleShaft>(&untreated(), name, by)).after(&event());
        assert!(
            worse[index] > usual[index],
            "{name}: {} {}",
            worse[index],
            usual[index]
        );
    }
    let bored = Prepared::new(with::<AxleShaft>(&untreated(), "bore_m", 0.012)).after(&event());
    assert!(bored[0] > usual[0] && bored[4] > usual[4]);
}

/// Wear and twist at exactly their limits.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let worn = bare().begin_with(&[("flank_wear_m", 2.5e-5)]);
    laws::limit_reached_leaves_no_life(bare(), "spline_wear", &worn, &event(), 1.0..=1.0);
    let twisted = bare().begin_with(&[("highest_torque_n_m", bare().map[0])]);
    laws::limit_reached_leaves_no_life(bare(), "twist", &twisted, &event(), 1.0..=1.0);
    // What is left of the spread is that from shaft to shaft: half have cracked, half have not.
    let cracked = bare().begin_with(&[("spline_surface_damage", 1.0)]);
    laws::limit_reached_leaves_no_life(bare(), "spline_fatigue", &cracked, &event(), 0.488..=0.512);
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let used = bare().after(&event());
    let standing = Record::of::<AxleShaft>(&[600.0])
        .channel("wheel_speed_left_rad_s", 0.0)
        .channel("wheel_speed_right_rad_s", 0.0);
    for nothing in [standing.duty(), driveline::duty::<AxleShaft>(&[])] {
        laws::nothing_adds_nothing(bare(), &used, &nothing);
    }
}

#[test]
fn the_same_input_gives_the_same_bits() {
    laws::same_input_same_bits(peened(), &event());
}

#[test]
fn a_nearer_horizon_cuts_the_same_lives() {
    let begun = bare().begin();
    for mechanism in ["spline_fatigue", "spline_wear"] {
        laws::nearer_horizon_cuts_the_same_lives(bare(), mechanism, &begun, &event(), (45.0, 0.01));
    }
}

/// From new to past the limits.
#[test]
fn the_risk_agrees_with_the_lives() {
    let conditions = bare().ageing(&event(), 20, 5);
    laws::risk_agrees_with_lives(bare(), &conditions, &event(), 0.01);
}

/// Far beyond every limit, with notes that say so.
#[test]
fn conditions_stay_within_the_card_however_long_the_duty() {
    let record = Record::of::<AxleShaft>(&[1.0e7, 10.0])
        .column("axle_torque_n_m", &[6.0e4, -3.0e4])
        .channel("wheel_speed_left_rad_s", 600.0)
        .channel("wheel_speed_right_rad_s", 600.0)
        .channel("joint_angle_rad", 0.8)
        .cycles(
            "axle_torque_n_m",
            &[[9.0e4, 1.5e4, 1.0e9], [0.0, 6.0e4, 1.0]],
        );
    let extreme = record
        .shock("launch", &[0.0, 10.0, 1.0e8, 1.0e7, 1.0e4])
        .duty();
    let forecast = laws::slots_stay_within_the_card(bare(), &bare().begin(), &extreme, 50);
    assert!(first(&forecast).iter().all(|life| *life == 0.0));
    let notes = ringland_trials::fields(&forecast.notes);
    for name in [
        "spline_fatigue",
        "twist",
        "spline_wear",
        "highest_torque_n_m",
    ] {
        assert!(notes.contains(&name), "{notes:?}");
    }
}
