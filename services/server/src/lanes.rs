//! Lanes: threads of their own for light calls and for heavy work, so that one cannot hold up
//! the other, and so that blocking work never sits on the threads that serve the network.

use crate::errors;
use std::{
    io,
    panic::{AssertUnwindSafe, catch_unwind},
    sync::{Arc, Mutex, PoisonError, mpsc},
    thread,
};
use tokio::sync::{OwnedSemaphorePermit, Semaphore, oneshot};
use tonic::Status;

type Job = Box<dyn FnOnce() + Send>;

/// The lanes.
#[derive(Clone)]
pub struct Lanes {
    /// Reads and writes of a few rows.
    pub light: Lane,
    /// Single predictions: quick once a component is prepared, slow the first time.
    pub predict: Lane,
    /// Logs, folding, batches, rebuilding, plugins being installed.
    pub bulk: Lane,
}

/// A fixed number of threads and a limited queue before them.
#[derive(Clone)]
pub struct Lane {
    name: &'static str,
    jobs: mpsc::Sender<Job>,
    /// One for each job that runs or waits. The channel itself has no limit; nothing enters it
    /// without a place here or a [`Ticket`].
    places: Arc<Semaphore>,
}

/// Leave to send one job after another to a lane without being refused midway. Whoever hands
/// tickets out limits how many there are, and with it what waits in the lane.
pub struct Ticket {
    /// Given back when the ticket is dropped.
    _place: Option<OwnedSemaphorePermit>,
}

impl Ticket {
    /// For one that is always there and sends one job at a time.
    pub fn standing() -> Self {
        Self { _place: None }
    }
}

/// A limited number of tickets.
#[derive(Clone)]
pub struct Tickets {
    what: &'static str,
    left: Arc<Semaphore>,
}

impl Tickets {
    /// Tickets for `what`, at most `count` at once.
    pub fn new(what: &'static str, count: usize) -> Self {
        Self {
            what,
            left: Arc::new(Semaphore::new(count)),
        }
    }

    /// One ticket; it is given back when dropped.
    ///
    /// # Errors
    /// `RESOURCE_EXHAUSTED` when all are out.
    pub fn take(&self) -> Result<Ticket, Status> {
        let ticket = Arc::clone(&self.left).try_acquire_owned();
        ticket
            .map(|place| Ticket {
                _place: Some(place),
            })
            .map_err(|_| errors::overloaded(self.what))
    }
}

impl Lane {
    /// Starts `threads` threads with stacks of this size; `queue` jobs may wait for them.
    ///
    /// # Errors
    /// When the system gives no more threads.
    pub fn start(
        name: &'static str,
        threads: usize,
        queue: usize,
        stack_bytes: usize,
    ) -> io::Result<Self> {
        let (sender, receiver) = mpsc::channel::<Job>();
        let receiver = Arc::new(Mutex::new(receiver));
        for number in 1..=threads {
            let receiver = Arc::clone(&receiver);
            thread::Builder::new()
                .name(format!("{name}-{number}"))
                .stack_size(stack_bytes)
                .spawn(move || work(&receiver))?;
        }
        Ok(Self {
            name,
            jobs: sender,
            places: Arc::new(Semaphore::new(threads + queue)),
        })
    }

    /// Runs a job and waits for its answer. When the waiting stops (deadline, cancelled call), a
    /// job that has not begun never will; one that has begun runs to its end.
    ///
    /// # Errors
    /// `RESOURCE_EXHAUSTED` when threads and queue are full, `INTERNAL` when the job panics.
    pub async fn run<T: Send + 'static>(
        &self,
        job: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Status> {
        let place = Arc::clone(&self.places)
            .try_acquire_owned()
            .map_err(|_| errors::overloaded(self.name))?;
        self.enter(job, place).await
    }

