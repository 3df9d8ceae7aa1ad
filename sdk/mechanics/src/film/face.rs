use crate::range::{OutOfRange, within};

/// The shape of a ring face: cells across it, each with its ends and middle, and how far each point
/// lies back from the foremost.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// Position \[m\], rising: end, middle, end, middle ... end. An odd number of points.
    pub(super) x_m: Vec<f64>,
    /// Set-back from the foremost point \[m\], 0 or more.
    pub(super) setback_m: Vec<f64>,
}

impl Face {
    /// A barrel: parabola of crown radius `crown_radius_m` over a width, its crown `offset_m` from the middle
    /// (positive towards the end of x), cut into `cells` equal cells.
    ///
    /// # Errors
    /// Width outside 1e-5 to 0.1 m, radius outside 1e-5 to 1e6 m, a crown off the face, cells outside 4 to 100 000.
    pub fn parabolic(
        width_m: f64,
        crown_radius_m: f64,
        offset_m: f64,
        cells: usize,
    ) -> Result<Self, OutOfRange> {
        within(
            "crown_radius_m",
            crown_radius_m,
            (1e-5, 1e6),
            "1e-5 to 1e6 m",
        )?;
        let half = 0.5 * width_m;
        within("offset_m", offset_m, (-half, half), "a crown on the face")?;
        Self::from_shape(width_m, cells, |x| {
            (x - offset_m).powi(2) / (2.0 * crown_radius_m)
        })
    }

    /// Any shape: set-back \[m\] as a function of the position from the middle \[m\]. The foremost point is taken as 0.
    ///
    /// # Errors
    /// Width outside 1e-5 to 0.1 m, cells outside 4 to 100 000, a set-back that is not a finite number.
    pub fn from_shape(
        width_m: f64,
        cells: usize,
        setback_m: impl Fn(f64) -> f64,
    ) -> Result<Self, OutOfRange> {
        within("width_m", width_m, (1e-5, 0.1), "1e-5 to 0.1 m")?;
        within("cells", cells as f64, (4.0, 1e5), "4 to 100000 cells")?;
        let points = 2 * cells;
        let x_m: Vec<f64> = (0..=points)
            .map(|k| (k as f64 / points as f64 - 0.5) * width_m)
            .collect();
        let mut setbacks: Vec<f64> = x_m.iter().map(|x| setback_m(*x)).collect();
        let foremost = setbacks.iter().copied().fold(f64::INFINITY, f64::min);
        for setback in &mut setbacks {
            *setback -= foremost;
            within("setback_m", *setback, (0.0, 1.0), "0 to 1 m")?;
        }
        Ok(Self {
            x_m,
            setback_m: setbacks,
        })
    }

    /// The face seen from the other side: for sliding the other way.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self {
            x_m: self.x_m.iter().rev().map(|x| -x).collect(),
            setback_m: self.setback_m.iter().rev().copied().collect(),
        }
    }

    /// Width \[m\].
    pub fn width_m(&self) -> f64 {
        match (self.x_m.first(), self.x_m.last()) {
            (Some(from), Some(to)) => to - from,
            _ => 0.0,
        }
    }

    /// Number of cells.
    pub fn cells(&self) -> usize {
        self.x_m.len() / 2
    }

    /// Integral over the face of a function of the set-back, by Simpson's rule.
    pub fn integral(&self, of: impl Fn(f64) -> f64) -> f64 {
        let sixth = self.width_m() / (6.0 * self.cells() as f64);
        let cell = |s: &[f64]| match s {
            [from, middle, to] => sixth * (of(*from) + 4.0 * of(*middle) + of(*to)),
            _ => 0.0,
        };
        self.setback_m.windows(3).step_by(2).map(cell).sum()
    }
}
