//! Laws of `advance`. That slots follow their trends and stay in range is checked by the host in
//! every call.

use crate::{
    report::Law,
    sample::{halves, no_duty},
    subject::Subject,
};
use ringland_host::contract::Trend;

pub(crate) const LAWS: &[Law] = &[
    ("no duty changes nothing", no_duty_changes_nothing),
    (
        "a batch of records is the same as one by one",
        batch_is_one_by_one,
    ),
    (
        "two halves of a record add up to the whole",
        halves_are_the_whole,
    ),
    (
        "the same input gives the same bits in another sandbox",
        same_bits,
    ),
];

/// Halves may differ from the whole by this share of the change: integration error, and shocks
/// that all fall into the first half.
const HALVES_TOLERANCE: f64 = 0.05;

fn no_duty_changes_nothing(subject: &Subject) -> Result<String, String> {
    let start = subject
        .after(&[subject.duty(3600.0)])?
        .pop()
        .unwrap_or_default();
    let idle = subject
        .advance(&start, &[no_duty(&subject.card)])?
        .pop()
        .unwrap_or_default();
    for (slot, (before, after)) in subject.card.condition.iter().zip(start.iter().zip(&idle)) {
        if slot.trend != Trend::Free && before.to_bits() != after.to_bits() {
            return Err(format!("{} went from {before} to {after}", slot.name));
        }
    }
    Ok(String::new())
}

fn batch_is_one_by_one(subject: &Subject) -> Result<String, String> {
    let duties = [600.0, 1800.0, 60.0].map(|seconds| subject.duty(seconds));
    let batch = subject.after(&duties)?;
    let mut condition = subject.new_condition(&subject.specimen())?;
    for (record, (duty, row)) in duties.iter().zip(&batch).enumerate() {
        let alone = subject.advance(&condition, std::slice::from_ref(duty))?;
        condition = alone.into_iter().next().unwrap_or_default();
        if !same(&condition, row) {
            return Err(format!(
                "record {record}: {row:?} in the batch, {condition:?} alone"
            ));
        }
    }
    Ok(String::new())
}

fn halves_are_the_whole(subject: &Subject) -> Result<String, String> {
    let start = subject.new_condition(&subject.specimen())?;
    let duty = subject.duty(3600.0);
    let whole = subject
        .advance(&start, std::slice::from_ref(&duty))?
        .pop()
        .unwrap_or_default();
    let halves = subject
        .advance(&start, &halves(&subject.card, &duty))?
        .pop()
        .unwrap_or_default();
    let mut worst: f64 = 0.0;
    for (index, slot) in subject.card.condition.iter().enumerate() {
        let change = (whole[index] - start[index]).abs();
        let off = (halves[index] - whole[index]).abs();
        if slot.trend == Trend::Free || off == 0.0 {
            continue;
        }
        let relative = off / change;
        if relative > HALVES_TOLERANCE {
            return Err(format!(
                "{} changes by {change:e} in one record and differs by {off:e} in two halves",
                slot.name
            ));
        }
        worst = worst.max(relative);
    }
    Ok(format!("to within {worst:.1e} of the change"))
}

fn same_bits(subject: &Subject) -> Result<String, String> {
    let twin = subject.twin()?;
    let table = |subject: &Subject| subject.prepare(&subject.specimen());
    if !same(&table(subject)?.table, &table(&twin)?.table) {
        return Err("the prepared tables differ".into());
    }
    let duties = [600.0, 1800.0].map(|seconds| subject.duty(seconds));
    let (here, there) = (subject.after(&duties)?, twin.after(&duties)?);
    if !here.iter().zip(&there).all(|(a, b)| same(a, b)) {
        return Err(format!("conditions differ: {here:?} and {there:?}"));
    }
    let request = subject.request(here.into_iter().next_back().unwrap_or_default());
    // A forecast holds no NaN, so equality is equality of values; 0 and -0 read the same.
    if subject.forecast(&request)? != twin.forecast(&request)? {
        return Err("forecasts differ".into());
    }
    Ok(String::new())
}

fn same(a: &[f64], b: &[f64]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| a.to_bits() == b.to_bits())
}
