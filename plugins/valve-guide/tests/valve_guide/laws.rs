//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::Duty;
use ringland_plugin_valve_guide::ValveGuide;
use ringland_plugin_valve_guide::card::{mechanism, reading, slot};
use ringland_trials::{Record, changed, first, laws, median, with};

use crate::scenario::{
    Prepared, any_record, dry, duty, event, on_same_map, plain, treated, untreated,
};

fn any_duty() -> BoxedStrategy<Duty> {
    any_record()
        .shock("over_rev", &[0.2..3.0, 880.0..990.0, -50.0..300.0], 2)
        .mate("valve.stem_top_loss_m", 0.0..10.0e-6)
        .mate("valve.stem_bottom_loss_m", 0.0..20.0e-6)
        .strategy()
}

fn starts(model: &Prepared) -> BoxedStrategy<Vec<f64>> {
    model.any_used(&[
        ("top_plus_wear_m3", 0.0..5.0e-10),
        ("bottom_plus_wear_m3", 0.0..5.0e-10),
        ("bottom_minus_wear_m3", 0.0..5.0e-10),
        ("worst_galling_index", 0.0..0.3),
    ])
}

/// Worn volume of a record.
fn worn(model: &Prepared, duty: &Duty) -> f64 {
    model.after(duty)[..slot::GALLING].iter().sum()
}

fn with_mates(duty: &Duty, top_m: f64, bottom_m: f64) -> Duty {
    Record::edit::<ValveGuide>(duty)
        .mate("valve.stem_top_loss_m", top_m)
        .mate("valve.stem_bottom_loss_m", bottom_m)
        .duty()
}

#[test]
fn no_slot_falls_a_cut_record_gives_the_same_and_order_does_not_matter() {
    for model in [plain(), &on_same_map(treated())] {
        let starts = starts(model);
        laws::slots_follow_their_trends(model, &starts, &any_duty());
        laws::cut_records_add_up(model, &starts, &any_duty(), 1e-9);
        laws::order_of_records_does_not_matter(model, &starts, &any_duty(), 1e-9);
        laws::order_within_a_record_does_not_matter(model, &starts, &any_duty(), 1e-9);
    }
}

#[test]
fn a_higher_rate_never_lengthens_life() {
    laws::higher_rate_never_lengthens_life(plain(), &plain().after(&event()), &event());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, failure_persistence: None, ..ProptestConfig::default() })]

    /// Hotter exhaust, hotter oil, fuel, dust, more time: never less wear. Speed is another matter (surge), but twice the time at a speed is twice the wear.
    #[test]
    fn more_heat_and_dirt_never_spare_the_guide(rpm in 1500.0..8400.0_f64, exhaust_k in 600.0..1200.0_f64, more in 0.01..0.3_f64) {
        let model = plain();
        let usual = duty(&[(rpm, exhaust_k, 10.0)]);
        let least = worn(model, &usual);
        let edit = |channel: &str, value: f64| Record::edit::<ValveGuide>(&usual).channel(channel, value).duty();
        for worse in [
            edit("exhaust_temp_k", exhaust_k * (1.0 + more)),
            edit("oil_temp_k", 383.15 + 50.0 * more),
            edit("coolant_temp_k", 363.15 + 50.0 * more),
            edit("fuel_dilution_fraction", 0.1 * more),
            edit("contamination_factor", 1.0 + more),
        ] {
            prop_assert!(worn(model, &worse) >= least * (1.0 - 1e-12));
        }
        let twice = duty(&[(rpm, exhaust_k, 20.0)]);
        prop_assert!((worn(model, &twice) / least - 2.0).abs() < 1e-9);
        let hotter = edit("exhaust_temp_k", exhaust_k * (1.0 + more));
        prop_assert!(model.after(&hotter)[slot::GALLING] >= model.after(&usual)[slot::GALLING]);
    }

    /// More clearance from the stem never lengthens a life, whichever end has lost it.
    #[test]
    fn a_worn_stem_never_lengthens_life(top in 0.0..15.0e-6_f64, bottom in 0.0..15.0e-6_f64, more in 1.0e-6..10.0e-6_f64, events in 0..10_usize) {
        let model = plain();
        let used = if events == 0 { model.begin() } else { model.repeated(&model.begin(), &event(), events) };
        let life = |top_m, bottom_m| median(&first(&model.forecast(&used, &with_mates(&event(), top_m, bottom_m))));
        let usual = life(top, bottom);
        prop_assert!(life(top + more, bottom) <= usual * (1.0 + 1e-9) && life(top, bottom + more) <= usual * (1.0 + 1e-9));
    }
}

