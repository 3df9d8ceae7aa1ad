//! Maps, flaws and refusals.

// Helpers of tests may fail loudly.
#![allow(
    clippy::float_cmp,
    clippy::format_push_string,
    clippy::panic,
    clippy::unwrap_used
)]

use ringland_intake::{
    ChannelMap, Flaw, FlawKind, ReadError, Reduced, SampleChannel, SampleLog, Settings, read_csv,
};

const MAP: &str = r#"
name = "dyno cell"
time_column = "Time"
time_unit = "ms"
skip_lines = 1
skip_lines_after_header = 1

[[columns]]
channel = "engine_speed_rad_s"
column = "RPM"
unit = "rpm"

[[columns]]
channel = "oil_pressure_pa"
column = "Oil P"
unit = "psig"

[[columns]]
channel = "manifold_pressure_pa"
column = "MAP"
unit = "bar_gauge"

[[columns]]
channel = "oil_temp_k"
column = "Oil T"
unit = "degF"
rate_hz = 1.0

[[columns]]
channel = "lambda"
column = "Lambda"
unit = "1"
scale = 0.06802721
optional = true
"#;

fn map() -> ChannelMap {
    toml::from_str(MAP).unwrap()
}

fn read(map: &ChannelMap, text: &str) -> Result<Reduced, String> {
    match read_csv(text.as_bytes(), map, &Settings::default()) {
        Ok(reduced) => Ok(reduced),
        Err(ReadError::Refused(refusal)) => {
            assert!(!refusal.findings.is_empty());
            for finding in &refusal.findings {
                assert!(
                    !finding.field.is_empty() && !finding.remedy.is_empty(),
                    "{finding:?}"
                );
            }
            Err(refusal.to_string())
        }
        Err(error) => panic!("{error}"),
    }
}

const HEAD: &str = "Cell 3\r\nTime,RPM,Oil P,MAP,Note,Oil T\r\nms,rpm,psi,bar,,F\r\n";

/// Rows of 100 ms.
fn log(rows: &[&str]) -> String {
    let mut text = HEAD.to_owned();
    for (index, row) in rows.iter().enumerate() {
        text.push_str(&format!("{},{row}\r\n", index * 100));
    }
    text
}

fn flaw(reduced: &Reduced, kind: FlawKind) -> &Flaw {
    reduced
        .report
        .flaws
        .iter()
        .find(|flaw| flaw.kind == kind)
        .unwrap()
}

#[test]
fn shop_units_become_si() {
    let row = "6000,60,0.5,,212";
    let Reduced { duty, report } = read(&map(), &log(&[row, row, row])).unwrap();
    assert_eq!(duty.time_s.len(), 1);
    let close = |channel: &str, expected: f64| {
        let found = duty.column(channel).unwrap()[0];
        assert!((found / expected - 1.0).abs() < 1e-6, "{channel} {found}");
    };
    close("engine_speed_rad_s", 628.318_531);
    close("oil_temp_k", 373.15);
    // NIST SP 811: 1 psi = 6894.757 Pa; the channel is gauge pressure.
    close("oil_pressure_pa", 60.0 * 6894.757);
    // The channel is absolute pressure: gauge plus standard atmosphere.
    close("manifold_pressure_pa", 151_325.0);
    assert!((duty.duration_s - 0.2).abs() < 1e-12);
    assert!((report.crank_revolutions - 20.0).abs() < 1e-9);
    assert_eq!(report.unused_columns, ["Note"]);
    assert_eq!(duty.column("lambda"), None);
}

#[test]
fn a_slow_channel_leaves_blanks_that_are_no_flaw() {
    let mut rows = vec!["6000,60,0.5,,212"];
    rows.extend(["6000,60,0.5,,"; 9]);
    rows.push("6000,60,0.5,,214");
    let reduced = read(&map(), &log(&rows)).unwrap();
    assert!(
        reduced.report.flaws.is_empty(),
        "{:?}",
        reduced.report.flaws
    );
    assert!((reduced.duty.duration_s - 1.0).abs() < 1e-12);
}

