use std::f64::consts::PI;

use super::band::Band;

/// Cells of a film: around the journal and over half of the width. The film is symmetric about its middle plane.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FilmGrid {
    /// Nodes around the journal, even, 16 to 2000.
    pub around: usize,
    /// Cells over half of the width, 3 to 200.
    pub across: usize,
}

/// Where the film may be: everywhere, or short of oil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Supply {
    /// The whole gap is filled wherever the film is not ruptured.
    Flooded,
    /// A line without pressure at the widest gap, across the whole width: the film starts there.
    Line,
    /// The gap is filled only where it is at most so many radial clearances wide.
    Layer(f64),
}

/// A film on its grid: for one ratio of width to diameter, one eccentricity ratio and one supply.
///
/// Angles are counted from the narrowest gap, `H = 1 − ε cos θ`. Nodes are even in Sommerfeld's variable γ,
/// `tan(θ/2) = √((1 − ε)/(1 + ε)) tan(γ/2)` (A. Sommerfeld 1904), which crowds them where the gap is narrow. Volumes are finite and
/// what leaves one enters the next, so flow is conserved in the full film.
#[derive(Debug, Clone)]
pub struct Film {
    grid: FilmGrid,
    eccentricity: f64,
    /// Angle of each node \[rad\], −π first.
    theta: Vec<f64>,
    /// Angle of the face after each node \[rad\].
    face: Vec<f64>,
    /// Conductance of the face after each node, for unit height across.
    around: Vec<f64>,
    /// ∫H³dθ of each column times (D/L)².
    across: Vec<f64>,
    /// Whether oil may fill a column.
    open: Vec<bool>,
    /// Distance across to the next node, half width = 1.
    spacing: Vec<f64>,
    /// Width of each node's cell across.
    height: Vec<f64>,
}

/// Pressure that one squeeze velocity makes, in the unit `12 η R² V/c³`, and what follows from it.
#[derive(Debug, Clone, PartialEq)]
pub struct FilmPressure {
    /// Pressure of node (i around, j across) at `i · across + j`.
    pub pressure: Vec<f64>,
    /// Load carried towards the narrowest gap, in `12 η R³ L V/c³`.
    pub along: f64,
    /// Load carried across it, towards rising θ.
    pub athwart: f64,
    /// Flow out of both sides, in `R V L`.
    pub side_flow: f64,
    /// Highest pressure.
    pub peak: f64,
}

/// Angle of Sommerfeld's variable: `tan(θ/2) = ratio · tan(γ/2)`.
pub(super) fn half_tangent(ratio: f64, angle: f64) -> f64 {
    2.0 * libm::atan2(ratio * libm::sin(0.5 * angle), libm::cos(0.5 * angle))
}

/// `√((1 − ε)/(1 + ε))`.
pub(super) fn sommerfeld_ratio(eccentricity: f64) -> f64 {
    ((1.0 - eccentricity) / (1.0 + eccentricity)).sqrt()
}

impl Film {
    /// A film of a bearing with a width over diameter (0.1 to 2) at an eccentricity ratio (0 to below 1).
    pub fn new(
        width_over_diameter: f64,
        eccentricity: f64,
        supply: Supply,
        grid: FilmGrid,
    ) -> Self {
        let n = grid.around;
        let ratio = sommerfeld_ratio(eccentricity);
        let at = |place: f64| half_tangent(ratio, 2.0 * PI * place / n as f64 - PI);
        let gap = |theta: f64| 1.0 - eccentricity * libm::cos(theta);
        let theta: Vec<f64> = (0..n).map(|i| at(i as f64)).collect();
        let face: Vec<f64> = (0..n).map(|i| at(i as f64 + 0.5)).collect();
        let mut film = Self {
            grid,
            eccentricity,
            around: vec![0.0; n],
            across: vec![0.0; n],
            open: theta.iter().map(|t| supply.fills(gap(*t))).collect(),
            theta,
            face,
            spacing: vec![0.0; grid.across],
            height: vec![0.0; grid.across],
        };
        if supply == Supply::Line {
            film.open[0] = false;
        }
        let squared = 1.0 / (width_over_diameter * width_over_diameter);
        for i in 0..n {
            film.around[i] = gap(film.face[i]).powi(3) / film.turn(film.theta[i], i + 1);
            let cell = film.cell(i);
            film.across[i] = squared * gap(film.theta[i]).powi(3) * (cell.1 - cell.0);
        }
        // Nodes crowd towards the edge, where the pressure of a nearly closed gap falls.
        let m = grid.across;
        let node = |j: f64| libm::sin(0.5 * PI * j / m as f64);
        for j in 0..m {
            let here = node(j as f64);
            let next = node(j as f64 + 1.0);
            let below = if j == 0 { 0.0 } else { node(j as f64 - 1.0) };
            film.spacing[j] = next - here;
            film.height[j] = 0.5 * (next - below);
        }
        film
    }

