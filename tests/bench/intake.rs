//! Duty samples through intake (units, plausibility, operating points, rainflow) against the Python
//! package `rainflow`, which only counts, on the same series.

use crate::{median, seconds};
use ringland_intake::{SampleChannel, SampleLog, Settings};
use ringland_mechanics::counting::rainflow;
use std::{fmt::Write, path::PathBuf, process::Command};

const SAMPLES: usize = 200_000;

pub fn run() -> Result<(), Box<dyn std::error::Error>> {
    let torque = series();
    let time_s: Vec<f64> = (0..SAMPLES).map(|i| i as f64 / 100.0).collect();
    let speed: Vec<f64> = torque.iter().map(|t| 500.0 + t).collect();
    let channels = [
        ("engine_speed_rad_s", "rad/s"),
        ("engine_torque_n_m", "N.m"),
    ]
    .map(|(channel, unit)| SampleChannel {
        channel: channel.into(),
        unit: unit.into(),
        hold_s: None,
    });
    let intake_s = median(
        (0..5)
            .map(|_| {
                seconds(|| {
                    let mut log = SampleLog::new(&channels, &Settings::default())?;
                    log.push(&time_s, &[&speed, &torque])?;
                    log.finish()
                })
            })
            .collect(),
    );
    let counting_s = median((0..5).map(|_| seconds(|| rainflow(&torque))).collect());
    println!(
        "  intake {:.0} samples/s (two channels, all of it); counting alone {:.0} samples/s",
        2.0 * SAMPLES as f64 / intake_s,
        SAMPLES as f64 / counting_s
    );
    let Some(python) = std::env::var_os("RINGLAND_PYTHON") else {
        println!(
            "  the Python package rainflow: not run; set RINGLAND_PYTHON (tests/run makes it)"
        );
        return Ok(());
    };
    let python_s = python_seconds(&PathBuf::from(python), &torque)?;
    println!(
        "  Python rainflow {:.0} samples/s: counting alone is {:.0} times as fast, intake as a whole {:.0} times",
        SAMPLES as f64 / python_s,
        python_s / counting_s,
        2.0 * python_s / intake_s
    );
    Ok(())
}

/// The congruential series of the counting checks, as torque.
fn series() -> Vec<f64> {
    let mut state: u64 = 12_345;
    let next = |_| {
        state = (1_103_515_245 * state + 12_345) % (1 << 31);
        ((state >> 16) % 1001) as f64 - 500.0
    };
    (0..SAMPLES).map(next).collect()
}

fn python_seconds(python: &PathBuf, series: &[f64]) -> Result<f64, Box<dyn std::error::Error>> {
    let folder = tempfile::TempDir::new()?;
    let file = folder.path().join("series.txt");
    let mut text = String::new();
    for value in series {
        writeln!(text, "{value}")?;
    }
    std::fs::write(&file, text)?;
    let script = "import sys, time, rainflow\n\
                  series = [float(line) for line in open(sys.argv[1])]\n\
                  times = []\n\
                  for _ in range(3):\n\
                  \x20   start = time.perf_counter()\n\
                  \x20   for _ in rainflow.extract_cycles(series): pass\n\
                  \x20   times.append(time.perf_counter() - start)\n\
                  print(sorted(times)[1])";
    let output = Command::new(python)
        .args(["-c", script])
        .arg(&file)
        .output()?;
    if !output.status.success() {
        return Err(String::from_utf8_lossy(&output.stderr).into_owned().into());
    }
    Ok(String::from_utf8(output.stdout)?.trim().parse()?)
}
