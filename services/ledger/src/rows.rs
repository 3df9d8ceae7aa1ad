//! Rows as bytes: named maps, so that fields can be added, and their digests.

use crate::LedgerError;
use ringland_host::contract::Digest;
use serde::{Serialize, de::DeserializeOwned};
use sha2::{Digest as _, Sha256};

/// A row as it is stored.
pub(crate) fn encode<T: Serialize>(row: &T) -> Result<Vec<u8>, LedgerError> {
    rmp_serde::to_vec_named(row).map_err(|error| LedgerError::Internal {
        message: format!("a row cannot be written: {error}"),
    })
}

/// A stored row.
pub(crate) fn decode<T: DeserializeOwned>(bytes: &[u8]) -> Result<T, LedgerError> {
    rmp_serde::from_slice(bytes).map_err(|error| LedgerError::Internal {
        message: format!(
            "a stored {} cannot be read ({error}); it was written by a newer version or is damaged: restore the store from a backup",
            std::any::type_name::<T>()
        ),
    })
}

/// SHA-256 over parts, each with its length, so that no two lists of parts are alike.
pub(crate) fn digest_of(parts: &[&[u8]]) -> Digest {
    let mut hash = Sha256::new();
    for part in parts {
        hash.update((part.len() as u64).to_be_bytes());
        hash.update(part);
    }
    Digest(hash.finalize().into())
}

/// The etag of a row: it changes with every change of the row.
pub(crate) fn etag(row: &[u8]) -> String {
    digest_of(&[row]).to_string().chars().take(16).collect()
}
