use super::face::Face;
use super::flow_factors::FlowFactors;

/// What drives the film at one instant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edges {
    /// Dynamic viscosity \[Pa·s\].
    pub viscosity_pa_s: f64,
    /// Speed of the bore past the face \[m/s\], 0 or more: from the first point of the face to the last.
    pub speed_m_s: f64,
    /// Rate at which the film grows \[m/s\], negative while it is squeezed.
    pub squeeze_m_s: f64,
    /// Absolute pressure at the first point, where the film enters \[Pa\].
    pub leading_pa: f64,
    /// Absolute pressure at the last point \[Pa\].
    pub trailing_pa: f64,
}

/// Solution of the Reynolds equation at one instant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilmLoad {
    /// Force that film and gas exert on the face for each metre of circumference \[N/m\].
    pub load_n_m: f64,
    /// Where the film ends \[m\], on the axis of the face; `None` when it reaches the trailing edge.
    pub rupture_m: Option<f64>,
    /// Constant of the first integral \[m²/s\]: `φ_x h³ p'/(12 η) = U/2 (h + s) + V x + C`.
    flow_m2_s: f64,
}

/// Integrals of one film shape from the leading edge on: with them, each load is a few products.
///
/// The first integral of the one-dimensional equation leaves `p' = 12 η g (U/2 (h + s) + V x + C)` with
/// `g = 1/(φ_x h³)` and s the shear-flow part; pressure and load are moments of g and g (h + s), here by Simpson's
/// rule in each cell.
#[derive(Debug, Clone, Default)]
pub struct FilmIntegrals {
    x_m: Vec<f64>,
    /// h + s at points (ends and middles).
    carried_m: Vec<f64>,
    /// g at points.
    inverse_cube: Vec<f64>,
    /// At cell ends: ∫g, ∫xg, ∫x²g, ∫(h+s)g, ∫x(h+s)g.
    sums: Vec<[f64; 5]>,
}

/// Composite roughness as the film sees it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Roughness<'a> {
    pub factors: &'a FlowFactors,
    /// Composite σ \[m\], 0 for smooth surfaces.
    pub sigma_m: f64,
    /// Share of σ² on the moving surface less that on the face, −1 to 1.
    pub moving_share: f64,
}

impl FilmIntegrals {
    /// Works out the integrals of a face at a least film thickness, in place.
    pub(super) fn shape(&mut self, face: &Face, film_m: f64, rough: &Roughness<'_>) {
        self.x_m.clear();
        self.x_m.extend_from_slice(&face.x_m);
        self.carried_m.clear();
        self.inverse_cube.clear();
        let inverse_sigma = 1.0 / rough.sigma_m;
        for setback in &face.setback_m {
            let h = film_m + setback;
            // An infinite ratio for σ = 0 gives the factors of smooth surfaces.
            let [pressure_flow, shear_flow] = rough.factors.flow(h * inverse_sigma);
            self.inverse_cube.push(1.0 / (pressure_flow * h * h * h));
            let shear_m = rough.moving_share * rough.sigma_m * shear_flow;
            self.carried_m.push(h + shear_m);
        }
        self.sums.clear();
        let mut sum = [0.0; 5];
        self.sums.push(sum);
        for k in (0..self.x_m.len().saturating_sub(2)).step_by(2) {
            let sixth = (self.x_m[k + 2] - self.x_m[k]) / 6.0;
            for (point, weight) in [(k, sixth), (k + 1, 4.0 * sixth), (k + 2, sixth)] {
                let (x, g) = (self.x_m[point], weight * self.inverse_cube[point]);
                let carried = g * self.carried_m[point];
                sum[0] += g;
                sum[1] += x * g;
                sum[2] += x * x * g;
                sum[3] += carried;
                sum[4] += x * carried;
            }
            self.sums.push(sum);
        }
    }

    /// Solves the film for the conditions at its edges.
    pub(super) fn solve(&self, edges: &Edges) -> FilmLoad {
        let cells = self.sums.len() - 1;
        let excess = |cell: usize| self.excess_pa(edges, &self.sums[cell], 2 * cell);
        // The film reaches to the last place at which it could end above the pressure behind it.
        let last = (0..=cells).rev().find(|cell| excess(*cell) > 0.0);
        match last {
            Some(cell) if cell < cells => self.ruptured(edges, cell),
            _ => self.full(edges),
        }
    }

    /// Pressure above the trailing one if the film were to end at a point with zero slope.
    fn excess_pa(&self, edges: &Edges, sums: &[f64; 5], point: usize) -> f64 {
        let (x, carried) = (self.x_m[point], self.carried_m[point]);
        excess_at(edges, sums, x, carried)
    }

    /// The end lies in the cell: a root of the excess, with the sums carried into the cell by cubics.
    fn ruptured(&self, edges: &Edges, cell: usize) -> FilmLoad {
        let (mut low, mut high) = (0.0, 1.0);
        let at = |t: f64| {
            let (sums, x, carried) = self.inside(cell, t);
            (excess_at(edges, &sums, x, carried), sums, x, carried)
        };
        let (mut low_excess, mut high_excess) = (at(low).0, at(high).0);
        let mut end = at(low);
        for _ in 0..30 {
            let t = low + (high - low) * low_excess / (low_excess - high_excess);
            end = at(t);
            let scale = edges.leading_pa + edges.trailing_pa + 1e5;
            if end.0.abs() < 1e-9 * scale || high - low < 1e-9 {
                break;
            }
            if end.0 > 0.0 {
                (low, low_excess) = (t, end.0);
                high_excess *= 0.5;
            } else {
                (high, high_excess) = (t, end.0);
                low_excess *= 0.5;
            }
        }
        let (_, sums, x, carried) = end;
        let flow = -(0.5 * edges.speed_m_s * carried + edges.squeeze_m_s * x);
        let behind = edges.trailing_pa * (self.last_x() - x);
        FilmLoad {
            load_n_m: self.film_load(edges, &sums, flow, x) + behind,
            rupture_m: Some(x),
            flow_m2_s: flow,
        }
    }

