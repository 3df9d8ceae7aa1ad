//! Lives and risk of a set of bolts, from damage over preload.

use ringland_mechanics::statistics::sampling::latin_hypercube_normal;
use ringland_plugin::{ForecastRequest, Spread};

use crate::bolt::damage_sum;
use crate::card::mechanism;
use crate::condition::{Bolts, Condition};
use crate::constants::{KEPT_Z, LINE_Z, STRENGTH_LN_SD};
use crate::loads::BoltLoad;
use crate::set::{Set, crossing, normal_nodes, rate_mean};

/// What lies ahead: conditions before and after the event, and the damage that each repetition of it adds. The event's embedding, yielding and
/// peak come with its first run, so that damage then grows evenly.
pub struct Ahead<'a> {
    /// The bolts.
    pub bolts: &'a Bolts<'a>,
    /// How many there are.
    pub set: Set,
    /// Before the event.
    pub now: &'a Condition,
    /// After its first run.
    pub next: &'a Condition,
    /// Roots of the damage kept at each of `KEPT_Z`.
    kept: Vec<f64>,
    /// Roots of the damage of one event, from the lowest of its preloads up.
    event: Vec<f64>,
    exponent: i32,
    reuse: Reuse,
}

/// Damage over preload is followed from 6 standard deviations below the median to 4 above.
const LOWEST_Z: f64 = -6.0;
const STEP_Z: f64 = 0.25;
const NODES: u32 = 41;

impl<'a> Ahead<'a> {
    /// Works out what the event's loads add to bolts of every preload.
    pub fn new(
        bolts: &'a Bolts<'a>,
        now: &'a Condition,
        next: &'a Condition,
        event: &[BoltLoad],
    ) -> Self {
        let exponent = bolts.rod.endurance.exponent();
        // In an open joint stress is linear in preload and damage a power of stress: its root is what can be interpolated.
        let root = |damage: f64| libm::pow(damage, 1.0 / f64::from(exponent));
        let kept: Vec<f64> = now.damage.iter().map(|damage| root(*damage)).collect();
        let by_node = |node: u32| {
            let z = LOWEST_Z + STEP_Z * f64::from(node);
            let preload_n = bolts.bolt(next, z).preload_n;
            let damaged = kept_root(&kept, z) > 0.0;
            root(damage_sum(&bolts.rod, preload_n, event, damaged))
        };
        Self {
            bolts,
            set: Set {
                bolts: bolts.spec.bolts(),
            },
            now,
            next,
            event: (0..NODES).map(by_node).collect(),
            kept,
            exponent,
            reuse: Reuse::new(bolts, now, next),
        }
    }

    /// Damage so far of a bolt at a preload factor.
    pub fn kept(&self, z: f64) -> f64 {
        kept_root(&self.kept, z).powi(self.exponent)
    }

    /// Damage that an event adds to it.
    fn added(&self, z: f64) -> f64 {
        between(&self.event, (z - LOWEST_Z) / STEP_Z).powi(self.exponent)
    }

    /// Multiplier of damage of a bolt whose strength stands so many standard deviations from the median: 1 at the endurance line.
    fn strength(&self) -> Spread {
        let exponent = f64::from(self.exponent);
        Spread {
            ln_mean: exponent * STRENGTH_LN_SD * LINE_Z,
            ln_sd: exponent * STRENGTH_LN_SD,
        }
    }

    /// Lives by each mechanism; the same index is the same drawn set. What is not known of the loads is common to all mechanisms and bolts; preload
    /// and strength are each bolt's own.
    pub fn draw(&self, rates: &[Spread], request: &ForecastRequest) -> Vec<Vec<f64>> {
        let n = self.set.bolts;
        // Where no bolt is damaged strengths do not matter and are not drawn.
        let damaged = self.kept.iter().chain(&self.event).any(|root| *root > 0.0);
        let columns = if damaged { 1 + 2 * n } else { 1 + n };
        let draws = latin_hypercube_normal(request.samples as usize, columns, request.seed);
        let mut lives = vec![Vec::new(); mechanism::COUNT];
        for sample in 0..request.samples as usize {
            let common = draws[0][sample];
            let rate = |index: usize| rates[index].at(common);
            let preloads = draws[1..=n].iter().map(|column| column[sample]);
            let strengths = draws[1 + n..].iter().map(|column| column[sample]);
            let fatigue = rate(mechanism::FATIGUE);
            let life = |(z, weak): (f64, f64)| self.fatigue_life(z, fatigue, weak);
            let first = preloads
                .clone()
                .zip(strengths)
                .map(life)
                .fold(f64::INFINITY, f64::min);
            let lowest = preloads.clone().fold(f64::INFINITY, f64::min);
            let highest = preloads.fold(f64::NEG_INFINITY, f64::max);
            let at_once = |damage: fn(&Bolts<'_>, &Condition, f64) -> f64, z: f64, rate: f64| {
                let passed = |condition| rate * damage(self.bolts, condition, z) >= 1.0;
                match (passed(self.now), passed(self.next)) {
                    (true, _) => 0.0,
                    // Somewhere in the coming event: counted at its end.
                    (false, true) => 1.0,
                    (false, false) => f64::INFINITY,
                }
            };
            let drawn = [
                first,
                at_once(opening, lowest, rate(mechanism::OPENING)),
                at_once(stretched, highest, rate(mechanism::STRETCH)),
                self.reuse.life(rate(mechanism::REUSE)),
            ];
            for (column, life) in lives.iter_mut().zip(drawn) {
                column.push(life.clamp(0.0, request.horizon_events));
            }
        }
        lives
    }

