use super::asperities::Asperities;
use super::mobility::{Mobility, MobilityMap};

/// A journal in its shell. Both are rigid and stay parallel.
#[derive(Debug, Clone, Copy)]
pub struct JournalBearing<'a> {
    /// Journal radius \[m\].
    pub radius_m: f64,
    /// Width of the film \[m\].
    pub width_m: f64,
    /// Radial clearance \[m\].
    pub clearance_m: f64,
    /// The film.
    pub film: &'a MobilityMap,
    /// The asperities.
    pub asperities: &'a Asperities,
}

/// Load on the journal over a cycle, at even steps of time, in axes fixed to the shell.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadCycle {
    /// Along the first and second axis \[N\]; it repeats after the last.
    pub load_n: Vec<[f64; 2]>,
    /// Speed of the journal in the shell \[rad/s\], positive from the first axis to the second.
    pub spin_rad_s: Vec<f64>,
    /// Time between points \[s\].
    pub step_s: f64,
}

/// Where the journal is, and what carries it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OrbitPoint {
    /// Eccentricity over clearance, along the shell's axes.
    pub eccentricity: [f64; 2],
    /// Narrowest gap \[m\].
    pub film_m: f64,
    /// Load on the film \[N\].
    pub film_load_n: f64,
    /// Load on the asperities \[N\].
    pub asperity_load_n: f64,
    /// Highest film pressure \[Pa\].
    pub peak_pressure_pa: f64,
    /// Work of the pressure in the film \[W\].
    pub squeeze_power_w: f64,
    /// Flow out of both sides \[m³/s\].
    pub side_flow_m3_s: f64,
}

/// A periodic orbit.
#[derive(Debug, Clone, PartialEq)]
pub struct Orbit {
    /// One point for each of the load's.
    pub points: Vec<OrbitPoint>,
    /// Cycles run until it closed.
    pub cycles: usize,
    /// Change of ln(1 − ε) from the start of the last cycle to its end.
    pub closure: f64,
}

/// How well an orbit is followed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OrbitSettings {
    /// Local error of each step in ln(1 − ε): relative in the narrowest gap.
    pub tolerance: f64,
    /// An orbit is closed when a cycle changes ln(1 − ε) by less.
    pub closure: f64,
    /// Most cycles run.
    pub most_cycles: usize,
}

impl Default for OrbitSettings {
    fn default() -> Self {
        Self {
            tolerance: 1e-3,
            closure: 2e-3,
            most_cycles: 30,
        }
    }
}

/// Fewest and most steps into which a step of the load is cut are bounded: 1 to this.
const MOST_CUTS: f64 = 4096.0;

/// A load at rest: what a step is integrated under.
#[derive(Debug, Clone, Copy)]
struct Push {
    load_n: [f64; 2],
    spin_rad_s: f64,
}

impl LoadCycle {
    fn push(&self, point: usize, share: f64) -> Push {
        let n = self.load_n.len();
        let (here, next) = (point % n, (point + 1) % n);
        let between = |a: f64, b: f64| a + share * (b - a);
        let (a, b) = (self.load_n[here], self.load_n[next]);
        Push {
            load_n: [between(a[0], b[0]), between(a[1], b[1])],
            spin_rad_s: between(self.spin_rad_s[here], self.spin_rad_s[next]),
        }
    }
}

