//! Pure numerics of wear, fatigue, films, gas and life statistics.

pub mod bevel;
pub mod bolted_joint;
pub mod cam;
pub mod clutch;
pub mod contact;
pub mod counting;
pub mod crack;
pub mod engine;
pub mod fatigue;
pub mod film;
pub mod gear;
pub mod guide;
pub mod interpolate;
pub mod journal;
pub mod oil;
pub mod piston;
pub mod piston_pin;
pub mod range;
pub mod rolling_bearing;
pub mod shaft;
pub mod spring;
pub mod statistics;
pub mod taper;
pub mod valve;
pub mod valve_train;
pub mod wear;
