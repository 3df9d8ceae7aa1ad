//! How the demo's logs are to be read: a channel map for each source.

use super::season::{LogPlan, Source};

/// A channel map that ships with the demo.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MapFile {
    /// The cars' track logger.
    Car,
    /// The same with gear and map exchanged.
    CarGearUnderMap,
    /// The engine dyno.
    Dyno,
    /// The road car that follows drive schedules.
    Road,
}

impl MapFile {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Car, Self::CarGearUnderMap, Self::Dyno, Self::Road];

    /// The map that a careful shop reads a log with. (A careless one would read every car with [`Self::Car`].)
    pub fn of(plan: &LogPlan) -> Self {
        match plan.source {
            Source::Dyno(_) => Self::Dyno,
            Source::Car(_) if plan.mishap.gear_and_map_exchanged => Self::CarGearUnderMap,
            Source::Car(_) => Self::Car,
        }
    }

    /// File name.
    pub fn file(self) -> &'static str {
        match self {
            Self::Car => "car.toml",
            Self::CarGearUnderMap => "car-gear-under-map.toml",
            Self::Dyno => "dyno.toml",
            Self::Road => "road.toml",
        }
    }

    /// TOML text, with the fields of the API's message `ChannelMap`.
    pub fn text(self) -> &'static str {
        match self {
            Self::Car => include_str!("channel_maps/car.toml"),
            Self::CarGearUnderMap => include_str!("channel_maps/car-gear-under-map.toml"),
            Self::Dyno => include_str!("channel_maps/dyno.toml"),
            Self::Road => include_str!("channel_maps/road.toml"),
        }
    }
}
