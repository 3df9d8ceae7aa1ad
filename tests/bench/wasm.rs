//! Every model in its sandbox against the same code compiled for this machine.

use crate::{compare, duty::race};
use ringland_host::{
    Limits, WasmModels,
    contract::{Card, Duty, ForecastRequest, Models, Rate, Specimen, Surface, Table},
};
use ringland_plugin::{self as guest, Model};
use ringland_tests::plugin;
use std::error::Error;

/// Records in one call of `advance`.
const RECORDS: usize = 100;
/// Operating points of a record and of the event ahead.
const POINTS: usize = 30;
/// Calls of `forecast` in a round.
const FORECASTS: usize = 100;
const ROUNDS: usize = 7;

pub fn run() -> Result<(), Box<dyn Error>> {
    measure::<ringland_plugin_axle_shaft::AxleShaft>("axle-shaft")?;
    measure::<ringland_plugin_cam_follower::CamFollower>("cam-follower")?;
    measure::<ringland_plugin_connecting_rod::ConnectingRod>("connecting-rod")?;
    measure::<ringland_plugin_crankshaft::Crankshaft>("crankshaft")?;
    measure::<ringland_plugin_cv_joint::CvJoint>("cv-joint")?;
    measure::<ringland_plugin_cylinder_bore::CylinderBore>("cylinder-bore")?;
    measure::<ringland_plugin_dry_clutch::DryClutch>("dry-clutch")?;
    measure::<ringland_plugin_final_drive::FinalDrive>("final-drive")?;
    measure::<ringland_plugin_gear_set::GearSet>("gear-set")?;
    measure::<ringland_plugin_limited_slip::LimitedSlip>("limited-slip")?;
    measure::<ringland_plugin_piston::Piston>("piston")?;
    measure::<ringland_plugin_piston_pin::PistonPin>("piston-pin")?;
    measure::<ringland_plugin_plain_bearing::PlainBearing>("plain-bearing")?;
    measure::<ringland_plugin_ring_pack::RingPack>("ring-pack")?;
    measure::<ringland_plugin_rod_bolt::RodBolt>("rod-bolt")?;
    measure::<ringland_plugin_rolling_bearing::RollingBearing>("rolling-bearing")?;
    measure::<ringland_plugin_spring_retainer::SpringRetainer>("spring-retainer")?;
    measure::<ringland_plugin_valve::Valve>("valve")?;
    measure::<ringland_plugin_valve_guide::ValveGuide>("valve-guide")?;
    measure::<ringland_plugin_valve_spring::ValveSpring>("valve-spring")?;
    measure::<ringland_plugin_wet_clutch::WetClutch>("wet-clutch")
}

/// Prints microseconds and ratios of one model. Preparing leaves out the compilation of the plugin, which is cached.
fn measure<M: Model>(name: &str) -> Result<(), Box<dyn Error>> {
    let cache = tempfile::TempDir::new()?;
    let models = WasmModels::new(Limits::default(), cache.path())?;
    let digest = models.load(&std::fs::read(plugin(&format!("ringland-plugin-{name}")))?)?;
    let card = models.card(digest)?;
    let specimen = default_specimen(&card);
    let native_specimen = guest::default_specimen(&M::card());
    let duty = race(POINTS)
        .for_card(&card)
        .map_err(|missing| missing.join(", "))?;
    let native_duty = native(&duty);
    println!("  {name}");

    let mut nudge = 0.0;
    let prepared = compare(
        3,
        || {
            // Another specimen each time, so that the sandbox prepares and does not remember.
            nudge += 1e-9;
            let mut other = specimen.clone();
            // A surface's: the first number may be a count.
            let surface = other.surfaces.first_mut();
            let value = surface.and_then(|surface| surface.values.first_mut());
            *value.unwrap_or(&mut other.numbers[0]) *= 1.0 + nudge;
            models.prepare(digest, &other).expect("a map");
        },
        || {
            M::prepare(native_specimen.clone()).expect("a map");
        },
    );
    report("prepare", 1, prepared);

    let prepared = models.prepare(digest, &specimen)?;
    let opening = vec![None; card.condition.len()];
    let condition = models.begin(digest, &specimen, &prepared, &opening)?;
    let many = vec![duty.clone(); RECORDS];
    let native_many = vec![native_duty.clone(); RECORDS];
    let advanced = compare(
        ROUNDS,
        || {
            models
                .advance(digest, &specimen, &prepared, &condition, &many)
                .expect("advances");
        },
        || {
            let (specimen, table) = (native_specimen.clone(), prepared.table.to_vec());
            M::advance(specimen, table, condition.clone(), native_many.clone()).expect("advances");
        },
    );
    report("advance, a record of 30 points", RECORDS, advanced);

    let request = request(&card, condition, duty);
    let native_request = native_request(&request, native_duty);
    let forecast = compare(
        ROUNDS,
        || {
            for _ in 0..FORECASTS {
                models
                    .forecast(digest, &specimen, &prepared, &request)
                    .expect("forecasts");
            }
        },
        || {
            for _ in 0..FORECASTS {
                let (specimen, table) = (native_specimen.clone(), prepared.table.to_vec());
                M::forecast(specimen, table, native_request.clone()).expect("forecasts");
            }
        },
    );
    report("forecast, 512 draws, 30 points", FORECASTS, forecast);
    Ok(())
}

fn request(card: &Card, condition: Vec<f64>, event: Duty) -> ForecastRequest {
    let rate = |mechanism: &ringland_host::contract::Mechanism| Rate {
        ln_mean: 0.0,
        ln_sd: mechanism.rate_ln_sd,
    };
    ForecastRequest {
        condition,
        event,
        rates: card.mechanisms.iter().map(rate).collect(),
        samples: 512,
        seed: 1,
        horizon_events: 200.0,
        ahead_events: vec![0.0, 1.0, 2.0, 4.0, 8.0, 16.0],
    }
}

fn native_request(request: &ForecastRequest, event: guest::Duty) -> guest::ForecastRequest {
    let rate = |rate: &Rate| guest::Rate {
        ln_mean: rate.ln_mean,
        ln_sd: rate.ln_sd,
    };
    guest::ForecastRequest {
        condition: request.condition.clone(),
        event,
        rates: request.rates.iter().map(rate).collect(),
        samples: request.samples,
        seed: request.seed,
        horizon_events: request.horizon_events,
        ahead_events: request.ahead_events.clone(),
    }
}

fn report(what: &str, calls: usize, (wasm_s, native_s): (f64, f64)) {
    let us = |s: f64| s / calls as f64 * 1e6;
    println!(
        "    {what}: {:.0} us in the sandbox, {:.0} us native, ratio {:.2}",
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
