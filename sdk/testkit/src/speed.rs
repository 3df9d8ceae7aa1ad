//! How long calls take: for information.

use crate::subject::{Subject, text};
use ringland_host::contract::Models;
use std::time::{Duration, Instant};

const ROUNDS: usize = 5;

/// Fastest of several rounds, call by call. The prepared table is made before the clock runs.
pub(crate) fn measure(subject: &Subject) -> Result<Vec<(String, Duration)>, String> {
    let specimen = subject.specimen();
    let prepared = subject.prepare(&specimen)?;
    let start = subject.new_condition(&specimen)?;
    let (models, plugin) = (&subject.models, subject.plugin);
    let one = vec![subject.duty(60.0)];
    let thousand = vec![subject.duty(60.0); 1000];
    let request = subject.request(start.clone());
    let advance = |duties: &[_]| {
        let answer = models.advance(plugin, &specimen, &prepared, &start, duties);
        answer.map(drop).map_err(text)
    };
    Ok(vec![
        (
            "check".into(),
            fastest(|| models.check(plugin, &specimen).map(drop).map_err(text))?,
        ),
        (
            "advance, one record of three points".into(),
            fastest(|| advance(&one))?,
        ),
        (
            "advance, a thousand such records".into(),
            fastest(|| advance(&thousand))?,
        ),
        (
            format!("forecast, {} lives for each mechanism", request.samples),
            fastest(|| {
                models
                    .forecast(plugin, &specimen, &prepared, &request)
                    .map(drop)
                    .map_err(text)
            })?,
        ),
    ])
}

fn fastest(mut call: impl FnMut() -> Result<(), String>) -> Result<Duration, String> {
    let mut best = Duration::MAX;
    for _ in 0..ROUNDS {
        let start = Instant::now();
        call()?;
        best = best.min(start.elapsed());
    }
    Ok(best)
}
