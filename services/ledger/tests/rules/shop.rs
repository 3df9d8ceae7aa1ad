//! A shop to test in: a ledger on a counting store, and short words for its calls.

use crate::fake::{FakeModels, FakePlugin, sha256, wear_part};
use jiff::{SignedDuration, Timestamp};
use ringland_host::contract::{Card, Digest, DutyShocks, DutyTable};
use ringland_ledger::{
    BuildInput, BuildName, Change, ComponentInput, ComponentName, Ledger, LedgerError,
    LedgerOptions, PageRequest, PredictRequest, Prediction, PredictionName, ProfileInput,
    ProfileName, RecordDuty, RecordDutyResponse, UnitInput, UnitKind, UnitName,
};
use ringland_store::{Batch, MemoryStore, Row, Store, StoreError, Table};
use std::sync::{
    Arc, Mutex,
    atomic::{AtomicI64, AtomicUsize, Ordering},
};

/// Counts what is asked of it, and fails when told to.
#[derive(Default)]
pub struct CountingStore {
    pub inner: MemoryStore,
    pub reads: AtomicUsize,
    pub rows: AtomicUsize,
    pub commits: AtomicUsize,
    pub writes: AtomicUsize,
    /// Commits with writes that are still to be refused as conflicts.
    pub conflicts: AtomicUsize,
    /// Commits with writes that are still to fail without a trace.
    pub failures: AtomicUsize,
}

fn take_one(counter: &AtomicUsize) -> bool {
    counter
        .fetch_update(Ordering::Relaxed, Ordering::Relaxed, |n| n.checked_sub(1))
        .is_ok()
}

impl CountingStore {
    /// Reads, rows read, commits and rows written so far.
    pub fn counts(&self) -> [usize; 4] {
        [&self.reads, &self.rows, &self.commits, &self.writes].map(|n| n.load(Ordering::Relaxed))
    }

    /// Everything in some tables.
    pub fn dump(&self, tables: &[Table]) -> Vec<Vec<Row>> {
        tables
            .iter()
            .map(|table| self.inner.scan(*table, b"", None, usize::MAX).unwrap())
            .collect()
    }
}

/// The log.
pub const LOG: [Table; 12] = [
    Table::Units,
    Table::Builds,
    Table::Components,
    Table::Revisions,
    Table::Installations,
    Table::Reworks,
    Table::Duty,
    Table::Profiles,
    Table::Requests,
    Table::Plugins,
    Table::Activations,
    Table::Inspections,
];

impl Store for CountingStore {
    fn get(&self, table: Table, key: &[u8]) -> Result<Option<Vec<u8>>, StoreError> {
        self.reads.fetch_add(1, Ordering::Relaxed);
        self.inner.get(table, key)
    }

    fn scan(
        &self,
        table: Table,
        prefix: &[u8],
        after: Option<&[u8]>,
        limit: usize,
    ) -> Result<Vec<Row>, StoreError> {
        self.reads.fetch_add(1, Ordering::Relaxed);
        let rows = self.inner.scan(table, prefix, after, limit)?;
        self.rows.fetch_add(rows.len(), Ordering::Relaxed);
        Ok(rows)
    }

    fn last(
        &self,
        table: Table,
        prefix: &[u8],
        up_to: Option<&[u8]>,
    ) -> Result<Option<Row>, StoreError> {
        self.reads.fetch_add(1, Ordering::Relaxed);
        self.inner.last(table, prefix, up_to)
    }

    fn commit(&self, batch: &Batch) -> Result<(), StoreError> {
        self.commits.fetch_add(1, Ordering::Relaxed);
        self.writes.fetch_add(batch.writes.len(), Ordering::Relaxed);
        if !batch.writes.is_empty() {
            if take_one(&self.conflicts) {
                return Err(StoreError::Conflict {
                    table: Table::Units,
                    key: Vec::new(),
                });
            }
            if take_one(&self.failures) {
                return Err(StoreError::Engine("disk full".into()));
            }
        }
        self.inner.commit(batch)
    }
}

pub struct Shop {
    pub ledger: Ledger,
    pub store: Arc<CountingStore>,
    pub models: Arc<FakeModels>,
    pub changes: Arc<Mutex<Vec<Change>>>,
}

/// Hours after the shop's beginning.
pub fn at(hours: f64) -> Timestamp {
    let start: Timestamp = "2026-01-01T00:00:00Z".parse().unwrap();
    start + SignedDuration::from_secs_f64(hours * 3600.0)
}

pub fn unit(id: &str) -> UnitName {
    UnitName::new(id).unwrap()
}

pub fn build(unit: &str, id: &str) -> BuildName {
    BuildName::new(unit, id).unwrap()
}

pub fn part(id: &str) -> ComponentName {
    ComponentName::new(id).unwrap()
}

pub fn profile(id: &str) -> ProfileName {
    ProfileName::new(id).unwrap()
}

pub fn page(page_size: i32, page_token: &str) -> PageRequest {
    PageRequest {
        page_size,
        page_token: page_token.into(),
    }
}

pub fn engine() -> UnitInput {
    UnitInput {
        kind: UnitKind::Engine,
        ..UnitInput::default()
    }
}

