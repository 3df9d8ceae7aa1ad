//! What did that over-rev cost?

use super::{
    asked::{check_event, check_prices, price_of},
    knocked_out::{KnockedOut, knock_out},
    money::unused_shares,
    outlook::{State, earliest_of, earliest_told},
    words,
};
use crate::{
    Action, AskShockCost, DutyRecord, Installation, LedgerError, PartShockCost, ShockCost,
    ShockCostFigures, SlotChange,
    compare::{Earliest, Range, alone, odds, quantiles_of},
    fold::Edited,
    ledger::Ledger,
    predict::Event,
    violations::Violations,
};
use ringland_host::contract::{Card, vocabulary::SHOCKS};
use std::sync::Arc;

/// A part as it is and as it would be without the shock.
struct Pair {
    with: State,
    without: State,
}

struct Studied {
    installation: Installation,
    component_type: String,
    pair: Result<Pair, LedgerError>,
}

impl Ledger {
    /// Tells what a shock in a record cost each part that was in the unit then: its history is folded again without it,
    /// and both are forecast with the same draws. Nothing is stored.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], also for a record without such a shock, [`LedgerError::NotFound`],
    /// [`LedgerError::FailedPrecondition`] when there is no profile or nothing was installed, and the store's. A part
    /// that fails, fails alone.
    pub fn ask_over_rev_cost(&self, ask: &AskShockCost) -> Result<ShockCost, LedgerError> {
        let mut violations = Violations::default();
        check_event(&mut violations, &ask.event);
        check_prices(&mut violations, "replace_costs", &ask.replace_costs);
        violations.into_result()?;
        let record = self.get_duty_record(&ask.duty_record)?;
        let kind = if ask.kind.is_empty() {
            "over_rev"
        } else {
            &ask.kind
        };
        let duty = record.duty.clone().unwrap_or_default();
        let out = knock_out(&duty, kind, ask.number)?;
        let event = self.event_in_unit(&ask.event, &record.unit)?;
        let edited = Edited {
            record: record.name.clone(),
            start: record.start_time,
            duty: out.duty.clone(),
        };
        let mut studied = Vec::new();
        for installation in self.installations_in(&record.build)? {
            if installation.holds_at(record.start_time) {
                studied.push(self.study(installation, &edited, &event)?);
            }
        }
        self.shock_told(ask, &record, kind, &out, &event, &studied)
    }

    fn study(
        &self,
        installation: Installation,
        edited: &Edited,
        event: &Event,
    ) -> Result<Studied, LedgerError> {
        let component = self.component_row(&installation.component)?;
        let pair = || -> Result<Pair, LedgerError> {
            let folded = self.fold_active(&component.name)?;
            let other = self.fold_as_if(&component.name, folded.plugin, edited)?;
            // What inspections found is found with the shock and without it.
            let inspected = Arc::new(self.inspected(&folded)?);
            Ok(Pair {
                with: self.state_as(folded, inspected.clone(), event)?,
                without: self.state_as(other, inspected, event)?,
            })
        };
        Ok(Studied {
            component_type: component.component_type,
            pair: alone(pair())?,
            installation,
        })
    }

