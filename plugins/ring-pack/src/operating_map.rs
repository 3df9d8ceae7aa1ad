//! The film solution as a map over operating points: worked out once for a spec and its surfaces, then looked up.
//!
//! With rigid bodies and an isoviscous film, a cycle with a given pressure trace depends on viscosity and speed only by
//! their product: wear dose and friction work for each cycle are the same for half the speed in oil twice as thick. So
//! the map has two axes, ln(viscosity × speed) at top-ring reversal, and net indicated mean effective pressure; the
//! state of the surfaces (unseated 1, 1/2, 0; crown new, half worn) is solved at each node and folded into the wear law. What the
//! product does not carry, heat loss and gas dynamics at another speed and the spread of viscosity along the bore, is checked in
//! `tests/operating_map.rs`.
//!
//! Between nodes: cubic (four nearest nodes on each axis) in the logarithm of dose. Outside: straight on from the last two nodes,
//! for at most one node spacing; look-ups say when.

use ringland_plugin::{Finding, error};

use crate::pack::{FilmTemperature, Grid, NOMINAL_COOLANT_K, NOMINAL_OIL_K, Pack, Running};
use crate::spec::Spec;
use crate::unsolved::Unsolved;

/// Nodes of viscosity × speed, each twice the one before.
pub const PRODUCT_NODES: usize = 7;
/// Nodes of load.
pub const LOAD_NODES: usize = 6;
/// First node of viscosity × speed \[Pa\].
const FIRST_PRODUCT_PA: f64 = 0.15;
/// Load nodes over full load: closer together where little happens, up to a quarter over full load.
const LOAD_SHARES: [f64; LOAD_NODES] = [0.0, 0.25, 0.5, 0.75, 1.0, 1.25];

/// Surface states solved at each node: crown (new, half) by unseated (0, 1/2, 1).
pub const STATES: usize = 6;
/// Values of a row: doses of three rings in each state; friction work, its boundary part, least film of the top ring, seated and new.
const ROW: usize = 3 * STATES + 3;
const REFERENCE: usize = 5;
const LAYOUT_VERSION: f64 = 1.0;
/// Length of a prepared map.
pub const PREPARED: usize = 1 + LOAD_NODES + REFERENCE + PRODUCT_NODES * LOAD_NODES * ROW;

/// Below this the logarithm of a dose is not followed \[Pa·m\].
const LEAST_DOSE_PA_M: f64 = 1e-6;

/// Unseated share and crown of each state.
pub const STATE_OF: [Running; STATES] = {
    const fn state(unseated: f64, crown: f64) -> Running {
        Running { unseated, crown }
    }
    [
        state(0.0, 1.0),
        state(0.5, 1.0),
        state(1.0, 1.0),
        state(0.0, 0.5),
        state(0.5, 0.5),
        state(1.0, 0.5),
    ]
};

/// Solves the map.
///
/// # Errors
/// The operating point that has no solution, and why.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    solve(spec, Grid::MAP).map_err(|unsolved| {
        vec![error(
            "spec",
            unsolved.to_string().as_str(),
            "an operating point with a solution",
            "bring the spec nearer to the defaults of the card, field by field",
        )]
    })
}

fn solve(spec: &Spec, grid: Grid) -> Result<Vec<f64>, Unsolved> {
    let pack = Pack::new(spec, grid)?;
    let loads: Vec<f64> = LOAD_SHARES
        .iter()
        .map(|share| share * spec.full_load_imep_pa)
        .collect();
    let mut peaks = Vec::with_capacity(LOAD_NODES);
    let mut rows = Vec::with_capacity(PRODUCT_NODES * LOAD_NODES * ROW);
    for product in 0..PRODUCT_NODES {
        for &imep_pa in &loads {
            let product_pa = FIRST_PRODUCT_PA * f64::from(1_u32 << product);
            let speed_rad_s = node_speed_rad_s(spec, product_pa, imep_pa);
            let row = node(&pack, product_pa, speed_rad_s, imep_pa)?;
            rows.extend(row.values);
            if product == PRODUCT_NODES / 2 {
                peaks.push(row.peak_pa);
            }
        }
    }
    let mut prepared = vec![LAYOUT_VERSION];
    prepared.extend(peaks);
    prepared.extend(reference(&pack)?);
    prepared.extend(rows);
    Ok(prepared)
}

struct Row {
    values: [f64; ROW],
    peak_pa: f64,
}

