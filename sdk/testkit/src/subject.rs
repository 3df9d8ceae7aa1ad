//! The plugin under test, in a sandbox of its own.

use crate::sample;
use ringland_host::{
    Limits, WasmModels,
    contract::{
        Card, Digest, Duty, Forecast, ForecastRequest, ModelError, Models, Prepared, Rate,
        Specimen, default_specimen,
    },
};
use std::sync::Arc;
use tempfile::TempDir;

/// The plugin under test.
pub(crate) struct Subject {
    pub(crate) models: WasmModels,
    pub(crate) plugin: Digest,
    pub(crate) card: Arc<Card>,
    bytes: Vec<u8>,
    /// Holds the caches; removed at the end.
    _folder: TempDir,
}

/// Lives drawn in each forecast.
const SAMPLES: u32 = 500;

/// Longest life asked for.
pub(crate) const HORIZON_EVENTS: f64 = 1000.0;

impl Subject {
    pub(crate) fn load(bytes: &[u8]) -> Result<Self, ModelError> {
        let folder = tempfile::tempdir().map_err(|error| ModelError::Host(error.to_string()))?;
        let models = WasmModels::new(Limits::default(), folder.path())?;
        let plugin = models.load(bytes)?;
        Ok(Self {
            card: models.card(plugin)?,
            models,
            plugin,
            bytes: bytes.to_vec(),
            _folder: folder,
        })
    }

    /// The same plugin in a second sandbox that shares nothing with this one.
    pub(crate) fn twin(&self) -> Result<Self, String> {
        Self::load(&self.bytes).map_err(text)
    }

    pub(crate) fn specimen(&self) -> Specimen {
        default_specimen(&self.card)
    }

    /// A record of ordinary use, for as many seconds.
    pub(crate) fn duty(&self, seconds: f64) -> Duty {
        sample::duty(&self.card, seconds)
    }

    pub(crate) fn prepare(&self, specimen: &Specimen) -> Result<Prepared, String> {
        self.models.prepare(self.plugin, specimen).map_err(text)
    }

    pub(crate) fn new_condition(&self, specimen: &Specimen) -> Result<Vec<f64>, String> {
        let prepared = self.prepare(specimen)?;
        let opening = vec![None; self.card.condition.len()];
        self.models
            .begin(self.plugin, specimen, &prepared, &opening)
            .map_err(text)
    }

    /// The condition of a new default component after records of duty.
    pub(crate) fn after(&self, duties: &[Duty]) -> Result<Vec<Vec<f64>>, String> {
        let start = self.new_condition(&self.specimen())?;
        self.advance(&start, duties)
    }

    pub(crate) fn advance(
        &self,
        condition: &[f64],
        duties: &[Duty],
    ) -> Result<Vec<Vec<f64>>, String> {
        let specimen = self.specimen();
        let prepared = self.prepare(&specimen)?;
        self.models
            .advance(self.plugin, &specimen, &prepared, condition, duties)
            .map_err(text)
    }

    /// A forecast for the default component: `event` is ordinary use of an hour, rates are as
    /// before any inspection.
    pub(crate) fn request(&self, condition: Vec<f64>) -> ForecastRequest {
        let rate = |mechanism: &ringland_host::contract::Mechanism| Rate {
            ln_mean: 0.0,
            ln_sd: mechanism.rate_ln_sd,
        };
        ForecastRequest {
            condition,
            event: self.duty(3600.0),
            rates: self.card.mechanisms.iter().map(rate).collect(),
            samples: SAMPLES,
            seed: 1,
            horizon_events: HORIZON_EVENTS,
            ahead_events: vec![0.0, 1.0, 5.0],
        }
    }

    pub(crate) fn forecast(&self, request: &ForecastRequest) -> Result<Forecast, String> {
        let specimen = self.specimen();
        let prepared = self.prepare(&specimen)?;
        self.models
            .forecast(self.plugin, &specimen, &prepared, request)
            .map_err(text)
    }
}

#[allow(clippy::needless_pass_by_value, reason = "takes what `map_err` gives")]
pub(crate) fn text(error: ModelError) -> String {
    error.to_string()
}
