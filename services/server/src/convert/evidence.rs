//! The shop's evidence.

use super::{Fields, finding, time};
use ringland_ledger as domain;
use ringland_proto::v1 as api;

/// How a life ended.
pub fn retire(
    fields: &mut Fields,
    call: api::RetireComponentRequest,
) -> Option<domain::RetireComponent> {
    let component = fields.name("component", &call.component);
    let retire_time = fields.time("retire_time", call.retire_time);
    let cause = cause(fields, call.cause);
    let ((component, retire_time), cause) = component.zip(retire_time).zip(cause)?;
    Some(domain::RetireComponent {
        component,
        retire_time,
        cause,
        mechanism: call.mechanism,
        note: call.note,
        retired_by: call.retired_by,
    })
}

fn cause(fields: &mut Fields, number: i32) -> Option<domain::EndCause> {
    let known = match api::EndCause::try_from(number) {
        Ok(api::EndCause::Failed) => domain::EndCause::Failed,
        Ok(api::EndCause::ReachedLimit) => domain::EndCause::ReachedLimit,
        Ok(api::EndCause::ReplacedBefore) => domain::EndCause::ReplacedBefore,
        Ok(api::EndCause::DamagedByOther) => domain::EndCause::DamagedByOther,
        Ok(api::EndCause::Lost) => domain::EndCause::Lost,
        Ok(api::EndCause::Unspecified) | Err(_) => {
            let text = format!("is {number}; expected how its life ended, 1 to 5");
            fields.refuse("cause", text);
            return None;
        }
    };
    Some(known)
}

/// The end of a component.
pub fn retirement_to_message(end: domain::Retirement) -> api::Retirement {
    let cause = match end.cause {
        domain::EndCause::Failed => api::EndCause::Failed,
        domain::EndCause::ReachedLimit => api::EndCause::ReachedLimit,
        domain::EndCause::ReplacedBefore => api::EndCause::ReplacedBefore,
        domain::EndCause::DamagedByOther => api::EndCause::DamagedByOther,
        domain::EndCause::Lost => api::EndCause::Lost,
    };
    api::Retirement {
        retire_time: Some(time::to_message(end.retire_time)),
        cause: cause.into(),
        mechanism: end.mechanism,
        note: end.note,
        retired_by: end.retired_by,
        create_time: Some(time::to_message(end.create_time)),
    }
}

/// Where lives come from, by a query or given.
pub fn source(
    fields: &mut Fields,
    query: Option<api::LifeQuery>,
    given: Option<api::GivenLives>,
) -> Option<domain::LifeSource> {
    match (query, given) {
        (Some(query), None) => life_query(fields, query).map(domain::LifeSource::Ledger),
        (None, Some(given)) => Some(domain::LifeSource::Given {
            lives: given.lives.into_iter().map(life).collect(),
            age_unit: given.age_unit,
        }),
        _ => {
            fields.refuse("source", "is not set; give a query of the ledger, or lives");
            None
        }
    }
}

fn life_query(fields: &mut Fields, query: api::LifeQuery) -> Option<domain::LifeQuery> {
    let profile = fields.optional_name("query.profile", &query.profile);
    let unit = fields.optional_name("query.unit", &query.unit);
    let (profile, unit) = profile.zip(unit)?;
    let measure = match (api::AgeMeasure::try_from(query.measure), profile) {
        (Ok(api::AgeMeasure::Unspecified | api::AgeMeasure::Hours), _) => domain::AgeMeasure::Hours,
        (Ok(api::AgeMeasure::CrankRevolutions), _) => domain::AgeMeasure::CrankRevolutions,
        (Ok(api::AgeMeasure::Events), Some(profile)) => domain::AgeMeasure::Events(profile),
        (Ok(api::AgeMeasure::Events), None) => {
            fields.refuse(
                "query.profile",
                "is empty; events are those of a profile: name it",
            );
            return None;
        }
        (Err(_), _) => {
            let text = format!("is {}, which is no measure; expected 1 to 3", query.measure);
            fields.refuse("query.measure", text);
            return None;
        }
    };
    Some(domain::LifeQuery {
        component_type: query.component_type,
        measure,
        mechanism: query.mechanism,
        batch: query.batch,
        labels: query.labels.into_iter().collect(),
        unit,
    })
}

fn life(life: api::ObservedLife) -> domain::ObservedLife {
    domain::ObservedLife {
        part: life.part,
        age: life.age,
        ended: life.ended,
        group: life.group,
        unit: life.unit,
    }
}

/// Where replacements come from.
pub fn replacements(
    fields: &mut Fields,
    source: Option<api::analyze_replacements_request::Source>,
) -> Option<domain::ReplacementSource> {
    use api::analyze_replacements_request::Source;
    match source {
        Some(Source::ComponentType(kind)) => Some(domain::ReplacementSource::Ledger(kind)),
        Some(Source::Given(given)) => {
            let unit = |unit: api::RepairedUnit| domain::RepairedUnit {
                unit: unit.unit,
                ages: unit.ages,
                end: unit.end,
            };
            Some(domain::ReplacementSource::Given {
                units: given.units.into_iter().map(unit).collect(),
                age_unit: given.age_unit,
            })
        }
        None => {
            fields.refuse("source", "is not set; give a component type, or units");
            None
        }
    }
}

