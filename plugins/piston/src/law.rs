//! What a stretch of duty does to a piston, in closed form: a stretch gives the same however it is cut.

use crate::card::slot;
use crate::constants::SEATED_WELDING;
use crate::spec::Spec;

/// What a stretch of duty adds, at a steady rate over it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Stretch {
    /// Wear of each groove by sliding, for each metre of the piston's clearance \[1\].
    pub sliding: [f64; 2],
    /// Wear of each groove by impact \[m\].
    pub impact_m: [f64; 2],
    /// Seating of the top groove \[1\].
    pub seating: f64,
    /// Micro-welding index with bare, fresh flanks \[1\].
    pub welding: f64,
    /// Wear of the skirt, thrust and other side, on metal and on coat \[m\].
    pub skirt_m: [[f64; 2]; 2],
    /// Collapse of the skirt on diameter \[m\].
    pub collapse_m: f64,
    /// Softening fraction \[1\].
    pub softening: f64,
    /// Growth of the pin bores \[m\].
    pub pin_bore_m: f64,
    /// Damage of the boss \[1\].
    pub boss: f64,
}

impl Stretch {
    /// Adds another stretch.
    pub fn add(&mut self, other: &Self) {
        for groove in 0..2 {
            self.sliding[groove] += other.sliding[groove];
            self.impact_m[groove] += other.impact_m[groove];
            for material in 0..2 {
                self.skirt_m[groove][material] += other.skirt_m[groove][material];
            }
        }
        self.seating += other.seating;
        self.welding += other.welding;
        self.collapse_m += other.collapse_m;
        self.softening += other.softening;
        self.pin_bore_m += other.pin_bore_m;
        self.boss += other.boss;
    }
}

/// The condition row after `share` of a stretch (more than 1 repeats it).
pub fn after(
    spec: &Spec,
    before: &[f64; slot::COUNT],
    stretch: &Stretch,
    share: f64,
) -> [f64; slot::COUNT] {
    let mut row = *before;
    let clearance_m = clearance_integral_m(spec, before, stretch, share);
    let grooves = [slot::TOP_GROOVE, slot::SECOND_GROOVE];
    for (groove, index) in grooves.into_iter().enumerate() {
        row[index] += stretch.sliding[groove] * clearance_m + stretch.impact_m[groove] * share;
    }
    let faces = [slot::THRUST_SKIRT, slot::ANTI_THRUST_SKIRT];
    for (face, index) in faces.into_iter().enumerate() {
        row[index] = SkirtWear::new(spec, before[index], stretch.skirt_m[face]).worn_m(share);
    }
    row[slot::WELDING] += welding(spec, before[slot::GROOVE_SEATING], stretch, share);
    row[slot::GROOVE_SEATING] += stretch.seating * share;
    row[slot::COLLAPSE] += stretch.collapse_m * share;
    row[slot::SOFTENING] += stretch.softening * share;
    row[slot::PIN_BORE] += stretch.pin_bore_m * share;
    row[slot::BOSS] += stretch.boss * share;
    row
}

/// Clearance between skirt and bore on diameter \[m\], now.
pub fn clearance_m(spec: &Spec, row: &[f64; slot::COUNT]) -> f64 {
    let coats = [slot::THRUST_SKIRT, slot::ANTI_THRUST_SKIRT]
        .map(|index| (spec.skirt_coat_thickness_m - row[index]).max(0.0));
    spec.skirt_clearance_m + row[slot::COLLAPSE] - coats[0] - coats[1]
}

/// The clearance integrated over a share of a stretch: collapse opens it, so does the coat as it wears.
fn clearance_integral_m(
    spec: &Spec,
    before: &[f64; slot::COUNT],
    stretch: &Stretch,
    share: f64,
) -> f64 {
    let bare_m = spec.skirt_clearance_m + before[slot::COLLAPSE];
    let faces = [slot::THRUST_SKIRT, slot::ANTI_THRUST_SKIRT];
    let coats: f64 = faces
        .into_iter()
        .enumerate()
        .map(|(face, index)| {
            SkirtWear::new(spec, before[index], stretch.skirt_m[face]).left_integral_m(share)
        })
        .sum();
    bare_m * share + 0.5 * stretch.collapse_m * share * share - coats
}

/// Coat first, then metal.
struct SkirtWear {
    /// Before the stretch \[m\].
    before: f64,
    /// Coat left then \[m\].
    coat: f64,
    /// What the stretch wears off metal and off coat \[m\].
    rate: [f64; 2],
}

impl SkirtWear {
    fn new(spec: &Spec, before: f64, rate: [f64; 2]) -> Self {
        Self {
            before,
            coat: (spec.skirt_coat_thickness_m - before).max(0.0),
            rate,
        }
    }

