//! Lives over the default event against common practice (no source).

use ringland_trials::{first, print_lives, quantile};

use crate::scenario::{bare, event, peened};

#[test]
fn lives_over_the_default_event() {
    for (name, prepared) in [("untreated", bare()), ("peened", peened())] {
        let forecast = print_lives(name, prepared, &event());
        let b10 = quantile(&first(&forecast), 0.1);
        println!("{name}: B10 of the first {b10:.2}");
        println!("{:?}", forecast.notes);
    }
}
