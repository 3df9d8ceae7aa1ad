//! The true use with oil and incidents added, handed out moment by moment.

use rand_chacha::ChaCha8Rng;

use super::log_plan::LogPlan;
use super::season::Incident;
use super::session::{Laps, Moment, PhaseRun, phases};

/// Everything a logger could see at one moment.
#[derive(Debug, Clone, Copy)]
pub struct Truth {
    /// From the start of the log \[s\].
    pub time_s: f64,
    /// Engine and car.
    pub moment: Moment,
    /// Oil temperature \[°C\].
    pub oil_c: f64,
    /// Oil gauge pressure \[bar\].
    pub oil_bar: f64,
    /// Coolant temperature \[°C\].
    pub water_c: f64,
    /// Manifold absolute pressure \[bar\].
    pub manifold_bar: f64,
    /// True while the logger records a burst at its fastest rate.
    pub burst: bool,
}

const BURST_STEP_S: f64 = 0.01;
const BURST_S: f64 = 2.0;
/// Oil warms and cools towards its target with this time constant \[s\].
const OIL_LAG_S: f64 = 150.0;
const WATER_C: f64 = 92.0;
const OVER_REV_RISE_S: f64 = 0.12;
const OVER_REV_FALL_S: f64 = 0.20;
/// Pressure falls, and comes back, in \[s\].
const DIP_EDGE_S: f64 = 0.3;
const DIP_RPM: f64 = 6200.0;
const DIP_EVERY_S: f64 = 190.0;

/// Hands every logged moment to `sink`, `step_s` apart, bursts closer.
///
/// # Errors
/// Whatever the sink returns.
pub(super) fn run<E>(
    plan: &LogPlan,
    step_s: f64,
    random: &mut ChaCha8Rng,
    sink: &mut impl FnMut(&Truth) -> Result<(), E>,
) -> Result<(), E> {
    let laps = Laps::of(plan.circuit, random);
    let mut oil = Oil {
        temp_c: plan.ambient_c.max(60.0),
        target_c: plan.oil_c,
    };
    let mut incidents = Incidents::new(&plan.incidents);
    let mut time_s = 0.0;
    for phase in phases(&plan.minutes) {
        let mut run = PhaseRun::new(phase, &laps, random);
        let end_s = time_s + run.duration_s();
        let from_s = time_s;
        while time_s < end_s {
            if !run.logged() {
                time_s = end_s;
                break;
            }
            let mut moment = run.moment(time_s - from_s, random);
            let braking = run.braking_in(time_s - from_s, moment.gear);
            incidents.apply(time_s, braking, &mut moment);
            let step = if incidents.bursting(time_s) {
                BURST_STEP_S
            } else {
                step_s
            };
            oil.advance(step, &moment, incidents.oil_target_c(time_s));
            sink(&Truth {
                time_s,
                moment,
                oil_c: oil.temp_c,
                oil_bar: incidents.oil_bar(time_s, oil.pressure_bar(&moment)),
                water_c: WATER_C + 0.15 * (oil.temp_c - 105.0),
                manifold_bar: manifold_bar(&moment),
                burst: incidents.bursting(time_s),
            })?;
            time_s += step;
        }
    }
    Ok(())
}

/// Absolute manifold pressure that goes with a torque: a straight line, 2.3 bar at 440 N·m.
fn manifold_bar(moment: &Moment) -> f64 {
    if moment.rpm == 0.0 {
        1.0
    } else {
        (0.42 + moment.torque_n_m * (2.3 - 0.42) / 440.0).max(0.25)
    }
}

struct Oil {
    temp_c: f64,
    target_c: f64,
}

impl Oil {
    fn advance(&mut self, step_s: f64, moment: &Moment, excursion_c: Option<f64>) {
        let target = excursion_c.unwrap_or(if moment.hard {
            self.target_c + 1.0
        } else {
            self.target_c - 8.0
        });
        if moment.rpm > 0.0 {
            self.temp_c += (target - self.temp_c) * step_s / OIL_LAG_S;
        }
    }

    fn pressure_bar(&self, moment: &Moment) -> f64 {
        let cold = (5.2f64).min(0.9 + moment.rpm / 1250.0);
        if moment.rpm == 0.0 {
            0.0
        } else {
            cold * (1.0 - 0.004 * (self.temp_c - 105.0))
        }
    }
}

