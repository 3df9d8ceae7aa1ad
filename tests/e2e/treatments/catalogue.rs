//! The catalogue against the cards of every model.

use super::{check, errors};
use ringland_proto::v1::{
    Card, GetModelRequest, ListModelsRequest, ListTreatmentsRequest, PropertyOperation,
    SurfaceEffect, Treatment,
};
use ringland_tests::{Clients, Server, plugins};
use std::{collections::BTreeMap, path::Path};

pub(super) async fn catalogue(clients: &mut Clients, component_type: &str) -> Vec<Treatment> {
    let request = ListTreatmentsRequest {
        page_size: 100,
        component_type: component_type.into(),
        ..Default::default()
    };
    let listed = clients.treatments.list_treatments(request).await;
    listed.expect("a list").into_inner().treatments
}

async fn cards(clients: &mut Clients) -> BTreeMap<String, Card> {
    let request = ListModelsRequest {
        page_size: 100,
        ..Default::default()
    };
    let listed = clients.models.list_models(request).await;
    let mut cards = BTreeMap::new();
    for model in listed.expect("a list").into_inner().models {
        let request = GetModelRequest { name: model.name };
        let model = clients.models.get_model(request).await;
        let card = model.expect("a model").into_inner().card.expect("a card");
        cards.insert(card.component_type.clone(), card);
    }
    cards
}

/// Everything of an effect is something that the model of that type reads, within its range.
fn assert_read(treatment: &str, card: &Card, effect: &SurfaceEffect) {
    for name in &effect.surfaces {
        let place = format!("{treatment}: {name} of {}", card.component_type);
        let surface = card.surfaces.iter().find(|s| s.name == *name);
        let surface = surface.unwrap_or_else(|| panic!("{place} is not on the card"));
        let reads_stress = effect.residual_stress.is_none() || surface.residual_stress;
        assert!(reads_stress, "{place}: residual stress");
        for change in &effect.properties {
            let property = surface
                .properties
                .iter()
                .find(|p| p.name == change.property);
            let property = property.unwrap_or_else(|| panic!("{place}: {}", change.property));
            let value = match change.operation() {
                PropertyOperation::Multiply => change.value * property.default_value,
                _ => change.value,
            };
            let range = property.minimum..=property.maximum;
            assert!(
                range.contains(&value),
                "{place}: {} {value}",
                change.property
            );
        }
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn every_model_sees_what_the_catalogue_writes() {
    let files = plugins();
    let paths: Vec<&Path> = files.iter().map(AsRef::as_ref).collect();
    let server = Server::start(&paths).await;
    let mut clients = server.clients().await;
    let cards = cards(&mut clients).await;
    assert_eq!(cards.len(), 21);
    let treatments = catalogue(&mut clients, "").await;
    let card = |treatment: &Treatment, kind: &String| {
        let card = cards.get(kind);
        card.unwrap_or_else(|| panic!("{}: no model of {kind}", treatment.name))
    };
    for treatment in &treatments {
        for effect in &treatment.effects {
            for kind in &effect.component_types {
                assert_read(&treatment.name, card(treatment, kind), effect);
            }
        }
        for forbidden in &treatment.forbidden {
            for kind in &forbidden.component_types {
                let known = &card(treatment, kind).surfaces;
                let known = |name: &String| known.iter().any(|s| s.name == *name);
                assert!(
                    forbidden.surfaces.iter().all(known),
                    "{}: {forbidden:?}",
                    treatment.name
                );
            }
        }
        for kind in treatment
            .not_modelled
            .iter()
            .flat_map(|row| &row.component_types)
        {
            card(treatment, kind);
        }
    }
    // What is listed for a type can be done to it and is seen; what has no effect says so.
    for kind in cards.keys() {
        let listed = catalogue(&mut clients, kind).await;
        for treatment in &treatments {
            let effects = treatment.effects.iter();
            let seen = effects.clone().any(|e| e.component_types.contains(kind));
            let mut forbidden = treatment.forbidden.iter();
            let whole =
                forbidden.any(|f| f.surfaces.is_empty() && f.component_types.contains(kind));
            let checked = check(&mut clients, kind, &[&treatment.name]).await;
            let found = errors(&checked);
            let place = format!("{} on {kind}: {found:?}", treatment.name);
            assert_eq!(!found.is_empty(), whole, "{place}");
            let changed = !checked.changes.is_empty();
            assert!(!changed || seen, "{place}: {:?}", checked.changes);
            let told = checked
                .findings
                .iter()
                .any(|f| f.value.starts_with("no effect of"));
            assert_eq!(told, !whole && !seen, "{place}");
            let is_listed = listed.iter().any(|t| t.name == treatment.name);
            let step = treatment.effects.is_empty();
            assert_eq!(is_listed, (seen || step) && !whole, "{place}");
        }
    }
}
