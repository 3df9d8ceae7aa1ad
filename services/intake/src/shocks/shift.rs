//! Gear shifts: from one engaged gear to the next, neutral on the way or not. The new gear must stay, so that
//! noise of the gear channel is no shift.

use super::exceedance::value;
use super::spell::Spell;
use super::{Detector, Found, Layout, Missing};

/// How long a gear must stay to be engaged, and how long a shift may take (assumed).
const SETTLED_S: f64 = 0.1;
const LONGEST_S: f64 = 2.0;

struct Shift {
    gear: Option<usize>,
    speed: Option<usize>,
    torque: Option<usize>,
    engaged: Option<f64>,
    away: Option<Away>,
}

/// Out of the engaged gear.
struct Away {
    spell: Spell<1>,
    speed_rad_s: f64,
    /// The gear in now, and since when.
    gear: f64,
    since_s: f64,
}

pub(super) fn detector(layout: &Layout<'_>) -> Result<Box<dyn Detector>, Missing> {
    Ok(Box::new(Shift {
        gear: Some(layout.need("gear")?),
        speed: Some(layout.need("engine_speed_rad_s")?),
        torque: layout.find("engine_torque_n_m"),
        engaged: None,
        away: None,
    }))
}

impl Detector for Shift {
    fn row(&mut self, time_s: f64, values: &[f64]) -> Option<Found> {
        let gear = value(values, self.gear).round();
        let speed = value(values, self.speed);
        if gear.is_nan() || speed.is_nan() {
            return self.stop(time_s);
        }
        let torque = value(values, self.torque);
        if self.engaged == Some(gear) {
            self.away = None;
            return None;
        }
        let away = self.away.get_or_insert_with(|| Away {
            spell: Spell::new(time_s, [torque]),
            speed_rad_s: speed,
            gear,
            since_s: time_s,
        });
        away.spell.row(time_s, [torque]);
        if away.gear.total_cmp(&gear).is_ne() {
            (away.gear, away.since_s) = (gear, time_s);
        }
        // Neutral is never engaged; staying there too long is no shift.
        let settled = gear != 0.0 && time_s - away.since_s >= SETTLED_S;
        let lost = time_s - away.spell.start_s > LONGEST_S + SETTLED_S;
        if settled {
            return self.settle(time_s, gear, speed);
        }
        if lost {
            self.engaged = None;
        }
        None
    }

    fn stop(&mut self, _time_s: f64) -> Option<Found> {
        self.engaged = None;
        self.away = None;
        None
    }
}

impl Shift {
    /// The new gear is in: a shift, if it came from one and not too slowly.
    fn settle(&mut self, time_s: f64, gear: f64, speed_rad_s: f64) -> Option<Found> {
        let from = self.engaged.replace(gear);
        let mut away = self.away.take()?;
        let (_, [mean_torque]) = away.spell.end(time_s);
        let duration_s = away.since_s - away.spell.start_s;
        let from = from.filter(|_| duration_s <= LONGEST_S)?;
        let step = speed_rad_s - away.speed_rad_s;
        let fields = vec![
            away.spell.start_s,
            duration_s,
            from,
            gear,
            step,
            mean_torque,
        ];
        Some(Found {
            kind: "shift",
            fields,
        })
    }
}
