//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_limited_slip::LimitedSlip;
use ringland_plugin_limited_slip::card::slot;
use ringland_plugin_limited_slip::pack::{breakaway_n_m, chatter_dose_j_m3, friction, spring_n};
use ringland_trials::{Record, changed, driveline, fields, first, laws};

use crate::differentials::{at, event, ground, peened, prepared, spec, usual};

fn any_duty() -> BoxedStrategy<Duty> {
    driveline::any_record::<LimitedSlip>().strategy()
}

const USED: [(&str, std::ops::Range<f64>); 7] = [
    ("stack_wear_m", 0.0..3.0e-4),
    ("oil_dose_j_m3", 0.0..2.0e10),
    ("glaze_dose", 0.0..1.0),
    ("scoring_m", 0.0..5.0e-5),
    ("band_strain", 0.0..1.0e-8),
    ("tab_wear_m", 0.0..2.0e-4),
    ("slip_energy_j", 0.0..3.0e7),
];

#[test]
fn no_slot_falls_and_a_cut_record_gives_the_same() {
    for model in [usual(), &prepared(peened())] {
        let starts = model.any_used(&USED);
        laws::slots_follow_their_trends(model, &starts, &any_duty());
        // Integrated in steps: 2e-8 is the worst seen.
        laws::cut_records_add_up(model, &starts, &any_duty(), 1e-6);
        laws::order_within_a_record_does_not_matter(model, &starts, &any_duty(), 1e-9);
    }
}

/// Least share of the greatest rate at which anything can have gone on between two conditions: springs give way with wear, friction
/// rises with worked oil and falls with glazing.
fn rates_between(from: &[f64], to: &[f64]) -> f64 {
    let spec = spec(&ground());
    let springs = |row: &[f64]| spring_n(&spec, row[slot::STACK_WEAR]);
    let lowest = friction(&spec, from[slot::OIL_DOSE], to[slot::GLAZE]);
    let highest = friction(&spec, to[slot::OIL_DOSE], from[slot::GLAZE]);
    springs(to) / springs(from) * lowest / highest
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// Order of records matters only by what their rates change meanwhile: whatever both add, each order adds it at a rate between that of
    /// the first condition and that of the last. What no spring or oil drives does not know the order.
    #[test]
    fn order_of_records_matters_by_springs_and_oil_alone(start in usual().any_used(&USED), one in any_duty(), other in any_duty()) {
        let after = |first: &Duty, second: &Duty| usual().advance(&start, &[first.clone(), second.clone()]).remove(1);
        let (there, back) = (after(&one, &other), after(&other, &one));
        let furthest: Vec<f64> = there.iter().zip(&back).map(|(there, back)| there.max(*back)).collect();
        let slowed = rates_between(&start, &furthest);
        for slot in 0..slot::COUNT {
            let [there, back] = [there[slot], back[slot]].map(|after| after - start[slot]);
            let least = if [slot::STACK_WEAR, slot::OIL_DOSE, slot::ENERGY].contains(&slot) { slowed } else { 1.0 };
            let rounding = 1e-6 * there.max(back) + 1e-12 * furthest[slot];
            prop_assert!(there.min(back) >= least * there.max(back) - rounding, "slot {slot}: {there} {back}, at least {least}");
        }
    }
}

