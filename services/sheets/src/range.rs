//! The mark of a spread against its limit: a bar from low to high, a tick at the middle, a line at the limit.

/// A spread to draw. All in one unit; values that are not finite are left out of the mark.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Range {
    /// Lower end of the bar.
    pub low: f64,
    /// Its middle.
    pub middle: f64,
    /// Its upper end.
    pub high: f64,
    /// Where life ends.
    pub limit: Option<f64>,
    /// What was measured.
    pub measured: Option<f64>,
}

/// The mark in parts of its width, each 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Marks {
    /// Start of the bar.
    pub low: f64,
    /// Its middle.
    pub middle: f64,
    /// End of the bar.
    pub high: f64,
    /// The limit.
    pub limit: Option<f64>,
    /// What was measured.
    pub measured: Option<f64>,
}

/// Left free at either end.
const EDGE: f64 = 0.04;

impl Range {
    /// Where the marks stand; none when there is nothing to draw.
    #[must_use]
    pub fn marks(&self) -> Option<Marks> {
        let bar = [self.low, self.middle, self.high];
        if !bar.iter().all(|value| value.is_finite()) {
            return None;
        }
        let others = [self.limit, self.measured].map(|value| value.filter(|v| v.is_finite()));
        let all = bar.iter().chain(others.iter().flatten());
        let (least, most) = all.fold(
            (f64::INFINITY, f64::NEG_INFINITY),
            |(least, most), value| (least.min(*value), most.max(*value)),
        );
        let width = most - least;
        let at = |value: f64| {
            if width > 0.0 && width.is_finite() {
                EDGE + (1.0 - 2.0 * EDGE) * ((value - least) / width).clamp(0.0, 1.0)
            } else {
                0.5
            }
        };
        Some(Marks {
            low: at(self.low),
            middle: at(self.middle),
            high: at(self.high),
            limit: others[0].map(at),
            measured: others[1].map(at),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_point_stands_in_the_middle_and_nothing_is_drawn_of_what_is_no_number() {
        let point = Range {
            low: 2.0,
            middle: 2.0,
            high: 2.0,
            ..Range::default()
        };
        assert_eq!(point.marks().map(|marks| marks.middle), Some(0.5));
        let none = Range {
            high: f64::INFINITY,
            ..point
        };
        assert_eq!(none.marks(), None);
    }

    proptest! {
        #[test]
        fn marks_keep_their_order_and_stay_inside(
            values in prop::array::uniform4(-1e9..1e9_f64)
        ) {
            let mut sorted = values;
            sorted.sort_by(f64::total_cmp);
            let [low, middle, high, limit] = sorted;
            let range = Range { low, middle, high, limit: Some(limit), measured: None };
            let marks = range.marks().expect("numbers");
            let limit = marks.limit.expect("a limit");
            prop_assert!(0.0 <= marks.low && marks.low <= marks.middle);
            prop_assert!(marks.middle <= marks.high && marks.high <= limit && limit <= 1.0);
        }
    }
}