    /// Share of the stretch after which the coat is gone, at most `share`.
    fn gone_at(&self, share: f64) -> f64 {
        if self.coat >= self.rate[1] * share {
            share
        } else {
            self.coat / self.rate[1]
        }
    }

    fn worn_m(&self, share: f64) -> f64 {
        let coated = self.gone_at(share);
        self.before + self.rate[1] * coated + self.rate[0] * (share - coated)
    }

    /// `∫ coat left` over a share of the stretch.
    fn left_integral_m(&self, share: f64) -> f64 {
        let coated = self.gone_at(share);
        self.coat * coated - 0.5 * self.rate[1] * coated * coated
    }
}

/// Micro-welding index added. A layer on the flanks keeps it at 0 until the seating dose has worn through; after that, flanks weld most
/// readily as long as their peaks are fresh: `kept + (1 − kept) exp(−dose)`.
fn welding(spec: &Spec, seating: f64, stretch: &Stretch, share: f64) -> f64 {
    let through = spec.top_groove.coating_m / spec.top_groove.rpk_m;
    let from = seating - through;
    let to = from + stretch.seating * share;
    if to <= 0.0 {
        return 0.0;
    }
    let fresh = |dose: f64| libm::exp(-dose.max(0.0));
    if to - from < 1e-9 {
        return stretch.welding * share * (SEATED_WELDING + (1.0 - SEATED_WELDING) * fresh(from));
    }
    let start = from.max(0.0);
    let peaks = -fresh(start) * libm::expm1(start - to);
    let exposed = SEATED_WELDING * (to - start) + (1.0 - SEATED_WELDING) * peaks;
    stretch.welding * exposed / stretch.seating
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::card;
    use ringland_plugin::default_specimen;

    fn spec() -> Spec {
        let mut specimen = default_specimen(&card::card());
        specimen.surfaces[3].values[0] = 12e-6;
        specimen.surfaces[0].values[2] = 2e-6;
        Spec::read(&specimen).unwrap()
    }

    fn stretch() -> Stretch {
        Stretch {
            sliding: [0.03, 0.01],
            impact_m: [1e-6, 0.5e-6],
            seating: 3.5,
            welding: 0.4,
            skirt_m: [[0.5e-6, 9e-6], [0.2e-6, 4e-6]],
            collapse_m: 1.5e-6,
            softening: 0.02,
            pin_bore_m: 0.3e-6,
            boss: 0.004,
        }
    }

    /// Whatever the cut, the same row: also where the coat wears through or the layer on the flanks does.
    #[test]
    fn a_stretch_gives_the_same_however_it_is_cut() {
        let (spec, stretch) = (spec(), stretch());
        let whole = after(&spec, &[0.0; slot::COUNT], &stretch, 4.0);
        for cut in [0.1, 0.7, 1.3, 2.9] {
            let part = after(&spec, &[0.0; slot::COUNT], &stretch, cut);
            let rest = after(&spec, &part, &stretch, 4.0 - cut);
            for (a, b) in rest.iter().zip(&whole) {
                assert!((a - b).abs() <= 1e-12 * b.abs(), "{rest:?} {whole:?}");
            }
        }
    }

    /// Closed forms against small steps.
    #[test]
    fn closed_forms_agree_with_small_steps() {
        let (spec, stretch) = (spec(), stretch());
        let whole = after(&spec, &[0.0; slot::COUNT], &stretch, 4.0);
        let (mut groove_m, mut index, n) = (0.0, 0.0, 40_000);
        for k in 0..n {
            let at = 4.0 * (f64::from(k) + 0.5) / f64::from(n);
            let row = after(&spec, &[0.0; slot::COUNT], &stretch, at);
            let step = 4.0 / f64::from(n);
            groove_m +=
                step * (stretch.sliding[0] * clearance_m(&spec, &row) + stretch.impact_m[0]);
            let dose = row[slot::GROOVE_SEATING] - 2.0e-6 / spec.top_groove.rpk_m;
            if dose > 0.0 {
                index += step
                    * stretch.welding
                    * (SEATED_WELDING + (1.0 - SEATED_WELDING) * (-dose).exp());
            }
        }
        assert!((groove_m / whole[slot::TOP_GROOVE] - 1.0).abs() < 1e-6);
        assert!((index / whole[slot::WELDING] - 1.0).abs() < 1e-3);
        // 9 µm on the coat for each stretch: 12 µm are gone after 4/3, then 0.5 µm each on metal.
        let expected = 12e-6 + 0.5e-6 * (4.0 - 4.0 / 3.0);
        assert!((whole[slot::THRUST_SKIRT] - expected).abs() < 1e-15);
    }
}
