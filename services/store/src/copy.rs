//! All rows from one store to another.

use crate::{Batch, Store, StoreError, Table};

/// Rows in one commit of a copy.
const ROWS_PER_COMMIT: usize = 64;

/// Copies every row of every table and returns their number: to move to another engine, or to a
/// fresh folder that has no free parts in its log. Nothing may commit to `from` meanwhile; rows
/// that `to` already has stay, or are replaced when they have the same key.
///
/// # Errors
/// The first error of either store. What was copied before stays; run it again to complete it.
pub fn copy_rows(from: &dyn Store, to: &dyn Store) -> Result<u64, StoreError> {
    let mut copied = 0;
    for table in Table::ALL {
        let mut after: Option<Vec<u8>> = None;
        loop {
            let rows = from.scan(table, &[], after.as_deref(), ROWS_PER_COMMIT)?;
            let Some((last, _)) = rows.last() else { break };
            after = Some(last.clone());
            copied += rows.len() as u64;
            let batch = rows
                .into_iter()
                .fold(Batch::new(), |batch, (k, v)| batch.put(table, k, v));
            to.commit(&batch)?;
        }
    }
    Ok(copied)
}
