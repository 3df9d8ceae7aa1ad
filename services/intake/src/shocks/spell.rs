//! A stretch of time over which values are averaged, sample and hold.

/// A stretch under way.
#[derive(Clone, Debug)]
pub(super) struct Spell<const N: usize> {
    pub start_s: f64,
    /// Values that hold since `last_s`.
    last_s: f64,
    last: [f64; N],
    integrals: [f64; N],
}

impl<const N: usize> Spell<N> {
    /// Starts at a row. Unknown values (NaN) stand as 0 until known.
    pub fn new(start_s: f64, values: [f64; N]) -> Self {
        let known = values.map(|value| if value.is_nan() { 0.0 } else { value });
        Self {
            start_s,
            last_s: start_s,
            last: known,
            integrals: [0.0; N],
        }
    }

    /// Takes a row within the stretch; an unknown value holds as it was.
    pub fn row(&mut self, time_s: f64, values: [f64; N]) {
        self.pass(time_s);
        for (last, value) in self.last.iter_mut().zip(values) {
            if !value.is_nan() {
                *last = value;
            }
        }
    }

    fn pass(&mut self, time_s: f64) {
        for (integral, last) in self.integrals.iter_mut().zip(self.last) {
            *integral += last * (time_s - self.last_s);
        }
        self.last_s = time_s;
    }

    /// Ends: duration, and the mean of each value over it.
    pub fn end(&mut self, time_s: f64) -> (f64, [f64; N]) {
        self.pass(time_s);
        let duration_s = self.last_s - self.start_s;
        let mut means = self.last;
        if duration_s > 0.0 {
            means = self.integrals.map(|integral| integral / duration_s);
        }
        (duration_s, means)
    }
}
