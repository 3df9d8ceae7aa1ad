//! Journal bearings: the film of a journal in a shell of finite width, steady and over an orbit, with asperities.
//!
//! | file | what |
//! | --- | --- |
//! | `film.rs`, `band.rs` | Reynolds equation in two dimensions for any squeeze velocity, rotation included, with rupture |
//! | `steady.rs` | a steady journal in the numbers of the published tables |
//! | `short.rs` | the short bearing in closed form, a cross-check |
//! | `mobility.rs` | velocity of the journal for any load, from solved films |
//! | `asperities.rs` | load of the asperities over the narrowest gap |
//! | `orbit.rs` | the periodic orbit under a load cycle |
//! | `rubbing.rs` | sliding dose and boundary heat over the shell, friction in the film |
//!
//! Rotation needs no solution of its own: a journal that turns at ω about its own centre displaces oil as one that is squeezed at
//! `−½ ω × e` does (J. F. Booker 1965).
//!
//! Left out: bending and expansion of shell and housing, misalignment, oil holes and grooves, conservation of mass where the film is
//! ruptured, inertia, viscosity that varies within the film.

mod asperities;
mod band;
mod film;
mod mobility;
mod orbit;
mod rubbing;
mod short;
mod steady;

pub use asperities::Asperities;
pub use film::{Film, FilmGrid, FilmPressure, Supply};
pub use mobility::{DEEPEST, FOAM_RESISTANCE, Mobility, MobilityGrid, MobilityMap};
pub use orbit::{JournalBearing, LoadCycle, Orbit, OrbitPoint, OrbitSettings};
pub use rubbing::{Rubbing, couette_integral, rubbing};
pub use short::{short_attitude_rad, short_mobility, short_sommerfeld};
pub use steady::SteadyBearing;
