//! The engine, set up so that a plugin can be neither fast at another's expense nor different
//! from one run to the next, and the ticker that its deadlines are counted in.

use super::Limits;
use crate::contract::ModelError;
use std::{
    sync::{
        Arc,
        atomic::{AtomicBool, Ordering},
    },
    thread::{self, JoinHandle},
    time::Duration,
};
use wasmtime::{Config, Engine, InstanceAllocationStrategy, PoolingAllocationConfig};

/// Core instances, and tables, that one component may be made of. A component from a plain
/// `cargo build` has two to four.
const PARTS_PER_COMPONENT: u32 = 16;

/// Linear memories that one component may have.
const MEMORIES_PER_COMPONENT: u32 = 2;

/// Memory of a pooled slot that is zeroed in place instead of given back to the system: a small
/// model then starts without page faults.
const KEPT_RESIDENT_BYTES: usize = 256 * 1024;

pub(super) fn build_engine(limits: &Limits) -> Result<Engine, ModelError> {
    let mut config = Config::new();
    config
        .epoch_interruption(true)
        .max_wasm_stack(limits.stack_bytes)
        .allocation_strategy(InstanceAllocationStrategy::Pooling(pool(limits)))
        // What would let the same input give other bits, or that no model needs.
        .wasm_relaxed_simd(false)
        .wasm_shared_everything_threads(false)
        .wasm_memory64(false)
        .wasm_tail_call(false);
    Engine::new(&config).map_err(|error| {
        ModelError::Host(format!(
            "cannot set up {} plugin instances of {} bytes: {error:#}; lower `instances` or `memory_bytes`",
            limits.instances, limits.memory_bytes
        ))
    })
}

fn pool(limits: &Limits) -> PoolingAllocationConfig {
    let mut pool = PoolingAllocationConfig::new();
    pool.total_component_instances(limits.instances)
        .max_core_instances_per_component(PARTS_PER_COMPONENT)
        .max_tables_per_component(PARTS_PER_COMPONENT)
        .max_memories_per_component(MEMORIES_PER_COMPONENT)
        .total_core_instances(limits.instances * PARTS_PER_COMPONENT)
        .total_tables(limits.instances * PARTS_PER_COMPONENT)
        .total_memories(limits.instances * MEMORIES_PER_COMPONENT)
        .max_memory_size(limits.memory_bytes)
        .linear_memory_keep_resident(KEPT_RESIDENT_BYTES);
    pool
}

/// A thread that counts time for the deadlines; stops when dropped.
pub(super) struct Ticker {
    stop: Arc<AtomicBool>,
    thread: Option<JoinHandle<()>>,
}

impl Ticker {
    pub(super) fn start(engine: Engine, limits: &Limits) -> Result<Self, ModelError> {
        let stop = Arc::new(AtomicBool::new(false));
        let stopped = Arc::clone(&stop);
        let period = Duration::from_millis(limits.tick_ms.max(1));
        let tick = move || {
            while !stopped.load(Ordering::Relaxed) {
                thread::sleep(period);
                engine.increment_epoch();
            }
        };
        let thread = thread::Builder::new()
            .name("plugin-ticker".into())
            .spawn(tick)
            .map_err(|error| {
                ModelError::Host(format!("cannot start the plugin ticker: {error}"))
            })?;
        Ok(Self {
            stop,
            thread: Some(thread),
        })
    }
}

impl Drop for Ticker {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
        // The thread cannot panic: it sleeps and counts.
        let _ = self.thread.take().map(JoinHandle::join);
    }
}
