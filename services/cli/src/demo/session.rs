//! The true use of one engine over one event, second by second, before any logger has seen it.

use rand::{Rng, RngExt};

use super::circuit::Circuit;
use super::lap::{Driving, INSTANT_S, Instant, drive};
use super::race_car::{LIMITER_RPM, rpm, torque_n_m};

/// What the engine and car do at one moment.
#[derive(Debug, Clone, Copy, Default)]
pub struct Moment {
    /// Engine speed \[1/min\].
    pub rpm: f64,
    /// Engine torque \[N·m\].
    pub torque_n_m: f64,
    /// Gear, 0 for neutral.
    pub gear: usize,
    /// Road speed \[m/s\].
    pub speed_m_s: f64,
    /// Lateral acceleration \[m/s²\].
    pub lateral_m_s2: f64,
    /// Slip of the clutch \[1/min\].
    pub clutch_slip_rpm: f64,
    /// Torque through the clutch \[N·m\].
    pub clutch_torque_n_m: f64,
    /// Whether the engine works hard: warms the oil.
    pub hard: bool,
}

/// One thing after another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Phase {
    /// Engine stopped \[s\].
    Stopped(f64),
    /// Logger off \[s\]: nothing is written.
    LoggerOff(f64),
    /// Idling in the pit \[s\].
    Idle(f64),
    /// Waiting for the start, revving up in the end \[s\].
    Ready(f64),
    /// Leaving the pit.
    PitOut,
    /// A standing start.
    Launch,
    /// Slow running: out-laps, in-laps, behind the safety car \[s\].
    Caution(f64),
    /// At racing speed \[s\].
    Racing(f64),
}

/// Minutes of practice, qualifying and race.
#[derive(Debug, Clone, Copy, PartialEq, serde::Deserialize)]
pub struct Minutes {
    /// Practice or test running.
    pub practice: f64,
    /// Qualifying.
    pub qualifying: f64,
    /// Race.
    pub race: f64,
}

impl Minutes {
    /// All together \[min\].
    pub fn total(&self) -> f64 {
        self.practice + self.qualifying + self.race
    }
}

const IDLE_SHARE: f64 = 0.07;
const CAUTION_SHARE: f64 = 0.12;
const STOPPED_S: f64 = 8.0;
const BETWEEN_SESSIONS_S: f64 = 600.0;
const RACE_CAUTIONS: usize = 2;
/// At rest in neutral, then away.
const STANDING_START: [Phase; 2] = [Phase::Ready(7.0), Phase::Launch];

/// The phases of an event: three practice runs, a qualifying run, a race with one stop.
pub(super) fn phases(minutes: &Minutes) -> Vec<Phase> {
    let mut phases = Vec::new();
    for (session_min, runs) in [(minutes.practice, 3), (minutes.qualifying, 1)] {
        if session_min > 0.0 {
            practice(&mut phases, session_min * 60.0, runs);
        }
    }
    if minutes.race > 0.0 {
        race(&mut phases, minutes.race * 60.0);
    }
    phases
}

fn practice(phases: &mut Vec<Phase>, session_s: f64, runs: usize) {
    let run_s = session_s / runs as f64;
    phases.push(Phase::Stopped(STOPPED_S));
    for run in 0..runs {
        let idle_s = IDLE_SHARE * run_s;
        let caution_s = CAUTION_SHARE * run_s;
        phases.extend([
            Phase::Idle(idle_s),
            Phase::PitOut,
            Phase::Caution(0.6 * caution_s),
        ]);
        // A practice start before the last run.
        if run + 1 == runs {
            phases.extend(STANDING_START);
        }
        phases.extend([
            Phase::Racing(run_s - idle_s - caution_s),
            Phase::Caution(0.4 * caution_s),
        ]);
    }
    phases.extend([
        Phase::Stopped(STOPPED_S),
        Phase::LoggerOff(BETWEEN_SESSIONS_S),
    ]);
}

fn race(phases: &mut Vec<Phase>, race_s: f64) {
    let idle_s = IDLE_SHARE * race_s;
    let caution_s = CAUTION_SHARE * race_s / (RACE_CAUTIONS + 1) as f64;
    let racing_s = (1.0 - IDLE_SHARE - CAUTION_SHARE) * race_s / (RACE_CAUTIONS + 2) as f64;
    phases.extend([
        Phase::Stopped(STOPPED_S),
        Phase::Idle(0.7 * idle_s),
        Phase::PitOut,
        Phase::Caution(caution_s),
    ]);
    for _ in 0..RACE_CAUTIONS {
        phases.extend(STANDING_START);
        phases.extend([Phase::Racing(racing_s), Phase::Caution(caution_s)]);
    }
    phases.extend(STANDING_START);
    phases.extend([
        Phase::Racing(racing_s),
        Phase::Idle(0.3 * idle_s),
        Phase::PitOut,
    ]);
    phases.push(Phase::Racing(racing_s));
    phases.push(Phase::Stopped(STOPPED_S));
}

/// A few laps driven a little differently, to draw from.
pub(super) struct Laps {
    laps: Vec<Vec<Instant>>,
}

impl Laps {
    pub(super) fn of(circuit: Circuit, random: &mut impl Rng) -> Self {
        let driving = |random: &mut _| Driving {
            lateral_m_s2: 13.6 + 1.2 * uniform(random),
            shift_rpm: 7500.0 + 850.0 * uniform(random),
            downshift_rpm: 5950.0 + 400.0 * uniform(random),
        };
        Self {
            laps: (0..8).map(|_| drive(circuit, driving(random))).collect(),
        }
    }
}

fn uniform(random: &mut impl Rng) -> f64 {
    random.random::<f64>()
}

