//! Lives over the default duty: the figures of the README.

use ringland_plugin_valve::Valve;
use ringland_trials::{Prepared, print_lives};

use crate::scenario::{austenitic, event, exhaust, intake, titanium};

#[test]
fn lives_of_the_variants() {
    for (name, specimen) in [
        ("exhaust, nickel", exhaust()),
        ("exhaust, austenitic", austenitic()),
        ("intake, martensitic", intake()),
        ("intake, titanium", titanium()),
    ] {
        let prepared = Prepared::<Valve>::new(specimen);
        print_lives(name, &prepared, &event());
    }
}
