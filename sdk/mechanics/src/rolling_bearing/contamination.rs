//! Contamination factor `e_C` from the cleanliness of the oil.

/// How oil is kept clean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cleaning {
    /// Circulating oil filtered in the line before the bearing.
    OnlineFilter,
    /// Bath or splash, or a filter beside the line.
    Bath,
    /// Grease.
    Grease,
}

/// Lines of ISO 281:2007 annex A from memory: ISO 4406 code at 6 µm, factor of `κ^0.68 Dpw^0.55`, constant over `Dpw^(1/3)` (mm).
const ONLINE: [[f64; 3]; 4] = [
    [13.0, 0.0864, 0.5663],
    [15.0, 0.0432, 0.9987],
    [17.0, 0.0288, 1.6329],
    [19.0, 0.0216, 2.3362],
];
const BATH: [[f64; 3]; 5] = [
    [13.0, 0.0864, 0.5796],
    [15.0, 0.0288, 1.141],
    [17.0, 0.0133, 1.670],
    [19.0, 0.008_64, 2.5164],
    [21.0, 0.004_11, 3.8974],
];
/// High cleanliness, normal, slight to typical, severe, very severe; the codes set beside them are assumed.
const GREASE: [[f64; 3]; 5] = [
    [13.0, 0.0864, 0.6796],
    [15.0, 0.0432, 1.141],
    [17.0, 0.0177, 1.887],
    [19.0, 0.0115, 2.662],
    [21.0, 0.006_17, 4.06],
];

/// Contamination factor `e_C = a (1 − c/Dpw^(1/3))`, `a = b κ^0.68 Dpw^0.55` at most 1, of ISO 281:2007 annex A, at a pitch diameter \[m\] and a
/// viscosity ratio (held to at most 4). `code` is the scale number of ISO 4406 for particles above 6 µm (the first of -/17/14);
/// each number more is twice the particles. Between the annex's lines ln(b) and c are straight in the code; cleaner than the first is taken as the first, beyond the
/// last the last stretch is led on, which is no longer the standard's. For
/// grease 13 is high cleanliness, 15 normal, 17 slight to typical, 19 severe, 21 very severe contamination. 0 to 1.
pub fn contamination_factor(cleaning: Cleaning, code: f64, kappa: f64, pitch_m: f64) -> f64 {
    let lines: &[[f64; 3]] = match cleaning {
        Cleaning::OnlineFilter => &ONLINE,
        Cleaning::Bath => &BATH,
        Cleaning::Grease => &GREASE,
    };
    let (factor, constant) = between(lines, code);
    let pitch_mm = 1.0e3 * pitch_m;
    let kappa = kappa.clamp(0.0, 4.0);
    let film = factor * libm::pow(kappa, 0.68) * libm::pow(pitch_mm, 0.55);
    film.min(1.0) * (1.0 - constant / libm::cbrt(pitch_mm)).max(0.0)
}

/// Factor and constant at a code: straight in it, ln(factor) too; held before the first line, led on beyond the last.
fn between(lines: &[[f64; 3]], code: f64) -> (f64, f64) {
    let after = lines.partition_point(|line| line[0] < code);
    let last = after.clamp(1, lines.len() - 1);
    let (low, high) = (lines[last - 1], lines[last]);
    let share = ((code - low[0]) / (high[0] - low[0])).max(0.0);
    let log = libm::log(low[1]) + share * libm::log(high[1] / low[1]);
    (libm::exp(log), low[2] + share * (high[2] - low[2]))
}

/// What ISO 4406 calls a scale number: particles in a millilitre, from above 0, doubled from number to number; number 10 ends at 10.
pub fn iso_4406_number(particles_per_ml: f64) -> f64 {
    (10.0 + libm::log2(particles_per_ml / 10.0)).ceil()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Annex A lies within the ranges of the classes that ISO 281 tables for pitch diameters below 100 mm at good films (from memory): high
    /// cleanliness 0.8 to 0.6, normal 0.6 to 0.5, slight 0.5 to 0.3, typical 0.3 to 0.1, severe below 0.1.
    #[test]
    fn codes_fall_in_the_classes_of_the_table() {
        let at = |cleaning, code| contamination_factor(cleaning, code, 1.0, 0.06);
        let inside = |value: f64, low: f64, high: f64| {
            assert!((low..=high).contains(&value), "{value} {low} {high}");
        };
        inside(at(Cleaning::OnlineFilter, 13.0), 0.6, 0.8);
        inside(at(Cleaning::OnlineFilter, 15.0), 0.3, 0.5);
        inside(at(Cleaning::OnlineFilter, 17.0), 0.1, 0.3);
        inside(at(Cleaning::Bath, 17.0), 0.05, 0.3);
        inside(at(Cleaning::Bath, 19.0), 0.0, 0.1);
        inside(at(Cleaning::Grease, 21.0), 0.0, 0.1);
    }

    /// -/17/14 in the line, κ 0.5, 55 mm, by hand: 0.0288 · 0.5^0.68 · 55^0.55 · (1 − 1.6329/55^(1/3)) = 0.0929.
    #[test]
    fn one_by_hand() {
        let value = contamination_factor(Cleaning::OnlineFilter, 17.0, 0.5, 0.055);
        assert!((value - 0.0929).abs() < 2e-4, "{value}");
    }

    #[test]
    fn dirt_never_helps_and_a_film_never_hurts() {
        for cleaning in [Cleaning::OnlineFilter, Cleaning::Bath, Cleaning::Grease] {
            for k in 0..60 {
                let code = 11.0 + 0.2 * f64::from(k);
                let at = |code, kappa| contamination_factor(cleaning, code, kappa, 0.055);
                assert!(at(code + 0.2, 0.7) <= at(code, 0.7));
                assert!(at(code, 0.8) >= at(code, 0.7));
            }
        }
    }

    /// ISO 4406 table (from memory): 5 to 10 particles is number 10, 640 to 1300 is 17, 80 to 160 is 14.
    #[test]
    fn scale_numbers() {
        for (particles, number) in [(9.0, 10.0), (1000.0, 17.0), (100.0, 14.0)] {
            assert!((iso_4406_number(particles) - number).abs() < 1e-12);
        }
    }
}
