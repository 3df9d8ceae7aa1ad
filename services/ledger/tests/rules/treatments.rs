//! What treatments leave of surfaces, and what must not be done.

use crate::{
    fake::{FakePlugin, blank, number, surface, wear_part},
    shop::{Shop, at, page},
};
use proptest::prelude::*;
use ringland_host::contract::{Card, Severity};
use ringland_ledger::{
    ComponentInput, ErrorKind, Grade, LedgerError, Origin, Reason, Subject, Treated, TreatmentName,
    TreatmentUse,
};
use std::sync::LazyLock;

const WEAR: &str = "wear_coefficient_m2_n";
const FLOOR: f64 = 0.25;

/// Two faces that wear; one of them has residual stress.
fn card() -> Card {
    let face = || {
        vec![
            number("ra_m", "m", (0.05e-6, 3e-6), 0.8e-6),
            number(WEAR, "m2/N", (1e-18, 1e-12), 1e-15),
            number("boundary_friction", "1", (0.05, 0.3), 0.1),
        ]
    };
    Card {
        surfaces: vec![
            surface("front", face(), true),
            surface("back", face(), false),
        ],
        ..blank("plate")
    }
}

/// One treatment of the shop's own; `rest` follows its first lines.
fn own(id: &str, stage: &str, rest: &str) -> String {
    format!(
        "[[treatments]]\nid = \"{id}\"\nlabel = \"{id}\"\ndescription = \"a test\"\ngrade = \"shop\"\nstage = \"{stage}\"\n{rest}"
    )
}

fn on_front(changes: &str) -> String {
    format!("effects = [{{ component_types = [\"plate\"], surfaces = [\"front\"], {changes} }}]\n")
}

fn wear(factor: f64, ln_sd: f64) -> String {
    on_front(&format!(
        "{WEAR} = {{ multiply = {factor:?}, ln_sd = {ln_sd:?} }}"
    ))
}

fn shop(texts: &[String]) -> Shop {
    let shop = Shop::open();
    shop.activate(&FakePlugin::of(card()));
    for text in texts {
        shop.ledger.put_treatment(text, "", "").unwrap();
    }
    shop
}

fn plate(done: &[&str]) -> ComponentInput {
    ComponentInput {
        component_type: "plate".into(),
        treatments: done.iter().map(|id| (*id).to_owned()).collect(),
        ..ComponentInput::default()
    }
}

fn uses(treatments: &[&str]) -> Vec<TreatmentUse> {
    let of = |id: &&str| TreatmentUse {
        treatment: (*id).to_owned(),
        surfaces: Vec::new(),
    };
    treatments.iter().map(of).collect()
}

fn treat(shop: &Shop, part: &ComponentInput, treatments: &[&str]) -> Result<Treated, LedgerError> {
    shop.ledger.treated(part, &uses(treatments))
}

fn close(a: f64, b: f64) {
    assert!((a - b).abs() <= 1e-12 * b.abs(), "{a} is not {b}");
}

fn says(treated: &Treated, word: &str) -> bool {
    treated
        .findings
        .iter()
        .any(|f| format!("{f:?}").contains(word))
}

#[test]
fn factors_start_from_the_card_and_their_spreads_add_in_squares() {
    let shop = shop(&[
        own("one", "peen", &wear(0.7, 0.3)),
        own("two", "superfinish", &wear(0.8, 0.4)),
    ]);
    let treated = treat(&shop, &plate(&[]), &["one", "two"]).unwrap();
    let front = &treated.component.surfaces["front"];
    close(front.properties[WEAR], 0.56e-15);
    close(front.ln_sd[WEAR], 0.5);
    assert_eq!(front.properties.len(), 1, "the rest stays the card's");
    assert!(!treated.component.surfaces.contains_key("back"));
    assert_eq!(treated.component.treatments, ["one", "two"]);
    assert_eq!(treated.grades["one"], Grade::Shop);
    assert!(says(&treated, "sanctioning body"));
    // The same one after the other.
    let first = treat(&shop, &plate(&[]), &["one"]).unwrap();
    let second = treat(&shop, &first.component, &["two"]).unwrap();
    assert_eq!(second.component, treated.component);
    // Once more changes nothing but the list.
    let again = treat(&shop, &second.component, &["two"]).unwrap();
    assert_eq!(again.component.surfaces, treated.component.surfaces);
    assert!(says(&again, "each treatment once"));
    // None at all leaves everything.
    assert_eq!(
        treat(&shop, &plate(&[]), &[]).unwrap().component,
        plate(&[])
    );
}

