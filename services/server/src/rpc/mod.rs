//! The services, a file each: read the message, call the ledger in the right lane, answer.

mod builds;
mod comparisons;
mod components;
mod duty;
mod evidence;
mod inspections;
mod ledger;
mod models;
mod plans;
mod predictions;
mod running_in;
mod treatments;
mod units;

pub use builds::Builds;
pub use comparisons::Comparisons;
pub use components::Components;
pub use duty::Duties;
pub use evidence::Evidence;
pub use inspections::Inspections;
pub use ledger::Whole;
pub use models::Models;
pub use plans::Plans;
pub use predictions::Predictions;
pub use running_in::RunningIn;
pub use treatments::Treatments;
pub use units::Units;

use crate::{
    convert::Fields,
    errors,
    lanes::{Lane, Lanes, Ticket, Tickets},
    settings::{Limits, Settings},
    watch::Desk,
};
use ringland_ledger::{Ledger, LedgerError, PageRequest};
use std::{path::PathBuf, sync::Arc, time::Instant};
use tonic::{Request, Response, Status};

/// Page size where a call gives none.
const USUAL_PAGE: i32 = 100;

/// What every service works with.
#[derive(Clone)]
pub struct Front(Arc<Parts>);

struct Parts {
    ledger: Arc<Ledger>,
    lanes: Lanes,
    uploads: Tickets,
    desk: Desk,
    limits: Limits,
    plugin_bytes: usize,
    data_dir: PathBuf,
    begun: Instant,
}

impl Front {
    /// Around an open ledger.
    pub fn new(ledger: Arc<Ledger>, lanes: Lanes, desk: Desk, settings: &Settings) -> Self {
        let limits = settings.limits.clone();
        let uploads = Tickets::new("uploads", limits.uploads);
        let (data_dir, begun) = (settings.data_dir.clone(), Instant::now());
        let plugin_bytes = settings.host.plugin_bytes;
        let parts = Parts {
            ledger,
            lanes,
            uploads,
            desk,
            limits,
            plugin_bytes,
            data_dir,
            begun,
        };
        Self(Arc::new(parts))
    }

    /// Light work: a few rows.
    pub(crate) async fn light<T: Send + 'static>(
        &self,
        work: impl FnOnce(&Ledger) -> Result<T, LedgerError> + Send + 'static,
    ) -> Result<T, Status> {
        self.run(&self.0.lanes.light, work).await
    }

    /// Heavy work.
    async fn bulk<T: Send + 'static>(
        &self,
        work: impl FnOnce(&Ledger) -> Result<T, LedgerError> + Send + 'static,
    ) -> Result<T, Status> {
        self.run(&self.0.lanes.bulk, work).await
    }

    async fn run<T: Send + 'static>(
        &self,
        lane: &Lane,
        work: impl FnOnce(&Ledger) -> Result<T, LedgerError> + Send + 'static,
    ) -> Result<T, Status> {
        let ledger = Arc::clone(&self.0.ledger);
        answer(lane.run(move || work(&ledger)).await?)
    }

    /// Heavy work for an upload, apart from the ledger.
    pub(crate) async fn heavy_with<T: Send + 'static>(
        &self,
        ticket: &Ticket,
        work: impl FnOnce() -> Result<T, Status> + Send + 'static,
    ) -> Result<T, Status> {
        self.0.lanes.bulk.run_with(ticket, work).await?
    }

    /// Places for logs and plugins coming in.
    pub(crate) fn uploads(&self) -> &Tickets {
        &self.0.uploads
    }

    /// Largest plugin.
    fn plugin_bytes(&self) -> usize {
        self.0.plugin_bytes
    }

    /// Limits on calls.
    pub(crate) fn limits(&self) -> &Limits {
        &self.0.limits
    }

    /// Heavy work at the end of an upload.
    pub(crate) async fn bulk_with<T: Send + 'static>(
        &self,
        ticket: &Ticket,
        work: impl FnOnce(&Ledger) -> Result<T, LedgerError> + Send + 'static,
    ) -> Result<T, Status> {
        let ledger = Arc::clone(&self.0.ledger);
        answer(
            self.0
                .lanes
                .bulk
                .run_with(ticket, move || work(&ledger))
                .await?,
        )
    }

    /// The page asked for, no larger than the server gives. What is out of range is for the ledger
    /// to refuse.
    fn page(&self, page_size: i32, page_token: String) -> PageRequest {
        let largest = i32::try_from(self.0.limits.page_size).unwrap_or(i32::MAX);
        let page_size = match page_size {
            0 => USUAL_PAGE.min(largest),
            size @ 1..=1000 => size.min(largest),
            size => size,
        };
        PageRequest {
            page_size,
            page_token,
        }
    }
}

fn answer<T>(result: Result<T, LedgerError>) -> Result<T, Status> {
    result.map_err(|error| errors::from_ledger(&error))
}

/// The paths of an update's mask, which must be there: an update without one would change nothing
/// or everything, and which is a guess.
fn mask(fields: &mut Fields, mask: Option<prost_types::FieldMask>) -> Option<Vec<String>> {
    let paths = mask.map(|mask| mask.paths).unwrap_or_default();
    if paths.is_empty() {
        fields.refuse(
            "update_mask",
            "names no field; name those that change, or `*` for all",
        );
        return None;
    }
    Some(paths)
}

/// What a service method returns.
type Answer<T> = Result<Response<T>, Status>;

/// The message of a request.
fn message<T>(request: Request<T>) -> T {
    request.into_inner()
}
