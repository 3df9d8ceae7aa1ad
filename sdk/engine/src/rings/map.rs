//! The film solution as a map over operating points: worked out once for a spec and its surfaces, then looked up.
//!
//! With rigid bodies and an isoviscous film, a cycle with a given pressure trace depends on viscosity and speed only by
//! their product: wear dose and friction work for each cycle are the same for half the speed in oil twice as thick. So
//! the map has two axes, ln(viscosity × speed) at top-ring reversal, and net indicated mean effective pressure. What the
//! product does not carry: heat loss and gas dynamics at another speed, the spread of viscosity along the bore.
//!
//! Between nodes: cubic (four nearest nodes on each axis). Outside: straight on from the last two nodes,
//! for at most one node spacing; look-ups say when.

use std::f64::consts::PI;

use ringland_mechanics::engine::{ChenFlynn, bmep_pa};
use ringland_mechanics::film::pack::{FilmTemperature, GasSide, Grid, Pack, Unsolved};
use ringland_mechanics::interpolate::Weights;
use ringland_mechanics::oil::dilution_factor;
use ringland_plugin::{Finding, error};

use super::Rings;
use crate::Block;

/// Nodes of viscosity × speed, each twice the one before.
pub const PRODUCT_NODES: usize = 7;
/// Nodes of load, even from 0 to a quarter over full load.
pub const LOAD_NODES: usize = 6;
/// First node of viscosity × speed \[Pa\].
const FIRST_PRODUCT_PA: f64 = 0.15;
/// Spacing of the load nodes over full load.
const LOAD_STEP: f64 = 0.25;

/// An operating point to be solved.
pub struct Node<'a> {
    /// The cylinder.
    pub pack: &'a Pack<'a>,
    /// Its gas.
    pub gas: &'a GasSide,
    /// Crank speed \[rad/s\].
    pub speed_rad_s: f64,
    /// Temperature along the bore.
    pub temperature: &'a FilmTemperature,
}