    /// Sums, position and h + s at a share of a cell.
    fn inside(&self, cell: usize, t: f64) -> ([f64; 5], f64, f64) {
        let k = 2 * cell;
        let width = self.x_m[k + 2] - self.x_m[k];
        let (from, to) = (&self.sums[cell], &self.sums[cell + 1]);
        let slope = |point: usize| {
            let (x, g, carried) = (
                self.x_m[point],
                self.inverse_cube[point],
                self.carried_m[point],
            );
            [g, x * g, x * x * g, carried * g, x * carried * g].map(|s| s * width)
        };
        let (from_slope, to_slope) = (slope(k), slope(k + 2));
        let mut sums = [0.0; 5];
        for (i, sum) in sums.iter_mut().enumerate() {
            let (s0, s1, rise) = (from_slope[i], to_slope[i], to[i] - from[i]);
            *sum =
                from[i] + t * (s0 + t * (3.0 * rise - 2.0 * s0 - s1 + t * (s0 + s1 - 2.0 * rise)));
        }
        let [a, b, c] = [0, 1, 2].map(|i| self.carried_m[k + i]);
        let carried = a + t * (4.0 * b - 3.0 * a - c + t * 2.0 * (a - 2.0 * b + c));
        (sums, self.x_m[k] + t * width, carried)
    }

    /// The film reaches the trailing edge.
    fn full(&self, edges: &Edges) -> FilmLoad {
        let sums = &self.sums[self.sums.len() - 1];
        let eta = 12.0 * edges.viscosity_pa_s;
        let driven = 0.5 * edges.speed_m_s * sums[3] + edges.squeeze_m_s * sums[1];
        let flow = ((edges.trailing_pa - edges.leading_pa) / eta - driven) / sums[0];
        let load = self.film_load(edges, sums, flow, self.last_x());
        FilmLoad {
            load_n_m: load + self.below_vapour(edges, flow),
            rupture_m: None,
            flow_m2_s: flow,
        }
    }

    /// Integral of pressure from the leading edge to x, by parts.
    fn film_load(&self, edges: &Edges, sums: &[f64; 5], flow: f64, x: f64) -> f64 {
        let moment = 0.5 * edges.speed_m_s * sums[4] + edges.squeeze_m_s * sums[2] + flow * sums[1];
        x * edges.trailing_pa
            - self.x_m[0] * edges.leading_pa
            - 12.0 * edges.viscosity_pa_s * moment
    }

    /// What a film drawn below zero pressure has to give back.
    fn below_vapour(&self, edges: &Edges, flow: f64) -> f64 {
        let half = 0.5 * edges.speed_m_s;
        let missing = |sums: &[f64; 5]| {
            let rise = half * sums[3] + edges.squeeze_m_s * sums[1] + flow * sums[0];
            (-edges.leading_pa - 12.0 * edges.viscosity_pa_s * rise).max(0.0)
        };
        let mut total = 0.0;
        let mut before = 0.0;
        for (cell, sums) in self.sums.iter().enumerate().skip(1) {
            let now = missing(sums);
            total += 0.5 * (before + now) * (self.x_m[2 * cell] - self.x_m[2 * cell - 2]);
            before = now;
        }
        total
    }

    fn last_x(&self) -> f64 {
        self.x_m[self.x_m.len() - 1]
    }

    /// Viscous drag on the bore for each metre of circumference \[N/m\], in the direction of its motion
    /// over the face positive when it resists; nothing where the film has ended.
    pub(super) fn drag_n_m(
        &self,
        face: &Face,
        film_m: f64,
        rough: &Roughness<'_>,
        edges: &Edges,
        solved: &FilmLoad,
    ) -> f64 {
        let end = solved.rupture_m.unwrap_or(self.last_x());
        let half = 0.5 * edges.speed_m_s;
        let shear = |point: usize| {
            let h = film_m + face.setback_m[point];
            let [stress, on_pressure, on_shear] = rough.factors.stress(h / rough.sigma_m);
            let (x, carried) = (self.x_m[point], self.carried_m[point]);
            let driven = half * carried + edges.squeeze_m_s * x + solved.flow_m2_s;
            let slope = 12.0 * edges.viscosity_pa_s * self.inverse_cube[point] * driven;
            let sliding = stress + rough.moving_share * on_shear;
            edges.viscosity_pa_s * edges.speed_m_s / h * sliding + 0.5 * on_pressure * h * slope
        };
        let mut total = 0.0;
        for k in (0..self.x_m.len() - 2).step_by(2) {
            let (from, to) = (self.x_m[k], self.x_m[k + 2]);
            if from >= end {
                break;
            }
            // The share of the last cell is taken at its mean: second order.
            let share = ((end - from) / (to - from)).min(1.0);
            let sixth = share * (to - from) / 6.0;
            total += sixth * (shear(k) + 4.0 * shear(k + 1) + shear(k + 2));
        }
        total
    }
}

fn excess_at(edges: &Edges, sums: &[f64; 5], x: f64, carried: f64) -> f64 {
    let half = 0.5 * edges.speed_m_s;
    let flow = -(half * carried + edges.squeeze_m_s * x);
    let rise = half * sums[3] + edges.squeeze_m_s * sums[1] + flow * sums[0];
    edges.leading_pa - edges.trailing_pa + 12.0 * edges.viscosity_pa_s * rise
}
