//! The ledger as a whole.

use super::{Answer, Front, message};
use crate::{
    convert::{Fields, ledger as convert},
    disk,
};
use ringland_ledger::{ComponentName, RebuildProgress};
use ringland_proto::v1::{self as api, ledger_service_server::LedgerService};
use std::{ops::ControlFlow, time::Duration};
use tokio::{runtime::Handle, sync::mpsc};
use tokio_stream::wrappers::ReceiverStream;
use tonic::{Request, Response, Status};

/// Progress messages on their way.
const OUTBOX: usize = 16;
/// How long a client may leave them unread.
const PATIENCE: Duration = Duration::from_secs(10);

/// The service.
pub struct Whole(pub Front);

#[tonic::async_trait]
impl LedgerService for Whole {
    async fn get_ledger_status(
        &self,
        _request: Request<api::GetLedgerStatusRequest>,
    ) -> Answer<api::LedgerStatus> {
        let data_dir = self.0.0.data_dir.clone();
        let read = move |ledger: &ringland_ledger::Ledger| {
            Ok((ledger.status()?, disk::bytes_in(&data_dir)))
        };
        let (status, bytes_on_disk) = self.0.light(read).await?;
        let uptime = self.0.0.begun.elapsed();
        Ok(Response::new(convert::status_to_message(
            status,
            bytes_on_disk,
            uptime,
        )))
    }

    type RebuildConditionsStream = ReceiverStream<Result<api::RebuildConditionsResponse, Status>>;

    async fn rebuild_conditions(
        &self,
        request: Request<api::RebuildConditionsRequest>,
    ) -> Answer<Self::RebuildConditionsStream> {
        let mut fields = Fields::new();
        let component =
            fields.optional_name::<ComponentName>("component", &message(request).component);
        let component = fields.settle(component)?;
        // One that does not exist is refused before anything is dropped.
        if let Some(name) = component.clone() {
            self.0
                .light(move |ledger| ledger.get_component(&name))
                .await?;
        }
        let (outbox, stream) = mpsc::channel(OUTBOX);
        let front = self.0.clone();
        let runtime = Handle::current();
        tokio::spawn(async move {
            let progress = outbox.clone();
            let rebuild = move |ledger: &ringland_ledger::Ledger| {
                let mut report = |step| report(&runtime, &progress, step);
                ledger.rebuild_conditions(component.as_ref(), &mut report)
            };
            if let Err(status) = front.bulk(rebuild).await {
                // If the client is gone there is nobody to tell.
                let _ = outbox.send(Err(status)).await;
            }
        });
        Ok(Response::new(ReceiverStream::new(stream)))
    }
}

/// Sends a step from a thread of the lane. A client that went away, or that has not read for ten
/// seconds and so keeps the lane from other work, ends the rebuilding; it can be asked for again.
fn report(
    runtime: &Handle,
    outbox: &mpsc::Sender<Result<api::RebuildConditionsResponse, Status>>,
    step: RebuildProgress,
) -> ControlFlow<()> {
    let message = Ok(convert::progress_to_message(step));
    match runtime.block_on(outbox.send_timeout(message, PATIENCE)) {
        Ok(()) => ControlFlow::Continue(()),
        Err(_) => ControlFlow::Break(()),
    }
}
