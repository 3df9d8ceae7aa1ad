//! Motion of one valve, its spring and the train between cam and valve.
//!
//! One mass at the valve stands for all that moves; the train's compliance lies between it and the cam, and pushes only. The seat is a stiff
//! spring with damping. The valve spring is a continuous wave guide between the fixed seat and the moving retainer, in its lowest modes
//! ([`SpringModes`]): surge. The motion is integrated in time over turns of the cam until what was there at the start has died away.
//!
//! Follows the usual single-mass model with a distributed spring (textbook method, from memory). Leaves out: bending and torsion of the camshaft,
//! modes of the rocker and of the stem, gas force on the head, friction in the guide, contact between coils and between spring and damper beyond
//! a modal damping ratio, nested springs.

mod motion;
mod spring_modes;

pub use motion::{Motion, MotionError, Point, STEP_S, TURN_POINTS, Train};
pub use spring_modes::{MODES, STATIONS, SpringModes, SpringState};