fn node(pack: &Pack<'_>, product_pa: f64, speed_rad_s: f64, imep_pa: f64) -> Result<Row, Unsolved> {
    let spec = pack.spec;
    let gas = pack.gas(speed_rad_s, imep_pa, 0.0, 0.0)?;
    let mut temperature = nominal_temperature(spec, speed_rad_s, imep_pa);
    // Exactly the node's product, also where the speed was held within its bounds.
    temperature.dilution = product_pa / (speed_rad_s * temperature.top_viscosity_pa_s(spec));
    let mut values = [0.0; ROW];
    for ring in 0..3 {
        for (state, running) in STATE_OF.iter().enumerate() {
            let cycle = pack.ring_cycle(ring, &gas, speed_rad_s, &temperature, *running)?;
            values[STATES * ring + state] = libm::log(cycle.dose_pa_m.max(LEAST_DOSE_PA_M));
            if state == 0 {
                values[3 * STATES] += cycle.friction_j;
                values[3 * STATES + 1] += cycle.boundary_friction_j;
                if ring == 0 {
                    values[3 * STATES + 2] = cycle.least_film_m;
                }
            }
        }
    }
    Ok(Row {
        values,
        peak_pa: gas.load.cycle.peak_pressure_pa,
    })
}

fn nominal_temperature(spec: &Spec, speed_rad_s: f64, imep_pa: f64) -> FilmTemperature {
    FilmTemperature::new(spec, NOMINAL_COOLANT_K, NOMINAL_OIL_K, speed_rad_s, imep_pa)
}

/// The speed at which the nominal temperatures give a product of viscosity and speed, by bisection between 50 rad/s and
/// one and a half times rated speed; held there.
fn node_speed_rad_s(spec: &Spec, product_pa: f64, imep_pa: f64) -> f64 {
    let product =
        |speed: f64| speed * nominal_temperature(spec, speed, imep_pa).top_viscosity_pa_s(spec);
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

/// Blow-by at full load, seated, unseated, and seated with 0.1 mm of gap growth \[kg/s\]; charge flow \[kg/s\]; brake mean effective
/// pressure \[Pa\].
fn reference(pack: &Pack<'_>) -> Result<[f64; REFERENCE], Unsolved> {
    let spec = pack.spec;
    let at = |growth_m: f64, unseated: f64| {
        pack.gas(
            spec.rated_speed_rad_s,
            spec.full_load_imep_pa,
            growth_m,
            unseated,
        )
    };
    let seated = at(0.0, 0.0)?;
    Ok([
        seated.blow_by_kg_s,
        at(0.0, 1.0)?.blow_by_kg_s,
        at(REFERENCE_GROWTH_M, 0.0)?.blow_by_kg_s,
        seated.load.cycle.trapped_mass_kg / seated.load.cycle.period_s,
        seated.load.bmep_pa,
    ])
}

/// Gap growth of the third reference flow \[m\].
pub const REFERENCE_GROWTH_M: f64 = 1.0e-4;

/// What the reference solution at full load gave.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reference {
    /// Blow-by, seated \[kg/s\].
    pub blow_by_kg_s: f64,
    /// Blow-by, as built \[kg/s\].
    pub unseated_blow_by_kg_s: f64,
    /// Blow-by, seated, after [`REFERENCE_GROWTH_M`] \[kg/s\].
    pub grown_blow_by_kg_s: f64,
    /// Trapped charge \[kg/s\].
    pub charge_kg_s: f64,
    /// Brake mean effective pressure \[Pa\].
    pub bmep_pa: f64,
}

/// A prepared map.
#[derive(Debug, Clone, Copy)]
pub struct OperatingMap<'a> {
    peaks_pa: &'a [f64],
    reference: &'a [f64],
    rows: &'a [f64],
    full_load_imep_pa: f64,
}

/// One look-up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Looked {
    /// Dose of each ring in each state, for one cycle \[Pa·m\].
    pub dose_pa_m: [[f64; STATES]; 3],
    /// Friction work of the pack, seated and new, for one cycle \[J\].
    pub friction_j: f64,
    /// The part of it on asperities \[J\].
    pub boundary_friction_j: f64,
    /// Least film under the top ring, seated and new \[m\].
    pub least_film_m: f64,
    /// Whether the point lies off the map.
    pub extrapolated: bool,
}

