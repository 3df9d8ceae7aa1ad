//! How the pack answers to unit heat: the prepared map.
//!
//! Conduction is linear, so one solution for each duration and course of the power serves every energy and oil temperature.

use ringland_mechanics::clutch::heat::Body;
use ringland_mechanics::interpolate::Weights;
use ringland_plugin::{Finding, error};

use crate::constants as c;
use crate::pack::{INTERFACE, SEPARATOR};
use crate::spec::Spec;

/// Durations of the map, evenly spaced in their logarithm.
pub const DURATIONS: usize = 16;
/// Shortest and longest duration of the map \[s\].
pub const SHORTEST_S: f64 = 0.02;
/// See [`SHORTEST_S`].
pub const LONGEST_S: f64 = 20.0;
/// Peak over mean power of the courses that are solved: even, falling in a straight line, falling as its cube.
pub const PEAKS: [f64; 3] = [1.0, 2.0, 4.0];
/// Instants after the start at which an engagement is known, evenly spaced.
pub const DURING: usize = 16;
/// Instants after its end.
pub const AFTER: usize = 16;
/// Time constants of cooling that are followed.
const FOLLOWED: f64 = 5.0;

/// Rise of the interface at all instants, rise that would be left at the end if only the slowest part of it were there, rise of the face
/// over the mean of the separator.
const WIDTH: usize = DURING + AFTER + 2;
const SLOWEST: usize = DURING + AFTER;
const SKIN: usize = SLOWEST + 1;
/// Cooling time constant, critical speed and wave number of hot spots.
const HEADER: usize = 3;

/// The map.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatMap<'a> {
    /// Time constant of the last of the cooling \[s\].
    pub slowest_s: f64,
    /// Sliding speed above which hot spots grow \[m/s\].
    pub critical_m_s: f64,
    /// Their wave number \[1/m\].
    pub wave_number_per_m: f64,
    window_s: f64,
    rows: &'a [f64],
}

/// Answer to heat of unit area \[K·m²/J\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Answer {
    duration_s: f64,
    window_s: f64,
    row: [f64; WIDTH],
    /// Peak over mean power.
    peak: f64,
    /// Highest rise.
    pub peak_rise: f64,
    /// Rise of the face while heat is made, averaged over that heat.
    pub mean_rise: f64,
    /// Integrals over time of the rise, its square and its cube.
    pub moments: [f64; 3],
}

/// Power over its mean at a share of the duration, of a course.
fn course(peak: f64, share: f64) -> f64 {
    let left = (1.0 - share).max(0.0);
    peak * libm::pow(left, peak - 1.0)
}

/// Solves the map.
///
/// # Errors
/// A pack whose solution is not finite.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    let wall = spec.wall(c::CELLS);
    let window_s = FOLLOWED * spec.cooling_s();
    let spots = spec.plate().hot_spots(
        spec.friction,
        spec.lining_modulus_pa,
        spec.face().uniform_wear_radius_m(),
    );
    let mut map = vec![0.0, spots.critical_m_s, spots.wave_number_per_m];
    for step in 0..DURATIONS {
        for peak in PEAKS {
            let row = solve(&wall, duration_s(step), peak, window_s, c::STEPS);
            map.extend(row);
        }
    }
    map[0] = slowest_s(&map[HEADER..HEADER + WIDTH], window_s);
    if map.iter().all(|value| value.is_finite() && *value >= 0.0) {
        return Ok(map);
    }
    let remedy = "check thicknesses, lining and grooves against the card";
    Err(vec![error(
        "separator_m",
        spec.separator_m,
        "a pack whose heat can be solved",
        remedy,
    )])
}

fn duration_s(step: usize) -> f64 {
    let share = step as f64 / (DURATIONS - 1) as f64;
    SHORTEST_S * libm::pow(LONGEST_S / SHORTEST_S, share)
}

/// Instants of cooling, from the end of the engagement \[s\]: closer at first.
fn after_s(window_s: f64, instant: usize) -> f64 {
    let share = (instant + 1) as f64 / AFTER as f64;
    window_s * share * share * share
}

/// Time constant at the end of a row's cooling.
fn slowest_s(row: &[f64], window_s: f64) -> f64 {
    let (before, last) = (row[SLOWEST - 3], row[SLOWEST - 1]);
    let time_s = after_s(window_s, AFTER - 1) - after_s(window_s, AFTER - 3);
    time_s / libm::log(before / last)
}

/// One row: unit heat over a duration and course, then cooling.
pub fn solve(wall: &Body, duration_s: f64, peak: f64, window_s: f64, steps: usize) -> Vec<f64> {
    let cold = wall.uniform(&[0.0; 3]);
    let heating = wall.heat(&cold, duration_s, steps, |time_s| {
        course(peak, time_s / duration_s) / duration_s
    });
    let face = &heating.boundaries_k[INTERFACE];
    let stride = steps / DURING;
    let mut row: Vec<f64> = (1..=DURING).map(|i| face[i * stride]).collect();
    let skins = face.iter().zip(&heating.layers[SEPARATOR]);
    let skin = skins.map(|(face_k, layer)| face_k - layer.mean_k);
    let skin = skin.fold(0.0, f64::max);
    let (mut profile, mut from_s) = (heating.profile_k, 0.0);
    for instant in 0..AFTER {
        let to_s = after_s(window_s, instant);
        let cooling = wall.heat(&profile, to_s - from_s, c::COOLING_STEPS, |_| 0.0);
        row.push(cooling.boundaries_k[INTERFACE][c::COOLING_STEPS]);
        (profile, from_s) = (cooling.profile_k, to_s);
    }
    let last = row[SLOWEST - 1];
    row.push(last * libm::exp(window_s / slowest_s(&row, window_s)));
    row.push(skin);
    row
}

