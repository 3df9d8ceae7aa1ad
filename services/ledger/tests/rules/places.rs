//! Units, builds, installations: what may be where and when.

use crate::shop::{Shop, at, build, page, part, unit};
use ringland_ledger::{
    BuildInput, Change, ComponentFilter, ComponentInput, ErrorKind, LedgerOptions, Place, Reason,
};

#[test]
fn builds_of_a_unit_do_not_overlap() {
    let shop = Shop::open();
    let engine = unit("engine-a");
    let open = |id: &str, from: f64, to: Option<f64>| {
        let input = BuildInput {
            assembly_time: Some(at(from)),
            teardown_time: to.map(at),
            ..BuildInput::default()
        };
        shop.ledger.create_build(&engine, id, input, "")
    };
    // The first is open from 0 on.
    assert_eq!(
        open("b2", 10.0, None).unwrap_err().reason(),
        Reason::BuildOverlap
    );
    assert_eq!(
        open("b2", -5.0, None).unwrap_err().reason(),
        Reason::BuildOverlap
    );
    open("b0", -5.0, Some(0.0)).unwrap();
    let early = shop
        .ledger
        .close_build(&build("engine-a", "b1"), at(-1.0), "")
        .unwrap_err();
    assert_eq!(early.reason(), Reason::BuildOverlap);
    shop.ledger
        .close_build(&build("engine-a", "b1"), at(10.0), "")
        .unwrap();
    let again = shop
        .ledger
        .close_build(&build("engine-a", "b1"), at(11.0), "")
        .unwrap_err();
    assert_eq!(again.reason(), Reason::BuildNotOpen);
    open("b2", 10.0, None).unwrap();
    let names: Vec<String> = shop
        .ledger
        .list_builds(Some(&engine), &page(0, ""))
        .unwrap()
        .items
        .into_iter()
        .map(|b| b.name.build().to_owned())
        .collect();
    assert_eq!(names, ["b0", "b1", "b2"], "oldest first");
    assert_eq!(
        shop.ledger
            .list_builds(None, &page(0, ""))
            .unwrap()
            .items
            .len(),
        4
    );
}

#[test]
fn a_component_is_in_one_place_at_a_time() {
    let shop = Shop::open();
    let ledger = &shop.ledger;
    let (a, b) = (build("engine-a", "b1"), build("engine-b", "b1"));
    let name = shop.part("wp-1", "wear_part");
    let early = ledger
        .install_component(&name, &a, "", at(-1.0), "")
        .unwrap_err();
    assert_eq!(early.reason(), Reason::BuildNotOpen);
    let absent = ledger.remove_component(&name, at(1.0), "").unwrap_err();
    assert_eq!(absent.reason(), Reason::NotInstalled);
    ledger
        .install_component(&name, &a, "cylinder 1", at(1.0), "")
        .unwrap();
    assert_eq!(
        ledger.get_component(&name).unwrap().installed_build,
        Some(a.clone())
    );
    let twice = ledger
        .install_component(&name, &b, "", at(2.0), "")
        .unwrap_err();
    assert_eq!(
        (twice.kind(), twice.reason()),
        (ErrorKind::FailedPrecondition, Reason::InstallationOverlap)
    );
    assert!(
        twice.to_string().contains("units/engine-a/builds/b1"),
        "{twice}"
    );
    let moved = ledger
        .move_component(&name, &b, "cylinder 4", at(5.0), "")
        .unwrap();
    assert_eq!(moved.build, b);
    ledger.remove_component(&name, at(7.0), "").unwrap();
    let back = ledger
        .install_component(&name, &a, "", at(6.0), "")
        .unwrap_err();
    assert_eq!(back.reason(), Reason::InstallationOverlap);
    ledger
        .install_component(&name, &a, "", at(7.0), "")
        .unwrap();
    let times: Vec<_> = ledger
        .list_installations(Some(&name), None, &page(0, ""))
        .unwrap()
        .items
        .into_iter()
        .map(|i| (i.build, i.install_time, i.remove_time))
        .collect();
    let expected = [
        (a.clone(), at(1.0), Some(at(5.0))),
        (b, at(5.0), Some(at(7.0))),
        (a.clone(), at(7.0), None),
    ];
    assert_eq!(times, expected);
    assert_eq!(
        ledger
            .list_installations(None, Some(&a), &page(0, ""))
            .unwrap()
            .items
            .len(),
        2
    );
}

