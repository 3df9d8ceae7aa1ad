//! Laws that hold for any duty.

use proptest::prelude::*;
use ringland_plugin::{Duty, Specimen};
use ringland_plugin_valve_spring::ValveSpring;
use ringland_plugin_valve_spring::card::mechanism::{FATIGUE, LOAD_LOSS};
use ringland_plugin_valve_spring::card::{reading, slot};
use ringland_plugin_valve_spring::spec::Spec;
use ringland_trials::{Record, changed, engine, fields, laws, median, scaled, with};

use crate::springs::{Springs, delivered, delivered_spec, fine_spec, moderate};

fn event() -> Duty {
    engine::event::<ValveSpring>()
}

fn any_duty() -> BoxedStrategy<Duty> {
    engine::any_record::<ValveSpring>()
        .channel("oil_temp_k", 350.0..420.0)
        .shock("over_rev", &[0.1..3.0, 860.0..1100.0, -40.0..200.0], 2)
        .mate("spring_retainer.sink_m", 0.0..4.0e-4)
        .mate("valve.recession_m", 0.0..4.0e-4)
        .strategy()
}

/// A record cut in two: the seat load is followed in steps, so that the parts differ from the whole by less than 1 %.
#[test]
fn slots_rise_and_cut_records_add_up() {
    let starts = delivered().any_used(&[
        ("surface_damage", 0.0..1.0),
        ("reduced_time_s", 0.0..3.0e5),
        ("regained_n", 0.0..30.0),
    ]);
    laws::slots_follow_their_trends(delivered(), &starts, &any_duty());
    laws::cut_records_add_up(delivered(), &starts, &any_duty(), 0.01);
}

/// Records in another order meet other seat loads: a few percent in damage at most, nothing within a record.
#[test]
fn order_hardly_matters() {
    let new = delivered().any_used(&[]);
    laws::order_within_a_record_does_not_matter(delivered(), &new, &any_duty(), 1e-9);
    let worn = delivered().any_used(&[("reduced_time_s", 5.0e4..3.0e5)]);
    laws::order_of_records_does_not_matter(delivered(), &worn, &any_duty(), 0.08);
}

#[test]
fn standstill_changes_nothing() {
    let springs = delivered();
    laws::nothing_adds_nothing(
        springs,
        &springs.after(&event()),
        &engine::standstill::<ValveSpring>(),
    );
    laws::nothing_adds_nothing(springs, &springs.begin(), &engine::duty::<ValveSpring>(&[]));
}

#[test]
fn any_use_stays_within_the_card() {
    let hard = engine::duty::<ValveSpring>(&[(23_000.0, 400.0, 1.0e5)]);
    let hard = Record::edit::<ValveSpring>(&hard)
        .channel("oil_temp_k", 469.0)
        .duty();
    let forecast = laws::slots_stay_within_the_card(delivered(), &delivered().begin(), &hard, 30);
    let told = fields(&forecast.notes);
    for note in [
        "event",
        "float_load_n",
        "least_coil_gap_m",
        "fatigue",
        "load_loss",
    ] {
        assert!(told.contains(&note), "{told:?}");
    }
}

#[test]
fn forecasts_are_sound_and_repeat() {
    let springs = delivered();
    let worn = springs.after(&event());
    laws::higher_rate_never_lengthens_life(springs, &worn, &event());
    laws::same_input_same_bits(springs, &event());
    laws::risk_agrees_with_lives(springs, &springs.ageing(&event(), 2, 4), &event(), 0.02);
    for (mechanism, nearer) in [("fatigue", 8.0), ("load_loss", 20.0)] {
        laws::nearer_horizon_cuts_the_same_lives(
            springs,
            mechanism,
            &worn,
            &event(),
            (nearer, 0.02),
        );
    }
}

