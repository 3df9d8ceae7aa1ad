//! Watching predictions: the ledger's changes are gathered, predicted once for all watchers on the
//! bulk lane, and sent around through a queue of limited length.

mod changes;
mod interest;
mod watcher;
mod worker;

use crate::{
    convert::predictions,
    errors,
    lanes::{Lane, Ticket, Tickets},
    settings::WatchLimits,
};
use changes::Changes;
use interest::Interest;
use ringland_ledger::{ComponentName, Ledger, OnChange, PredictRequest, UnitName};
use ringland_proto::v1::{self as api, watch_predictions_response::Change};
use std::{
    collections::BTreeMap,
    sync::{
        Arc, Mutex, MutexGuard, PoisonError,
        atomic::{AtomicU64, Ordering},
    },
};
use tokio::sync::{Notify, broadcast};
use tokio_util::sync::CancellationToken;
use tonic::Status;

pub use interest::Targets;
pub use watcher::Watched;

/// Latest predictions kept for watchers that join; beyond that the store of them starts anew.
const KEPT: usize = 4096;

/// The prediction of a component as of now, or why there is none.
#[derive(Debug)]
struct Update {
    component: ComponentName,
    /// Where the component is installed.
    unit: Option<UnitName>,
    change: Change,
}

/// Where changes come in and watchers are served from.
pub struct WatchHub {
    changes: Mutex<Changes>,
    changed: Notify,
    /// Counts changes: what was computed before one is not kept after it.
    epoch: AtomicU64,
    latest: Mutex<BTreeMap<ComponentName, Arc<Update>>>,
    interest: Interest,
    updates: broadcast::Sender<Arc<Update>>,
    watchers: Tickets,
    limits: WatchLimits,
}

/// What watching needs of the rest.
#[derive(Clone)]
pub struct Desk {
    hub: Arc<WatchHub>,
    ledger: Arc<Ledger>,
    bulk: Lane,
    /// Held for as long as the server runs, so that watching never waits for admission.
    ticket: Arc<Ticket>,
    draining: CancellationToken,
}

impl WatchHub {
    /// Without watchers.
    pub fn new(limits: WatchLimits) -> Arc<Self> {
        let (updates, _) = broadcast::channel(limits.queue);
        Arc::new(Self {
            changes: Mutex::default(),
            changed: Notify::new(),
            epoch: AtomicU64::new(0),
            latest: Mutex::default(),
            interest: Interest::default(),
            updates,
            watchers: Tickets::new("watchers", limits.watchers),
            limits,
        })
    }

    /// What the ledger calls with each change. It only notes it.
    pub fn listener(self: &Arc<Self>) -> OnChange {
        let hub = Arc::clone(self);
        Arc::new(move |change| {
            hub.epoch.fetch_add(1, Ordering::SeqCst);
            {
                let mut latest = lock(&hub.latest);
                match &change {
                    ringland_ledger::Change::Components(names) => {
                        for name in names {
                            latest.remove(name);
                        }
                    }
                    _ => latest.clear(),
                }
            }
            lock(&hub.changes).add(change);
            hub.changed.notify_one();
        })
    }

    /// Watching for as long as the server runs.
    pub fn desk(
        self: Arc<Self>,
        ledger: Arc<Ledger>,
        bulk: Lane,
        draining: CancellationToken,
    ) -> Desk {
        let ticket = Arc::new(Ticket::standing());
        Desk {
            hub: self,
            ledger,
            bulk,
            ticket,
            draining,
        }
    }

    fn take_changes(&self) -> Changes {
        std::mem::take(&mut *lock(&self.changes))
    }

    /// The prediction of a component, from what is known where it still holds. Blocks.
    fn current(&self, ledger: &Ledger, component: &ComponentName) -> Arc<Update> {
        let epoch = self.epoch.load(Ordering::SeqCst);
        if let Some(update) = lock(&self.latest).get(component) {
            return Arc::clone(update);
        }
        let update = Arc::new(predict(ledger, component));
        let mut latest = lock(&self.latest);
        if self.epoch.load(Ordering::SeqCst) == epoch {
            if latest.len() >= KEPT {
                latest.clear();
            }
            latest.insert(component.clone(), Arc::clone(&update));
        }
        update
    }
}

fn predict(ledger: &Ledger, component: &ComponentName) -> Update {
    let installed = ledger
        .get_component(component)
        .map(|found| found.installed_build);
    let predicted = installed.map(|build| {
        let unit = build.map(|build| build.parent());
        (unit, ledger.predict(&PredictRequest::of(component.clone())))
    });
    let (unit, change) = match predicted {
        Ok((unit, Ok(prediction))) => (
            unit,
            Change::Prediction(predictions::to_message(prediction)),
        ),
        Ok((unit, Err(error))) => (unit, refusal(component, &errors::from_ledger(&error))),
        Err(error) => (None, refusal(component, &errors::from_ledger(&error))),
    };
    Update {
        component: component.clone(),
        unit,
        change,
    }
}

fn refusal(component: &ComponentName, status: &Status) -> Change {
    Change::Error(api::WatchError {
        component: component.to_string(),
        status: Some(predictions::status_to_message(status)),
    })
}

/// A lock that a panic elsewhere does not poison: what it guards is whole between statements.
fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