impl JournalBearing<'_> {
    /// Follows the journal over a load cycle until the orbit closes, for a viscosity \[Pa·s\]. Inertia of the journal is left out. At each
    /// instant film and asperities carry the load together.
    ///
    /// The state is `−ln(1 − ε)` in the direction of the eccentricity, so the journal never meets the wall and errors are relative in
    /// the film; steps are adaptive (P. Bogacki and L. F. Shampine, Appl. Math. Lett. 2, 1989, 321). An orbit that has not closed
    /// says so by its closure.
    pub fn orbit(&self, viscosity_pa_s: f64, cycle: &LoadCycle, settings: &OrbitSettings) -> Orbit {
        let first = cycle.push(0, 0.0).load_n;
        let size = first[0].hypot(first[1]).max(f64::MIN_POSITIVE);
        let mut state = [2.0 * first[0] / size, 2.0 * first[1] / size];
        let mut step_s = cycle.step_s;
        let mut orbit = Orbit {
            points: Vec::with_capacity(cycle.load_n.len()),
            cycles: 0,
            closure: f64::INFINITY,
        };
        while orbit.cycles < settings.most_cycles && orbit.closure > settings.closure {
            let start = state;
            orbit.points.clear();
            for point in 0..cycle.load_n.len() {
                orbit
                    .points
                    .push(self.point(viscosity_pa_s, state, &cycle.push(point, 0.0)));
                state = self.advance(
                    viscosity_pa_s,
                    state,
                    cycle,
                    point,
                    &mut step_s,
                    settings.tolerance,
                );
            }
            orbit.cycles += 1;
            orbit.closure = (state[0] - start[0]).hypot(state[1] - start[1]);
        }
        orbit
    }

    /// One step of the load, in as many steps as the tolerance asks for; the last step tried is where the next call begins.
    fn advance(
        &self,
        viscosity_pa_s: f64,
        from: [f64; 2],
        cycle: &LoadCycle,
        point: usize,
        step_s: &mut f64,
        tolerance: f64,
    ) -> [f64; 2] {
        let whole = cycle.step_s;
        let rate = |state: [f64; 2], at_s: f64| {
            self.rate(viscosity_pa_s, state, &cycle.push(point, at_s / whole))
        };
        let moved = |state: [f64; 2], by: &[(f64, [f64; 2])]| {
            by.iter()
                .fold(state, |sum, (h, k)| [sum[0] + h * k[0], sum[1] + h * k[1]])
        };
        let (mut state, mut at_s) = (from, 0.0);
        let mut k1 = rate(state, 0.0);
        while at_s < whole {
            let h = step_s.min(whole - at_s);
            let k2 = rate(moved(state, &[(0.5 * h, k1)]), at_s + 0.5 * h);
            let k3 = rate(moved(state, &[(0.75 * h, k2)]), at_s + 0.75 * h);
            let next = moved(
                state,
                &[
                    (2.0 / 9.0 * h, k1),
                    (3.0 / 9.0 * h, k2),
                    (4.0 / 9.0 * h, k3),
                ],
            );
            let k4 = rate(next, at_s + h);
            let error = [0, 1].map(|axis| {
                let terms = -5.0 * k1[axis] + 6.0 * k2[axis] + 8.0 * k3[axis] - 9.0 * k4[axis];
                h * terms / 72.0
            });
            let size = error[0].hypot(error[1]);
            let least = whole / MOST_CUTS;
            // NaN (a step far too long) counts as too large.
            let fits = size <= tolerance;
            if fits || h <= least {
                at_s += h;
                state = next;
                k1 = k4;
            }
            let grow = 0.9 * libm::cbrt(tolerance / size.max(1e-3 * tolerance));
            let factor = if fits {
                grow.clamp(0.3, 3.0)
            } else {
                grow.clamp(0.1, 0.5)
            };
            // A step cut short by the end of the interval says nothing against the longer one.
            if !fits || h >= *step_s || factor < 1.0 {
                *step_s = (h * factor).clamp(least, whole);
            }
        }
        state
    }

    /// Velocity of the journal over clearance for a load of 1 N and unit mobility \[1/(N·s)\].
    fn scale(&self, viscosity_pa_s: f64) -> f64 {
        let volume = self.radius_m.powi(3) * self.width_m;
        self.clearance_m * self.clearance_m / (12.0 * viscosity_pa_s * volume)
    }

    /// Depth, direction of the eccentricity, load on the film and on the asperities, and the film's answer.
    fn balance(&self, state: [f64; 2], push: &Push) -> Balance {
        let depth = state[0].hypot(state[1]);
        let towards = if depth > 1e-9 {
            [state[0] / depth, state[1] / depth]
        } else {
            [1.0, 0.0]
        };
        let film_m = self.clearance_m * libm::exp(-depth);
        let asperity_n = self.radius_m * self.width_m * self.asperities.load_pa(film_m);
        let film_n = [
            push.load_n[0] - asperity_n * towards[0],
            push.load_n[1] - asperity_n * towards[1],
        ];
        let along = film_n[0] * towards[0] + film_n[1] * towards[1];
        let athwart = film_n[1] * towards[0] - film_n[0] * towards[1];
        Balance {
            depth,
            towards,
            film_m,
            asperity_n,
            film_n,
            size_n: along.hypot(athwart),
            mobility: self.film.look_up(depth, libm::atan2(athwart, along)),
        }
    }

    fn rate(&self, viscosity_pa_s: f64, state: [f64; 2], push: &Push) -> [f64; 2] {
        let b = self.balance(state, push);
        let scale = self.scale(viscosity_pa_s);
        // Squeeze velocity: along the load on the film, and across it.
        let (m, f) = (&b.mobility, b.film_n);
        let squeeze = [
            scale * (m.along * f[0] - m.across * f[1]),
            scale * (m.along * f[1] + m.across * f[0]),
        ];
        let eccentricity = -libm::expm1(-b.depth);
        let radial = squeeze[0] * b.towards[0] + squeeze[1] * b.towards[1];
        let turning = squeeze[1] * b.towards[0] - squeeze[0] * b.towards[1];
        // Back from the axes that turn at half the journal's speed.
        let outward = radial * libm::exp(b.depth);
        let around = if eccentricity > 1e-9 {
            turning * b.depth / eccentricity
        } else {
            turning
        } + 0.5 * push.spin_rad_s * b.depth;
        [
            outward * b.towards[0] - around * b.towards[1],
            outward * b.towards[1] + around * b.towards[0],
        ]
    }

    fn point(&self, viscosity_pa_s: f64, state: [f64; 2], push: &Push) -> OrbitPoint {
        let b = self.balance(state, push);
        let eccentricity = -libm::expm1(-b.depth);
        let velocity_m_s = self.scale(viscosity_pa_s) * b.size_n * self.clearance_m;
        let size = b.mobility.along.hypot(b.mobility.across);
        let mean_pa = b.size_n / (2.0 * self.radius_m * self.width_m);
        OrbitPoint {
            eccentricity: [eccentricity * b.towards[0], eccentricity * b.towards[1]],
            film_m: b.film_m,
            film_load_n: b.size_n,
            asperity_load_n: b.asperity_n,
            peak_pressure_pa: mean_pa / b.mobility.mean_over_peak,
            squeeze_power_w: b.size_n * velocity_m_s * b.mobility.along,
            side_flow_m3_s: self.radius_m
                * self.width_m
                * velocity_m_s
                * size
                * b.mobility.side_flow,
        }
    }
}

struct Balance {
    depth: f64,
    towards: [f64; 2],
    film_m: f64,
    asperity_n: f64,
    film_n: [f64; 2],
    size_n: f64,
    mobility: Mobility,
}
