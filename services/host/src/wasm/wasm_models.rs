//! [`WasmModels`]: the plugins as the ledger sees them.

use super::{
    Limits, digests, forecast_checks, input_checks,
    limits::Call,
    prepared_cache::PreparedCache,
    registry::{Plugin, Registry},
    result_checks,
    sandbox::{
        AdvanceArguments, Answer, BeginArguments, CheckArguments, ForecastArguments,
        ReworkArguments, Sandbox,
    },
    sealed_files::SealedFiles,
};
use crate::contract::{
    Card, Digest, Duty, Finding, Forecast, ForecastRequest, ModelError, Models, Prepared, Severity,
    Specimen, check_against_card,
};
use std::{path::Path, sync::Arc};

/// Runs plugins as WebAssembly components in a sandbox: a fresh instance for each call, within
/// [`Limits`], with nothing of the outside within reach; answers are checked.
pub struct WasmModels {
    sandbox: Sandbox,
    compiled: SealedFiles,
    prepared: PreparedCache,
    registry: Registry,
}

impl WasmModels {
    /// Starts without plugins. `cache_folder` keeps compiled plugins and prepared tables from one
    /// start to the next; it is made private to this user and may be deleted at any time.
    ///
    /// # Errors
    /// [`ModelError::Host`] when the folder cannot be made or kept private, or the memory for
    /// [`Limits::instances`] cannot be reserved.
    pub fn new(limits: Limits, cache_folder: &Path) -> Result<Self, ModelError> {
        // Locks the parent first, so that nothing below it is ever open to others.
        SealedFiles::open(cache_folder, u64::MAX)?;
        let compiled =
            SealedFiles::open(&cache_folder.join("compiled"), limits.compiled_disk_bytes)?;
        let prepared =
            SealedFiles::open(&cache_folder.join("prepared"), limits.prepared_disk_bytes)?;
        Ok(Self {
            compiled,
            prepared: PreparedCache::new(&limits, prepared),
            registry: Registry::default(),
            sandbox: Sandbox::new(limits)?,
        })
    }

    /// The host's findings, then those of the plugin that do not repeat them. A spec that lacks
    /// values cannot be handed to the plugin and gets the host's alone.
    fn findings(&self, plugin: &Plugin, specimen: &Specimen) -> Result<Vec<Finding>, ModelError> {
        let mut findings = check_against_card(&plugin.card, specimen);
        if !input_checks::has_card_shape(&plugin.card, specimen) {
            return Ok(findings);
        }
        let arguments: CheckArguments = (specimen,);
        let own: Vec<Finding> =
            self.sandbox
                .call(&plugin.compiled, &plugin.name, Call::Check, arguments)?;
        for finding in own {
            let repeated = |known: &Finding| {
                known.severity == finding.severity && known.field == finding.field
            };
            if !findings.iter().any(repeated) {
                findings.push(finding);
            }
        }
        Ok(findings)
    }

    /// Calls a function that may refuse its input, which `what` names.
    fn ask<P, R>(
        &self,
        plugin: &Plugin,
        call: Call,
        what: &'static str,
        arguments: P,
    ) -> Result<R, ModelError>
    where
        P: wasmtime::component::ComponentNamedList + wasmtime::component::Lower,
        R: wasmtime::component::Lift + Send + Sync + 'static,
    {
        let answer: Answer<R> =
            self.sandbox
                .call(&plugin.compiled, &plugin.name, call, arguments)?;
        answer.map_err(|findings| plugin.refusal(what, findings))
    }
}

impl Plugin {
    fn refusal(&self, what: &'static str, findings: Vec<Finding>) -> ModelError {
        ModelError::Refused {
            plugin: self.name.clone(),
            what,
            findings,
        }
    }

    /// Refuses an input about which there are findings.
    fn accept(&self, what: &'static str, findings: Vec<Finding>) -> Result<(), ModelError> {
        if findings.is_empty() {
            return Ok(());
        }
        Err(self.refusal(what, findings))
    }

    /// Turns what is wrong with an answer into the plugin's error.
    fn trust(&self, call: Call, verdict: Result<(), String>) -> Result<(), ModelError> {
        verdict.map_err(|reason| ModelError::Misbehaved {
            plugin: self.name.clone(),
            call: call.name(),
            reason,
        })
    }

    /// A prepared table belongs to the plugin and specimen that it was made from: then the
    /// specimen has passed its checks.
    fn accept_prepared(&self, specimen: &Specimen, prepared: &Prepared) -> Result<(), ModelError> {
        if digests::of_specimen(self.digest, specimen) == prepared.digest {
            return Ok(());
        }
        Err(ModelError::Host(format!(
            "the prepared table {} was made for another plugin or spec; prepare this one",
            prepared.digest
        )))
    }
}

