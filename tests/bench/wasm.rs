//! The ring-pack model in its sandbox against the same code compiled for this machine.

use crate::{compare, duty::race};
use ringland_host::{
    Limits, WasmModels,
    contract::{Card, Duty, ForecastRequest, Models, Rate, Specimen, Surface, Table},
};
use ringland_plugin::{self as guest, Model};
use ringland_plugin_ring_pack::RingPack;
use ringland_tests::plugin;

pub fn run() -> Result<(), Box<dyn std::error::Error>> {
    let cache = tempfile::TempDir::new()?;
    let models = WasmModels::new(Limits::default(), cache.path())?;
    let digest = models.load(&std::fs::read(plugin("ringland-plugin-ring-pack"))?)?;
    let card = models.card(digest)?;
    let specimen = default_specimen(&card);
    let native_specimen = guest::default_specimen(&RingPack::card());
    let duty = race(400)
        .for_card(&card)
        .map_err(|missing| missing.join(", "))?;
    let native_duty = native(&duty);

    // A fresh cache each time, so that the sandbox prepares and does not remember.
    let (prepare_wasm, prepare_native) = compare(
        3,
        || {
            let cache = tempfile::TempDir::new().expect("a folder");
            let models = WasmModels::new(Limits::default(), cache.path()).expect("a host");
            let bytes = std::fs::read(plugin("ringland-plugin-ring-pack")).expect("the plugin");
            let digest = models.load(&bytes).expect("it loads");
            models.prepare(digest, &specimen).expect("a map");
        },
        || {
            RingPack::prepare(native_specimen.clone()).expect("a map");
        },
    );
    println!(
        "  prepare (compiling the plugin included): {prepare_wasm:.2} s in the sandbox, {prepare_native:.2} s native, ratio {:.2}",
        prepare_wasm / prepare_native
    );

    let prepared = models.prepare(digest, &specimen)?;
    let opening = vec![None; card.condition.len()];
    let condition = models.begin(digest, &specimen, &prepared, &opening)?;
    const CALLS: usize = 200;
    let duties = vec![duty.clone()];
    let native_duties = vec![native_duty.clone()];
    let (wasm_s, native_s) = compare(
        9,
        || {
            (0..CALLS).for_each(|_| {
                models
                    .advance(digest, &specimen, &prepared, &condition, &duties)
                    .expect("advances");
            })
        },
        || {
            (0..CALLS).for_each(|_| {
                RingPack::advance(
                    native_specimen.clone(),
                    prepared.table.to_vec(),
                    condition.clone(),
                    native_duties.clone(),
                )
                .expect("advances");
            })
        },
    );
    report("advance, one record of 400 points", CALLS, wasm_s, native_s);

    let many = vec![duty.clone(); 100];
    let native_many = vec![native_duty.clone(); 100];
    let (wasm_s, native_s) = compare(
        9,
        || {
            models
                .advance(digest, &specimen, &prepared, &condition, &many)
                .expect("advances");
        },
        || {
            RingPack::advance(
                native_specimen.clone(),
                prepared.table.to_vec(),
                condition.clone(),
                native_many.clone(),
            )
            .expect("advances");
        },
    );
    report(
        "advance, for each of 100 records in one call",
        100,
        wasm_s,
        native_s,
    );

    let request = ForecastRequest {
        condition: condition.clone(),
        event: duty,
        rates: card
            .mechanisms
            .iter()
            .map(|m| Rate {
                ln_mean: 0.0,
                ln_sd: m.rate_ln_sd,
            })
            .collect(),
        samples: 512,
        seed: 1,
        horizon_events: 200.0,
        ahead_events: vec![0.0, 1.0, 2.0, 4.0, 8.0, 16.0],
    };
    let native_request = guest::ForecastRequest {
        condition: request.condition.clone(),
        event: native_duty,
        rates: request
            .rates
            .iter()
            .map(|r| guest::Rate {
                ln_mean: r.ln_mean,
                ln_sd: r.ln_sd,
            })
            .collect(),
        samples: request.samples,
        seed: request.seed,
        horizon_events: request.horizon_events,
        ahead_events: request.ahead_events.clone(),
    };
    let (wasm_s, native_s) = compare(
        9,
        || {
            (0..CALLS).for_each(|_| {
                models
                    .forecast(digest, &specimen, &prepared, &request)
                    .expect("forecasts");
            })
        },
        || {
            (0..CALLS).for_each(|_| {
                RingPack::forecast(
                    native_specimen.clone(),
                    prepared.table.to_vec(),
                    native_request.clone(),
                )
                .expect("forecasts");
            })
        },
    );
    report("forecast, 512 draws", CALLS, wasm_s, native_s);
    Ok(())
}

fn report(what: &str, calls: usize, wasm_s: f64, native_s: f64) {
    let us = |s: f64| s / calls as f64 * 1e6;
    println!(
        "  {what}: {:.0} us in the sandbox, {:.0} us native, ratio {:.2}",
        us(wasm_s),
        us(native_s),
        wasm_s / native_s
    );
}

/// The card's defaults.
pub fn default_specimen(card: &Card) -> Specimen {
    let table = |t: &ringland_host::contract::TableField| Table {
        columns: t.default_columns.clone(),
    };
    let surface = |s: &ringland_host::contract::SurfaceField| Surface {
        values: s.properties.iter().map(|p| p.default_value).collect(),
        ln_sd: vec![0.0; s.properties.len()],
        ..Default::default()
    };
    Specimen {
        numbers: card.numbers.iter().map(|n| n.default_value).collect(),
        choices: card.choices.iter().map(|c| c.default_option).collect(),
        tables: card.tables.iter().map(table).collect(),
        surfaces: card.surfaces.iter().map(surface).collect(),
    }
}

/// The same duty as the plugin's own type.
fn native(duty: &Duty) -> guest::Duty {
    let table = |t: &Table| guest::Table {
        columns: t.columns.clone(),
    };
    let cycles = duty.cycles.iter().map(|c| guest::LoadCycles {
        ranges: c.ranges.clone(),
        means: c.means.clone(),
        counts: c.counts.clone(),
    });
    guest::Duty {
        duration_s: duty.duration_s,
        time_s: duty.time_s.clone(),
        points: duty.points.clone(),
        cycles: cycles.collect(),
        shocks: duty.shocks.iter().map(table).collect(),
        mates: duty.mates.clone(),
    }
}