#[test]
fn bad_samples_are_named_and_bridged() {
    let mut rows = vec!["6000,60,0.5,,212"; 40];
    rows[10] = "oops,60,0.5,,212";
    rows[11] = "nan,60,0.5,,212";
    rows[20] = "600000,60,0.5,,212";
    rows[30] = "6000,60,0.5";
    let reduced = read(&map(), &log(&rows)).unwrap();
    // Three lines come before the first row.
    assert_eq!(flaw(&reduced, FlawKind::NotANumber).rows, [14, 15]);
    assert_eq!(
        flaw(&reduced, FlawKind::NotANumber).channel,
        "engine_speed_rad_s"
    );
    assert_eq!(flaw(&reduced, FlawKind::Implausible).rows, [24]);
    assert_eq!(flaw(&reduced, FlawKind::RowLength).rows, [34]);
    assert_eq!(reduced.duty.time_s.len(), 1);
    assert!((reduced.duty.duration_s - 3.9).abs() < 1e-9);
}

#[test]
fn a_dead_sensor_is_not_bridged_for_ever() {
    // Blank for 1 s: held for 0.5 s, then 4 rows unknown.
    let mut rows = vec!["6000,60,0.5,,212"; 100];
    for row in &mut rows[40..50] {
        *row = ",60,0.5,,212";
    }
    let reduced = read(&map(), &log(&rows)).unwrap();
    let blank = flaw(&reduced, FlawKind::Blank);
    assert_eq!((blank.count, &blank.rows[..2]), (5, &[49, 50][..]));
    assert!((blank.lost_s - 0.5).abs() < 1e-9, "{blank:?}");
    assert!((reduced.duty.duration_s - 9.4).abs() < 1e-9);
}

#[test]
fn gaps_are_not_use() {
    let mut text = log(&["6000,60,0.5,,212"; 5]);
    text.push_str("10000,6000,60,0.5,,212\n10100,6000,60,0.5,,212\n");
    let reduced = read(&map(), &text).unwrap();
    let gap = flaw(&reduced, FlawKind::Gap);
    assert_eq!((gap.count, &gap.rows[..]), (1, &[9][..]));
    assert!((gap.lost_s - 9.6).abs() < 1e-9);
    assert!((reduced.duty.duration_s - 0.5).abs() < 1e-9);
    assert!((reduced.report.log_duration_s - 10.1).abs() < 1e-9);
}

#[test]
fn the_report_is_bounded() {
    let mut rows = vec!["6000,60,0.5,,212"; 2000];
    for row in rows.iter_mut().step_by(20) {
        *row = "6000,x,0.5,,212";
    }
    let reduced = read(&map(), &log(&rows)).unwrap();
    let bad = flaw(&reduced, FlawKind::NotANumber);
    assert_eq!((bad.count, bad.rows.len()), (100, Flaw::MOST_ROWS));
}

/// What is refused, and what the refusal says.
#[test]
fn refusals_say_what_to_do() {
    let good = log(&["6000,60,0.5,,212"; 30]);
    let with = |from: &str, to: &str| {
        assert!(MAP.contains(from), "{from}");
        toml::from_str::<ChannelMap>(&MAP.replacen(from, to, 1)).unwrap()
    };
    let twice =
        format!("{MAP}\n[[columns]]\nchannel = \"oil_temp_k\"\ncolumn = \"T2\"\nunit = \"K\"");
    let mut backwards = good.clone();
    backwards.push_str("50,6000,60,0.5,,212\n");
    let mut noisy = vec!["6000,60,0.5,,212"; 30];
    noisy[..10].fill("broken,60,0.5,,212");
    let cases = [
        (
            with("\"psig\"", "\"psi\""),
            good.clone(),
            &["columns[1].unit", "psig", "gauge"][..],
        ),
        (
            with("\"rpm\"", "\"furlongs\""),
            good.clone(),
            &["columns[0].unit", "furlongs", "rpm"],
        ),
        (
            with("lambda", "lamda"),
            good.clone(),
            &["columns[4].channel", "lamda"],
        ),
        (
            with("\"RPM\"", "\"Revs\""),
            good.clone(),
            &["\"Revs\"", "missing", "\"RPM\""],
        ),
        (
            with("\"ms\"", "\"hours\""),
            good.clone(),
            &["time_unit", "hours"],
        ),
        (
            with("time_column = \"Time\"", ""),
            good.clone(),
            &["time_column", "sample_rate_hz"],
        ),
        (
            toml::from_str(&twice).unwrap(),
            good.clone(),
            &["columns[5].channel", "oil_temp_k", "once"],
        ),
        (
            with("0.06802721", "0.0"),
            good.clone(),
            &["columns[4].scale"],
        ),
        (
            map(),
            backwards,
            &["time", "0.05 s in row 34", "2.9", "row 33"],
        ),
        (
            map(),
            log(&noisy),
            &["engine_speed_rad_s", "33.3 %", "at most 10.0 %"],
        ),
        (map(), HEAD.to_owned(), &["without a row"]),
        (map(), "Cell 3\n".to_owned(), &["header"]),
        (map(), good.replace("Oil T", "RPM"), &["\"RPM\"", "2 times"]),
        (map(), log(&["6000,60,0.5,,212"]), &["no time counts"]),
        (
            map(),
            format!("{HEAD}\"{}", "x".repeat(2 << 20)),
            &["line", "quote"],
        ),
        (
            map(),
            format!("{HEAD}{}\n", ",".repeat(1 << 15)),
            &["line", "cells"],
        ),
    ];
    for (map, text, expected) in cases {
        let message = read(&map, &text).expect_err("should be refused");
        for part in expected {
            assert!(message.contains(part), "{part:?} is not in: {message}");
        }
    }
}

