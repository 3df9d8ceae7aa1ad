//! The range of every number that can be set.

use super::{Problem, Settings};
use std::fmt::Display;

/// Key, value, smallest, largest.
type Range<T> = (&'static str, T, T, T);

/// Every number that is out of its range.
pub fn outside(settings: &Settings) -> Vec<Problem> {
    let whole = [calls(settings), host(settings)].concat();
    let mut problems: Vec<Problem> = whole.into_iter().filter_map(problem).collect();
    problems.extend(real(settings).into_iter().filter_map(problem));
    problems
}

fn problem<T: PartialOrd + Display>((key, value, minimum, maximum): Range<T>) -> Option<Problem> {
    let inside = (&minimum..=&maximum).contains(&&value);
    (!inside).then(|| Problem {
        key,
        value: value.to_string(),
        expected: format!("{minimum} to {maximum}"),
    })
}

#[rustfmt::skip]
fn calls(settings: &Settings) -> Vec<Range<u64>> {
    let (limits, watch) = (&settings.limits, &settings.watch);
    vec![
        // A piece of a plugin is a message of up to 1 MiB.
        ("limits.request_bytes", limits.request_bytes as u64, 1_200_000, 256 << 20),
        ("limits.response_bytes", limits.response_bytes as u64, 1 << 20, 256 << 20),
        ("limits.log_bytes", limits.log_bytes, 1 << 10, 1 << 40),
        ("limits.duty_rows", limits.duty_rows as u64, 1, 10_000_000),
        ("limits.duty_values", limits.duty_values as u64, 1, 100_000_000),
        ("limits.store_cache_bytes", limits.store_cache_bytes, 1 << 20, 1 << 40),
        ("limits.call_s", limits.call_s, 1, 3600),
        ("limits.stream_s", limits.stream_s, 1, 86_400),
        ("limits.drain_s", limits.drain_s, 0, 3600),
        ("limits.calls", limits.calls as u64, 1, 100_000),
        ("limits.calls_per_connection", u64::from(limits.calls_per_connection), 1, 100_000),
        ("limits.uploads", limits.uploads as u64, 1, 1000),
        ("limits.light_threads", limits.light_threads as u64, 1, 256),
        ("limits.light_queue", limits.light_queue as u64, 0, 100_000),
        ("limits.predict_threads", limits.predict_threads as u64, 1, 256),
        ("limits.predict_queue", limits.predict_queue as u64, 0, 100_000),
        ("limits.bulk_threads", limits.bulk_threads as u64, 1, 256),
        ("limits.bulk_queue", limits.bulk_queue as u64, 0, 100_000),
        ("limits.page_size", u64::from(limits.page_size), 1, 1000),
        ("limits.batch", limits.batch as u64, 1, 1000),
        ("watch.watchers", watch.watchers as u64, 1, 10_000),
        ("watch.targets", watch.targets as u64, 1, 100_000),
        ("watch.queue", watch.queue as u64, 1, 100_000),
    ]
}

#[rustfmt::skip]
fn host(settings: &Settings) -> Vec<Range<u64>> {
    let (limits, host) = (&settings.limits, &settings.host);
    // A thread that waits for an instance holds up its lane.
    let threads = limits.light_threads + limits.predict_threads + limits.bulk_threads;
    let samples = u64::from(settings.prediction.samples);
    vec![
        ("host.plugin_bytes", host.plugin_bytes as u64, 1 << 10, 255 << 20),
        ("host.plugins", host.plugins as u64, 1, 10_000),
        ("host.instances", u64::from(host.instances), threads as u64, 1000),
        ("host.memory_bytes", host.memory_bytes as u64, 1 << 20, 4 << 30),
        ("host.stack_bytes", host.stack_bytes as u64, 64 << 10, 64 << 20),
        ("host.answer_bytes", host.answer_bytes as u64, 1 << 20, 4 << 30),
        ("host.text_bytes", host.text_bytes as u64, 1 << 10, 64 << 20),
        ("host.prepare_ms", host.prepare_ms, 1, 3_600_000),
        ("host.call_ms", host.call_ms, 1, 3_600_000),
        ("host.short_call_ms", host.short_call_ms, 1, 3_600_000),
        ("host.tick_ms", host.tick_ms, 1, 1000),
        ("prediction.samples", samples, 100, u64::from(host.samples)),
    ]
}

fn real(settings: &Settings) -> Vec<Range<f64>> {
    let caps = &settings.prediction.risk_caps;
    vec![
        (
            "prediction.horizon_events",
            settings.prediction.horizon_events,
            1.0,
            100_000.0,
        ),
        ("prediction.risk_caps.nuisance", caps.nuisance, 0.0, 1.0),
        ("prediction.risk_caps.power_loss", caps.power_loss, 0.0, 1.0),
        ("prediction.risk_caps.unit_loss", caps.unit_loss, 0.0, 1.0),
        ("prediction.risk_caps.hazard", caps.hazard, 0.0, 1.0),
    ]
}
