//! Group commit: the commits that wait while one group is written become the next group, which is
//! checked, applied and made durable at one cost.

use crate::{Batch, StoreError, Table};
use std::{
    collections::{BTreeMap, VecDeque},
    panic::{AssertUnwindSafe, catch_unwind},
    sync::{
        Arc, Condvar, Mutex, MutexGuard, PoisonError,
        mpsc::{SyncSender, sync_channel},
    },
    thread::JoinHandle,
};

/// A group is full with this many commits,
const MAX_GROUP_COMMITS: usize = 1024;

/// or when its values reach this size.
const MAX_GROUP_BYTES: usize = 16 << 20;

/// The last write to each row.
pub(super) type Writes<'a> = BTreeMap<(Table, &'a [u8]), Option<&'a [u8]>>;

/// What the writer writes to. It has one owner, so what it reads stays until it applies.
pub(super) trait Log: Send + 'static {
    /// The value that a reader sees now.
    fn get(&self, table: Table, key: &[u8]) -> Result<Option<Vec<u8>>, StoreError>;

    /// Makes writes visible, all or none, also across a crash.
    fn apply(&mut self, writes: &Writes<'_>) -> Result<(), String>;

    /// Makes durable all that was applied.
    fn flush(&mut self) -> Result<(), String>;
}

/// A commit that waits for its answer.
struct Pending {
    batch: Batch,
    answer: SyncSender<Result<(), StoreError>>,
}

impl Pending {
    /// Gives the answer, unless there is one already.
    fn answer(&self, outcome: Result<(), StoreError>) {
        // The first answer fills the channel, and whoever waits takes only one.
        let _first = self.answer.try_send(outcome);
    }

    fn bytes(&self) -> usize {
        self.batch
            .writes
            .iter()
            .map(|write| write.value.as_ref().map_or(0, Vec::len))
            .sum()
    }
}

#[derive(Default)]
struct State {
    waiting: VecDeque<Pending>,
    /// Something is visible, or soon will be, that is not yet durable.
    unflushed: bool,
    /// Why nothing more is acknowledged, once the log has failed.
    failed: Option<String>,
    stopping: bool,
}

#[derive(Default)]
struct Shared {
    state: Mutex<State>,
    changed: Condvar,
}

impl Shared {
    // No change to the state can panic half-way.
    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Waits for commits; `None` when there will be none.
    fn next_group(&self) -> Option<Vec<Pending>> {
        let mut state = self.state();
        while state.waiting.is_empty() {
            if state.stopping {
                return None;
            }
            state = self
                .changed
                .wait(state)
                .unwrap_or_else(PoisonError::into_inner);
        }
        let mut group = Vec::new();
        let mut bytes = 0;
        while group.len() < MAX_GROUP_COMMITS && bytes < MAX_GROUP_BYTES {
            let Some(pending) = state.waiting.pop_front() else {
                break;
            };
            bytes += pending.bytes();
            group.push(pending);
        }
        Some(group)
    }

    /// Gives the reason to a group and to everyone who waits, now and from now on.
    fn fail(&self, group: &[Pending], reason: &str) {
        let reason = format!("{reason}; nothing is acknowledged until the store is opened again");
        let mut state = self.state();
        for pending in group.iter().chain(&state.waiting) {
            pending.answer(Err(StoreError::Engine(reason.clone())));
        }
        state.waiting.clear();
        state.failed = Some(reason);
    }
}

/// The thread that writes.
pub(super) struct Writer {
    shared: Arc<Shared>,
    thread: Option<JoinHandle<()>>,
}

impl Writer {
    /// Starts the thread; all that the log has applied must be durable.
    pub(super) fn start(log: impl Log) -> std::io::Result<Self> {
        let shared = Arc::new(Shared::default());
        let thread = std::thread::Builder::new()
            .name("store-writer".into())
            .spawn({
                let shared = Arc::clone(&shared);
                move || run(&shared, log)
            })?;
        Ok(Self {
            shared,
            thread: Some(thread),
        })
    }

