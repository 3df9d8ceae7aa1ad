//! Whether rings are seated.

use crate::shop::{Shop, part};
use proptest::prelude::*;
use ringland_ledger::{
    AssessSeating, BlowByMeter, BreakInPull, ComponentInput, Reason, SeatingAssessment,
    SeatingDecision,
};

const L_MIN: f64 = 1e-3 / 60.0;

fn pulls(l_min: &[f64]) -> Vec<BreakInPull> {
    let pull = |flow: &f64| BreakInPull {
        blow_by_m3_s: Some(flow * L_MIN),
        ..BreakInPull::default()
    };
    l_min.iter().map(pull).collect()
}

pub(super) fn call(l_min: &[f64]) -> AssessSeating {
    AssessSeating {
        pulls: pulls(l_min),
        ..AssessSeating::default()
    }
}

fn assessed(call: &AssessSeating) -> SeatingAssessment {
    Shop::open().ledger.assess_seating(call).unwrap()
}

/// Two break-in days of the demo, invented: untreated bores, and plateau-honed ones that take longer.
pub(super) const UNTREATED: [f64; 7] = [170.0, 105.0, 90.0, 86.0, 85.0, 85.0, 85.0];
const HONED: [f64; 7] = [170.0, 130.0, 108.0, 97.0, 91.0, 88.0, 87.0];

/// The first reading at which it says stop.
fn stops_at(day: &[f64]) -> Option<usize> {
    (1..=day.len())
        .find(|count| assessed(&call(&day[..*count])).decision == SeatingDecision::Stop)
        .map(|count| count - 1)
}

#[test]
fn quick_rings_are_stopped_before_slow_ones_and_no_day_is_not_seating() {
    for (name, day) in [("untreated", UNTREATED), ("honed", HONED)] {
        for count in 1..=day.len() {
            let found = assessed(&call(&day[..count]));
            println!(
                "{name} after pull {}: {:?}, share {:.3} ({:.3} to {:.3}), end {:.1} ({:.1} to {:.1}), {}",
                count - 1,
                found.decision,
                found.seated_share.p50,
                found.seated_share.p05,
                found.seated_share.p95,
                found.end_blow_by_m3_s.unwrap().p50 / L_MIN,
                found.end_blow_by_m3_s.unwrap().p05 / L_MIN,
                found.end_blow_by_m3_s.unwrap().p95 / L_MIN,
                found.reason
            );
            assert_ne!(
                found.decision,
                SeatingDecision::NotSeating,
                "{name} after {count} readings"
            );
        }
    }
    let (quick, slow) = (stops_at(&UNTREATED).unwrap(), stops_at(&HONED).unwrap());
    assert!(quick < slow, "{quick} {slow}");
    assert!((2..=4).contains(&quick), "{quick}");
}

/// The days follow their law but for rounding: 85 + 85 exp(-n 29/20) and, honed, exp(-n 29/45).
#[test]
fn the_law_behind_a_day_is_found() {
    for (day, scale) in [(UNTREATED, 20.0 / 29.0), (HONED, 45.0 / 29.0)] {
        let found = assessed(&call(&day));
        let fit = found.least_squares.unwrap();
        assert!(
            (fit.scale_pulls / scale - 1.0).abs() < 0.05,
            "{} is not {scale}",
            fit.scale_pulls
        );
        assert!(
            (fit.end_m3_s / L_MIN - 85.0).abs() < 1.0,
            "{}",
            fit.end_m3_s / L_MIN
        );
        assert!(found.scale_pulls.p05 < scale && scale < found.scale_pulls.p95);
        let end = found.end_blow_by_m3_s.unwrap();
        assert!(end.p05 < 85.0 * L_MIN && 85.0 * L_MIN < end.p95);
    }
}

#[test]
fn intervals_narrow_with_readings_and_two_are_already_an_answer() {
    let width = |count: usize| {
        let found = assessed(&call(&HONED[..count]));
        found.seated_share.p95 - found.seated_share.p05
    };
    assert!(width(2) > 0.3, "two readings leave much open: {}", width(2));
    assert!(width(4) < width(2) && width(7) < width(4));
    let two = assessed(&call(&HONED[..2]));
    assert_eq!(two.decision, SeatingDecision::OneMorePull);
    assert!(
        two.findings
            .iter()
            .any(|f| f.field == "pulls" && f.value.contains("2 comparable"))
    );
    assert!(two.least_squares.is_none());
}

