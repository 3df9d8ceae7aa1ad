use super::error::EngineError;
use super::orifice::{Nozzle, OrificeGas};
use super::ring_gas::RingPackGas;

/// Longest chain.
pub(super) const MOST_RINGS: usize = 8;

/// A value for each land, ring or direction of the chain, on the stack.
type Row = [f64; MOST_RINGS];

/// Pressure difference over pressure below which the flow is taken as proportional to it, so that
/// its slope stays finite at rest; the flow function is met exactly at this point.
const LINEAR_BELOW: f64 = 1e-3;

/// Flow through one seal with its slopes: `[flow, d/d(above), d/d(below)]`, positive downwards.
type SealFlow = [f64; 3];

/// The flow law of a gas, with what depends on the gas alone worked out once.
struct FlowLaw {
    nozzle: Nozzle,
    gas_constant_j_kg_k: f64,
    at_limit: f64,
}

impl FlowLaw {
    fn new(gas: &OrificeGas) -> Self {
        let nozzle = Nozzle::new(gas.gamma);
        let at_limit = nozzle.flow(1.0 - LINEAR_BELOW).0;
        Self {
            nozzle,
            gas_constant_j_kg_k: gas.gas_constant_j_kg_k,
            at_limit,
        }
    }

    /// Conductance `C_d A / √(R T)` of a seal fed with gas at `up_k`.
    fn conductance(&self, effective_area_m2: f64, up_k: f64) -> f64 {
        effective_area_m2 / (self.gas_constant_j_kg_k * up_k).sqrt()
    }

    /// Flow between two pressures; conductances for the downward and the upward direction.
    fn through(&self, down: f64, up: f64, above_pa: f64, below_pa: f64) -> SealFlow {
        if above_pa >= below_pa {
            let [flow, by_source, by_sink] = self.one_way(down, above_pa, below_pa);
            [flow, by_source, by_sink]
        } else {
            let [flow, by_source, by_sink] = self.one_way(up, below_pa, above_pa);
            [-flow, -by_sink, -by_source]
        }
    }

    fn one_way(&self, conductance: f64, source_pa: f64, sink_pa: f64) -> SealFlow {
        let ratio = sink_pa / source_pa;
        let (psi, slope) = if ratio > 1.0 - LINEAR_BELOW {
            let slope = -self.at_limit / LINEAR_BELOW;
            (slope * (ratio - 1.0), slope)
        } else {
            self.nozzle.flow(ratio)
        };
        [
            conductance * source_pa * psi,
            conductance * (psi - ratio * slope),
            conductance * slope,
        ]
    }
}

/// L-stable two-stage second-order diagonally implicit Runge-Kutta coefficient, 1 - 1/√2
/// (Alexander, SIAM J. Numer. Anal. 14 (1977) 1006).
const STAGE: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;
const MOST_NEWTON: usize = 40;
/// Gas balance of a land over its content: solved to the first, refused above the second.
const SOLVED: f64 = 1e-10;
const REFUSED: f64 = 1e-8;

/// The lands between the rings as unknowns of one implicit step after another.
pub(super) struct Network {
    law: FlowLaw,
    step_s: f64,
    lands: usize,
    crankcase_pa: f64,
    /// Mass for each pascal in each land \[kg/Pa\].
    capacity: Row,
    /// Conductance of each ring downwards and upwards.
    down: Row,
    up: Row,
    pressure_pa: Row,
    /// Change over the last step: the first guess for the next.
    trend_pa: Row,
}

/// Gas balance of the lands at trial pressures, with its tridiagonal slopes.
#[derive(Default)]
struct Balance {
    flow_kg_s: Row,
    residual: Row,
    lower: Row,
    diagonal: Row,
    upper: Row,
    /// Largest residual over the content of its land.
    error: f64,
}

impl Network {
    pub(super) fn new(pack: &RingPackGas, step_s: f64) -> Self {
        let law = FlowLaw::new(&pack.gas);
        let (mut capacity, mut down, mut up) = (Row::default(), Row::default(), Row::default());
        for (kept, land) in capacity.iter_mut().zip(&pack.lands) {
            *kept = land.volume_m3 / (pack.gas.gas_constant_j_kg_k * land.temp_k);
        }
        let below = pack
            .lands
            .iter()
            .map(|land| land.temp_k)
            .chain(std::iter::once(pack.crankcase_temp_k));
        let mut above_k = pack.top_land_temp_k;
        for (i, (ring, below_k)) in pack.rings.iter().zip(below).enumerate() {
            down[i] = law.conductance(ring.effective_area_m2(), above_k);
            up[i] = law.conductance(ring.effective_area_m2(), below_k);
            above_k = below_k;
        }
        Self {
            law,
            step_s,
            lands: pack.lands.len(),
            crankcase_pa: pack.crankcase_pressure_pa,
            capacity,
            down,
            up,
            pressure_pa: [pack.crankcase_pressure_pa; MOST_RINGS],
            trend_pa: Row::default(),
        }
    }

