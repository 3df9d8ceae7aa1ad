//! What the hardest torques leave: twist, and a set with a direction. Where the torque of launches comes from.

use ringland_plugin::Duty;
use ringland_plugin_axle_shaft::AxleShaft;
use ringland_plugin_axle_shaft::card::{mechanism, reading, slot};
use ringland_plugin_axle_shaft::condition::Shaft;
use ringland_trials::{Record, close, fields, with, with_all};

use crate::scenario::{Prepared, bare, event, untreated};

/// Cycles from nothing to a torque of this shaft \[N·m\], in drive or against it.
fn pulls(torque_n_m: f64, count: f64) -> Duty {
    let class = [2.0 * torque_n_m.abs(), torque_n_m, count];
    Record::of::<AxleShaft>(&[])
        .cycles("axle_torque_n_m", &[class])
        .duty()
}

/// Damage at the surface of the spline that a record adds.
fn added(model: &Prepared, before: &[f64], duty: &Duty) -> f64 {
    model.then(before, duty)[0] - before[0]
}

/// An overload that makes the root yield sets it against its own direction: smaller pulls that way do less harm afterwards, pulls the other way more. An overload that does not
/// make it yield changes nothing. (More load lengthens life here: it is presetting.)
#[test]
fn an_overload_has_a_direction() {
    let new = bare().begin();
    let (hard, soft) = (
        bare().after(&pulls(2300.0, 1.0)),
        bare().after(&pulls(900.0, 1.0)),
    );
    assert!(hard[slot::SET] < -1.0e8 && soft[slot::SET] == 0.0);
    let (drive, coast) = (pulls(700.0, 1.0e3), pulls(-700.0, 1.0e3));
    let usual = added(bare(), &new, &drive);
    assert!(added(bare(), &hard, &drive) < 0.8 * usual);
    assert!(added(bare(), &hard, &coast) > 1.1 * usual);
    assert!((added(bare(), &soft, &drive) / usual - 1.0).abs() < 1e-9);
    // The same against drive, mirrored.
    let mirrored = bare().after(&pulls(-2300.0, 1.0));
    assert_eq!(mirrored[slot::SET], -hard[slot::SET]);
    assert!((added(bare(), &mirrored, &coast) / added(bare(), &hard, &drive) - 1.0).abs() < 1e-9);
}

/// On the other side of the car what drive had set is against drive: the same pulls do more harm than before, damage and wear stay, and swapping back
/// is as if nothing had been.
#[test]
fn a_shaft_keeps_to_its_side() {
    let used = bare().then(&bare().after(&event()), &pulls(2300.0, 1.0));
    let used = {
        let mut used = used;
        used[slot::SET] = -2.5e8; // set by a torque that just made it yield
        used
    };
    let swapped = bare().rework(&used, "swapped_sides");
    let drive = pulls(700.0, 1.0e3);
    assert!(added(bare(), &swapped, &drive) > 1.5 * added(bare(), &used, &drive));
    assert_eq!(swapped[0], used[0]);
    assert_eq!(swapped[slot::WEAR], used[slot::WEAR]);
    assert_eq!(swapped[slot::REVERSE], used[slot::HIGHEST]);
    assert_eq!(bare().rework(&swapped, "swapped_sides"), used);
    // The next hardest launch sets it for its new side.
    let again = bare().then(&swapped, &event());
    assert!(again[slot::SET] < 0.0);
}

/// Presetting beyond yield: the line is drawn after it, so that no twist is told until a torque beyond it; it spares pulls in its direction.
#[test]
fn presetting() {
    let preset_n_m = 4600.0;
    let specimen = with::<AxleShaft>(&untreated(), "preset_torque_n_m", preset_n_m);
    let preset = Prepared::new(specimen.clone());
    let twist = |model: &Prepared, torque: f64| {
        let row = model.after(&pulls(torque, 1.0));
        model.forecast(&row, &event()).readings[reading::TWIST].median[0]
    };
    assert!(twist(bare(), 4550.0) > 1e-3 && twist(&preset, 4550.0) == 0.0);
    assert!(twist(&preset, 4800.0) > 0.0 && twist(&preset, 4800.0) < twist(bare(), 4800.0));
    assert!(preset.map[0] > bare().map[0]);
    let begun = preset.begin();
    assert!(begun[slot::SET] < -8.0e8, "{begun:?}");
    let moderate = pulls(1100.0, 1.0e3);
    assert!(added(&preset, &begun, &moderate) > 0.0);
    // A used shaft of which the set is known begins with it.
    let known = preset.begin_with(&[("spline_set_pa", -1.0e8)]);
    assert_eq!(known[slot::SET], -1.0e8);
    let shaft = Shaft::new(&specimen, &preset.map).unwrap();
    assert!(shaft.spec.preset_torque_n_m > shaft.spec.body.yield_torque_n_m());
}

