//! A model without a sandbox, whose every figure can be worked out by hand: plates wear evenly with
//! time under duty, down to a limit.

use ringland_host::contract::{
    Card, ChannelNeed, Consequence, Digest, Duty, DutyNeed, Finding, Forecast, ForecastRequest,
    LimitSide, Mechanism, MechanismLife, ModelError, Models, NumberField, Operation, Prepared,
    ReadingField, ReadingPath, Severity, Slot, Specimen, SurfaceField, Trend,
};
use sha2::{Digest as _, Sha256};
use std::{
    collections::BTreeMap,
    sync::{Arc, Mutex},
};

/// Bytes that the fake takes for a plugin, of the given version.
pub fn plugin(version: &str) -> Vec<u8> {
    format!("fake plugin {version}").into_bytes()
}

/// Wear of each second of duty, of a face with a coefficient of 1.
const WEAR_M_PER_S: f64 = 1e-8;

fn wear_m_per_s(specimen: &Specimen) -> f64 {
    let face = specimen.surfaces.first();
    let coefficient = face.and_then(|face| face.values.first());
    WEAR_M_PER_S * coefficient.copied().unwrap_or(1.0)
}

#[derive(Default)]
pub struct FakeModels {
    cards: Mutex<BTreeMap<Digest, Arc<Card>>>,
}

impl FakeModels {
    fn of(&self, plugin: Digest) -> Result<Arc<Card>, ModelError> {
        let cards = self.cards.lock().unwrap();
        cards
            .get(&plugin)
            .cloned()
            .ok_or(ModelError::Unknown(plugin))
    }
}

impl Models for FakeModels {
    fn load(&self, bytes: &[u8]) -> Result<Digest, ModelError> {
        let text = String::from_utf8_lossy(bytes);
        let Some(version) = text.strip_prefix("fake plugin ") else {
            return Err(ModelError::NotAPlugin {
                reason: "no component".into(),
                remedy: "build for wasm32-wasip2".into(),
            });
        };
        if version.starts_with("9.") {
            return Err(ModelError::NotAPlugin {
                reason: "it wants ringland:plugin@9.0.0".into(),
                remedy: "build against version 1".into(),
            });
        }
        let digest = Digest(Sha256::digest(bytes).into());
        self.cards
            .lock()
            .unwrap()
            .insert(digest, Arc::new(card(version)));
        Ok(digest)
    }

    fn loaded(&self) -> Vec<Digest> {
        self.cards.lock().unwrap().keys().copied().collect()
    }

    fn card(&self, plugin: Digest) -> Result<Arc<Card>, ModelError> {
        self.of(plugin)
    }

    fn check(&self, plugin: Digest, specimen: &Specimen) -> Result<Vec<Finding>, ModelError> {
        let card = self.of(plugin)?;
        let wrong = card
            .numbers
            .iter()
            .zip(&specimen.numbers)
            .filter(|(field, value)| !(field.minimum..=field.maximum).contains(*value));
        let finding = |(field, value): (&NumberField, &f64)| Finding {
            severity: Severity::Error,
            field: format!("spec.numbers.{}", field.name),
            value: value.to_string(),
            expected: format!("{} to {} m", field.minimum, field.maximum),
            remedy: "measure it again".into(),
        };
        Ok(wrong.map(finding).collect())
    }

    fn prepare(&self, plugin: Digest, specimen: &Specimen) -> Result<Prepared, ModelError> {
        self.of(plugin)?;
        let text = format!("{plugin}{specimen:?}");
        Ok(Prepared {
            digest: Digest(Sha256::digest(text).into()),
            table: Arc::new(vec![1.0]),
        })
    }

    fn begin(
        &self,
        plugin: Digest,
        _specimen: &Specimen,
        _prepared: &Prepared,
        opening: &[Option<f64>],
    ) -> Result<Vec<f64>, ModelError> {
        self.of(plugin)?;
        Ok(vec![opening.first().copied().flatten().unwrap_or(0.0)])
    }

    fn advance(
        &self,
        plugin: Digest,
        specimen: &Specimen,
        _prepared: &Prepared,
        condition: &[f64],
        duties: &[Duty],
    ) -> Result<Vec<Vec<f64>>, ModelError> {
        self.of(plugin)?;
        let mut wear = condition.first().copied().unwrap_or(0.0);
        Ok(duties
            .iter()
            .map(|duty| {
                wear += wear_m_per_s(specimen) * duty.duration_s;
                vec![wear]
            })
            .collect())
    }