    pub(super) fn pressures(&self) -> Vec<f64> {
        self.pressure_pa[..self.lands].to_vec()
    }

    pub(super) fn set_pressures(&mut self, pressure_pa: &[f64]) {
        self.pressure_pa[..self.lands].copy_from_slice(pressure_pa);
    }

    pub(super) fn stored_kg(&self) -> f64 {
        self.contents()[..self.lands].iter().sum()
    }

    fn contents(&self) -> Row {
        std::array::from_fn(|j| self.capacity[j] * self.pressure_pa[j])
    }

    /// One step; returns the mass past the top and the bottom ring \[kg\].
    pub(super) fn step(&mut self, from_pa: f64, to_pa: f64) -> Result<(f64, f64), EngineError> {
        let inner = STAGE * self.step_s;
        let outer = self.step_s - inner;
        let mut content = self.contents();
        let start_pa = self.pressure_pa;
        self.guess(&start_pa, STAGE);
        let first = self.solve(from_pa + STAGE * (to_pa - from_pa), &content, inner)?;
        for j in 0..self.lands {
            content[j] += outer * (first[j] - first[j + 1]);
        }
        self.guess(&start_pa, 1.0);
        let second = self.solve(to_pa, &content, inner)?;
        self.trend_pa = std::array::from_fn(|j| self.pressure_pa[j] - start_pa[j]);
        let passed = |i: usize| outer * first[i] + inner * second[i];
        Ok((passed(0), passed(self.lands)))
    }

    /// Sets the pressures a share of the last step's change further than `start_pa`.
    fn guess(&mut self, start_pa: &Row, share: f64) {
        let guesses = start_pa
            .iter()
            .zip(&self.trend_pa)
            .map(|(start, trend)| (start + share * trend).max(0.5 * start));
        for (pressure, guess) in self.pressure_pa.iter_mut().zip(guesses) {
            *pressure = guess;
        }
    }

    /// Solves `content(p) = base + step · net inflow(p)` by Newton with halving; returns the flows.
    fn solve(&mut self, chamber_pa: f64, base_kg: &Row, step_s: f64) -> Result<Row, EngineError> {
        let mut balance = self.balance(chamber_pa, base_kg, step_s);
        for _ in 0..MOST_NEWTON {
            if balance.error <= SOLVED {
                break;
            }
            let change = balance.newton(self.lands);
            let before = self.pressure_pa;
            let mut share = 1.0;
            loop {
                for j in 0..self.lands {
                    self.pressure_pa[j] = (before[j] - share * change[j]).max(0.1 * before[j]);
                }
                let tried = self.balance(chamber_pa, base_kg, step_s);
                if tried.error < balance.error || share < 1e-3 {
                    balance = tried;
                    break;
                }
                share *= 0.5;
            }
        }
        if balance.error <= REFUSED {
            return Ok(balance.flow_kg_s);
        }
        Err(EngineError::NotConverged {
            solving: "gas balance of the lands",
            residual: balance.error,
            advice: "trace the chamber pressure in finer steps",
        })
    }

    fn balance(&self, chamber_pa: f64, base_kg: &Row, step_s: f64) -> Balance {
        let lands = self.lands;
        let content = self.contents();
        let mut balance = Balance {
            diagonal: self.capacity,
            ..Balance::default()
        };
        for (residual, (now, base)) in balance.residual.iter_mut().zip(content.iter().zip(base_kg))
        {
            *residual = now - base;
        }
        for i in 0..=lands {
            let above = if i == 0 {
                chamber_pa
            } else {
                self.pressure_pa[i - 1]
            };
            let below = if i == lands {
                self.crankcase_pa
            } else {
                self.pressure_pa[i]
            };
            let [flow, by_above, by_below] =
                self.law.through(self.down[i], self.up[i], above, below);
            balance.flow_kg_s[i] = flow;
            if i > 0 {
                balance.residual[i - 1] += step_s * flow;
                balance.diagonal[i - 1] += step_s * by_above;
                balance.upper[i - 1] = step_s * by_below;
            }
            if i < lands {
                balance.residual[i] -= step_s * flow;
                balance.diagonal[i] -= step_s * by_below;
                balance.lower[i] = -step_s * by_above;
            }
        }
        for (residual, content) in balance.residual.iter().zip(&content).take(lands) {
            balance.error = balance.error.max((residual / content).abs());
        }
        balance
    }
}

impl Balance {
    /// The pressure change `J⁻¹ residual` by elimination; the matrix is diagonally dominant, so no
    /// pivoting is needed.
    fn newton(&self, lands: usize) -> Row {
        let (mut diagonal, mut change) = (self.diagonal, self.residual);
        for j in 1..lands {
            let factor = self.lower[j] / diagonal[j - 1];
            diagonal[j] -= factor * self.upper[j - 1];
            change[j] -= factor * change[j - 1];
        }
        for j in (0..lands).rev() {
            let beyond = if j + 1 < lands {
                self.upper[j] * change[j + 1]
            } else {
                0.0
            };
            change[j] = (change[j] - beyond) / diagonal[j];
        }
        change
    }
}
