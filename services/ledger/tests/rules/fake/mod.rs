//! Plugins in Rust behind the `Models` trait: wear that grows with what it has done already, so that
//! the order of records shows in the last bit.

mod cards;

pub use cards::{
    blank, channel, mate, mechanism, number, reader, reading, shock, slot, surface, wear_part,
};
use ringland_host::contract::{
    Card, Digest, Duty, Finding, Forecast, ForecastRequest, MechanismLife, ModelError, Models,
    Prepared, ReadingPath, Severity, Specimen,
};
use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};
use std::{
    collections::BTreeMap,
    sync::{
        Arc, Mutex,
        atomic::{AtomicBool, AtomicUsize, Ordering},
    },
};

/// A plugin's bytes: its card and how it behaves.
#[derive(Clone, Serialize, Deserialize)]
pub struct FakePlugin {
    pub card: Card,
    /// Wear for one unit of the first channel over one second.
    pub rate: f64,
    /// `advance` refuses duty faster than this in the first channel.
    pub refuses_above: f64,
    /// `forecast` traps.
    pub traps: bool,
    /// Spread of readings at a known rate, as a share of them.
    pub spread: f64,
}

impl FakePlugin {
    pub fn of(card: Card) -> Self {
        Self {
            card,
            rate: 1e-7,
            refuses_above: f64::INFINITY,
            traps: false,
            spread: 0.1,
        }
    }

    pub fn bytes(&self) -> Vec<u8> {
        rmp_serde::to_vec_named(self).unwrap()
    }
}

#[derive(Default)]
pub struct FakeModels {
    loaded: Mutex<BTreeMap<Digest, FakePlugin>>,
    /// `advance` fails as a host does that is out of memory.
    pub host_is_down: AtomicBool,
    pub advances: AtomicUsize,
    pub forecasts: AtomicUsize,
}

impl FakeModels {
    fn plugin(&self, digest: Digest) -> Result<FakePlugin, ModelError> {
        let loaded = self.loaded.lock().unwrap();
        loaded
            .get(&digest)
            .cloned()
            .ok_or(ModelError::Unknown(digest))
    }
}

pub fn sha256(parts: &[&[u8]]) -> Digest {
    let mut hash = Sha256::new();
    for part in parts {
        hash.update(part);
    }
    Digest(hash.finalize().into())
}

/// The wear of one duty for a part with this much of it.
fn wear(plugin: &FakePlugin, specimen: &Specimen, duty: &Duty, before: f64) -> f64 {
    let coefficient = specimen
        .surfaces
        .first()
        .and_then(|s| s.values.first())
        .copied()
        .unwrap_or(1.0);
    let empty = Vec::new();
    let first = duty.points.first().unwrap_or(&empty);
    let load: f64 = first.iter().zip(&duty.time_s).map(|(x, t)| x * t).sum();
    let mates: f64 = duty.mates.iter().sum();
    plugin.rate * coefficient * load * (1.0 + 0.1 * before) * (1.0 + mates)
}

/// What shocks and warmth add to the second slot.
fn heat(duty: &Duty) -> f64 {
    let shocks: f64 = duty
        .shocks
        .iter()
        .filter_map(|t| t.columns.last())
        .flatten()
        .sum();
    let second: f64 = match duty.points.get(1) {
        Some(column) => column.iter().zip(&duty.time_s).map(|(x, t)| x * t).sum(),
        None => 0.0,
    };
    1e-9 * (shocks + second)
}

impl Models for FakeModels {
    fn load(&self, bytes: &[u8]) -> Result<Digest, ModelError> {
        let plugin: FakePlugin =
            rmp_serde::from_slice(bytes).map_err(|error| ModelError::NotAPlugin {
                reason: error.to_string(),
                remedy: "send a plugin".into(),
            })?;
        let digest = sha256(&[bytes]);
        self.loaded.lock().unwrap().insert(digest, plugin);
        Ok(digest)
    }

    fn loaded(&self) -> Vec<Digest> {
        self.loaded.lock().unwrap().keys().copied().collect()
    }

    fn card(&self, plugin: Digest) -> Result<Arc<Card>, ModelError> {
        self.plugin(plugin).map(|plugin| Arc::new(plugin.card))
    }

    fn check(&self, plugin: Digest, specimen: &Specimen) -> Result<Vec<Finding>, ModelError> {
        let card = self.plugin(plugin)?.card;
        let fields = card.numbers.iter().zip(&specimen.numbers);
        let bad = fields.filter(|(field, value)| !(field.minimum..=field.maximum).contains(value));
        Ok(bad
            .map(|(field, value)| Finding {
                severity: Severity::Error,
                field: format!("spec.numbers.{}", field.name),
                value: value.to_string(),
                expected: format!("{} to {}", field.minimum, field.maximum),
                remedy: "correct it".into(),
            })
            .collect())
    }

    fn prepare(&self, plugin: Digest, specimen: &Specimen) -> Result<Prepared, ModelError> {
        let what = rmp_serde::to_vec_named(specimen).unwrap();
        let digest = sha256(&[&plugin.0, &what]);
        let findings = self.check(plugin, specimen)?;
        if findings.is_empty() {
            return Ok(Prepared {
                digest,
                table: Arc::new(vec![1.0]),
            });
        }
        Err(ModelError::Refused {
            plugin: "fake".into(),
            what: "spec",
            findings,
        })
    }

