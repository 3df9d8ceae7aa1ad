//! Prints how often the intervals of fitted lives hold: the table in `src/statistics/coverage.md`.
//!
//! `cargo run --release -p ringland-mechanics --example interval_coverage`; takes some minutes.

#![allow(clippy::unwrap_used, clippy::print_stdout, clippy::missing_panics_doc)]

#[path = "../tests/statistics_coverage/study.rs"]
mod study;

use study::{Censoring, Coverage, Effort, life_factor, lognormal, weibull};

const EFFORT: Effort = Effort {
    seed: 20_260_417,
    samples: 2000,
    draws: 199,
};

fn main() {
    println!(
        "seed {}, {} samples, {} draws",
        EFFORT.seed, EFFORT.samples, EFFORT.draws
    );
    println!("| law | n | censoring | failures | quantity | samples | held % | Wald held % |");
    println!("| --- | --- | --- | --- | --- | --- | --- | --- |");
    let designs = [
        (10, Censoring::None),
        (20, Censoring::None),
        (50, Censoring::None),
        (10, Censoring::Once(0.5)),
        (20, Censoring::Once(0.5)),
        (50, Censoring::Once(0.5)),
        (100, Censoring::Once(0.1)),
        (10, Censoring::Staggered(0.9)),
        (20, Censoring::Staggered(0.9)),
        (50, Censoring::Staggered(0.9)),
    ];
    for (n, censoring) in designs {
        print("Weibull", n, censoring, &weibull(n, censoring, EFFORT));
        print("lognormal", n, censoring, &lognormal(n, censoring, EFFORT));
        if n <= 20 {
            let coverage = life_factor(n, censoring, EFFORT);
            print("two Weibull", n, censoring, &coverage);
        }
    }
}

fn print(law: &str, n: usize, censoring: Censoring, coverage: &Coverage) {
    for (quantity, counts) in &coverage.quantities {
        let [by_pivots, by_wald] = coverage.shares(*counts);
        println!(
            "| {law} | {n} | {} | {:.1} | {quantity} | {} | {:.1} | {:.1} |",
            censoring.label(),
            coverage.mean_failures(),
            coverage.samples,
            100.0 * by_pivots,
            100.0 * by_wald,
        );
    }
}
