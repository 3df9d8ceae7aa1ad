//! A quantity in the unit that people want, and in SI beside it.

use crate::{
    measures::{Measure, System, shown_in},
    numbers::{self, Spread},
};
use ringland_proto::v1::Quantiles;

/// How values of one SI unit are shown; the same for all values that are compared.
#[derive(Clone, Copy, Debug)]
pub struct Shown<'a> {
    si_unit: &'a str,
    measure: Option<&'static Measure>,
}

impl<'a> Shown<'a> {
    /// The units for values up to `largest` in magnitude: one, or shop units and SI.
    pub fn choose(si_unit: &'a str, largest: f64, system: System) -> Vec<Self> {
        let shown = |system| Shown {
            si_unit,
            measure: shown_in(si_unit, largest, system),
        };
        let (first, si) = (shown(system), shown(System::Si));
        if first.measure == si.measure {
            vec![first]
        } else {
            vec![first, si]
        }
    }

    /// The unit as written; nothing for a pure number.
    pub fn symbol(&self) -> &str {
        match self.measure {
            Some(measure) => measure.symbol,
            None if self.si_unit == "1" => "",
            None => self.si_unit,
        }
    }

    /// An SI value in this unit.
    pub fn value(&self, si: f64) -> f64 {
        self.measure.map_or(si, |measure| measure.shown(si))
    }

    /// A difference of SI values in this unit.
    pub fn difference(&self, si: f64) -> f64 {
        self.measure
            .map_or(si, |measure| measure.shown_difference(si))
    }

    /// Quantiles in this unit.
    pub fn spread(&self, si: &Quantiles) -> Spread {
        let Quantiles { p05, p50, p95 } = *si;
        let [p05, p50, p95] = [p05, p50, p95].map(|value| self.value(value));
        numbers::spread(&Quantiles { p05, p50, p95 }, [false; 3])
    }

    /// A number with the unit.
    pub fn with_symbol(&self, number: &str) -> String {
        format!("{number} {}", self.symbol()).trim_end().to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shop_units_have_si_beside_them_and_si_stands_alone() {
        let both = Shown::choose("m", 5e-4, System::Shop);
        let gap = Quantiles {
            p05: 4.0e-4,
            p50: 4.572e-4,
            p95: 5.2e-4,
        };
        let text: Vec<String> = both
            .iter()
            .map(|s| s.with_symbol(&s.spread(&gap).median_first()))
            .collect();
        assert_eq!(text, ["18.0 (15.7 to 20.5) thou", "0.46 (0.40 to 0.52) mm"]);
        assert_eq!(Shown::choose("m", 5e-4, System::Si).len(), 1);
        let plain = Shown::choose("1", 1.0, System::Shop);
        assert_eq!((plain.len(), plain[0].symbol()), (1, ""));
    }
}
