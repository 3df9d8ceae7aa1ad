//! Comparisons: alternatives of a component, and what moves the earliest limit of a unit.

mod parts;
mod units;

use ringland_ledger::{Alternative, Spec, SurfaceState};
use std::collections::BTreeMap;

/// With another wear coefficient of the face, exact unless a spread is given.
fn face(coefficient: f64) -> Alternative {
    let name = "wear_coefficient_m2_n".to_owned();
    let surface = SurfaceState {
        properties: BTreeMap::from([(name, coefficient)]),
        ..SurfaceState::default()
    };
    Alternative {
        surfaces: BTreeMap::from([("face".into(), surface)]),
        ..Alternative::default()
    }
}

fn limit(limit: f64) -> Alternative {
    Alternative {
        spec: Spec {
            numbers: BTreeMap::from([("limit".into(), limit)]),
            ..Spec::default()
        },
        ..Alternative::default()
    }
}

fn close(value: Option<f64>, expected: f64) {
    let value = value.unwrap();
    assert!(
        (value - expected).abs() < 1e-9 * expected.abs(),
        "{value} {expected}"
    );
}
