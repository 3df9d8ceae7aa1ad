//! Convergence: cells and steps of the burst.

use ringland_plugin_limited_slip::LimitedSlip;
use ringland_plugin_limited_slip::plate_heat::{GRID, Grid, burst};
use ringland_trials::with_all;

use crate::differentials::{ground, spec};

/// Cells and steps doubled change the rise of a burst by less than 1 in 1000 for the default corner, 5 in 1000 for the shortest and longest.
#[test]
fn the_grid_is_fine_enough() {
    for (corner_s, most) in [(0.2, 5e-3), (3.0, 1e-3), (30.0, 5e-3)] {
        let spec = spec(&with_all::<LimitedSlip>(
            &ground(),
            &[("corner_s", corner_s)],
        ));
        let twice = Grid {
            cells: 2 * GRID.cells,
            steps: 2 * GRID.steps,
        };
        let (coarse, fine) = (burst(&spec, GRID), burst(&spec, twice));
        let change = (coarse.mean / fine.mean - 1.0)
            .abs()
            .max((coarse.peak / fine.peak - 1.0).abs());
        println!(
            "burst of {corner_s} s: {:.3e} K.m2/W at its end, change {change:.1e}",
            fine.peak
        );
        assert!(change < most, "{corner_s}: {change}");
    }
}
