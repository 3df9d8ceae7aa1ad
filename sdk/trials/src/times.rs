//! Times, printed and never judged.

use std::time::Instant;

use ringland_plugin::{Duty, Model};

use crate::Prepared;

/// Prints the time of `prepare`, and the shortest of a forecast of 512 draws and of an advance over each of some named events. The answers are checked for their
/// lengths, never the times.
#[allow(clippy::print_stdout, reason = "printing is its purpose")]
pub fn print_times<M: Model>(prepared: &Prepared<M>, events: &[(&str, Duty)]) {
    let card = M::card();
    let start = Instant::now();
    let again = M::prepare(prepared.specimen.clone()).unwrap();
    let millis = 1e3 * start.elapsed().as_secs_f64();
    assert_eq!(again.len(), prepared.map.len(), "numbers of the map");
    println!("prepare {millis:.0} ms, {} numbers", again.len());
    for (name, event) in events {
        let condition = prepared.after(event);
        let asked = prepared.request(&condition, event);
        let forecast_us = fastest_us(|| {
            let answer = prepared.asked(asked.clone());
            assert_eq!(answer.mechanisms.len(), card.mechanisms.len());
        });
        let advance_us = fastest_us(|| {
            assert_eq!(prepared.then(&condition, event).len(), card.condition.len());
        });
        println!("{name}: forecast of 512 draws {forecast_us:.0} us, advance {advance_us:.0} us");
    }
}

const REPEATS: u32 = 50;

fn fastest_us(call: impl Fn()) -> f64 {
    let once = || {
        let start = Instant::now();
        call();
        1e6 * start.elapsed().as_secs_f64()
    };
    (0..REPEATS).map(|_| once()).fold(f64::INFINITY, f64::min)
}