fn estimate(estimate: domain::Estimate) -> api::Estimate {
    api::Estimate {
        value: estimate.value,
        se: estimate.se,
        low: estimate.low,
        high: estimate.high,
    }
}

fn count(count: u32) -> i32 {
    i32::try_from(count).unwrap_or(i32::MAX)
}

fn counts(counts: &domain::LifeCounts) -> api::LifeCounts {
    api::LifeCounts {
        parts: count(counts.parts),
        ended: count(counts.ended),
        units: count(counts.units),
        total_age: counts.total_age,
    }
}

fn point(point: domain::SurvivalPoint) -> api::SurvivalPoint {
    api::SurvivalPoint {
        age: point.age,
        at_risk: count(point.at_risk),
        ended: count(point.ended),
        survival: Some(estimate(point.survival)),
        cumulative_hazard: point.cumulative_hazard,
    }
}

fn fit(fit: domain::FittedLives) -> api::FittedLives {
    let law = match fit.law {
        domain::LifeLaw::Weibull => api::LifeLaw::Weibull,
        domain::LifeLaw::Lognormal => api::LifeLaw::Lognormal,
        domain::LifeLaw::Exponential => api::LifeLaw::Exponential,
    };
    let parameter = |(name, value)| api::LawParameter {
        name,
        estimate: Some(estimate(value)),
    };
    let quantile = |quantile: domain::LifeQuantile| api::LifeQuantile {
        share: quantile.share,
        age: Some(estimate(quantile.age)),
    };
    api::FittedLives {
        law: law.into(),
        parameters: fit.parameters.into_iter().map(parameter).collect(),
        log_likelihood: fit.log_likelihood,
        akaike: fit.akaike,
        quantiles: fit.quantiles.into_iter().map(quantile).collect(),
        caution: fit.caution,
    }
}

/// What lives tell.
pub fn analysis_to_message(found: domain::LifeAnalysis) -> api::LifeAnalysis {
    let life = |life: domain::ObservedLife| api::ObservedLife {
        part: life.part,
        age: life.age,
        ended: life.ended,
        group: life.group,
        unit: life.unit,
    };
    api::LifeAnalysis {
        age_unit: found.age_unit,
        counts: Some(counts(&found.counts)),
        fits: found.fits.into_iter().map(fit).collect(),
        mean_life_at_least: found.mean_life_at_least,
        survival: found.survival.into_iter().map(point).collect(),
        enough: found.enough,
        verdict: found.verdict,
        lives: found.lives.into_iter().map(life).collect(),
        findings: found.findings.iter().map(finding::to_message).collect(),
    }
}

fn group(group: domain::GroupSummary) -> api::GroupSummary {
    api::GroupSummary {
        group: group.group,
        counts: Some(counts(&group.counts)),
        median: group.median,
        survival: group.survival.into_iter().map(point).collect(),
    }
}

/// What two groups tell.
pub fn comparison_to_message(found: domain::GroupComparison) -> api::GroupComparison {
    api::GroupComparison {
        age_unit: found.age_unit,
        base: Some(group(found.base)),
        other: Some(group(found.other)),
        life_factor: found.life_factor.map(estimate),
        life_factor_by_refits: found.life_factor_by_refits.map(estimate),
        shape: found.shape,
        hazard_ratio: found.hazard_ratio,
        log_likelihood: found.log_likelihood,
        log_rank_chi_squared: found.log_rank_chi_squared,
        log_rank_p: found.log_rank_p,
        proven: found.proven,
        ends_needed: count(found.ends_needed),
        assumed_factor: found.assumed_factor,
        verdict: found.verdict,
        findings: found.findings.iter().map(finding::to_message).collect(),
    }
}

/// What replacements tell.
pub fn replacements_to_message(found: domain::ReplacementAnalysis) -> api::ReplacementAnalysis {
    let unit = |unit: domain::RepairedUnit| api::RepairedUnit {
        unit: unit.unit,
        ages: unit.ages,
        end: unit.end,
    };
    let step = |step: domain::MeanReplacements| api::MeanReplacements {
        age: step.age,
        at_risk: count(step.at_risk),
        replaced: count(step.replaced),
        mean: Some(estimate(step.mean)),
    };
    api::ReplacementAnalysis {
        age_unit: found.age_unit,
        units: found.units.into_iter().map(unit).collect(),
        steps: found.steps.into_iter().map(step).collect(),
        shape: found.shape.map(estimate),
        scale: found.scale,
        verdict: found.verdict,
        findings: found.findings.iter().map(finding::to_message).collect(),
    }
}
