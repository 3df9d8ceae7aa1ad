//! Laws of the model, against closed forms.

use differential_clutch::DifferentialClutch as Clutch;
use ringland_plugin::{
    Duty, ForecastRequest, LifeForecast, Model, Rate, Severity, Specimen, default_specimen,
};

fn specimen() -> Specimen {
    default_specimen(&Clutch::card())
}

fn duty(slip_rad_s: f64, torque_n_m: f64, hours: f64) -> Duty {
    Duty {
        duration_s: hours * 3600.0,
        time_s: vec![hours * 3600.0],
        points: vec![vec![slip_rad_s], vec![torque_n_m], vec![383.15]],
        cycles: vec![],
        shocks: vec![],
        mates: vec![],
    }
}

fn set(specimen: &mut Specimen, name: &str, value: f64) {
    let index = Clutch::card().number_index(name).unwrap();
    specimen.numbers[index] = value;
}

fn advance(specimen: &Specimen, condition: &[f64], duties: &[Duty]) -> Vec<f64> {
    let rows = Clutch::advance(
        specimen.clone(),
        vec![],
        condition.to_vec(),
        duties.to_vec(),
    );
    rows.unwrap().pop().unwrap()
}

fn forecast(specimen: &Specimen, condition: &[f64], rate: Rate) -> LifeForecast {
    let request = ForecastRequest {
        condition: condition.to_vec(),
        event: duty(3.6, 1260.0, 0.85),
        rates: vec![rate; 3],
        samples: 501,
        seed: 3,
        horizon_events: 60.0,
        ahead_events: vec![0.0, 1.0, 5.0],
    };
    Clutch::forecast(specimen.clone(), vec![], request).unwrap()
}

const CERTAIN: Rate = Rate {
    ln_mean: 0.0,
    ln_sd: 0.0,
};

fn close(value: f64, expected: f64, relative: f64) {
    let error = (value / expected - 1.0).abs();
    assert!(error < relative, "{value} against {expected}: {error:e}");
}

#[test]
fn the_default_spec_passes_its_own_check() {
    assert_eq!(Clutch::check(specimen()), []);
}

#[test]
fn a_limit_above_the_preload_is_an_error_and_an_odd_area_a_warning() {
    let mut bad = specimen();
    set(&mut bad, "preload_limit_n_m", 100.0);
    let finding = Clutch::check(bad).remove(0);
    assert_eq!(
        (finding.severity, finding.field.as_str()),
        (Severity::Error, "preload_limit_n_m")
    );
    let mut odd = specimen();
    set(&mut odd, "face_area_m2", 0.06);
    set(&mut odd, "friction_faces", 4.0);
    set(&mut odd, "mean_radius_m", 0.036);
    let finding = Clutch::check(odd).remove(0);
    assert_eq!(
        (finding.severity, finding.field.as_str()),
        (Severity::Warning, "face_area_m2")
    );
}

/// Without axle torque only the springs press: ds/dt = a (1 - s/s0), so s = s0 (1 - exp(-a t/s0)),
/// and the friction energy over friction is volume over k (Archard).
#[test]
fn wear_of_a_pack_held_by_its_springs_follows_the_closed_form() {
    let mut pack = specimen();
    pack.surfaces[0].values[1] = 5e-14;
    let hours = 2.0;
    let worn = advance(&pack, &[0.0; 4], &[duty(20.0, 0.0, hours)])[0];
    let (faces, area_m2, preload_n_m, friction) = (8.0, 0.034, 90.0, 0.1);
    let initial_m_s = faces * 5e-14 * (preload_n_m / friction) * 10.0 / area_m2;
    let travel_m = 0.9e-3;
    let expected_m = travel_m * (1.0 - (-initial_m_s * hours * 3600.0 / travel_m).exp());
    assert!(
        expected_m > 0.5 * travel_m,
        "the springs are well unloaded: {expected_m}"
    );
    close(worn, expected_m, 1e-4);
}

#[test]
fn two_halves_are_the_whole() {
    let whole = advance(&specimen(), &[0.0; 4], &[duty(3.6, 1260.0, 2.0)]);
    let halves = vec![duty(3.6, 1260.0, 1.0); 2];
    for (half, whole) in advance(&specimen(), &[0.0; 4], &halves).iter().zip(whole) {
        assert!((half - whole).abs() <= 1e-7 * whole, "{half} {whole}");
    }
}