    /// Commits a batch in the next group. See [`Store::commit`](crate::Store::commit).
    pub(super) fn commit(&self, batch: &Batch) -> Result<(), StoreError> {
        let (answer, answered) = sync_channel(1);
        let pending = Pending {
            batch: batch.clone(),
            answer,
        };
        let mut state = self.shared.state();
        if let Some(reason) = &state.failed {
            return Err(StoreError::Engine(reason.clone()));
        }
        if !state.unflushed && *batch == Batch::default() {
            return Ok(());
        }
        state.waiting.push_back(pending);
        drop(state);
        self.shared.changed.notify_one();
        answered
            .recv()
            .unwrap_or_else(|_| Err(StoreError::Engine("the writer has ended".into())))
    }
}

impl Drop for Writer {
    fn drop(&mut self) {
        self.shared.state().stopping = true;
        self.shared.changed.notify_one();
        if let Some(thread) = self.thread.take() {
            // The thread catches the panics of the log, so it has nothing to say here.
            let _ended = thread.join();
        }
    }
}

fn run(shared: &Shared, mut log: impl Log) {
    while let Some(group) = shared.next_group() {
        let written = catch_unwind(AssertUnwindSafe(|| write(shared, &mut log, &group)))
            .unwrap_or_else(|_| Err("the engine panicked".into()));
        if let Err(reason) = written {
            // No second attempt: the kernel reports a lost write once, and then calls it written.
            return shared.fail(&group, &reason);
        }
    }
}

/// Writes a group and answers its commits.
fn write(shared: &Shared, log: &mut impl Log, group: &[Pending]) -> Result<(), String> {
    let mut writes = Writes::new();
    let mut accepted = Vec::new();
    for pending in group {
        match check(log, &writes, &pending.batch) {
            Ok(()) => accepted.push(pending),
            Err(error) => {
                pending.answer(Err(error));
                continue;
            }
        }
        let batch = pending.batch.writes.iter();
        writes.extend(batch.map(|w| ((w.table, w.key.as_slice()), w.value.as_deref())));
    }
    if !writes.is_empty() {
        shared.state().unflushed = true;
        log.apply(&writes)?;
        log.flush()?;
        shared.state().unflushed = false;
    }
    for pending in accepted {
        pending.answer(Ok(()));
    }
    Ok(())
}

