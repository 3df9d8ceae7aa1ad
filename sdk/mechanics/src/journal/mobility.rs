use std::f64::consts::{FRAC_PI_2, PI};

use crate::interpolate::Weights;

use super::film::{Film, FilmGrid, Supply, half_tangent, sommerfeld_ratio};

/// Share of its full resistance that a gap without oil keeps. It stands for foam and for the oil on the walls: it lets the journal
/// cross an empty gap in finite time and carries next to nothing. Assumed.
pub const FOAM_RESISTANCE: f64 = 0.03;

/// Grids of a map.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MobilityGrid {
    /// Grid of each film.
    pub film: FilmGrid,
    /// Nodes of `−ln(1 − ε)` from 0 to [`DEEPEST`], at least 4.
    pub depths: usize,
    /// Nodes of the load's angle from 0 to π, at least 4.
    pub angles: usize,
    /// Films solved at each eccentricity, at least 8.
    pub directions: usize,
}

/// Largest `−ln(1 − ε)` of a map: the film is then 1/1000 of the clearance.
pub const DEEPEST: f64 = 6.9;

impl MobilityGrid {
    /// Fit for a model's `prepare`: within 2 % of a finer one down to films of 1/20 of the clearance for loads that press the journal in.
    pub const USUAL: Self = Self {
        film: FilmGrid {
            around: 56,
            across: 6,
        },
        depths: 16,
        angles: 19,
        directions: 25,
    };

    /// The same with half as many nodes more in every direction.
    #[must_use]
    pub const fn finer(&self) -> Self {
        Self {
            film: FilmGrid {
                around: 3 * self.film.around / 2,
                across: 3 * self.film.across / 2,
            },
            depths: 3 * self.depths / 2,
            angles: 3 * self.angles / 2,
            directions: 3 * self.directions / 2,
        }
    }
}

/// What a unit of load does to a journal, after J. F. Booker (J. Basic Eng. 87, 1965, 537), for a bearing of finite width: every value
/// comes from a solved [`Film`], none from the short bearing.
///
/// Velocities are those of pure squeeze, seen in axes that turn at the mean of journal's and shell's speed.
#[derive(Debug, Clone)]
pub struct MobilityMap {
    depths: usize,
    angles: usize,
    /// At each depth and angle: ln of velocity along the load; tangent of the angle from load to velocity times `√(1 − ε)`; side flow
    /// of unit velocity; mean over peak pressure.
    rows: Vec<[f64; 4]>,
}

/// Answer of a map for a load of unit size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mobility {
    /// Velocity along the load, in `W c³/(12 η R³ L)`.
    pub along: f64,
    /// Velocity across it, positive away from the eccentricity's side: in the sense of the angle from eccentricity to load.
    pub across: f64,
    /// Flow out of both sides, in `R L` times the velocity's size.
    pub side_flow: f64,
    /// Load over projected area, over the highest pressure.
    pub mean_over_peak: f64,
}

/// One solved film, seen from its load.
#[derive(Debug, Clone, Copy)]
struct Solved {
    /// Sommerfeld variable of the load's angle.
    chi: f64,
    row: [f64; 4],
}

impl MobilityMap {
    /// Solves the map of a flooded bearing of a width over diameter (0.1 to 2).
    pub fn flooded(width_over_diameter: f64, grid: &MobilityGrid) -> Self {
        Self::family(width_over_diameter, &[], grid).remove(0)
    }

    /// Solves the flooded map, then one for each layer of oil: the gap is full where it is at most so many clearances wide, and
    /// elsewhere resists by [`FOAM_RESISTANCE`] of a full one.
    pub fn family(width_over_diameter: f64, layers: &[f64], grid: &MobilityGrid) -> Vec<Self> {
        let mut maps = vec![
            Self {
                depths: grid.depths,
                angles: grid.angles,
                rows: Vec::with_capacity(grid.depths * grid.angles),
            };
            1 + layers.len()
        ];
        for depth in 0..grid.depths {
            let thin = libm::exp(-DEEPEST * depth as f64 / (grid.depths - 1) as f64);
            let solved = solve_depth(width_over_diameter, 1.0 - thin, layers, grid);
            for (map, solved) in maps.iter_mut().zip(&solved) {
                for angle in 0..grid.angles {
                    let chi = PI * angle as f64 / (grid.angles - 1) as f64;
                    map.rows.push(at(solved, chi));
                }
            }
        }
        maps
    }

