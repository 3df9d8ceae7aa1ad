//! Power over the time of one engagement.

use ringland_driveline::Engagement;

use crate::constants as c;

/// Power that stays at its peak for a share of the time and then falls straight to 0. A constant torque on slip that falls straight to 0
/// has no such share: its power falls from the start, and its mean is half its peak.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slip {
    /// How long heat is made \[s\].
    pub duration_s: f64,
    /// Share of that at peak power, 0 to 1.
    pub hold: f64,
    /// Heat \[J\].
    pub energy_j: f64,
}

impl Slip {
    /// The profile that has the energy, the peak power and, where it can, the duration of a logged engagement.
    ///
    /// With a mean power below half of the peak, heat is made for a part of the duration alone (`2 E / P`); at half of the peak the two agree
    /// with a constant torque; above it, power holds at its peak first; a mean above the peak (a log that contradicts itself) is
    /// taken for constant power over the duration.
    pub fn of(engagement: &Engagement) -> Self {
        let Engagement {
            duration_s,
            energy_j,
            peak_power_w,
            ..
        } = *engagement;
        let logged_s = duration_s.max(c::SHORTEST_S);
        if energy_j >= peak_power_w * logged_s {
            return Self {
                duration_s: logged_s,
                hold: 1.0,
                energy_j,
            };
        }
        let triangle_s = 2.0 * energy_j / peak_power_w;
        Self {
            duration_s: triangle_s.clamp(c::SHORTEST_S, logged_s),
            hold: (triangle_s / logged_s - 1.0).max(0.0),
            energy_j,
        }
    }

    /// Peak power \[W\].
    pub fn peak_power_w(&self) -> f64 {
        2.0 * self.energy_j / (self.duration_s * (1.0 + self.hold))
    }

    /// Power \[W\] at a time from the start \[s\].
    pub fn power_w(&self, time_s: f64) -> f64 {
        let held_s = self.hold * self.duration_s;
        let falling_s = self.duration_s - held_s;
        let share = if time_s <= held_s {
            1.0
        } else if falling_s > 0.0 {
            (1.0 - (time_s - held_s) / falling_s).max(0.0)
        } else {
            0.0
        };
        self.peak_power_w() * share
    }

    /// When a share of the heat has been made, over the duration, 0 to 1.
    pub fn time_share(&self, heat_share: f64) -> f64 {
        let held = 2.0 * self.hold / (1.0 + self.hold);
        if heat_share <= held {
            return 0.5 * heat_share * (1.0 + self.hold);
        }
        let left = (1.0 - heat_share).max(0.0);
        1.0 - (left * (1.0 - self.hold) * (1.0 + self.hold)).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn engagement(duration_s: f64, energy_j: f64, peak_power_w: f64) -> Engagement {
        Engagement {
            duration_s,
            energy_j,
            peak_power_w,
            ..Engagement::default()
        }
    }

    /// Trapezoid rule over the profile gives back the energy, and the peak is the logged one wherever the log is in itself right.
    #[test]
    fn a_profile_has_its_energy_and_its_peak() {
        for (duration_s, energy_j, peak_w, expected_s, hold) in [
            (1.6, 264e3, 330e3, 1.6, 0.0),
            (1.6, 132e3, 330e3, 0.8, 0.0),
            (1.0, 75e3, 100e3, 1.0, 0.5),
            (1.0, 100e3, 100e3, 1.0, 1.0),
            (1.0, 200e3, 100e3, 1.0, 1.0),
            (0.0, 1e3, 0.0, 0.05, 1.0),
        ] {
            let slip = Slip::of(&engagement(duration_s, energy_j, peak_w));
            assert!((slip.duration_s - expected_s).abs() < 1e-12, "{slip:?}");
            assert!((slip.hold - hold).abs() < 1e-12, "{slip:?}");
            if energy_j <= peak_w * duration_s {
                assert!((slip.peak_power_w() / peak_w - 1.0).abs() < 1e-12);
            }
            let steps = 20_000;
            let step_s = slip.duration_s / f64::from(steps);
            let middle = (0..steps).map(|i| slip.power_w((f64::from(i) + 0.5) * step_s));
            let energy = step_s * middle.sum::<f64>();
            assert!((energy / energy_j - 1.0).abs() < 1e-4, "{energy}");
        }
    }

    /// The time of a share of the heat is the inverse of the integral of power.
    #[test]
    fn time_share_inverts_the_heat() {
        for hold in [0.0, 0.3, 1.0] {
            let slip = Slip {
                duration_s: 2.0,
                hold,
                energy_j: 1.0,
            };
            for share in [0.1, 0.4, 0.9] {
                let until_s = 2.0 * slip.time_share(share);
                let step_s = until_s / 20_000.0;
                let heat: f64 = (0..20_000)
                    .map(|i| step_s * slip.power_w((f64::from(i) + 0.5) * step_s))
                    .sum();
                assert!((heat - share).abs() < 1e-4, "{hold} {share} {heat}");
            }
        }
    }
}
