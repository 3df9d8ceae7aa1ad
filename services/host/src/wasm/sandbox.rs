//! One call of a plugin: a fresh instance, bounded, and the plain words for what went wrong.

use super::{
    Limits,
    engine::{Ticker, build_engine},
    limits::Call,
    slots::Slots,
};
use crate::contract::{Card, Duty, Finding, Forecast, ForecastRequest, ModelError, Specimen};
use wasmtime::{
    Engine, ResourceLimiter, Store, Trap,
    component::{
        Component, ComponentExportIndex, ComponentNamedList, InstancePre, Lift, Linker, Lower,
    },
};

/// What a function returns that may refuse its input.
pub(super) type Answer<T> = Result<T, Vec<Finding>>;

// Arguments of the contract's functions, in its order.
pub(super) type CheckArguments<'a> = (&'a Specimen,);
pub(super) type BeginArguments<'a> = (&'a Specimen, &'a [f64], &'a [Option<f64>]);
pub(super) type AdvanceArguments<'a> = (&'a Specimen, &'a [f64], &'a [f64], &'a [Duty]);
pub(super) type ReworkArguments<'a> = (&'a Specimen, &'a [f64], &'a [f64], u32);
pub(super) type ForecastArguments<'a> = (&'a Specimen, &'a [f64], &'a ForecastRequest);

/// The engine with its limits. Calls of all plugins go through it.
pub(super) struct Sandbox {
    pub(super) engine: Engine,
    pub(super) limits: Limits,
    slots: Slots,
    _ticker: Ticker,
}

/// A compiled plugin, ready to be instantiated.
pub(super) struct Compiled {
    instance: InstancePre<Memory>,
    functions: [ComponentExportIndex; 7],
}

/// What one call may take of memory.
pub(super) struct Memory {
    most_bytes: usize,
}

impl ResourceLimiter for Memory {
    fn memory_growing(
        &mut self,
        _current: usize,
        desired: usize,
        _maximum: Option<usize>,
    ) -> wasmtime::Result<bool> {
        if desired > self.most_bytes {
            // An error, not a refusal that the plugin could answer: the reason then reaches people.
            wasmtime::bail!(
                "it asked for {desired} bytes of memory where {} are allowed",
                self.most_bytes
            );
        }
        Ok(true)
    }

    fn table_growing(
        &mut self,
        _current: usize,
        desired: usize,
        _maximum: Option<usize>,
    ) -> wasmtime::Result<bool> {
        Ok(desired <= MOST_TABLE_ELEMENTS)
    }
}

/// Entries of a function table; a model has a few hundred.
const MOST_TABLE_ELEMENTS: usize = 20_000;

const CALLS: [Call; 7] = [
    Call::Card,
    Call::Check,
    Call::Prepare,
    Call::Begin,
    Call::Advance,
    Call::Rework,
    Call::Forecast,
];

impl Sandbox {
    pub(super) fn new(limits: Limits) -> Result<Self, ModelError> {
        let engine = build_engine(&limits)?;
        let ticker = Ticker::start(engine.clone(), &limits)?;
        Ok(Self {
            engine,
            slots: Slots::new(limits.instances),
            limits,
            _ticker: ticker,
        })
    }

    /// Links a component: every import becomes a trap that names it. `interface` is the export
    /// that holds the contract's functions.
    pub(super) fn link(
        &self,
        component: &Component,
        interface: &ComponentExportIndex,
    ) -> Result<Compiled, String> {
        let mut linker = Linker::new(&self.engine);
        let linked = linker
            .define_unknown_imports_as_traps(component)
            .and_then(|()| linker.instantiate_pre(component));
        let instance = linked.map_err(|error| format!("it does not link: {error:#}"))?;
        let function = |call: Call| {
            component
                .get_export_index(Some(interface), call.name())
                .ok_or_else(|| format!("it does not export the function `{}`", call.name()))
        };
        let [card, check, prepare, begin, advance, rework, forecast] = CALLS.map(function);
        let compiled = Compiled {
            instance,
            functions: [
                card?, check?, prepare?, begin?, advance?, rework?, forecast?,
            ],
        };
        let _slot = self.slots.take();
        self.check_types(&compiled)
            .map_err(|error| format!("its functions are not the contract's: {error:#}"))?;
        Ok(compiled)
    }

    fn check_types(&self, compiled: &Compiled) -> wasmtime::Result<()> {
        let mut store = self.store(Call::Card);
        let instance = compiled.instance.instantiate(&mut store)?;
        let [card, check, prepare, begin, advance, rework, forecast] = &compiled.functions;
        let store = &mut store;
        instance.get_typed_func::<(), (Card,)>(&mut *store, card)?;
        instance.get_typed_func::<CheckArguments, (Vec<Finding>,)>(&mut *store, check)?;
        instance.get_typed_func::<CheckArguments, (Answer<Vec<f64>>,)>(&mut *store, prepare)?;
        instance.get_typed_func::<BeginArguments, (Answer<Vec<f64>>,)>(&mut *store, begin)?;
        instance
            .get_typed_func::<AdvanceArguments, (Answer<Vec<Vec<f64>>>,)>(&mut *store, advance)?;
        instance.get_typed_func::<ReworkArguments, (Answer<Vec<f64>>,)>(&mut *store, rework)?;
        instance.get_typed_func::<ForecastArguments, (Answer<Forecast>,)>(&mut *store, forecast)?;
        Ok(())
    }

