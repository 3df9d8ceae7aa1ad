//! Passes to failure over the share of the strength: the life factors of case-hardened steel, ISO 6336-2 and -3, from memory.
//!
//! One slope throughout: it goes on above the static end of the factors and below their knee (elementary Miner), since race gears see overloads.

/// A line of life factors through its two knees: strength ratio and passes.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Knees {
    few: (f64, f64),
    many: (f64, f64),
}

/// Without any pitting allowed.
const PITTING: Knees = Knees {
    few: (1.6, 1.0e5),
    many: (1.0, 5.0e7),
};
const BENDING: Knees = Knees {
    few: (2.5, 1.0e3),
    many: (1.0, 3.0e6),
};

impl Knees {
    fn slope(&self) -> f64 {
        libm::log(self.many.1 / self.few.1) / libm::log(self.few.0 / self.many.0)
    }

    fn passes(&self, ratio: f64) -> f64 {
        if ratio <= 0.0 {
            return f64::INFINITY;
        }
        self.many.1 * libm::pow(self.many.0 / ratio, self.slope())
    }
}

/// Passes to pitting at a contact stress over the strength.
pub fn pitting_passes(ratio: f64) -> f64 {
    PITTING.passes(ratio)
}

/// Passes to a crack at a root stress over the strength.
pub fn bending_passes(ratio: f64) -> f64 {
    BENDING.passes(ratio)
}

/// Slope of the pitting line, 13.22.
pub fn pitting_slope() -> f64 {
    PITTING.slope()
}

/// Slope of the bending line, 8.74.
pub fn bending_slope() -> f64 {
    BENDING.slope()
}
