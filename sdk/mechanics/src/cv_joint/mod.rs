//! Fixed ball joint (constant velocity): where its balls are, what each carries over a turn at an angle, how far they roll and slide.
//!
//! Tracks are arcs in the meridional planes of outer and inner member, their centres offset to either side of the joint's centre along the
//! member's axis. The cage holds the balls in the plane that bisects the axes: the inner member is the mirror image of the outer one in
//! that plane, so that both turn alike at every instant.
//!
//! Leaves out: friction in the balance of the balls, errors of pitch between tracks, bending of cage and members, play.

mod geometry;
mod heat;
mod rating;
mod sharing;
mod turn;

pub use geometry::{BallJoint, Place};
pub use heat::{grease_life_s, steady_temp_k};
pub use rating::{angle_factor, rated_turns};
pub use sharing::loads_per_n_m;
pub use turn::Turn;
