//! How often units need a part: the mean cumulative function of replacements.

use super::{MOST, analysis::not_computed, chi_squared, given::check_units, lives::note};
use crate::predict::figure;
use crate::{
    ComponentName, Estimate, Installation, Ledger, LedgerError, MeanReplacements, PageRequest,
    RepairedUnit, ReplacementAnalysis, ReplacementSource, UnitName,
    ledger::{DutyRow, record_prefix},
    rows,
};
use jiff::Timestamp;
use ringland_host::contract::Finding;
use ringland_mechanics::statistics::{
    StatisticsError,
    counts::{self, Recurrences},
};
use ringland_store::Table;
use std::collections::BTreeSet;

/// Of the interval of the shape.
const CONFIDENCE: f64 = 0.90;

impl Ledger {
    /// What repeated replacements tell: their mean count over the age of a unit, and whether they come ever faster.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::FailedPrecondition`] when the type has no model, and the store's.
    pub fn analyze_replacements(
        &self,
        source: &ReplacementSource,
    ) -> Result<ReplacementAnalysis, LedgerError> {
        let mut findings = Vec::new();
        let (units, age_unit) = match source {
            ReplacementSource::Given { units, age_unit } => {
                check_units(units)?;
                (units.clone(), age_unit.clone())
            }
            ReplacementSource::Ledger(kind) => {
                self.require_active(kind)?;
                (self.replacements_of(kind, &mut findings)?, "h".into())
            }
        };
        let seen: Vec<Recurrences> = units.iter().map(recurrences).collect();
        let steps = counts::mean_cumulative_function(&seen).map_err(not_computed)?;
        let steps: Vec<MeanReplacements> = steps.iter().map(step).collect();
        let law = match counts::power_law(&seen) {
            Ok(law) => Some(law),
            Err(error @ (StatisticsError::TooFew { .. } | StatisticsError::NoMaximum { .. })) => {
                let remedy = "wait for more replacements";
                findings.push(note("shape", &error.to_string(), "a power law", remedy));
                None
            }
            Err(error) => return Err(not_computed(error)),
        };
        let count: usize = seen.iter().map(|unit| unit.ages.len()).sum();
        let shape = law.as_ref().map(|law| shape_of(law.shape, count));
        Ok(ReplacementAnalysis {
            verdict: verdict(&units, count, steps.last(), shape, &age_unit),
            scale: law.map(|law| law.scale),
            age_unit,
            units,
            steps,
            shape,
            findings,
        })
    }

    /// Replacements of a type in every unit, by the unit's hours of duty.
    fn replacements_of(
        &self,
        kind: &str,
        findings: &mut Vec<Finding>,
    ) -> Result<Vec<RepairedUnit>, LedgerError> {
        let mut found = Vec::new();
        let mut page = PageRequest {
            page_size: 500,
            page_token: String::new(),
        };
        loop {
            let units = self.list_units(&page)?;
            for unit in units.items {
                found.extend(self.replacements_in(&unit.name, kind, findings)?);
            }
            if units.next_page_token.is_empty() || found.len() > MOST {
                break;
            }
            page.page_token = units.next_page_token;
        }
        if found.is_empty() {
            let remedy = "install them in builds of units that run";
            findings.push(note(
                "component_type",
                kind,
                "parts that are in a unit with duty",
                remedy,
            ));
        }
        Ok(found)
    }

    fn replacements_in(
        &self,
        unit: &UnitName,
        kind: &str,
        findings: &mut Vec<Finding>,
    ) -> Result<Option<RepairedUnit>, LedgerError> {
        let mut installed = self.installed_over_time(unit, kind)?;
        installed.sort_by_key(|installation| {
            (
                installation.install_time,
                installation.component.to_string(),
            )
        });
        let hours = self.hours_of(unit)?;
        let end = hours.last().map_or(0.0, |(_, after)| *after);
        let (Some(first), true) = (installed.first(), end > 0.0) else {
            return Ok(None);
        };
        let begun = first.install_time;
        let mut known: BTreeSet<ComponentName> = BTreeSet::new();
        let mut ages = Vec::new();
        for installation in &installed {
            let new = known.insert(installation.component.clone());
            // What was there from the start, or comes back after it was out, replaces nothing.
            if new && installation.install_time > begun {
                ages.push(age_at(&hours, installation.install_time));
            }
        }
        if ages.len() > MOST {
            let remedy = "ask the keeper of the ledger why";
            findings.push(note(
                &unit.to_string(),
                &ages.len().to_string(),
                "fewer replacements",
                remedy,
            ));
            return Ok(None);
        }
        Ok(Some(RepairedUnit {
            unit: unit.to_string(),
            ages,
            end,
        }))
    }

