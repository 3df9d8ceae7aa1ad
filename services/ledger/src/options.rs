//! What the ledger is told when it is opened, and what it tells of its changes.

use crate::{ComponentName, LedgerError, UnitName, violations::Violations};
use jiff::Timestamp;
use std::{fmt, sync::Arc};

/// Gives the time of entry (`create_time`, `update_time`). It never enters a condition or a
/// prediction's figures.
pub type Clock = Arc<dyn Fn() -> Timestamp + Send + Sync>;

/// Is told of every change after it is on disk. It must return quickly and must not call the ledger.
pub type OnChange = Arc<dyn Fn(Change) + Send + Sync>;

/// Whose predictions a change may have changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// Of these components: duty, a revision, an installation, a shop operation.
    Components(Vec<ComponentName>),
    /// Of what is installed in this unit: its event profile changed.
    Unit(UnitName),
    /// Of every component of this type, and of those that read its condition: another model is active.
    ComponentType(String),
    /// Of everything.
    Everything,
}

/// The risk of an end within the next event at which the ledger no longer advises to run on, by what
/// the end would cost. Assumed, no source: a shop sets its own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RiskCaps {
    /// A nuisance.
    pub nuisance: f64,
    /// Loss of power.
    pub power_loss: f64,
    /// Loss of the unit.
    pub unit_loss: f64,
    /// People can be hurt.
    pub hazard: f64,
}

impl Default for RiskCaps {
    fn default() -> Self {
        Self {
            nuisance: 0.5,
            power_loss: 0.2,
            unit_loss: 0.02,
            hazard: 0.001,
        }
    }
}

/// Limits and settings.
#[derive(Clone)]
pub struct LedgerOptions {
    /// Time of entry.
    pub clock: Clock,
    /// Is told of changes.
    pub on_change: OnChange,
    /// Lives drawn for each mechanism.
    pub samples: u32,
    /// Longest life of interest.
    pub horizon_events: f64,
    /// When to stop running on.
    pub risk_caps: RiskCaps,
    /// Largest plugin.
    pub max_plugin_bytes: usize,
    /// Most plugins of one component type.
    pub max_models_per_type: usize,
    /// Largest duty record, numbers in its columns together.
    pub max_duty_values: usize,
    /// Most shocks and cycles in a record, rows together.
    pub max_duty_rows: usize,
    /// Largest stored unit, build, component or revision.
    pub max_row_bytes: usize,
    /// Most components in one build.
    pub max_components_per_build: usize,
    /// Most records in one profile.
    pub max_profile_records: usize,
    /// Stored predictions of each component; the oldest go first.
    pub max_predictions_per_component: u32,
    /// Most predictions in one batch.
    pub max_batch: usize,
    /// Duty records handed to a plugin in one call.
    pub fold_batch_records: usize,
    /// Numbers handed to a plugin in one call (at least one record is).
    pub fold_batch_values: usize,
    /// How often a change is tried when another writer is faster.
    pub attempts: u32,
    /// How much two duty records of a unit may overlap: clocks and logs are rounded.
    pub duty_overlap_tolerance_s: f64,
}

impl Default for LedgerOptions {
    fn default() -> Self {
        Self {
            clock: Arc::new(Timestamp::now),
            on_change: Arc::new(|_| {}),
            samples: 512,
            horizon_events: 200.0,
            risk_caps: RiskCaps::default(),
            max_plugin_bytes: 32 << 20,
            max_models_per_type: 64,
            max_duty_values: 2_000_000,
            max_duty_rows: 100_000,
            max_row_bytes: 1 << 20,
            max_components_per_build: 200,
            max_profile_records: 100,
            max_predictions_per_component: 200,
            max_batch: 1000,
            fold_batch_records: 64,
            fold_batch_values: 1_000_000,
            attempts: 8,
            duty_overlap_tolerance_s: 1.0,
        }
    }
}

impl fmt::Debug for LedgerOptions {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("LedgerOptions")
            .field("samples", &self.samples)
            .field("horizon_events", &self.horizon_events)
            .finish_non_exhaustive()
    }
}

impl LedgerOptions {
    /// Refuses numbers with which no prediction has a meaning.
    pub(crate) fn check(&self) -> Result<(), LedgerError> {
        let mut violations = Violations::default();
        let remedy = "correct the configuration";
        if self.samples == 0 {
            violations.add("samples", 0, "at least 1", remedy);
        }
        if !(self.horizon_events.is_finite() && self.horizon_events > 0.0) {
            let expected = "a finite number of events, more than 0";
            violations.add("horizon_events", self.horizon_events, expected, remedy);
        }
        let caps = &self.risk_caps;
        for (field, cap) in [
            ("risk_caps.nuisance", caps.nuisance),
            ("risk_caps.power_loss", caps.power_loss),
            ("risk_caps.unit_loss", caps.unit_loss),
            ("risk_caps.hazard", caps.hazard),
        ] {
            if !(cap > 0.0 && cap < 1.0) {
                violations.add(field, cap, "more than 0, less than 1", remedy);
            }
        }
        violations.into_result()
    }
}