impl Models for WasmModels {
    fn load(&self, bytes: &[u8]) -> Result<Digest, ModelError> {
        self.registry.load(&self.sandbox, &self.compiled, bytes)
    }

    fn loaded(&self) -> Vec<Digest> {
        self.registry.digests()
    }

    fn card(&self, plugin: Digest) -> Result<Arc<Card>, ModelError> {
        Ok(Arc::clone(&self.registry.get(plugin)?.card))
    }

    fn check(&self, plugin: Digest, specimen: &Specimen) -> Result<Vec<Finding>, ModelError> {
        self.findings(&*self.registry.get(plugin)?, specimen)
    }

    fn prepare(&self, plugin: Digest, specimen: &Specimen) -> Result<Prepared, ModelError> {
        let plugin = self.registry.get(plugin)?;
        let digest = digests::of_specimen(plugin.digest, specimen);
        self.prepared.get_or_compute(digest, || {
            let mut findings = self.findings(&plugin, specimen)?;
            findings.retain(|finding| finding.severity == Severity::Error);
            plugin.accept("spec", findings)?;
            let arguments: CheckArguments = (specimen,);
            let table: Vec<f64> = self.ask(&plugin, Call::Prepare, "spec", arguments)?;
            plugin.trust(
                Call::Prepare,
                result_checks::finite("prepared table", &table),
            )?;
            Ok(table)
        })
    }

    fn begin(
        &self,
        plugin: Digest,
        specimen: &Specimen,
        prepared: &Prepared,
        opening: &[Option<f64>],
    ) -> Result<Vec<f64>, ModelError> {
        let plugin = self.registry.get(plugin)?;
        plugin.accept_prepared(specimen, prepared)?;
        plugin.accept("opening", input_checks::opening(&plugin.card, opening))?;
        let arguments: BeginArguments = (specimen, &prepared.table, opening);
        let condition: Vec<f64> = self.ask(&plugin, Call::Begin, "opening", arguments)?;
        plugin.trust(
            Call::Begin,
            result_checks::condition(&plugin.card, &condition),
        )?;
        Ok(condition)
    }

    fn advance(
        &self,
        plugin: Digest,
        specimen: &Specimen,
        prepared: &Prepared,
        condition: &[f64],
        duties: &[Duty],
    ) -> Result<Vec<Vec<f64>>, ModelError> {
        let plugin = self.registry.get(plugin)?;
        plugin.accept_prepared(specimen, prepared)?;
        plugin.accept(
            "condition",
            input_checks::condition(&plugin.card, condition),
        )?;
        for duty in duties {
            plugin.accept("duty", input_checks::duty(&plugin.card, duty))?;
        }
        let arguments: AdvanceArguments = (specimen, &prepared.table, condition, duties);
        let conditions: Vec<Vec<f64>> = self.ask(&plugin, Call::Advance, "duty", arguments)?;
        let verdict = result_checks::conditions(&plugin.card, condition, duties.len(), &conditions);
        plugin.trust(Call::Advance, verdict)?;
        Ok(conditions)
    }

    fn rework(
        &self,
        plugin: Digest,
        specimen: &Specimen,
        prepared: &Prepared,
        condition: &[f64],
        operation: u32,
    ) -> Result<Vec<f64>, ModelError> {
        let plugin = self.registry.get(plugin)?;
        plugin.accept_prepared(specimen, prepared)?;
        plugin.accept(
            "condition",
            input_checks::condition(&plugin.card, condition),
        )?;
        plugin.accept(
            "operation",
            input_checks::operation(&plugin.card, operation),
        )?;
        let arguments: ReworkArguments = (specimen, &prepared.table, condition, operation);
        let condition: Vec<f64> = self.ask(&plugin, Call::Rework, "operation", arguments)?;
        plugin.trust(
            Call::Rework,
            result_checks::condition(&plugin.card, &condition),
        )?;
        Ok(condition)
    }

    fn forecast(
        &self,
        plugin: Digest,
        specimen: &Specimen,
        prepared: &Prepared,
        request: &ForecastRequest,
    ) -> Result<Forecast, ModelError> {
        let plugin = self.registry.get(plugin)?;
        plugin.accept_prepared(specimen, prepared)?;
        let most = self.sandbox.limits.samples;
        plugin.accept(
            "forecast request",
            input_checks::request(&plugin.card, request, most),
        )?;
        let arguments: ForecastArguments = (specimen, &prepared.table, request);
        let forecast: Forecast =
            self.ask(&plugin, Call::Forecast, "forecast request", arguments)?;
        let verdict = forecast_checks::forecast(&plugin.card, request, &forecast);
        plugin.trust(Call::Forecast, verdict)?;
        Ok(forecast)
    }
}