/// So many hours at one speed, with a start from cold.
pub fn steady(hours: f64, speed_rad_s: f64) -> DutyTable {
    let duration_s = hours * 3600.0;
    DutyTable {
        duration_s,
        channels: vec!["engine_speed_rad_s".into(), "engine_torque_n_m".into()],
        time_s: vec![0.25 * duration_s, 0.75 * duration_s],
        points: vec![vec![speed_rad_s, 0.8 * speed_rad_s], vec![300.0, 120.0]],
        cycles: Vec::new(),
        shocks: vec![DutyShocks {
            kind: "start".into(),
            fields: vec!["start_s".into(), "duration_s".into(), "oil_temp_k".into()],
            columns: vec![vec![0.0], vec![1.0], vec![300.0]],
        }],
    }
}

/// A record of one hour.
pub fn log(unit_id: &str, request_id: &str, start_h: f64, speed_rad_s: f64) -> RecordDuty {
    RecordDuty {
        unit: unit(unit_id),
        request_id: request_id.into(),
        start_time: at(start_h),
        session: "race".into(),
        source: "dyno cell 2".into(),
        events: Some(0.5),
        content_sha256: sha256(&[request_id.as_bytes(), &speed_rad_s.to_be_bytes()]).to_string(),
        duty: steady(1.0, speed_rad_s),
        intake_report: None,
    }
}

impl Shop {
    pub fn with(options: LedgerOptions) -> Self {
        let store = Arc::new(CountingStore::default());
        let models = Arc::new(FakeModels::default());
        let changes = Arc::new(Mutex::new(Vec::new()));
        let seen = changes.clone();
        // Every look at the clock gives another time: nothing derived may follow it.
        let ticks = AtomicI64::new(1_900_000_000);
        let options = LedgerOptions {
            clock: Arc::new(move || {
                Timestamp::from_second(ticks.fetch_add(1, Ordering::Relaxed)).unwrap()
            }),
            on_change: Arc::new(move |change| seen.lock().unwrap().push(change)),
            ..options
        };
        let ledger = Ledger::open(store.clone(), models.clone(), options).unwrap();
        Self {
            ledger,
            store,
            models,
            changes,
        }
    }

    /// Two engines with an open build each, the wear part's model, a profile.
    pub fn open() -> Self {
        Self::opened(LedgerOptions {
            samples: 64,
            ..LedgerOptions::default()
        })
    }

    pub fn opened(options: LedgerOptions) -> Self {
        let shop = Self::with(options);
        shop.activate(&FakePlugin::of(wear_part()));
        shop.profile("race", steady(2.0, 800.0));
        for id in ["engine-a", "engine-b"] {
            let input = UnitInput {
                event_profile: Some(profile("race")),
                ..engine()
            };
            shop.ledger.create_unit(id, input, "").unwrap();
            shop.build(id, "b1", 0.0);
        }
        shop
    }

    pub fn activate(&self, plugin: &FakePlugin) -> Digest {
        let model = self.ledger.install_model(&plugin.bytes()).unwrap();
        self.ledger.activate_model(model.name, "").unwrap();
        model.name.0
    }

    pub fn activate_card(&self, card: Card) -> Digest {
        self.activate(&FakePlugin::of(card))
    }

    pub fn profile(&self, id: &str, duty: DutyTable) {
        let input = ProfileInput {
            duty: Some(duty),
            ..ProfileInput::default()
        };
        self.ledger.create_profile(id, input, "").unwrap();
    }

    pub fn build(&self, unit_id: &str, id: &str, hours: f64) {
        let input = BuildInput {
            assembly_time: Some(at(hours)),
            ..BuildInput::default()
        };
        self.ledger
            .create_build(&unit(unit_id), id, input, "")
            .unwrap();
    }

    pub fn part(&self, id: &str, component_type: &str) -> ComponentName {
        let input = ComponentInput {
            component_type: component_type.into(),
            ..ComponentInput::default()
        };
        self.ledger.create_component(id, input, "").unwrap().name
    }

    /// A component in the first build of a unit from the beginning.
    pub fn installed(&self, id: &str, component_type: &str, unit_id: &str) -> ComponentName {
        let name = self.part(id, component_type);
        self.ledger
            .install_component(&name, &build(unit_id, "b1"), "", at(0.0), "")
            .unwrap();
        name
    }

    pub fn run(&self, unit_id: &str, start_h: f64, speed: f64) -> RecordDutyResponse {
        let request_id = format!("{unit_id}-{start_h}");
        self.ledger
            .record_duty(log(unit_id, &request_id, start_h, speed))
            .unwrap()
    }

    pub fn predict(&self, component: &ComponentName) -> Result<Prediction, LedgerError> {
        let request = PredictRequest {
            profile: Some(profile("race")),
            ..PredictRequest::of(component.clone())
        };
        self.ledger.predict(&request)
    }

    /// The slot `wear` of a component now.
    pub fn wear(&self, component: &ComponentName) -> f64 {
        self.predict(component).unwrap().provenance.condition["wear"]
    }
}

/// A prediction without its number and its time of entry.
pub fn content(mut prediction: Prediction) -> Prediction {
    let component = prediction.component.component().to_owned();
    prediction.name = PredictionName::new(&component, "0").unwrap();
    prediction.create_time = Timestamp::UNIX_EPOCH;
    prediction
}
