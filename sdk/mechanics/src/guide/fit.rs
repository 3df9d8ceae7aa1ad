/// Modulus \[Pa\], Poisson's ratio and linear expansion \[1/K\].
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named")]
pub struct Solid {
    pub modulus_pa: f64,
    pub poisson: f64,
    pub expansion_per_k: f64,
}

/// A guide pressed into a round boss of the head: what press and heat do to its bore. Lamé's thick cylinders, plane stress, even
/// temperature over each body. Diameters in \[m\], each larger than the one before it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PressedGuide {
    /// Bore of the guide.
    pub bore_m: f64,
    /// Outside of the guide.
    pub outer_m: f64,
    /// Outside of the boss.
    pub boss_m: f64,
    /// Interference on diameter when cold \[m\], 0 or more.
    pub interference_m: f64,
    /// The guide.
    pub guide: Solid,
    /// The head.
    pub head: Solid,
}

impl PressedGuide {
    /// Pressure of the press fit \[Pa\] when guide and boss are warmer by so much \[K\] than where the interference was measured; 0 when it
    /// has come loose.
    pub fn pressure_pa(&self, guide_rise_k: f64, head_rise_k: f64) -> f64 {
        let free_m =
            self.guide.expansion_per_k * guide_rise_k - self.head.expansion_per_k * head_rise_k;
        let interference_m = self.interference_m + self.outer_m * free_m;
        let inside = sum_over_difference(self.outer_m, self.bore_m) - self.guide.poisson;
        let outside = sum_over_difference(self.boss_m, self.outer_m) + self.head.poisson;
        let compliance = inside / self.guide.modulus_pa + outside / self.head.modulus_pa;
        (interference_m / (self.outer_m * compliance)).max(0.0)
    }

    /// How much a pressure on the outside closes the bore \[m\].
    pub fn closure_m(&self, pressure_pa: f64) -> f64 {
        let (outer, bore) = (self.outer_m * self.outer_m, self.bore_m * self.bore_m);
        2.0 * pressure_pa * self.bore_m * outer / (self.guide.modulus_pa * (outer - bore))
    }

    /// Growth of the bore from cold to warm \[m\]: its own expansion, and what the press eases or tightens.
    pub fn bore_growth_m(&self, guide_rise_k: f64, head_rise_k: f64) -> f64 {
        let cold_m = self.closure_m(self.pressure_pa(0.0, 0.0));
        let warm_m = self.closure_m(self.pressure_pa(guide_rise_k, head_rise_k));
        self.bore_m * self.guide.expansion_per_k * guide_rise_k + cold_m - warm_m
    }
}

fn sum_over_difference(large_m: f64, small_m: f64) -> f64 {
    let (large, small) = (large_m * large_m, small_m * small_m);
    (large + small) / (large - small)
}

#[cfg(test)]
mod tests {
    use super::*;

    const STEEL: Solid = Solid {
        modulus_pa: 207e9,
        poisson: 0.29,
        expansion_per_k: 11e-6,
    };

    fn fit(head: Solid) -> PressedGuide {
        PressedGuide {
            bore_m: 6e-3,
            outer_m: 11e-3,
            boss_m: 22e-3,
            interference_m: 40e-6,
            guide: STEEL,
            head,
        }
    }

    /// Both of one material: `p = E δ/(2 R³) (ro² − R²)(R² − ri²)/(ro² − ri²)`, δ on the radius (textbook formula, from memory).
    #[test]
    fn a_press_fit_of_one_material_is_the_textbook_one() {
        let (ri, r, ro) = (3e-3_f64, 5.5e-3_f64, 11e-3_f64);
        let (ri2, r2, ro2) = (ri * ri, r * r, ro * ro);
        let expected = 207e9 * 20e-6 / (2.0 * r.powi(3)) * (ro2 - r2) * (r2 - ri2) / (ro2 - ri2);
        let found = fit(STEEL).pressure_pa(0.0, 0.0);
        assert!((found / expected - 1.0).abs() < 1e-12, "{found} {expected}");
    }

    /// One body in effect: it grows as a whole. A head that grows more eases the press until the guide is free.
    #[test]
    fn heat_grows_one_material_as_one_body_and_eases_a_press_in_aluminium() {
        let one = fit(STEEL);
        let grown = one.bore_growth_m(100.0, 100.0);
        assert!((grown / (6e-3 * 11e-6 * 100.0) - 1.0).abs() < 1e-12);
        let aluminium = Solid {
            modulus_pa: 70e9,
            poisson: 0.33,
            expansion_per_k: 21e-6,
        };
        let cast = fit(aluminium);
        let (warm, hot) = (
            cast.bore_growth_m(100.0, 100.0),
            cast.bore_growth_m(400.0, 400.0),
        );
        assert!(warm > grown);
        assert!(cast.pressure_pa(400.0, 400.0) <= 0.0);
        let free = 6e-3 * 11e-6 * 400.0 + cast.closure_m(cast.pressure_pa(0.0, 0.0));
        assert!((hot / free - 1.0).abs() < 1e-12);
    }
}
