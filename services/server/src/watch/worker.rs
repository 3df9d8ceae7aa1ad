//! Predicts what has changed, once for all watchers.

use super::{Changes, Desk, Update};
use ringland_ledger::{
    ComponentFilter, ComponentName, Ledger, LedgerError, PageRequest, Place, UnitName,
};
use std::{collections::BTreeSet, sync::Arc};

/// Components in one job of the bulk lane: small enough for other heavy work to come between.
pub(super) const SLICE: usize = 4;

impl Desk {
    /// Works until the server drains.
    pub async fn work(self) {
        loop {
            tokio::select! {
                () = self.draining.cancelled() => return,
                () = self.hub.changed.notified() => {}
            }
            let changes = self.hub.take_changes();
            if self.hub.interest.none() {
                continue;
            }
            let desk = self.clone();
            let affected = self
                .bulk
                .run_with(&self.ticket, move || desk.affected(&changes))
                .await;
            let components = match affected {
                Ok(Ok(components)) => components,
                Ok(Err(error)) => {
                    tracing::error!(%error, "changes could not be mapped to components");
                    continue;
                }
                // The lane has logged why.
                Err(_) => continue,
            };
            for slice in components.chunks(SLICE) {
                for update in self.predict(slice).await {
                    // Without watchers there is nobody to send it to.
                    let _ = self.hub.updates.send(update);
                }
            }
        }
    }

    /// The predictions of a few components.
    pub(super) async fn predict(&self, components: &[ComponentName]) -> Vec<Arc<Update>> {
        let (hub, ledger) = (Arc::clone(&self.hub), Arc::clone(&self.ledger));
        let components = components.to_vec();
        let job = move || {
            components
                .iter()
                .map(|name| hub.current(&ledger, name))
                .collect()
        };
        self.bulk
            .run_with(&self.ticket, job)
            .await
            .unwrap_or_default()
    }

    /// Changed components that somebody watches. Blocks.
    fn affected(&self, changes: &Changes) -> Result<Vec<ComponentName>, LedgerError> {
        let interest = &self.hub.interest;
        let (named, units) = interest.named();
        let mut affected: BTreeSet<ComponentName> = BTreeSet::new();
        if changes.everything {
            affected.extend(named);
            if interest.in_everything() {
                affected.extend(installed(&self.ledger, Place::Anywhere)?);
            }
            for unit in units {
                affected.extend(installed(&self.ledger, Place::Unit(unit))?);
            }
            return Ok(affected.into_iter().collect());
        }
        for unit in &changes.units {
            let here = installed(&self.ledger, Place::Unit(unit.clone()))?;
            let unit_watched = interest.in_everything() || units.contains(unit);
            affected.extend(
                here.into_iter()
                    .filter(|c| unit_watched || interest.in_component(c)),
            );
        }
        // One that left a watched unit concerns that unit's watchers, who then hear that it is gone:
        // where there is any watcher of units, every changed component is looked at.
        let all = interest.in_everything() || interest.in_units();
        let changed = changes
            .components
            .iter()
            .filter(|c| all || interest.in_component(c));
        affected.extend(changed.cloned());
        Ok(affected.into_iter().collect())
    }
}

/// Names of the components that are installed somewhere now. Blocks.
pub(super) fn installed(ledger: &Ledger, place: Place) -> Result<Vec<ComponentName>, LedgerError> {
    let filter = ComponentFilter {
        component_type: String::new(),
        installed_in: Some(place),
    };
    let mut page = PageRequest {
        page_size: 1000,
        page_token: String::new(),
    };
    let mut names = Vec::new();
    loop {
        let found = ledger.list_components(&filter, &page)?;
        names.extend(found.items.into_iter().map(|component| component.name));
        if found.next_page_token.is_empty() {
            return Ok(names);
        }
        page.page_token = found.next_page_token;
    }
}

/// Whether a unit exists. Blocks.
pub(super) fn unit_exists(ledger: &Ledger, unit: &UnitName) -> Result<(), LedgerError> {
    ledger.get_unit(unit).map(drop)
}
