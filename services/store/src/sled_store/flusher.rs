//! Group commit: one flush makes durable all that was applied before it began.

use crate::StoreError;
use std::{
    panic::{AssertUnwindSafe, catch_unwind},
    sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError},
    thread::JoinHandle,
};

/// Makes all commits up to a number durable, or says why it could not.
pub(super) type Flush = Box<dyn FnMut(u64) -> Result<(), String> + Send>;

/// How far commits have come. `durable <= applied` always.
#[derive(Debug)]
struct Progress {
    applied: u64,
    durable: u64,
    /// Why nothing more is acknowledged, once a flush or a write has failed.
    failed: Option<String>,
    stopping: bool,
}

#[derive(Debug)]
struct Shared {
    progress: Mutex<Progress>,
    changed: Condvar,
}

impl Shared {
    // Every change to the progress is one assignment, so a panic cannot leave it half-made.
    fn progress(&self) -> MutexGuard<'_, Progress> {
        self.progress.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn wait<'a>(&self, progress: MutexGuard<'a, Progress>) -> MutexGuard<'a, Progress> {
        self.changed
            .wait(progress)
            .unwrap_or_else(PoisonError::into_inner)
    }
}

/// The thread that flushes, and the commits that wait for it.
#[derive(Debug)]
pub(super) struct Flusher {
    shared: Arc<Shared>,
    thread: Option<JoinHandle<()>>,
}

impl Flusher {
    /// Starts with all commits up to `durable` on disk.
    pub(super) fn start(durable: u64, flush: Flush) -> std::io::Result<Self> {
        let progress = Progress {
            applied: durable,
            durable,
            failed: None,
            stopping: false,
        };
        let shared = Arc::new(Shared {
            progress: Mutex::new(progress),
            changed: Condvar::new(),
        });
        let thread = std::thread::Builder::new()
            .name("store-flush".into())
            .spawn({
                let shared = Arc::clone(&shared);
                move || run(&shared, flush)
            })?;
        Ok(Self {
            shared,
            thread: Some(thread),
        })
    }

    /// The number of the newest commit that is visible. Durable after [`Self::wait`].
    pub(super) fn newest(&self) -> u64 {
        self.shared.progress().applied
    }

    /// Counts a commit that is now visible and gives its number. The caller holds the lock that makes
    /// it visible, so that whoever sees a commit also sees its number.
    pub(super) fn applied(&self) -> u64 {
        let mut progress = self.shared.progress();
        progress.applied += 1;
        let number = progress.applied;
        drop(progress);
        self.shared.changed.notify_all();
        number
    }

    /// Returns once the commit of this number is on disk.
    pub(super) fn wait(&self, number: u64) -> Result<(), StoreError> {
        let mut progress = self.shared.progress();
        loop {
            if progress.durable >= number {
                return Ok(());
            }
            if let Some(reason) = &progress.failed {
                return Err(StoreError::Engine(reason.clone()));
            }
            progress = self.shared.wait(progress);
        }
    }

    /// Refuses when an earlier failure means that nothing more can be acknowledged.
    pub(super) fn check(&self) -> Result<(), StoreError> {
        match &self.shared.progress().failed {
            Some(reason) => Err(StoreError::Engine(reason.clone())),
            None => Ok(()),
        }
    }

    /// Stops acknowledging and gives every waiter the reason; the first reason stays.
    pub(super) fn fail(&self, reason: &str) -> StoreError {
        fail(&self.shared, reason)
    }
}

impl Drop for Flusher {
    fn drop(&mut self) {
        self.shared.progress().stopping = true;
        self.shared.changed.notify_all();
        if let Some(thread) = self.thread.take() {
            // The thread catches the panics of the engine, so it has nothing to say here.
            let _ended = thread.join();
        }
    }
}

fn fail(shared: &Shared, reason: &str) -> StoreError {
    let mut progress = shared.progress();
    let reason = progress.failed.get_or_insert_with(|| {
        format!("{reason}; nothing more is acknowledged until the store is opened again")
    });
    let error = StoreError::Engine(reason.clone());
    drop(progress);
    shared.changed.notify_all();
    error
}

/// Flushes whenever something is applied and not yet durable; on stopping, once more and ends.
fn run(shared: &Shared, mut flush: Flush) {
    while let Some(target) = next_target(shared) {
        let result = catch_unwind(AssertUnwindSafe(|| flush(target)))
            .unwrap_or_else(|_| Err("the engine panicked during a flush".into()));
        match result {
            Ok(()) => {
                shared.progress().durable = target;
                shared.changed.notify_all();
            }
            Err(reason) => {
                fail(shared, &reason);
            }
        }
    }
}

/// Waits for work; `None` when there will be none.
fn next_target(shared: &Shared) -> Option<u64> {
    let mut progress = shared.progress();
    loop {
        if progress.failed.is_some() {
            return None;
        }
        if progress.applied > progress.durable {
            return Some(progress.applied);
        }
        if progress.stopping {
            return None;
        }
        progress = shared.wait(progress);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::mpsc;

    fn start(flush: Flush) -> Flusher {
        Flusher::start(10, flush).unwrap_or_else(|e| unreachable!("no thread: {e}"))
    }

    #[test]
    fn commits_during_a_flush_share_the_next_one() {
        let (begun, is_begun) = mpsc::channel();
        let (go, may_go) = mpsc::channel();
        let flusher = start(Box::new(move |target| {
            begun.send(target).map_err(|e| e.to_string())?;
            may_go.recv().map_err(|e| e.to_string())
        }));
        let first = flusher.applied();
        assert_eq!(is_begun.recv(), Ok(11));
        let second = flusher.applied();
        let third = flusher.applied();
        assert!(go.send(()).is_ok());
        assert!(flusher.wait(first).is_ok());
        assert_eq!(is_begun.recv(), Ok(13));
        assert!(go.send(()).is_ok());
        assert!(flusher.wait(second).is_ok() && flusher.wait(third).is_ok());
    }

    #[test]
    fn a_failed_flush_reaches_every_waiter_and_everyone_after() {
        let mut flushes = 0;
        let flusher = start(Box::new(move |_| {
            flushes += 1;
            if flushes == 1 {
                Err("disk gone".into())
            } else {
                Ok(())
            }
        }));
        let number = flusher.applied();
        std::thread::scope(|scope| {
            for _ in 0..4 {
                scope.spawn(|| {
                    let error = flusher.wait(number).map_err(|e| e.to_string());
                    assert!(error.is_err_and(|text| text.contains("disk gone")));
                });
            }
        });
        assert!(flusher.check().is_err());
        // A later flush would succeed; it must not be tried: the kernel reports a lost write once.
        assert!(flusher.wait(flusher.applied()).is_err());
        // What was durable before stays so.
        assert!(flusher.wait(10).is_ok());
    }

    #[test]
    fn a_panic_of_the_engine_is_an_error_to_the_waiter() {
        let flusher = start(Box::new(|_| unreachable!("as an engine might")));
        assert!(flusher.wait(flusher.applied()).is_err());
    }

    #[test]
    fn dropping_flushes_what_is_left() {
        let (flushed, is_flushed) = mpsc::channel();
        let flusher = start(Box::new(move |target| {
            flushed.send(target).map_err(|e| e.to_string())
        }));
        flusher.applied();
        flusher.applied();
        drop(flusher);
        assert_eq!(is_flushed.try_iter().last(), Some(12));
    }
}
