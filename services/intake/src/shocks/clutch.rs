//! Launches and other clutch engagements: slip under torque. The energy is the integral of slip speed
//! times torque; a launch starts with the vehicle at rest. Without vehicle speed every engagement is
//! one other than a launch.

use super::exceedance::value;
use super::spell::Spell;
use super::{Detector, Found, Layout, Missing};

/// Less slip or torque is none (sensor noise; assumed).
const LEAST_SLIP_RAD_S: f64 = 5.0;
const LEAST_TORQUE_N_M: f64 = 5.0;

struct Clutch {
    slip: Option<usize>,
    torque: Option<usize>,
    vehicle: Option<usize>,
    rest_m_s: f64,
    least_j: f64,
    open: Option<Engagement>,
}

struct Engagement {
    spell: Spell<1>,
    launch: bool,
    peak_w: f64,
    peak_n_m: f64,
}

pub(super) fn detector(layout: &Layout<'_>) -> Result<Box<dyn Detector>, Missing> {
    Ok(Box::new(Clutch {
        slip: Some(layout.need("clutch_slip_speed_rad_s")?),
        torque: Some(layout.need("clutch_torque_n_m")?),
        vehicle: layout.find("vehicle_speed_m_s"),
        rest_m_s: layout.thresholds.rest_speed_m_s,
        least_j: layout.thresholds.clutch_energy_j,
        open: None,
    }))
}

impl Detector for Clutch {
    fn row(&mut self, time_s: f64, values: &[f64]) -> Option<Found> {
        let slip = value(values, self.slip).abs();
        let torque = value(values, self.torque).abs();
        // False, too, when either is unknown.
        if !(slip > LEAST_SLIP_RAD_S && torque > LEAST_TORQUE_N_M) {
            return self.stop(time_s);
        }
        let power = slip * torque;
        if let Some(open) = &mut self.open {
            open.spell.row(time_s, [power]);
            open.peak_w = open.peak_w.max(power);
            open.peak_n_m = open.peak_n_m.max(torque);
        } else {
            let at_rest = |index| value(values, Some(index)).abs() < self.rest_m_s;
            self.open = Some(Engagement {
                spell: Spell::new(time_s, [power]),
                launch: self.vehicle.is_some_and(at_rest),
                peak_w: power,
                peak_n_m: torque,
            });
        }
        None
    }

    fn stop(&mut self, time_s: f64) -> Option<Found> {
        let Engagement {
            mut spell,
            launch,
            peak_w,
            peak_n_m,
        } = self.open.take()?;
        let (duration_s, [mean_w]) = spell.end(time_s);
        let energy_j = mean_w * duration_s;
        (energy_j >= self.least_j).then(|| Found {
            kind: if launch {
                "launch"
            } else {
                "clutch_engagement"
            },
            fields: vec![spell.start_s, duration_s, energy_j, peak_w, peak_n_m],
        })
    }
}
