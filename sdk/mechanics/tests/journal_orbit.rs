//! The orbit of a journal: limits with a known answer, laws, and convergence.
#![allow(clippy::unwrap_used, clippy::print_stdout)]

use std::f64::consts::PI;
use std::sync::OnceLock;

use ringland_mechanics::contact::GreenwoodTripp;
use ringland_mechanics::journal::{
    Asperities, Film, FilmGrid, JournalBearing, LoadCycle, MobilityGrid, MobilityMap, Orbit,
    OrbitSettings, Rubbing, SteadyBearing, Supply, couette_integral, rubbing, short_mobility,
};

const RADIUS_M: f64 = 0.024;
const WIDTH_M: f64 = 0.0195;
const CLEARANCE_M: f64 = 28.0e-6;
const SPIN_RAD_S: f64 = 750.0;

fn maps() -> &'static Vec<MobilityMap> {
    static MAPS: OnceLock<Vec<MobilityMap>> = OnceLock::new();
    let ratio = WIDTH_M / (2.0 * RADIUS_M);
    MAPS.get_or_init(|| MobilityMap::family(ratio, &[0.4, 0.1], &MobilityGrid::USUAL))
}

fn asperities() -> &'static Asperities {
    static ASPERITIES: OnceLock<Asperities> = OnceLock::new();
    let contact = GreenwoodTripp {
        sigma_m: 0.7e-6,
        radius_m: 7.0e-5,
        density_per_m2: 1.0e9,
        modulus_pa: 5.0e10,
    };
    ASPERITIES.get_or_init(|| Asperities::new(contact, CLEARANCE_M))
}

fn bearing(film: &MobilityMap) -> JournalBearing<'_> {
    JournalBearing {
        radius_m: RADIUS_M,
        width_m: WIDTH_M,
        clearance_m: CLEARANCE_M,
        film,
        asperities: asperities(),
    }
}

/// An invented crank-pin load: a gas pulse of 50 kN upwards once in two turns, and inertia that turns.
fn pin_load(points: usize) -> LoadCycle {
    let load = |point: usize| {
        let angle = 4.0 * PI * point as f64 / points as f64;
        let pulse_n = 5.0e4 * (-((angle - 6.5) / 0.4).powi(2)).exp();
        [pulse_n - 1.2e4 * angle.cos(), -1.0e4 * angle.sin()]
    };
    LoadCycle {
        load_n: (0..points).map(load).collect(),
        spin_rad_s: vec![SPIN_RAD_S; points],
        step_s: 4.0 * PI / SPIN_RAD_S / points as f64,
    }
}

fn run(
    map: &MobilityMap,
    layer: f64,
    viscosity_pa_s: f64,
    points: usize,
    tolerance: f64,
) -> (Orbit, Rubbing) {
    let cycle = pin_load(points);
    let settings = OrbitSettings {
        tolerance,
        ..OrbitSettings::default()
    };
    let orbit = bearing(map).orbit(viscosity_pa_s, &cycle, &settings);
    let rubbed = rubbing(&bearing(map), viscosity_pa_s, layer, &cycle, &orbit, 144);
    assert!(orbit.closure < settings.closure, "{}", orbit.closure);
    (orbit, rubbed)
}

fn worst_dose(rubbed: &Rubbing) -> f64 {
    rubbed.dose_pa_m.iter().copied().fold(0.0, f64::max)
}

