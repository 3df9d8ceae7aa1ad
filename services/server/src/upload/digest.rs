//! The digest of a log: the same log cut into other pieces has the same digest.

use prost::Message;
use ringland_proto::v1 as api;
use sha2::{Digest, Sha256};

/// SHA-256 over, in this order: the domain text below, the header as protobuf with its request id
/// left out (length first, 8 bytes little-endian), the kind of content, and the content:
///
/// - CSV: its bytes;
/// - samples: row by row, the time and then the value of each column, as the 8 bytes of the double,
///   little-endian, every NaN as the same one;
/// - reduced: the message as protobuf.
///
/// The header is in it because it says how the content is to be read: the same bytes of another
/// unit or under another channel map are another log.
#[derive(Clone)]
pub struct ContentDigest(Sha256);

const DOMAIN: &[u8] = b"ringland.v1.RecordDuty\0";

/// What a log is sent as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Content {
    /// CSV bytes.
    Csv,
    /// Samples.
    Samples,
    /// Reduced duty.
    Reduced,
}

impl ContentDigest {
    /// Of a log with this header and kind of content.
    pub fn new(header: &api::DutyHeader, content: Content) -> Self {
        let plain = api::DutyHeader {
            request_id: String::new(),
            ..header.clone()
        };
        let header = plain.encode_to_vec();
        let mut hash = Sha256::new();
        hash.update(DOMAIN);
        hash.update((header.len() as u64).to_le_bytes());
        hash.update(header);
        hash.update([match content {
            Content::Csv => 1,
            Content::Samples => 2,
            Content::Reduced => 3,
        }]);
        Self(hash)
    }

    /// Adds CSV bytes.
    pub fn csv(&mut self, bytes: &[u8]) {
        self.0.update(bytes);
    }

    /// Adds samples whose columns are as long as the times.
    pub fn samples(&mut self, chunk: &api::SampleChunk) {
        for (row, time) in chunk.time_s.iter().enumerate() {
            self.number(*time);
            for column in &chunk.columns {
                self.number(column.values.get(row).copied().unwrap_or(f64::NAN));
            }
        }
    }

    /// Adds the reduced duty.
    pub fn reduced(&mut self, table: &api::DutyTable) {
        self.0.update(table.encode_to_vec());
    }

    fn number(&mut self, number: f64) {
        let number = if number.is_nan() { f64::NAN } else { number };
        self.0.update(number.to_le_bytes());
    }

    /// 64 hexadecimal digits.
    pub fn finish(self) -> String {
        ringland_host::contract::Digest(self.0.finalize().into()).to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn header() -> api::DutyHeader {
        api::DutyHeader {
            unit: "units/engine-a".into(),
            ..Default::default()
        }
    }

    fn chunk(rows: &[(f64, f64)]) -> api::SampleChunk {
        let values = rows.iter().map(|row| row.1).collect();
        api::SampleChunk {
            time_s: rows.iter().map(|row| row.0).collect(),
            columns: vec![api::Column { values }],
        }
    }

    proptest! {
        #[test]
        fn csv_may_be_cut_anywhere(bytes: Vec<u8>, cut: prop::sample::Index) {
            let cut = cut.index(bytes.len() + 1);
            let mut whole = ContentDigest::new(&header(), Content::Csv);
            whole.csv(&bytes);
            let mut pieces = ContentDigest::new(&header(), Content::Csv);
            pieces.csv(&bytes[..cut]);
            pieces.csv(&bytes[cut..]);
            prop_assert_eq!(whole.finish(), pieces.finish());
        }

        #[test]
        fn samples_may_be_cut_between_rows(
            rows: Vec<(f64, f64)>, cut: prop::sample::Index,
        ) {
            let cut = cut.index(rows.len() + 1);
            let mut whole = ContentDigest::new(&header(), Content::Samples);
            whole.samples(&chunk(&rows));
            let mut pieces = ContentDigest::new(&header(), Content::Samples);
            pieces.samples(&chunk(&rows[..cut]));
            pieces.samples(&chunk(&rows[cut..]));
            prop_assert_eq!(whole.finish(), pieces.finish());
        }
    }

    #[test]
    fn another_log_has_another_digest() {
        let csv = |header: &api::DutyHeader, bytes: &[u8]| {
            let mut digest = ContentDigest::new(header, Content::Csv);
            digest.csv(bytes);
            digest.finish()
        };
        let first = csv(&header(), b"time,rpm\n");
        assert_eq!(first.len(), 64);
        assert_ne!(first, csv(&header(), b"time,rpm\n0,1\n"));
        let elsewhere = api::DutyHeader {
            unit: "units/engine-b".into(),
            ..header()
        };
        assert_ne!(first, csv(&elsewhere, b"time,rpm\n"));
        let sent_again = api::DutyHeader {
            request_id: "again".into(),
            ..header()
        };
        assert_eq!(
            first,
            csv(&sent_again, b"time,rpm\n"),
            "the id is not part of the log"
        );
    }
}
