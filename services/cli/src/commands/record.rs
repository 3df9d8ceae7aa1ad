//! Sends a log: from a file, in pieces, never half of it.

use super::Session;
use crate::{CliError, out::byte_progress};
use ringland_proto::v1::{
    DutyHeader, RecordDutyRequest, RecordDutyResponse, record_duty_request::Payload,
};
use sha2::{Digest, Sha256};
use std::{
    fs::File,
    io::{self, Read},
    path::Path,
};
use tokio::sync::{mpsc, oneshot};
use tokio_stream::wrappers::ReceiverStream;

/// Bytes in one message.
const PIECE: usize = 256 << 10;
/// Messages read ahead.
const AHEAD: usize = 4;

/// The request id that a log gets by itself: the same file for the same unit has the same id, so
/// that sending it twice changes nothing.
///
/// # Errors
/// When the file cannot be read.
pub(super) fn request_id_of(unit: &str, file: &Path) -> Result<String, CliError> {
    let failed = |source| CliError::File {
        path: file.to_path_buf(),
        source,
    };
    let mut digest = Sha256::new();
    digest.update(unit.as_bytes());
    digest.update([0]);
    let mut log = File::open(file).map_err(failed)?;
    let mut piece = vec![0; PIECE];
    loop {
        let length = log.read(&mut piece).map_err(failed)?;
        if length == 0 {
            break;
        }
        digest.update(piece.get(..length).unwrap_or_default());
    }
    let digest = digest.finalize();
    let digits = digest.iter().flat_map(|byte| [byte >> 4, byte & 15]);
    Ok(digits
        .filter_map(|digit| char::from_digit(digit.into(), 16))
        .collect())
}

/// Sends a header and a CSV file.
///
/// # Errors
/// When the file cannot be read to its end (then the call is cut and nothing is recorded), or the
/// server refuses.
pub(super) async fn send_csv(
    header: DutyHeader,
    file: &Path,
    session: &Session,
) -> Result<RecordDutyResponse, CliError> {
    let failed = |source| CliError::File {
        path: file.to_path_buf(),
        source,
    };
    let size = file.metadata().map_err(failed)?.len();
    let progress = byte_progress(size, "sending");
    let (messages, stream) = mpsc::channel(AHEAD);
    let (failure, failing) = oneshot::channel();
    let (path, bar) = (file.to_path_buf(), progress.clone());
    tokio::task::spawn_blocking(move || {
        // The sender lives on beside the error: the end of the stream would say that the log is whole.
        let read = read_into(&messages, header, &path, &|length| bar.inc(length));
        if let Err(error) = read {
            let _ = failure.send((error, messages)); // nobody listens once the server has refused
        }
    });
    let mut client = session.api.duty();
    let call = client.record_duty(ReceiverStream::new(stream));
    let answer = tokio::select! {
        answer = call => answer?.into_inner(),
        Ok((error, _messages)) = failing => return Err(error),
    };
    progress.finish_and_clear();
    Ok(answer)
}

/// Sends a header and a duty that is already reduced.
///
/// # Errors
/// When the server refuses.
pub(super) async fn send(
    header: DutyHeader,
    payload: Payload,
    session: &Session,
) -> Result<RecordDutyResponse, CliError> {
    let messages = [Payload::Header(header), payload].map(|payload| RecordDutyRequest {
        payload: Some(payload),
    });
    Ok(session
        .api
        .duty()
        .record_duty(tokio_stream::iter(messages))
        .await?
        .into_inner())
}

fn read_into(
    messages: &mpsc::Sender<RecordDutyRequest>,
    header: DutyHeader,
    path: &Path,
    progress: &dyn Fn(u64),
) -> Result<(), CliError> {
    let failed = |source: io::Error| CliError::File {
        path: path.to_path_buf(),
        source,
    };
    let mut log = File::open(path).map_err(failed)?;
    let mut payload = Payload::Header(header);
    loop {
        if messages
            .blocking_send(RecordDutyRequest {
                payload: Some(payload),
            })
            .is_err()
        {
            return Ok(()); // the call is over; its answer says why
        }
        let mut piece = Vec::with_capacity(PIECE);
        log.by_ref()
            .take(PIECE as u64)
            .read_to_end(&mut piece)
            .map_err(failed)?;
        if piece.is_empty() {
            return Ok(());
        }
        progress(piece.len() as u64);
        payload = Payload::Csv(piece);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_id_depends_on_unit_and_content_only() {
        let folder = tempfile::tempdir().unwrap();
        let [one, other] = ["one.csv", "other.csv"].map(|name| folder.path().join(name));
        std::fs::write(&one, "t,rpm\n0,1000\n").unwrap();
        std::fs::copy(&one, &other).unwrap();
        let id = request_id_of("units/a", &one).unwrap();
        assert_eq!(id, request_id_of("units/a", &other).unwrap());
        assert_ne!(id, request_id_of("units/b", &one).unwrap());
        assert_eq!(id.len(), 64, "the longest request id that the server takes");
        assert!(request_id_of("units/a", Path::new("missing.csv")).is_err());
    }

    #[test]
    fn a_file_is_sent_whole_after_its_header() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("log.csv");
        let content: Vec<u8> = (0..PIECE * 2 + 17).map(|i| (i % 251) as u8).collect();
        std::fs::write(&path, &content).unwrap();
        let (sender, mut receiver) = mpsc::channel(16);
        read_into(&sender, DutyHeader::default(), &path, &|_| ()).unwrap();
        drop(sender);
        let first = receiver.blocking_recv().unwrap().payload;
        assert!(matches!(first, Some(Payload::Header(_))));
        let mut sent = Vec::new();
        while let Some(message) = receiver.blocking_recv() {
            let Some(Payload::Csv(piece)) = message.payload else {
                panic!("a piece")
            };
            sent.extend(piece);
        }
        assert_eq!(sent, content);
    }
}
