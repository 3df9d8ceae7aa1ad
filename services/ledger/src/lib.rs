//! The life ledger: units, builds, components, duty, predictions.
