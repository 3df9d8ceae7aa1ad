//! Laws of the reduction.

// Bits are compared, and tests may fail loudly.
#![allow(
    clippy::float_cmp,
    clippy::format_push_string,
    clippy::panic,
    clippy::unwrap_used
)]

use proptest::prelude::*;
use ringland_intake::{
    ChannelColumn, ChannelMap, CsvLog, Reduced, Refusal, SampleChannel, SampleLog, Settings,
    read_csv,
};

fn sample_channel(channel: &str, unit: &str) -> SampleChannel {
    SampleChannel {
        channel: channel.into(),
        unit: unit.into(),
        hold_s: None,
    }
}

fn column(channel: &str, column: &str, unit: &str) -> ChannelColumn {
    ChannelColumn {
        channel: channel.into(),
        column: column.into(),
        unit: unit.into(),
        scale: 1.0,
        offset: 0.0,
        rate_hz: None,
        hold_s: None,
        optional: false,
    }
}

fn map(speed_unit: &str) -> ChannelMap {
    let columns = vec![
        column("engine_speed_rad_s", "rpm", speed_unit),
        column("engine_torque_n_m", "torque", "N.m"),
        column("oil_temp_k", "oil", "degC"),
    ];
    ChannelMap {
        name: "test".into(),
        time_column: "t".into(),
        time_unit: "s".into(),
        sample_rate_hz: None,
        columns,
        delimiter: ',',
        skip_lines: 0,
        skip_lines_after_header: 0,
        ambient_pressure_pa: 101_325.0,
    }
}

/// A row: step, speed in rpm, torque, oil temperature.
type Row = (f64, f64, f64, f64);

fn rows() -> impl Strategy<Value = Vec<Row>> {
    // Steps above 1 s are gaps; a tenth of the speeds is implausible or missing.
    let speed = prop_oneof![
        18 => 0.0..9000.0_f64,
        1 => Just(f64::NAN),
        1 => Just(1e6),
    ];
    prop::collection::vec(
        (0.0..1.2_f64, speed, -100.0..500.0_f64, 60.0..130.0_f64),
        2..200,
    )
}

fn csv_text(rows: &[Row]) -> String {
    let mut text = String::from("t,rpm,torque,oil\r\n");
    let mut time = 0.0;
    for (step, speed, torque, oil) in rows {
        time += step;
        let speed = if speed.is_nan() {
            String::new()
        } else {
            speed.to_string()
        };
        text.push_str(&format!("{time},{speed},{torque},{oil}\r\n"));
    }
    text
}

/// Bits of everything, so that equal means equal to the last one.
fn bits(reduced: &Result<Reduced, Refusal>) -> String {
    match reduced {
        Ok(reduced) => serde_json::to_string(reduced).unwrap(),
        Err(refusal) => refusal.to_string(),
    }
}

fn in_pieces(bytes: &[u8], cuts: &[prop::sample::Index]) -> Result<Reduced, Refusal> {
    let mut cuts: Vec<usize> = cuts.iter().map(|cut| cut.index(bytes.len() + 1)).collect();
    cuts.sort_unstable();
    let mut log = CsvLog::new(&map("rpm"), &Settings::default())?;
    let mut start = 0;
    for cut in cuts {
        log.push(&bytes[start..cut])?;
        start = cut;
    }
    log.push(&bytes[start..])?;
    log.finish()
}

fn columns(rows: &[Row]) -> (Vec<f64>, [Vec<f64>; 3]) {
    let mut time = 0.0;
    let times = rows.iter().map(|row| {
        time += row.0;
        time
    });
    let times = times.collect();
    let speeds = rows.iter().map(|row| row.1).collect();
    let torques = rows.iter().map(|row| row.2).collect();
    let oils = rows.iter().map(|row| row.3).collect();
    (times, [speeds, torques, oils])
}

fn lenient() -> Settings {
    let mut settings = Settings::default();
    settings.limits.bad_share = 1.0;
    settings
}

