//! How the demo's logs are to be read: a channel map for each source.

use crate::{CliError, json};
use ringland_proto::v1::ChannelMap;

use super::log_plan::{LogPlan, Source};
use super::season::UnitKind;

/// A channel map that ships with the demo.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MapFile {
    /// The cars' track logger.
    Car,
    /// The same with gear and map exchanged.
    CarGearUnderMap,
    /// The cars' track logger, read for what is behind the engine.
    Driveline,
    /// The same with gear and map exchanged.
    DrivelineGearUnderMap,
    /// The engine dyno.
    Dyno,
    /// The road car that follows drive schedules.
    Road,
    /// The same log read for what is behind the engine.
    RoadDriveline,
}

impl MapFile {
    /// All of them.
    pub const ALL: [Self; 7] = [
        Self::Car,
        Self::CarGearUnderMap,
        Self::Driveline,
        Self::DrivelineGearUnderMap,
        Self::Dyno,
        Self::Road,
        Self::RoadDriveline,
    ];

    /// The map that a careful shop reads a log with. (A careless one would read every car with [`Self::Car`].)
    pub fn of(plan: &LogPlan) -> Self {
        let exchanged = plan.mishap.gear_and_map_exchanged;
        match (&plan.source, plan.kind) {
            (Source::Dyno(_), _) => Self::Dyno,
            (Source::Car(_), UnitKind::Engine) if exchanged => Self::CarGearUnderMap,
            (Source::Car(_), UnitKind::Engine) => Self::Car,
            (Source::Car(_), UnitKind::Driveline) if exchanged => Self::DrivelineGearUnderMap,
            (Source::Car(_), UnitKind::Driveline) => Self::Driveline,
        }
    }

    /// File name.
    pub fn file(self) -> &'static str {
        match self {
            Self::Car => "car.toml",
            Self::CarGearUnderMap => "car-gear-under-map.toml",
            Self::Driveline => "driveline.toml",
            Self::DrivelineGearUnderMap => "driveline-gear-under-map.toml",
            Self::Dyno => "dyno.toml",
            Self::Road => "road.toml",
            Self::RoadDriveline => "road-driveline.toml",
        }
    }

    /// As the API takes it.
    ///
    /// # Errors
    /// When the text that ships is not a channel map.
    pub fn channel_map(self) -> Result<ChannelMap, CliError> {
        json::from_toml("ChannelMap", self.text())
    }

    /// TOML text, with the fields of the API's message `ChannelMap`.
    pub fn text(self) -> &'static str {
        match self {
            Self::Car => include_str!("channel_maps/car.toml"),
            Self::CarGearUnderMap => include_str!("channel_maps/car-gear-under-map.toml"),
            Self::Driveline => include_str!("channel_maps/driveline.toml"),
            Self::DrivelineGearUnderMap => {
                include_str!("channel_maps/driveline-gear-under-map.toml")
            }
            Self::Dyno => include_str!("channel_maps/dyno.toml"),
            Self::Road => include_str!("channel_maps/road.toml"),
            Self::RoadDriveline => include_str!("channel_maps/road-driveline.toml"),
        }
    }
}