    fn begin(
        &self,
        plugin: Digest,
        _: &Specimen,
        _: &Prepared,
        opening: &[Option<f64>],
    ) -> Result<Vec<f64>, ModelError> {
        self.plugin(plugin)?;
        Ok(opening.iter().map(|slot| slot.unwrap_or(0.0)).collect())
    }

    fn advance(
        &self,
        plugin: Digest,
        specimen: &Specimen,
        _: &Prepared,
        condition: &[f64],
        duties: &[Duty],
    ) -> Result<Vec<Vec<f64>>, ModelError> {
        self.advances.fetch_add(1, Ordering::Relaxed);
        if self.host_is_down.load(Ordering::Relaxed) {
            return Err(ModelError::Host("out of memory".into()));
        }
        let plugin = self.plugin(plugin)?;
        let mut row = condition.to_vec();
        let mut rows = Vec::new();
        for duty in duties {
            if duty
                .points
                .first()
                .is_some_and(|p| p.iter().any(|x| *x > plugin.refuses_above))
            {
                return Err(ModelError::Misbehaved {
                    plugin: "fake".into(),
                    call: "advance",
                    reason: "trapped".into(),
                });
            }
            if let Some(slot) = row.first_mut() {
                *slot += wear(&plugin, specimen, duty, *slot);
            }
            if let Some(slot) = row.get_mut(1) {
                *slot += heat(duty);
            }
            rows.push(row.clone());
        }
        Ok(rows)
    }

    fn rework(
        &self,
        plugin: Digest,
        _: &Specimen,
        _: &Prepared,
        condition: &[f64],
        operation: u32,
    ) -> Result<Vec<f64>, ModelError> {
        self.plugin(plugin)?;
        let mut row = condition.to_vec();
        if let Some(slot) = row.get_mut(operation as usize) {
            *slot *= 0.25;
        }
        Ok(row)
    }

    fn forecast(
        &self,
        plugin: Digest,
        specimen: &Specimen,
        _: &Prepared,
        request: &ForecastRequest,
    ) -> Result<Forecast, ModelError> {
        self.forecasts.fetch_add(1, Ordering::Relaxed);
        let plugin = self.plugin(plugin)?;
        if plugin.traps {
            return Err(ModelError::Misbehaved {
                plugin: "fake".into(),
                call: "forecast",
                reason: "trapped".into(),
            });
        }
        let limit = specimen.numbers.first().copied().unwrap_or(1.0);
        let slot = |i: usize| request.condition.get(i).copied().unwrap_or(0.0);
        let growth = |i: usize| match i {
            0 => wear(&plugin, specimen, &request.event, slot(0)),
            _ => heat(&request.event),
        };
        let readings = (0..plugin.card.readings.len()).map(|i| {
            // A reading that informs a mechanism shows its rate.
            let informs = plugin.card.readings[i].informs.as_ref();
            let named = |name: &String| plugin.card.mechanisms.iter().position(|m| m.name == *name);
            let rate = informs
                .and_then(named)
                .map(|m| request.rates[m].ln_mean.exp());
            let median: Vec<f64> = request
                .ahead_events
                .iter()
                .map(|n| rate.unwrap_or(1.0) * (slot(i) + n * growth(i)))
                .collect();
            ReadingPath {
                low: median.iter().map(|x| x * (1.0 - plugin.spread)).collect(),
                high: median.iter().map(|x| x * (1.0 + plugin.spread)).collect(),
                median,
                limit: Some(limit),
            }
        });
        let mechanisms = request.rates.iter().enumerate().map(|(i, rate)| {
            let worn = rate.ln_mean.exp() * slot(i);
            let lives: Vec<f64> = (0..request.samples)
                .map(|draw| {
                    let z = normal(request.seed, draw);
                    let rate = (rate.ln_mean + rate.ln_sd * z).exp() * growth(i);
                    let life = ((limit - worn) / rate).max(0.0);
                    if life < request.horizon_events {
                        life
                    } else {
                        request.horizon_events
                    }
                })
                .collect();
            let early = lives.iter().filter(|life| **life <= 1.0).count();
            let kinds = plugin.card.duty.shocks.len();
            let of_shocks = if kinds > 0 { 0.5 } else { 0.0 };
            let total: f64 = request.event.time_s.iter().sum();
            MechanismLife {
                risk_next_event: early as f64 / lives.len() as f64,
                lives_events: lives,
                point_shares: request
                    .event
                    .time_s
                    .iter()
                    .map(|t| (1.0 - of_shocks) * t / total)
                    .collect(),
                shock_shares: vec![of_shocks / kinds.max(1) as f64; kinds],
            }
        });
        Ok(Forecast {
            mechanisms: mechanisms.collect(),
            readings: readings.collect(),
            notes: Vec::new(),
        })
    }
}

/// About normal: the sum of twelve uniform numbers, less six.
fn normal(seed: u64, draw: u32) -> f64 {
    let uniform = |i: u64| {
        let mut x = seed ^ (u64::from(draw) << 32 | i).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        x = (x ^ (x >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        x = (x ^ (x >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((x ^ (x >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    };
    (0..12).map(uniform).sum::<f64>() - 6.0
}
