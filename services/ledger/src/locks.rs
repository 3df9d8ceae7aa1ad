//! Locks by name: a fixed number of them, so that any number of names fits.

use std::{
    hash::{DefaultHasher, Hash, Hasher},
    sync::{Mutex, MutexGuard, PoisonError},
};

const STRIPES: usize = 256;

/// Locks by name. Two names may share one, so take all that are needed at once.
pub(crate) struct Locks(Vec<Mutex<()>>);

impl Default for Locks {
    fn default() -> Self {
        Self(
            std::iter::repeat_with(Mutex::default)
                .take(STRIPES)
                .collect(),
        )
    }
}

impl Locks {
    /// Locks all of the names, in an order that cannot lock up.
    pub(crate) fn hold<T: Hash>(
        &self,
        names: impl IntoIterator<Item = T>,
    ) -> Vec<MutexGuard<'_, ()>> {
        let mut stripes: Vec<usize> = names
            .into_iter()
            .map(|name| {
                let mut hasher = DefaultHasher::new();
                name.hash(&mut hasher);
                hasher.finish() as usize % STRIPES
            })
            .collect();
        stripes.sort_unstable();
        stripes.dedup();
        stripes
            .into_iter()
            .filter_map(|stripe| self.0.get(stripe))
            // The lock guards no data: a panic elsewhere leaves nothing half-changed.
            .map(|lock| lock.lock().unwrap_or_else(PoisonError::into_inner))
            .collect()
    }
}
