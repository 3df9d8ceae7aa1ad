//! The bench: ratios within one run, and sizes. `cargo run --release -p ringland-tests --bin
//! ringland-bench` runs all of it, with names of parts (`wasm grpc intake history footprint`) only those.
//!
//! Every figure is the median of several rounds; rounds of what is compared alternate, so that what else
//! the machine does falls on both.

mod duty;
mod footprint;
mod grpc;
mod history;
mod intake;
mod wasm;

use std::time::Instant;

type Outcome = Result<(), Box<dyn std::error::Error>>;

fn main() -> Outcome {
    let wanted: Vec<String> = std::env::args().skip(1).collect();
    let runtime = tokio::runtime::Runtime::new()?;
    let parts: [(&str, &dyn Fn() -> Outcome); 5] = [
        ("wasm", &wasm::run),
        ("grpc", &|| runtime.block_on(grpc::run())),
        ("intake", &intake::run),
        ("history", &history::run),
        ("footprint", &|| runtime.block_on(footprint::run())),
    ];
    for (name, run) in parts {
        if wanted.is_empty() || wanted.iter().any(|part| part == name) {
            println!("\n{name}");
            run()?;
        }
    }
    Ok(())
}

/// Seconds that a piece of work takes.
fn seconds<T>(work: impl FnOnce() -> T) -> f64 {
    let start = Instant::now();
    std::hint::black_box(work());
    start.elapsed().as_secs_f64()
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(f64::NAN)
}

/// Median seconds of two pieces of work, in turn.
fn compare(rounds: usize, mut first: impl FnMut(), mut second: impl FnMut()) -> (f64, f64) {
    let pairs: Vec<(f64, f64)> = (0..rounds)
        .map(|_| (seconds(&mut first), seconds(&mut second)))
        .collect();
    let (firsts, seconds) = pairs.into_iter().unzip();
    (median(firsts), median(seconds))
}
