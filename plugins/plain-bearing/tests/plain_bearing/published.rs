//! Published steady bearings through the films that this plugin's map is made of, on its own grid.
//!
//! Values computed outside this project by finite differences (Richardson from 360 × 40 and 720 × 80; film from the widest gap,
//! Reynolds condition), and the table of Raimondi and Boyd (Trans. ASLE 1, 1958, 159) from memory. `ringland-mechanics` checks the
//! same solver on a fine grid to 0.3 %; here the coarse grid of `prepare` is held to 2.5 %, and the table to 4 %.

use std::f64::consts::PI;

use ringland_mechanics::journal::{
    Asperities, JournalBearing, LoadCycle, MobilityGrid, MobilityMap, OrbitSettings, SteadyBearing,
};
use ringland_plugin_plain_bearing::spec::Spec;

use crate::scenario::bare;

/// L/D, ε, S and φ in degrees by finite differences, S and φ of the table.
const ROWS: [[f64; 6]; 9] = [
    [1.0, 0.4, 0.260_395, 62.5686, 0.264, 63.1],
    [1.0, 0.8, 0.044_557_6, 36.2271, 0.0446, 36.24],
    [1.0, 0.9, 0.018_819_7, 26.4722, 0.0188, 26.45],
    [0.5, 0.4, 0.785_431, 61.775, 0.779, 61.45],
    [0.5, 0.8, 0.091_716_5, 32.9328, 0.0923, 33.31],
    [0.5, 0.9, 0.031_240_3, 23.5603, 0.0313, 23.66],
    [0.25, 0.4, 2.841_16, 61.196, 2.83, 60.86],
    [0.25, 0.8, 0.263_288, 31.2471, 0.261, 31.04],
    [0.25, 0.9, 0.073_654_9, 21.7866, 0.0736, 21.85],
];

#[test]
fn the_grid_of_prepare_meets_steady_bearings() {
    let mut worst = 0.0_f64;
    for [ratio, eccentricity, s, attitude, s_table, attitude_table] in ROWS {
        let solved = SteadyBearing::solve(ratio, eccentricity, MobilityGrid::USUAL.film);
        let degrees = solved.attitude_rad.to_degrees();
        let off = (solved.sommerfeld / s - 1.0)
            .abs()
            .max((degrees / attitude - 1.0).abs());
        worst = worst.max(off);
        assert!(off < 0.025, "L/D {ratio} at {eccentricity}: {off}");
        assert!((solved.sommerfeld / s_table - 1.0).abs() < 0.04);
        assert!((degrees / attitude_table - 1.0).abs() < 0.04);
    }
    println!(
        "grid of prepare against finite differences: {:.2} % at worst",
        100.0 * worst
    );
}

/// The whole path of `prepare`: map, asperities and orbit of the default shells under a steady load, against the same values. The load
/// for ε comes from S; the orbit has to come to rest at that ε and attitude: film within 4 %, attitude within 3 degrees, because the
/// published film starts at the widest gap and the orbit's wherever oil gathers.
#[test]
fn a_steady_load_through_the_orbit_comes_to_the_published_place() {
    let spec = Spec::read(&bare()).unwrap();
    for [ratio, eccentricity, s, attitude, ..] in ROWS {
        let map = MobilityMap::flooded(ratio, &MobilityGrid::USUAL);
        let asperities = Asperities::new(spec.contact(1.0), 60.0e-6);
        let bearing = JournalBearing {
            radius_m: spec.radius_m(),
            width_m: ratio * spec.journal_diameter_m,
            // Wide enough that asperities stay out of it at ε = 0.9.
            clearance_m: 60.0e-6,
            film: &map,
            asperities: &asperities,
        };
        let (viscosity_pa_s, speed_rad_s) = (0.03, 700.0);
        let mean_pa =
            (spec.radius_m() / bearing.clearance_m).powi(2) * viscosity_pa_s * speed_rad_s
                / (2.0 * PI * s);
        let load_n = mean_pa * spec.journal_diameter_m * bearing.width_m;
        let cycle = LoadCycle {
            load_n: vec![[load_n, 0.0]; 72],
            spin_rad_s: vec![speed_rad_s; 72],
            step_s: 4.0 * PI / speed_rad_s / 72.0,
        };
        let settings = OrbitSettings {
            closure: 1e-6,
            most_cycles: 80,
            ..OrbitSettings::default()
        };
        let last = bearing.orbit(viscosity_pa_s, &cycle, &settings).points[71];
        let [x, y] = last.eccentricity;
        let film = (1.0 - x.hypot(y)) / (1.0 - eccentricity) - 1.0;
        let off = y.atan2(x).to_degrees() - attitude;
        println!(
            "L/D {ratio}, {eccentricity}: film {:+.2} %, attitude {off:+.2} degrees",
            100.0 * film
        );
        assert!(
            film.abs() < 0.04 && off.abs() < 3.0,
            "L/D {ratio} at {eccentricity}: {film} {off}"
        );
    }
}