/// Surge: wear of a cycle rises and falls with speed, so speed has no law of its own; over the whole range it still rises.
#[test]
fn speed_is_not_monotonic_because_springs_surge() {
    let rate = |rpm: f64| worn(&on_same_map(dry()), &duty(&[(rpm, 1100.0, 10.0)])) / rpm;
    let rates: Vec<f64> = (0..140)
        .map(|k| rate(4000.0 + 30.0 * f64::from(k)))
        .collect();
    let falls = rates.windows(2).filter(|pair| pair[1] < pair[0]).count();
    println!(
        "wear of a cycle falls in {falls} of {} steps of 30 1/min",
        rates.len() - 1
    );
    assert!(falls > 10 && falls < 130, "{falls}");
}

/// Rougher, less hard-wearing, shorter or with more overhang: never less worn volume. More side force likewise.
#[test]
fn a_worse_guide_never_wears_less() {
    let usual = worn(plain(), &event());
    for (name, by) in [
        ("bore.rq_m", 1.2),
        ("stem.rq_m", 1.3),
        ("bore.wear_coefficient_m2_n", 1.2),
    ] {
        let worse = on_same_map(changed::<ValveGuide>(&untreated(), name, by));
        assert!(worn(&worse, &event()) > usual, "{name}");
    }
    for (name, by) in [
        ("guide_length_m", 0.9),
        ("tip_overhang_m", 1.1),
        ("tip_friction", 1.3),
        ("spring_side_share", 1.5),
        ("seat_load_n", 1.1),
    ] {
        let worse = Prepared::new(changed::<ValveGuide>(&untreated(), name, by));
        assert!(worn(&worse, &event()) > usual, "{name}");
    }
}

/// A flat bucket bears on the axis and pulls to no side: only the spring's lean is left.
#[test]
fn a_bucket_hardly_wears_its_guide() {
    let mut bucket = with::<ValveGuide>(&untreated(), "rocker_ratio", 1.0);
    bucket.choices[0] = 0;
    bucket = with::<ValveGuide>(&bucket, "base_radius_m", 0.035);
    let model = Prepared::new(bucket);
    let share = worn(&model, &event()) / worn(plain(), &event());
    println!("bucket: wear x {share:.2}");
    assert!(share < 0.4, "{share}");
}

#[test]
fn an_over_rev_and_dust_count() {
    let record = Record::edit::<ValveGuide>(&event());
    let with = record.shock("over_rev", &[20.0, 960.0, 200.0]).duty();
    assert!(worn(plain(), &with) > worn(plain(), &event()));
    for found in &plain().forecast(&plain().begin(), &with).mechanisms[..2] {
        let all = found.point_shares.iter().chain(&found.shock_shares);
        assert!((all.sum::<f64>() - 1.0).abs() < 1e-12 && found.shock_shares[0] > 0.0);
    }
}