#[test]
fn a_level_that_stays_high_is_not_seating() {
    let stuck = assessed(&AssessSeating {
        expected_end_m3_s: Some(85.0 * L_MIN),
        ..call(&[172.0, 170.0, 171.0, 169.0])
    });
    assert_eq!(
        stuck.decision,
        SeatingDecision::NotSeating,
        "{}",
        stuck.reason
    );
    assert!(stuck.reason.contains("glazed"), "{}", stuck.reason);
    let unknown = assessed(&call(&[172.0, 170.0, 171.0, 169.0]));
    assert_eq!(unknown.decision, SeatingDecision::NotSeating);
    assert!(
        unknown.reason.contains("seated before"),
        "{}",
        unknown.reason
    );
    let seated = assessed(&AssessSeating {
        expected_end_m3_s: Some(85.0 * L_MIN),
        ..call(&[86.0, 85.0, 86.0])
    });
    assert_eq!(seated.decision, SeatingDecision::Stop, "{}", seated.reason);
    // It falls, but to an end beyond what is accepted.
    let high = AssessSeating {
        limit_m3_s: Some(120.0 * L_MIN),
        ..call(&[300.0, 215.0, 175.0, 158.0, 149.0])
    };
    let high = assessed(&high);
    assert_eq!(
        high.decision,
        SeatingDecision::NotSeating,
        "{}",
        high.reason
    );
    let rising = assessed(&call(&[170.0, 120.0, 105.0, 125.0]));
    assert_eq!(rising.decision, SeatingDecision::NotSeating);
    assert!(
        rising.findings.iter().any(|f| f.field == "pulls[3]"),
        "{:?}",
        rising.findings
    );
}

#[test]
fn usual_mistakes_are_told() {
    let mut mixed = call(&UNTREATED[..4]);
    for (index, pull) in mixed.pulls.iter_mut().enumerate() {
        pull.blow_by_pressure_pa = (index > 0).then_some(1e5);
        pull.blow_by_temp_k = Some(300.0);
        pull.engine_speed_rad_s = Some(if index == 2 { 700.0 } else { 800.0 });
        pull.engine_torque_n_m = Some(400.0);
        pull.leak_down_fraction = Some(0.05);
        pull.leak_down_hot = [Some(false), Some(true), None, Some(true)][index];
        pull.leak_down_orifice_m = Some(if index == 3 { 1.5e-3 } else { 1e-3 });
    }
    let found = assessed(&mixed);
    let fields: Vec<&str> = found.findings.iter().map(|f| f.field.as_str()).collect();
    assert_eq!(
        fields,
        [
            "pulls.blow_by_pressure_pa",
            "pulls.engine_speed_rad_s",
            "pulls[0].leak_down_fraction",
            "pulls[2].leak_down_fraction",
            "pulls[3].leak_down_fraction",
        ]
    );
    assert!(
        found.pulls[0].leak_down_fraction.is_none() && found.pulls[1].leak_down_fraction.is_some()
    );
    let meter = BlowByMeter {
        sd_relative: Some(0.001),
        ..BlowByMeter::default()
    };
    let scattered = assessed(&AssessSeating {
        blow_by_meter: meter,
        ..call(&[170.0, 104.0, 96.0, 84.0, 90.0])
    });
    assert!(
        scattered
            .findings
            .iter()
            .any(|f| f.field == "blow_by_meter"),
        "{:?}",
        scattered.findings
    );
}

#[test]
fn everything_wrong_comes_at_once() {
    let shop = Shop::open();
    let refused = |call: &AssessSeating| {
        let error = shop.ledger.assess_seating(call).unwrap_err();
        error
            .violations()
            .iter()
            .map(|v| v.field.clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(refused(&AssessSeating::default()), ["pulls"]);
    let mut wrong = call(&[170.0, 105.0, 90.0]);
    wrong.pulls[0].blow_by_m3_s = Some(170.0);
    wrong.pulls[1].number = Some(0.0);
    wrong.pulls[2].blow_by_m3_s = None;
    wrong.blow_by_meter.sd_relative = Some(f64::NAN);
    assert_eq!(
        refused(&wrong),
        [
            "pulls[0].blow_by_m3_s",
            "pulls[1].number",
            "pulls[2].blow_by_m3_s",
            "blow_by_meter.sd_relative"
        ]
    );
}

#[test]
fn a_model_without_the_readings_is_refused_by_their_names() {
    let shop = Shop::open();
    let input = ComponentInput {
        component_type: "wear_part".into(),
        ..ComponentInput::default()
    };
    shop.ledger.create_component("plates", input, "").unwrap();
    let named = AssessSeating {
        component: Some(part("plates")),
        ..call(&UNTREATED)
    };
    let error = shop.ledger.assess_seating(&named).unwrap_err();
    assert_eq!(error.reason(), Reason::ReadingMissing);
    for reading in ["seating_fraction", "blow_by_m3_s"] {
        assert!(error.to_string().contains(reading), "{error}");
    }
    assert!(!error.to_string().contains("leak_down_fraction"), "{error}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    /// A larger engine with the same shares is as seated.
    #[test]
    fn the_size_of_an_engine_does_not_matter(factor in 0.05..20.0_f64, count in 2..7_usize) {
        let one = assessed(&call(&HONED[..count]));
        let larger: Vec<f64> = HONED[..count].iter().map(|flow| factor * flow).collect();
        let other = assessed(&call(&larger));
        prop_assert_eq!(one.decision, other.decision);
        prop_assert!((one.seated_share.p50 - other.seated_share.p50).abs() < 1e-6);
        prop_assert!((one.resolution * factor / other.resolution - 1.0).abs() < 1e-6);
    }
}