#[test]
fn several_leave_no_less_than_a_quarter_and_one_alone_what_it_says() {
    let shop = shop(&[
        own("a", "harden", &wear(0.4, 0.3)),
        own("b", "peen", &wear(0.5, 0.3)),
        own("c", "coat", &wear(0.1, 0.6)),
    ]);
    let left = |treatments: &[&str]| {
        let treated = treat(&shop, &plate(&[]), treatments).unwrap();
        treated.component.surfaces["front"].properties[WEAR] / 1e-15
    };
    close(left(&["a"]), 0.4);
    close(left(&["a", "b"]), FLOOR);
    close(left(&["c"]), 0.1);
    close(left(&["a", "b", "c"]), 0.1);
    let first = treat(&shop, &plate(&[]), &["a"]).unwrap();
    let second = treat(&shop, &first.component, &["b"]).unwrap();
    close(
        second.component.surfaces["front"].properties[WEAR],
        FLOOR * 1e-15,
    );
}

#[test]
fn order_is_refused_one_way_and_taken_the_other() {
    let finish = on_front("ra_m = { at_most = 0.1e-6 }");
    let peen = "not_after = [{ stage = \"superfinish\", reason = \"the finish is lost\" }]\n"
        .to_owned()
        + &on_front("ra_m = { at_least = 1.5e-6 }");
    let shop = shop(&[
        own("finish", "superfinish", &finish),
        own("peen", "peen", &peen),
    ]);
    let treated = treat(&shop, &plate(&[]), &["peen", "finish"]).unwrap();
    close(
        treated.component.surfaces["front"].properties["ra_m"],
        0.1e-6,
    );
    for (done, treatments) in [(&[][..], &["finish", "peen"][..]), (&["finish"], &["peen"])] {
        let error = treat(&shop, &plate(done), treatments).unwrap_err();
        assert_eq!(error.reason(), Reason::TreatmentRefused);
        let violation = &error.violations()[0];
        assert_eq!(violation.value, "peen after finish");
        assert!(
            violation.expected.contains("the finish is lost"),
            "{violation:?}"
        );
    }
}

#[test]
fn forbidden_surfaces_and_final_size_come_back_all_at_once() {
    let coat = "stock = [{ growth_m = 10e-6, ln_sd = 0.2, remedy = \"leave room\" }]\n\
                forbidden = [{ component_types = [\"plate\"], surfaces = [\"back\"], reason = \"it seals\" }]\n";
    let shop = shop(&[own("film", "coat", &(coat.to_owned() + &wear(0.6, 0.3)))]);
    let treated = treat(&shop, &plate(&[]), &["film", "final-size"]).unwrap();
    assert!(says(&treated, "leave room") && says(&treated, "10.0 um larger"));
    assert!(says(&treated, "it seals"), "what is to be masked");
    let asked = TreatmentUse {
        treatment: "film".into(),
        surfaces: vec!["back".into(), "middle".into()],
    };
    let part = plate(&["final-size"]);
    let error = shop
        .ledger
        .treated(&part, std::slice::from_ref(&asked))
        .unwrap_err();
    let text = error.to_string();
    for word in [
        "it seals",
        "\"middle\"",
        "film after final-size",
        "front, back",
    ] {
        assert!(text.contains(word), "{word} in {text}");
    }
    let subject = Subject::Described(Box::new(part));
    let check = shop.ledger.check_treatments(&subject, &[asked]).unwrap();
    let errors = check
        .findings
        .iter()
        .filter(|f| f.severity == Severity::Error);
    assert_eq!(errors.count(), error.violations().len());
    assert!(check.changes.is_empty());
}

