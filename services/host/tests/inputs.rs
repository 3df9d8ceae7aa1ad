//! What is wrong with an input is found before a plugin sees it, and named.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of tests fail like tests"
)]

mod support;

use ringland_host::contract::{Duty, Finding, ForecastRequest, ModelError, Models, Rate};
use support::{Host, duty, request};

fn findings<T: std::fmt::Debug>(answer: Result<T, ModelError>) -> Vec<Finding> {
    match answer {
        Err(ModelError::Refused { findings, .. }) => findings,
        other => panic!("expected a refusal, got {other:?}"),
    }
}

#[test]
fn a_spec_out_of_range_is_refused_by_name_once() {
    let host = Host::new();
    let mut specimen = host.specimen("none");
    assert_eq!(host.models.check(host.plugin, &specimen).unwrap(), []);
    specimen.numbers[0] = -1.0;
    // The plugin makes the same finding as the host; it is told once.
    let found = host.models.check(host.plugin, &specimen).unwrap();
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].field, "rate_multiplier");
    assert_eq!(findings(host.models.prepare(host.plugin, &specimen)), found);
    specimen.numbers.clear();
    let found = host.models.check(host.plugin, &specimen).unwrap();
    assert_eq!(found[0].field, "numbers");
}

#[test]
fn a_table_prepared_for_another_spec_is_refused() {
    let host = Host::new();
    let prepared = host.prepare(&host.specimen("none"));
    let other = host.specimen("remember");
    let answer = host.models.begin(host.plugin, &other, &prepared, &[None]);
    assert!(matches!(answer, Err(ModelError::Host(_))), "{answer:?}");
}

type Spoil<T> = (&'static str, fn(&mut T));

#[test]
fn each_fault_of_duty_is_named() {
    let faults: [Spoil<Duty>; 6] = [
        ("duration_s", |d| d.duration_s = -1.0),
        ("time_s", |d| d.time_s[0] = f64::NAN),
        ("points", |d| d.points.clear()),
        ("engine_speed_rad_s", |d| d.points[0].push(1.0)),
        ("engine_speed_rad_s", |d| d.points[0][1] = f64::INFINITY),
        ("mates", |d| d.mates.push(0.0)),
    ];
    let host = Host::new();
    let specimen = host.specimen("none");
    let prepared = host.prepare(&specimen);
    for (field, spoil) in faults {
        let mut bad = duty();
        spoil(&mut bad);
        let answer = host
            .models
            .advance(host.plugin, &specimen, &prepared, &[0.0], &[bad]);
        assert_eq!(findings(answer)[0].field, field);
    }
}

#[test]
fn each_fault_of_a_request_is_named() {
    let faults: [Spoil<ForecastRequest>; 8] = [
        ("condition", |r| r.condition.clear()),
        ("wear_depth_m", |r| r.condition[0] = f64::NAN),
        ("rates", |r| r.rates.clear()),
        ("rates.wear", |r| {
            r.rates[0] = Rate {
                ln_mean: 0.0,
                ln_sd: -1.0,
            }
        }),
        ("samples", |r| r.samples = 0),
        ("samples", |r| r.samples = u32::MAX),
        ("horizon_events", |r| r.horizon_events = 0.0),
        ("ahead_events", |r| r.ahead_events = vec![0.0, 2.0, 1.0]),
    ];
    let host = Host::new();
    let specimen = host.specimen("none");
    let prepared = host.prepare(&specimen);
    for (field, spoil) in faults {
        let mut bad = request();
        spoil(&mut bad);
        let answer = host
            .models
            .forecast(host.plugin, &specimen, &prepared, &bad);
        assert_eq!(findings(answer)[0].field, field);
    }
}

#[test]
fn openings_and_operations_are_checked() {
    let host = Host::new();
    let specimen = host.specimen("none");
    let prepared = host.prepare(&specimen);
    let begin = |opening: &[Option<f64>]| {
        host.models
            .begin(host.plugin, &specimen, &prepared, opening)
    };
    assert_eq!(begin(&[Some(0.25)]).unwrap(), [0.25]);
    assert_eq!(findings(begin(&[Some(2.0)]))[0].field, "wear_depth_m");
    assert_eq!(findings(begin(&[]))[0].field, "opening");
    let rework = |operation| {
        host.models
            .rework(host.plugin, &specimen, &prepared, &[0.5], operation)
    };
    assert_eq!(rework(0).unwrap(), [0.0]);
    assert_eq!(findings(rework(1))[0].field, "operation");
}
