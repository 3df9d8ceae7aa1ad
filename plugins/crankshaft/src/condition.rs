//! The condition: what duty has done so far. Beginning, advancing, reworking.

use std::f64::consts::LN_2;

use ringland_engine::points_and_over_revs;
use ringland_plugin::{Duty, Finding, check_row, error};

use crate::card::{self, slot};
use crate::duty::{Crank, Stretch, total};
use crate::operating_map::{DAMPERS, OperatingMap};
use crate::spec::{MOST_THROWS, Spec};

/// The condition row, typed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Condition {
    /// Miner's sum of the pin fillet of each throw.
    pub pin_damage: [f64; MOST_THROWS],
    /// Miner's sum of the worse journal fillet of each throw.
    pub journal_damage: [f64; MOST_THROWS],
    /// Miner's sum of the shoulder of the nose.
    pub nose_damage: f64,
    /// Wear of the worst place of the pins since they were ground \[m\].
    pub journal_wear_m: f64,
    /// Running time of the damper \[s\].
    pub damper_age_s: f64,
    /// Depth ground off pins and journals on the radius \[m\].
    pub ground_m: f64,
    /// Runout of the middle main journal as last measured \[m\].
    pub runout_m: f64,
}

impl Condition {
    /// Reads a condition row.
    ///
    /// # Errors
    /// Values out of range, or a row of the wrong length.
    pub fn read(row: &[f64]) -> Result<Self, Vec<Finding>> {
        check_row(&card::condition(), row)?;
        let mut condition = Self::default();
        let (pins, rest) = row.split_at(MOST_THROWS);
        let (journals, rest) = rest.split_at(MOST_THROWS);
        condition.pin_damage.copy_from_slice(pins);
        condition.journal_damage.copy_from_slice(journals);
        if let &[nose, wear, age, ground, runout] = rest {
            condition.nose_damage = nose;
            condition.journal_wear_m = wear;
            condition.damper_age_s = age;
            condition.ground_m = ground;
            condition.runout_m = runout;
        }
        Ok(condition)
    }

    /// As a row.
    pub fn row(&self) -> Vec<f64> {
        let mut row = Vec::with_capacity(slot::COUNT);
        row.extend(self.pin_damage);
        row.extend(self.journal_damage);
        row.extend([
            self.nose_damage,
            self.journal_wear_m,
            self.damper_age_s,
            self.ground_m,
            self.runout_m,
        ]);
        row
    }

    /// Held within the card's ranges, far beyond any limit, so that no duty leads out of the contract.
    fn held(mut self) -> Self {
        let fillets = self.pin_damage.iter_mut().chain(&mut self.journal_damage);
        for damage in fillets.chain([&mut self.nose_damage]) {
            *damage = damage.min(slot::MOST_DAMAGE);
        }
        self.journal_wear_m = self.journal_wear_m.min(slot::MOST_WEAR_M);
        self.damper_age_s = self.damper_age_s.min(slot::MOST_AGE_S);
        self
    }

    /// Largest Miner's sum of a fillet.
    pub fn fillet_damage(&self) -> f64 {
        let fillets = self.pin_damage.iter().chain(&self.journal_damage);
        fillets.copied().fold(0.0, f64::max)
    }
}

/// The condition after a shop operation.
///
/// # Errors
/// An operation that the card does not have, grinding beyond the card's range.
pub fn rework(spec: &Spec, row: &[f64], operation: u32) -> Result<Vec<f64>, Vec<Finding>> {
    let mut after = Condition::read(row)?;
    match operation {
        card::REGRIND => {
            let ground_m = after.ground_m + spec.regrind_step_m;
            if ground_m > slot::MOST_GROUND_M {
                return Err(vec![error(
                    "condition.ground_depth_m",
                    ground_m,
                    &format!("at most {} m", slot::MOST_GROUND_M),
                    "no bearing is made for such an undersize: replace the crankshaft",
                )]);
            }
            // Refuses what leaves the range of the factors.
            Crank::check_ground(spec, ground_m)?;
            after.ground_m = ground_m;
            after.journal_wear_m = 0.0;
        }
        card::NEW_DAMPER => after.damper_age_s = 0.0,
        _ => {
            return Err(vec![error(
                "operation",
                f64::from(operation),
                "0 (regrind) or 1 (new_damper)",
                "choose an operation of the card",
            )]);
        }
    }
    Ok(after.row())
}

