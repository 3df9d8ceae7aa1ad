//! What hard landings do: sink that jumps, a taper that comes off, surge.

use ringland_engine::valvetrain::SpeedMap;
use ringland_engine::valvetrain::TrainSolver;
use ringland_plugin::Severity;
use ringland_plugin_spring_retainer::SpringRetainer;
use ringland_plugin_spring_retainer::card::slot;
use ringland_plugin_spring_retainer::operating_map::{GRID, look_up};
use ringland_plugin_spring_retainer::spec::Spec;
use ringland_trials::{engine, fields, with, with_all};

use crate::scenario::{Prepared, bare, event, untreated};

/// Sink in jumps of some 0.05 mm in one event is float (common practice, no source): two seconds of a far over-rev drive the default retainer on by the
/// order of that, a heavier one on a dry taper by more, and then the forecast says stop; an event without the over-rev does neither. The jump
/// comes once, whatever else is run.
#[test]
fn float_makes_the_sink_jump() {
    let jump = |model: &Prepared, rpm: f64| {
        let usual = model.after(&event());
        let floating = engine::with_over_rev::<SpringRetainer>(&event(), 2.0, rpm, -40.0);
        let once = model.after(&floating);
        let again = model.then(&once, &floating);
        assert!(again[slot::SINK] - once[slot::SINK] < 5.0e-6);
        let notes = fields(&model.forecast(&model.begin(), &floating).notes).join(" ");
        let jump_m = once[slot::SINK] - usual[slot::SINK];
        println!(
            "an over-rev to {rpm} 1/min: sink jumps by {:.1} um, force {:.0} N",
            1e6 * jump_m,
            once[slot::FORCE]
        );
        (jump_m, notes)
    };
    let (jump_m, notes) = jump(bare(), 10_600.0);
    assert!(
        (0.02e-3..0.08e-3).contains(&jump_m) && !notes.contains("sink_m"),
        "{jump_m}"
    );
    let changes = [
        ("taper.boundary_friction", 0.14),
        ("retainer_mass_kg", 0.018),
    ];
    let heavy = Prepared::new(with_all::<SpringRetainer>(&untreated(), &changes));
    let (jump_m, notes) = jump(&heavy, 11_000.0);
    assert!(
        jump_m > 0.05e-3 && notes.contains("sink_m"),
        "{jump_m} {notes}"
    );
    let usual = heavy.forecast(&heavy.begin(), &event());
    assert!(!fields(&usual.notes).contains(&"sink_m"));
}

/// By hand: the retainer is driven on by `(F − F_open)/(A (sin α + μ cos α)) /(k_n sin α)`.
#[test]
fn driving_on_by_hand() {
    let spec = Spec::read(&untreated()).unwrap();
    let approach = 4.25e-3 / 1.14e11
        * ((14.0_f64.powi(2) + 8.5_f64.powi(2)) / (14.0_f64.powi(2) - 8.5_f64.powi(2)) + 0.33)
        + 4.25e-3 / 2.05e11 * 0.71;
    let area = std::f64::consts::PI * 8.5e-3 * 0.01 / 0.122_f64.cos();
    let pressure = 3000.0 / (area * (0.122_f64.sin() + 0.12 * 0.122_f64.cos()));
    let by_hand = pressure * approach / 0.122_f64.sin();
    let found = spec.driven_m(spec.opened_n() + 3000.0);
    assert!((found / by_hand - 1.0).abs() < 1e-9, "{found} {by_hand}");
    assert_eq!(spec.driven_m(0.0), 0.0);
}

/// A slippery taper of a wide angle lets go in a landing whose rebound takes the spring's force away, and is told of.
#[test]
fn a_taper_that_lets_go_is_told_of() {
    let mut specimen = with::<SpringRetainer>(&untreated(), "taper.boundary_friction", 0.05);
    specimen = with::<SpringRetainer>(&specimen, "retainer_mass_kg", 0.06);
    let loose = Prepared::new(specimen);
    let floating = engine::with_over_rev::<SpringRetainer>(&event(), 2.0, 11_800.0, -40.0);
    let forecast = loose.forecast(&loose.begin(), &floating);
    let told = forecast
        .notes
        .iter()
        .find(|note| note.field == "event")
        .unwrap();
    assert_eq!(told.severity, Severity::Warning);
    // On the default duty the whole of a taper this slippery slides, against a dry one that holds.
    let (slides, holds) = (loose.after(&event()), bare().after(&event()));
    assert!(
        slides[slot::TAPER] > 3.0 * holds[slot::TAPER],
        "{slides:?} {holds:?}"
    );
}

/// Surge makes wear rise and fall with speed: at one speed below the limiter the end coil slides more than a twentieth above it.
#[test]
fn surge_shows() {
    let spec = Spec::read(&untreated()).unwrap();
    let map = SpeedMap::read(&bare().map, &spec.train, &GRID).unwrap();
    let dose = |share: f64| {
        look_up(&spec, &map, share * spec.train.limiter_speed_rad_s)
            .0
            .seat_pa_m
    };
    let falls =
        (60..100).any(|k| dose(0.01 * f64::from(k)) > 1.1 * dose(0.01 * f64::from(k) + 0.05));
    assert!(falls);
}

/// The forces: at a crawl those of the spring alone, from seat load to full lift.
#[test]
fn at_a_crawl_the_taper_feels_the_spring() {
    let spec = Spec::read(&untreated()).unwrap();
    let solver = TrainSolver::new(&spec.train);
    let cycle = solver.cycle(40.0, 400.0).unwrap();
    let forces: Vec<f64> =
        ringland_plugin_spring_retainer::turn::taper_forces(&spec, &cycle).collect();
    let (low, high) = forces
        .iter()
        .fold((f64::INFINITY, 0.0_f64), |(low, high), f| {
            (low.min(*f), high.max(*f))
        });
    assert!((low / 400.0 - 1.0).abs() < 0.02, "{low}");
    assert!(
        (high / spec.opened_n() - 1.0).abs() < 0.03,
        "{high} {}",
        spec.opened_n()
    );
}