    /// Runs a job for the holder of a ticket, however full the queue is.
    ///
    /// # Errors
    /// `INTERNAL` when the job panics.
    pub async fn run_with<T: Send + 'static>(
        &self,
        _ticket: &Ticket,
        job: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Status> {
        self.enter(job, ()).await
    }

    async fn enter<T: Send + 'static>(
        &self,
        job: impl FnOnce() -> T + Send + 'static,
        place: impl Send + 'static,
    ) -> Result<T, Status> {
        let (answer, waiting) = oneshot::channel();
        let span = tracing::Span::current();
        let job = Box::new(move || {
            if answer.is_closed() {
                return;
            }
            let done = span.in_scope(job);
            drop(place);
            // Nobody waits any more: the answer has nowhere to go.
            let _ = answer.send(done);
        });
        self.jobs
            .send(job)
            .map_err(|_| errors::internal("lane is closed"))?;
        waiting
            .await
            .map_err(|_| errors::internal("a job ended without an answer"))
    }
}

/// Takes jobs until every sender is gone. A job that panics costs its own call only.
fn work(receiver: &Mutex<mpsc::Receiver<Job>>) {
    loop {
        let next = receiver
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .recv();
        let Ok(job) = next else { return };
        if catch_unwind(AssertUnwindSafe(job)).is_err() {
            tracing::error!("a job panicked; its call was answered with INTERNAL");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicBool, Ordering};
    use tonic::Code;

    const STACK_BYTES: usize = 1 << 20;

    /// Keeps a lane's only thread busy until the returned sender is dropped.
    async fn occupy(lane: &Lane) -> mpsc::Sender<()> {
        let (release, held) = mpsc::channel::<()>();
        let (begun, wait) = oneshot::channel();
        let lane = lane.clone();
        tokio::spawn(async move {
            let job = move || {
                let _ = begun.send(());
                let _ = held.recv();
            };
            lane.run(job).await
        });
        wait.await.unwrap();
        release
    }

    #[tokio::test]
    async fn a_full_lane_refuses_and_recovers() {
        let lane = Lane::start("test", 1, 0, STACK_BYTES).unwrap();
        let release = occupy(&lane).await;
        let refusal = lane.run(|| ()).await.unwrap_err();
        assert_eq!(refusal.code(), Code::ResourceExhausted);
        let ticket = Tickets::new("uploads", 1).take().unwrap();
        let with_ticket = lane.run_with(&ticket, || 7);
        drop(release);
        assert_eq!(with_ticket.await.unwrap(), 7, "a ticket waits instead");
    }

    #[tokio::test]
    async fn one_lane_does_not_wait_for_another() {
        let bulk = Lane::start("bulk", 1, 8, STACK_BYTES).unwrap();
        let light = Lane::start("light", 1, 8, STACK_BYTES).unwrap();
        let _release = occupy(&bulk).await;
        assert_eq!(light.run(|| 1).await.unwrap(), 1);
    }

    #[tokio::test]
    async fn a_job_that_nobody_waits_for_never_begins() {
        let lane = Lane::start("test", 1, 4, STACK_BYTES).unwrap();
        let release = occupy(&lane).await;
        let ran = Arc::new(AtomicBool::new(false));
        let flag = Arc::clone(&ran);
        let cancelled = tokio::time::timeout(
            std::time::Duration::from_millis(1),
            lane.run(move || flag.store(true, Ordering::SeqCst)),
        );
        assert!(cancelled.await.is_err());
        drop(release);
        lane.run(|| ()).await.unwrap();
        assert!(!ran.load(Ordering::SeqCst));
    }

    #[tokio::test]
    async fn a_panic_costs_its_own_call_only() {
        let lane = Lane::start("test", 1, 4, STACK_BYTES).unwrap();
        let failed = lane.run(|| panic!("on purpose")).await.unwrap_err();
        assert_eq!(failed.code(), Code::Internal);
        assert_eq!(lane.run(|| 3).await.unwrap(), 3);
    }
}