/// The moments of one phase at equal steps of `step_s`.
pub(super) struct PhaseRun<'a> {
    phase: Phase,
    laps: &'a Laps,
    /// Lap being driven and where it began in the phase.
    lap: usize,
    lap_from_s: f64,
    /// Which of the laps a slow phase weaves by.
    weave_s: f64,
}

/// Engine torque that the dragged brakes take while weaving.
const BRAKES_DRAG_N_M: f64 = 40.0;
const PIT_OUT_S: f64 = 2.5;
const LAUNCH_S: f64 = 1.6;
const IDLE_RPM: f64 = 1500.0;
const LAUNCH_RPM: f64 = 6200.0;
const REVVING_S: f64 = 2.0;

impl<'a> PhaseRun<'a> {
    pub(super) fn new(phase: Phase, laps: &'a Laps, random: &mut impl Rng) -> Self {
        let lap = random.random_range(0..laps.laps.len());
        // Joins the lap somewhere along its first straight.
        Self {
            phase,
            laps,
            lap,
            lap_from_s: -2.0,
            weave_s: 12.0 + 5.0 * uniform(random),
        }
    }

    /// How long the phase takes \[s\].
    pub(super) fn duration_s(&self) -> f64 {
        match self.phase {
            Phase::PitOut => PIT_OUT_S,
            Phase::Launch => LAUNCH_S,
            Phase::Stopped(s)
            | Phase::LoggerOff(s)
            | Phase::Idle(s)
            | Phase::Ready(s)
            | Phase::Caution(s)
            | Phase::Racing(s) => s,
        }
    }

    pub(super) fn logged(&self) -> bool {
        !matches!(self.phase, Phase::LoggerOff(_))
    }

    /// The moment `at_s` after the phase began; calls must go forwards.
    pub(super) fn moment(&mut self, at_s: f64, random: &mut impl Rng) -> Moment {
        match self.phase {
            Phase::Stopped(_) | Phase::LoggerOff(_) => Moment::default(),
            Phase::Idle(_) => Moment {
                rpm: IDLE_RPM + 60.0 * (1.7 * at_s).sin(),
                torque_n_m: 20.0,
                ..Moment::default()
            },
            Phase::Ready(wait_s) => {
                let revved = (1.0 - (wait_s - at_s) / REVVING_S).max(0.0);
                let rpm = IDLE_RPM + revved * (LAUNCH_RPM - IDLE_RPM);
                Moment {
                    rpm,
                    torque_n_m: 20.0 + 40.0 * revved,
                    ..Moment::default()
                }
            }
            Phase::PitOut => slipping(at_s / PIT_OUT_S, 3500.0, 140.0, 7.0),
            Phase::Launch => slipping(at_s / LAUNCH_S, LAUNCH_RPM, 415.0, 13.0),
            Phase::Caution(_) => self.weaving(at_s),
            Phase::Racing(_) => self.racing(at_s, random),
        }
    }

    /// Weaving behind the safety car in fourth gear about 4000 1/min, against dragging brakes.
    fn weaving(&self, at_s: f64) -> Moment {
        let turn = std::f64::consts::TAU / self.weave_s;
        let speed = 23.5 + 2.0 * (turn * at_s).sin();
        let acceleration = 2.0 * turn * (turn * at_s).cos();
        let lateral = 4.0 * (2.0 * turn * at_s).sin().abs();
        let torque = torque_n_m(speed, 4, acceleration, lateral) + BRAKES_DRAG_N_M;
        connected(Moment {
            rpm: rpm(speed, 4),
            torque_n_m: torque,
            gear: 4,
            speed_m_s: speed,
            lateral_m_s2: lateral,
            ..Moment::default()
        })
    }

    fn racing(&mut self, at_s: f64, random: &mut impl Rng) -> Moment {
        let lap_s = |lap: usize| self.laps.laps[lap].len() as f64 * INSTANT_S;
        while at_s - self.lap_from_s >= lap_s(self.lap) {
            self.lap_from_s += lap_s(self.lap);
            self.lap = random.random_range(0..self.laps.laps.len());
        }
        let lap = &self.laps.laps[self.lap];
        let index = ((at_s - self.lap_from_s) / INSTANT_S) as usize;
        let instant = lap[index.min(lap.len() - 1)];
        connected(Moment {
            rpm: instant.rpm.min(LIMITER_RPM),
            torque_n_m: instant.torque_n_m,
            gear: instant.gear,
            speed_m_s: instant.speed_m_s,
            lateral_m_s2: instant.lateral_m_s2,
            hard: true,
            ..Moment::default()
        })
    }

    /// Whether the car brakes at this moment of a racing phase.
    pub(super) fn braking_in(&self, at_s: f64, gear: usize) -> bool {
        let lap = &self.laps.laps[self.lap];
        let index = ((at_s - self.lap_from_s) / INSTANT_S) as usize;
        matches!(self.phase, Phase::Racing(_))
            && lap.get(index).is_some_and(|i| i.braking && i.gear == gear)
    }
}

/// Clutch slipping in first gear from rest: slip falls in a straight line to nothing.
fn slipping(share: f64, engine_rpm: f64, torque_n_m: f64, top_speed_m_s: f64) -> Moment {
    let speed = top_speed_m_s * share;
    let driven = rpm(speed, 1);
    let engine = driven.max(engine_rpm * (1.0 - 0.25 * share));
    Moment {
        rpm: engine,
        torque_n_m,
        gear: 1,
        speed_m_s: speed,
        clutch_slip_rpm: engine - driven,
        clutch_torque_n_m: torque_n_m,
        ..Moment::default()
    }
}

fn connected(moment: Moment) -> Moment {
    Moment {
        clutch_torque_n_m: moment.torque_n_m,
        ..moment
    }
}
