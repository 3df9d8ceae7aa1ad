//! Every kind of shock, on logs whose shocks are known by construction.

// Helpers of tests may fail loudly.
#![allow(
    clippy::float_cmp,
    clippy::format_push_string,
    clippy::panic,
    clippy::unwrap_used
)]

use ringland_intake::{Reduced, SampleChannel, SampleLog, Settings};

/// Samples at a rate; each column is a channel in SI and its value over time.
fn reduce(rate_hz: f64, seconds: f64, columns: &[(&str, &dyn Fn(f64) -> f64)]) -> Reduced {
    let unit = |channel: &str| match channel.rsplit_once('_') {
        Some((_, "s")) if channel.ends_with("rad_s") => "rad/s",
        Some((_, "m")) => "N.m",
        Some((_, "k")) => "K",
        Some((_, "pa")) if channel.starts_with("oil") => "Pa_gauge",
        Some((_, "s2")) => "m/s2",
        Some((_, "s")) => "m/s",
        _ => "1",
    };
    let channel = |(channel, _): &(&str, &dyn Fn(f64) -> f64)| SampleChannel {
        channel: (*channel).into(),
        unit: unit(channel).into(),
        hold_s: None,
    };
    let channels: Vec<SampleChannel> = columns.iter().map(channel).collect();
    let mut settings = Settings::default();
    settings.thresholds.over_rev_engine_speed_rad_s = Some(900.0);
    let mut log = SampleLog::new(&channels, &settings).unwrap();
    let times: Vec<f64> = (0..=(rate_hz * seconds) as u32)
        .map(|i| f64::from(i) / rate_hz)
        .collect();
    let samples: Vec<Vec<f64>> = columns
        .iter()
        .map(|(_, of)| times.iter().map(|t| of(*t)).collect())
        .collect();
    log.push(&times, &samples).unwrap();
    log.finish().unwrap()
}

/// Rows of a kind, by field.
fn shocks(reduced: &Reduced, kind: &str) -> Vec<Vec<f64>> {
    let table = reduced
        .duty
        .shocks
        .iter()
        .find(|shocks| shocks.kind == kind)
        .unwrap();
    assert_eq!(table.fields.len(), table.columns.len());
    let count = table.columns[0].len();
    (0..count)
        .map(|row| table.columns.iter().map(|column| column[row]).collect())
        .collect()
}

fn assert_row(found: &[f64], expected: &[f64], tolerance: f64) {
    assert_eq!(found.len(), expected.len());
    for (f, e) in found.iter().zip(expected) {
        assert!(
            (f - e).abs() <= tolerance * (1.0 + e.abs()),
            "{found:?}, expected {expected:?}"
        );
    }
}

fn within(t: f64, from: f64, to: f64) -> bool {
    t >= from - 1e-9 && t < to - 1e-9
}

#[test]
fn over_rev() {
    let speed = |t: f64| {
        if within(t, 2.0, 2.1) {
            950.0
        } else if within(t, 2.1, 2.2) {
            // Back by less than the margin of 1 %: still the same over-rev.
            895.0
        } else if within(t, 5.0, 5.05) {
            910.0
        } else {
            800.0
        }
    };
    let torque = |t: f64| if t < 3.0 { -40.0 } else { 300.0 };
    let reduced = reduce(
        100.0,
        10.0,
        &[
            ("engine_speed_rad_s", &speed),
            ("engine_torque_n_m", &torque),
        ],
    );
    let found = shocks(&reduced, "over_rev");
    assert_eq!(found.len(), 2);
    assert_row(&found[0], &[2.0, 0.2, 950.0, 922.5, -40.0], 1e-9);
    assert_row(&found[1], &[5.0, 0.05, 910.0, 910.0, 300.0], 1e-9);
}