    fn installed_over_time(
        &self,
        unit: &UnitName,
        kind: &str,
    ) -> Result<Vec<Installation>, LedgerError> {
        let mut found = Vec::new();
        let mut page = PageRequest {
            page_size: 500,
            page_token: String::new(),
        };
        loop {
            let builds = self.list_builds(Some(unit), &page)?;
            for build in builds.items {
                for installation in self.installations_in(&build.name)? {
                    let row = self.component_row(&installation.component)?;
                    if row.component_type == kind {
                        found.push(installation);
                    }
                }
            }
            if builds.next_page_token.is_empty() {
                return Ok(found);
            }
            page.page_token = builds.next_page_token;
        }
    }

    /// Start of each duty record of a unit, and the unit's hours after it.
    fn hours_of(&self, unit: &UnitName) -> Result<Vec<(Timestamp, f64)>, LedgerError> {
        let prefix = record_prefix(unit);
        let (mut hours, mut found, mut after) = (0.0, Vec::new(), None);
        loop {
            let read = self
                .store
                .scan(Table::Duty, &prefix, after.as_deref(), 500)?;
            let Some((last, _)) = read.last() else {
                return Ok(found);
            };
            after = Some(last.clone());
            for (_, bytes) in &read {
                let row: DutyRow = rows::decode(bytes)?;
                hours += row.record.duration_s / 3600.0;
                found.push((row.record.start_time, hours));
            }
        }
    }
}

/// Hours of the records that started before.
fn age_at(hours: &[(Timestamp, f64)], time: Timestamp) -> f64 {
    let before = hours.iter().rev().find(|(start, _)| *start < time);
    before.map_or(0.0, |(_, after)| *after)
}

fn recurrences(unit: &RepairedUnit) -> Recurrences {
    Recurrences {
        ages: unit.ages.clone(),
        end: unit.end,
    }
}

fn step(step: &counts::MeanCountStep) -> MeanReplacements {
    MeanReplacements {
        age: step.age,
        at_risk: step.at_risk as u32,
        replaced: step.failures as u32,
        mean: Estimate {
            value: step.mean_count,
            se: step.se,
            low: step.low,
            high: step.high,
        },
    }
}

/// The shape times `chi2 / 2n` at `2n` degrees of freedom (Crow 1974, exact for one unit seen up to a set age; from memory).
fn shape_of(shape: f64, count: usize) -> Estimate {
    let n = count as f64;
    let bound = |p: f64| {
        chi_squared::quantile(p, 2.0 * n).map_or(shape, |quantile| shape * quantile / (2.0 * n))
    };
    let tail = 0.5 * (1.0 - CONFIDENCE);
    Estimate {
        value: shape,
        se: shape / n.sqrt(),
        low: bound(tail),
        high: bound(1.0 - tail),
    }
}

fn verdict(
    units: &[RepairedUnit],
    count: usize,
    last: Option<&MeanReplacements>,
    shape: Option<Estimate>,
    age_unit: &str,
) -> String {
    let Some(last) = last else {
        return format!(
            "Too little to tell: {} unit(s) and no replacement.",
            units.len()
        );
    };
    let mean = format!(
        "{count} replacements in {} unit(s); by {} {age_unit} a unit has had {} (95 %: {} to {})",
        units.len(),
        figure(last.age),
        figure(last.mean.value),
        figure(last.mean.low),
        figure(last.mean.high)
    );
    let pace = shape.map_or(
        "too few to tell whether they come faster".to_owned(),
        |shape| {
            let span = format!(
                "shape {} (90 %: {} to {})",
                figure(shape.value),
                figure(shape.low),
                figure(shape.high)
            );
            if shape.low > 1.0 {
                format!("they come ever faster, {span}")
            } else if shape.high < 1.0 {
                format!("they come ever more slowly, {span}")
            } else {
                format!("whether they come faster cannot be told, {span}")
            }
        },
    );
    let one = if units.len() < 2 {
        " One unit: another may differ."
    } else {
        ""
    };
    format!("{mean}; {pace}.{one}")
}
