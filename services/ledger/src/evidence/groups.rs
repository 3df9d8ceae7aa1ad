//! Two groups of lives: how many times longer one lives, whether that is proven, and how many more lives would tell.

use super::analysis::{counted, not_computed, plain, survival};
use super::lives::note;
use crate::predict::figure;
use crate::{
    Estimate, FieldViolation, GroupComparison, GroupSummary, Ledger, LedgerError, LifeSource,
    ObservedLife,
};
use ringland_host::contract::Finding;
use ringland_mechanics::statistics::{
    Life, StatisticsError,
    counts::{survival_quantile, survival_steps},
    fit::{self, TreatmentEffect},
    intervals,
    log_rank::log_rank,
};

/// Of the intervals of the factor.
const CONFIDENCE: f64 = 0.95;
/// 97.5 % and 80 % of the standard normal distribution.
const Z975: f64 = 1.959_963_984_540_054;
const Z80: f64 = 0.841_621_233_572_914_3;
/// The factor on life that a treatment is worth knowing for, and the shape of wear-out, where the lives say nothing yet. Assumed.
const ASSUMED_FACTOR: f64 = 2.0;
const ASSUMED_SHAPE: f64 = 2.0;
/// No more ends than these are asked for.
const MOST_NEEDED: u32 = 1000;
/// Parts of one unit share its builder, driver and oil: a group needs more than one.
const LEAST_UNITS: u32 = 2;

/// What a comparison of groups is asked.
struct Found {
    effect: Option<TreatmentEffect>,
    by_refits: Option<Estimate>,
    chi_squared: Option<f64>,
    p: Option<f64>,
}

impl Ledger {
    /// Holds one group of lives against another. Empty names: all treated parts against all untreated.
    ///
    /// # Errors
    /// As [`Ledger::analyze_lives`]; [`LedgerError::InvalidArgument`] for a group without a life.
    pub fn compare_groups(
        &self,
        source: &LifeSource,
        base: &str,
        other: &str,
    ) -> Result<GroupComparison, LedgerError> {
        let found = self.lives_of(source)?;
        let mut findings = found.findings;
        let base = if base.is_empty() { "untreated" } else { base };
        let is_other = |life: &ObservedLife| match other {
            "" => life.group != base,
            named => life.group == named,
        };
        let of_base: Vec<ObservedLife> = chosen(&found.seen, |life| life.group == base);
        let of_other: Vec<ObservedLife> = chosen(&found.seen, is_other);
        for (field, name, group) in [("base", base, &of_base), ("other", other, &of_other)] {
            if group.is_empty() {
                return Err(no_group(field, name, &found.seen));
            }
        }
        pooled(other, &of_other, &mut findings);
        let (first, second) = (plain(&of_base), plain(&of_other));
        let results = results(&first, &second, &mut findings)?;
        let other = if other.is_empty() { "treated" } else { other };
        let summaries = [
            summary(base, &of_base, &first)?,
            summary(other, &of_other, &second)?,
        ];
        Ok(answer(found.age_unit, summaries, results, findings))
    }
}

fn chosen(lives: &[ObservedLife], of: impl Fn(&ObservedLife) -> bool) -> Vec<ObservedLife> {
    lives.iter().filter(|life| of(life)).cloned().collect()
}

/// Says which groups were taken together.
fn pooled(other: &str, lives: &[ObservedLife], findings: &mut Vec<Finding>) {
    let mut groups: Vec<&str> = lives.iter().map(|life| life.group.as_str()).collect();
    groups.sort_unstable();
    groups.dedup();
    if other.is_empty() && groups.len() > 1 {
        let value = groups.join(", ");
        let remedy = "name one: what holds of them together need not hold of each";
        findings.push(note("other", &value, "one group", remedy));
    }
}

fn no_group(field: &str, name: &str, lives: &[ObservedLife]) -> LedgerError {
    let mut groups: Vec<&str> = lives.iter().map(|life| life.group.as_str()).collect();
    groups.sort_unstable();
    groups.dedup();
    LedgerError::invalid(FieldViolation::new(
        field,
        &format!("{name:?}, of which there is no life"),
        &format!("one of {groups:?}"),
        "name two groups that have lives",
    ))
}

