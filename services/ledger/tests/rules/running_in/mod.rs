//! Seating and power fade by the ledger's own rules; with the ring pack's model they are tried over the network.

mod power;
mod seating;

use crate::shop::{page, unit};
use power::{fade, pull, with_power};
use seating::{UNTREATED, call};

#[test]
fn nothing_is_kept_of_a_call() {
    let shop = with_power();
    shop.ledger.assess_seating(&call(&UNTREATED)).unwrap();
    shop.ledger
        .assess_power_fade(&fade(vec![pull(0.0, 3e5), pull(2.0, 2.9e5)]))
        .unwrap();
    let records = shop
        .ledger
        .list_duty_records(&unit("engine-a"), &page(100, ""))
        .unwrap();
    assert_eq!(records.items.len(), 4);
}
