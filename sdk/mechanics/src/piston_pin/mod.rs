//! Piston pins: bending, ovalisation, contact pressure.