impl<'a> HeatMap<'a> {
    /// Reads a prepared map.
    ///
    /// # Errors
    /// A map of another length.
    pub fn read(prepared: &'a [f64], spec: &Spec) -> Result<Self, Vec<Finding>> {
        let expected = HEADER + DURATIONS * PEAKS.len() * WIDTH;
        match prepared {
            [slowest_s, critical_m_s, wave_number_per_m, rows @ ..]
                if prepared.len() == expected =>
            {
                Ok(Self {
                    slowest_s: *slowest_s,
                    critical_m_s: *critical_m_s,
                    wave_number_per_m: *wave_number_per_m,
                    window_s: FOLLOWED * spec.cooling_s(),
                    rows,
                })
            }
            _ => Err(vec![error(
                "prepared",
                prepared.len() as f64,
                &format!("{expected} numbers"),
                "prepare the specimen again",
            )]),
        }
    }

    /// The answer to an engagement of a duration and peak over mean power, both held to the map; whether they were off it.
    pub fn answer(&self, duration_s: f64, peak: f64) -> (Answer, bool) {
        let held_s = duration_s.clamp(SHORTEST_S, LONGEST_S);
        let spacings = (DURATIONS - 1) as f64 / libm::log(LONGEST_S / SHORTEST_S);
        let along = Weights::new(libm::log(held_s / SHORTEST_S) * spacings, DURATIONS);
        let held = peak.clamp(PEAKS[0], PEAKS[2]);
        let first = usize::from(held > PEAKS[1]);
        let share = (held - PEAKS[first]) / (PEAKS[first + 1] - PEAKS[first]);
        let mut row = [0.0; WIDTH];
        for (step, weight) in (along.first..).zip(along.nodes) {
            for (kind, part) in [(first, 1.0 - share), (first + 1, share)] {
                let at = (step * PEAKS.len() + kind) * WIDTH;
                let by = weight * part;
                if by == 0.0 {
                    continue;
                }
                let node = self.rows.iter().skip(at);
                row.iter_mut().zip(node).for_each(|(sum, k)| *sum += by * k);
            }
        }
        let mut answer = Answer {
            duration_s: held_s,
            window_s: self.window_s,
            row,
            peak: held,
            peak_rise: row.iter().take(DURING).copied().fold(0.0, f64::max),
            mean_rise: 0.0,
            moments: [0.0; 3],
        };
        answer.moments = answer.moments_over_time();
        answer.mean_rise = answer.mean_over_heat();
        (answer, duration_s > LONGEST_S || peak > PEAKS[2])
    }
}

impl Answer {
    /// Rise of the interface over time from the start, for each unit of heat \[s, K·m²/J\].
    pub fn history(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        let rises = self.row.iter().take(SLOWEST).enumerate();
        std::iter::once((0.0, 0.0)).chain(rises.map(|(i, rise)| (self.at_s(i), *rise)))
    }

    /// Integrals over time of the rise, its square and its cube, by the trapezoidal rule.
    fn moments_over_time(&self) -> [f64; 3] {
        let pairs = self.history().zip(self.history().skip(1));
        pairs.fold([0.0; 3], |sums, ((from_s, a), (to_s, b))| {
            let half_s = 0.5 * (to_s - from_s);
            let ends = [a + b, a * a + b * b, a * a * a + b * b * b];
            std::array::from_fn(|k| sums[k] + half_s * ends[k])
        })
    }

    fn at_s(&self, instant: usize) -> f64 {
        if instant < DURING {
            self.duration_s * (instant + 1) as f64 / DURING as f64
        } else {
            self.duration_s + after_s(self.window_s, instant - DURING)
        }
    }

    /// How long the history is \[s\].
    pub fn followed_s(&self) -> f64 {
        self.duration_s + self.window_s
    }

    fn mean_over_heat(&self) -> f64 {
        let (mut sum, mut made, mut before) = (0.0, 0.0, 0.0);
        for (instant, rise) in self.row.iter().take(DURING).enumerate() {
            let power = self.power((instant as f64 + 0.5) / DURING as f64);
            sum += 0.5 * (before + rise) * power;
            made += power;
            before = *rise;
        }
        sum / made
    }

    /// Power over its mean.
    fn power(&self, share: f64) -> f64 {
        let first = usize::from(self.peak > PEAKS[1]);
        let part = (self.peak - PEAKS[first]) / (PEAKS[first + 1] - PEAKS[first]);
        (1.0 - part) * course(PEAKS[first], share) + part * course(PEAKS[first + 1], share)
    }

    /// What of the rise is left long after, carried back to the end of the engagement by the slowest time constant.
    pub fn left_over(&self) -> f64 {
        self.row[SLOWEST]
    }

    /// Rise of the separator's face over its mean.
    pub fn skin(&self) -> f64 {
        self.row[SKIN]
    }

    /// Peak of the power over unit heat \[1/s\].
    pub fn peak_power_per_s(&self) -> f64 {
        self.peak / self.duration_s
    }

    /// How long heat is made \[s\].
    pub fn duration_s(&self) -> f64 {
        self.duration_s
    }
}
