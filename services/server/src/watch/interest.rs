//! Who watches what.

use super::{Update, lock};
use ringland_ledger::{ComponentName, UnitName};
use std::{
    collections::{BTreeMap, BTreeSet},
    sync::Mutex,
};

/// What one watcher watches.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Targets {
    /// These components, installed or not.
    pub components: BTreeSet<ComponentName>,
    /// Whatever is installed in these units.
    pub units: BTreeSet<UnitName>,
}

impl Targets {
    /// Nothing named: everything that is installed.
    pub fn everything(&self) -> bool {
        self.components.is_empty() && self.units.is_empty()
    }

    pub(super) fn cover(&self, update: &Update) -> bool {
        let in_unit = |unit: &UnitName| self.everything() || self.units.contains(unit);
        self.components.contains(&update.component) || update.unit.as_ref().is_some_and(in_unit)
    }
}

/// How many watchers watch what.
#[derive(Debug, Default)]
pub(super) struct Interest(Mutex<Counts>);

#[derive(Debug, Default)]
struct Counts {
    everything: usize,
    components: BTreeMap<ComponentName, usize>,
    units: BTreeMap<UnitName, usize>,
}

impl Interest {
    pub fn add(&self, targets: &Targets) {
        let mut counts = lock(&self.0);
        counts.everything += usize::from(targets.everything());
        for name in &targets.components {
            *counts.components.entry(name.clone()).or_default() += 1;
        }
        for name in &targets.units {
            *counts.units.entry(name.clone()).or_default() += 1;
        }
    }

    pub fn remove(&self, targets: &Targets) {
        let mut counts = lock(&self.0);
        counts.everything = counts
            .everything
            .saturating_sub(usize::from(targets.everything()));
        targets
            .components
            .iter()
            .for_each(|name| lower(&mut counts.components, name));
        targets
            .units
            .iter()
            .for_each(|name| lower(&mut counts.units, name));
    }

    /// Whether somebody watches everything that is installed.
    pub fn in_everything(&self) -> bool {
        lock(&self.0).everything > 0
    }

    /// Whether somebody watches this component by its name.
    pub fn in_component(&self, name: &ComponentName) -> bool {
        lock(&self.0).components.contains_key(name)
    }

    /// Components watched by name, and units.
    pub fn named(&self) -> (Vec<ComponentName>, Vec<UnitName>) {
        let counts = lock(&self.0);
        (
            counts.components.keys().cloned().collect(),
            counts.units.keys().cloned().collect(),
        )
    }

    /// Whether anybody watches a unit.
    pub fn in_units(&self) -> bool {
        !lock(&self.0).units.is_empty()
    }

    /// Whether nobody watches anything.
    pub fn none(&self) -> bool {
        let counts = lock(&self.0);
        counts.everything == 0 && counts.components.is_empty() && counts.units.is_empty()
    }
}

fn lower<T: Ord>(counts: &mut BTreeMap<T, usize>, name: &T) {
    if let Some(count) = counts.get_mut(name) {
        *count -= 1;
        if *count == 0 {
            counts.remove(name);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn interest_ends_with_the_last_watcher() {
        let interest = Interest::default();
        let component: ComponentName = "components/a".parse().unwrap();
        let named = Targets {
            components: [component.clone()].into(),
            units: BTreeSet::new(),
        };
        interest.add(&named);
        interest.add(&named);
        interest.add(&Targets::default());
        interest.remove(&named);
        assert!(interest.in_component(&component) && interest.in_everything());
        interest.remove(&named);
        interest.remove(&Targets::default());
        assert!(interest.none());
    }
}
