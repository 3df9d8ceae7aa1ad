//! Opens what the settings name.

use crate::{
    auth::Auth,
    error::ServeError,
    lanes::{Lane, Lanes},
    plugins,
    settings::{Settings, is_set},
};
use ringland_host::{WasmModels, contract::Models};
use ringland_ledger::{Ledger, LedgerOptions, OnChange, RiskCaps};
use ringland_store::{SledOptions, SledStore, Store};
use std::{fs, io, path::Path, sync::Arc};
use tonic::transport::{Identity, ServerTlsConfig};

/// Stack for everything but plugins.
const OWN_STACK_BYTES: usize = 2 << 20;

/// The bearer token, if there is one.
pub fn auth(settings: &Settings) -> Result<Auth, ServeError> {
    if !is_set(&settings.token_file) {
        return Ok(Auth::open());
    }
    Auth::from_file(&settings.token_file).map_err(file("token_file", &settings.token_file))
}

/// Certificate and key, if there are any.
pub fn tls(settings: &Settings) -> Result<Option<ServerTlsConfig>, ServeError> {
    let (certificate, key) = (&settings.tls.certificate_file, &settings.tls.key_file);
    if !is_set(certificate) {
        return Ok(None);
    }
    let chain = fs::read(certificate).map_err(file("tls.certificate_file", certificate))?;
    let key = fs::read(key).map_err(file("tls.key_file", key))?;
    Ok(Some(
        ServerTlsConfig::new().identity(Identity::from_pem(chain, key)),
    ))
}

/// The lanes' threads.
pub fn lanes(settings: &Settings) -> io::Result<Lanes> {
    let limits = &settings.limits;
    // A plugin runs on the stack of the thread that calls it.
    let stack_bytes = settings.host.stack_bytes + OWN_STACK_BYTES;
    let start = |name, threads, queue| Lane::start(name, threads, queue, stack_bytes);
    Ok(Lanes {
        light: start("light", limits.light_threads, limits.light_queue)?,
        predict: start("predict", limits.predict_threads, limits.predict_queue)?,
        bulk: start("bulk", limits.bulk_threads, limits.bulk_queue)?,
    })
}

/// The ledger's store. Blocks.
pub fn store(settings: &Settings) -> Result<Arc<dyn Store>, ServeError> {
    private_folder("data_dir", &settings.data_dir)?;
    // A plugin is the largest row, and is kept with a little around it.
    let max_value_bytes = settings.host.plugin_bytes + (1 << 20);
    let options = SledOptions {
        cache_bytes: settings.limits.store_cache_bytes,
        limits: ringland_store::Limits {
            max_value_bytes,
            ..Default::default()
        },
        ..SledOptions::new(&settings.data_dir)
    };
    Ok(Arc::new(SledStore::open(&options)?))
}

/// The plugin host. Blocks.
pub fn models(settings: &Settings) -> Result<Arc<dyn Models>, ServeError> {
    private_folder("cache_dir", &settings.cache_dir)?;
    Ok(Arc::new(WasmModels::new(
        settings.host.clone(),
        &settings.cache_dir,
    )?))
}

/// The ledger, with the plugins of the plugin folder. Blocks.
pub fn ledger(
    settings: &Settings,
    store: Arc<dyn Store>,
    models: Arc<dyn Models>,
    on_change: OnChange,
) -> Result<Arc<Ledger>, ServeError> {
    let caps = &settings.prediction.risk_caps;
    let options = LedgerOptions {
        on_change,
        samples: settings.prediction.samples,
        horizon_events: settings.prediction.horizon_events,
        risk_caps: RiskCaps {
            nuisance: caps.nuisance,
            power_loss: caps.power_loss,
            unit_loss: caps.unit_loss,
            hazard: caps.hazard,
        },
        max_plugin_bytes: settings.host.plugin_bytes,
        max_duty_values: settings.limits.duty_values,
        max_duty_rows: settings.limits.duty_rows,
        max_batch: settings.limits.batch,
        ..LedgerOptions::default()
    };
    let ledger = Ledger::open(store, models, options)?;
    if is_set(&settings.plugins_dir) {
        plugins::install(&ledger, &settings.plugins_dir, settings.activate_new)?;
    }
    Ok(Arc::new(ledger))
}

/// A folder that only the server may look into.
fn private_folder(key: &'static str, path: &Path) -> Result<(), ServeError> {
    use std::os::unix::fs::DirBuilderExt;
    let mut folder = fs::DirBuilder::new();
    folder
        .recursive(true)
        .mode(0o700)
        .create(path)
        .map_err(file(key, path))
}

fn file(key: &'static str, path: &Path) -> impl FnOnce(io::Error) -> ServeError + use<> {
    let path = path.to_owned();
    move |source| ServeError::File { key, path, source }
}
