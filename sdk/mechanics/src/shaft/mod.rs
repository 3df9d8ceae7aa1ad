//! Shafts: torsion and bending stress, shoulders and crank webs.
