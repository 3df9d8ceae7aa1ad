//! Invented circuits: straights and corners, and how they bend once the corners are eased in and out.

/// One piece of a circuit: length, and radius of a corner (`None` for a straight).
type Piece = (f64, Option<f64>);

/// Distance between stations \[m\].
pub(super) const STATION_M: f64 = 2.0;
/// Corners ease in and out over this length \[m\].
const EASING_M: f64 = 60.0;

/// A kind of circuit, as the calendar names it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Circuit {
    /// Long straights, quick corners.
    Fast,
    /// A bit of everything.
    Medium,
    /// Short straights between tight corners.
    Street,
}

impl Circuit {
    fn pieces(self) -> &'static [Piece] {
        match self {
            Self::Fast => &[
                (680.0, None),
                (130.0, Some(60.0)),
                (470.0, None),
                (190.0, Some(130.0)),
                (380.0, None),
                (120.0, Some(45.0)),
                (560.0, None),
                (180.0, Some(115.0)),
                (330.0, None),
                (140.0, Some(75.0)),
            ],
            Self::Medium => &[
                (560.0, None),
                (130.0, Some(45.0)),
                (340.0, None),
                (170.0, Some(100.0)),
                (270.0, None),
                (100.0, Some(34.0)),
                (440.0, None),
                (160.0, Some(85.0)),
                (240.0, None),
                (150.0, Some(60.0)),
                (320.0, None),
                (170.0, Some(110.0)),
            ],
            Self::Street => &[
                (460.0, None),
                (70.0, Some(26.0)),
                (260.0, None),
                (90.0, Some(55.0)),
                (300.0, None),
                (70.0, Some(24.0)),
                (360.0, None),
                (110.0, Some(70.0)),
                (240.0, None),
                (70.0, Some(32.0)),
            ],
        }
    }

    /// Curvature \[1/m\] at every station of a lap.
    pub(super) fn curvature_per_m(self) -> Vec<f64> {
        let mut sharp = Vec::new();
        for (length, radius) in self.pieces() {
            let stations = (length / STATION_M).round() as usize;
            sharp.extend(std::iter::repeat_n(
                radius.map_or(0.0, |r| 1.0 / r),
                stations,
            ));
        }
        let n = sharp.len();
        let half = (EASING_M / STATION_M / 2.0).round() as usize;
        let around = |i: usize| {
            (n + i - half..=n + i + half)
                .map(|k| sharp[k % n])
                .sum::<f64>()
        };
        (0..n).map(|i| around(i) / (2 * half + 1) as f64).collect()
    }
}