fn summary(
    name: &str,
    lives: &[ObservedLife],
    plain: &[Life],
) -> Result<GroupSummary, LedgerError> {
    let steps = survival_steps(plain).map_err(not_computed)?;
    Ok(GroupSummary {
        group: name.into(),
        counts: counted(lives),
        median: survival_quantile(&steps, 0.5),
        survival: survival(plain)?,
    })
}

fn results(
    base: &[Life],
    other: &[Life],
    findings: &mut Vec<Finding>,
) -> Result<Found, LedgerError> {
    let mut too_few = |what: &str, error: StatisticsError| match error {
        StatisticsError::TooFew { .. } | StatisticsError::NoMaximum { .. } => {
            let remedy = "wait for more ends in both groups";
            findings.push(note(what, &error.to_string(), "enough ends", remedy));
            Ok(())
        }
        error => Err(not_computed(error)),
    };
    let effect = match fit::treatment_effect(base, other) {
        Ok(effect) => Some(effect),
        Err(error) => {
            too_few("life_factor", error)?;
            None
        }
    };
    let by_refits = match &effect {
        None => None,
        Some(effect) => match intervals::treatment_effect(base, other)
            .and_then(|made| made.life_factor(CONFIDENCE))
        {
            Ok(interval) => Some(Estimate {
                value: effect.life_factor,
                se: 0.0,
                low: interval.low,
                high: interval.high,
            }),
            Err(error) => {
                too_few("life_factor_by_refits", error)?;
                None
            }
        },
    };
    let ends = base.iter().chain(other).any(|life| life.failed);
    let test = ends.then(|| log_rank(base, other)).transpose();
    let test = test.map_err(not_computed)?;
    Ok(Found {
        effect,
        by_refits,
        chi_squared: test.map(|test| test.chi_squared()),
        p: test.map(|test| test.p_value()),
    })
}

fn answer(
    age_unit: String,
    [base, other]: [GroupSummary; 2],
    found: Found,
    mut findings: Vec<Finding>,
) -> GroupComparison {
    let units = base.counts.units.min(other.counts.units);
    if base.counts.units + other.counts.units < base.counts.parts + other.counts.parts {
        let remedy = "the intervals take every part as one of its own; the verdict widens them as if the parts of a unit were one";
        findings.push(note(
            "lives",
            "several parts from one unit",
            "one part a unit",
            remedy,
        ));
    }
    let shared = shared(&base).max(shared(&other));
    let widened = |estimate: &Option<Estimate>| estimate.map(|factor| widened(factor, shared));
    // Of the two intervals the wider speaks: a proof should not hang on the choice.
    let clear = |estimate: &Option<Estimate>| {
        estimate.is_some_and(|factor| factor.low > 1.0 || factor.high < 1.0)
    };
    let wald = found.effect.as_ref().map(|effect| Estimate {
        value: effect.life_factor,
        se: effect.ln_life_factor_se,
        low: effect.life_factor_low,
        high: effect.life_factor_high,
    });
    let (told, told_by_refits) = (widened(&wald), widened(&found.by_refits));
    let proven = clear(&told) && clear(&told_by_refits) && units >= LEAST_UNITS;
    let shape = found.effect.as_ref().map(|effect| effect.untreated.shape);
    let seen = wald.map(|factor| factor.value).filter(|_| proven);
    let assumed_factor = seen.unwrap_or(ASSUMED_FACTOR);
    let ends_needed = ends_needed(assumed_factor, shape.unwrap_or(ASSUMED_SHAPE));
    let verdict = verdict(
        &base,
        &other,
        told,
        told_by_refits,
        proven,
        (assumed_factor, ends_needed),
    );
    GroupComparison {
        age_unit,
        life_factor: wald,
        life_factor_by_refits: found.by_refits,
        shape,
        hazard_ratio: found.effect.as_ref().map(|effect| effect.hazard_ratio),
        log_likelihood: found.effect.as_ref().map(|effect| effect.log_likelihood),
        log_rank_chi_squared: found.chi_squared,
        log_rank_p: found.p,
        proven,
        ends_needed,
        assumed_factor,
        verdict,
        base,
        other,
        findings,
    }
}

