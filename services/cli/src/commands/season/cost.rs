//! What the season cost each unit, from what was done and its prices.

use crate::demo::{Season, Unit, Work};

/// One unit's bill.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Bill {
    pub(super) unit: String,
    /// Each with its event and price \[$\].
    pub(super) lines: Vec<(String, String, f64)>,
}

impl Bill {
    /// Together \[$\].
    pub(super) fn total_usd(&self) -> f64 {
        self.lines.iter().map(|(_, _, usd)| usd).sum()
    }
}

/// The bills of the units that anything was done to, in the order of the units.
pub(super) fn bills(season: &Season, done: &[&Work]) -> Vec<Bill> {
    let bill = |unit: &Unit| {
        let own = done.iter().filter(|work| work.unit == unit.id);
        let line = |work: &&Work| {
            let mut prices = season.prices.iter();
            let price = prices.find(|price| price.code == work.price);
            let label = price.map_or_else(String::new, |price| price.label.clone());
            (work.event.clone(), label, season.price_usd(work))
        };
        Bill {
            unit: unit.id.clone(),
            lines: own.map(line).collect(),
        }
    };
    let all = season.units.iter().map(bill);
    all.filter(|bill| !bill.lines.is_empty()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A unit is charged for its own work and no other.
    #[test]
    fn bills_add_up() {
        let season = Season::load().unwrap();
        let done: Vec<&Work> = season.work.iter().collect();
        let bills = bills(&season, &done);
        let total: f64 = bills.iter().map(Bill::total_usd).sum();
        let prices: f64 = season.work.iter().map(|work| season.price_usd(work)).sum();
        assert!((total - prices).abs() < 1e-9 && total > 0.0);
        assert!(season.work.iter().all(|work| season.price_usd(work) > 0.0));
        for bill in &bills {
            let own = season.work.iter().filter(|work| work.unit == bill.unit);
            assert_eq!(bill.lines.len(), own.count(), "{bill:?}");
        }
    }
}