proptest! {
    /// All time of the log is counted or booked as lost.
    #[test]
    fn time_is_conserved(rows in rows()) {
        let channels = [
            sample_channel("engine_speed_rad_s", "rpm"),
            sample_channel("engine_torque_n_m", "N.m"),
            sample_channel("oil_temp_k", "degC"),
        ];
        let (times, columns) = columns(&rows);
        let mut log = SampleLog::new(&channels, &lenient()).unwrap();
        log.push(&times, &columns).unwrap();
        let Ok(Reduced { duty, report }) = log.finish() else {
            return Ok(());
        };
        let lost: f64 = report.flaws.iter().map(|flaw| flaw.lost_s).sum();
        let span = times[times.len() - 1] - times[0];
        prop_assert!((report.log_duration_s - span).abs() < 1e-9 * (1.0 + span));
        prop_assert!((report.counted_duration_s + lost - span).abs() < 1e-9 * (1.0 + span));
        prop_assert!((duty.duration_s - report.counted_duration_s).abs() < 1e-9 * (1.0 + span));
        prop_assert_eq!(duty.time_s.iter().sum::<f64>(), duty.duration_s);
        for (column, name) in duty.points.iter().zip(&duty.channels) {
            prop_assert_eq!(column.len(), duty.time_s.len());
            prop_assert!(column.iter().all(|value| value.is_finite()), "{}", name);
        }
    }

    /// Cells keep means, so what is linear in a channel is exact: turns of the crank.
    #[test]
    fn turns_of_the_crank_are_exact(rows in rows()) {
        if let Ok(Reduced { duty, report }) = in_pieces(csv_text(&rows).as_bytes(), &[]) {
            let speed = duty.column("engine_speed_rad_s").unwrap();
            let turns: f64 = speed.iter().zip(&duty.time_s).map(|(w, t)| w * t).sum();
            let turns = turns / std::f64::consts::TAU;
            prop_assert!((turns - report.crank_revolutions).abs() < 1e-9 * (1.0 + turns));
        }
    }

    /// A stream cut anywhere gives the same bits.
    #[test]
    fn csv_may_be_cut_anywhere(
        rows in rows(),
        cuts in prop::collection::vec(any::<prop::sample::Index>(), 0..8),
        mark in any::<bool>(),
    ) {
        let mut bytes = if mark { b"\xef\xbb\xbf".to_vec() } else { Vec::new() };
        bytes.extend(csv_text(&rows).into_bytes());
        prop_assert_eq!(bits(&in_pieces(&bytes, &cuts)), bits(&in_pieces(&bytes, &[])));
    }

    /// Any bytes at all are reduced or refused, and cut anywhere to the same end.
    #[test]
    fn any_bytes_may_be_cut_anywhere(
        body in "[-0-9.,;\"\r\nEenainf ]{0,200}",
        cuts in prop::collection::vec(any::<prop::sample::Index>(), 0..8),
    ) {
        let text = format!("t,rpm,torque,oil\n{body}");
        let bytes = text.as_bytes();
        prop_assert_eq!(bits(&in_pieces(bytes, &cuts)), bits(&in_pieces(bytes, &[])));
        let raw = body.as_bytes();
        prop_assert_eq!(bits(&in_pieces(raw, &cuts)), bits(&in_pieces(raw, &[])));
    }

    /// Samples cut between rows give the same bits, and the same as the CSV of the same log.
    #[test]
    fn samples_are_the_csv(rows in rows(), cut in any::<prop::sample::Index>()) {
        let channels = [
            sample_channel("engine_speed_rad_s", "rpm"),
            sample_channel("engine_torque_n_m", "N.m"),
            sample_channel("oil_temp_k", "degC"),
        ];
        let (times, columns) = columns(&rows);
        let cut = cut.index(times.len() + 1);
        let whole = || {
            let mut log = SampleLog::new(&channels, &Settings::default())?;
            log.push(&times, &columns)?;
            log.finish()
        };
        let parts = || {
            let mut log = SampleLog::new(&channels, &Settings::default())?;
            log.push(&times[..cut], &columns.each_ref().map(|column| &column[..cut]))?;
            log.push(&times[cut..], &columns.each_ref().map(|column| &column[cut..]))?;
            log.finish()
        };
        prop_assert_eq!(bits(&parts()), bits(&whole()));
        if let (Ok(samples), Ok(csv)) = (whole(), in_pieces(csv_text(&rows).as_bytes(), &[])) {
            prop_assert_eq!(samples.duty, csv.duty);
        }
    }

    /// The unit of the log is immaterial.
    #[test]
    fn unit_is_immaterial(rows in rows()) {
        let in_rpm = read_csv(csv_text(&rows).as_bytes(), &map("rpm"), &lenient());
        let scaled: Vec<Row> =
            rows.iter().map(|r| (r.0, r.1 * std::f64::consts::PI / 30.0, r.2, r.3)).collect();
        let in_si = read_csv(csv_text(&scaled).as_bytes(), &map("rad/s"), &lenient());
        let (Ok(a), Ok(b)) = (in_rpm, in_si) else {
            return Ok(());
        };
        prop_assert_eq!(a.duty.time_s.len(), b.duty.time_s.len());
        let pairs = a.duty.points.iter().flatten().zip(b.duty.points.iter().flatten());
        for (x, y) in pairs.chain(a.duty.time_s.iter().zip(&b.duty.time_s)) {
            prop_assert!((x - y).abs() <= 1e-9 * (1.0 + x.abs()), "{} {}", x, y);
        }
    }

    /// Use adds: the same log twice in a row is twice the use.
    #[test]
    fn use_adds(rows in prop::collection::vec((0.0..9000.0_f64, -100.0..500.0_f64), 2..100)) {
        let even = |rows: &[(f64, f64)]| {
            let mut text = String::from("rpm,torque,oil\n");
            for (speed, torque) in rows {
                text.push_str(&format!("{speed},{torque},90\n"));
            }
            let map = ChannelMap {
                time_column: String::new(),
                sample_rate_hz: Some(50.0),
                ..map("rpm")
            };
            read_csv(text.as_bytes(), &map, &Settings::default()).unwrap()
        };
        let once = even(&rows);
        let twice = even(&[rows.clone(), rows].concat());
        prop_assert!((twice.duty.duration_s - 2.0 * once.duty.duration_s).abs() < 1e-9);
        prop_assert_eq!(twice.duty.time_s.len(), once.duty.time_s.len());
        for (two, one) in twice.duty.time_s.iter().zip(&once.duty.time_s) {
            prop_assert!((two - 2.0 * one).abs() < 1e-9);
        }
        for (two, one) in twice.duty.points.iter().flatten().zip(once.duty.points.iter().flatten()) {
            prop_assert!((two - one).abs() < 1e-9 * (1.0 + one.abs()));
        }
    }
}

