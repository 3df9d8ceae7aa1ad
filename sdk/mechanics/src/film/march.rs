use super::reynolds::{Edges, FilmIntegrals};
use super::ring::RingFilm;

/// One step of crank angle, conditions at its end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CrankStep {
    /// Time since the step before \[s\].
    pub duration_s: f64,
    /// Piston speed \[m/s\], positive downwards.
    pub speed_m_s: f64,
    /// Viscosity of the film \[Pa·s\].
    pub viscosity_pa_s: f64,
    /// Absolute gas pressure over the ring \[Pa\].
    pub above_pa: f64,
    /// Absolute gas pressure under the ring \[Pa\].
    pub below_pa: f64,
    /// Force with which tension and gas behind the ring press it on the bore, for each metre of circumference \[N/m\].
    pub load_n_m: f64,
}

/// The film at the end of a step.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Film {
    /// Least film thickness, between mean planes \[m\].
    pub thickness_m: f64,
    /// Load on asperities \[N/m\].
    pub contact_n_m: f64,
    /// Friction on asperities \[N/m\], 0 or more.
    pub contact_friction_n_m: f64,
    /// Viscous drag \[N/m\].
    pub viscous_friction_n_m: f64,
}

/// The film over one cycle.
#[derive(Debug, Clone, PartialEq)]
pub struct FilmCycle {
    /// At the end of each step.
    pub films: Vec<Film>,
    /// Steps marched until the cycle closed on itself.
    pub marched: usize,
    /// Largest relative change of thickness between the last two passes of the same step.
    pub change: f64,
}

/// Why a film has no solution.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FilmError {
    /// Film and asperities cannot carry the load at any thickness above 1 nm, or not be loaded down from 1 mm.
    NoBalance {
        /// Index of the step.
        step: usize,
        /// The load \[N/m\].
        load_n_m: f64,
    },
    /// The film does not repeat from cycle to cycle.
    NotPeriodic {
        /// Largest relative change in the last cycle.
        change: f64,
    },
}

impl std::fmt::Display for FilmError {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::NoBalance { step, load_n_m } => write!(
                out,
                "no film thickness carries {load_n_m} N/m at step {step}: expected one from 1 nm to 1 mm; lower the \
                 load, or check roughness and modulus"
            ),
            Self::NotPeriodic { change } => write!(
                out,
                "the film still changes by {change:.1e} from cycle to cycle: use finer steps"
            ),
        }
    }
}

impl std::error::Error for FilmError {}

const THINNEST_M: f64 = 1e-9;
const THICKEST_M: f64 = 1e-3;
/// The cycle has closed when this many steps on end return to within [`CLOSED_WITHIN`].
const CLOSED_STEPS: usize = 8;
const CLOSED_WITHIN: f64 = 1e-6;
const MOST_CYCLES: usize = 12;
/// Relative to the load.
const LOAD_WITHIN: f64 = 1e-7;
/// Largest factor by which the first guess follows the trend of the last two steps.
const MOST_TREND: f64 = 1.5;

/// Marches the film round the cycle until it is periodic. Second-order backward differences in time
/// (implicit, L-stable), load balance at each step by a bracketed secant in the logarithm of thickness.
///
/// Start the steps where the piston is fast: there the film forgets its past soonest.
///
/// # Errors
/// [`FilmError`] when a step has no solution or the cycle does not close.
pub fn march(ring: &RingFilm<'_>, steps: &[CrankStep]) -> Result<FilmCycle, FilmError> {
    let mut marcher = Marcher {
        ring,
        scratch: FilmIntegrals::default(),
        slope: -1.0,
    };
    let mut films = vec![Film::default(); steps.len()];
    let mut past = History::new(marcher.steady(steps)?);
    let mut change = f64::INFINITY;
    let mut closed = 0;
    for cycle in 0..MOST_CYCLES {
        for (k, step) in steps.iter().enumerate() {
            let film = marcher.advance(&mut past, step, k)?;
            let before = std::mem::replace(&mut films[k], film).thickness_m;
            change = (film.thickness_m - before).abs() / film.thickness_m;
            closed = if change < CLOSED_WITHIN {
                closed + 1
            } else {
                0
            };
            if closed >= CLOSED_STEPS.min(steps.len()) {
                let marched = cycle * steps.len() + k + 1;
                return Ok(FilmCycle {
                    films,
                    marched,
                    change,
                });
            }
        }
    }
    Err(FilmError::NotPeriodic { change })
}

/// The last two thicknesses and the step between them.
struct History {
    last_m: f64,
    before_m: f64,
    last_step_s: f64,
}

impl History {
    fn new(film_m: f64) -> Self {
        Self {
            last_m: film_m,
            before_m: film_m,
            last_step_s: f64::INFINITY,
        }
    }

    /// Weights of new, last and last-but-one thickness in the rate \[1/s\]: backward differences of second
    /// order on unequal steps, of first order on the first.
    fn weights(&self, step_s: f64) -> [f64; 3] {
        let ratio = step_s / self.last_step_s;
        let whole = 1.0 + ratio;
        [
            (1.0 + 2.0 * ratio) / (whole * step_s),
            -whole / step_s,
            ratio * ratio / (whole * step_s),
        ]
    }
}

