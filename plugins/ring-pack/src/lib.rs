//! Life model of a piston ring pack.