/// The highest torque twists once: the same again adds nothing, and a note says that the body has been beyond yield.
#[test]
fn the_highest_torque_twists_once() {
    let once = bare().after(&pulls(4300.0, 1.0));
    let again = bare().then(&once, &pulls(4300.0, 1.0));
    assert_eq!(once[slot::HIGHEST], again[slot::HIGHEST]);
    let forecast = bare().forecast(&again, &event());
    assert!(fields(&forecast.notes).contains(&"highest_torque_n_m"));
    let twist = &forecast.readings[reading::TWIST].median;
    assert!(twist.iter().all(|value| *value == twist[0]) && twist[0] > 0.0);
    assert!(
        !fields(&bare().forecast(&bare().begin(), &event()).notes).contains(&"highest_torque_n_m")
    );
}

/// Launches by the clutch: `min(550 · 2.71 · 4.10, 3390)/2 · 1.8 = 3051` N·m on this shaft, as so many cycles from nothing. They count only where the log's axle torque does
/// not hold them, and then have a share of the damage.
#[test]
fn launches_by_the_clutch() {
    let mut by_clutch = untreated();
    by_clutch.choices[0] = 1;
    let by_clutch = Prepared::new(by_clutch);
    let counted = Record::of::<AxleShaft>(&[60.0])
        .channel("axle_torque_n_m", 2000.0)
        .cycles("axle_torque_n_m", &[[2200.0, 1100.0, 300.0]]);
    let launch = |clutch_n_m: f64| [100.0, 1.6, 2.64e5, 3.3e5, clutch_n_m];
    let launched = Record::edit::<AxleShaft>(&Record::of::<AxleShaft>(&[60.0]).duty())
        .channel("axle_torque_n_m", 2000.0)
        .cycles("axle_torque_n_m", &[[2200.0, 1100.0, 300.0]])
        .shocks("launch", &[&launch(550.0), &launch(550.0)])
        .duty();
    let without = counted.duty();
    let row = by_clutch.after(&launched);
    assert!((row[slot::HIGHEST] / 3051.0 - 1.0).abs() < 1e-12);
    assert_eq!(row[slot::LAUNCHES], 2.0);
    let as_cycles =
        Record::edit::<AxleShaft>(&without).cycles("axle_torque_n_m", &[[6102.0, 3051.0, 2.0]]);
    let by_count = bare().after(&as_cycles.duty());
    assert!(close(
        &row[..slot::LAUNCHES],
        &by_count[..slot::LAUNCHES],
        1e-9
    ));
    let forecast = by_clutch.forecast(&by_clutch.begin(), &launched);
    // Of what the event does to the root, the launches' share is what the counted cycles alone do not do to a root as these set it.
    let share = forecast.mechanisms[mechanism::SPLINE].shock_shares[0];
    let rest = by_clutch.then(&row, &without)[0] - row[0];
    assert!((share - (1.0 - rest / row[0])).abs() < 1e-9, "{share}");
    assert!((0.2..0.9).contains(&share), "{share}");
    assert_eq!(forecast.mechanisms[mechanism::TWIST].shock_shares, [1.0]);
    // Where the count is taken to hold them, they are counted and nothing else, and the reader is told that it cannot hold them.
    let counted = bare().forecast(&bare().begin(), &launched);
    assert_eq!(counted.mechanisms[mechanism::SPLINE].shock_shares, [0.0]);
    assert!(fields(&counted.notes).contains(&"event.launch"));
    assert_eq!(bare().after(&launched)[0], bare().after(&without)[0]);
    assert!(!fields(&bare().forecast(&bare().begin(), &event()).notes).contains(&"event.launch"));
    // A softer clutch slips below the tyres' grip.
    let soft = Record::edit::<AxleShaft>(&without).shock("launch", &launch(200.0));
    let clutch_n_m = 0.5 * 200.0 * 2.71 * 4.10 * 1.8;
    let found = by_clutch.after(&soft.duty())[slot::HIGHEST];
    assert!((found / clutch_n_m - 1.0).abs() < 1e-12);
}

/// A record whose torque runs without counted cycles is told of: its fatigue is not seen.
#[test]
fn a_record_without_counted_cycles_is_told_of() {
    let record = Record::of::<AxleShaft>(&[600.0]).channel("axle_torque_n_m", 2000.0);
    let forecast = bare().forecast(&bare().begin(), &record.duty());
    assert!(fields(&forecast.notes).contains(&"event.cycles"));
    assert!(!fields(&bare().forecast(&bare().begin(), &event()).notes).contains(&"event.cycles"));
}

/// The share of the torque: all of it on one shaft is the shaft of twice the axle torque.
#[test]
fn the_share_scales_the_torque() {
    let all = Prepared::new(with_all::<AxleShaft>(
        &untreated(),
        &[("torque_share", 1.0)],
    ));
    let one = all.after(&pulls(600.0, 50.0));
    let twice = bare().after(&pulls(1200.0, 50.0));
    assert!(close(&one, &twice, 1e-12));
}
