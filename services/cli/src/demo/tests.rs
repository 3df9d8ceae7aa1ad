//! The demo's logs as a whole: near the default event, the same every time, with what was planted in them.
#![allow(clippy::unwrap_used)]

use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

use super::log_plan::{LogPlan, Source};
use super::season::Season;
use super::timeline::{CAR_STEP_S, Truth, run};
use super::{SEED, car_log};

fn plan(event: &str, unit: &str) -> LogPlan {
    let wanted = |log: &LogPlan| {
        log.event == event && log.unit == unit && matches!(log.source, Source::Car(_))
    };
    Season::load()
        .unwrap()
        .logs()
        .into_iter()
        .find(wanted)
        .unwrap()
}

/// Every moment of an event with its length.
fn moments(plan: &LogPlan) -> Vec<(Truth, f64)> {
    let mut all: Vec<Truth> = Vec::new();
    let mut random = ChaCha8Rng::seed_from_u64(SEED);
    let keep = &mut |truth: &Truth| {
        all.push(*truth);
        Ok::<(), ()>(())
    };
    run(plan, CAR_STEP_S, &mut random, keep).unwrap();
    let lengths: Vec<f64> = all
        .windows(2)
        .map(|pair| pair[1].time_s - pair[0].time_s)
        .collect();
    all.into_iter()
        .zip(lengths)
        .filter(|(_, length)| *length < 1.0)
        .collect()
}

/// Whether an engine speed and torque belong to a bin.
type Bin = fn(f64, f64) -> bool;

/// The table of the default event: 170 min, share of time by speed and torque. Invented, like all of the demo;
/// what is checked is that the laps driven come near it.
#[test]
fn a_medium_event_comes_near_the_default_event() {
    let moments = moments(&plan("r4", "engine-b"));
    let total_s: f64 = moments.iter().map(|m| m.1).sum();
    let share = |of: Bin| {
        let within = moments
            .iter()
            .filter(|(t, _)| of(t.moment.rpm, t.moment.torque_n_m));
        within.map(|m| m.1).sum::<f64>() / total_s
    };
    let table: [(&str, f64, Bin); 5] = [
        ("idle and pit", 0.07, |n, _| n < 2500.0),
        ("caution", 0.12, |n, t| {
            (2500.0..4750.0).contains(&n) && (0.0..300.0).contains(&t)
        }),
        ("part throttle", 0.19, |n, t| {
            n >= 4750.0 && (0.0..300.0).contains(&t)
        }),
        ("full load", 0.47, |_, t| t >= 300.0),
        ("overrun", 0.15, |_, t| t < 0.0),
    ];
    for (name, wanted, of) in table {
        assert!(
            (share(of) - wanted).abs() < 0.05,
            "{name}: {:.3}, wanted {wanted}",
            share(of)
        );
    }
    assert!((total_s / 60.0 - 170.0).abs() < 2.0, "{total_s} s");
    let revolutions: f64 = moments.iter().map(|(t, s)| t.moment.rpm / 60.0 * s).sum();
    assert!((revolutions / 1.007e6 - 1.0).abs() < 0.05, "{revolutions}");
}

#[test]
fn the_missed_shift_is_in_its_log() {
    let moments = moments(&plan("r2", "engine-a"));
    let over: Vec<_> = moments
        .iter()
        .filter(|(t, _)| t.moment.rpm > 9400.0)
        .collect();
    let lasting: f64 = over.iter().map(|m| m.1).sum();
    assert!((lasting - 0.35).abs() < 0.05, "{lasting} s");
    let revolutions: f64 = over.iter().map(|(t, s)| t.moment.rpm / 60.0 * s).sum();
    assert!((revolutions - 55.0).abs() < 6.0, "{revolutions}");
    assert!(over.iter().all(|(t, _)| t.moment.rpm < 9421.0 && t.burst));
}

#[test]
fn hot_oil_and_pressure_dips_are_in_their_log() {
    let moments = moments(&plan("r5", "engine-a"));
    let low = |t: &Truth| t.moment.rpm > 5000.0 && t.oil_bar < 2.0;
    let dips = moments
        .windows(2)
        .filter(|pair| !low(&pair[0].0) && low(&pair[1].0))
        .count();
    assert_eq!(dips, 6);
    let lowest = moments
        .iter()
        .filter(|(t, _)| low(t))
        .map(|(t, _)| t.oil_bar)
        .fold(9.0, f64::min);
    assert!((lowest - 1.6).abs() < 0.05, "{lowest} bar");
    let hot_min = moments
        .iter()
        .filter(|(t, _)| t.oil_c > 126.5)
        .map(|m| m.1)
        .sum::<f64>()
        / 60.0;
    assert!((hot_min - 22.0).abs() < 3.0, "{hot_min} min");
}

#[test]
fn the_same_seed_writes_the_same_bytes() {
    let plan = LogPlan {
        minutes: super::Minutes {
            practice: 6.0,
            qualifying: 0.0,
            race: 0.0,
        },
        ..plan("t1", "engine-a")
    };
    let write = |seed: u64| {
        let mut bytes = Vec::new();
        car_log::write(&plan, "14", seed, &mut bytes).unwrap();
        bytes
    };
    assert_eq!(write(1), write(1));
    assert_ne!(write(1), write(2));
    let text = String::from_utf8(write(1)).unwrap();
    let cells = |line: &str| line.split(',').count();
    assert!(
        text.lines().skip(1).all(|line| cells(line) == 23),
        "ragged rows"
    );
}

/// Five standing starts and six pit-outs: the clutch slips eleven times, from rest each time.
#[test]
fn the_clutch_slips_once_for_each_start_and_pit_out() {
    let moments = moments(&plan("r4", "engine-b"));
    let slips = |t: &Truth| t.moment.clutch_slip_rpm > 0.0;
    let begins: Vec<&Truth> = moments
        .windows(2)
        .filter(|pair| !slips(&pair[0].0) && slips(&pair[1].0))
        .map(|pair| &pair[0].0)
        .collect();
    assert_eq!(begins.len(), 11);
    assert!(begins.iter().all(|before| before.moment.speed_m_s < 0.1));
}
