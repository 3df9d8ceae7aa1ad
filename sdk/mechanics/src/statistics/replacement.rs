//! The age at which replacing a part before it fails costs least.

use super::{StatisticsError, Weibull, positive};

/// An optimum of cost over age.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Replacement {
    /// The age at which to replace.
    pub age: f64,
    /// Mean cost per unit of age when replaced then.
    pub cost_rate: f64,
}

/// Cost per unit of age when a part is replaced at `age`, or when it fails before: Barlow and Hunter's
/// age replacement, `C(T) = (c_p R(T) + c_f (1 - R(T))) / ∫R`, the integral from 0 to T.
pub fn age_replacement_cost_rate(
    life: &Weibull,
    age: f64,
    planned_cost: f64,
    failure_cost: f64,
) -> f64 {
    let alive = life.survival(age);
    (planned_cost * alive + failure_cost * (1.0 - alive)) / life.mean_age_within(age)
}

/// The age of least [`age_replacement_cost_rate`]: where `h(T) ∫R + R(T) - 1 = c_p / (c_f - c_p)`.
/// `None` when running to failure costs least: shape at most 1, or failure no dearer than
/// replacement. Relative error of the age about 1e-10.
///
/// # Errors
/// A cost that is not a finite number above 0.
pub fn age_replacement(
    life: &Weibull,
    planned_cost: f64,
    failure_cost: f64,
) -> Result<Option<Replacement>, StatisticsError> {
    let planned_cost = positive("planned_cost", planned_cost)?;
    let failure_cost = positive("failure_cost", failure_cost)?;
    if life.shape <= 1.0 || failure_cost <= planned_cost {
        return Ok(None);
    }
    let target = planned_cost / (failure_cost - planned_cost);
    let excess =
        |age: f64| life.hazard(age) * life.mean_age_within(age) + life.survival(age) - 1.0 - target;
    // The left side rises from 0 without bound; beyond 1e6 characteristic lives an optimum is none.
    let mut high = life.scale;
    while excess(high) < 0.0 {
        high *= 2.0;
        if high > 1e6 * life.scale {
            return Ok(None);
        }
    }
    let age = bisect(0.0, high, excess);
    Ok(Some(Replacement {
        age,
        cost_rate: age_replacement_cost_rate(life, age, planned_cost, failure_cost),
    }))
}

/// The age of least cost when failures before it are put right by a minimal repair that leaves the
/// failure rate as it was: `T = scale (c_p / (c_m (shape - 1)))^(1/shape)`. `None` when shape is at most 1.
///
/// # Errors
/// A cost that is not a finite number above 0.
pub fn minimal_repair_replacement(
    life: &Weibull,
    replacement_cost: f64,
    repair_cost: f64,
) -> Result<Option<Replacement>, StatisticsError> {
    let replacement_cost = positive("replacement_cost", replacement_cost)?;
    let repair_cost = positive("repair_cost", repair_cost)?;
    if life.shape <= 1.0 {
        return Ok(None);
    }
    let ratio = replacement_cost / (repair_cost * (life.shape - 1.0));
    let age = life.scale * libm::pow(ratio, 1.0 / life.shape);
    Ok(Some(Replacement {
        age,
        cost_rate: (replacement_cost + repair_cost * life.cumulative_hazard(age)) / age,
    }))
}

/// The zero of a function that is below 0 at `low` and not below at `high`.
fn bisect(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> f64 {
    loop {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            return middle;
        }
        if f(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
}
