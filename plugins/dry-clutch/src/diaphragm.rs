//! Clamp load of the diaphragm spring as the stack wears: that of a coned disc between pressure plate and fulcrum; the fingers carry none.

use ringland_mechanics::spring::belleville::DiscSpring;

/// A diaphragm spring, its lengths as met at the pressure plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Diaphragm {
    /// Cone height, free \[m\].
    pub height_m: f64,
    /// Thickness \[m\].
    pub thickness_m: f64,
    /// Deflection in the new clutch, engaged \[m\].
    pub deflection_m: f64,
}

impl Diaphragm {
    /// A coned disc with the diaphragm's load but for a factor, which the share of a load does not see: diameters and modulus.
    fn disc(&self) -> DiscSpring {
        DiscSpring {
            outer_m: 2.0,
            inner_m: 1.0,
            thickness_m: self.thickness_m,
            height_m: self.height_m,
            modulus_pa: 1.0e12,
            poisson: 0.0,
        }
    }

    /// Load once the stack has worn by so much, over that of the new clutch: the diaphragm follows and deflects less. 0 when it has run out of
    /// travel.
    pub fn clamp_share(&self, stack_wear_m: f64) -> f64 {
        let left_m = (self.deflection_m - stack_wear_m).max(0.0);
        let disc = self.disc();
        (disc.load_n(left_m) / disc.load_n(self.deflection_m)).max(0.0)
    }

    /// Whether the new clutch has a load at all.
    pub fn clamps(&self) -> bool {
        self.disc().load_n(self.deflection_m) > 0.0
    }

    /// Wear of the stack at which the clamp load is highest \[m\]; negative when it falls from the start. `None` when the
    /// load has no highest place, `h < √2 t`.
    pub fn wear_at_highest_m(&self) -> Option<f64> {
        let (h, t) = (self.height_m, self.thickness_m);
        let under = (h * h - 2.0 * t * t) / 3.0;
        (under > 0.0).then(|| self.deflection_m - (h - under.sqrt()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SPRING: Diaphragm = Diaphragm {
        height_m: 3.2e-3,
        thickness_m: 2.0e-3,
        deflection_m: 2.6e-3,
    };

    /// At the stationary place of the closed form the load is above its neighbours; it rises, then falls, then is gone.
    #[test]
    fn the_load_rises_and_falls_over_wear() {
        let at = SPRING.wear_at_highest_m().unwrap();
        let share = |wear_m| SPRING.clamp_share(wear_m);
        assert!(at > 0.0 && at < 0.5e-3, "{at}");
        assert!(share(at) > share(at - 1e-5) && share(at) > share(at + 1e-5));
        assert!((share(0.0) - 1.0).abs() < 1e-15);
        assert!(share(1.5e-3) < 1.0 && share(3.0e-3) <= 0.0);
    }
}