/// Solves the map: `node` turns an operating point into `width` values. `version` is raised when their meaning changes.
///
/// # Errors
/// The operating point without a solution, and why.
pub fn prepare(
    rings: &Rings,
    (width, version): (usize, u32),
    mut node: impl FnMut(&Node<'_>) -> Result<Vec<f64>, Unsolved>,
) -> Result<Vec<f64>, Vec<Finding>> {
    let spec = &rings.pack;
    let pack = Pack::new(spec, Grid::MAP).map_err(|why| refusal(&why))?;
    let mut peaks = Vec::with_capacity(LOAD_NODES);
    let mut rows = Vec::with_capacity(PRODUCT_NODES * LOAD_NODES * width);
    for product in 0..PRODUCT_NODES {
        for load in 0..LOAD_NODES {
            let imep_pa = load as f64 * LOAD_STEP * spec.full_load_imep_pa;
            let product_pa = FIRST_PRODUCT_PA * f64::from(1_u32 << product);
            let speed_rad_s = node_speed_rad_s(rings, product_pa, imep_pa);
            let gas = pack.gas(speed_rad_s, imep_pa, 0.0, 0.0);
            let gas = gas.map_err(|why| refusal(&why))?;
            let mut temperature = FilmTemperature::nominal(spec, speed_rad_s, imep_pa);
            // Exactly the node's product, also where the speed was held within its bounds.
            temperature.dilution =
                product_pa / (speed_rad_s * temperature.top_viscosity_pa_s(spec));
            let values = node(&Node {
                pack: &pack,
                gas: &gas,
                speed_rad_s,
                temperature: &temperature,
            });
            let values = values.map_err(|why| refusal(&why))?;
            rows.extend(values.into_iter().take(width));
            if product == PRODUCT_NODES / 2 {
                peaks.push(gas.load.cycle.peak_pressure_pa);
            }
        }
    }
    let mut prepared = vec![f64::from(version)];
    prepared.extend(peaks);
    prepared.extend(rows);
    Ok(prepared)
}

fn refusal(why: &Unsolved) -> Vec<Finding> {
    vec![error(
        "spec",
        why.to_string().as_str(),
        "an operating point with a solution",
        "bring the spec nearer to the defaults of the card, field by field",
    )]
}

/// The speed at which the nominal temperatures give a product of viscosity and speed, by bisection between 50 rad/s and
/// one and a half times rated speed; held there.
fn node_speed_rad_s(rings: &Rings, product_pa: f64, imep_pa: f64) -> f64 {
    let spec = &rings.pack;
    let product = |speed: f64| {
        speed * FilmTemperature::nominal(spec, speed, imep_pa).top_viscosity_pa_s(spec)
    };
    let (mut low, mut high) = (50.0, 1.5 * spec.rated_speed_rad_s);
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if product(middle) < product_pa {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// A prepared map.
#[derive(Debug, Clone, Copy)]
pub struct ContactMap<'a> {
    peaks_pa: &'a [f64],
    rows: &'a [f64],
    width: usize,
    full_load_imep_pa: f64,
}

impl<'a> ContactMap<'a> {
    /// Length of a prepared map of so many values at a node.
    pub const fn length(width: usize) -> usize {
        1 + LOAD_NODES + PRODUCT_NODES * LOAD_NODES * width
    }

    /// Reads what [`prepare`] gave for the same width and version.
    ///
    /// # Errors
    /// A finding when it is something else.
    pub fn read(
        prepared: &'a [f64],
        rings: &Rings,
        (width, version): (usize, u32),
    ) -> Result<Self, Vec<Finding>> {
        let finite = prepared.iter().all(|value| value.is_finite());
        match prepared.split_first() {
            Some((first, rest))
                if first.to_bits() == f64::from(version).to_bits()
                    && prepared.len() == Self::length(width)
                    && finite =>
            {
                let (peaks_pa, rows) = rest.split_at(LOAD_NODES);
                Ok(Self {
                    peaks_pa,
                    rows,
                    width,
                    full_load_imep_pa: rings.pack.full_load_imep_pa,
                })
            }
            _ => Err(vec![error(
                "prepared",
                prepared.len() as f64,
                &format!(
                    "{} finite numbers, as this version of the model prepares them",
                    Self::length(width)
                ),
                "prepare the specimen again",
            )]),
        }
    }

    /// Peak cylinder pressure \[Pa\] at a net indicated mean effective pressure \[Pa\], linear between nodes.
    pub fn peak_pa(&self, imep_pa: f64) -> f64 {
        let place = (imep_pa / self.full_load_imep_pa / LOAD_STEP).max(0.0);
        let low = (place as usize).min(LOAD_NODES - 2);
        let (from, to) = (self.peaks_pa[low], self.peaks_pa[low + 1]);
        from + (place - low as f64) * (to - from)
    }

    /// Net indicated mean effective pressure \[Pa\] of a block: brake mean effective pressure plus friction after Chen and Flynn, not
    /// below 0.
    pub fn imep_pa(&self, rings: &Rings, block: &Block) -> f64 {
        let spec = &rings.pack;
        let brake_pa = bmep_pa(block.torque_n_m, rings.cylinders * spec.displacement_m3());
        let piston_speed = spec.stroke_m * block.speed_rad_s / PI;
        let friction = ChenFlynn::default();
        let mut imep_pa = brake_pa.max(0.0);
        // Contracts by 1/200 of the rise of peak pressure with load, about 1/50, each time.
        for _ in 0..8 {
            imep_pa = (brake_pa + friction.fmep_pa(self.peak_pa(imep_pa), piston_speed)).max(0.0);
        }
        imep_pa
    }

    /// Looks up the values of a block; says its load \[Pa\] and whether it lies off the map.
    pub fn look_up_block(&self, rings: &Rings, block: &Block, values: &mut [f64]) -> (f64, bool) {
        let spec = &rings.pack;
        let imep_pa = self.imep_pa(rings, block);
        let speed = block.speed_rad_s;
        let film = FilmTemperature::new(spec, block.coolant_k, block.oil_k, speed, imep_pa);
        let viscosity_pa_s = film.top_viscosity_pa_s(spec) * dilution_factor(block.fuel_fraction);
        let outside = self.look_up(speed * viscosity_pa_s, imep_pa, values);
        (imep_pa, outside)
    }

    /// Looks up the values at full load, rated speed, warm; says whether that lies off the map.
    pub fn look_up_full_load(&self, rings: &Rings, values: &mut [f64]) -> bool {
        let spec = &rings.pack;
        let (speed, imep_pa) = (spec.rated_speed_rad_s, spec.full_load_imep_pa);
        let film = FilmTemperature::nominal(spec, speed, imep_pa);
        self.look_up(speed * film.top_viscosity_pa_s(spec), imep_pa, values)
    }

    /// Looks up a product of viscosity and speed \[Pa\] and a net indicated mean effective pressure \[Pa\]; says whether the
    /// point lies off the map.
    pub fn look_up(&self, product_pa: f64, imep_pa: f64, values: &mut [f64]) -> bool {
        let place = libm::log2((product_pa / FIRST_PRODUCT_PA).max(1e-9));
        let product = Weights::new(place, PRODUCT_NODES);
        let load = Weights::new(imep_pa / self.full_load_imep_pa / LOAD_STEP, LOAD_NODES);
        values.fill(0.0);
        for (i, by_product) in product.nodes.iter().enumerate() {
            for (j, by_load) in load.nodes.iter().enumerate() {
                let at = ((product.first + i) * LOAD_NODES + load.first + j) * self.width;
                let weight = by_product * by_load;
                for (value, node) in values.iter_mut().zip(&self.rows[at..at + self.width]) {
                    *value += weight * node;
                }
            }
        }
        product.outside || load.outside
    }
}
