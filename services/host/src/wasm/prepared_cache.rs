//! Prepared tables, kept by digest in memory and on disk.

use super::{Limits, sealed_files::SealedFiles};
use crate::contract::{Digest, ModelError, Prepared};
use quick_cache::{Weighter, sync::Cache};
use std::sync::Arc;

type Tables = Cache<Digest, Arc<Vec<f64>>, Bytes>;

/// Prepared tables by the digest of plugin and specimen.
pub(super) struct PreparedCache {
    memory: Tables,
    disk: SealedFiles,
}

#[derive(Clone)]
struct Bytes;

impl Weighter<Digest, Arc<Vec<f64>>> for Bytes {
    fn weight(&self, _: &Digest, table: &Arc<Vec<f64>>) -> u64 {
        (size_of_val(table.as_slice()) + ENTRY_BYTES) as u64
    }
}

/// What an entry takes beside its numbers, roughly.
const ENTRY_BYTES: usize = 128;

/// Size of a typical table, by which the cache plans its index.
const TYPICAL_TABLE_BYTES: u64 = 64 * 1024;

impl PreparedCache {
    pub(super) fn new(limits: &Limits, disk: SealedFiles) -> Self {
        let expected = limits.prepared_memory_bytes / TYPICAL_TABLE_BYTES;
        Self {
            memory: Cache::with_weighter(expected as usize, limits.prepared_memory_bytes, Bytes),
            disk,
        }
    }

    /// The table under a digest, from memory, from disk, or computed now and kept. Of several
    /// callers at once, one computes and the others wait for its answer; when it fails, the next
    /// one tries.
    pub(super) fn get_or_compute(
        &self,
        digest: Digest,
        compute: impl FnOnce() -> Result<Vec<f64>, ModelError>,
    ) -> Result<Prepared, ModelError> {
        let table = self.memory.get_or_insert_with(&digest, || {
            if let Some(table) = self.disk.read(digest).as_deref().and_then(from_bytes) {
                return Ok(Arc::new(table));
            }
            let table = compute()?;
            self.disk.write(digest, &to_bytes(&table));
            Ok(Arc::new(table))
        })?;
        Ok(Prepared { digest, table })
    }
}

fn to_bytes(table: &[f64]) -> Vec<u8> {
    table.iter().flat_map(|value| value.to_le_bytes()).collect()
}

fn from_bytes(bytes: &[u8]) -> Option<Vec<f64>> {
    let (values, rest) = bytes.as_chunks();
    rest.is_empty().then(|| {
        values
            .iter()
            .map(|&value| f64::from_le_bytes(value))
            .collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wasm::digests::of_bytes;
    use std::{
        sync::atomic::{AtomicU32, Ordering},
        thread,
    };

    fn cache(folder: &std::path::Path) -> PreparedCache {
        PreparedCache::new(
            &Limits::default(),
            SealedFiles::open(folder, 1 << 20).unwrap(),
        )
    }

    #[test]
    fn callers_at_once_compute_once_and_a_restart_not_at_all() {
        let folder = tempfile::tempdir().unwrap();
        let computed = AtomicU32::new(0);
        let digest = of_bytes(b"specimen");
        let compute = || {
            computed.fetch_add(1, Ordering::Relaxed);
            thread::sleep(std::time::Duration::from_millis(50));
            Ok(vec![1.5, -0.0])
        };
        let shared = cache(folder.path());
        thread::scope(|scope| {
            for _ in 0..8 {
                scope.spawn(|| shared.get_or_compute(digest, compute).unwrap());
            }
        });
        assert_eq!(computed.load(Ordering::Relaxed), 1);
        let again = cache(folder.path())
            .get_or_compute(digest, compute)
            .unwrap();
        assert_eq!(computed.load(Ordering::Relaxed), 1, "read from disk");
        let bits: Vec<u64> = again.table.iter().map(|value| value.to_bits()).collect();
        assert_eq!(bits, [1.5_f64.to_bits(), (-0.0_f64).to_bits()]);
    }

    #[test]
    fn a_failure_is_not_kept() {
        let folder = tempfile::tempdir().unwrap();
        let shared = cache(folder.path());
        let digest = of_bytes(b"specimen");
        let failed = shared.get_or_compute(digest, || Err(ModelError::Host("no".into())));
        assert!(failed.is_err());
        assert!(shared.get_or_compute(digest, || Ok(vec![1.0])).is_ok());
    }
}
