//! Heat through a wall of layers (lining, core, steel), made where they rub: finite volumes, implicit in time.
//!
//! One dimension, constant properties, perfect contact between layers. A boundary is numbered from the outside: 0 is the
//! first face, 1 lies between the first and second layer, and so on; the last one is the far face. Half a plate between
//! two like faces is a wall whose cut face is insulated.

use std::f64::consts::PI;

/// One layer of a wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer {
    /// Thickness \[m\].
    pub thickness_m: f64,
    /// Thermal conductivity \[W/(m·K)\].
    pub conductivity_w_m_k: f64,
    /// Density \[kg/m³\].
    pub density_kg_m3: f64,
    /// Specific heat capacity \[J/(kg·K)\].
    pub heat_capacity_j_kg_k: f64,
}

impl Layer {
    /// Thermal diffusivity \[m²/s\].
    pub fn diffusivity_m2_s(&self) -> f64 {
        self.conductivity_w_m_k / (self.density_kg_m3 * self.heat_capacity_j_kg_k)
    }

    /// Heat capacity of unit area \[J/(m²·K)\].
    pub fn capacity_j_m2_k(&self) -> f64 {
        self.thickness_m * self.density_kg_m3 * self.heat_capacity_j_kg_k
    }
}

/// What happens at a boundary besides conduction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Boundary {
    /// Share of the flux handed to [`Body::heat`] that is made here \[1\]; 0 where nothing rubs.
    pub heated: f64,
    /// Heat transfer to the surroundings \[W/(m²·K)\]; 0 is insulated, a plane of symmetry. Between two layers it stands
    /// for oil in grooves.
    pub transfer_w_m2_k: f64,
    /// Temperature of the surroundings \[K\].
    pub surroundings_k: f64,
}

impl Boundary {
    /// A plane of symmetry, or layers that are joined.
    pub const PLAIN: Self = Self::heated(0.0);

    /// Where `share` of the flux is made, insulated from the surroundings.
    pub const fn heated(share: f64) -> Self {
        Self {
            heated: share,
            transfer_w_m2_k: 0.0,
            surroundings_k: 0.0,
        }
    }

    /// Where heat goes to the surroundings.
    pub const fn cooled(transfer_w_m2_k: f64, surroundings_k: f64) -> Self {
        Self {
            heated: 0.0,
            transfer_w_m2_k,
            surroundings_k,
        }
    }
}

/// A layer with the boundary behind it: the nodes of the layer, both ends included, and the width that each stands for.
#[derive(Debug, Clone, PartialEq)]
struct Span {
    first: usize,
    /// Heat capacity of unit volume \[J/(m³·K)\].
    volumic: f64,
    depth_m: Vec<f64>,
    width_m: Vec<f64>,
}

impl Span {
    /// Nodes crowded at both ends, where gradients are steep.
    fn new(first: usize, layer: &Layer, cells: usize) -> Self {
        let thickness_m = layer.thickness_m;
        let at = |i: usize| 0.5 * thickness_m * (1.0 - libm::cos(PI * i as f64 / cells as f64));
        let depth_m: Vec<f64> = (0..=cells).map(at).collect();
        let width_m = (0..=cells)
            .map(|i| 0.5 * (at((i + 1).min(cells)) - at(i.saturating_sub(1))))
            .collect();
        Self {
            first,
            volumic: layer.density_kg_m3 * layer.heat_capacity_j_kg_k,
            depth_m,
            width_m,
        }
    }

    /// Mean temperature and the slope of the straight line that bends the layer alike: the first moment of the temperature.
    fn state(&self, temperatures_k: &[f64]) -> LayerState {
        let thickness_m = self.width_m.iter().sum::<f64>();
        let here = temperatures_k.iter().skip(self.first);
        let (mut sum, mut moment, mut inertia) = (0.0, 0.0, 0.0);
        for ((&k, &z), &w) in here.zip(&self.depth_m).zip(&self.width_m) {
            let arm = z - 0.5 * thickness_m;
            sum += w * k;
            moment += w * k * arm;
            inertia += w * arm * arm;
        }
        LayerState {
            mean_k: sum / thickness_m,
            gradient_k_m: moment / inertia,
        }
    }
}

/// Temperature of a layer at one time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LayerState {
    /// Mean over the thickness \[K\].
    pub mean_k: f64,
    /// Slope of the straight line with the same first moment \[K/m\], rising with the number of the boundary: what bends
    /// a free plate, and what stresses one that is held flat.
    pub gradient_k_m: f64,
}

/// A wall cut into finite volumes around nodes: one node lies on each boundary, so that its temperature is solved for.
#[derive(Debug, Clone, PartialEq)]
pub struct Body {
    spans: Vec<Span>,
    /// Heat capacity that each node stands for \[J/(m²·K)\].
    capacity: Vec<f64>,
    /// Conductance from each node to the next \[W/(m²·K)\].
    conductance: Vec<f64>,
    boundaries: Vec<(usize, Boundary)>,
}