#[test]
fn no_slip_no_wear_and_the_side_that_turns_faster_is_all_the_same() {
    assert_eq!(
        advance(&specimen(), &[0.0; 4], &[duty(0.0, 3000.0, 1.0)]),
        [0.0; 4]
    );
    let left = advance(&specimen(), &[0.0; 4], &[duty(5.0, 1000.0, 1.0)]);
    assert_eq!(
        advance(&specimen(), &[0.0; 4], &[duty(-5.0, 1000.0, 1.0)]),
        left
    );
}

#[test]
fn a_steeper_ramp_angle_locks_and_wears_less_and_coast_has_its_own() {
    let drive = advance(&specimen(), &[0.0; 4], &[duty(5.0, 1000.0, 1.0)])[0];
    let coast = advance(&specimen(), &[0.0; 4], &[duty(5.0, -1000.0, 1.0)])[0];
    assert!(coast < drive);
    let mut same = specimen();
    set(
        &mut same,
        "coast_ramp_angle_rad",
        std::f64::consts::FRAC_PI_4,
    );
    let coast = advance(&same, &[0.0; 4], &[duty(5.0, -1000.0, 1.0)])[0];
    close(coast, drive, 1e-9);
}

#[test]
fn shims_restore_preload_and_new_oil_its_modifier() {
    let worn = advance(&specimen(), &[0.0; 4], &[duty(3.6, 1260.0, 3.0)]);
    let now = |condition: &[f64]| {
        let readings = forecast(&specimen(), condition, CERTAIN).readings;
        readings
            .iter()
            .map(|path| path.median[0])
            .collect::<Vec<_>>()
    };
    let before = now(&worn);
    assert!(before[1] < 80.0 && before[2] < 0.9, "{before:?}");
    let rework = |operation| Clutch::rework(specimen(), vec![], worn.clone(), operation).unwrap();
    let (oil, shim) = (now(&rework(0)), now(&rework(1)));
    assert_eq!((oil[0], oil[1], oil[2]), (before[0], before[1], 1.0));
    assert_eq!((shim[0], shim[1], shim[2]), (before[0], 90.0, before[2]));
    assert!(Clutch::rework(specimen(), vec![], worn.clone(), 2).is_err());
}

/// The life of a part of known rate is the number of events after which its reading is its limit.
#[test]
fn a_life_ends_at_its_limit() {
    let lives = forecast(&specimen(), &[0.0; 4], CERTAIN).mechanisms;
    let life = lives[0].lives_events[0];
    let events = vec![duty(3.6, 1260.0, 0.85); life.floor() as usize];
    let before = advance(&specimen(), &[0.0; 4], &events);
    let after = advance(&specimen(), &before, &[duty(3.6, 1260.0, 0.85)]);
    assert!(
        before[0] <= 0.4e-3 && after[0] >= 0.4e-3,
        "{life}: {before:?} {after:?}"
    );
}

#[test]
fn a_part_at_its_limit_has_no_life_and_a_certain_end() {
    let end = forecast(&specimen(), &[0.5e-3, 0.0, 0.0, 0.0], CERTAIN);
    assert!(
        end.mechanisms[0]
            .lives_events
            .iter()
            .all(|&life| life == 0.0)
    );
    assert_eq!(end.mechanisms[0].risk_next_event, 1.0);
}

/// Of a lognormal rate the median life is the life at the median rate, and the quantiles of life
/// are those at the opposite quantiles of the rate.
#[test]
fn drawn_lives_are_spread_as_the_rate_is() {
    let rate = Rate {
        ln_mean: 0.0,
        ln_sd: 0.5,
    };
    let certain = forecast(&specimen(), &[0.0; 4], CERTAIN).mechanisms[0].lives_events[0];
    let mut lives = forecast(&specimen(), &[0.0; 4], rate)
        .mechanisms
        .remove(0)
        .lives_events;
    let median = ringland_plugin::quantile(&mut lives, 0.5).unwrap();
    close(median, certain, 0.01);
}

/// Without use nothing wears out: every life is the horizon.
#[test]
fn an_idle_event_leaves_every_life_at_the_horizon() {
    let request = ForecastRequest {
        condition: vec![1e-4, 0.0, 1e6, 1e6],
        event: duty(0.0, 0.0, 1.0),
        rates: vec![CERTAIN; 3],
        samples: 3,
        seed: 0,
        horizon_events: 12.5,
        ahead_events: vec![0.0],
    };
    let idle = Clutch::forecast(specimen(), vec![], request).unwrap();
    for mechanism in idle.mechanisms {
        assert_eq!(mechanism.lives_events, [12.5; 3]);
        assert_eq!(
            (mechanism.risk_next_event, mechanism.point_shares),
            (0.0, vec![0.0])
        );
    }
}
