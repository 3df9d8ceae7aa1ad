//! Questions of the week.

mod moves;
mod one_more_event;
mod shocks;
mod spare;
mod speed;

use crate::shop::Shop;
use ringland_host::contract::Card;
use ringland_ledger::AskedEvent;

fn event(severity: f64) -> AskedEvent {
    AskedEvent {
        profile: None,
        severity: Some(severity),
    }
}

/// A part in engine-a after an hour.
fn worn(card: Card) -> Shop {
    let shop = Shop::open();
    shop.activate_card(card);
    shop.installed("wp", "wear_part", "engine-a");
    shop.run("engine-a", 1.0, 500.0);
    shop
}

/// No answer calls a part safe.
fn never_safe(texts: &[&str]) {
    for text in texts {
        let lower = text.to_lowercase();
        let mut words = lower.split(|c: char| !c.is_alphabetic());
        assert!(
            words.all(|word| word != "safe" && word != "safely"),
            "{text}"
        );
    }
}