/// At 10 % of the seat load lost exactly, nothing is left and the reading is at its limit. (In the moderate train, which does not float before.)
#[test]
fn the_limit_of_the_seat_load_ends_the_life() {
    let springs = moderate();
    let spec = Spec::read(&springs.specimen).unwrap();
    let limit_n = 0.10 * spec.train.seat_load_n;
    let (mut low, mut high) = (0.0, 1.0e9);
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if spec.relaxed_n(middle) < limit_n {
            low = middle;
        } else {
            high = middle;
        }
    }
    let at_limit = springs.begin_with(&[("reduced_time_s", high)]);
    laws::limit_reached_leaves_no_life(springs, "load_loss", &at_limit, &event(), 1.0..=1.0);
}

/// At damage 1 half of single springs have broken, and nearly every set of 16 has lost one (what is not known of the surface is common to a set, and spares a few).
#[test]
fn a_median_spring_at_its_life_ends_nearly_every_set() {
    let springs = delivered();
    let at_life = springs.begin_with(&[("surface_damage", 1.0)]);
    laws::limit_reached_leaves_no_life(springs, "fatigue", &at_life, &event(), 0.97..=1.0);
    let single = Springs::new(with::<ValveSpring>(&delivered_spec(), "springs", 1.0));
    laws::limit_reached_leaves_no_life(&single, "fatigue", &at_life, &event(), 0.49..=0.51);
}

fn life(specimen: &Specimen, mechanism: usize, duty: &Duty) -> f64 {
    let springs = Springs::new(specimen.clone()).within(1e5);
    median(&springs.forecast(&springs.begin(), duty).mechanisms[mechanism].lives_events)
}

/// Worse wire or surface, more springs, more heat never lengthen life; each against the default event.
#[test]
fn what_is_worse_never_lengthens_life() {
    let base = delivered_spec();
    let [fatigue, loss] = [FATIGUE, LOAD_LOSS].map(|index| life(&base, index, &event()));
    let worse_for_fatigue = [
        ("strength_pa", 0.95),
        ("wire_surface.ra_m", 2.0),
        ("wire_surface.hardness_pa", 0.9),
        ("springs", 2.0),
        ("strength_scatter", 1.3),
    ];
    for (name, by) in worse_for_fatigue {
        let worse = life(&changed::<ValveSpring>(&base, name, by), FATIGUE, &event());
        assert!(worse < fatigue, "{name}: {worse} {fatigue}");
    }
    let mut less = base.clone();
    less.surfaces[0]
        .residual_stress_pa
        .iter_mut()
        .for_each(|pa| *pa *= 0.8);
    assert!(life(&less, FATIGUE, &event()) < fatigue);
    // Below the surface it is hardness and inclusions that count.
    let treated = life(&fine_spec(), FATIGUE, &event());
    let dirty = changed::<ValveSpring>(&fine_spec(), "inclusion_root_area_m", 2.0);
    assert!(life(&dirty, FATIGUE, &event()) < 0.5 * treated);
    let worse_for_load = [
        ("relaxation_fraction", 1.2),
        ("hysteresis_fraction", 3.0),
        ("heat_transfer_w_m2_k", 0.5),
        ("limit_seat_load_loss_fraction", 0.6),
    ];
    for (name, by) in worse_for_load {
        let worse = life(
            &changed::<ValveSpring>(&base, name, by),
            LOAD_LOSS,
            &event(),
        );
        assert!(worse < loss, "{name}: {worse} {loss}");
    }
    let hot = Record::edit::<ValveSpring>(&event())
        .channel("oil_temp_k", 395.0)
        .duty();
    assert!(life(&base, LOAD_LOSS, &hot) < loss);
}

/// Keepers that sink and valves that recede take seat load at the spring's rate, and take it at once.
#[test]
fn mates_take_seat_load() {
    let springs = delivered();
    let spec = Spec::read(&springs.specimen).unwrap();
    let sunk = Record::edit::<ValveSpring>(&event())
        .mate("spring_retainer.sink_m", 2.0e-4)
        .mate("valve.recession_m", 1.0e-4)
        .duty();
    let (plain, shifted) = (
        springs.forecast(&springs.begin(), &event()),
        springs.forecast(&springs.begin(), &sunk),
    );
    let load =
        |forecast: &ringland_plugin::LifeForecast| forecast.readings[reading::SEAT_LOAD].median[0];
    let lost_n = 3.0e-4 * spec.train.spring.rate_n_m();
    assert!((load(&plain) - load(&shifted) - lost_n).abs() < 1e-9);
    let lives = |forecast: &ringland_plugin::LifeForecast| {
        median(&forecast.mechanisms[LOAD_LOSS].lives_events)
    };
    assert!(lives(&shifted) < 0.7 * lives(&plain));
}

