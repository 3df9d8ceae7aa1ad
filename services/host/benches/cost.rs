//! What the sandbox costs: `cargo bench -p ringland-host -- PLUGIN.wasm`. Prints times and ratios;
//! nothing passes or fails by them.

use ringland_host::{
    Limits, WasmModels,
    contract::{Card, Duty, LoadCycles, Models as _, Table, default_specimen},
};
use std::{
    error::Error,
    io::{self, Write as _},
    path::PathBuf,
    time::{Duration, Instant},
};

const ROUNDS: usize = 30;

fn main() -> Result<(), Box<dyn Error>> {
    let path = std::env::args()
        .skip(1)
        .find(|argument| !argument.starts_with('-'));
    let path = PathBuf::from(path.ok_or("which plugin? give the path of a .wasm file after `--`")?);
    let bytes = std::fs::read(&path)?;
    let folder = tempfile::tempdir()?;
    let mut out = io::stdout();

    let fresh = time(|| load(&bytes, folder.path()))?.0;
    let (cached, models) = time(|| load(&bytes, folder.path()))?;
    let plugin = models.loaded()[0];
    let ratio = fresh.as_secs_f64() / cached.as_secs_f64();
    writeln!(out, "load, compiling  {:10.2} ms", millis(fresh))?;
    writeln!(
        out,
        "load, cached     {:10.2} ms  {ratio:.0} times as fast",
        millis(cached)
    )?;

    let card = models.card(plugin)?;
    let specimen = default_specimen(&card);
    let prepared = models.prepare(plugin, &specimen)?;
    let opening = vec![None; card.condition.len()];
    let start = models.begin(plugin, &specimen, &prepared, &opening)?;
    let advance = |records: usize| {
        let duties = vec![duty(&card); records];
        fastest(|| Ok(models.advance(plugin, &specimen, &prepared, &start, &duties)?))
    };
    let (none, one, thousand) = (advance(0)?, advance(1)?, advance(1000)?);
    let per_record = (thousand.saturating_sub(none)).as_secs_f64() / 1000.0;
    writeln!(
        out,
        "advance, none    {:10.1} us  a fresh instance and one call",
        micros(none)
    )?;
    writeln!(out, "advance, one     {:10.1} us", micros(one))?;
    let alone = one.as_secs_f64() * 1000.0 / thousand.as_secs_f64();
    writeln!(
        out,
        "advance, 1000    {:10.1} us  {:.2} us a record; one call for all is {alone:.1} times as fast as one each",
        micros(thousand),
        per_record * 1e6
    )?;
    Ok(())
}

fn load(bytes: &[u8], folder: &std::path::Path) -> Result<WasmModels, Box<dyn Error>> {
    let models = WasmModels::new(Limits::default(), folder)?;
    models.load(bytes)?;
    Ok(models)
}

/// A record of 20 operating points in which nothing turns.
fn duty(card: &Card) -> Duty {
    const POINTS: usize = 20;
    let shock = |fields: usize| Table {
        columns: vec![Vec::new(); fields],
    };
    Duty {
        duration_s: 60.0 * POINTS as f64,
        time_s: vec![60.0; POINTS],
        points: vec![vec![0.0; POINTS]; card.duty.channels.len()],
        cycles: vec![LoadCycles::default(); card.duty.cycles.len()],
        shocks: card
            .duty
            .shocks
            .iter()
            .map(|s| shock(s.fields.len()))
            .collect(),
        mates: card
            .duty
            .mates
            .iter()
            .map(|mate| mate.default_value)
            .collect(),
    }
}

fn time<T>(
    run: impl FnOnce() -> Result<T, Box<dyn Error>>,
) -> Result<(Duration, T), Box<dyn Error>> {
    let start = Instant::now();
    let value = run()?;
    Ok((start.elapsed(), value))
}

fn fastest<T>(run: impl Fn() -> Result<T, Box<dyn Error>>) -> Result<Duration, Box<dyn Error>> {
    let mut best = Duration::MAX;
    for _ in 0..ROUNDS {
        best = best.min(time(&run)?.0);
    }
    Ok(best)
}

fn millis(time: Duration) -> f64 {
    time.as_secs_f64() * 1e3
}

fn micros(time: Duration) -> f64 {
    time.as_secs_f64() * 1e6
}