/// Five million rows of noise: what is kept stays within a bound that the limits give.
#[test]
fn memory_does_not_grow_with_the_log() {
    let channels = [
        sample_channel("engine_speed_rad_s", "rad/s"),
        sample_channel("engine_torque_n_m", "N.m"),
        sample_channel("oil_temp_k", "K"),
    ];
    let mut settings = Settings::default();
    settings.limits.cells = 1000;
    let mut log = SampleLog::new(&channels, &settings).unwrap();
    // Cells of 2 numbers and 3 for each channel, residue, classes of 5 numbers.
    let bound = 1000 * (2 + 3 * 3) + 1000 + 2000 * 5;
    let mut state: u64 = 1;
    let mut uniform = move || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 11) as f64 / (1_u64 << 53) as f64
    };
    let mut most = [0; 2];
    for piece in 0..5_000_u32 {
        let times: Vec<f64> = (0..1000)
            .map(|i| f64::from(piece * 1000 + i) * 0.01)
            .collect();
        let mut column = |from: f64, to: f64| -> Vec<f64> {
            (0..1000).map(|_| from + (to - from) * uniform()).collect()
        };
        let columns = [
            column(100.0, 900.0),
            column(-500.0, 4500.0),
            column(350.0, 400.0),
        ];
        log.push(&times, &columns).unwrap();
        let half = usize::from(piece >= 2_500);
        most[half] = most[half].max(log.retained());
    }
    assert!(most[0] <= bound && most[1] <= bound, "{most:?} {bound}");
    let Reduced { duty, report } = log.finish().unwrap();
    assert_eq!(report.rows, 5_000_000);
    assert!(duty.time_s.len() <= 1000);
    assert!((duty.duration_s - 49_999.99).abs() < 1e-6);
    assert!(
        report
            .notes
            .iter()
            .any(|note| note.expected == "at most 1000 cells"),
        "{report:?}"
    );
}
