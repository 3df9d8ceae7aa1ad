//! Plans.