/// Scales the volumes of a used guide until a reading stands at its limit.
fn at_limit(model: &Prepared, index: usize) -> Vec<f64> {
    let used = model.repeated(&model.begin(), &event(), 4);
    let reads = |by: f64| {
        let mut row = used.clone();
        row[..slot::GALLING].iter_mut().for_each(|v| *v *= by);
        let path = &model.forecast(&row, &event()).readings[index];
        (path.median[0] - path.limit.unwrap(), row)
    };
    let (mut low, mut high) = (0.1, 100.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if reads(middle).0 < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    reads(high * (1.0 + 1e-9)).1
}

/// What is left of the spread is that between guides: half have reached it.
#[test]
fn a_limit_reached_exactly_leaves_no_life() {
    for (name, index) in [("clearance", reading::MOUTH), ("wobble", reading::WOBBLE)] {
        let row = at_limit(plain(), index);
        laws::limit_reached_leaves_no_life(plain(), name, &row, &event(), 0.488..=0.512);
    }
    let mut galled = plain().after(&event());
    galled[slot::GALLING] = 1.0;
    laws::limit_reached_leaves_no_life(plain(), "galling", &galled, &event(), 0.488..=0.512);
}

#[test]
fn an_event_of_nothing_adds_nothing() {
    let used = plain().after(&event());
    for nothing in [duty(&[(0.0, 400.0, 1.0)]), duty(&[])] {
        laws::nothing_adds_nothing(plain(), &used, &nothing);
    }
}

#[test]
fn the_same_input_gives_the_same_bits() {
    laws::same_input_same_bits(plain(), &event());
}

/// From new to past the limit.
#[test]
fn the_risk_agrees_with_the_lives() {
    let conditions = plain().ageing(&event(), 4, 6);
    laws::risk_agrees_with_lives(plain(), &conditions, &event(), 0.01);
}

#[test]
fn a_nearer_horizon_cuts_the_same_lives() {
    let used = plain().repeated(&plain().begin(), &event(), 3);
    laws::nearer_horizon_cuts_the_same_lives(plain(), "wobble", &used, &event(), (12.0, 0.02));
}

/// A look at the bore clears the galling index and gives no wear back.
#[test]
fn a_look_at_the_bore_keeps_the_wear() {
    let used = plain().after(&event());
    let seen = plain().rework(&used, "bore_seen");
    assert_eq!(seen[..slot::GALLING], used[..slot::GALLING]);
    assert_eq!(seen[slot::GALLING], 0.0);
}

/// The stem's loss adds to each mouth, and to the wobble by the geometry of the tilt.
#[test]
fn the_stems_wear_adds_to_the_clearance() {
    let read = |top_m: f64, bottom_m: f64| {
        let forecast = plain().forecast(&plain().begin(), &with_mates(&event(), top_m, bottom_m));
        [reading::TOP, reading::BOTTOM, reading::WOBBLE].map(|r| forecast.readings[r].median[0])
    };
    let [new, worn] = [read(0.0, 0.0), read(6.0e-6, 10.0e-6)];
    assert!((new[0] - 50.0e-6).abs() < 1e-12 && (new[1] - 50.0e-6).abs() < 1e-12);
    assert!((worn[0] - 56.0e-6).abs() < 1e-12 && (worn[1] - 60.0e-6).abs() < 1e-12);
    // 40 mm below a guide of 40 mm: once the bottom's, once both.
    assert!((worn[2] - new[2] - 26.0e-6).abs() < 1e-12, "{worn:?}");
}

/// Far off the map and beyond every limit, with notes that say so.
#[test]
fn conditions_stay_within_the_card_however_long_the_duty() {
    let record =
        Record::edit::<ValveGuide>(&duty(&[(23_000.0, 1600.0, 1.6e7), (1.0, 300.0, 10.0)]));
    let extreme = record
        .shock("over_rev", &[3600.0, 2500.0, 5000.0])
        .channel("contamination_factor", 20.0)
        .duty();
    let forecast = laws::slots_stay_within_the_card(plain(), &plain().begin(), &extreme, 50);
    assert!(first(&forecast).iter().all(|life| *life == 0.0));
    let notes = ringland_trials::fields(&forecast.notes);
    for field in ["event", "clearance", "wobble"] {
        assert!(notes.contains(&field), "{notes:?}");
    }
}

/// Too hot for its clearance: the forecast says so, and the stem's heat is what decides.
#[test]
fn a_stem_that_grows_tight_is_told() {
    let tight = on_same_map(with::<ValveGuide>(&untreated(), "clearance_m", 16.0e-6));
    let note = |exhaust_k: f64| {
        let event = duty(&[(7000.0, exhaust_k, 10.0)]);
        let forecast = tight.forecast(&tight.begin(), &event);
        ringland_trials::fields(&forecast.notes).contains(&"hot_clearance_m")
    };
    assert!(!note(550.0) && note(1500.0));
}

/// What is not known of a surface widens the lives.
#[test]
fn spread_of_a_surface_widens_life() {
    let width = |model: &Prepared| {
        let lives =
            &model.forecast(&model.begin(), &event()).mechanisms[mechanism::WOBBLE].lives_events;
        ringland_trials::quantile(lives, 0.9) / ringland_trials::quantile(lives, 0.1)
    };
    let usual = width(plain());
    for (surface, property) in [(0, 3), (0, 0), (1, 0)] {
        let mut unsure = untreated();
        unsure.surfaces[surface].ln_sd[property] = 0.6;
        assert!(
            width(&on_same_map(unsure)) > 1.005 * usual,
            "{surface} {property}"
        );
    }
}