/// A missed shift of 0.2 s between samples of a slow log is not seen; the report says so.
#[test]
fn a_slow_log_is_said_to_hide_over_revs() {
    let speed = |t: f64| if within(t, 2.35, 2.55) { 950.0 } else { 800.0 };
    let fast = reduce(100.0, 10.0, &[("engine_speed_rad_s", &speed)]);
    assert_eq!(shocks(&fast, "over_rev").len(), 1);
    let rate_note = |reduced: &Reduced| {
        let mut notes = reduced.report.notes.iter();
        notes.any(|note| note.field == "over_rev" && note.value.contains("samples a second"))
    };
    assert!(!rate_note(&fast));
    let slow = reduce(2.0, 10.0, &[("engine_speed_rad_s", &speed)]);
    assert_eq!(shocks(&slow, "over_rev").len(), 1);
    let slower = reduce(1.0, 10.0, &[("engine_speed_rad_s", &speed)]);
    assert_eq!(shocks(&slower, "over_rev").len(), 0);
    assert!(rate_note(&slow) && rate_note(&slower));
    let torque_note = |note: &&_| format!("{note:?}").contains("engine_torque_n_m");
    assert!(fast.report.notes.iter().any(|note| torque_note(&note)));
}

#[test]
fn oil_pressure_dip_only_at_speed() {
    let speed = |t: f64| if t < 5.0 { 700.0 } else { 120.0 };
    let pressure = |t: f64| {
        if within(t, 1.0, 1.5) || t > 6.0 {
            1.2e5
        } else {
            4.5e5
        }
    };
    let reduced = reduce(
        100.0,
        10.0,
        &[
            ("engine_speed_rad_s", &speed),
            ("oil_pressure_pa", &pressure),
        ],
    );
    let found = shocks(&reduced, "oil_pressure_dip");
    assert_eq!(found.len(), 1);
    assert_row(&found[0], &[1.0, 0.5, 1.2e5, 700.0], 1e-9);
}

#[test]
fn oil_overheat_knock_and_impact() {
    let oil = |t: f64| {
        if within(t, 3.0, 7.0) {
            406.0 + t
        } else {
            380.0
        }
    };
    let knock = |t: f64| if within(t, 1.0, 1.1) { 4.0 } else { 0.1 };
    let kerb = |t: f64| if within(t, 2.0, 2.02) { -80.0 } else { 9.8 };
    let columns: [(&str, &dyn Fn(f64) -> f64); 3] = [
        ("oil_temp_k", &oil),
        ("knock_level", &knock),
        ("vertical_acceleration_m_s2", &kerb),
    ];
    let reduced = reduce(100.0, 10.0, &columns);
    assert_row(
        &shocks(&reduced, "oil_overheat")[0],
        &[3.0, 4.0, 412.99],
        1e-9,
    );
    assert_row(
        &shocks(&reduced, "knock_burst")[0],
        &[1.0, 0.1, 4.0, 0.0],
        1e-9,
    );
    assert_row(&shocks(&reduced, "impact")[0], &[2.0, 0.02, 80.0], 1e-9);
}

#[test]
fn starts_with_their_oil_temperature() {
    let speed = |t: f64| {
        if t < 2.0 || within(t, 20.0, 22.0) {
            0.0
        } else if within(t, 2.0, 3.0) || within(t, 22.0, 22.5) {
            25.0
        } else {
            110.0
        }
    };
    let oil = |t: f64| 290.0 + t;
    let reduced = reduce(
        10.0,
        30.0,
        &[("engine_speed_rad_s", &speed), ("oil_temp_k", &oil)],
    );
    let found = shocks(&reduced, "start");
    assert_eq!(found.len(), 2);
    assert_row(&found[0], &[2.0, 1.0, 292.0], 1e-9);
    assert_row(&found[1], &[22.0, 0.5, 312.0], 1e-9);
    // Running from the first row: not started in this log.
    let running = reduce(
        10.0,
        5.0,
        &[("engine_speed_rad_s", &|_| 110.0), ("oil_temp_k", &oil)],
    );
    assert!(shocks(&running, "start").is_empty());
}

