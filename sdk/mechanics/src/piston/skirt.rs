use super::root::falling_root;
use super::slider::Slider;
use crate::contact::{GreenwoodTable, GreenwoodTripp};

/// One face of a piston skirt on the bore: an inclined slider with rough surfaces.
#[derive(Debug, Clone, Copy)]
pub struct SkirtFace<'a> {
    /// Its film.
    pub slider: Slider,
    /// Its contact with the bore.
    pub contact: GreenwoodTripp,
    /// Table of the integrals.
    pub table: &'a GreenwoodTable,
    /// Width of the face round the bore \[m\].
    pub width_m: f64,
}

/// Balance of one instant.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SkirtFilm {
    /// Least gap between mean planes \[m\].
    pub least_m: f64,
    /// Mean asperity pressure over the face \[Pa\].
    pub asperity_pa: f64,
    /// Viscous drag \[N\].
    pub drag_n: f64,
}

const THICKEST_M: f64 = 1e-3;
/// Least gap over σ: there summits are pressed flat and carry what is left. Assumed.
const FLAT: f64 = 0.2;

impl SkirtFace<'_> {
    /// Gap at which film and asperities carry a side force \[N\], at a viscosity \[Pa·s\] and sliding speed \[m/s\]: quasi-static. No
    /// force leaves the face unloaded; summits pressed flat (a gap of 0.2 σ) carry what is left.
    ///
    /// Asperities touch along the incline as the gap there lets them: Simpson's rule over the face. Leaves out squeeze, side leakage,
    /// deformation of the skirt and tilt other than the incline.
    pub fn balance(&self, side_n: f64, viscosity_pa_s: f64, speed_m_s: f64) -> SkirtFilm {
        let load_n_m = side_n / self.width_m;
        if load_n_m <= 0.0 {
            return SkirtFilm {
                least_m: THICKEST_M,
                ..SkirtFilm::default()
            };
        }
        let miss = |log_m: f64| {
            let least_m = libm::exp(log_m);
            let film = self.slider.film(least_m, viscosity_pa_s, speed_m_s);
            let carried = film.load_n_m + self.asperity_pa(least_m) * self.slider.length_m;
            libm::log((carried / load_n_m).max(1e-3))
        };
        // Thicker than both, neither film nor summits carry anything.
        let most_m = (2.0 * self.slider.supply_m).max(REACH * self.contact.sigma_m);
        let flat_log = libm::log(FLAT * self.contact.sigma_m);
        let least_m = libm::exp(falling_root(
            (flat_log, libm::log(most_m.min(THICKEST_M))),
            (1e-10, 1e-6),
            miss,
        ));
        let film = self.slider.film(least_m, viscosity_pa_s, speed_m_s);
        SkirtFilm {
            least_m,
            // What the film leaves: also where summits are pressed flat.
            asperity_pa: (load_n_m - film.load_n_m).max(0.0) / self.slider.length_m,
            drag_n: self.width_m * film.drag_n_m,
        }
    }

    fn asperity_pa(&self, least_m: f64) -> f64 {
        let reach_m = REACH * self.contact.sigma_m - least_m;
        if reach_m <= 0.0 {
            return 0.0;
        }
        // Only the part of the incline within reach of the summits counts.
        let share = (reach_m / self.slider.rise_m).min(1.0);
        let at = |t: f64| {
            let gap_m = least_m + t * share * self.slider.rise_m;
            self.contact.pressure_pa(self.table, gap_m)
        };
        let cells = 8;
        let sum: f64 = (0..=cells)
            .map(|k| {
                let weight = match k {
                    0 | 8 => 1.0,
                    odd if odd % 2 == 1 => 4.0,
                    _ => 2.0,
                };
                weight * at(f64::from(k) / f64::from(cells))
            })
            .sum();
        share * sum / f64::from(3 * cells)
    }
}

/// Standard deviations of height within which summits are looked for: `F_5/2` is 5e-10 there.
const REACH: f64 = 5.5;

#[cfg(test)]
mod tests {
    use super::*;

    fn face(table: &GreenwoodTable, supply_m: f64) -> SkirtFace<'_> {
        SkirtFace {
            slider: Slider {
                length_m: 0.045,
                rise_m: 20e-6,
                supply_m,
            },
            contact: GreenwoodTripp {
                sigma_m: 1.0e-6,
                radius_m: 40e-6,
                density_per_m2: 1.0e9,
                modulus_pa: 5.0e10,
            },
            table,
            width_m: 0.045,
        }
    }

    /// Film and asperities add up to the force.
    #[test]
    fn the_balance_closes() {
        let table = GreenwoodTable::new();
        for (supply_m, side_n, speed) in [
            (f64::INFINITY, 3000.0, 10.0),
            (2e-6, 5000.0, 6.0),
            (2e-6, 800.0, 0.2),
            (2e-6, 4000.0, 0.0),
        ] {
            let face = face(&table, supply_m);
            let found = face.balance(side_n, 6e-3, speed);
            let film_n = face.width_m * face.slider.film(found.least_m, 6e-3, speed).load_n_m;
            let asperity_n = found.asperity_pa * face.width_m * face.slider.length_m;
            assert!(
                ((film_n + asperity_n) / side_n - 1.0).abs() < 1e-5,
                "{found:?}"
            );
        }
    }

    /// Stribeck: slower, thinner oil or more force never thickens the film.
    #[test]
    fn the_film_follows_stribeck() {
        let table = GreenwoodTable::new();
        let face = face(&table, 2e-6);
        let gap = |n: f64, eta: f64, u: f64| face.balance(n, eta, u).least_m;
        let usual = gap(3000.0, 6e-3, 5.0);
        assert!(gap(3500.0, 6e-3, 5.0) < usual);
        assert!(gap(3000.0, 5e-3, 5.0) < usual);
        assert!(gap(3000.0, 6e-3, 4.0) < usual);
        assert!(face.balance(0.0, 6e-3, 5.0).asperity_pa == 0.0);
    }
}
