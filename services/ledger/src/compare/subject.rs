//! Whose alternatives are drawn, from what, and how.

use crate::{
    Basis, Component, ComponentName, Draws, LedgerError, ledger::Ledger, predict::Drawing,
    violations::Violations,
};
use ringland_host::contract::{Card, Digest};
use std::sync::Arc;

const HORIZONS: std::ops::RangeInclusive<f64> = 1.0..=10_000.0;
const SAMPLES: std::ops::RangeInclusive<u32> = 64..=4096;

/// A component of the ledger as a comparison starts from it.
pub(super) struct Subject {
    pub(super) component: Component,
    pub(super) plugin: Digest,
    pub(super) card: Arc<Card>,
    /// `None`: what the model begins a new part with.
    pub(super) condition: Option<Vec<f64>>,
    /// A value for each mate need of the card.
    pub(super) mates: Vec<f64>,
}

impl Ledger {
    pub(super) fn subject(
        &self,
        name: &ComponentName,
        basis: Basis,
    ) -> Result<Subject, LedgerError> {
        let component = self.component_row(name)?;
        let plugin = self.require_active(&component.component_type)?;
        let card = self.card(plugin)?;
        let (condition, mates) = match basis {
            Basis::New => {
                let needs = card.duty.mates.iter();
                (None, needs.map(|need| need.default_value).collect())
            }
            Basis::Present => {
                let folded = self.fold(name, plugin)?;
                let mates = folded.mates.iter().map(|mate| mate.value).collect();
                (Some(folded.row.condition), mates)
            }
        };
        Ok(Subject {
            component,
            plugin,
            card,
            condition,
            mates,
        })
    }

    /// How a comparison is drawn, what is not given as predictions are.
    pub(super) fn drawing(
        &self,
        draws: &Draws,
        ahead: Vec<f64>,
        violations: &mut Violations,
    ) -> Drawing {
        let horizon_events = draws.horizon_events.unwrap_or(self.options.horizon_events);
        if draws.horizon_events.is_some() && !HORIZONS.contains(&horizon_events) {
            let remedy = "ask for another, or leave it out for the ledger's";
            violations.add(
                "horizon_events",
                horizon_events,
                "1 to 10000 events",
                remedy,
            );
        }
        let samples = draws.samples.unwrap_or(self.options.samples);
        if draws.samples.is_some() && !SAMPLES.contains(&samples) {
            let remedy = "ask for another number, or leave it out for the ledger's";
            violations.add("samples", samples, "64 to 4096 lives", remedy);
        }
        Drawing {
            samples,
            horizon_events,
            ahead,
        }
    }
}