    fn shock_told(
        &self,
        ask: &AskShockCost,
        record: &DutyRecord,
        kind: &str,
        out: &KnockedOut,
        event: &Event,
        studied: &[Studied],
    ) -> Result<ShockCost, LedgerError> {
        let there: Vec<&Pair> = studied
            .iter()
            .filter(|part| part.installation.remove_time.is_none())
            .filter_map(|part| part.pair.as_ref().ok())
            .collect();
        let with: Vec<_> = there.iter().map(|pair| Some(&pair.with)).collect();
        let without: Vec<_> = there.iter().map(|pair| Some(&pair.without)).collect();
        let earliest = |states: &[Option<&State>]| {
            earliest_of(states, self.options.samples, self.options.horizon_events)
        };
        let (now, then) = (earliest(&with), earliest(&without));
        let lost_events = quantiles_of(&later(&now, &then));
        let mut parts = Vec::with_capacity(studied.len());
        for part in studied {
            parts.push(self.part(ask, part, event)?);
        }
        parts.sort_by(|a, b| lost(b).total_cmp(&lost(a)));
        let (earliest, earliest_without) = (
            earliest_told(&now, &with, event),
            earliest_told(&then, &without, event),
        );
        let label = SHOCKS.iter().find(|shock| shock.kind == kind);
        let label = label.map_or(kind, |shock| shock.label);
        let verdict = verdict(label, out, &parts, &lost_events, there.is_empty());
        let cards: Vec<&Card> = studied
            .iter()
            .filter_map(|part| part.pair.as_ref().ok())
            .map(|pair| &*pair.with.folded.card)
            .collect();
        let mut why = vec![out.points.clone()];
        let reads = |card: &&&Card| card.duty.shocks.iter().any(|need| need.kind == kind);
        if !cards.iter().any(|card| reads(&card)) {
            why.push(format!(
                "No model of these parts reads {label}: what it did beyond the operating points is not in these figures."
            ));
        }
        if !there.is_empty() {
            why.push(format!(
                "The unit's earliest limit comes after {}; without it after {}.",
                words::limit(&earliest),
                words::limit(&earliest_without)
            ));
        }
        let mut notes = vec![words::independent()];
        notes.extend(parts.iter().filter_map(|part| {
            let error = part.figures.as_ref().err()?;
            Some(words::has_none(&part.component, error))
        }));
        Ok(ShockCost {
            unit: record.unit.clone(),
            duty_record: record.name.clone(),
            kind: kind.into(),
            shocks: out.shocks.clone(),
            removed_time_s: out.removed_time_s,
            profile: event.profile.name.clone(),
            verdict,
            why,
            check: checks(&parts),
            parts,
            earliest,
            earliest_without,
            lost_events,
            notes,
            cautions: words::cautions(cards.into_iter()),
        })
    }

    fn part(
        &self,
        ask: &AskShockCost,
        part: &Studied,
        event: &Event,
    ) -> Result<PartShockCost, LedgerError> {
        let component = part.installation.component.clone();
        let price = price_of(&ask.replace_costs, &component, &part.component_type);
        let figures = match &part.pair {
            Err(error) => Err(error.clone()),
            Ok(pair) => {
                let price = match price {
                    Some(price) => Some(self.price_of_loss(pair, price, event)?),
                    None => None,
                };
                Ok(figures(pair, price))
            }
        };
        Ok(PartShockCost {
            component,
            component_type: part.component_type.clone(),
            position: part.installation.position.clone(),
            still_installed: part.installation.remove_time.is_none(),
            figures,
        })
    }

    /// The share of a new part's life that was lost, at its price, draw by draw.
    fn price_of_loss(
        &self,
        pair: &Pair,
        price: f64,
        event: &Event,
    ) -> Result<crate::BoundedQuantiles, LedgerError> {
        let new = self.new_like(&pair.with, event)?.lives();
        let left = unused_shares(&pair.with.lives(), &new);
        let then = unused_shares(&pair.without.lives(), &new);
        let lost: Vec<Range> = if same(pair) {
            vec![Range::known(0.0); left.len()]
        } else {
            then.iter()
                .zip(&left)
                .map(|(then, left)| (*then - *left).scaled(price, 0.0))
                .collect()
        };
        Ok(quantiles_of(&lost))
    }
}

/// Whether the shock left no trace in the condition or its mates.
fn same(pair: &Pair) -> bool {
    let bits = |state: &State| -> Vec<u64> {
        let mates = state.folded.mates.iter().map(|mate| mate.value);
        let condition = state.folded.row.condition.iter().copied();
        condition.chain(mates).map(f64::to_bits).collect()
    };
    bits(&pair.with) == bits(&pair.without)
}

fn figures(pair: &Pair, price: Option<crate::BoundedQuantiles>) -> ShockCostFigures {
    let (with, without) = (&pair.with, &pair.without);
    let (now, then) = (with.lives(), without.lives());
    let same = same(pair);
    let lost: Vec<Range> = now
        .iter()
        .zip(&then)
        .map(|(now, then)| {
            if same {
                Range::known(0.0)
            } else {
                *then - *now
            }
        })
        .collect();
    let (told, told_without) = (&with.made.prediction, &without.made.prediction);
    ShockCostFigures {
        life: told.life,
        life_without: told_without.life,
        lost_events: quantiles_of(&lost),
        longer_without: odds(&now, &then, same),
        risk: told.risk_next_event,
        risk_without: told_without.risk_next_event,
        condition: slots(pair),
        advice: told.advice.clone(),
        price,
    }
}