    /// Angle from `from` on to node `to`, once around.
    fn turn(&self, from: f64, to: usize) -> f64 {
        let n = self.grid.around;
        let lap = if to >= n { 2.0 * PI } else { 0.0 };
        self.theta[to % n] + lap - from
    }

    /// Faces before and after a node.
    fn cell(&self, node: usize) -> (f64, f64) {
        let n = self.grid.around;
        let before = if node == 0 {
            self.face[n - 1] - 2.0 * PI
        } else {
            self.face[node - 1]
        };
        (before, self.face[node])
    }

    /// Gap over radial clearance at a node around the journal.
    pub fn gap(&self, node: usize) -> f64 {
        1.0 - self.eccentricity * libm::cos(self.theta[node])
    }

    /// Angle of a node around the journal \[rad\], −π to π.
    pub fn theta_rad(&self, node: usize) -> f64 {
        self.theta[node]
    }

    /// Flow through the face after the line at the widest gap against the pressure behind it, in `R V L`.
    pub(super) fn back_flow(&self, solved: &FilmPressure, last: bool) -> f64 {
        let (n, m) = (self.grid.around, self.grid.across);
        let (face, node) = if last { (n - 1, n - 1) } else { (0, 1) };
        let weighted = self.height.iter().enumerate();
        weighted
            .map(|(j, height)| height * self.around[face] * solved.pressure[node * m + j])
            .sum()
    }

    /// Gap at the face next to the line at the widest gap.
    pub(super) fn first_gap(&self, last: bool) -> f64 {
        let face = if last { self.grid.around - 1 } else { 0 };
        1.0 - self.eccentricity * libm::cos(self.face[face])
    }

    /// Angle that each node around the journal stands for.
    pub(super) fn widths(&self) -> Vec<f64> {
        let width = |i| {
            let (from, to) = self.cell(i);
            to - from
        };
        (0..self.grid.around).map(width).collect()
    }

    /// Cells across, as heights that add up to the half width less the outermost half cell.
    pub(super) fn heights(&self) -> &[f64] {
        &self.height
    }

    /// The film that a squeeze velocity makes: of unit size, towards `direction_rad` from the narrowest gap. Pressure is 0 or more
    /// and the film gives way where it would be less: `−∇·(H³∇P) = cos(θ − α)` where P is above 0, not less than the right side
    /// where it is 0 (the complementarity form of the Reynolds condition; D. G. Christopherson, Proc. Inst. Mech. Eng. 146, 1941).
    /// Solved by a primal-dual active set, directly on each set.
    pub fn solve(&self, direction_rad: f64) -> FilmPressure {
        let m = self.grid.across;
        let cut = self.nearest(direction_rad + PI);
        let source = self.sources(direction_rad);
        let mut full: Vec<bool> = (0..self.grid.around * m)
            .map(|k| source[k / m] > 0.0 && self.open[k / m] && k / m != cut)
            .collect();
        let mut pressure = vec![0.0; full.len()];
        let mut band = Band::new(full.len(), m);
        // An M-matrix settles in a few rounds; the bound only stops what rounding might keep alive.
        for _ in 0..60 {
            self.solve_on(&full, &source, cut, &mut band, &mut pressure);
            if !self.revise(&mut full, &pressure, &source, cut) {
                break;
            }
        }
        self.integrate(pressure)
    }

    fn nearest(&self, angle_rad: f64) -> usize {
        let target = libm::remainder(angle_rad, 2.0 * PI);
        let off = |theta: f64| libm::fabs(libm::remainder(theta - target, 2.0 * PI));
        let mut best = 0;
        for (i, theta) in self.theta.iter().enumerate() {
            if off(*theta) < off(self.theta[best]) {
                best = i;
            }
        }
        best
    }