/// A steady load on a turning journal ends where the steady solution has it. That one starts its film at the widest gap, the orbit's
/// wherever oil gathers; the same load within 1.5 %, the attitude within 1.5 degrees.
#[test]
fn a_steady_load_ends_in_the_steady_solution() {
    for eccentricity in [0.4, 0.7, 0.9] {
        let grid = FilmGrid {
            around: 120,
            across: 10,
        };
        let steady = SteadyBearing::solve(WIDTH_M / (2.0 * RADIUS_M), eccentricity, grid);
        let viscosity_pa_s = 0.02;
        let mean_pa = (RADIUS_M / CLEARANCE_M).powi(2) * viscosity_pa_s * SPIN_RAD_S
            / (2.0 * PI * steady.sommerfeld);
        let load_n = mean_pa * 2.0 * RADIUS_M * WIDTH_M;
        let cycle = LoadCycle {
            load_n: vec![[load_n, 0.0]; 90],
            spin_rad_s: vec![SPIN_RAD_S; 90],
            step_s: 4.0 * PI / SPIN_RAD_S / 90.0,
        };
        let settings = OrbitSettings {
            closure: 1e-6,
            most_cycles: 60,
            ..OrbitSettings::default()
        };
        let orbit = bearing(&maps()[0]).orbit(viscosity_pa_s, &cycle, &settings);
        let last = orbit.points[89];
        let [x, y] = last.eccentricity;
        let film = (1.0 - x.hypot(y)) / (1.0 - eccentricity);
        let attitude = y.atan2(x).to_degrees() - steady.attitude_rad.to_degrees();
        println!(
            "steady {eccentricity}: film {film:.4}, attitude {attitude:+.2} degrees, asperities {:.1} N",
            last.asperity_load_n
        );
        assert!((film - 1.0).abs() < 0.03 && attitude.abs() < 1.5);
        // Friction loss: torque times speed by the steady numbers against shear and pressure work of the orbit.
        let rubbed = rubbing(
            &bearing(&maps()[0]),
            viscosity_pa_s,
            2.0,
            &cycle,
            &orbit,
            36,
        );
        let torque_n_m = steady.friction_full_gap * CLEARANCE_M * load_n;
        let loss = rubbed.film_power_w / (torque_n_m * SPIN_RAD_S);
        assert!((loss - 1.0).abs() < 0.02, "loss {loss}");
        let flow =
            steady.flow * steady.side_flow_share * RADIUS_M * CLEARANCE_M * WIDTH_M * SPIN_RAD_S
                / (2.0 * PI);
        let flow = rubbed.side_flow_m3_s / flow;
        assert!((flow - 1.0).abs() < 0.03, "flow {flow}");
    }
}

/// The short bearing by quadrature: pressure `(L/D)² cos(θ − α)(1 − ζ²)/(2H³)` where that is positive. A bearing of L/D = 1/20 has
/// its mobility within 3 % of the velocity; Booker's closed form, itself a fit, agrees within 10 %.
#[test]
fn a_narrow_bearing_has_the_short_bearings_mobility() {
    const STEPS: u32 = 4000;
    let ratio = 0.05;
    let map = MobilityMap::flooded(ratio, &MobilityGrid::USUAL);
    for eccentricity in [0.1_f64, 0.5, 0.8] {
        for direction in [0.0_f64, 0.6, 1.4, 1.7, 2.2, 2.9] {
            let (mut along, mut athwart) = (0.0, 0.0);
            for k in 0..STEPS {
                let theta = 2.0 * PI * (f64::from(k) + 0.5) / f64::from(STEPS);
                let gap = 1.0 - eccentricity * theta.cos();
                let pressure = (theta - direction).cos().max(0.0) / gap.powi(3);
                along += pressure * theta.cos();
                athwart += pressure * theta.sin();
            }
            let scale = ratio * ratio / 3.0 * 2.0 * PI / f64::from(STEPS);
            let load = scale * along.hypot(athwart);
            let angle = athwart.atan2(along);
            let found = map.look_up(-(1.0 - eccentricity).ln(), angle);
            let (sin, cos) = (direction - angle).sin_cos();
            let off = (found.along * load - cos).hypot(found.across * load - sin);
            assert!(off < 0.03, "{eccentricity} {direction}: {off}");
            let (along, across) = short_mobility(ratio, eccentricity, angle);
            let off =
                (found.along / along - 1.0).hypot((found.across - across) / along.hypot(across));
            assert!(off < 0.10, "{eccentricity} {direction}: closed form {off}");
        }
    }
}

/// The map against films solved at the very direction, between its nodes.
#[test]
fn the_map_agrees_with_the_film_it_was_made_from() {
    let grid = MobilityGrid::USUAL.film;
    let mut worst = 0.0_f64;
    for eccentricity in [0.13_f64, 0.55, 0.88, 0.95] {
        let film = Film::new(
            WIDTH_M / (2.0 * RADIUS_M),
            eccentricity,
            Supply::Flooded,
            grid,
        );
        for direction in [0.1_f64, 0.9, 1.5, 1.9, 2.6] {
            let solved = film.solve(direction);
            let load = solved.along.hypot(solved.athwart);
            let angle = solved.athwart.atan2(solved.along);
            let found = maps()[0].look_up(-(1.0 - eccentricity).ln(), angle);
            let (sin, cos) = (direction - angle).sin_cos();
            let off = (found.along * load - cos).hypot(found.across * load - sin);
            worst = worst.max(off);
        }
    }
    println!(
        "map against film: {:.2} % of the velocity at worst",
        100.0 * worst
    );
    assert!(worst < 0.015);
}