fn slots(pair: &Pair) -> Vec<SlotChange> {
    let card = &pair.with.folded.card;
    let (with, without) = (&pair.with.folded.row, &pair.without.folded.row);
    let values = with.condition.iter().zip(&without.condition);
    card.condition
        .iter()
        .zip(values)
        .filter(|(_, (with, without))| with.to_bits() != without.to_bits())
        .map(|(slot, (with, without))| SlotChange {
            slot: slot.name.clone(),
            label: slot.label.clone(),
            unit: slot.unit.clone(),
            with: *with,
            without: *without,
        })
        .collect()
}

/// How much later the second comes, draw by draw.
pub(super) fn later(one: &Earliest, other: &Earliest) -> Vec<Range> {
    let pairs = other.ranges().into_iter().zip(one.ranges());
    pairs.map(|(other, one)| other - one).collect()
}

/// Least median life lost: what the parts are put in order by.
fn lost(part: &PartShockCost) -> f64 {
    let figures = part.figures.as_ref().ok();
    let median = figures.and_then(|figures| figures.lost_events.p50.at_least);
    median.unwrap_or(f64::NEG_INFINITY)
}

fn verdict(
    label: &str,
    out: &KnockedOut,
    parts: &[PartShockCost],
    lost_events: &crate::BoundedQuantiles,
    alone: bool,
) -> String {
    let what = shown(label, out);
    let touched = parts.iter().filter_map(|part| {
        let figures = part.figures.as_ref().ok()?;
        (!figures.condition.is_empty()).then_some((part, figures))
    });
    let touched: Vec<_> = touched.collect();
    let Some((first, figures)) = touched.first() else {
        return format!(
            "{what} left no trace in the predicted condition of any part. That is what the models know of it: \
                        look at what it may have hit."
        );
    };
    let unit = if alone {
        "the parts are in that unit no more".into()
    } else {
        format!(
            "the unit's earliest limit {} events",
            words::spread(lost_events)
        )
    };
    format!(
        "{what} cost {unit}; most by {}: {} events of its life, and its risk in the next event is {} instead of {}. {} of \
         {} parts carry a trace of it.",
        first.component.component(),
        words::spread(&figures.lost_events),
        words::risk(figures.risk),
        words::risk(figures.risk_without),
        touched.len(),
        parts.len(),
    )
}

/// `The over-rev (9420 rpm, 0.35 s)`
fn shown(label: &str, out: &KnockedOut) -> String {
    let of = |name: &str| -> Vec<f64> {
        let shocks = out.shocks.iter();
        shocks
            .filter_map(|shock| shock.fields.get(name).copied())
            .collect()
    };
    let mut said = Vec::new();
    let peak = of("peak_engine_speed_rad_s").into_iter().reduce(f64::max);
    said.extend(peak.map(|peak| format!("{:.0} rpm", peak * 60.0 / std::f64::consts::TAU)));
    let temp = of("peak_oil_temp_k").into_iter().reduce(f64::max);
    said.extend(temp.map(|temp| format!("{:.0} degC", temp - 273.15)));
    let pressure = of("minimum_oil_pressure_pa").into_iter().reduce(f64::min);
    said.extend(pressure.map(|pressure| format!("{:.2} bar", pressure / 1e5)));
    said.push(format!("{:.2} s", of("duration_s").iter().sum::<f64>()));
    let which = match out.shocks.len() {
        1 => format!("The {label}"),
        count => format!("The {count} of kind {label}"),
    };
    format!("{which} ({})", said.join(", "))
}

/// What to check: the advice of the parts that carry a trace, strictest first.
fn checks(parts: &[PartShockCost]) -> Vec<String> {
    let mut touched: Vec<_> = parts
        .iter()
        .filter_map(|part| {
            let figures = part.figures.as_ref().ok()?;
            (!figures.condition.is_empty()).then_some((part, figures))
        })
        .collect();
    touched.sort_by_key(|(_, figures)| std::cmp::Reverse(figures.advice.action));
    let each = touched.iter().map(|(part, figures)| {
        let id = part.component.component();
        let when = match figures.advice.action {
            Action::Run => "at the next opportunity look at it for what the model leaves out",
            _ => "before it runs again",
        };
        format!("{id}, {when}: {}", figures.advice.text)
    });
    each.collect()
}