/// What goes wrong in one log, waiting for its moment.
struct Incidents {
    over_rev: Option<(f64, f64, f64)>,
    over_rev_from_s: Option<f64>,
    hot_oil: Option<(f64, f64, f64)>,
    dips: Option<(f64, usize)>,
    dip_from_s: f64,
    burst_until_s: f64,
    minimum_bar: f64,
    held_s: f64,
}

impl Incidents {
    fn new(planned: &[Incident]) -> Self {
        let mut waiting = Self {
            over_rev: None,
            over_rev_from_s: None,
            hot_oil: None,
            dips: None,
            dip_from_s: f64::NEG_INFINITY,
            burst_until_s: f64::NEG_INFINITY,
            minimum_bar: 0.0,
            held_s: 0.0,
        };
        for incident in planned {
            match *incident {
                Incident::OverRev {
                    after_s,
                    rpm,
                    duration_s,
                } => waiting.over_rev = Some((after_s, rpm, duration_s)),
                Incident::HotOil {
                    after_s,
                    oil_c,
                    duration_s,
                } => waiting.hot_oil = Some((after_s, oil_c, duration_s)),
                Incident::OilPressureDips {
                    after_s,
                    count,
                    minimum_bar,
                    held_s,
                } => {
                    waiting.dips = Some((after_s, count));
                    waiting.minimum_bar = minimum_bar;
                    waiting.held_s = held_s;
                }
            }
        }
        waiting
    }

    fn bursting(&self, time_s: f64) -> bool {
        time_s < self.burst_until_s
    }

    fn apply(&mut self, time_s: f64, braking: bool, moment: &mut Moment) {
        self.miss_a_shift(time_s, braking, moment);
        // Fast enough that the engine is still turning fast when the pressure comes back.
        let cornering = moment.hard && moment.lateral_m_s2 > 9.0 && moment.rpm > DIP_RPM;
        if let Some((after_s, count)) = &mut self.dips
            && cornering
            && *count > 0
            && time_s >= *after_s
        {
            *count -= 1;
            *after_s = time_s + DIP_EVERY_S;
            self.dip_from_s = time_s;
            self.burst_until_s = time_s + BURST_S;
        }
    }

    /// Second gear instead of third under braking: the driven engine speed shoots up, held by the
    /// clutch for the stated time.
    fn miss_a_shift(&mut self, time_s: f64, braking: bool, moment: &mut Moment) {
        let Some((after_s, peak_rpm, hold_s)) = self.over_rev else {
            return;
        };
        let second_rpm = super::race_car::rpm(moment.speed_m_s, 2);
        let now = braking && time_s >= after_s && (peak_rpm..1.06 * peak_rpm).contains(&second_rpm);
        if self.over_rev_from_s.is_none() && now {
            self.over_rev_from_s = Some(time_s);
            self.burst_until_s = time_s + BURST_S;
        }
        let Some(from_s) = self.over_rev_from_s else {
            return;
        };
        let past = time_s - from_s;
        let share = if past < OVER_REV_RISE_S {
            past / OVER_REV_RISE_S
        } else {
            1.0 - ((past - OVER_REV_RISE_S - hold_s) / OVER_REV_FALL_S).clamp(0.0, 1.0)
        };
        if past < OVER_REV_RISE_S + hold_s + OVER_REV_FALL_S {
            moment.rpm += share * (peak_rpm - moment.rpm);
            moment.torque_n_m = -60.0;
            moment.clutch_torque_n_m = -60.0;
            moment.gear = 2;
        }
    }

    fn oil_target_c(&self, time_s: f64) -> Option<f64> {
        let (after_s, oil_c, duration_s) = self.hot_oil?;
        // The lag is anticipated, so that the temperature is up for about the stated time.
        (time_s >= after_s && time_s < after_s + duration_s).then_some(oil_c + 0.5)
    }

    fn oil_bar(&self, time_s: f64, normal_bar: f64) -> f64 {
        let past_s = time_s - self.dip_from_s;
        let lasts_s = 2.0 * DIP_EDGE_S + self.held_s;
        if !(0.0..lasts_s).contains(&past_s) {
            return normal_bar;
        }
        let depth = (past_s.min(lasts_s - past_s) / DIP_EDGE_S).min(1.0);
        normal_bar + depth * (self.minimum_bar - normal_bar)
    }
}

/// Time between samples of the car's logger \[s\].
pub(super) const CAR_STEP_S: f64 = 0.1;