#[test]
fn what_no_model_sees_is_told() {
    let rest = on_front("hardness_pa = { set = 7e9 }");
    let peen = "residual_stress = { surface_pa = -4e8, peak_pa = -6e8, peak_depth_m = 5e-5, total_depth_m = 2e-4, balance_pa = 1e6 }";
    let peen = format!(
        "effects = [{{ component_types = [\"plate\"], surfaces = [\"front\", \"back\"], {peen} }}]\n"
    );
    let shop = shop(&[own("harden", "harden", &rest), own("peen", "peen", &peen)]);
    let treated = treat(&shop, &plate(&[]), &["harden"]).unwrap();
    assert!(says(&treated, "front.hardness_pa") && says(&treated, "no effect of harden modelled"));
    assert!(treated.component.surfaces.is_empty());
    let treated = treat(&shop, &plate(&[]), &["peen"]).unwrap();
    assert!(says(&treated, "back: residual stress"));
    assert!(
        treated.component.surfaces["front"]
            .residual_stress
            .is_some()
    );
    assert!(!treated.component.surfaces.contains_key("back"));
    let treated = treat(&shop, &plate(&["of-another-shop"]), &["superfinish"]).unwrap();
    assert!(
        says(&treated, "of-another-shop") && says(&treated, "no effect of superfinish modelled")
    );
}

#[test]
fn a_price_is_known_when_each_is() {
    let priced = |id: &str, price: &str| own(id, "machine", &(price.to_owned() + &wear(0.9, 0.1)));
    let shop = shop(&[
        priced("a", "price = 100\nlead_days = 3\n"),
        priced("b", "price = 50.5\nlead_days = 4\n"),
        priced("c", ""),
    ]);
    let both = treat(&shop, &plate(&[]), &["a", "b"]).unwrap();
    assert_eq!((both.price, both.lead_days), (Some(150.5), Some(7.0)));
    let all = treat(&shop, &plate(&[]), &["a", "b", "c"]).unwrap();
    assert_eq!((all.price, all.lead_days), (None, None));
}

#[test]
fn the_shops_own_has_revisions_and_leaves_the_built_in_alone() {
    let shop = shop(&[own("ours", "coat", &wear(0.6, 0.3))]);
    let name = TreatmentName::new("ours").unwrap();
    let first = shop.ledger.get_treatment(&name, 0).unwrap();
    let text = own(
        "ours",
        "coat",
        &("supersedes = \"dry-film\"\n".to_owned() + &wear(0.5, 0.3)),
    );
    let second = shop
        .ledger
        .put_treatment(&text, &first.etag, "r-1")
        .unwrap();
    assert_eq!(second.origin, Origin::Shop { revision: 2 });
    assert_eq!(
        shop.ledger
            .put_treatment(&text, &first.etag, "r-1")
            .unwrap(),
        second
    );
    assert_eq!(shop.ledger.get_treatment(&name, 1).unwrap(), first);
    let stale = shop
        .ledger
        .put_treatment(&text, &first.etag, "r-2")
        .unwrap_err();
    assert_eq!(stale.reason(), Reason::EtagMismatch);
    let missing = shop.ledger.get_treatment(&name, 3).unwrap_err();
    assert_eq!(missing.kind(), ErrorKind::NotFound);
    let taken = shop
        .ledger
        .put_treatment(&own("shot-peen", "peen", ""), "", "")
        .unwrap_err();
    assert_eq!(taken.kind(), ErrorKind::AlreadyExists);
    let former = treat(&shop, &plate(&[]), &["dry-film"]).unwrap();
    assert!(says(&former, "ours, the shop's own in its place"));
    // Pages give each once, in order.
    let mut ids = Vec::new();
    let mut token = String::new();
    loop {
        let listed = shop.ledger.list_treatments("", &page(3, &token)).unwrap();
        ids.extend(listed.items.into_iter().map(|entry| entry.treatment.id));
        token = listed.next_page_token;
        if token.is_empty() {
            break;
        }
    }
    assert!(
        ids.is_sorted() && ids.contains(&"ours".to_owned()) && ids.len() > 12,
        "{ids:?}"
    );
}

