//! The oil film under a ring face: one-dimensional Reynolds equation with roughness, film and asperities
//! in balance with the ring's load over the cycle.
//!
//! Axes: x along the bore across the face \[m\], loads per length of circumference \[N/m\], pressures absolute
//! \[Pa\]. The film is isoviscous across the face, the bodies are rigid, the ring is fully flooded: there is
//! always oil enough at the leading edge. All of that is left out, and so is the circumference: one section
//! stands for the ring.
//!
//! Rupture follows the Reynolds condition: where the film ends, pressure and its slope meet those of the
//! space behind. That space is open to the trailing edge and holds the gas pressure there. Mass is not
//! conserved across the rupture, as always with that condition. While the ring lifts off without sliding
//! enough to feed it, the film cannot be drawn below the pressure of vapour (0).

pub mod ehl;
mod face;
mod flow_factors;
mod load_sharing;
mod march;
pub mod pack;
mod reynolds;
mod ring;

pub use face::Face;
pub use flow_factors::{
    FlowFactors, pressure_flow_factor, shear_flow_factor, shear_stress_factor,
    shear_stress_pressure_factor, shear_stress_shear_factor,
};
pub use load_sharing::{LoadSharing, SharedLoad};
pub use march::{CrankStep, Film, FilmCycle, FilmError, march};
pub use reynolds::{Edges, FilmIntegrals, FilmLoad};
pub use ring::{RingContact, RingFilm};
