//! One watcher: everything it watches now, then the changes.

use super::{Desk, Targets, Update, WatchHub, refusal, worker};
use crate::{errors, lanes::Ticket};
use ringland_ledger::{ComponentName, LedgerError, Place};
use ringland_proto::v1::{
    CaughtUp, Resync, WatchPredictionsResponse, watch_predictions_response::Change,
};
use std::{collections::BTreeSet, ops::ControlFlow, sync::Arc};
use tokio::sync::{
    broadcast::{self, error::RecvError},
    mpsc,
};
use tokio_stream::wrappers::ReceiverStream;
use tonic::{Code, Status};
use tonic_types::StatusExt;

/// Messages on their way to one watcher.
const OUTBOX: usize = 16;

/// What a watcher receives.
pub type Watched = ReceiverStream<Result<WatchPredictionsResponse, Status>>;

impl Desk {
    /// Starts a watcher.
    ///
    /// # Errors
    /// `NOT_FOUND` when a target does not exist, `RESOURCE_EXHAUSTED` beyond a limit.
    pub async fn watch(&self, targets: Targets) -> Result<Watched, Status> {
        let limit = self.hub.limits.targets;
        if targets.components.len() + targets.units.len() > limit {
            return Err(errors::too_large("targets", limit as u64, "targets"));
        }
        let place = self.hub.watchers.take()?;
        let (desk, named) = (self.clone(), targets.clone());
        let checked = self
            .bulk
            .run_with(&self.ticket, move || desk.check(&named))
            .await?;
        checked.map_err(|error| errors::from_ledger(&error))?;
        let (outbox, stream) = mpsc::channel(OUTBOX);
        let watcher = Watcher {
            // Before the first look, so that no change falls between.
            updates: self.hub.updates.subscribe(),
            interest: Registered::new(&self.hub, targets),
            desk: self.clone(),
            outbox,
            sent: BTreeSet::new(),
            _place: place,
        };
        tokio::spawn(watcher.run());
        Ok(ReceiverStream::new(stream))
    }

    /// Blocks.
    fn check(&self, targets: &Targets) -> Result<(), LedgerError> {
        for unit in &targets.units {
            worker::unit_exists(&self.ledger, unit)?;
        }
        for component in &targets.components {
            self.ledger.get_component(component)?;
        }
        Ok(())
    }

    /// Everything watched now. Blocks.
    fn watched(&self, targets: &Targets) -> Result<Vec<ComponentName>, LedgerError> {
        if targets.everything() {
            return worker::installed(&self.ledger, Place::Anywhere);
        }
        let mut names = targets.components.clone();
        for unit in &targets.units {
            names.extend(worker::installed(&self.ledger, Place::Unit(unit.clone()))?);
        }
        Ok(names.into_iter().collect())
    }
}

/// Targets counted among the interests for as long as the watcher lives.
struct Registered {
    hub: Arc<WatchHub>,
    targets: Targets,
}

impl Registered {
    fn new(hub: &Arc<WatchHub>, targets: Targets) -> Self {
        hub.interest.add(&targets);
        Self {
            hub: Arc::clone(hub),
            targets,
        }
    }
}

impl Drop for Registered {
    fn drop(&mut self) {
        self.hub.interest.remove(&self.targets);
    }
}

struct Watcher {
    desk: Desk,
    interest: Registered,
    updates: broadcast::Receiver<Arc<Update>>,
    outbox: mpsc::Sender<Result<WatchPredictionsResponse, Status>>,
    /// What this watcher has been told of.
    sent: BTreeSet<ComponentName>,
    _place: Ticket,
}

/// The watcher is gone, or has been sent its last message.
type Flow = ControlFlow<()>;

impl Watcher {
    /// Until the client goes away or the server drains. Then all that it held is dropped.
    async fn run(mut self) {
        let outbox = self.outbox.clone();
        let draining = self.desk.draining.clone();
        tokio::select! {
            () = outbox.closed() => {}
            () = draining.cancelled() => {
                tokio::select! {
                    // Whether it arrives or not, this watcher is at its end.
                    _ = outbox.send(Err(errors::draining())) => {}
                    () = outbox.closed() => {}
                }
            }
            _ = self.serve() => {}
        }
    }

    async fn serve(&mut self) -> Flow {
        loop {
            self.send_everything().await?;
            self.send(Change::CaughtUp(CaughtUp {})).await?;
            self.follow().await?;
            self.send(Change::Resync(Resync {})).await?;
            // What piled up is older than what is sent now.
            self.updates = self.updates.resubscribe();
        }
    }

    async fn send_everything(&mut self) -> Flow {
        let (desk, targets) = (self.desk.clone(), self.interest.targets.clone());
        let listed = self
            .desk
            .bulk
            .run_with(&self.desk.ticket, move || desk.watched(&targets))
            .await;
        let components = match listed {
            Ok(Ok(components)) => components,
            Ok(Err(error)) => return self.end(errors::from_ledger(&error)).await,
            Err(status) => return self.end(status).await,
        };
        for slice in components.chunks(worker::SLICE) {
            for update in self.desk.predict(slice).await {
                self.forward(&update).await?;
            }
        }
        ControlFlow::Continue(())
    }

    /// Sends changes as they come; returns when some were lost.
    async fn follow(&mut self) -> Flow {
        loop {
            match self.updates.recv().await {
                Ok(update) => self.forward(&update).await?,
                Err(RecvError::Lagged(_)) => return ControlFlow::Continue(()),
                Err(RecvError::Closed) => return ControlFlow::Break(()),
            }
        }
    }

    async fn forward(&mut self, update: &Update) -> Flow {
        if self.interest.targets.cover(update) {
            self.sent.insert(update.component.clone());
            return self.send(update.change.clone()).await;
        }
        if self.sent.remove(&update.component) {
            let change = refusal(&update.component, &taken_out(&update.component));
            return self.send(change).await;
        }
        ControlFlow::Continue(())
    }

    async fn send(&self, change: Change) -> Flow {
        let message = WatchPredictionsResponse {
            change: Some(change),
        };
        match self.outbox.send(Ok(message)).await {
            Ok(()) => ControlFlow::Continue(()),
            Err(_) => ControlFlow::Break(()),
        }
    }

    async fn end(&self, status: Status) -> Flow {
        // Whether it arrives or not, this watcher is at its end.
        let _ = self.outbox.send(Err(status)).await;
        ControlFlow::Break(())
    }
}

/// A component that is no longer where the watcher looks.
fn taken_out(component: &ComponentName) -> Status {
    let text = format!("{component} is no longer installed in what is watched");
    let mut details = errors::reason("NOT_INSTALLED");
    details.add_precondition_failure_violation("NOT_INSTALLED", component.to_string(), &text);
    Status::with_error_details(Code::FailedPrecondition, text, details)
}