    fn store(&self, call: Call) -> Store<Memory> {
        let memory = Memory {
            most_bytes: self.limits.memory_bytes,
        };
        let mut store = Store::new(&self.engine, memory);
        store.limiter(|memory| memory);
        store.set_epoch_deadline(self.limits.deadline_ticks(call));
        store.set_hostcall_fuel(self.limits.answer_bytes(call));
        store
    }

    /// Calls a function of a plugin in a fresh instance, named `plugin` where the call fails.
    pub(super) fn call<P, R>(
        &self,
        compiled: &Compiled,
        plugin: &str,
        call: Call,
        arguments: P,
    ) -> Result<R, ModelError>
    where
        P: ComponentNamedList + Lower,
        (R,): ComponentNamedList + Lift,
        R: Send + Sync + 'static,
    {
        let _span = tracing::debug_span!("plugin_call", plugin, call = call.name()).entered();
        let _slot = self.slots.take();
        self.run(compiled, call, arguments).map_err(|error| {
            let reason = self.reason(call, &error);
            tracing::warn!(reason, detail = format!("{error:?}"), "a plugin failed");
            ModelError::Misbehaved {
                plugin: plugin.into(),
                call: call.name(),
                reason,
            }
        })
    }

    fn run<P, R>(&self, compiled: &Compiled, call: Call, arguments: P) -> wasmtime::Result<R>
    where
        P: ComponentNamedList + Lower,
        (R,): ComponentNamedList + Lift,
        R: Send + Sync + 'static,
    {
        let mut store = self.store(call);
        let instance = compiled.instance.instantiate(&mut store)?;
        let index = &compiled.functions[call as usize];
        let function = instance.get_typed_func::<P, (R,)>(&mut store, index)?;
        let (answer,) = function.call(&mut store, arguments)?;
        Ok(answer)
    }

    /// What happened, in words that a shop and a plugin author can act on.
    fn reason(&self, call: Call, error: &wasmtime::Error) -> String {
        let names = function_names(error);
        let place = place(&names);
        match error.downcast_ref::<Trap>() {
            Some(Trap::Interrupt) => {
                let deadline_ms = self.limits.deadline(call).as_millis();
                return format!("it ran past its deadline of {deadline_ms} ms{place}");
            }
            Some(Trap::StackOverflow) => {
                let bytes = self.limits.stack_bytes;
                return format!("it used more than its stack of {bytes} bytes");
            }
            // Rust keeps a second stack in linear memory; its end is the start of that memory.
            Some(Trap::MemoryOutOfBounds) => {
                return format!(
                    "it read or wrote outside its memory, or overran the stack that it keeps there{place}"
                );
            }
            Some(trap) => return format!("it trapped: {trap}{place}"),
            None => {}
        }
        let cause = error.root_cause().to_string();
        // A panic looks for RUST_BACKTRACE and prints; what it meets there is not the point.
        if cause.contains("unknown import") {
            if let Some(end) = end_of_panic(&names) {
                return format!("it panicked{}", self::place(&names[end..]));
            }
            return format!(
                "it reached outside its sandbox, and a plugin is a pure function: {cause}{place}"
            );
        }
        if cause.contains("fuel allocated for hostcalls") {
            let bytes = self.limits.answer_bytes(call);
            return format!("its answer is larger than {bytes} bytes");
        }
        cause
    }
}

/// Names of the functions that were running, innermost first, where the plugin carries names.
fn function_names(error: &wasmtime::Error) -> Vec<String> {
    let Some(trace) = error.downcast_ref::<wasmtime::WasmBacktrace>() else {
        return Vec::new();
    };
    let names = trace.frames().iter().filter_map(|frame| frame.func_name());
    names
        .map(|name| format!("{:#}", rustc_demangle::demangle(name)))
        .collect()
}

/// Where the machinery of a Rust panic ends and the code that panicked begins.
fn end_of_panic(names: &[String]) -> Option<usize> {
    let machinery =
        |name: &String| name.contains("panicking") || name.contains("rust_begin_unwind");
    Some(names.iter().rposition(machinery)? + 1)
}

/// The innermost functions in words.
fn place(names: &[String]) -> String {
    match names {
        [] => String::new(),
        names => format!(", in {}", names[..names.len().min(MOST_FRAMES)].join(" < ")),
    }
}

const MOST_FRAMES: usize = 4;
