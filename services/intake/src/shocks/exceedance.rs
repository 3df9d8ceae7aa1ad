//! A level beyond its limit for a while.

use super::spell::Spell;
use super::{Detector, Found};

type Of<T> = Box<dyn Fn(&[f64]) -> T + Send>;

/// Found when a level passes its limit, over when it is back by a margin.
pub(super) struct Exceedance<const N: usize> {
    pub kind: &'static str,
    /// 1 when beyond is above, -1 when below.
    pub sense: f64,
    pub level: Of<f64>,
    pub limit: f64,
    /// Share of the limit by which the level must come back.
    pub margin: f64,
    /// Whether the level is looked at in this row.
    pub armed: Of<bool>,
    /// Values whose means are fields, after start, duration and the extreme level.
    pub means: Of<[f64; N]>,
    pub open: Option<(Spell<N>, f64)>,
}

impl<const N: usize> Detector for Exceedance<N> {
    fn row(&mut self, time_s: f64, values: &[f64]) -> Option<Found> {
        let level = (self.level)(values);
        let excess = self.sense * (level - self.limit);
        let armed = (self.armed)(values);
        match &mut self.open {
            None if armed && excess > 0.0 => {
                self.open = Some((Spell::new(time_s, (self.means)(values)), level));
                None
            }
            None => None,
            // An unknown level (NaN) ends it, too: what is not known is not counted.
            Some((spell, extreme)) if armed && excess > -self.margin * self.limit.abs() => {
                spell.row(time_s, (self.means)(values));
                if self.sense * (level - *extreme) > 0.0 {
                    *extreme = level;
                }
                None
            }
            Some(_) => self.stop(time_s),
        }
    }

    fn stop(&mut self, time_s: f64) -> Option<Found> {
        let (mut spell, extreme) = self.open.take()?;
        let (duration_s, means) = spell.end(time_s);
        let mut fields = vec![spell.start_s, duration_s, extreme];
        fields.extend(means);
        Some(Found {
            kind: self.kind,
            fields,
        })
    }
}

/// A value of a row; 0 for a channel that the log is without.
pub(super) fn value(values: &[f64], channel: Option<usize>) -> f64 {
    channel.map_or(0.0, |index| values.get(index).copied().unwrap_or(f64::NAN))
}
