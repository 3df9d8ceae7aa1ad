//! Speed over time as published drive schedules give it: CSV, one line a second.

use std::io::Read;

use super::DemoError;

/// A speed trace.
#[derive(Debug, Clone, PartialEq)]
pub struct Schedule {
    /// Time \[s\], rising.
    pub time_s: Vec<f64>,
    /// Speed \[m/s\].
    pub speed_m_s: Vec<f64>,
}

/// Faster is no road car \[m/s\].
const MOST_SPEED_M_S: f64 = 100.0;

impl Schedule {
    /// Reads the columns `cycSecs` and `cycMps` (s, m/s), with or without a byte-order mark.
    ///
    /// # Errors
    /// [`DemoError::Schedule`] with the line, when a column is missing, a number is not one, time does not rise, speed is
    /// not within 0 to 100 m/s, or there are fewer than two samples.
    pub fn read(csv: impl Read) -> Result<Self, DemoError> {
        let mut reader = csv::Reader::from_reader(csv);
        let headers = reader.headers()?.clone();
        let bad = |line: u64, problem: String| DemoError::Schedule { line, problem };
        let column = |name: &str| {
            let found = headers
                .iter()
                .position(|h| h.trim_start_matches('\u{feff}').trim() == name);
            found.ok_or_else(|| bad(1, format!("no column {name}")))
        };
        let (time_column, speed_column) = (column("cycSecs")?, column("cycMps")?);
        let mut schedule = Self {
            time_s: Vec::new(),
            speed_m_s: Vec::new(),
        };
        for record in reader.records() {
            let record = record?;
            let line = record.position().map_or(0, csv::Position::line);
            let number = |column: usize| {
                let text = record.get(column).unwrap_or_default();
                text.trim()
                    .parse::<f64>()
                    .map_err(|_| bad(line, format!("{text:?} is not a number")))
            };
            let (time_s, speed_m_s) = (number(time_column)?, number(speed_column)?);
            if schedule.time_s.last().is_some_and(|last| time_s <= *last) {
                return Err(bad(line, format!("time {time_s} s does not rise")));
            }
            if !time_s.is_finite() {
                return Err(bad(
                    line,
                    format!("time {time_s}: expected a finite number of seconds"),
                ));
            }
            if !(0.0..=MOST_SPEED_M_S).contains(&speed_m_s) {
                return Err(bad(
                    line,
                    format!("speed {speed_m_s} m/s: expected 0 to {MOST_SPEED_M_S}"),
                ));
            }
            schedule.time_s.push(time_s);
            schedule.speed_m_s.push(speed_m_s);
        }
        if schedule.time_s.len() < 2 {
            return Err(bad(1, "fewer than two samples".to_owned()));
        }
        Ok(schedule)
    }

    /// Time from the first to the last sample \[s\].
    pub fn duration_s(&self) -> f64 {
        match (self.time_s.first(), self.time_s.last()) {
            (Some(first), Some(last)) => last - first,
            _ => 0.0,
        }
    }

    /// Distance, by trapezoids \[m\].
    pub fn distance_m(&self) -> f64 {
        let steps = self.time_s.windows(2).zip(self.speed_m_s.windows(2));
        steps
            .map(|(t, v)| 0.5 * (v[0] + v[1]) * (t[1] - t[0]))
            .sum()
    }

    /// Highest speed \[m/s\].
    pub fn top_speed_m_s(&self) -> f64 {
        self.speed_m_s.iter().fold(0.0, |most, v| most.max(*v))
    }

    /// Kinetic energy gained in all accelerations for each kilogram \[J/kg\].
    pub fn positive_kinetic_energy_j_kg(&self) -> f64 {
        self.speed_m_s
            .windows(2)
            .map(|v| (0.5 * (v[1] * v[1] - v[0] * v[0])).max(0.0))
            .sum()
    }

    /// Speed \[m/s\] and acceleration \[m/s²\] at a time \[s\]: straight lines between samples, held beyond the ends.
    pub fn at(&self, time_s: f64) -> (f64, f64) {
        let after = self.time_s.partition_point(|t| *t <= time_s);
        let sample = |i: usize| Some((*self.time_s.get(i)?, *self.speed_m_s.get(i)?));
        let before = after.checked_sub(1).and_then(sample);
        match (before, sample(after)) {
            (Some((t0, v0)), Some((t1, v1))) => {
                let acceleration = (v1 - v0) / (t1 - t0);
                (v0 + acceleration * (time_s - t0), acceleration)
            }
            (Some((_, v)), None) | (None, Some((_, v))) => (v, 0.0),
            (None, None) => (0.0, 0.0),
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    const RAMP: &str = "\u{feff}cycSecs,cycMps,cycGrade\n0,0,0\n1,2,0\n2,4,0\n3,1,0\n";

    #[test]
    #[allow(clippy::float_cmp, reason = "exact in binary")]
    fn reads_and_sums() {
        let ramp = Schedule::read(RAMP.as_bytes()).unwrap();
        assert!((ramp.duration_s() - 3.0).abs() < 1e-12);
        assert!((ramp.distance_m() - 6.5).abs() < 1e-12);
        assert!((ramp.positive_kinetic_energy_j_kg() - 8.0).abs() < 1e-12);
        assert_eq!(ramp.at(1.5), (3.0, 2.0));
        assert_eq!(ramp.at(9.0), (1.0, 0.0));
    }

    #[test]
    fn refuses_with_the_line() {
        let refused = |csv: &str| Schedule::read(csv.as_bytes()).unwrap_err().to_string();
        assert!(refused("cycSecs,v\n0,0\n1,1\n").contains("line 1: no column cycMps"));
        assert!(refused("cycSecs,cycMps\n0,0\n0,1\n").contains("line 3: time 0 s does not rise"));
        assert!(refused("cycSecs,cycMps\n0,0\n1,nan\n").contains("line 3: speed NaN"));
        assert!(refused("cycSecs,cycMps\n0,0\nnan,1\n").contains("line 3: time NaN"));
        assert!(refused("cycSecs,cycMps\n0,0\n1,x\n").contains("line 3: \"x\" is not a number"));
    }
}
