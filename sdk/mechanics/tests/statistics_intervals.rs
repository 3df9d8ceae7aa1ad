use ringland_mechanics::statistics::*;
mod statistics_data;
#[test]
fn time() {
    let l = statistics_data::lives(include_str!("data/generator_fans.csv"), 0, 1);
    let t = std::time::Instant::now();
    let w = intervals::weibull(&l).unwrap();
    println!(
        "{:?} {:?} {:?} {:?} {:?}",
        t.elapsed(),
        w.shape(0.9),
        w.scale(0.9),
        w.quantile(0.1, 0.9),
        w.fit
    );
    let l = statistics_data::lives(include_str!("data/shock_absorbers.csv"), 0, 1);
    let t = std::time::Instant::now();
    let w = intervals::lognormal(&l).unwrap();
    println!(
        "{:?} {:?} {:?} {:?} {:?}",
        t.elapsed(),
        w.ln_sd(0.9),
        w.ln_mean(0.9),
        w.quantile(0.1, 0.9),
        w.fit
    );
    let l: Vec<Life> = (0..1000)
        .map(|i| Life {
            age: Weibull::new(2.0, 1.0)
                .unwrap()
                .quantile((i as f64 + 0.5) / 1000.0),
            failed: i % 2 == 0,
        })
        .collect();
    let t = std::time::Instant::now();
    let w = intervals::weibull(&l).unwrap();
    println!(
        "{:?} {:?} {:?} {:?} {:?}",
        t.elapsed(),
        w.shape(0.9),
        w.scale(0.9),
        w.quantile(0.1, 0.9),
        w.fit
    );
}