/// An optional channel that is too bad is left out, and said to be.
#[test]
fn a_broken_optional_channel_is_left_out() {
    let text = log(&["6000,60,0.5,-3,212"; 30]).replace("Note", "Lambda");
    let reduced = read(&map(), &text).unwrap();
    assert_eq!(reduced.duty.column("lambda"), None);
    assert!(reduced.duty.column("oil_temp_k").is_some());
    assert!(
        reduced
            .report
            .notes
            .iter()
            .any(|note| note.field == "lambda")
    );
}

/// Settings are checked, too, and a misspelt one is not ignored.
#[test]
fn settings_are_checked() {
    let mut settings = Settings::default();
    settings.limits.gap_s = -1.0;
    settings.thresholds.knock_level = f64::NAN;
    let channel = SampleChannel {
        channel: "engine_speed_rad_s".into(),
        unit: "rpm".into(),
        hold_s: None,
    };
    let refusal = SampleLog::new(&[channel], &settings)
        .err()
        .unwrap()
        .to_string();
    assert!(
        refusal.contains("limits.gap_s") && refusal.contains("knock_level"),
        "{refusal}"
    );
    assert!(toml::from_str::<Settings>("[limits]\ngap = 3.0").is_err());
}

/// Damage of the reduced cycles against the count of the whole series: the Python package rainflow
/// 3.2.0 on the same series (linear congruential generator of ISO C's example `rand`, seed 12345).
#[test]
fn reduced_cycles_keep_the_damage() {
    let mut state: u64 = 12_345;
    let next = |_| {
        state = (1_103_515_245 * state + 12_345) % (1 << 31);
        ((state >> 16) % 1001) as f64 - 500.0
    };
    let torque: Vec<f64> = (0..10_000).map(next).collect();
    let times: Vec<f64> = (0..10_000).map(|i| f64::from(i) * 0.01).collect();
    let channel = SampleChannel {
        channel: "engine_torque_n_m".into(),
        unit: "N.m".into(),
        hold_s: None,
    };
    let mut log = SampleLog::new(&[channel], &Settings::default()).unwrap();
    log.push(&times, &[torque]).unwrap();
    let duty = log.finish().unwrap().duty;
    let cycles = &duty.cycles[0].cycles;
    let damage = |exponent: f64| -> f64 {
        let each = cycles.ranges.iter().zip(&cycles.counts);
        each.map(|(range, count)| count * (range / 1000.0).powf(exponent))
            .sum()
    };
    assert!((cycles.counts.iter().sum::<f64>() - 3320.0).abs() < 1e-9);
    for (exponent, whole) in [(3.0, 818.637_022_801), (5.0, 540.463_297_472)] {
        let error = damage(exponent) / whole - 1.0;
        assert!(error.abs() < 1e-3, "exponent {exponent}: {error}");
    }
}
