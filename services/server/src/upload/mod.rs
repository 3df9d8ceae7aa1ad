//! A log coming in: header first, then content piece by piece through intake, then one record or none.
//!
//! Nothing is kept of a log but the reduced duty so far and the pieces on their way to it, so memory
//! does not grow with the log. Reading, hashing and reducing are done on the bulk lane; between pieces the
//! log holds no thread. When the stream fails or the caller goes away, all of it is dropped.

mod content;
mod digest;
mod header;

use crate::{errors, rpc::Front};
use content::Upload;
use ringland_ledger::RecordDutyResponse;
use ringland_proto::v1::{RecordDutyRequest, record_duty_request::Payload};
use tonic::{Status, Streaming};

/// Content gathered before it goes to the lane: large enough that the way there costs little.
const BATCH_BYTES: usize = 256 << 10;
/// What a piece costs besides its content.
const PIECE_BYTES: usize = 64;

/// Receives a log and records it.
///
/// # Errors
/// `INVALID_ARGUMENT` with every offending field, `RESOURCE_EXHAUSTED` beyond a limit, what the
/// ledger refuses.
pub async fn record(
    front: &Front,
    mut messages: Streaming<RecordDutyRequest>,
) -> Result<RecordDutyResponse, Status> {
    let ticket = front.uploads().take()?;
    let first = messages.message().await?;
    let Some(Payload::Header(header)) = first.and_then(|message| message.payload) else {
        return Err(refused(
            "header",
            "is missing: the first message must carry it",
        ));
    };
    let session = header::read(&header)?;
    let name = session.unit.clone();
    let unit = front.light(move |ledger| ledger.get_unit(&name)).await?;
    let log_bytes = front.limits().log_bytes;
    let mut upload = Upload::new(header, session, &unit.shock_thresholds, log_bytes);

    let mut batch = Batch::default();
    while let Some(message) = messages.message().await? {
        let Some(payload) = message.payload else {
            return Err(refused("payload", "is empty; send csv, samples or reduced"));
        };
        batch.add(payload);
        if batch.bytes >= BATCH_BYTES {
            let pieces = std::mem::take(&mut batch).pieces;
            upload = front
                .heavy_with(&ticket, move || upload.take_all(pieces))
                .await?;
        }
    }
    let pieces = batch.pieces;
    let duty = front
        .heavy_with(&ticket, move || {
            upload.take_all(pieces).and_then(Upload::finish)
        })
        .await?;
    front
        .bulk_with(&ticket, move |ledger| ledger.record_duty(duty))
        .await
}

/// Pieces on their way to the lane.
#[derive(Default)]
struct Batch {
    pieces: Vec<Payload>,
    bytes: usize,
}

impl Batch {
    fn add(&mut self, payload: Payload) {
        self.bytes += PIECE_BYTES + content::bytes_of(&payload);
        self.pieces.push(payload);
    }
}

fn refused(field: &str, text: &str) -> Status {
    errors::invalid(vec![errors::violation(field, text)])
}