    fn rework(
        &self,
        plugin: Digest,
        _specimen: &Specimen,
        _prepared: &Prepared,
        _condition: &[f64],
        _operation: u32,
    ) -> Result<Vec<f64>, ModelError> {
        self.of(plugin)?;
        Ok(vec![0.0])
    }

    fn forecast(
        &self,
        plugin: Digest,
        specimen: &Specimen,
        _prepared: &Prepared,
        request: &ForecastRequest,
    ) -> Result<Forecast, ModelError> {
        self.of(plugin)?;
        let thickness = specimen.numbers.first().copied().unwrap_or(0.0);
        let wear = request.condition.first().copied().unwrap_or(0.0);
        let each_event = wear_m_per_s(specimen) * request.event.duration_s;
        let left = ((1e-3 - wear) / each_event).clamp(0.0, request.horizon_events);
        let path: Vec<f64> = request
            .ahead_events
            .iter()
            .map(|ahead| thickness - wear - ahead * each_event)
            .collect();
        Ok(Forecast {
            readings: vec![ReadingPath {
                low: path.clone(),
                median: path.clone(),
                high: path,
                limit: Some(thickness - 1e-3),
            }],
            mechanisms: vec![MechanismLife {
                lives_events: vec![left; request.samples as usize],
                risk_next_event: if left < 1.0 { 1.0 } else { 0.0 },
                point_shares: shares(&request.event),
                shock_shares: vec![0.0; request.event.shocks.len()],
            }],
            notes: Vec::new(),
        })
    }
}

/// By time.
fn shares(event: &Duty) -> Vec<f64> {
    let total: f64 = event.time_s.iter().sum();
    event.time_s.iter().map(|time| time / total).collect()
}

fn card(version: &str) -> Card {
    Card {
        component_type: "test_plate".into(),
        label: "Test plate".into(),
        version: version.into(),
        description: "Wears evenly with time".into(),
        numbers: vec![NumberField {
            name: "thickness_m".into(),
            label: "Thickness".into(),
            unit: "m".into(),
            minimum: 2e-3,
            maximum: 1e-2,
            default_value: 3e-3,
            note: "invented for the test".into(),
        }],
        choices: Vec::new(),
        tables: Vec::new(),
        surfaces: vec![SurfaceField {
            name: "face".into(),
            label: "Face".into(),
            properties: vec![NumberField {
                name: "wear_coefficient_m2_n".into(),
                label: "Wear coefficient".into(),
                unit: "m2/N".into(),
                minimum: 1e-3,
                maximum: 1e3,
                default_value: 1.0,
                note: "invented for the test".into(),
            }],
            residual_stress: false,
            note: String::new(),
        }],
        condition: vec![Slot {
            name: "wear_m".into(),
            label: "Wear".into(),
            unit: "m".into(),
            trend: Trend::Rising,
            minimum: 0.0,
            maximum: 1.0,
        }],
        readings: vec![ReadingField {
            name: "thickness_m".into(),
            label: "Thickness".into(),
            unit: "m".into(),
            limit_side: LimitSide::Below,
            limit_source: "invented for the test".into(),
            instrument: "micrometer".into(),
            instrument_sd: 2e-6,
            instrument_sd_relative: 0.0,
            informs: Some("wear".into()),
        }],
        mechanisms: vec![Mechanism {
            name: "wear".into(),
            label: "Wear".into(),
            consequence: Consequence::PowerLoss,
            life_ends_when: "1 mm is worn away".into(),
            reading: Some("thickness_m".into()),
            rate_ln_sd: 0.3,
        }],
        duty: DutyNeed {
            channels: vec![ChannelNeed {
                name: "engine_speed_rad_s".into(),
                required: true,
                default_value: 0.0,
                note: "says that it ran".into(),
            }],
            ..DutyNeed::default()
        },
        operations: vec![Operation {
            name: "replace_plates".into(),
            label: "Replace plates".into(),
            note: "resets all".into(),
        }],
        constants: Vec::new(),
        references: vec!["none; invented for the test".into()],
        leaves_out: vec!["everything else".into()],
        cautions: vec!["A test, not a life.".into()],
    }
}
