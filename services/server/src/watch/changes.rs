//! Changes that nobody has looked at yet. However many there are, each component counts once.

use ringland_ledger::{Change, ComponentName, UnitName};
use std::collections::BTreeSet;

/// More changed components than this count as everything.
const MOST: usize = 10_000;

/// What has changed since it was last looked at.
#[derive(Debug, Default, PartialEq)]
pub(super) struct Changes {
    pub components: BTreeSet<ComponentName>,
    pub units: BTreeSet<UnitName>,
    pub everything: bool,
}

impl Changes {
    pub fn add(&mut self, change: Change) {
        match change {
            Change::Components(names) => self.components.extend(names),
            Change::Unit(unit) => drop(self.units.insert(unit)),
            // Models of other types may read the changed condition, and which do is the ledger's to know.
            Change::ComponentType(_) | Change::Everything => self.everything = true,
        }
        if self.components.len() + self.units.len() > MOST {
            self.everything = true;
        }
        if self.everything {
            self.components.clear();
            self.units.clear();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_component_counts_once_and_everything_covers_all() {
        let name = |text: &str| text.parse::<ComponentName>().unwrap();
        let mut changes = Changes::default();
        changes.add(Change::Components(vec![
            name("components/a"),
            name("components/b"),
        ]));
        changes.add(Change::Components(vec![name("components/a")]));
        changes.add(Change::Unit("units/u".parse().unwrap()));
        assert_eq!((changes.components.len(), changes.units.len()), (2, 1));
        changes.add(Change::ComponentType("ring_pack".into()));
        assert_eq!(
            changes,
            Changes {
                everything: true,
                ..Changes::default()
            }
        );
        changes.add(Change::Components(vec![name("components/a")]));
        assert!(changes.components.is_empty());
    }

    #[test]
    fn the_number_kept_is_limited() {
        let mut changes = Changes::default();
        for index in 0..=MOST {
            changes.add(Change::Components(vec![
                format!("components/c{index}").parse().unwrap(),
            ]));
        }
        assert!(changes.everything && changes.components.is_empty());
    }
}