impl Body {
    /// A wall of layers, `cells` (at least 2) through each, with one boundary more than there are layers.
    pub fn new(layers: &[Layer], boundaries: &[Boundary], cells: usize) -> Self {
        let cells = cells.max(2);
        let nodes = layers.len() * cells + 1;
        let (mut capacity, mut conductance) = (vec![0.0; nodes], Vec::with_capacity(nodes));
        let mut spans = Vec::with_capacity(layers.len());
        for (i, layer) in layers.iter().enumerate() {
            let span = Span::new(i * cells, layer, cells);
            for (node, width) in capacity.iter_mut().skip(span.first).zip(&span.width_m) {
                *node += span.volumic * width;
            }
            let steps = span.depth_m.iter().zip(span.depth_m.iter().skip(1));
            conductance.extend(steps.map(|(a, b)| layer.conductivity_w_m_k / (b - a)));
            spans.push(span);
        }
        let places = (0..=layers.len()).map(|i| i * cells);
        Self {
            spans,
            capacity,
            conductance,
            boundaries: places.zip(boundaries.iter().copied()).collect(),
        }
    }

    /// The temperature profile of layers that are each at one temperature \[K\], one for each layer. A node between two
    /// layers takes the temperature that keeps their heat.
    pub fn uniform(&self, temperatures_k: &[f64]) -> Vec<f64> {
        let mut heat = vec![0.0; self.capacity.len()];
        for (span, k) in self.spans.iter().zip(temperatures_k) {
            let nodes = heat.iter_mut().skip(span.first).zip(&span.width_m);
            nodes.for_each(|(node, width)| *node += span.volumic * width * k);
        }
        let nodes = heat.iter().zip(&self.capacity);
        nodes.map(|(heat, capacity)| heat / capacity).collect()
    }

    /// Mean temperature and gradient of each layer at a temperature profile.
    pub fn layers(&self, temperatures_k: &[f64]) -> Vec<LayerState> {
        let states = self.spans.iter().map(|span| span.state(temperatures_k));
        states.collect()
    }

    /// Heat held above 0 K \[J/m²\].
    pub fn heat_j_m2(&self, temperatures_k: &[f64]) -> f64 {
        let nodes = self.capacity.iter().zip(temperatures_k);
        nodes.map(|(c, k)| c * k).sum()
    }

    /// Temperatures over `duration_s` from a profile (one value for each node, from [`Body::uniform`] or
    /// [`History::profile_k`]), under a flux over time \[W/m²\] counted from the start, in equal steps.
    ///
    /// The two-stage diagonally implicit rule of R. Alexander, SIAM J. Numer. Anal. 14 (1977) 1006: second order, and a
    /// flux that starts at once makes no oscillation. Without exchange the heat taken up is exact for a linear flux.
    pub fn heat(
        &self,
        profile_k: &[f64],
        duration_s: f64,
        steps: usize,
        flux_w_m2: impl Fn(f64) -> f64,
    ) -> History {
        let steps = steps.max(1);
        let step_s = duration_s / steps as f64;
        let stage = Stage::new(self, GAMMA * step_s);
        let mut now = profile_k.to_vec();
        let mut history = History::new(self, steps, &now);
        for i in 0..steps {
            let from_s = i as f64 * step_s;
            let first = stage.solve(self, &now, flux_w_m2(from_s + GAMMA * step_s));
            // The first stage's slope carried over the rest of the step.
            let carried = (1.0 - GAMMA) / GAMMA;
            let start = now.iter().zip(&first).map(|(n, f)| n + carried * (f - n));
            let start: Vec<f64> = start.collect();
            now = stage.solve(self, &start, flux_w_m2(from_s + step_s));
            history.add(self, from_s + step_s, &now);
        }
        history.profile_k = now;
        history
    }
}

/// Abscissa that makes the two-stage rule of second order and stiffly accurate, 1 − 1/√2.
const GAMMA: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;

/// The equations of one implicit stage, eliminated once: `C (x − start) = length_s · (heat made and conducted at x)`.
struct Stage {
    length_s: f64,
    /// Upper diagonal after elimination.
    upper: Vec<f64>,
    /// Inverse of the pivots.
    inverse: Vec<f64>,
    /// Heat from the surroundings \[W/m²\] at 0 K, and share of the flux, at each node.
    ambient: Vec<f64>,
    heated: Vec<f64>,
}

