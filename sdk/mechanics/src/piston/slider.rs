use libm::log;

/// A slider bearing of infinite width with a plane, inclined face: one-dimensional, isoviscous, incompressible, rigid and smooth.
///
/// The gap falls from `least + rise` at the inlet to `least` at the outlet over the length; pressure is ambient at both ends. Reynolds 1886;
/// the closed forms stand in any textbook of lubrication (from memory, checked against quadrature of the Reynolds equation).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slider {
    /// Length in the direction of sliding \[m\], above 0.
    pub length_m: f64,
    /// Inlet gap less outlet gap \[m\], above 0.
    pub rise_m: f64,
    /// Thickness of the oil that the opposite surface brings \[m\]; infinite for a flooded inlet. The film starts where the gap is filled:
    /// flow `U h_m / 2` of the film equals the `U h_s` brought, so its inlet lies where `h1 h2/(h1 + h2) = h_s`.
    pub supply_m: f64,
}

/// What a slider's film does, for each metre of width.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SliderLoad {
    /// Load carried \[N/m\].
    pub load_n_m: f64,
    /// Drag on the moving surface \[N/m\].
    pub drag_n_m: f64,
}

/// Below this inlet over outlet gap less 1, series replace the closed forms, which cancel there.
const FLAT: f64 = 1e-3;

impl Slider {
    /// Film at an outlet gap \[m\], viscosity \[Pa·s\] and sliding speed \[m/s\], 0 or more:
    /// `W = 6 η U (B/s)² (ln a − 2 (a − 1)/(a + 1))`, `F = η U (B/s) (4 ln a − 6 (a − 1)/(a + 1))`, with `a` the inlet over the outlet gap, B
    /// and s length and rise of the whole face. Where the supply is short, a is that of the filled part and only that part drags.
    pub fn film(&self, least_m: f64, viscosity_pa_s: f64, speed_m_s: f64) -> SliderLoad {
        let ratio = self.filled_ratio(least_m);
        let slope = self.rise_m / self.length_m;
        let driven = viscosity_pa_s * speed_m_s;
        let excess = ratio - 1.0;
        if excess <= 0.0 {
            return SliderLoad::default();
        }
        let (load, drag) = if excess < FLAT {
            // ln a − 2(a − 1)/(a + 1) = e³/12 − e⁴/8 + ..., 4 ln a − 6(a − 1)/(a + 1) = e − e²/2 + ...
            (
                excess.powi(3) * (1.0 / 12.0 - excess / 8.0),
                excess * (1.0 - 0.5 * excess),
            )
        } else {
            let share = excess / (ratio + 1.0);
            (log(ratio) - 2.0 * share, 4.0 * log(ratio) - 6.0 * share)
        };
        SliderLoad {
            load_n_m: 6.0 * driven / (slope * slope) * load,
            drag_n_m: driven / slope * drag,
        }
    }

    /// Inlet over outlet gap of the part that is filled; 1 or less when the oil does not fill even the outlet.
    fn filled_ratio(&self, least_m: f64) -> f64 {
        let whole = 1.0 + self.rise_m / least_m;
        if least_m <= self.supply_m {
            return whole;
        }
        whole.min(self.supply_m / (least_m - self.supply_m))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FLOODED: Slider = Slider {
        length_m: 0.05,
        rise_m: 20e-6,
        supply_m: f64::INFINITY,
    };

    /// The best incline of a fixed slider: inlet over outlet gap 2.19, load 0.1602 η U B²/h² (Rayleigh 1918), friction 4.70 h/B times the
    /// load there. Numbers from memory, as in the textbooks.
    #[test]
    fn the_best_incline_is_that_of_rayleigh() {
        let number = |ratio: f64| {
            let least_m = FLOODED.rise_m / (ratio - 1.0);
            let film = FLOODED.film(least_m, 0.01, 5.0);
            let scale = 0.01 * 5.0 * (FLOODED.length_m / least_m).powi(2);
            let friction = film.drag_n_m / film.load_n_m * FLOODED.length_m / least_m;
            (film.load_n_m / scale, friction)
        };
        let best = (0..400)
            .map(|k| 1.5 + 0.005 * f64::from(k))
            .max_by(|a, b| number(*a).0.total_cmp(&number(*b).0))
            .unwrap();
        assert!((best - 2.19).abs() < 0.01, "{best}");
        let (load, friction) = number(best);
        assert!((load - 0.1602).abs() < 5e-5, "{load}");
        assert!((friction - 4.70).abs() < 0.02, "{friction}");
    }

    /// Load and drag by quadrature of `dp/dx = 6 η U (h − h_m)/h³` and of `η U/h + h/2 dp/dx`: an independent way to the same numbers.
    fn quadrature(length_m: f64, inlet_m: f64, least_m: f64, driven: f64) -> (f64, f64) {
        let n = 20_000;
        let h_mid = |k: i32| inlet_m - (inlet_m - least_m) * (f64::from(k) + 0.5) / f64::from(n);
        let dx = length_m / f64::from(n);
        let (mut squares, mut cubes) = (0.0, 0.0);
        for k in 0..n {
            squares += h_mid(k).powi(-2);
            cubes += h_mid(k).powi(-3);
        }
        let zero_slope = squares / cubes;
        let (mut pressure, mut load, mut drag) = (0.0, 0.0, 0.0);
        for k in 0..n {
            let h = h_mid(k);
            let slope = 6.0 * driven * (h - zero_slope) / h.powi(3);
            load += (pressure + 0.5 * slope * dx) * dx;
            pressure += slope * dx;
            drag += (driven / h + 0.5 * h * slope) * dx;
        }
        (load, drag)
    }

    #[test]
    fn closed_forms_agree_with_quadrature() {
        for least_m in [2e-6, 9e-6, 40e-6] {
            let film = FLOODED.film(least_m, 0.008, 7.0);
            let (load, drag) = quadrature(0.05, least_m + 20e-6, least_m, 0.056);
            assert!((film.load_n_m / load - 1.0).abs() < 1e-5);
            assert!((film.drag_n_m / drag - 1.0).abs() < 1e-5);
        }
    }

    /// A starved slider is the flooded one of its filled length; the flow that leaves is the flow that is brought.
    #[test]
    fn a_starved_film_is_that_of_the_filled_length() {
        let starved = Slider {
            supply_m: 3e-6,
            ..FLOODED
        };
        let least_m = 4e-6;
        let film = starved.film(least_m, 0.008, 7.0);
        // h1 h2/(h1 + h2) = h_s gives h1 = 12 µm, 8 of the 20 µm of rise.
        let (load, drag) = quadrature(0.05 * 8.0 / 20.0, 12e-6, least_m, 0.056);
        assert!((film.load_n_m / load - 1.0).abs() < 1e-5);
        assert!((film.drag_n_m / drag - 1.0).abs() < 1e-5);
        assert_eq!(starved.film(6.5e-6, 0.008, 7.0), SliderLoad::default());
    }

    /// Series and closed form meet.
    #[test]
    fn a_nearly_parallel_face_is_continuous() {
        let at = |excess: f64| FLOODED.film(FLOODED.rise_m / excess, 0.008, 7.0);
        let (below, above) = (at(0.999_999 * FLAT), at(1.000_001 * FLAT));
        assert!((below.load_n_m / above.load_n_m - 1.0).abs() < 2e-5);
        assert!((below.drag_n_m / above.drag_n_m - 1.0).abs() < 1e-5);
    }
}
