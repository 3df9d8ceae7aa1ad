//! Growth of cracks: stress intensity factors, thresholds, growth law.
