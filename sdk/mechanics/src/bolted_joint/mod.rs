//! Bolted joints: stiffness, preload, opening, alternating stress of the bolt.
