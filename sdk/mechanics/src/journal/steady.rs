use std::f64::consts::PI;

use super::film::{Film, FilmGrid, FilmPressure, Supply};

/// A journal that runs steadily under a steady load, in the dimensionless numbers of A. A. Raimondi and J. Boyd (Trans. ASLE 1, 1958,
/// 159): N revolutions a second, P load over projected area, c radial clearance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SteadyBearing {
    /// Sommerfeld number `(R/c)² η N/P`.
    pub sommerfeld: f64,
    /// Angle from the load to the narrowest gap \[rad\].
    pub attitude_rad: f64,
    /// Friction variable `(R/c) f` with the whole gap full of oil, as in the published tables.
    pub friction_full_gap: f64,
    /// Friction variable when the ruptured part carries streamers of the width that keeps the flow.
    pub friction_streamers: f64,
    /// Flow into the film `Q/(R c N L)`.
    pub flow: f64,
    /// Share of it that leaves at the sides.
    pub side_flow_share: f64,
    /// P over the highest pressure.
    pub mean_over_peak_pressure: f64,
}

impl SteadyBearing {
    /// Solves a bearing of a width over diameter (0.1 to 2) at an eccentricity ratio (0.01 to 0.99). The film starts without pressure at
    /// the widest gap and ends by the Reynolds condition.
    pub fn solve(width_over_diameter: f64, eccentricity: f64, grid: FilmGrid) -> Self {
        let film = Film::new(width_over_diameter, eccentricity, Supply::Line, grid);
        // Turning at ω is squeezing at half of it across the eccentricity; the sides are mirror images.
        let solved = film.solve(0.5 * PI);
        let load = solved.along.hypot(solved.athwart);
        let sommerfeld = 1.0 / (6.0 * PI * eccentricity * load);
        let attitude_rad = libm::atan2(solved.athwart, solved.along);
        let pressure_part = 0.5 * eccentricity * libm::sin(attitude_rad);
        let whole = 2.0 * PI / (1.0 - eccentricity * eccentricity).sqrt();
        let back = PI * eccentricity * film.back_flow(&solved, true);
        let flow = PI * film.first_gap(true) - back;
        let scale = PI * sommerfeld;
        Self {
            sommerfeld,
            attitude_rad,
            friction_full_gap: scale * whole + pressure_part,
            friction_streamers: scale * streamers(&film, &solved, grid) + pressure_part,
            flow,
            side_flow_share: PI * eccentricity * solved.side_flow / flow,
            mean_over_peak_pressure: 0.5 * load / solved.peak,
        }
    }
}

/// `∫∫ dθ/H` where the ruptured gap counts by the share that its streamers fill, for half width 1.
fn streamers(film: &Film, solved: &FilmPressure, grid: FilmGrid) -> f64 {
    let (n, m) = (grid.around, grid.across);
    let widths = film.widths();
    let mut sum = 0.0;
    let mut heights: Vec<f64> = film.heights().to_vec();
    // The outermost half cell ruptures as its neighbour does.
    heights[m - 1] += 1.0 - heights.iter().sum::<f64>();
    for (j, height) in heights.iter().enumerate() {
        // The film runs from the widest gap (θ = π) down to its rupture beyond θ = 0.
        let full = |i: usize| solved.pressure[i * m + j] > 0.0;
        let last = (0..n).find(|i| full(*i)).unwrap_or(0);
        let ruptured = film.gap(last);
        for (i, width) in widths.iter().enumerate() {
            let gap = film.gap(i);
            let share = if i >= last { 1.0 } else { ruptured / gap };
            sum += height * width * share / gap;
        }
    }
    sum
}
