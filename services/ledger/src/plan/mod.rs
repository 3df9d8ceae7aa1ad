//! Plans: what to replace at which teardown of a unit's calendar, the risk at every event, what to look at first.
//!
//! The life of a part over events of several profiles is counted in shares: an event that is worth `s` events of a profile
//! uses `s` over the drawn life by that profile (Miner's rule in events). Parts are drawn independently of each other. Plans
//! are not stored; calendars and overrides are.

mod age;
mod ahead;
mod answer;
mod arcs;
mod bound;
mod calendar;
mod check_calendar;
mod checks;
mod descent;
mod draws;
mod limits;
mod make;
mod optimise;
mod overrides;
mod parts;
mod program;
mod spells;
#[cfg(test)]
mod tests;
mod verdict;
mod words;
