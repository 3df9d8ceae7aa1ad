//! The demo's data: a season of the invented shop Lantern Lane Race Engines, with the logs that its
//! dyno and its customers' cars would have brought home, flaws and all; and a road car that turns
//! published drive schedules into logs.
//!
//! Everything is drawn from one seed: the same seed writes the same bytes. Nothing here is measured,
//! and no model is fitted or checked with it. What is thinned against a real logger: cars are logged at
//! 10 Hz (100 Hz for two seconds when something happens) and the slow channels at 0.2 to 5 Hz.

mod car_log;
mod channel_map;
mod circuit;
mod dyno_log;
mod error;
mod flaws;
mod lap;
mod log_plan;
mod measured;
mod planted;
mod race_car;
mod rear;
mod road_car;
mod schedule;
mod season;
mod session;
#[cfg(test)]
mod tests;
mod timeline;
mod work;

use std::fs::{File, create_dir_all};
use std::io::BufWriter;
use std::path::{Path, PathBuf};

pub use car_log::USUAL_FUEL_IN_OIL_PERCENT;
pub use channel_map::MapFile;
pub use circuit::Circuit;
pub use error::DemoError;
pub use log_plan::{LogPlan, Source};
pub use measured::{Explained, Found, Inspection, Reading};
pub use planted::{Figure, Planted, Statement, Tolerance, planted};
pub use road_car::{RoadCar, RoadMoment};
pub use schedule::Schedule;
pub use season::{BreakIn, Build, Car, Event, Incident, Mishap, Season, Shop, Unit, UnitKind};
pub use session::Minutes;
pub use work::{Decision, Ending, Opening, Operation, Price, Treated, Work};

/// The seed of the logs that ship in the documentation.
pub const SEED: u64 = 14_27_63;

/// A log on disk.
#[derive(Debug, Clone)]
pub struct WrittenLog {
    /// What it holds.
    pub plan: LogPlan,
    /// Where it is.
    pub path: PathBuf,
    /// How to read it.
    pub map: MapFile,
}

/// Writes every log of the season (`logs/*.csv`) and the channel maps (`channel-maps/*.toml`) under `folder`.
///
/// # Errors
/// [`DemoError`] when the season is wrong or something cannot be written.
pub fn write_season(
    season: &Season,
    folder: &Path,
    seed: u64,
) -> Result<Vec<WrittenLog>, DemoError> {
    write_maps(&make_folder(&folder.join("channel-maps"))?)?;
    let logs = make_folder(&folder.join("logs"))?;
    let write = |(index, plan): (usize, LogPlan)| {
        let path = logs.join(&plan.file);
        write_log(&plan, seed.wrapping_add(1000 * index as u64), &path)?;
        Ok(WrittenLog {
            map: MapFile::of(&plan),
            plan,
            path,
        })
    };
    season.logs().into_iter().enumerate().map(write).collect()
}

/// Writes one log.
///
/// # Errors
/// [`DemoError`] when it cannot be written.
pub fn write_log(plan: &LogPlan, seed: u64, path: &Path) -> Result<(), DemoError> {
    let out = BufWriter::with_capacity(1 << 18, create(path)?);
    match &plan.source {
        Source::Dyno(blow_by_l_min) => dyno_log::write(plan, blow_by_l_min, seed, out),
        Source::Car(car) => car_log::write(plan, car, seed, out),
    }
}

/// Writes the channel maps into a folder that exists.
///
/// # Errors
/// [`DemoError::File`] when one cannot be written.
pub fn write_maps(folder: &Path) -> Result<(), DemoError> {
    for map in MapFile::ALL {
        let path = folder.join(map.file());
        std::fs::write(&path, map.text()).map_err(|source| DemoError::File { path, source })?;
    }
    Ok(())
}

fn make_folder(path: &Path) -> Result<PathBuf, DemoError> {
    create_dir_all(path).map_err(|source| DemoError::File {
        path: path.to_owned(),
        source,
    })?;
    Ok(path.to_owned())
}

fn create(path: &Path) -> Result<File, DemoError> {
    File::create(path).map_err(|source| DemoError::File {
        path: path.to_owned(),
        source,
    })
}