impl Stage {
    fn new(body: &Body, stage_s: f64) -> Self {
        let nodes = body.capacity.len();
        let (mut lost, mut ambient, mut heated) =
            (vec![0.0; nodes], vec![0.0; nodes], vec![0.0; nodes]);
        for (node, boundary) in &body.boundaries {
            lost[*node] += boundary.transfer_w_m2_k;
            ambient[*node] += boundary.transfer_w_m2_k * boundary.surroundings_k;
            heated[*node] += boundary.heated;
        }
        let (mut upper, mut inverse) = (Vec::with_capacity(nodes), Vec::with_capacity(nodes));
        let mut before = 0.0;
        for (node, capacity) in body.capacity.iter().enumerate() {
            let behind = body.conductance.get(node).copied().unwrap_or(0.0);
            let diagonal = capacity + stage_s * (before + behind + lost[node]);
            let over = upper.last().copied().unwrap_or(0.0);
            let pivot = diagonal + stage_s * before * over;
            inverse.push(1.0 / pivot);
            upper.push(-stage_s * behind / pivot);
            before = behind;
        }
        Self {
            length_s: stage_s,
            upper,
            inverse,
            ambient,
            heated,
        }
    }

    /// Temperatures at the end of the stage.
    fn solve(&self, body: &Body, start: &[f64], flux_w_m2: f64) -> Vec<f64> {
        let mut solved = Vec::with_capacity(start.len());
        let (mut before, mut last) = (0.0, 0.0);
        let sources = self.ambient.iter().zip(&self.heated);
        let nodes = start.iter().zip(&body.capacity).zip(sources);
        let ahead = body.conductance.iter().chain(std::iter::once(&0.0));
        for (((k, c), (ambient, heated)), (inverse, behind)) in
            nodes.zip(self.inverse.iter().zip(ahead))
        {
            let right = c * k + self.length_s * (ambient + heated * flux_w_m2 + before * last);
            last = right * inverse;
            solved.push(last);
            before = *behind;
        }
        let mut next = 0.0;
        for (k, upper) in solved.iter_mut().zip(&self.upper).rev() {
            *k -= upper * next;
            next = *k;
        }
        solved
    }
}

/// Temperatures over one stretch of time.
#[derive(Debug, Clone, PartialEq)]
pub struct History {
    /// Times from the start \[s\], 0 included.
    pub times_s: Vec<f64>,
    /// Temperature of each boundary \[K\] at these times: the interface where a boundary is heated.
    pub boundaries_k: Vec<Vec<f64>>,
    /// Each layer at these times.
    pub layers: Vec<Vec<LayerState>>,
    /// Temperature of each node at the end \[K\].
    pub profile_k: Vec<f64>,
}

/// An extreme over time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Peak {
    /// The value: temperature \[K\], or gradient \[K/m\] with its sign.
    pub value: f64,
    /// When it is met \[s\] from the start.
    pub at_s: f64,
}

impl History {
    fn new(body: &Body, steps: usize, profile_k: &[f64]) -> Self {
        let mut history = Self {
            times_s: Vec::with_capacity(steps + 1),
            boundaries_k: vec![Vec::with_capacity(steps + 1); body.boundaries.len()],
            layers: vec![Vec::with_capacity(steps + 1); body.spans.len()],
            profile_k: Vec::new(),
        };
        history.add(body, 0.0, profile_k);
        history
    }

    fn add(&mut self, body: &Body, at_s: f64, profile_k: &[f64]) {
        self.times_s.push(at_s);
        for (column, (node, _)) in self.boundaries_k.iter_mut().zip(&body.boundaries) {
            column.extend(profile_k.get(*node));
        }
        for (column, span) in self.layers.iter_mut().zip(&body.spans) {
            column.push(span.state(profile_k));
        }
    }

    /// Highest temperature of a boundary; `None` for a boundary that the wall does not have.
    pub fn peak(&self, boundary: usize) -> Option<Peak> {
        let values = self.boundaries_k.get(boundary)?.iter().copied();
        self.highest(values, |value| value)
    }

    /// Steepest gradient of a layer, of either sign; `None` for a layer that the wall does not have.
    pub fn steepest(&self, layer: usize) -> Option<Peak> {
        let states = self.layers.get(layer)?.iter();
        self.highest(states.map(|state| state.gradient_k_m), f64::abs)
    }

    fn highest(
        &self,
        values: impl Iterator<Item = f64>,
        size: impl Fn(f64) -> f64,
    ) -> Option<Peak> {
        let peaks = values.zip(&self.times_s);
        let peaks = peaks.map(|(value, &at_s)| Peak { value, at_s });
        peaks.reduce(|best, next| {
            if size(next.value) > size(best.value) {
                next
            } else {
                best
            }
        })
    }
}

/// Flux of one engagement \[W/m²\] at `time_s`: falls linearly from `start_w_m2` to 0 at `duration_s`, as slip does under a
/// constant torque.
pub fn linear_decay_w_m2(start_w_m2: f64, duration_s: f64, time_s: f64) -> f64 {
    start_w_m2 * (1.0 - time_s / duration_s).max(0.0)
}

#[cfg(test)]
mod tests;
