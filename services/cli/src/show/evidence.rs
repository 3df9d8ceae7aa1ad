//! What the shop's own parts tell, as text.

use super::finding::findings;
use crate::{
    numbers::{percent, significant},
    out::{Look, heading},
    table::{pairs, paragraph, table},
};
use ringland_proto::v1::{
    Estimate, Finding, FittedLives, GroupComparison, GroupSummary, LifeAnalysis, LifeCounts,
    LifeLaw, ReplacementAnalysis, SurvivalPoint,
};

/// Steps of a table before it is cut.
const MOST_ROWS: usize = 16;
const CAUTION: &str = "It advises. Limits of the part's maker, rules of the sanctioning body and what is found at the part come first.";

fn number(value: f64) -> String {
    significant(value, 4)
}

fn estimate(estimate: Option<&Estimate>) -> String {
    estimate.map_or("-".into(), |found| {
        format!(
            "{} ({} to {})",
            number(found.value),
            number(found.low),
            number(found.high)
        )
    })
}

fn law(fit: &FittedLives) -> &'static str {
    match fit.law() {
        LifeLaw::Weibull => "Weibull",
        LifeLaw::Lognormal => "lognormal",
        LifeLaw::Exponential => "exponential",
        LifeLaw::Unspecified => "-",
    }
}

fn counts(counts: Option<&LifeCounts>, age_unit: &str) -> String {
    let counts = counts.copied().unwrap_or_default();
    format!(
        "{} parts of {} units, {} ended, {} {age_unit} together",
        counts.parts,
        counts.units,
        counts.ended,
        number(counts.total_age)
    )
}

fn closing(text: &mut Vec<String>, notes: &[Finding], look: &Look) {
    if !notes.is_empty() {
        text.push(findings(notes, look));
    }
    text.push(paragraph(look, CAUTION));
}

/// Lives of like parts.
pub fn lives(found: &LifeAnalysis, look: &Look) -> String {
    let unit = &found.age_unit;
    let mut text = vec![
        heading("Lives of like parts"),
        pairs(look, &[("lives", counts(found.counts.as_ref(), unit))]),
        paragraph(look, &found.verdict),
    ];
    if !found.fits.is_empty() {
        let rows = found.fits.iter().map(|fit| {
            let parameters = fit.parameters.iter().map(|parameter| {
                format!(
                    "{} {}",
                    parameter.name,
                    estimate(parameter.estimate.as_ref())
                )
            });
            vec![
                law(fit).into(),
                parameters.collect::<Vec<_>>().join(", "),
                format!("{:.2}", fit.akaike),
            ]
        });
        text.push(heading("Fits (90 %)"));
        text.push(table(look, &["law", "parameters", ">AIC"], rows.collect()));
        text.push(heading(&format!("Ended by, {unit} (90 %)")));
        text.push(quantiles(found, look));
        let cautions = found.fits.iter().filter(|fit| !fit.caution.is_empty());
        text.extend(
            cautions.map(|fit| paragraph(look, &format!("{}: {}.", law(fit), fit.caution))),
        );
    }
    if !found.survival.is_empty() {
        text.push(heading("Share alive (Kaplan-Meier, 95 %)"));
        text.push(survival(&found.survival, unit, look));
    }
    closing(&mut text, &found.findings, look);
    text.join("\n")
}

fn quantiles(found: &LifeAnalysis, look: &Look) -> String {
    let shares: Vec<f64> = found.fits.first().map_or(Vec::new(), |fit| {
        fit.quantiles
            .iter()
            .map(|quantile| quantile.share)
            .collect()
    });
    let header: Vec<String> = shares
        .iter()
        .map(|share| format!(">{}", percent(*share)))
        .collect();
    let mut columns = vec!["law"];
    columns.extend(header.iter().map(String::as_str));
    let rows = found.fits.iter().map(|fit| {
        let ages = fit
            .quantiles
            .iter()
            .map(|quantile| estimate(quantile.age.as_ref()));
        std::iter::once(law(fit).to_owned()).chain(ages).collect()
    });
    table(look, &columns, rows.collect())
}

fn survival(points: &[SurvivalPoint], age_unit: &str, look: &Look) -> String {
    let rows = points.iter().take(MOST_ROWS).map(|point| {
        vec![
            number(point.age),
            point.at_risk.to_string(),
            point.ended.to_string(),
            estimate(point.survival.as_ref()),
            number(point.cumulative_hazard),
        ]
    });
    let header = [
        &format!(">{age_unit}"),
        ">running",
        ">ended",
        ">alive",
        ">cumulative hazard",
    ];
    let drawn = table(look, &header, rows.collect());
    match points.len().checked_sub(MOST_ROWS) {
        Some(left @ 1..) => format!("{drawn}\n  {left} more steps: --json has all"),
        _ => drawn,
    }
}

/// Two groups.
pub fn groups(found: &GroupComparison, look: &Look) -> String {
    let title = |group: Option<&GroupSummary>| {
        let group = group.cloned().unwrap_or_default();
        let median = group
            .median
            .map_or("half have not ended yet".into(), |median| {
                format!("half ended by {} {}", number(median), found.age_unit)
            });
        format!(
            "{}; {median}",
            counts(group.counts.as_ref(), &found.age_unit)
        )
    };
    let name = |group: Option<&GroupSummary>| group.map_or("-", |group| &group.group).to_owned();
    let (base, other) = (found.base.as_ref(), found.other.as_ref());
    let test = found.log_rank_chi_squared.zip(found.log_rank_p);
    let mut text = vec![
        heading(&format!("{} against {}", name(other), name(base))),
        pairs(
            look,
            &[
                (&name(base), title(base)),
                (&name(other), title(other)),
                ("times as long (95 %)", estimate(found.life_factor.as_ref())),
                (
                    "by refits (95 %)",
                    estimate(found.life_factor_by_refits.as_ref()),
                ),
                (
                    "log-rank test",
                    test.map_or("-".into(), |(chi_squared, p)| {
                        format!(
                            "chi-squared {}, p = {}",
                            number(chi_squared),
                            significant(p, 2)
                        )
                    }),
                ),
                ("proven", if found.proven { "yes" } else { "no" }.into()),
            ],
        ),
        paragraph(look, &found.verdict),
    ];
    closing(&mut text, &found.findings, look);
    text.join("\n")
}

/// Repeated replacements.
pub fn replacements(found: &ReplacementAnalysis, look: &Look) -> String {
    let rows = found.steps.iter().rev().take(MOST_ROWS).rev().map(|step| {
        vec![
            number(step.age),
            step.at_risk.to_string(),
            step.replaced.to_string(),
            estimate(step.mean.as_ref()),
        ]
    });
    let mut text = vec![heading("Replacements"), paragraph(look, &found.verdict)];
    if !found.steps.is_empty() {
        text.push(heading("Mean replacements of a unit (95 %)"));
        let header = [
            &format!(">{}", found.age_unit),
            ">units",
            ">replaced",
            ">mean so far",
        ];
        text.push(table(look, &header, rows.collect()));
        if let Some(left @ 1..) = found.steps.len().checked_sub(MOST_ROWS) {
            text.push(format!("  {left} earlier steps: --json has all"));
        }
    }
    closing(&mut text, &found.findings, look);
    text.join("\n")
}
