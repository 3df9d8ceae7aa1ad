//! How a row lies in the engine: small values in place, large ones in pieces.
//!
//! The engine writes a page above 128 KiB to a file of its own and never syncs that file. A page
//! holds about 17 rows, so values are kept to pieces small enough that no page grows so large.

use super::{tally::Changes, writer::Writes};
use crate::{StoreError, Table, VALUE_CEILING_BYTES, keys};
use sled::{IVec, Tree};

/// The largest part of a value in one row of the engine.
const PIECE_BYTES: usize = 4096;

/// Where the pieces of a table's values are: after all tables.
const PIECES: u8 = 0x80;

/// First byte of a value kept in place.
const IN_PLACE: u8 = 0;

/// First byte of a value kept in pieces; their number follows.
const IN_PIECES: u8 = 1;

/// The key of a piece. All pieces of a key follow each other in order, and no other key's are
/// between them or the same, since the number has a fixed width.
fn piece_key(table: Table, key: &[u8], piece: u32) -> Vec<u8> {
    let mut flat = keys::flat(table, key);
    if let Some(first) = flat.first_mut() {
        *first |= PIECES;
    }
    flat.extend_from_slice(&piece.to_be_bytes());
    flat
}

/// The value of a key.
pub(super) fn get(tree: &Tree, table: Table, key: &[u8]) -> Result<Option<Vec<u8>>, StoreError> {
    let stored = tree.get(keys::flat(table, key)).map_err(failed)?;
    stored
        .map(|stored| whole(tree, table, key, &stored))
        .transpose()
}

/// A row as its reader sees it, from the engine's row.
pub(super) fn row(
    tree: &Tree,
    table: Table,
    (flat, stored): &(IVec, IVec),
) -> Result<(Vec<u8>, Vec<u8>), StoreError> {
    let key: Vec<u8> = flat.iter().skip(1).copied().collect();
    let value = whole(tree, table, &key, stored)?;
    Ok((key, value))
}

fn whole(tree: &Tree, table: Table, key: &[u8], stored: &IVec) -> Result<Vec<u8>, StoreError> {
    if let Some((&IN_PLACE, value)) = stored.split_first() {
        return Ok(value.to_vec());
    }
    let pieces = count(stored).ok_or_else(|| broken(table, key, "its first byte is unknown"))?;
    if pieces as usize > VALUE_CEILING_BYTES / PIECE_BYTES {
        return Err(broken(table, key, "it is said to be larger than any value"));
    }
    let mut value = Vec::with_capacity(pieces as usize * PIECE_BYTES);
    for piece in 0..pieces {
        let part = tree.get(piece_key(table, key, piece)).map_err(failed)?;
        let part = part.ok_or_else(|| broken(table, key, "a piece of it is missing"))?;
        value.extend_from_slice(&part);
    }
    Ok(value)
}

/// The number of pieces of a stored value; `None` if it is in place.
fn count(stored: &[u8]) -> Option<u32> {
    match stored.split_first() {
        Some((&IN_PIECES, number)) => number.try_into().ok().map(u32::from_be_bytes),
        _ => None,
    }
}

/// Adds the engine's changes for these writes.
pub(super) fn change(changes: &mut Changes<'_>, writes: &Writes<'_>) -> sled::Result<()> {
    for (&(table, key), &value) in writes {
        let flat = keys::flat(table, key);
        let before = changes.before(&flat)?;
        let pieces_before = before.as_deref().and_then(count).unwrap_or(0);
        let pieces = match value {
            Some(value) if value.len() <= PIECE_BYTES => {
                changes.insert(flat, tagged(IN_PLACE, value))?;
                0
            }
            Some(value) => {
                let parts = (0_u32..).zip(value.chunks(PIECE_BYTES));
                let pieces = value.len().div_ceil(PIECE_BYTES) as u32;
                for (piece, part) in parts {
                    changes.insert(piece_key(table, key, piece), part)?;
                }
                changes.insert(flat, tagged(IN_PIECES, &pieces.to_be_bytes()))?;
                pieces
            }
            None => {
                changes.remove(flat)?;
                0
            }
        };
        for piece in pieces..pieces_before {
            changes.remove(piece_key(table, key, piece))?;
        }
    }
    Ok(())
}

fn tagged(tag: u8, bytes: &[u8]) -> Vec<u8> {
    let mut tagged = Vec::with_capacity(1 + bytes.len());
    tagged.push(tag);
    tagged.extend_from_slice(bytes);
    tagged
}

/// An error of the engine.
#[allow(
    clippy::needless_pass_by_value,
    reason = "so that it can be given to map_err by name"
)]
pub(super) fn failed(error: sled::Error) -> StoreError {
    StoreError::Engine(error.to_string())
}

fn broken(table: Table, key: &[u8], how: &str) -> StoreError {
    StoreError::Engine(format!(
        "the row {} in {table:?} is damaged: {how}; restore the folder from a backup",
        key.escape_ascii()
    ))
}
