//! The ringland command: everything the API does, for people and scripts.