#[test]
fn teardown_takes_everything_out() {
    let shop = Shop::open();
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    shop.run("engine-a", 1.0, 500.0);
    let early = shop
        .ledger
        .close_build(&build("engine-a", "b1"), at(1.5), "")
        .unwrap_err();
    assert_eq!(early.reason(), Reason::DutyOverlap);
    shop.changes.lock().unwrap().clear();
    shop.ledger
        .close_build(&build("engine-a", "b1"), at(9.0), "")
        .unwrap();
    assert_eq!(
        *shop.changes.lock().unwrap(),
        [Change::Components(vec![name.clone()])]
    );
    let list = shop
        .ledger
        .list_installations(Some(&name), None, &page(0, ""))
        .unwrap();
    assert_eq!(list.items[0].remove_time, Some(at(9.0)));
    assert_eq!(
        shop.ledger.get_component(&name).unwrap().installed_build,
        None
    );
}

#[test]
fn components_are_listed_by_type_and_place() {
    let shop = Shop::open();
    shop.installed("wp-1", "wear_part", "engine-a");
    shop.installed("wp-2", "wear_part", "engine-b");
    shop.part("wp-3", "wear_part");
    let names = |place: Option<Place>, kind: &str| -> Vec<String> {
        let filter = ComponentFilter {
            component_type: kind.into(),
            installed_in: place,
        };
        let list = shop.ledger.list_components(&filter, &page(0, "")).unwrap();
        list.items
            .into_iter()
            .map(|c| c.name.component().to_owned())
            .collect()
    };
    assert_eq!(names(None, ""), ["wp-1", "wp-2", "wp-3"]);
    assert_eq!(names(None, "wear_part").len(), 3);
    assert!(names(None, "other").is_empty());
    assert_eq!(names(Some(Place::Anywhere), ""), ["wp-1", "wp-2"]);
    assert_eq!(names(Some(Place::Unit(unit("engine-b"))), ""), ["wp-2"]);
    assert_eq!(
        names(Some(Place::Build(build("engine-a", "b1"))), ""),
        ["wp-1"]
    );
}

#[test]
fn a_build_has_room_for_so_many() {
    let options = LedgerOptions {
        max_components_per_build: 1,
        ..LedgerOptions::default()
    };
    let shop = Shop::opened(options);
    shop.installed("wp-1", "wear_part", "engine-a");
    let second = shop.part("wp-2", "wear_part");
    let place = build("engine-a", "b1");
    let error = shop
        .ledger
        .install_component(&second, &place, "", at(1.0), "")
        .unwrap_err();
    assert_eq!(error.kind(), ErrorKind::ResourceExhausted);
}

#[test]
fn a_bad_spec_is_refused_with_every_finding() {
    let shop = Shop::open();
    let mut input = ComponentInput {
        component_type: "wear_part".into(),
        ..ComponentInput::default()
    };
    input.spec.numbers.insert("limit".into(), -1.0);
    input.spec.numbers.insert("lenght".into(), 1.0);
    input.spec.choices.insert("material".into(), "steel".into());
    input.surfaces.entry("back".into()).or_default();
    let face = input.surfaces.entry("face".into()).or_default();
    face.properties.insert("ra_m".into(), 1e-7);
    face.properties.insert("shine".into(), 1.0);
    input.opening_condition.insert("wear".into(), -0.5);
    let error = shop
        .ledger
        .create_component("wp-1", input.clone(), "")
        .unwrap_err();
    assert_eq!(error.reason(), Reason::SpecRefused);
    let fields: Vec<&str> = error
        .violations()
        .iter()
        .map(|v| v.field.as_str())
        .collect();
    let expected = [
        "spec.numbers.lenght",
        "spec.choices.material",
        "surfaces.back",
        "surfaces.face.properties.shine",
        "opening_condition.wear",
        "spec.numbers.limit",
    ];
    assert_eq!(fields, expected);
    // A known property that this model does not read is a warning only.
    let findings = shop.ledger.check_component(&input).unwrap().findings;
    assert!(
        findings
            .iter()
            .any(|f| f.field == "surfaces.face.properties.ra_m")
    );
    let input = ComponentInput {
        component_type: "piston".into(),
        ..ComponentInput::default()
    };
    let error = shop.ledger.create_component("p-1", input, "").unwrap_err();
    assert_eq!(error.reason(), Reason::ModelNotActive);
    assert_eq!(
        shop.ledger.get_component(&part("p-1")).unwrap_err().kind(),
        ErrorKind::NotFound
    );
}
