//! What the author of a Rust plugin imports.
