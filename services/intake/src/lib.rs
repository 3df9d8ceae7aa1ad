//! Log files to duty.
