//! Comparing conditions, summing up lives.

use ringland_plugin::{Duty, Finding, LifeForecast, Model};

use crate::Prepared;

/// Rows alike, value by value, to a share of the larger of the two (or to 1e-30).
pub fn close(a: &[f64], b: &[f64], relative: f64) -> bool {
    let near = |(a, b): (&f64, &f64)| (a - b).abs() <= relative * a.abs().max(b.abs()) + 1e-30;
    a.len() == b.len() && a.iter().zip(b).all(near)
}

/// The names of the fields that findings are about.
pub fn fields(findings: &[Finding]) -> Vec<&str> {
    findings
        .iter()
        .map(|finding| finding.field.as_str())
        .collect()
}

/// Quantile of lives, `p` from 0 to 1.
pub fn quantile(lives: &[f64], p: f64) -> f64 {
    ringland_plugin::quantile(&mut lives.to_vec(), p).expect("at least one life")
}

/// Median of lives.
pub fn median(lives: &[f64]) -> f64 {
    quantile(lives, 0.5)
}

/// Median life by each mechanism, in the card's order.
pub fn medians(forecast: &LifeForecast) -> Vec<f64> {
    let mechanisms = forecast.mechanisms.iter();
    mechanisms
        .map(|found| median(&found.lives_events))
        .collect()
}

/// Lives of the component: the first of its mechanisms, draw by draw.
pub fn first(forecast: &LifeForecast) -> Vec<f64> {
    let draws = forecast
        .mechanisms
        .first()
        .map_or(0, |m| m.lives_events.len());
    let of = |draw: usize| {
        let lives = forecast.mechanisms.iter().map(|m| m.lives_events[draw]);
        lives.fold(f64::INFINITY, f64::min)
    };
    (0..draws).map(of).collect()
}

/// Prints what a README quotes: condition after one event, then lives, risk, shares and readings of a new component over that event. Returns
/// that forecast.
#[allow(clippy::print_stdout, reason = "printing is its purpose")]
pub fn print_lives<M: Model>(name: &str, prepared: &Prepared<M>, event: &Duty) -> LifeForecast {
    let card = M::card();
    println!("{name}, after one event:");
    for (slot, value) in card.condition.iter().zip(prepared.after(event)) {
        println!("  {:<28} {value:.4e} {}", slot.name, slot.unit);
    }
    let forecast = prepared.forecast(&prepared.begin(), event);
    for (named, found) in card.mechanisms.iter().zip(&forecast.mechanisms) {
        println!(
            "  {:<28} {}, risk of the next {:.2e}, shares {:.3?} {:.3?}",
            named.name,
            median_and_b10(&found.lives_events),
            found.risk_next_event,
            found.point_shares,
            found.shock_shares
        );
    }
    let all = median_and_b10(&first(&forecast));
    println!("  {:<28} {all}", "first of all");
    for (named, path) in card.readings.iter().zip(&forecast.readings) {
        println!(
            "  {:<28} {} {}, limit {}",
            named.name,
            figures(&path.median),
            named.unit,
            path.limit.map_or("none".into(), |limit| figures(&[limit])),
        );
    }
    forecast
}

fn figures(values: &[f64]) -> String {
    let texts: Vec<String> = values.iter().map(|value| format!("{value:.4e}")).collect();
    texts.join(", ")
}

fn median_and_b10(lives: &[f64]) -> String {
    let [median, b10] = [0.5, 0.1].map(|p| quantile(lives, p));
    format!("median {median:.2}, B10 {b10:.2} events")
}
