//! What surfaces do: sign, order and bounds. Bounds of peening are from memory (fatigue limit +10 to +30 % in bending; compression moves the start
//! of cracks below the surface); no point value is claimed.

use ringland_mechanics::fatigue::ResidualProfile;
use ringland_plugin::{Model, Specimen};
use ringland_plugin_connecting_rod::ConnectingRod;
use ringland_plugin_connecting_rod::card::reading;

use crate::scenario::{Prepared, depths, event, peened, plain, prepared, treated, untreated};

/// Damage of the shoulder, whichever zone is ahead.
fn shoulder(model: &Prepared) -> f64 {
    let row = model.after(&event());
    row[2].max(row[3])
}

fn with_profile(depth_m: &[f64], stress_pa: &[f64]) -> Specimen {
    let mut specimen = untreated();
    let surface = &mut specimen.surfaces[1];
    (surface.depth_m, surface.residual_stress_pa) = (depth_m.to_vec(), stress_pa.to_vec());
    specimen
}

#[test]
fn peening_lengthens_life_by_strength_within_bounds_and_moves_the_start() {
    let gain = (shoulder(plain()) / shoulder(peened())).powf(1.0 / 9.0);
    println!(
        "shoulder: peening is worth {:.1} % of strength",
        100.0 * (gain - 1.0)
    );
    assert!((1.05..1.35).contains(&gain), "{gain}");
    let depth = |model: &Prepared| {
        let forecast = model.forecast(&model.after(&event()), &event());
        forecast.readings[reading::EYE_DEPTH + 1].median[0]
    };
    assert_eq!(depth(plain()), 0.0);
    assert!(depth(peened()) > 1.0e-4, "{}", depth(peened()));
    // What was masked stays as it was.
    let (plain, peened) = (plain().after(&event()), peened().after(&event()));
    assert_eq!(plain[4..6], peened[4..6]);
}

/// Rougher is weaker, tension is weaker, more compression is never weaker at the surface.
#[test]
fn surfaces_order_lives() {
    let mut last = 0.0;
    for ra_um in [0.1, 0.4, 1.6, 6.3] {
        let mut specimen = untreated();
        specimen.surfaces[1].values[0] = 1.0e-6 * ra_um;
        let worn = shoulder(&prepared(specimen));
        assert!(worn >= last, "Ra {ra_um}: {worn} {last}");
        assert!(
            ra_um < 1.0 || worn > 1.3 * last,
            "Ra {ra_um}: {worn} {last}"
        );
        last = worn;
    }
    let mut last = f64::INFINITY;
    for stress_mpa in [200.0, 0.0, -200.0, -400.0, -800.0] {
        let profile = [1.0e6 * stress_mpa, 0.0];
        let worn = prepared(with_profile(&[0.0, 1.5e-4], &profile)).after(&event())[2];
        assert!(worn <= last, "{stress_mpa}: {worn} {last}");
        last = worn;
    }
}

/// A shallow, strong profile of fine particles on top of a deep one raises the surface and leaves the depth to the deep one: not a longer life once the
/// core leads.
#[test]
fn fine_particles_help_where_cracks_start_at_the_surface() {
    let fine = |base: &[f64]| -> Vec<f64> {
        let extra = |z: f64| -5.0e8 * (-2.0 * ((z - 1.0e-5) / 2.5e-5_f64).powi(2)).exp();
        depths()
            .iter()
            .zip(base)
            .map(|(z, s)| s + extra(*z))
            .collect()
    };
    let alone = with_profile(&depths(), &fine(&[0.0; 12]));
    let alone = prepared(alone).after(&event());
    let plain = plain().after(&event());
    assert!(alone[2] < 0.5 * plain[2], "{alone:?}");
    let mut dual = treated();
    dual.surfaces[1].residual_stress_pa = fine(&dual.surfaces[1].residual_stress_pa.clone());
    dual.surfaces[1].values[0] = 0.4e-6;
    let dual = prepared(dual).after(&event());
    let deep = peened().after(&event());
    assert!(dual[2] < deep[2]);
    assert!((dual[3] / deep[3] - 1.0).abs() < 0.35, "{dual:?} {deep:?}");
}

/// Nodes of the profile: 12 against 61 of the same shape.
#[test]
fn the_profile_needs_no_more_nodes() {
    let fine: Vec<f64> = (0..=60)
        .map(|k| 5.0e-6 * f64::from(k))
        .chain([1.0e-3, 3.0e-3])
        .collect();
    let profile = ResidualProfile::peened(-6.2e8, 4.5e-5, 1.1e-4, 8.0e-3, &fine).unwrap();
    let (depth_m, stress_pa) = profile.columns();
    let mut specimen = treated();
    (
        specimen.surfaces[1].depth_m,
        specimen.surfaces[1].residual_stress_pa,
    ) = (depth_m, stress_pa);
    let change = shoulder(&prepared(specimen)) / shoulder(peened()) - 1.0;
    println!(
        "profile of 63 nodes against 12: shoulder damage {:+.2} %",
        100.0 * change
    );
    assert!(change.abs() < 0.08, "{change}");
}

/// What a doubtful profile says.
#[test]
fn profiles_are_judged() {
    let fields = |specimen: Specimen| -> Vec<String> {
        ConnectingRod::check(specimen)
            .into_iter()
            .map(|f| f.field)
            .collect()
    };
    assert_eq!(
        fields(with_profile(&[0.0, 1e-4], &[-2.0e9, 0.0])),
        ["shoulder.residual_stress_pa"]
    );
    assert_eq!(
        fields(with_profile(&[0.0, 1e-4], &[-6.0e8, -5.0e8])),
        ["shoulder.depth_m"]
    );
    assert!(fields(treated()).is_empty(), "{:?}", fields(treated()));
}
