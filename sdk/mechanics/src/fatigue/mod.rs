//! Fatigue: S-N lines with mean stress, notches, residual stress over depth, damage sums.