/// Checks expectations against the log and the commits before this one in its group.
fn check(log: &impl Log, before: &Writes<'_>, batch: &Batch) -> Result<(), StoreError> {
    for expectation in &batch.expectations {
        let (table, key) = (expectation.table, expectation.key.as_slice());
        let holds = match before.get(&(table, key)) {
            Some(value) => *value == expectation.value.as_deref(),
            None => log.get(table, key)? == expectation.value,
        };
        if !holds {
            return Err(StoreError::Conflict {
                table,
                key: key.to_vec(),
            });
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::mpsc::{self, Receiver, Sender};

    /// A log in memory whose flushes the test allows, one outcome each.
    struct Scripted {
        rows: BTreeMap<(Table, Vec<u8>), Vec<u8>>,
        began: Sender<usize>,
        outcomes: Receiver<Result<(), String>>,
        writes: usize,
    }

    impl Log for Scripted {
        fn get(&self, table: Table, key: &[u8]) -> Result<Option<Vec<u8>>, StoreError> {
            Ok(self.rows.get(&(table, key.to_vec())).cloned())
        }

        fn apply(&mut self, writes: &Writes<'_>) -> Result<(), String> {
            self.writes = writes.len();
            for (&(table, key), value) in writes {
                let value = value.ok_or("the test deletes nothing")?;
                self.rows.insert((table, key.to_vec()), value.to_vec());
            }
            Ok(())
        }

        fn flush(&mut self) -> Result<(), String> {
            self.began.send(self.writes).map_err(|e| e.to_string())?;
            self.outcomes.recv().expect("a panic of the engine")
        }
    }

    struct Script {
        writer: Writer,
        began: Receiver<usize>,
        outcomes: Sender<Result<(), String>>,
    }

    fn script() -> Script {
        let (began, is_begun) = mpsc::channel();
        let (allow, outcomes) = mpsc::channel();
        let log = Scripted {
            rows: BTreeMap::new(),
            began,
            outcomes,
            writes: 0,
        };
        Script {
            writer: Writer::start(log).unwrap(),
            began: is_begun,
            outcomes: allow,
        }
    }

    fn put(key: &str) -> Batch {
        Batch::new().put(Table::Duty, key, "v")
    }

    /// Returns when this many commits wait behind the group that is being written.
    fn until_waiting(writer: &Writer, commits: usize) {
        while writer.shared.state().waiting.len() < commits {
            std::thread::yield_now();
        }
    }

    #[test]
    fn commits_during_a_flush_share_the_next_one_and_see_each_other() {
        let Script {
            writer,
            began,
            outcomes,
        } = script();
        let writer = &writer;
        std::thread::scope(|scope| {
            let first = scope.spawn(|| writer.commit(&put("a")));
            assert_eq!(began.recv(), Ok(1));
            let second = scope.spawn(|| writer.commit(&put("b")));
            until_waiting(writer, 1);
            let third =
                scope.spawn(|| writer.commit(&put("c").expect_value(Table::Duty, "b", "v")));
            until_waiting(writer, 2);
            let refused = scope.spawn(|| writer.commit(&put("d").expect_absent(Table::Duty, "b")));
            until_waiting(writer, 3);
            outcomes.send(Ok(())).unwrap();
            first.join().unwrap().unwrap();
            // "b" and "c" in one flush, without "d".
            assert_eq!(began.recv(), Ok(2));
            assert!(matches!(
                refused.join().unwrap(),
                Err(StoreError::Conflict { .. })
            ));
            outcomes.send(Ok(())).unwrap();
            second.join().unwrap().unwrap();
            third.join().unwrap().unwrap();
        });
    }

    #[test]
    fn an_empty_batch_waits_for_what_is_visible_and_else_for_nothing() {
        let Script {
            writer,
            began,
            outcomes,
        } = script();
        writer.commit(&Batch::new()).unwrap();
        let writer = &writer;
        std::thread::scope(|scope| {
            let visible = scope.spawn(|| writer.commit(&put("a")));
            assert_eq!(began.recv(), Ok(1));
            let barrier = scope.spawn(|| writer.commit(&Batch::new()));
            until_waiting(writer, 1);
            assert!(!barrier.is_finished());
            outcomes.send(Ok(())).unwrap();
            barrier.join().unwrap().unwrap();
            visible.join().unwrap().unwrap();
        });
    }

    #[test]
    fn a_failed_flush_reaches_every_waiter_and_everyone_after() {
        let Script {
            writer,
            began,
            outcomes,
        } = script();
        let writer = &writer;
        std::thread::scope(|scope| {
            let first = scope.spawn(|| writer.commit(&put("a")));
            assert_eq!(began.recv(), Ok(1));
            let waiting: Vec<_> = (0..4)
                .map(|n| scope.spawn(move || writer.commit(&put(&n.to_string()))))
                .collect();
            until_waiting(writer, 4);
            outcomes.send(Err("disk gone".into())).unwrap();
            // A second flush would succeed, and must not be tried: the writer may have gone already.
            let _untried = outcomes.send(Ok(()));
            for thread in waiting.into_iter().chain([first]) {
                let error = thread.join().unwrap().unwrap_err().to_string();
                assert!(error.contains("disk gone"), "{error}");
            }
        });
        assert!(
            writer
                .commit(&put("z"))
                .unwrap_err()
                .to_string()
                .contains("disk gone")
        );
        assert!(writer.commit(&Batch::new()).is_err());
        assert!(began.try_recv().is_err());
    }

    #[test]
    fn a_panic_of_the_engine_is_an_error_to_the_waiter() {
        let Script {
            writer,
            began: _open,
            outcomes,
        } = script();
        drop(outcomes);
        assert!(
            writer
                .commit(&put("a"))
                .unwrap_err()
                .to_string()
                .contains("panicked")
        );
        assert!(writer.commit(&put("b")).is_err());
    }
}
