//! Lives over the default event against common practice (no source).

use ringland_trials::print_lives;

use crate::scenario::{bare, event, smooth};

#[test]
fn lives_over_the_default_event() {
    print_lives("untreated", bare(), &event());
    print_lives("superfinished", smooth(), &event());
}
