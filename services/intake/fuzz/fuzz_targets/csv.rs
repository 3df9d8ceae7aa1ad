//! Any bytes as a CSV log: reduced or refused, never a panic; cut anywhere to the same end; no time made or lost.

#![no_main]

use libfuzzer_sys::fuzz_target;
use ringland_intake::{ChannelMap, CsvLog, Reduced, Refusal, Settings};
use std::sync::LazyLock;

static MAP: LazyLock<ChannelMap> = LazyLock::new(|| {
    let text = r#"
        time_column = "t"
        columns = [
            { channel = "engine_speed_rad_s", column = "n", unit = "rpm" },
            { channel = "engine_torque_n_m", column = "m", unit = "lbf.ft" },
            { channel = "gear", column = "g", unit = "1", optional = true },
            { channel = "oil_pressure_pa", column = "p", unit = "psig", optional = true },
        ]
    "#;
    toml::from_str(text).expect("the map above is valid")
});

fn reduce(pieces: &[&[u8]]) -> Result<Reduced, Refusal> {
    let mut log = CsvLog::new(&MAP, &Settings::default())?;
    for piece in pieces {
        log.push(piece)?;
    }
    log.finish()
}

fuzz_target!(|input: (u16, Vec<u8>)| {
    let (cut, body) = input;
    // With a header of its own the input gets further than by guessing one.
    for header in [&b"t,n,m,g,p\n"[..], b""] {
        let bytes = [header, &body].concat();
        let (first, second) = bytes.split_at(usize::from(cut) % (bytes.len() + 1));
        let whole = reduce(&[&bytes]);
        assert_eq!(
            format!("{:?}", reduce(&[first, second])),
            format!("{whole:?}")
        );
        if let Ok(Reduced { duty, report }) = whole {
            let lost: f64 = report.flaws.iter().map(|flaw| flaw.lost_s).sum();
            let missed = (report.counted_duration_s + lost - report.log_duration_s).abs();
            assert!(missed <= 1e-6 * report.log_duration_s, "{report:?}");
            let mut numbers = duty.points.iter().flatten().chain(&duty.time_s);
            assert!(numbers.all(|number| number.is_finite()), "{duty:?}");
        }
    }
});
