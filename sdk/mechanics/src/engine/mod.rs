//! The gas and crank side of one engine cylinder: slider-crank kinematics and forces, heat release,
//! cylinder pressure over the four-stroke cycle, rubbing friction, compressible flow through
//! orifices, and the gas that passes the ring pack.
//!
//! Everything is SI. Crank angle is in radians with **0 at firing top dead centre** (crank and
//! cylinder axis in line); a traced cycle runs from −2π to 2π, so −2π is the gas-exchange top dead
//! centre. Nothing here keeps state or reads anything outside its arguments.
//!
//! ```
//! use ringland_mechanics::engine::{
//!     ChenFlynn, CycleModel, CycleSetup, LoadControl, LoadTarget, Operating, RingPackGas, bmep_pa,
//! };
//!
//! let setup = CycleSetup::default();
//! let model = CycleModel::new(setup, 720)?;
//! let wanted = bmep_pa(440.0, model.displacement_m3() * 4.0);
//! let point = Operating { speed_rad_s: 654.5, ..Operating::default() };
//! let solved = model.run_to_load(&point, LoadTarget::Bmep(wanted), LoadControl::default(), &ChenFlynn::default())?;
//!
//! let lands = RingPackGas::default().land_pressures(&solved.cycle.pressure_pa, solved.cycle.period_s)?;
//! assert!(lands.blow_by_kg_s > 0.0);
//! # Ok::<(), ringland_mechanics::engine::EngineError>(())
//! ```

mod cylinder;
mod error;
mod forces;
mod friction;
mod gas;
mod geometry;
mod heat_loss;
mod heat_release;
mod kinematics;
mod load;
mod orifice;
mod power_correction;
mod ring_flow;
mod ring_gas;

pub use cylinder::{Cycle, CycleModel, Operating};
pub use error::EngineError;
pub use forces::{CrankForces, Reciprocating};
pub use friction::{ChenFlynn, bmep_pa, torque_n_m};
pub use gas::CylinderGas;
pub use geometry::{CycleSetup, Cylinder};
pub use heat_loss::Woschni;
pub use heat_release::Wiebe;
pub use kinematics::SliderCrank;
pub use load::{LoadControl, LoadCycle, LoadTarget};
pub use orifice::{OrificeGas, choked_pressure_ratio, flow_function, orifice_flow_kg_s};
pub use power_correction::{PowerCorrection, water_vapour_pa};
pub use ring_gas::{Land, LandPressures, RingPackGas, RingSeal, annulus_m3};
