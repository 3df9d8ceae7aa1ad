//! Duty written, scaled and cut by the names of the card; lives summed up.

use ringland_trials::{
    Record, close, cut, engine, first, median, medians, print_lives, print_times, scaled,
};

use crate::wheel::{SOUND, Wheel, event, wheel};

type Sound = Wheel<SOUND>;

#[test]
fn what_is_not_given_is_the_cards_default() {
    let duty = Record::of::<Sound>(&[1.0, 2.0]).duty();
    assert_eq!(duty.duration_s, 3.0);
    assert_eq!(duty.points, [[0.0, 0.0], [1.0, 1.0]]);
    assert_eq!(duty.mates, [0.05]);
    assert_eq!(duty.shocks[0].columns, [[], [] as [f64; 0]]);
    let more = Record::edit::<Sound>(&duty).channel("contamination_factor", 3.0);
    let more = more
        .cycles("engine_torque_n_m", &[[50.0, 20.0, 7.0]])
        .duty();
    assert_eq!(more.points[1], [3.0, 3.0]);
    assert_eq!(more.cycles[0].counts, [7.0]);
}

#[test]
#[should_panic(expected = "the card asks for no boost")]
fn an_unknown_channel_is_told() {
    drop(Record::of::<Sound>(&[1.0]).channel("boost", 1.0));
}

/// An over-rev is shortened, a launch happens in one of the parts.
#[test]
fn parts_of_a_record_are_the_whole() {
    let half = scaled::<Sound>(&event(), 0.5);
    assert_eq!((half.duration_s, half.time_s[0]), (5000.0, 3000.0));
    assert_eq!(half.shocks[0].columns, [[1.0], [1000.0]]);
    assert_eq!(half.shocks[1].columns, [[400.0]]);
    assert_eq!(half.cycles[0].counts, [2.5]);
    let [early, late] = cut::<Sound>(&event(), 0.25);
    assert_eq!((early.time_s[0], late.time_s[0]), (1500.0, 4500.0));
    assert_eq!(
        (early.shocks[0].columns[0][0], late.shocks[0].columns[0][0]),
        (0.5, 1.5)
    );
    assert_eq!((early.shocks[1].rows(), late.shocks[1].rows()), (1, 0));
}

/// 1500 1/min are 157.08 rad/s.
#[test]
fn rows_lives_and_speeds() {
    assert!(close(&[1.0, 0.0], &[1.0 + 1e-10, 0.0], 1e-9));
    assert!(!close(&[1.0], &[1.0 + 1e-8], 1e-9) && !close(&[1.0], &[1.0, 1.0], 1.0));
    assert!((engine::rad_s(1500.0) - 157.079_632_679).abs() < 1e-9);
    let wheel = wheel::<SOUND>();
    let forecast = wheel.forecast(&wheel.begin(), &event());
    assert_eq!(first(&forecast), forecast.mechanisms[0].lives_events);
    assert_eq!(print_lives("wheel", &wheel, &event()), forecast);
    assert!((8.0..13.0).contains(&median(&first(&forecast))));
    assert_eq!(medians(&forecast), [median(&first(&forecast))]);
    print_times(&wheel, &[("the event", event())]);
}