impl<'a> OperatingMap<'a> {
    /// Reads what [`prepare`] gave.
    ///
    /// # Errors
    /// A finding when it is something else.
    pub fn read(prepared: &'a [f64], spec: &Spec) -> Result<Self, Vec<Finding>> {
        let wrong = || {
            vec![error(
                "prepared",
                prepared.len() as f64,
                &format!("{PREPARED} finite numbers, as this version of the model prepares them"),
                "prepare the specimen again",
            )]
        };
        let finite = prepared.iter().all(|value| value.is_finite());
        if prepared.len() != PREPARED || prepared.first() != Some(&LAYOUT_VERSION) || !finite {
            return Err(wrong());
        }
        let (peaks_pa, rest) = prepared[1..].split_at(LOAD_NODES);
        let (reference, rows) = rest.split_at(REFERENCE);
        Ok(Self {
            peaks_pa,
            reference,
            rows,
            full_load_imep_pa: spec.full_load_imep_pa,
        })
    }

    /// The reference solution.
    pub fn reference(&self) -> Reference {
        let at = |index: usize| self.reference[index];
        Reference {
            blow_by_kg_s: at(0),
            unseated_blow_by_kg_s: at(1),
            grown_blow_by_kg_s: at(2),
            charge_kg_s: at(3),
            bmep_pa: at(4),
        }
    }

    /// Peak cylinder pressure \[Pa\] at a net indicated mean effective pressure \[Pa\], linear between nodes.
    pub fn peak_pa(&self, imep_pa: f64) -> f64 {
        let place = (imep_pa / self.full_load_imep_pa / LOAD_STEP).max(0.0);
        let low = (place as usize).min(LOAD_NODES - 2);
        let (from, to) = (self.peaks_pa[low], self.peaks_pa[low + 1]);
        from + (place - low as f64) * (to - from)
    }

    /// Looks up a product of viscosity and speed \[Pa\] and a net indicated mean effective pressure \[Pa\].
    pub fn look_up(&self, product_pa: f64, imep_pa: f64) -> Looked {
        let product = Weights::new(
            libm::log2((product_pa / FIRST_PRODUCT_PA).max(1e-9)),
            PRODUCT_NODES,
        );
        let load = Weights::new(imep_pa / self.full_load_imep_pa / LOAD_STEP, LOAD_NODES);
        let mut values = [0.0; ROW];
        for (i, by_product) in product.nodes.iter().enumerate() {
            for (j, by_load) in load.nodes.iter().enumerate() {
                let at = ((product.first + i) * LOAD_NODES + load.first + j) * ROW;
                let weight = by_product * by_load;
                for (value, node) in values.iter_mut().zip(&self.rows[at..at + ROW]) {
                    *value += weight * node;
                }
            }
        }
        let mut dose_pa_m = [[0.0; STATES]; 3];
        for (ring, doses) in dose_pa_m.iter_mut().enumerate() {
            for (state, dose) in doses.iter_mut().enumerate() {
                *dose = libm::exp(values[STATES * ring + state]);
            }
        }
        Looked {
            dose_pa_m,
            friction_j: values[3 * STATES],
            boundary_friction_j: values[3 * STATES + 1],
            least_film_m: values[3 * STATES + 2],
            extrapolated: product.outside || load.outside,
        }
    }
}

const LOAD_STEP: f64 = 0.25;

/// Weights of four neighbouring nodes at whole positions from 0.
struct Weights {
    first: usize,
    /// Their weights.
    nodes: [f64; 4],
    outside: bool,
}

impl Weights {
    fn new(position: f64, count: usize) -> Self {
        let last = (count - 1) as f64;
        let slack = 1e-9;
        let outside = position < -slack || position > last + slack;
        let held = position.clamp(-1.0, last + 1.0);
        if held < 0.0 {
            let nodes = [1.0 - held, held, 0.0, 0.0];
            return Self {
                first: 0,
                nodes,
                outside,
            };
        }
        if held > last {
            let over = held - last;
            let nodes = [0.0, 0.0, -over, 1.0 + over];
            return Self {
                first: count - 4,
                nodes,
                outside,
            };
        }
        let first = (held as usize).saturating_sub(1).min(count - 4);
        let t = held - first as f64;
        let (a, b, c, d) = (t, t - 1.0, t - 2.0, t - 3.0);
        Self {
            first,
            nodes: [
                -b * c * d / 6.0,
                0.5 * a * c * d,
                -0.5 * a * b * d,
                a * b * c / 6.0,
            ],
            outside,
        }
    }
}
