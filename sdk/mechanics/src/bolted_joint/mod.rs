//! Bolted joints: stiffness, preload, opening, alternating stress of the bolt.
//!
//! Loads are of one bolt \[N\], positive in tension; compliances are in m/N, so that a load times a compliance is an
//! elongation. The forms of VDI 2230 part 1 are from memory: the guideline's text was not at hand.
//!
//! ```
//! use ringland_mechanics::bolted_joint::{BoltEndurance, Joint, Rolling, Thread};
//!
//! let thread = Thread::new(9.525e-3, 1.0583e-3)?;
//! let joint = Joint { bolt_compliance_m_n: 3.9e-9, member_compliance_m_n: 1.0e-9, load_introduction: 0.7 };
//! let (preload_n, external_n) = (52.0e3, 23.0e3);
//! assert!(external_n < joint.opening_load_n(preload_n));
//! let range_n = joint.bolt_load_n(preload_n, external_n) - preload_n;
//! let amplitude_pa = 0.5 * range_n / thread.core_area_m2();
//! let endurance = BoltEndurance { diameter_m: thread.diameter_m, rolling: Rolling::AfterHeatTreatment };
//! assert!(amplitude_pa < endurance.limit_pa(0.7));
//! # Ok::<(), ringland_mechanics::range::OutOfRange>(())
//! ```

mod endurance;
mod joint;
mod safety;
mod stiffness;
mod thread;
mod tightening;

pub use endurance::{BoltEndurance, Rolling};
pub use joint::{Joint, Yielding, prying_factor};
pub use safety::{StaticSafety, asme_elliptic, gerber, goodman, static_safety};
pub use stiffness::{
    BoltSegment, Clamp, Layer, bolt_compliance_m_n, clamped_compliance_m_n, threaded_bolt_segments,
};
pub use thread::Thread;
pub use tightening::TighteningFriction;