/// Film and asperities carry the load at every point, and thinner oil gives a thinner film, more of it on the asperities.
#[test]
fn thinner_oil_means_more_contact() {
    let mut last = (0.0, f64::INFINITY, 0.0_f64);
    for viscosity_pa_s in [12.0e-3, 6.0e-3, 3.0e-3, 1.5e-3] {
        let (orbit, rubbed) = run(&maps()[0], 2.0, viscosity_pa_s, 180, 1e-3);
        let cycle = pin_load(180);
        for (point, load) in orbit.points.iter().zip(&cycle.load_n) {
            let [x, y] = point.eccentricity;
            let size = x.hypot(y);
            let film = [0, 1].map(|axis| load[axis] - point.asperity_load_n * [x, y][axis] / size);
            let off = point.film_load_n - film[0].hypot(film[1]);
            assert!(off.abs() < 1e-6 * point.film_load_n.max(1.0));
        }
        let dose = worst_dose(&rubbed);
        assert!(dose > last.0 && rubbed.least_film_m < last.1 && rubbed.peak_flux_w_m2 > last.2);
        last = (dose, rubbed.least_film_m, rubbed.peak_flux_w_m2);
    }
}

/// Less oil in the gap, thinner film, more contact.
#[test]
fn a_starved_film_is_thinner() {
    let starved: Vec<Rubbing> = [2.0, 0.4, 0.1]
        .iter()
        .zip(maps())
        .map(|(layer, map)| run(map, *layer, 5.0e-3, 180, 1e-3).1)
        .collect();
    for pair in starved.windows(2) {
        assert!(pair[1].least_film_m < pair[0].least_film_m);
        assert!(worst_dose(&pair[1]) > 2.0 * worst_dose(&pair[0]));
        assert!(pair[1].side_flow_m3_s < pair[0].side_flow_m3_s);
    }
}

/// Grid of the map half as fine again, tolerance a hundredth, load at half the step: the least film moves by less than 1.5 %, the
/// dose, which goes with about the tenth power of the film, by less than 10 %.
#[test]
fn grid_and_step_are_fine_enough() {
    let (_, usual) = run(&maps()[0], 2.0, 3.0e-3, 180, 1e-3);
    let finer = MobilityMap::flooded(WIDTH_M / (2.0 * RADIUS_M), &MobilityGrid::USUAL.finer());
    let cases = [
        ("tolerance 1e-5", run(&maps()[0], 2.0, 3.0e-3, 180, 1e-5)),
        (
            "load every 2 degrees",
            run(&maps()[0], 2.0, 3.0e-3, 360, 1e-3),
        ),
        ("finer map", run(&finer, 2.0, 3.0e-3, 180, 1e-3)),
    ];
    for (name, (_, case)) in cases {
        let film = usual.least_film_m / case.least_film_m - 1.0;
        let dose = worst_dose(&usual) / worst_dose(&case) - 1.0;
        println!(
            "{name}: least film {:+.2} %, dose {:+.2} %",
            100.0 * film,
            100.0 * dose
        );
        assert!(
            film.abs() < 0.015 && dose.abs() < 0.10,
            "{name}: {film} {dose}"
        );
    }
}

/// Closed form of the full gap, and streamers below it.
#[test]
fn shear_of_a_full_gap_is_the_closed_form() {
    let whole = 2.0 * PI / (1.0_f64 - 0.81).sqrt();
    assert!((couette_integral(0.9, 2.0) / whole - 1.0).abs() < 1e-12);
    assert!((couette_integral(0.9, 1.899) / whole - 1.0).abs() < 1e-3);
    assert!(couette_integral(0.9, 0.2) < couette_integral(0.9, 0.6));
}

#[test]
fn the_same_orbit_has_the_same_bits() {
    let once = run(&maps()[0], 2.0, 4.0e-3, 180, 1e-3);
    assert_eq!(once, run(&maps()[0], 2.0, 4.0e-3, 180, 1e-3));
}