/// Parts to a unit.
fn shared(group: &GroupSummary) -> f64 {
    f64::from(group.counts.parts) / f64::from(group.counts.units.max(1))
}

/// The interval if all parts of a unit lived alike: its standard error grows by the root of their number (the design effect of clusters
/// that are wholly alike; Kish, Survey Sampling, from memory).
fn widened(factor: Estimate, shared: f64) -> Estimate {
    let end = |end: f64| factor.value * libm::pow(end / factor.value, shared.max(1.0).sqrt());
    Estimate {
        low: end(factor.low),
        high: end(factor.high),
        ..factor
    }
}

/// Ends in each group that tell a factor on life from 1 with 80 % at 95 %: the logarithm of a Weibull scale has a standard error
/// of about `1 / (shape sqrt(r))` with `r` ends, so `r = 2 ((z975 + z80) / (shape ln factor))^2` (normal approximation, from memory).
fn ends_needed(factor: f64, shape: f64) -> u32 {
    let reach = shape * libm::log(factor).abs();
    if reach <= 0.0 {
        return MOST_NEEDED;
    }
    let needed = libm::ceil(2.0 * ((Z975 + Z80) / reach).powi(2));
    (needed.clamp(2.0, f64::from(MOST_NEEDED))) as u32
}

fn verdict(
    base: &GroupSummary,
    other: &GroupSummary,
    wald: Option<Estimate>,
    by_refits: Option<Estimate>,
    proven: bool,
    (factor, needed): (f64, u32),
) -> String {
    let side = |group: &GroupSummary| {
        format!(
            "{} {} part(s) of {} unit(s), {} ended",
            group.counts.parts, group.group, group.counts.units, group.counts.ended
        )
    };
    let counts = format!("{}; {}", side(base), side(other));
    let wider = |a: Estimate| {
        by_refits.map_or(a, |b| Estimate {
            low: a.low.min(b.low),
            high: a.high.max(b.high),
            ..a
        })
    };
    let seen = wald
        .map(wider)
        .map_or("no factor can be fitted".to_owned(), |seen| {
            format!(
                "{} lives {} times as long as {} (95 %: {} to {})",
                other.group,
                figure(seen.value),
                base.group,
                figure(seen.low),
                figure(seen.high)
            )
        });
    if proven {
        return format!("{seen}. {counts}.");
    }
    let why = if base.counts.units.min(other.counts.units) < LEAST_UNITS {
        "one unit cannot prove it: what differs may be the unit"
    } else {
        "the interval holds 1"
    };
    let more = |group: &GroupSummary| needed.saturating_sub(group.counts.ended);
    format!(
        "Nothing is proven: {why}. {counts}; {seen}. To tell a factor of {} with 80 % it takes about {needed} ends in each group: {} more {} and {} more {}, from several units.",
        figure(factor),
        more(base),
        base.group,
        more(other),
        other.group
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: shape 2, factor 2: 2 (2.8016 / 1.3863)^2 = 8.17, so 9; a factor of 1.2 takes 119.
    #[test]
    fn ends_needed_by_hand() {
        assert_eq!(ends_needed(2.0, 2.0), 9);
        assert_eq!(ends_needed(0.5, 2.0), 9);
        assert_eq!(ends_needed(1.2, 2.0), 119);
        assert_eq!(ends_needed(1.0, 2.0), MOST_NEEDED);
    }

    /// By hand: four parts to a unit double the width in the logarithm: 1.5 to 6 about 3 becomes 0.75 to 12.
    #[test]
    fn parts_of_one_unit_count_as_one() {
        let factor = Estimate {
            value: 3.0,
            se: 0.0,
            low: 1.5,
            high: 6.0,
        };
        let told = widened(factor, 4.0);
        assert!((told.low - 0.75).abs() < 1e-12 && (told.high - 12.0).abs() < 1e-12);
        assert_eq!(widened(factor, 1.0), factor);
    }
}
