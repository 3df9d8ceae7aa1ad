//! One bolt: what is left of its preload, and what loads do to it.

use crate::loads::BoltLoad;
use crate::spec::RodJoint;

/// What use since the last tightening has done to all bolts alike.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct History {
    /// Embedding of the surfaces \[m\].
    pub embedding_m: f64,
    /// Highest external load \[N\].
    pub peak_load_n: f64,
    /// Highest external load \[N\] at which the joint would have opened as much at the temperature of assembly.
    pub opening_load_n: f64,
    /// Permanent stretch of earlier tightenings \[m\].
    pub kept_stretch_m: f64,
}

impl History {
    /// With an event of loads added. Surfaces embed as soon as the engine runs.
    #[must_use]
    pub fn after(&self, rod: &RodJoint, embedding_m: f64, loads: &[BoltLoad]) -> Self {
        let mut after = *self;
        for load in loads {
            after.embedding_m = after.embedding_m.max(embedding_m);
            after.peak_load_n = after.peak_load_n.max(load.peak_n[0]);
            after.opening_load_n = after.opening_load_n.max(opening_load_n(rod, load));
        }
        after
    }
}

/// Peak load, with what temperature took from the preload booked as load.
pub fn opening_load_n(rod: &RodJoint, load: &BoltLoad) -> f64 {
    load.peak_n[0] - rod.joint.opening_load_n(load.thermal_n)
}

/// A bolt of a known assembly preload.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bolt {
    /// Preload left, cold \[N\].
    pub preload_n: f64,
    /// Permanent stretch, of earlier tightenings and since the last \[m\].
    pub stretch_m: f64,
}

impl Bolt {
    /// The bolt that an assembly preload \[N\] and a history leave.
    pub fn new(rod: &RodJoint, assembly_n: f64, history: &History) -> Self {
        let settled_n = (assembly_n - rod.joint.embedding_loss_n(history.embedding_m)).max(0.0);
        let added_m = rod.yielding.added_stretch_m(
            &rod.joint,
            settled_n,
            history.peak_load_n,
            history.kept_stretch_m,
        );
        Self {
            preload_n: (settled_n - rod.joint.embedding_loss_n(added_m)).max(0.0),
            stretch_m: history.kept_stretch_m + added_m,
        }
    }
}

/// Alternating stress of a cycle on a bolt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Alternating {
    /// Amplitude on the core area \[Pa\].
    pub amplitude_pa: f64,
    /// Mean load over yield load \[1\].
    pub mean_over_yield: f64,
}

/// Alternating stress of the first or second cycle (`which` 0 or 1) of a load on a bolt of a cold preload \[N\].
pub fn alternating(rod: &RodJoint, preload_n: f64, load: &BoltLoad, which: usize) -> Alternating {
    let warm_n = (preload_n + load.thermal_n).max(0.0);
    let top_n = rod.joint.bolt_load_n(warm_n, load.peak_n[which]);
    let bottom_n = rod.joint.bolt_load_n(warm_n, load.valley_n[which]);
    Alternating {
        amplitude_pa: 0.5 * (top_n - bottom_n) / rod.thread.core_area_m2(),
        mean_over_yield: 0.5 * (top_n + bottom_n) / rod.yielding.yield_load_n,
    }
}

/// Damage of each load to a bolt of median strength and a cold preload \[N\]. Cycles below the endurance limit count when the bolt is damaged
/// already, or when one of these loads damages it.
pub fn damages(rod: &RodJoint, preload_n: f64, loads: &[BoltLoad], damaged: bool) -> Vec<f64> {
    let pass = |damaged: bool| -> Vec<f64> {
        let one = |load: &BoltLoad| damage(rod, preload_n, load, damaged);
        loads.iter().map(one).collect()
    };
    let amounts = pass(damaged);
    if !damaged && amounts.iter().any(|amount| *amount > 0.0) {
        pass(true)
    } else {
        amounts
    }
}

/// Sum of [`damages`].
pub fn damage_sum(rod: &RodJoint, preload_n: f64, loads: &[BoltLoad], damaged: bool) -> f64 {
    let sum = |damaged: bool| -> f64 {
        let amounts = loads
            .iter()
            .map(|load| damage(rod, preload_n, load, damaged));
        amounts.fold(0.0, |sum, amount| sum + amount)
    };
    let amount = sum(damaged);
    if !damaged && amount > 0.0 {
        sum(true)
    } else {
        amount
    }
}

fn damage(rod: &RodJoint, preload_n: f64, load: &BoltLoad, damaged: bool) -> f64 {
    let each = |which: usize| {
        let stress = alternating(rod, preload_n, load, which);
        let (amplitude_pa, mean) = (stress.amplitude_pa, stress.mean_over_yield);
        rod.endurance.damage(amplitude_pa, mean, damaged)
    };
    load.cycles * (each(0) + each(1))
}

/// Cold preload \[N\] below which loads damage a bolt, by bisection; 0 when they never do, the yield load when they always do.
pub fn damaging_preload_n(rod: &RodJoint, loads: &[BoltLoad]) -> f64 {
    let harmless = |preload_n: f64| damage_sum(rod, preload_n, loads, false) <= 0.0;
    let (mut low, mut high) = (0.0, rod.yielding.yield_load_n);
    if harmless(low) {
        return low;
    }
    if !harmless(high) {
        return high;
    }
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if harmless(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    high
}

/// Cold preload \[N\] below which one of the loads opens the joint; 0 when nothing pulls it.
pub fn opening_preload_n(rod: &RodJoint, loads: &[BoltLoad]) -> f64 {
    let needed = |load: &BoltLoad| {
        rod.joint
            .preload_to_stay_closed_n(opening_load_n(rod, load))
    };
    loads.iter().map(needed).fold(0.0, f64::max)
}