/// Two rotors synchronise under constant torque: slip falls linearly from 300 rad/s at 300 N.m in 0.5 s; the energy
/// is half of slip times torque times time.
#[test]
fn launch_and_other_engagements() {
    let slip_from = |t: f64, start: f64| 300.0 * (1.0 - (t - start) / 0.5);
    let slip = |t: f64| {
        if within(t, 1.0, 1.5) {
            slip_from(t, 1.0)
        } else if within(t, 5.0, 5.5) {
            slip_from(t, 5.0)
        } else {
            0.0
        }
    };
    let torque = |_: f64| 300.0;
    let speed = |t: f64| if t < 1.2 { 0.0 } else { 20.0 };
    let columns: [(&str, &dyn Fn(f64) -> f64); 3] = [
        ("clutch_slip_speed_rad_s", &slip),
        ("clutch_torque_n_m", &torque),
        ("vehicle_speed_m_s", &speed),
    ];
    let reduced = reduce(1000.0, 10.0, &columns);
    let energy = 0.5 * 300.0 * 300.0 * 0.5;
    let (launch, other) = (
        shocks(&reduced, "launch"),
        shocks(&reduced, "clutch_engagement"),
    );
    assert_eq!((launch.len(), other.len()), (1, 1));
    // Slip below 5 rad/s is none, so the end comes 8 ms early.
    assert_row(&launch[0], &[1.0, 0.492, energy, 90_000.0, 300.0], 3e-3);
    assert_row(&other[0], &[5.0, 0.492, energy, 90_000.0, 300.0], 3e-3);

    let reduced = reduce(1000.0, 10.0, &columns[..2]);
    assert_eq!(shocks(&reduced, "clutch_engagement").len(), 2);
    let launch = reduced
        .report
        .not_looked_for
        .iter()
        .find(|f| f.field == "launch")
        .unwrap();
    assert!(launch.value.contains("vehicle_speed_m_s"), "{launch:?}");
}

#[test]
fn shifts_but_not_noise_of_the_gear_channel() {
    let gear = |t: f64| {
        if within(t, 1.0, 1.05) {
            0.0
        } else if within(t, 2.0, 2.03) {
            // A flicker.
            5.0
        } else if t < 1.0 {
            2.0
        } else {
            3.0
        }
    };
    let speed = |t: f64| if t < 1.0 { 800.0 } else { 640.0 };
    let torque = |t: f64| if within(t, 1.0, 1.05) { 0.0 } else { 400.0 };
    let columns: [(&str, &dyn Fn(f64) -> f64); 3] = [
        ("engine_speed_rad_s", &speed),
        ("engine_torque_n_m", &torque),
        ("gear", &gear),
    ];
    let reduced = reduce(100.0, 5.0, &columns);
    let found = shocks(&reduced, "shift");
    assert_eq!(found.len(), 1, "{found:?}");
    // Out at 1.00 s, in at 1.05 s, settled at 1.15 s; the mean torque is over the latter.
    let mean_torque = 400.0 * (1.15 - 1.05) / 0.15;
    assert_row(&found[0][..4], &[1.0, 0.05, 2.0, 3.0], 1e-9);
    assert!(
        (found[0][5] - mean_torque).abs() < 400.0 * 0.01 / 0.15 + 1e-6,
        "{found:?}"
    );
}

/// A kind whose channels are missing is said not to have been looked for, and has no table.
#[test]
fn what_was_not_looked_for_is_said() {
    let reduced = reduce(100.0, 5.0, &[("engine_speed_rad_s", &|_| 500.0)]);
    let not_looked_for: Vec<&str> = reduced
        .report
        .not_looked_for
        .iter()
        .map(|finding| finding.field.as_str())
        .collect();
    assert_eq!(
        not_looked_for,
        [
            "oil_pressure_dip",
            "oil_overheat",
            "knock_burst",
            "start",
            "clutch_engagement",
            "launch",
            "shift",
            "impact"
        ]
    );
    let kinds: Vec<&str> = reduced
        .duty
        .shocks
        .iter()
        .map(|shocks| shocks.kind.as_str())
        .collect();
    assert_eq!(kinds, ["over_rev"]);
}