struct Marcher<'a> {
    ring: &'a RingFilm<'a>,
    scratch: FilmIntegrals,
    /// Change of the balance with ln(thickness), over the load: carried from step to step as a first guess.
    slope: f64,
}

impl Marcher<'_> {
    /// The film of the first step if it lasted for ever.
    fn steady(&mut self, steps: &[CrankStep]) -> Result<f64, FilmError> {
        let Some(first) = steps.first() else {
            return Err(FilmError::NotPeriodic { change: f64::NAN });
        };
        let edges = edges(first);
        let down = first.speed_m_s >= 0.0;
        self.balance(first.load_n_m, 1e-6, 0, |ring, scratch, film_m| {
            ring.film(scratch, down, film_m, &edges).load_n_m + ring.contact_n_m(film_m)
        })
    }

    fn advance(
        &mut self,
        past: &mut History,
        step: &CrankStep,
        index: usize,
    ) -> Result<Film, FilmError> {
        let [now, last, before] = past.weights(step.duration_s);
        let known = last * past.last_m + before * past.before_m;
        let down = step.speed_m_s >= 0.0;
        let still = edges(step);
        let moving = |film_m: f64| Edges {
            squeeze_m_s: now * film_m + known,
            ..still
        };
        let trend = (past.last_m / past.before_m - 1.0) * step.duration_s / past.last_step_s;
        let guess = past.last_m * (1.0 + trend).clamp(1.0 / MOST_TREND, MOST_TREND);
        let thickness_m = self.balance(step.load_n_m, guess, index, |ring, scratch, film_m| {
            let edges = moving(film_m);
            ring.film(scratch, down, film_m, &edges).load_n_m + ring.contact_n_m(film_m)
        })?;
        past.before_m = past.last_m;
        past.last_m = thickness_m;
        past.last_step_s = step.duration_s;

        let edges = moving(thickness_m);
        let ring = self.ring;
        let solved = ring.film(&mut self.scratch, down, thickness_m, &edges);
        let drag = ring.drag_n_m(&self.scratch, down, thickness_m, &edges, &solved);
        let contact_n_m = ring.contact_n_m(thickness_m);
        Ok(Film {
            thickness_m,
            contact_n_m,
            contact_friction_n_m: ring.boundary_friction * contact_n_m,
            viscous_friction_n_m: drag,
        })
    }

    /// Thickness at which `carried` equals the load.
    fn balance(
        &mut self,
        load_n_m: f64,
        guess_m: f64,
        step: usize,
        carried: impl Fn(&RingFilm<'_>, &mut FilmIntegrals, f64) -> f64,
    ) -> Result<f64, FilmError> {
        let (least, most) = (libm::log(THINNEST_M), libm::log(THICKEST_M));
        let ring = self.ring;
        let scratch = &mut self.scratch;
        let mut miss = |log: f64| carried(ring, scratch, libm::exp(log)) / load_n_m - 1.0;
        let mut at = libm::log(guess_m).clamp(least, most);
        let mut value = miss(at);
        let mut stride = (-value / self.slope).clamp(-0.5, 0.5);
        // Step towards the root until it is bracketed: what is carried falls with thickness.
        let (mut other, mut other_value);
        loop {
            if value.abs() <= LOAD_WITHIN {
                return Ok(libm::exp(at));
            }
            if stride == 0.0 || (stride > 0.0) != (value > 0.0) {
                stride = 1e-3_f64.copysign(value);
            }
            other = (at + stride).clamp(least, most);
            other_value = miss(other);
            if (other_value > 0.0) != (value > 0.0) {
                break;
            }
            if other <= least || other >= most {
                return Err(FilmError::NoBalance { step, load_n_m });
            }
            let secant = -other_value * (other - at) / (other_value - value);
            stride = if secant.is_finite() && secant * stride > 0.0 {
                (1.2 * secant).clamp(-1.0, 1.0)
            } else {
                2.0 * stride
            };
            (at, value) = (other, other_value);
        }
        let slope = (other_value - value) / (other - at);
        if slope < 0.0 {
            self.slope = slope.max(-1e6);
        }
        Ok(libm::exp(illinois((at, value), (other, other_value), miss)))
    }
}

/// Root between two points of opposite sign: secant with the Illinois halving of the end that stays.
fn illinois(
    (mut a, mut fa): (f64, f64),
    (mut b, mut fb): (f64, f64),
    mut f: impl FnMut(f64) -> f64,
) -> f64 {
    for _ in 0..80 {
        let c = b - fb * (b - a) / (fb - fa);
        let fc = f(c);
        if fc.abs() <= LOAD_WITHIN || (b - a).abs() <= 1e-12 {
            return c;
        }
        if (fc > 0.0) == (fb > 0.0) {
            fa *= 0.5;
        } else {
            (a, fa) = (b, fb);
        }
        (b, fb) = (c, fc);
    }
    b
}

fn edges(step: &CrankStep) -> Edges {
    let down = step.speed_m_s >= 0.0;
    let (leading_pa, trailing_pa) = if down {
        (step.below_pa, step.above_pa)
    } else {
        (step.above_pa, step.below_pa)
    };
    Edges {
        viscosity_pa_s: step.viscosity_pa_s,
        speed_m_s: step.speed_m_s.abs(),
        squeeze_m_s: 0.0,
        leading_pa,
        trailing_pa,
    }
}