/// Adds duty records one after the other; the condition after each.
///
/// # Errors
/// What is wrong with the condition or a record.
pub fn advance(
    spec: &Spec,
    prepared: &[f64],
    row: &[f64],
    duties: &[Duty],
) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
    let mut condition = Condition::read(row)?;
    let map = OperatingMap::read(prepared, spec)?;
    let crank = Crank::new(spec, map, condition.ground_m)?;
    let need = card::duty();
    let mut rows = Vec::with_capacity(duties.len());
    for record in duties {
        let (points, over_revs) = points_and_over_revs(&need, record)?;
        let blocks = points.iter().chain(&over_revs);
        let added: Vec<_> = blocks.map(|block| crank.added(block)).collect();
        condition = after(spec, &condition, &total(added.iter()), 1.0);
        rows.push(condition.row());
    }
    Ok(rows)
}

/// How far a damper has aged, 0 to 1: half after its half life.
pub fn aged(spec: &Spec, age_s: f64) -> f64 {
    -libm::expm1(-LN_2 * age_s / spec.damper_half_life_s)
}

/// The condition after `share` of a stretch (more than 1 repeats it). Damage for each running time is straight between the states of the damper
/// and is integrated in closed form as the damper ages, so that a record gives the same however it is cut.
pub fn after(spec: &Spec, before: &Condition, stretch: &Stretch, share: f64) -> Condition {
    let mut after = *before;
    after.damper_age_s += stretch.running_s * share;
    let weights = damper_weights(spec, before.damper_age_s, after.damper_age_s);
    let throws = spec.throws();
    for (site, damage) in stretch.damage.iter().enumerate() {
        let of_event: f64 = damage.iter().zip(weights).map(|(d, w)| d * w).sum();
        let sum = match site / throws {
            0 => after.pin_damage.get_mut(site),
            1 => after.journal_damage.get_mut(site - throws),
            _ => Some(&mut after.nose_damage),
        };
        if let Some(sum) = sum {
            *sum += of_event * share;
        }
    }
    after.journal_wear_m += stretch.journal_wear_m * share;
    after.held()
}

/// Mean weight of each damper state over running from one age to a later one \[s\].
///
/// With x = 1 − 2^(−age/half life), the weight of a state is a hat in x. Over age, `∫ x = age + (2^(−age/h) h/ln 2)`, so each straight piece
/// has a closed form.
pub fn damper_weights(spec: &Spec, from_s: f64, to_s: f64) -> [f64; DAMPERS] {
    let run_s = to_s - from_s;
    if run_s <= 1e-9 * spec.damper_half_life_s {
        // Too short for differences of large numbers: the state in the middle.
        return hats(aged(spec, from_s + 0.5 * run_s));
    }
    // x reaches one half after one half life.
    let half_s = spec.damper_half_life_s.clamp(from_s, to_s);
    let (early_s, late_s) = (half_s - from_s, to_s - half_s);
    let early = mean_aged(spec, from_s, half_s);
    let late = mean_aged(spec, half_s, to_s);
    [
        early_s * (1.0 - 2.0 * early),
        early_s * 2.0 * early + late_s * 2.0 * (1.0 - late),
        late_s * (2.0 * late - 1.0),
    ]
    .map(|weight| (weight / run_s).max(0.0))
}

fn hats(x: f64) -> [f64; DAMPERS] {
    if x < 0.5 {
        [1.0 - 2.0 * x, 2.0 * x, 0.0]
    } else {
        [0.0, 2.0 * (1.0 - x), 2.0 * x - 1.0]
    }
}

/// Mean of how far the damper has aged from one age to another \[s\].
fn mean_aged(spec: &Spec, from_s: f64, to_s: f64) -> f64 {
    let run_s = to_s - from_s;
    let rate = LN_2 / spec.damper_half_life_s;
    if run_s * rate < 1e-6 {
        return aged(spec, 0.5 * (from_s + to_s));
    }
    1.0 + libm::exp(-rate * from_s) * libm::expm1(-rate * run_s) / (rate * run_s)
}