/// A shim gives the relaxed load back: the reading is as built, damage stays, relaxation slows, coils come closer.
#[test]
fn shims_give_the_load_back() {
    let springs = delivered();
    let worn = springs.repeated(&springs.begin(), &event(), 6);
    let shimmed = springs.rework(&worn, "shimmed");
    let ask = |row: &[f64]| springs.forecast(row, &event());
    let [before, after] = [ask(&worn), ask(&shimmed)];
    let spec = Spec::read(&springs.specimen).unwrap();
    assert!(
        (after.readings[reading::SEAT_LOAD].median[0] / spec.train.seat_load_n - 1.0).abs() < 1e-9
    );
    assert!(before.readings[reading::SEAT_LOAD].median[0] < 0.97 * spec.train.seat_load_n);
    assert!(
        after.readings[reading::COIL_GAP].median[0] < before.readings[reading::COIL_GAP].median[0]
    );
    assert_eq!(worn[..slot::REGAINED], shimmed[..slot::REGAINED]);
    let lives = |forecast: &ringland_plugin::LifeForecast| {
        median(&forecast.mechanisms[LOAD_LOSS].lives_events)
    };
    let new = ask(&springs.begin());
    assert!(
        lives(&after) > lives(&new),
        "old wire relaxes more slowly than new"
    );
}

/// Over-revs are blocks of their own speed: they add what time at that speed adds, and count in the shares.
#[test]
fn over_revs_count() {
    let springs = delivered();
    let burst = engine::with_over_rev::<ValveSpring>(&event(), 2.0, 9600.0, 100.0);
    // Worn springs lose no more seat load within the record.
    let worn = springs.begin_with(&[("reduced_time_s", 1.0e5)]);
    let then = |duty: &Duty| springs.then(&worn, duty)[slot::SURFACE_DAMAGE];
    let alone = then(&engine::duty::<ValveSpring>(&[(9600.0, 100.0, 2.0 / 60.0)]));
    let added = then(&burst) - then(&event());
    assert!((added / alone - 1.0).abs() < 0.03, "{added} {alone}");
    let forecast = springs.forecast(&springs.begin(), &burst);
    assert!(forecast.mechanisms.iter().all(|m| m.shock_shares[0] > 0.0));
    assert!(fields(&forecast.notes).contains(&"float_load_n"));
}

/// Twice the time does twice the harm but for the seat load lost meanwhile.
#[test]
fn harm_goes_with_time() {
    let springs = delivered();
    let worn = springs.begin_with(&[("reduced_time_s", 1.0e5)]);
    let [once, twice] =
        [1.0, 2.0].map(|share| springs.then(&worn, &scaled::<ValveSpring>(&event(), share)));
    for zone in [slot::SURFACE_DAMAGE, slot::CORE_DAMAGE, slot::TURNS] {
        assert!(
            (twice[zone] / (2.0 * once[zone]) - 1.0).abs() < 0.01,
            "{zone}"
        );
    }
}

/// Past 7 % of the seat load a note asks for a measurement; not before.
#[test]
fn the_alarm_comes_before_the_limit() {
    let springs = delivered();
    let told = |events: usize| {
        let row = springs.repeated(&springs.begin(), &event(), events);
        let forecast = springs.forecast(&row, &event());
        let lost = 1.0 - forecast.readings[reading::SEAT_LOAD].median[1] / 400.0;
        let notes = fields(&forecast.notes);
        (
            lost,
            notes.contains(&"seat_load_n"),
            notes.contains(&"load_loss"),
        )
    };
    let (early, late) = (told(2), told(16));
    assert!(early.0 < 0.07 && !early.1, "{early:?}");
    assert!(
        (0.07..0.09).contains(&late.0) && late.1 && !late.2,
        "{late:?}"
    );
}