#[test]
fn what_was_done_is_a_revision_that_is_told_once() {
    let shop = Shop::open();
    let text = own(
        "ours",
        "coat",
        "effects = [{ component_types = [\"wear_part\"], surfaces = [\"face\"], wear_coefficient_m2_n = { multiply = 0.5 } }]\n",
    );
    shop.ledger.put_treatment(&text, "", "").unwrap();
    assert_eq!(wear_part().surfaces[0].name, "face");
    let name = shop.installed("wp-1", "wear_part", "engine-a");
    shop.run("engine-a", 1.0, 500.0);
    shop.run("engine-a", 3.0, 500.0);
    let bare = shop.wear(&name);
    let apply = |request_id: &str| {
        let done = uses(&["ours"]);
        shop.ledger
            .apply_treatments(&name, &done, at(2.0), "sheet 9", request_id)
    };
    let applied = apply("r-1").unwrap();
    assert_eq!(
        applied.revision.reason,
        "ours (shop's own, revision 1): sheet 9"
    );
    assert_eq!(apply("r-1").unwrap(), applied);
    let revisions = shop.ledger.list_revisions(&name, &page(0, "")).unwrap();
    assert_eq!(revisions.items.len(), 2);
    let crack = applied.findings.iter().any(|f| f.remedy.contains("crack"));
    assert!(crack, "it has run: {:?}", applied.findings);
    // The second record alone runs on the treated surface.
    let treated = shop.wear(&name);
    assert!(
        treated > 0.7 * bare && treated < 0.8 * bare,
        "{treated} {bare}"
    );
    let none = shop.ledger.apply_treatments(&name, &[], at(4.0), "", "");
    assert_eq!(none.unwrap_err().violations()[0].field, "treatments");
}

static LAWS: LazyLock<Shop> = LazyLock::new(|| {
    let friction = |factor: f64| {
        on_front(&format!(
            "boundary_friction = {{ multiply = {factor:?}, ln_sd = 0.1 }}, {WEAR} = {{ multiply = {factor:?}, ln_sd = 0.2 }}"
        ))
    };
    let rough = on_front(
        "ra_m = { set = 9e-6, ln_sd = 0.2 }, boundary_friction = { multiply = 3.0, ln_sd = 0.1 }",
    );
    let peened = "residual_stress = { surface_pa = -4e8, peak_pa = -6e8, peak_depth_m = 5e-5, total_depth_m = 2e-4, balance_pa = 1e6 }";
    let worse = format!("{WEAR} = {{ multiply = 1.3, ln_sd = 0.2 }}");
    shop(&[
        own("l-0", "peen", &friction(0.6)),
        own("l-1", "peen", &friction(0.8)),
        own("l-2", "peen", &wear(0.15, 0.6)),
        own("l-3", "peen", &rough),
        own("l-4", "peen", &on_front(peened)),
        own("l-5", "peen", &on_front(&worse)),
    ])
});

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// In whatever order independent treatments are done: the same surface, inside the card's range; wear
    /// no lower than the floor or the strongest alone; a clamped number is told.
    #[test]
    fn order_of_independent_treatments_does_not_matter(order in Just([0, 1, 2, 3, 4, 5]).prop_shuffle(), count in 1..=6_usize) {
        let ids: Vec<String> = order.iter().take(count).map(|n| format!("l-{n}")).collect();
        let mut sorted = ids.clone();
        sorted.sort();
        let run = |ids: &[String]| {
            let ids: Vec<&str> = ids.iter().map(String::as_str).collect();
            treat(&LAWS, &plate(&[]), &ids).unwrap()
        };
        let (one, other) = (run(&ids), run(&sorted));
        let (front, same) = (&one.component.surfaces["front"], &other.component.surfaces["front"]);
        prop_assert_eq!(&front.residual_stress, &same.residual_stress);
        let field = card().surfaces.remove(0);
        for property in &field.properties {
            let Some(value) = front.properties.get(&property.name) else { continue };
            prop_assert!((property.minimum..=property.maximum).contains(value));
            let ends = [property.minimum, property.maximum];
            let clamped = ends.iter().any(|end| end.total_cmp(value).is_eq());
            prop_assert_eq!(clamped && says(&one, "the end of the model's range"), clamped);
            // A number at the end of the range has lost what came before: order matters there alone.
            if property.name == WEAR {
                close(*value, same.properties[&property.name]);
            }
        }
        if let Some(wear) = front.properties.get(WEAR) {
            prop_assert!(wear / 1e-15 >= 0.15 * (1.0 - 1e-12), "{wear}");
        }
    }
}
