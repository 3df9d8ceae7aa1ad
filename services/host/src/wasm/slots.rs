//! How many calls run at a time.

use std::sync::{Condvar, Mutex, PoisonError};

/// Counts free instances of the pool; a caller waits until there is one.
pub(super) struct Slots {
    free: Mutex<u32>,
    freed: Condvar,
}

/// One instance of the pool, free again when dropped.
pub(super) struct Slot<'a>(&'a Slots);

impl Slots {
    pub(super) fn new(count: u32) -> Self {
        Self {
            free: Mutex::new(count),
            freed: Condvar::new(),
        }
    }

    pub(super) fn take(&self) -> Slot<'_> {
        let mut free = self.free.lock().unwrap_or_else(PoisonError::into_inner);
        while *free == 0 {
            free = self
                .freed
                .wait(free)
                .unwrap_or_else(PoisonError::into_inner);
        }
        *free -= 1;
        Slot(self)
    }
}

impl Drop for Slot<'_> {
    fn drop(&mut self) {
        *self.0.free.lock().unwrap_or_else(PoisonError::into_inner) += 1;
        self.0.freed.notify_one();
    }
}
