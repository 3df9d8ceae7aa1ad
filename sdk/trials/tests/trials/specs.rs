//! Laws of specs.

use ringland_trials::{changed, laws, with};

use crate::wheel::*;

const ENTRIES: [(&str, laws::Read<Spec>); 3] = [
    ("radius_m", |spec| spec.radius_m),
    ("limit_wear_m", |spec| spec.limit_wear_m),
    ("tread.wear_coefficient_m2_n", |spec| spec.wear_coefficient),
];

#[test]
fn a_sound_wheel_passes() {
    laws::nothing_is_wrong::<Wheel<SOUND>>(&specimen());
    laws::bad_numbers_are_all_named::<Wheel<SOUND>>();
    laws::numbers_are_read_in_order::<Wheel<SOUND>, _>(Spec::read, &ENTRIES);
    let bad = with::<Wheel<SOUND>>(&specimen(), "radius_m", 9.0);
    laws::findings_are::<Wheel<SOUND>>(&bad, &["radius_m"]);
}

#[test]
#[should_panic(expected = "nothing is wrong")]
fn a_warning_about_nothing_is_caught() {
    laws::nothing_is_wrong::<Wheel<WARNS_OF_NOTHING>>(&specimen());
}

#[test]
#[should_panic(expected = "findings")]
fn one_finding_at_a_time_is_caught() {
    laws::bad_numbers_are_all_named::<Wheel<TELLS_ONE_FINDING>>();
}

#[test]
#[should_panic(expected = "a finding that does not say enough")]
fn a_finding_without_a_remedy_is_caught() {
    laws::bad_numbers_are_all_named::<Wheel<TELLS_NO_REMEDY>>();
}

#[test]
#[should_panic(expected = "prepare took a spec with errors")]
fn preparing_a_bad_spec_is_caught() {
    laws::bad_numbers_are_all_named::<Wheel<PREPARES_ANY_SPEC>>();
}

#[test]
#[should_panic(expected = "findings")]
fn findings_on_another_field_are_caught() {
    let bad = with::<Wheel<SOUND>>(&specimen(), "radius_m", 9.0);
    laws::findings_are::<Wheel<SOUND>>(&bad, &["limit_wear_m"]);
}

/// Numbers the wrong way round, and a number that another one carries along.
#[test]
#[should_panic(expected = "radius_m is read as")]
fn numbers_read_out_of_order_are_caught() {
    let misread = |specimen: &_| {
        let right = Spec::read(specimen);
        Spec {
            radius_m: right.limit_wear_m,
            limit_wear_m: right.radius_m,
            ..right
        }
    };
    laws::numbers_are_read_in_order::<Wheel<SOUND>, _>(misread, &ENTRIES);
}

#[test]
#[should_panic(expected = "the card has no diameter_m")]
fn an_unknown_number_is_caught() {
    let entries: [(&str, laws::Read<Spec>); 1] = [("diameter_m", |spec| spec.radius_m)];
    laws::numbers_are_read_in_order::<Wheel<SOUND>, _>(Spec::read, &entries);
}

#[test]
fn specs_change_by_name() {
    let wider = changed::<Wheel<SOUND>>(&specimen(), "radius_m", 2.0);
    let softer = changed::<Wheel<SOUND>>(&wider, "tread.wear_coefficient_m2_n", 3.0);
    let spec = Spec::read(&softer);
    assert_eq!((spec.radius_m, spec.wear_coefficient), (0.6, 6.0e-10));
    assert_eq!(spec.limit_wear_m, Spec::read(&specimen()).limit_wear_m);
}
