use crate::range::{OutOfRange, within};

/// Oil that a seal leaves on the stem, and what it leaves to the asperities.
///
/// A lip lets pass, on a rod drawn through it, a layer `√(2 η u/(9 w))` (inverse hydrodynamic theory of reciprocating seals, H. Blok 1963,
/// from memory; it follows from Reynolds' equation where the film's pressure rises steepest), where w is the steepest pressure rise of the
/// lip on its oil side. That layer is all the guide gets. Asperities carry `F_5/2(h/σ)/F_5/2(0)` of the load (Greenwood-Tripp pressure at
/// the layer's height over that at none), the whole load without oil.
///
/// Leaves out the lift of a converging film: with this little oil the gap is not full, and a full one would carry the stem clear.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Oil {
    /// Steepest pressure rise under the seal's lip \[Pa/m\], 1e8 to 1e14; `None` for a guide that runs dry.
    pub lip_gradient_pa_m: Option<f64>,
    /// Composite roughness `√(Rq1² + Rq2²)` \[m\].
    pub sigma_m: f64,
    /// From this temperature \[K\] oil is lost from the hot end ...
    pub loss_from_k: f64,
    /// ... and at this one \[K\] none is left; in proportion between.
    pub dry_from_k: f64,
}

impl Oil {
    /// Checked: σ 1e-9 to 1e-4 m, lip 1e8 to 1e14 Pa/m, loss below dry.
    ///
    /// # Errors
    /// The field out of range.
    pub fn new(
        lip_gradient_pa_m: Option<f64>,
        sigma_m: f64,
        (loss_from_k, dry_from_k): (f64, f64),
    ) -> Result<Self, OutOfRange> {
        if let Some(gradient) = lip_gradient_pa_m {
            within(
                "lip_gradient_pa_m",
                gradient,
                (1e8, 1e14),
                "1e8 to 1e14 Pa/m",
            )?;
        }
        within("sigma_m", sigma_m, (1e-9, 1e-4), "1e-9 to 1e-4 m")?;
        within(
            "loss_from_k",
            loss_from_k,
            (0.0, dry_from_k - 1e-3),
            "below dry_from_k",
        )?;
        Ok(Self {
            lip_gradient_pa_m,
            sigma_m,
            loss_from_k,
            dry_from_k,
        })
    }

    /// Layer \[m\] that the lip leaves at a viscosity \[Pa·s\] and a speed \[m/s\], both 0 or more.
    pub fn layer_m(&self, viscosity_pa_s: f64, speed_m_s: f64) -> f64 {
        self.lip_gradient_pa_m.map_or(0.0, |gradient| {
            (2.0 * viscosity_pa_s * speed_m_s / (9.0 * gradient)).sqrt()
        })
    }

    /// Share of the layer that stays where the stem is so hot \[K\].
    pub fn kept(&self, stem_k: f64) -> f64 {
        ((self.dry_from_k - stem_k) / (self.dry_from_k - self.loss_from_k)).clamp(0.0, 1.0)
    }

    /// Share of the load on asperities, 0 to 1, under a layer \[m\] at the seal, where the stem is so hot \[K\].
    pub fn asperity_share(&self, layer_m: f64, stem_k: f64) -> f64 {
        let separation = layer_m * self.kept(stem_k) / self.sigma_m;
        libm::exp(ln_share(separation).0)
    }

    /// Change of ln(asperity share) for a change of ln(σ), 0 or more, under the same.
    pub fn roughness_slope(&self, layer_m: f64, stem_k: f64) -> f64 {
        let separation = layer_m * self.kept(stem_k) / self.sigma_m;
        -separation.min(FARTHEST) * ln_share(separation).1
    }
}

/// Separation over σ beyond which the share (5e-11 there) is held.
const FARTHEST: f64 = 6.0;

/// `ln(F_5/2(λ)/F_5/2(0))` and its slope, by a polynomial fitted to the integral: share within 1e-4 of itself.
fn ln_share(separation: f64) -> (f64, f64) {
    let x = separation.min(FARTHEST);
    let [a, b, c, d, e] = LN_SHARE;
    let value = x * (a + x * (b + x * (c + x * (d + x * e))));
    let slope = a + x * (2.0 * b + x * (3.0 * c + x * (4.0 * d + x * 5.0 * e)));
    (value, slope)
}

const LN_SHARE: [f64; 5] = [
    -1.744_007_717,
    -0.267_912_557_2,
    -0.024_934_831_03,
    0.001_710_050_811,
    -5.416_587_85e-5,
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::contact::greenwood_integral;

    fn oil(gradient: Option<f64>) -> Oil {
        Oil::new(gradient, 0.3e-6, (470.0, 530.0)).unwrap()
    }

    /// Greenwood's integral tabulated: F_5/2(0) 0.6166342, (0.5) 0.2404016, (1) 0.08056234 (quadrature outside this project).
    #[test]
    fn asperities_carry_what_greenwoods_integral_says() {
        let oil = oil(Some(1e11));
        for (height_m, share) in [
            (0.0, 1.0),
            (0.15e-6, 0.240_401_6 / 0.616_634_2),
            (0.3e-6, 0.080_562_34 / 0.616_634_2),
        ] {
            let found = oil.asperity_share(height_m, 400.0);
            assert!((found / share - 1.0).abs() < 1e-4, "{found} {share}");
        }
        for k in 0..=60 {
            let separation = 0.1 * f64::from(k);
            let whole = greenwood_integral(2.5, 0.0);
            let share = greenwood_integral(2.5, separation) / whole;
            let found = libm::exp(ln_share(separation).0);
            assert!(
                (found / share - 1.0).abs() < 1e-4,
                "{separation}: {found} {share}"
            );
        }
    }

    /// Reynolds' equation under the lip: at the steepest rise w the film is `h_A = √(2ηu/w)`, at the peak `2/3 h_A`, and the rod leaves
    /// with half of that.
    #[test]
    fn the_layer_is_a_third_of_the_film_under_the_steepest_rise() {
        let film = (2.0 * 5e-3 * 3.0 / 1e11_f64).sqrt();
        let flux = 5e-3 * 6.0 * 3.0 * (film - 2.0 / 3.0 * film) / film.powi(3);
        assert!((flux / 1e11 - 1.0).abs() < 1e-12);
        let layer = oil(Some(1e11)).layer_m(5e-3, 3.0);
        assert!((layer / (film / 3.0) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn heat_and_a_dry_guide_leave_all_to_the_asperities() {
        let oiled = oil(Some(1e11));
        let shares = [400.0, 480.0, 510.0, 540.0].map(|k| oiled.asperity_share(0.2e-6, k));
        assert!(shares.windows(2).all(|pair| pair[0] < pair[1]));
        assert!((shares[3] - 1.0).abs() < 1e-12);
        assert!(oil(None).layer_m(5e-3, 3.0) <= 0.0);
        assert!(Oil::new(Some(1e11), 0.3e-6, (530.0, 470.0)).is_err());
        assert!(Oil::new(Some(0.0), 0.3e-6, (470.0, 530.0)).is_err());
    }

    #[test]
    fn the_slope_over_roughness_is_the_difference() {
        let (a, b) = (
            Oil::new(None, 0.3e-6, (470.0, 530.0)).unwrap(),
            Oil::new(None, 0.3003e-6, (470.0, 530.0)).unwrap(),
        );
        let change = libm::log(b.asperity_share(0.2e-6, 400.0) / a.asperity_share(0.2e-6, 400.0));
        let slope = change / libm::log(1.001);
        assert!((slope / a.roughness_slope(0.2e-6, 400.0) - 1.0).abs() < 1e-2);
    }
}
