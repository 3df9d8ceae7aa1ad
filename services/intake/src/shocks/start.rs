//! Engine starts: from rest to running. An engine that already turns in the first row was not started in this
//! log. Cold or hot is told by the oil temperature at the first turn.

use super::exceedance::value;
use super::{Detector, Found, Layout, Missing};

/// Below this share of the running speed the engine stands.
const STANDING: f64 = 0.1;

struct Start {
    speed: Option<usize>,
    oil_temp: Option<usize>,
    running_rad_s: f64,
    phase: Phase,
}

enum Phase {
    /// Turning, or not yet known.
    Other,
    Standing,
    Cranking {
        since_s: f64,
        oil_temp_k: f64,
    },
}

pub(super) fn detector(layout: &Layout<'_>) -> Result<Box<dyn Detector>, Missing> {
    Ok(Box::new(Start {
        speed: Some(layout.need("engine_speed_rad_s")?),
        oil_temp: Some(layout.need("oil_temp_k")?),
        running_rad_s: layout.thresholds.running_engine_speed_rad_s,
        phase: Phase::Other,
    }))
}

impl Detector for Start {
    fn row(&mut self, time_s: f64, values: &[f64]) -> Option<Found> {
        let speed = value(values, self.speed);
        if speed <= STANDING * self.running_rad_s {
            self.phase = Phase::Standing;
            return None;
        }
        let oil_temp_now_k = value(values, self.oil_temp);
        if matches!(self.phase, Phase::Standing) && !speed.is_nan() {
            self.phase = Phase::Cranking {
                since_s: time_s,
                oil_temp_k: oil_temp_now_k,
            };
        }
        if let Phase::Cranking {
            since_s,
            oil_temp_k,
        } = &mut self.phase
        {
            if oil_temp_k.is_nan() {
                *oil_temp_k = oil_temp_now_k;
            }
            if speed >= self.running_rad_s && !oil_temp_k.is_nan() {
                let fields = vec![*since_s, time_s - *since_s, *oil_temp_k];
                self.phase = Phase::Other;
                return Some(Found {
                    kind: "start",
                    fields,
                });
            }
        }
        None
    }

    fn stop(&mut self, _time_s: f64) -> Option<Found> {
        self.phase = Phase::Other;
        None
    }
}
