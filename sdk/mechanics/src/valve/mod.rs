//! Poppet valve: stress of seating, head as a plate, heat balance, creep life, seat recession.
//!
//! Leaves out what the shape of a real head adds: each part is the simplest body that carries the physics, named at its function.

mod creep;
mod head;
mod heat;
mod impact;
mod recession;

pub use creep::LarsonMiller;
pub use head::{HubbedPlate, centre_thermal_pa, limit_stress_pa, rim_thermal_pa};
pub use heat::{HeadHeat, HeadTemperature};
pub use impact::Stem;
pub use recession::{axial_recession_m, impact_volume_m3, sliding_volume_m3};
