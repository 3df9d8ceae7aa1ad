//! Published values through the plugin's own code path.

use std::f64::consts::PI;

use ringland_mechanics::cam::CamContact;
use ringland_mechanics::contact::{elliptic_contact, line_contact};
use ringland_plugin_cam_follower::CamFollower;
use ringland_plugin_cam_follower::condition::Condition;
use ringland_plugin_cam_follower::constants::FILM_LIFE;
use ringland_plugin_cam_follower::duty::{Added, miner};
use ringland_plugin_cam_follower::spec::Spec;
use ringland_plugin_cam_follower::turn::{Lobe, STATIONS, Touch, film_life};
use ringland_trials::with;

use crate::trains::roller;

fn close(found: f64, expected: f64, relative: f64, what: &str) {
    let error = (found / expected - 1.0).abs();
    assert!(
        error <= relative,
        "{what}: {found:e} for {expected:e}, off by {error:.1e}"
    );
}

fn spec() -> Spec {
    let specimen = with::<CamFollower>(&roller(), "pressure_viscosity_per_pa", 2.0e-8);
    Spec::read(&specimen).unwrap()
}

/// 1e5 N/m on R = 10 mm, steel of 206 GPa and 0.3, entrained at 5 m/s.
fn touch(spec: &Spec) -> Touch {
    let surface_m_s = 5.0;
    Touch {
        time_s: 1.0e-4,
        station: STATIONS / 2,
        strip: 0,
        load_n_m: 1.0e5,
        radius_m: 0.01,
        hertz: line_contact(1.0e5, 0.01, spec.rough(1.0).modulus_pa),
        contact: CamContact {
            cam_radius_m: 0.02,
            equivalent_radius_m: 0.01,
            pressure_angle_rad: 0.0,
            cam_surface_m_s: surface_m_s,
            follower_surface_m_s: surface_m_s,
        },
    }
}

/// Line contact of Hertz: b = 106.06135 µm, p0 = 600.2373 MPa (closed forms, computed elsewhere).
#[test]
fn hertz_of_the_default_steel() {
    let touch = touch(&spec());
    close(spec().rough(1.0).modulus_pa, 113.186_813e9, 1e-8, "E*");
    close(touch.hertz.half_width_m, 106.061_35e-6, 1e-6, "b");
    close(touch.hertz.peak_pressure_pa, 600.237_3e6, 1e-6, "p0");
}

/// Dowson and Higginson: η0 = 0.01 Pa·s, α = 2e-8, the same line: 0.319475 µm (arithmetic elsewhere; constants from memory). Oil whose viscosity
/// does not change with temperature heats no inlet.
#[test]
fn film_of_the_line() {
    let spec = spec();
    let (ratio, _) = Lobe::new(&spec, 1.0).film(&touch(&spec), 0.01, 0.0);
    close(ratio * spec.rough(1.0).sigma_m, 0.319_475e-6, 3e-6, "film");
}

/// A crowned contact that just fills the width has 1.5 times the mean load in its middle (Hertz: `p0 π b/2 · 2a = 1.5 F`).
#[test]
fn the_middle_of_a_crowned_contact() {
    let (load_n, modulus_pa) = (1500.0, spec().rough(1.0).modulus_pa);
    let found = elliptic_contact(load_n, (0.005, 0.5), modulus_pa);
    let middle_n_m = 0.5 * PI * found.short_m * found.peak_pressure_pa;
    close(
        middle_n_m / (load_n / (2.0 * found.long_m)),
        1.5,
        1e-9,
        "factor",
    );
    // A line of that load has nearly that pressure: 1.7 % off for a contact 30 times as long as wide.
    let line = line_contact(middle_n_m, 0.005, modulus_pa);
    close(
        line.peak_pressure_pa,
        found.peak_pressure_pa,
        0.02,
        "pressure",
    );
}

/// Archard: k = 1e-6, 200 N, 1e6 m, 6 GPa give 33.3333 mm³ (arithmetic of the law), here as depth over an area of 1 cm².
#[test]
fn archard_on_the_lobe() {
    let mut spec = spec();
    spec.lobe.wear_coefficient_m2_n = 1.0e-6 / 6.0e9;
    spec.lobe.running_in_multiplier = 1.0;
    let area_m2 = 1.0e-4;
    let added = Added {
        lobe_dose_pa_m: [200.0 / area_m2 * 1.0e6; STATIONS],
        turns: 1.0e5,
        ..Added::default()
    };
    let worn = Condition::default().after(&spec, &added, 1.0);
    close(worn.nose_wear_m() * area_m2, 33.333_3e-9, 2e-6, "volume");
}

/// Tenth power of pressure and of hardness; half of such lobes at Miner 1 after 1e7 turns at the strength (definitions).
#[test]
fn pitting_is_a_power_of_pressure() {
    let face = spec().lobe;
    let strength = 1.0e-9 * face.pitting_strength_pa();
    close(
        1.0e7 * miner(&face, strength.powi(10)),
        1.0,
        1e-9,
        "Miner sum",
    );
    let harder = ringland_plugin_cam_follower::spec::Face {
        hardness_pa: 1.1 * face.hardness_pa,
        ..face
    };
    close(
        miner(&face, 1.0) / miner(&harder, 1.0),
        1.1_f64.powi(10),
        1e-9,
        "hardness",
    );
    for (ratio, life) in FILM_LIFE {
        close(film_life(ratio), life, 1e-9, "film life");
    }
    close(film_life(0.0), 0.3, 1e-12, "no film");
    close(film_life(9.0), 2.0, 1e-12, "thick film");
}

/// Vogel's law by differences: the slope that the inlet is heated with.
#[test]
fn the_oils_slope_is_its_derivative() {
    let spec = spec();
    for temp_k in [350.0, 380.0, 420.0] {
        let eta = |k: f64| spec.oil.viscosity_pa_s(k);
        let slope = (eta(temp_k - 0.01) - eta(temp_k + 0.01)) / 0.02;
        close(spec.oil_slope_pa_s_k(eta(temp_k)), slope, 1e-6, "slope");
    }
}
