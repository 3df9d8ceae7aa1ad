//! What one more duty record costs a ledger with a long history, and what a record takes on disk.

use crate::{duty::race, median, seconds, wasm::default_specimen};
use jiff::{SignedDuration, Timestamp};
use ringland_host::{Limits, WasmModels, contract::Models};
use ringland_ledger::{
    BuildInput, ComponentInput, ComponentName, Ledger, LedgerOptions, PredictRequest, ProfileInput,
    RecordDuty, UnitInput, UnitKind, UnitName, parse_name,
};
use ringland_store::{SledOptions, SledStore};
use ringland_tests::plugin;
use std::{error::Error, sync::Arc};

const HISTORIES: [usize; 3] = [10, 1_000, 100_000];
const ROWS: usize = 20;
const MORE: usize = 15;

pub fn run() -> Result<(), Box<dyn Error>> {
    let folder = tempfile::TempDir::new()?;
    let store = Arc::new(SledStore::open(&SledOptions::new(
        folder.path().join("data"),
    ))?);
    let models = Arc::new(WasmModels::new(
        Limits::default(),
        &folder.path().join("cache"),
    )?);
    let ledger = Ledger::open(store.clone(), models.clone(), LedgerOptions::default())?;
    let bytes = std::fs::read(plugin("ringland-plugin-ring-pack"))?;
    let model = ledger.install_model(&bytes)?;
    ledger.activate_model(model.name, "")?;
    let digest = models.loaded()[0];
    models.prepare(digest, &default_specimen(&*models.card(digest)?))?;

    let unit: UnitName = parse_name("unit", "units/bench")?;
    let engine = UnitInput {
        kind: UnitKind::Engine,
        ..Default::default()
    };
    ledger.create_unit("bench", engine, "")?;
    let start: Timestamp = "2026-01-01T00:00:00Z".parse()?;
    let build = BuildInput {
        assembly_time: Some(start),
        ..Default::default()
    };
    let build = ledger.create_build(&unit, "b1", build, "")?;
    let rings = ComponentInput {
        component_type: "ring_pack".into(),
        ..Default::default()
    };
    let rings = ledger.create_component("rings", rings, "")?.name;
    ledger.install_component(&rings, &build.name, "", start, "")?;
    let profile = ProfileInput {
        duty: Some(race(ROWS)),
        ..Default::default()
    };
    let profile = ledger.create_profile("event", profile, "")?.name;

    let bench = Bench {
        ledger: &ledger,
        unit,
        rings,
        start,
    };
    let request = PredictRequest {
        profile: Some(profile),
        ..PredictRequest::of(bench.rings.clone())
    };
    let (mut recorded, mut first) = (0, None);
    for history in HISTORIES {
        let before = store.size_on_disk()?;
        let filled = history - recorded;
        bench.fill(&mut recorded, history)?;
        ledger.predict(&request)?; // folds what was filled in
        let bytes = store.size_on_disk()?.saturating_sub(before) as f64 / filled as f64;
        let mut costs = Vec::new();
        for _ in 0..MORE {
            let error = std::cell::Cell::new(None);
            costs.push(seconds(|| {
                let done = bench
                    .record(recorded)
                    .and_then(|()| Ok(ledger.predict(&request).map(|_| ())?));
                error.set(done.err());
            }));
            if let Some(error) = error.take() {
                return Err(error);
            }
            recorded += 1;
        }
        let cost = median(costs);
        let first = *first.get_or_insert(cost);
        println!(
            "  {history:>6} records: one more, recorded durably, folded and predicted, {:.1} ms, ratio to the first {:.2}; {bytes:.0} bytes on disk a record of {ROWS} operating points",
            cost * 1e3,
            cost / first
        );
    }
    Ok(())
}

struct Bench<'a> {
    ledger: &'a Ledger,
    unit: UnitName,
    rings: ComponentName,
    start: Timestamp,
}

impl Bench<'_> {
    fn record(&self, number: usize) -> Result<(), Box<dyn Error>> {
        let mut duty = race(ROWS);
        // Shorter records, so that a hundred thousand fit between one build and its teardown.
        let share = 60.0 / duty.duration_s;
        duty.duration_s = 60.0;
        duty.time_s.iter_mut().for_each(|time| *time *= share);
        let after = SignedDuration::from_secs(120 * number as i64 + 60);
        self.ledger.record_duty(RecordDuty {
            unit: self.unit.clone(),
            request_id: format!("record-{number}"),
            start_time: self.start.checked_add(after)?,
            session: "bench".into(),
            source: String::new(),
            events: None,
            content_sha256: format!("{number:064x}"),
            duty,
            intake_report: None,
        })?;
        Ok(())
    }

    /// Records up to `total`, from many threads: the store commits in groups.
    fn fill(&self, recorded: &mut usize, total: usize) -> Result<(), Box<dyn Error>> {
        let next = std::sync::atomic::AtomicUsize::new(*recorded);
        let failure = std::sync::Mutex::new(None);
        std::thread::scope(|scope| {
            for _ in 0..64 {
                scope.spawn(|| {
                    loop {
                        let number = next.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
                        if number >= total {
                            return;
                        }
                        if let Err(error) = self.record(number) {
                            if let Ok(mut failure) = failure.lock() {
                                *failure = Some(error.to_string());
                            }
                            return;
                        }
                    }
                });
            }
        });
        *recorded = (*recorded).max(total);
        match failure.into_inner().ok().flatten() {
            Some(error) => Err(error.into()),
            None => Ok(()),
        }
    }
}