    /// Looks up a depth `u = −ln(1 − ε)`, 0 or more, and the angle from eccentricity to load \[rad\], −π to π. Deeper than
    /// [`DEEPEST`] the velocity falls on as that of a wide bearing, with the 1.5th power of the film.
    pub fn look_up(&self, depth: f64, load_angle_rad: f64) -> Mobility {
        let thin = libm::exp(-depth);
        let held = depth.min(DEEPEST);
        let ratio = sommerfeld_ratio(1.0 - libm::exp(-held));
        let chi = half_tangent(1.0 / ratio, load_angle_rad.abs());
        let u = Weights::new(held / DEEPEST * (self.depths - 1) as f64, self.depths);
        let x = Weights::new(chi / PI * (self.angles - 1) as f64, self.angles);
        let mut values = [0.0; 4];
        for (i, wu) in u.nodes.iter().enumerate() {
            let row = (u.first + i) * self.angles + x.first;
            for (wx, node) in x.nodes.iter().zip(&self.rows[row..row + 4]) {
                for (value, entry) in values.iter_mut().zip(node) {
                    *value += wu * wx * entry;
                }
            }
        }
        let [log, slant, side_flow, mean_over_peak] = values;
        let along = libm::exp(log - 1.5 * (depth - held));
        let across = along * slant.max(0.0) / thin.sqrt();
        Mobility {
            along,
            across: across.copysign(load_angle_rad),
            side_flow: side_flow.max(0.0),
            mean_over_peak: mean_over_peak.max(1e-3),
        }
    }
}

/// Films of all squeeze directions at one eccentricity: the flooded bearing first, then each layer.
fn solve_depth(
    width_over_diameter: f64,
    eccentricity: f64,
    layers: &[f64],
    grid: &MobilityGrid,
) -> Vec<Vec<Solved>> {
    let ratio = sommerfeld_ratio(eccentricity);
    let flooded = Film::new(
        width_over_diameter,
        eccentricity,
        Supply::Flooded,
        grid.film,
    );
    let fed = |layer: &f64| {
        let supply = Supply::Layer(*layer);
        Film::new(width_over_diameter, eccentricity, supply, grid.film)
    };
    let fed: Vec<Film> = layers.iter().map(fed).collect();
    let mut solved = vec![Vec::with_capacity(grid.directions); 1 + layers.len()];
    let widest = half_tangent(1.0 / ratio, FRAC_PI_2);
    for step in 0..grid.directions {
        // The edge of squeeze, a quarter turn before its direction, is what has to be resolved near the narrow gap.
        let share = step as f64 / (grid.directions - 1) as f64;
        let edge = half_tangent(ratio, widest * (2.0 * share - 1.0));
        let direction = (edge + FRAC_PI_2).clamp(0.0, PI);
        let end = [0.0, PI][usize::from(step > 0)];
        let at_end = step == 0 || step + 1 == grid.directions;
        let whole = flooded.solve(direction);
        let mut keep = |map: usize, along: f64, athwart: f64, side_flow: f64, peak: f64| {
            let load = along.hypot(athwart);
            let angle = libm::atan2(athwart, along);
            let angle = if at_end { end } else { angle.clamp(0.0, PI) };
            let slant = (direction - angle).clamp(0.0, 0.499_999 * PI);
            let row = [
                libm::log(libm::cos(slant) / load),
                libm::tan(slant) * (1.0 - eccentricity).sqrt(),
                side_flow,
                0.5 * load / peak,
            ];
            let chi = half_tangent(1.0 / ratio, angle);
            solved[map].push(Solved { chi, row });
        };
        keep(0, whole.along, whole.athwart, whole.side_flow, whole.peak);
        for (map, film) in fed.iter().enumerate() {
            let part = film.solve(direction);
            keep(
                1 + map,
                part.along + FOAM_RESISTANCE * whole.along,
                part.athwart + FOAM_RESISTANCE * whole.athwart,
                part.side_flow,
                part.peak + FOAM_RESISTANCE * whole.peak,
            );
        }
    }
    solved.into_iter().map(rising).collect()
}

/// Row at an angle: cubic (Lagrange) through the four solved films about it, whose angles rise.
fn at(solved: &[Solved], chi: f64) -> [f64; 4] {
    let count = solved.len();
    let above = solved.partition_point(|film| film.chi < chi);
    let taps = count.min(4);
    let first = above.saturating_sub(2).min(count - taps);
    let films = &solved[first..first + taps];
    let mut row = [0.0; 4];
    for (k, film) in films.iter().enumerate() {
        let others = films.iter().enumerate().filter(|(other, _)| *other != k);
        let weight: f64 = others
            .map(|(_, other)| (chi - other.chi) / (film.chi - other.chi))
            .product();
        for (value, entry) in row.iter_mut().zip(&film.row) {
            *value += weight * entry;
        }
    }
    row
}

/// Leaves out films whose load does not turn on from the last by a hundredth of a radian; the last film stays.
fn rising(solved: Vec<Solved>) -> Vec<Solved> {
    let Some(last) = solved.last().copied() else {
        return solved;
    };
    let mut kept: Vec<Solved> = Vec::with_capacity(solved.len());
    for film in solved {
        let turned = kept
            .last()
            .is_none_or(|before| film.chi > before.chi + 0.01);
        if turned && film.chi < last.chi - 0.01 {
            kept.push(film);
        }
    }
    kept.push(last);
    kept
}
