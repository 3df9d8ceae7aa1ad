//! What a plugin may use.

use serde::{Deserialize, Serialize};
use std::time::Duration;

/// Bounds on plugins: on each call, and on what the host keeps of them. Every field has a default,
/// so a settings file names only what it changes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Limits {
    /// Largest plugin file. Default 32 MiB; a release build of a model takes 0.1 to 2 MiB.
    pub plugin_bytes: usize,
    /// Most plugins loaded at a time. Default 128.
    pub plugins: usize,
    /// Calls that run at a time; others wait, each no longer than the deadlines of those before
    /// it. Give it at least as many as all callers' threads together. Default 16.
    pub instances: u32,
    /// Linear memory of one call. Default 128 MiB.
    pub memory_bytes: usize,
    /// Stack of one call, taken from the calling thread, which needs 1 MiB more. Default 512 KiB.
    pub stack_bytes: usize,
    /// Most that one call may hand back, in bytes of host memory. Default 64 MiB: eight million
    /// numbers.
    pub answer_bytes: usize,
    /// Most that a card or a list of findings may take. Default 1 MiB.
    pub text_bytes: usize,
    /// Deadline of `prepare`. Default 60 s.
    pub prepare_ms: u64,
    /// Deadline of `advance` and `forecast`. Default 10 s.
    pub call_ms: u64,
    /// Deadline of `card`, `check`, `begin` and `rework`. Default 2 s.
    pub short_call_ms: u64,
    /// Deadlines are kept to within this. Default 10 ms.
    pub tick_ms: u64,
    /// Most lives that one forecast may draw for a mechanism. Default 20 000.
    pub samples: u32,
    /// Compiled plugins kept on disk; the oldest go first. Default 1 GiB.
    pub compiled_disk_bytes: u64,
    /// Prepared tables kept in memory. Default 256 MiB.
    pub prepared_memory_bytes: u64,
    /// Prepared tables kept on disk; the oldest go first. Default 4 GiB.
    pub prepared_disk_bytes: u64,
}

impl Default for Limits {
    fn default() -> Self {
        const MIB: usize = 1024 * 1024;
        Self {
            plugin_bytes: 32 * MIB,
            plugins: 128,
            instances: 16,
            memory_bytes: 128 * MIB,
            stack_bytes: MIB / 2,
            answer_bytes: 64 * MIB,
            text_bytes: MIB,
            prepare_ms: 60_000,
            call_ms: 10_000,
            short_call_ms: 2_000,
            tick_ms: 10,
            samples: 20_000,
            compiled_disk_bytes: 1024 * MIB as u64,
            prepared_memory_bytes: 256 * MIB as u64,
            prepared_disk_bytes: 4096 * MIB as u64,
        }
    }
}

/// The functions of the contract.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Call {
    Card,
    Check,
    Prepare,
    Begin,
    Advance,
    Rework,
    Forecast,
}

impl Call {
    /// Name in the contract.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Card => "card",
            Self::Check => "check",
            Self::Prepare => "prepare",
            Self::Begin => "begin",
            Self::Advance => "advance",
            Self::Rework => "rework",
            Self::Forecast => "forecast",
        }
    }
}

impl Limits {
    /// Time that a call may take.
    pub(super) fn deadline(&self, call: Call) -> Duration {
        Duration::from_millis(match call {
            Call::Prepare => self.prepare_ms,
            Call::Advance | Call::Forecast => self.call_ms,
            Call::Card | Call::Check | Call::Begin | Call::Rework => self.short_call_ms,
        })
    }

    /// The same in ticks; a call that starts just before a tick still gets all of its time.
    pub(super) fn deadline_ticks(&self, call: Call) -> u64 {
        let deadline_ms = self.deadline(call).as_millis() as u64;
        deadline_ms.div_ceil(self.tick_ms.max(1)) + 1
    }

    /// Bytes that the answer of a call may take in the host.
    pub(super) fn answer_bytes(&self, call: Call) -> usize {
        match call {
            Call::Card | Call::Check => self.text_bytes,
            _ => self.answer_bytes,
        }
    }
}