    /// Events until the damage of a bolt, times a rate and what its strength makes of it, is 1.
    fn fatigue_life(&self, z: f64, rate: f64, weak: f64) -> f64 {
        let (kept, added) = (self.kept(z), self.added(z));
        if kept + added <= 0.0 {
            return f64::INFINITY;
        }
        let left = 1.0 / (rate * self.strength().at(weak)) - kept;
        if left <= 0.0 { 0.0 } else { left / added }
    }

    /// Risk by each mechanism that the life has ended by the end of the next event, from the distributions.
    pub fn risks(&self, rates: &[Spread]) -> [f64; mechanism::COUNT] {
        let strength = self.strength();
        let damages: Vec<(f64, f64)> = normal_nodes()
            .into_iter()
            .map(|(z, weight)| (weight, self.kept(z) + self.added(z)))
            .filter(|(_, damage)| *damage > 0.0)
            .collect();
        let fatigue = rate_mean(&rates[mechanism::FATIGUE], |rate| {
            let each = damages.iter();
            let passed = each.map(|(weight, damage)| weight * strength.passed(rate * damage));
            self.set.any(passed.fold(0.0, |sum, p| sum + p))
        });
        let opening = rate_mean(&rates[mechanism::OPENING], |rate| {
            // The looser, the more: the preload factor above which the joint stays closed.
            let closed = crossing(-1.0, |z| -rate * opening(self.bolts, self.next, z));
            self.set.any_below(closed)
        });
        let stretch = rate_mean(&rates[mechanism::STRETCH], |rate| {
            let kept = crossing(1.0, |z| rate * stretched(self.bolts, self.next, z));
            self.set.any_below(-kept)
        });
        let reuse = rates[mechanism::REUSE].passed(self.reuse.now + self.reuse.event);
        [fatigue, opening, stretch, reuse]
    }

    /// Damage of each mechanism now, of the set of median preloads.
    pub fn median_damage(&self) -> [f64; mechanism::COUNT] {
        let (lowest, highest) = (self.set.lowest(0.5), self.set.highest(0.5));
        [
            self.kept(lowest),
            opening(self.bolts, self.now, lowest),
            stretched(self.bolts, self.now, highest),
            self.reuse.now,
        ]
    }
}

/// Preload that the highest load needs over that which is left: 1 where the joint opens.
fn opening(bolts: &Bolts<'_>, condition: &Condition, z: f64) -> f64 {
    let joint = &bolts.rod.joint;
    let needed_n = joint.preload_to_stay_closed_n(condition.history.opening_load_n);
    needed_n / bolts.bolt(condition, z).preload_n.max(1e-6)
}

/// Permanent stretch over its limit.
fn stretched(bolts: &Bolts<'_>, condition: &Condition, z: f64) -> f64 {
    bolts.bolt(condition, z).stretch_m / bolts.spec.limit_permanent_stretch_m
}

/// The count of tightenings, as a share of what is allowed: builds done and the running time of this one.
#[derive(Debug, Clone, Copy)]
struct Reuse {
    now: f64,
    event: f64,
}

impl Reuse {
    fn new(bolts: &Bolts<'_>, now: &Condition, next: &Condition) -> Self {
        let spec = &bolts.spec;
        let allowed = (spec.limit_tightenings / spec.tightenings_per_build)
            .floor()
            .max(1.0);
        let builds = (now.tightenings / spec.tightenings_per_build)
            .ceil()
            .max(1.0);
        let run = |seconds: f64| seconds / spec.tightening_interval_s;
        Self {
            now: (builds - 1.0 + run(now.running_s)) / allowed,
            event: run(next.running_s - now.running_s) / allowed,
        }
    }

    fn life(&self, rate: f64) -> f64 {
        let left = 1.0 / rate - self.now;
        if left <= 0.0 { 0.0 } else { left / self.event }
    }
}

fn kept_root(kept: &[f64], z: f64) -> f64 {
    between(kept, z - KEPT_Z[0])
}

/// Linear between nodes at whole positions, held at the ends.
fn between(nodes: &[f64], place: f64) -> f64 {
    let last = nodes.len().saturating_sub(1);
    let held = place.clamp(0.0, last as f64);
    let low = (held as usize).min(last.saturating_sub(1));
    let (Some(from), Some(to)) = (nodes.get(low), nodes.get(low + 1)) else {
        return nodes.first().copied().unwrap_or(0.0);
    };
    from + (held - low as f64) * (to - from)
}
