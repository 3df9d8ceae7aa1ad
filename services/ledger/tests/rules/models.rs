//! Installing, activating, going back.

use crate::{
    fake::{FakeModels, FakePlugin, number, wear_part},
    shop::{Shop, page},
};
use ringland_ledger::{
    Change, ErrorKind, Ledger, LedgerOptions, ModelName, PredictRequest, Reason,
};
use std::sync::Arc;

fn version(version: &str, rate: f64) -> FakePlugin {
    let mut card = wear_part();
    card.version = version.into();
    FakePlugin {
        rate,
        ..FakePlugin::of(card)
    }
}

#[test]
fn installing_does_not_activate() {
    let shop = Shop::with(LedgerOptions::default());
    let model = shop
        .ledger
        .install_model(&version("1.0.0", 1e-7).bytes())
        .unwrap();
    assert!(!model.active);
    assert!(model.card.is_some());
    let again = shop
        .ledger
        .install_model(&version("1.0.0", 1e-7).bytes())
        .unwrap();
    assert_eq!(again, model);
    shop.changes.lock().unwrap().clear();
    assert!(
        shop.ledger
            .activate_model(model.name, "r-1")
            .unwrap()
            .model
            .active
    );
    assert_eq!(
        *shop.changes.lock().unwrap(),
        [Change::ComponentType("wear_part".into())]
    );
    let error = shop.ledger.install_model(b"junk").unwrap_err();
    assert_eq!(error.violations()[0].field, "chunk");
    let missing = ModelName(ringland_host::contract::Digest([7; 32]));
    assert_eq!(
        shop.ledger.activate_model(missing, "").unwrap_err().kind(),
        ErrorKind::NotFound
    );
}

#[test]
fn models_are_listed_by_type_and_version() {
    let shop = Shop::with(LedgerOptions::default());
    for v in ["1.10.0", "1.9.0", "0.1.0"] {
        shop.ledger
            .install_model(&version(v, 1e-7).bytes())
            .unwrap();
    }
    let list = |size: i32, token: &str| {
        shop.ledger
            .list_models("wear_part", &page(size, token))
            .unwrap()
    };
    let first = list(2, "");
    let second = list(2, &first.next_page_token);
    let versions: Vec<String> = first
        .items
        .into_iter()
        .chain(second.items)
        .map(|m| m.version)
        .collect();
    assert_eq!(versions, ["0.1.0", "1.9.0", "1.10.0"]);
    assert!(
        shop.ledger
            .list_models("other", &page(0, ""))
            .unwrap()
            .items
            .is_empty()
    );
}

#[test]
fn another_model_folds_again_and_the_way_back_is_open() {
    let shop = Shop::open();
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    shop.run("engine-a", 1.0, 500.0);
    let old = shop.wear(&name);
    let old_digest = shop.predict(&name).unwrap().provenance.model_digest;
    let new_digest = shop.activate(&version("1.1.0", 2e-7));
    let new = shop.wear(&name);
    assert!((new / old - 2.0).abs() < 1e-9);
    // The old one can be asked for comparison, and activated again.
    let request = PredictRequest {
        model_digest: Some(old_digest),
        ..PredictRequest::of(name.clone())
    };
    let compared = shop.ledger.predict(&request).unwrap();
    assert_eq!(
        compared.provenance.condition["wear"].to_bits(),
        old.to_bits()
    );
    assert_eq!(compared.provenance.model_digest, old_digest);
    shop.ledger
        .activate_model(ModelName(old_digest), "")
        .unwrap();
    assert_eq!(shop.wear(&name).to_bits(), old.to_bits());
    assert!(!shop.ledger.get_model(ModelName(new_digest)).unwrap().active);
}

#[test]
fn an_activation_names_the_components_that_it_refuses() {
    let shop = Shop::open();
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    let mut card = wear_part();
    card.version = "2.0.0".into();
    card.numbers[0] = number("limit", "1", (10.0, 20.0), 15.0);
    let mut input = ringland_ledger::ComponentInput::default();
    input.spec.numbers.insert("limit".into(), 1.0);
    let mask = ["spec".to_owned()];
    let from = Some(crate::shop::at(0.0));
    shop.ledger
        .update_component(&name, input, &mask, "", from, "measured")
        .unwrap();
    let model = shop
        .ledger
        .install_model(&FakePlugin::of(card).bytes())
        .unwrap();
    let warnings = shop.ledger.activate_model(model.name, "").unwrap().warnings;
    assert_eq!(warnings.len(), 1);
    assert_eq!(warnings[0].field, "components/wp-1.spec.numbers.limit");
    assert_eq!(
        shop.predict(&name).unwrap_err().reason(),
        Reason::ModelRefused
    );
}

#[test]
fn a_model_of_another_type_is_refused() {
    let shop = Shop::open();
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    let mut card = wear_part();
    card.component_type = "other".into();
    let other = shop.activate_card(card);
    let request = PredictRequest {
        model_digest: Some(other),
        ..PredictRequest::of(name)
    };
    assert_eq!(
        shop.ledger.predict(&request).unwrap_err().reason(),
        Reason::ModelOfOtherType
    );
}

#[test]
fn an_opened_ledger_has_its_plugins() {
    let shop = Shop::open();
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    shop.run("engine-a", 1.0, 500.0);
    let before = shop.predict(&name).unwrap();
    let models = Arc::new(FakeModels::default());
    let options = LedgerOptions {
        samples: 64,
        ..LedgerOptions::default()
    };
    let ledger = Ledger::open(shop.store.clone(), models.clone(), options).unwrap();
    assert_eq!(ringland_host::contract::Models::loaded(&*models).len(), 1);
    assert_eq!(ledger.predict(&PredictRequest::of(name)).unwrap(), before);
}

#[test]
fn models_of_a_type_are_bounded() {
    let shop = Shop::with(LedgerOptions {
        max_models_per_type: 1,
        ..LedgerOptions::default()
    });
    shop.ledger
        .install_model(&version("1.0.0", 1e-7).bytes())
        .unwrap();
    let error = shop
        .ledger
        .install_model(&version("1.1.0", 1e-7).bytes())
        .unwrap_err();
    assert_eq!(error.kind(), ErrorKind::ResourceExhausted);
}