    /// What the squeeze displaces in each column, for unit height.
    fn sources(&self, direction_rad: f64) -> Vec<f64> {
        let displaced = |i: usize| {
            let (from, to) = self.cell(i);
            libm::sin(to - direction_rad) - libm::sin(from - direction_rad)
        };
        (0..self.grid.around).map(displaced).collect()
    }

    /// Solves on the full nodes; the others keep 0. Rows run around from the cut, which is never full.
    fn solve_on(
        &self,
        full: &[bool],
        source: &[f64],
        cut: usize,
        band: &mut Band,
        pressure: &mut [f64],
    ) {
        let (n, m) = (self.grid.around, self.grid.across);
        let mut right = vec![0.0; n * m];
        band.clear();
        for step in 0..n {
            let i = (cut + step) % n;
            let before = (i + n - 1) % n;
            let sides = self.around[before] + self.around[i];
            for j in 0..m {
                let row = step * m + j;
                if !full[i * m + j] {
                    band.add(row, 0, 1.0);
                    continue;
                }
                let mut diagonal = sides * self.height[j] + self.across[i] / self.spacing[j];
                if j > 0 {
                    let inward = self.across[i] / self.spacing[j - 1];
                    diagonal += inward;
                    if full[i * m + j - 1] {
                        band.add(row, 1, -inward);
                    }
                }
                if step > 0 && full[before * m + j] {
                    band.add(row, m, -self.around[before] * self.height[j]);
                }
                band.add(row, 0, diagonal);
                right[row] = source[i] * self.height[j];
            }
        }
        band.solve(&mut right);
        for step in 0..n {
            let i = (cut + step) % n;
            pressure[i * m..(i + 1) * m].copy_from_slice(&right[step * m..(step + 1) * m]);
        }
    }

    /// Empties nodes of negative pressure and fills those where oil gathers. Says whether any changed.
    fn revise(&self, full: &mut [bool], pressure: &[f64], source: &[f64], cut: usize) -> bool {
        let (n, m) = (self.grid.around, self.grid.across);
        let mut changed = false;
        for i in (0..n).filter(|i| *i != cut && self.open[*i]) {
            let (before, after) = ((i + n - 1) % n, (i + 1) % n);
            for j in 0..m {
                let k = i * m + j;
                if full[k] {
                    if pressure[k] < 0.0 {
                        full[k] = false;
                        changed = true;
                    }
                    continue;
                }
                let mut gathers = source[i] * self.height[j];
                gathers += self.height[j] * self.around[before] * pressure[before * m + j];
                gathers += self.height[j] * self.around[i] * pressure[after * m + j];
                if j > 0 {
                    gathers += self.across[i] / self.spacing[j - 1] * pressure[k - 1];
                }
                if j + 1 < m {
                    gathers += self.across[i] / self.spacing[j] * pressure[k + 1];
                }
                if gathers > 0.0 {
                    full[k] = true;
                    changed = true;
                }
            }
        }
        changed
    }

    fn integrate(&self, pressure: Vec<f64>) -> FilmPressure {
        let m = self.grid.across;
        let (mut along, mut athwart, mut side_flow, mut peak) = (0.0, 0.0, 0.0, 0.0_f64);
        for (i, column) in pressure.chunks(m).enumerate() {
            let mean: f64 = column.iter().zip(&self.height).map(|(p, h)| p * h).sum();
            let (from, to) = self.cell(i);
            // The pressure is held over the cell.
            along += mean * (libm::sin(to) - libm::sin(from));
            athwart += mean * (libm::cos(from) - libm::cos(to));
            side_flow += self.across[i] * column[m - 1] / self.spacing[m - 1];
            peak = column.iter().copied().fold(peak, f64::max);
        }
        FilmPressure {
            pressure,
            along,
            athwart,
            side_flow,
            peak,
        }
    }
}

impl Supply {
    fn fills(self, gap: f64) -> bool {
        match self {
            Self::Flooded | Self::Line => true,
            Self::Layer(thickness) => gap <= thickness,
        }
    }
}