/// Repeats of one record give the same however many are taken at once: what the forecast ahead rests on.
#[test]
fn two_events_are_twice_the_event() {
    let model = usual();
    let ahead = model.forecast(&model.begin(), &event());
    let step = model.forecast(&model.repeated(&model.begin(), &event(), 8), &event());
    for (path, stepped) in ahead.readings.iter().zip(&step.readings) {
        let (at_once, in_steps) = (path.median[3], stepped.median[0]);
        assert!(
            (at_once / in_steps - 1.0).abs() < 1e-6,
            "{at_once} {in_steps}"
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    /// More torque, slip, heat or dirt never spares the plates. Plates that wear faster unload their springs sooner: heat and oil go on by torque and slip
    /// alone, and only while wear is not what the slip heats.
    #[test]
    fn more_of_anything_never_spares(torque_n_m in 10.0..400.0_f64, slip_rad_s in -8.0..8.0_f64, oil_k in 350.0..400.0_f64, more in 1.01..1.4_f64) {
        let model = usual();
        let after = |torque_n_m: f64, slip_rad_s: f64, oil_k: f64, dirt: f64| {
            let duty = Record::edit::<LimitedSlip>(&at(10.0, torque_n_m, slip_rad_s));
            model.after(&duty.channel("axle_oil_temp_k", oil_k).channel("contamination_factor", dirt).duty())
        };
        let usual = after(torque_n_m, slip_rad_s, oil_k, 1.0);
        let worse = [after(torque_n_m * more, slip_rad_s, oil_k, 1.0), after(torque_n_m, slip_rad_s * more, oil_k, 1.0), after(torque_n_m, slip_rad_s, oil_k + 60.0 * (more - 1.0), 1.0), after(torque_n_m, slip_rad_s, oil_k, more)];
        for (change, worse) in worse.iter().enumerate() {
            for (slot, (usual, worse)) in usual.iter().zip(worse).enumerate() {
                let of_heat = [slot::OIL_DOSE, slot::ENERGY].contains(&slot);
                prop_assert!(*worse >= usual * (1.0 - 1e-9) || (of_heat && change > 1), "slot {slot}, change {change}: {usual} {worse}");
            }
        }
    }

    /// Either wheel may be the faster one.
    #[test]
    fn the_sign_of_slip_does_not_matter(torque_n_m in -60.0..400.0_f64, slip_rad_s in 0.0..30.0_f64) {
        prop_assert_eq!(usual().after(&at(10.0, torque_n_m, slip_rad_s)), usual().after(&at(10.0, torque_n_m, -slip_rad_s)));
    }

    /// Rougher steels, softer pairs: a worse surface never lengthens wear life.
    #[test]
    fn worse_surfaces_never_spare(more in 1.01..4.0_f64) {
        let wear = usual().after(&event())[slot::STACK_WEAR];
        for name in ["steel.wear_coefficient_m2_n", "steel.ra_m", "lining.wear_coefficient_m2_n"] {
            let worse = prepared(changed::<LimitedSlip>(&ground(), name, more)).after(&event());
            prop_assert!(worse[slot::STACK_WEAR] > wear, "{name}");
        }
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    laws::higher_rate_never_lengthens_life(usual(), &usual().after(&event()), &event());
}

#[test]
fn the_risk_agrees_with_the_lives() {
    let conditions = usual().ageing(&event(), 2, 4);
    laws::risk_agrees_with_lives(usual(), &conditions, &event(), 0.015);
}

/// What is left of the spread is that of slip, friction and surface: half have ended, half have not.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    let half = 0.48..=0.52;
    let spec = spec(&ground());
    let limit_n_m = spec.limit_breakaway_n_m;
    let (mut low, mut high) = (0.0, 1.0e-3);
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if breakaway_n_m(&spec, middle) > limit_n_m {
            low = middle;
        } else {
            high = middle;
        }
    }
    let nothing = driveline::duty::<LimitedSlip>(&[]);
    for (mechanism, slot, value) in [
        ("stack_wear", "stack_wear_m", 0.4e-3),
        ("preload", "stack_wear_m", high * (1.0 + 1e-12)),
        ("plates", "scoring_m", (0.10e-3 - 0.03e-3) * (1.0 + 1e-12)),
        ("chatter", "oil_dose_j_m3", chatter_dose_j_m3(&spec, 0.0)),
    ] {
        let used = usual().begin_with(&[(slot, value)]);
        laws::limit_reached_leaves_no_life(usual(), mechanism, &used, &nothing, half.clone());
    }
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let used = usual().after(&event());
    for nothing in [driveline::duty::<LimitedSlip>(&[]), at(10.0, 200.0, 0.0)] {
        laws::nothing_adds_nothing(usual(), &used, &nothing);
    }
}

#[test]
fn a_nearer_horizon_cuts_the_same_lives() {
    let model = usual();
    laws::nearer_horizon_cuts_the_same_lives(
        model,
        "stack_wear",
        &model.begin(),
        &event(),
        (15.0, 0.02),
    );
}

#[test]
fn the_same_input_gives_the_same_bits() {
    laws::same_input_same_bits(usual(), &event());
}

/// A wheel that spins under more torque than any car has: every slot stays in its range, lives are over, and notes say why.
#[test]
fn conditions_stay_within_the_card_however_long_the_duty() {
    let extreme = Record::edit::<LimitedSlip>(&event())
        .channel("axle_torque_n_m", 5.0e4)
        .channel("differential_slip_speed_rad_s", 500.0)
        .duty();
    let forecast = laws::slots_stay_within_the_card(usual(), &usual().begin(), &extreme, 200);
    assert!(first(&forecast).iter().all(|life| *life == 0.0));
    let notes = fields(&forecast.notes);
    for field in [
        "event",
        "chatter_index",
        "stack_wear",
        "preload",
        "chatter",
        "plates",
    ] {
        assert!(notes.contains(&field), "{notes:?}");
    }
}

/// Each operation gives back what it says and no more.
#[test]
fn rework_clears_what_it_says() {
    let model = usual();
    let used = model.begin_with(&USED.map(|(name, range)| (name, 0.5 * range.end)));
    let (oil, stack) = (
        model.rework(&used, "change_oil"),
        model.rework(&used, "restack"),
    );
    for index in 0..used.len() {
        assert!(used[index] > 0.0);
        assert_eq!(
            oil[index],
            if index == slot::OIL_DOSE {
                0.0
            } else {
                used[index]
            }
        );
        assert_eq!(
            stack[index],
            if index == slot::ENERGY {
                used[index]
            } else {
                0.0
            }
        );
    }
}

/// Corners under power do nearly all of it.
#[test]
fn shares_go_to_what_does_the_harm() {
    let duty = event();
    let forecast = usual().forecast(&usual().begin(), &duty);
    for (index, found) in forecast.mechanisms.iter().enumerate() {
        let columns = found.point_shares.iter().zip(&duty.points[1]);
        let corners: f64 = columns
            .filter(|(_, slip)| slip.abs() > 1.0)
            .map(|(share, _)| share)
            .sum();
        assert!((found.point_shares.iter().sum::<f64>() - 1.0).abs() < 1e-9);
        assert!(corners > 0.8, "{index} {corners}");
    }
}
