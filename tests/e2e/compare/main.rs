//! Comparisons over real gRPC with the real plugins: does a treatment pay, what becomes the limit instead, and what moves the
//! earliest limit of a unit.

mod command;
mod parts;
mod units;

use ringland_proto::v1::{AlternativeForecast, Bounds, Difference, Quantiles};
use ringland_tests::{Clients, Server, Shop, install, open_shop};

fn events(forecast: &AlternativeForecast) -> Quantiles {
    let life = forecast.life.and_then(|life| life.events);
    life.expect("a life")
}

/// A number that no life beyond the horizon leaves open.
fn known(bounds: Option<Bounds>) -> f64 {
    let Bounds { at_least, at_most } = bounds.expect("bounds");
    assert_eq!(at_least, at_most, "known");
    at_least.expect("known")
}

fn median_ratio(difference: &Difference) -> Bounds {
    let ratio = difference.life_ratio.expect("a ratio");
    ratio.p50.expect("a median")
}

/// Rings and bearing in an engine.
async fn engine() -> (Server, Clients, Shop, String) {
    let (server, mut clients, shop) = open_shop(&["ring_pack", "plain_bearing"]).await;
    let bearing = install(&mut clients, &shop.build, "bearing", "plain_bearing").await;
    (server, clients, shop, bearing)
}
