//! Wet plates: oil through grooves, ageing by heat, friction over slip speed, hot spots.
//!
//! Left out: oil stirred in the grooves by the sliding plate (it cools better), turbulent grooves, flow between grooves, the film
//! that is squeezed out as the plates close.

use std::f64::consts::PI;

/// Gas constant \[J/(mol·K)\].
pub const GAS_CONSTANT_J_MOL_K: f64 = 8.314_462_618;

/// Oil at one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Oil {
    /// Density \[kg/m³\].
    pub density_kg_m3: f64,
    /// Specific heat capacity \[J/(kg·K)\].
    pub heat_capacity_j_kg_k: f64,
    /// Thermal conductivity \[W/(m·K)\].
    pub conductivity_w_m_k: f64,
}

/// Radial grooves of one face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grooves {
    /// How many.
    pub count: f64,
    /// Width \[m\].
    pub width_m: f64,
    /// Depth \[m\].
    pub depth_m: f64,
    /// Length, from the inner to the outer edge \[m\].
    pub length_m: f64,
}

impl Grooves {
    /// Diameter of the tube of the same area over wetted perimeter \[m\].
    pub fn hydraulic_diameter_m(&self) -> f64 {
        2.0 * self.width_m * self.depth_m / (self.width_m + self.depth_m)
    }

    /// Nusselt number of laminar flow that develops from the inner edge, after H. Hausen (1943; textbook, from memory):
    /// `3.66 + 0.0668 Gz / (1 + 0.04 Gz^(2/3))`, for a flow through all grooves together \[m³/s\].
    pub fn nusselt(&self, flow_m3_s: f64, oil: &Oil) -> f64 {
        let speed_m_s = flow_m3_s / (self.count * self.width_m * self.depth_m);
        let diameter_m = self.hydraulic_diameter_m();
        let peclet = speed_m_s * diameter_m * oil.density_kg_m3 * oil.heat_capacity_j_kg_k
            / oil.conductivity_w_m_k;
        let graetz = peclet * diameter_m / self.length_m;
        3.66 + 0.0668 * graetz / (1.0 + 0.04 * libm::cbrt(graetz * graetz))
    }

    /// Heat that a face gives to the oil for each kelvin by which the plate is hotter than the oil that comes in, over the
    /// whole face \[W/(m²·K)\]: `ṁ c (1 − exp(−h A / ṁ c)) / A_face`. Only the plate's side of a groove counts; the
    /// lining's insulates.
    pub fn transfer_w_m2_k(&self, flow_m3_s: f64, oil: &Oil, face_m2: f64) -> f64 {
        let carried = flow_m3_s * oil.density_kg_m3 * oil.heat_capacity_j_kg_k;
        if carried <= 0.0 {
            return 0.0;
        }
        let nusselt = self.nusselt(flow_m3_s, oil);
        let film = nusselt * oil.conductivity_w_m_k / self.hydraulic_diameter_m();
        let wetted_m2 = self.count * self.width_m * self.length_m;
        -carried * libm::expm1(-film * wetted_m2 / carried) / face_m2
    }
}

/// A change that heat works, after S. Arrhenius (1889): its rate is `exp(−E/R (1/T − 1/T_ref)) / t_ref`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arrhenius {
    /// Activation energy E \[J/mol\].
    pub activation_j_mol: f64,
    /// T_ref \[K\].
    pub reference_k: f64,
    /// Time at T_ref to a dose of 1 \[s\].
    pub reference_s: f64,
}

impl Arrhenius {
    fn exponent(&self, temp_k: f64) -> f64 {
        let slope_k = self.activation_j_mol / GAS_CONSTANT_J_MOL_K;
        slope_k * (1.0 / self.reference_k - 1.0 / temp_k)
    }

    /// Dose in each second at a temperature \[1/s\].
    pub fn rate_per_s(&self, temp_k: f64) -> f64 {
        libm::exp(self.exponent(temp_k)) / self.reference_s
    }

    /// Dose beyond that at `base_k` of a small rise, of which the integrals over time of itself, its square and its cube are
    /// given \[K·s, K²·s, K³·s\]: the rate expanded to the third order. To 2 % for a rise of 8 K at 110 kJ/mol and 370 K.
    pub fn small_rise(&self, base_k: f64, [first, second, third]: [f64; 3]) -> f64 {
        let b = self.activation_j_mol / (GAS_CONSTANT_J_MOL_K * base_k);
        let by_first = b * first / base_k;
        let by_second = b * (0.5 * b - 1.0) * second / (base_k * base_k);
        let by_third = b * (b * b / 6.0 - b + 1.0) * third / (base_k * base_k * base_k);
        self.rate_per_s(base_k) * (by_first + by_second + by_third)
    }

    /// Dose over a history: pairs of time \[s\], rising, and temperature \[K\]. Between two of them the logarithm of the rate is
    /// taken as straight, which is next to exact for a straight temperature.
    pub fn dose(&self, history: impl IntoIterator<Item = (f64, f64)>) -> f64 {
        let mut sum_s = 0.0;
        let mut last: Option<(f64, f64, f64)> = None;
        for (at_s, temp_k) in history {
            let exponent = self.exponent(temp_k);
            let rate = libm::exp(exponent);
            if let Some((before_s, before, rate_before)) = last {
                let rise = exponent - before;
                let mean = if rise.abs() < 1e-4 {
                    0.5 * (rate + rate_before)
                } else {
                    (rate - rate_before) / rise
                };
                sum_s += mean * (at_s - before_s);
            }
            last = Some((at_s, exponent, rate));
        }
        sum_s / self.reference_s
    }
}

/// Friction of lining on steel, about the speeds of creep and judder.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Friction {
    /// Coefficient of a new lining in fresh oil.
    pub coefficient: f64,
    /// Its slope over slip speed \[s/m\].
    pub slope_s_m: f64,
}

/// How friction ages.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ageing {
    /// Fall of ln(coefficient) for each unit of glaze.
    pub coefficient_by_glaze: f64,
    /// Fall of the slope when the lining is glazed all over \[s/m\].
    pub slope_by_glaze_s_m: f64,
    /// Fall of the slope when the oil's friction modifier is gone \[s/m\].
    pub slope_by_modifier_s_m: f64,
}

impl Friction {
    /// Friction of a lining that has glazed by `glaze` (a dose; its glazed share is `1 − exp(−glaze)`) in oil of which the
    /// share `modifier` of its friction modifier is left.
    #[must_use]
    pub fn aged(&self, by: &Ageing, glaze: f64, modifier: f64) -> Self {
        let glazed = -libm::expm1(-glaze);
        Self {
            coefficient: self.coefficient * libm::exp(-by.coefficient_by_glaze * glaze),
            slope_s_m: self.slope_s_m
                - by.slope_by_glaze_s_m * glazed
                - by.slope_by_modifier_s_m * (1.0 - modifier),
        }
    }

    /// Dose of glaze at which the coefficient of a new lining has fallen to a limit: 0 when it is there from the start.
    pub fn glaze_to(&self, by: &Ageing, limit: f64) -> f64 {
        (libm::log(self.coefficient / limit) / by.coefficient_by_glaze).max(0.0)
    }
}

/// A steel plate between two linings, as hot spots see it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plate {
    /// Half its thickness \[m\].
    pub half_m: f64,
    /// Thermal conductivity \[W/(m·K)\].
    pub conductivity_w_m_k: f64,
    /// Thermal diffusivity \[m²/s\].
    pub diffusivity_m2_s: f64,
    /// Thermal expansion \[1/K\].
    pub expansion_per_k: f64,
    /// Modulus of elasticity \[Pa\].
    pub modulus_pa: f64,
    /// Poisson's ratio.
    pub poisson: f64,
}

/// Where hot spots start.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HotSpots {
    /// Sliding speed above which a hotter place draws ever more load \[m/s\].
    pub critical_m_s: f64,
    /// Wave number along the plate at which that is lowest \[1/m\].
    pub wave_number_per_m: f64,
}

impl Plate {
    /// Critical speed of spots that alternate between the two faces, along which the plate bends, for a wave number \[1/m\]. The
    /// lining (plane-strain modulus \[Pa\]) conducts no heat and slides over the spots, which stay on the plate.
    ///
    /// A free plate with flux q on its faces bends by `α(1+ν) q/(K m²)` (J. Dundurs, steady heat); plate and linings press it
    /// flat, and the pressure times friction and speed is the flux. The insulated limit of K. Lee and J. R. Barber, J. Tribol.
    /// 115 (1993) 607; in a thick plate that of R. A. Burton (1973), `2 K m (1 − ν)/(μ α E)` (both from memory).
    pub fn critical_m_s(
        &self,
        wave_number_per_m: f64,
        friction: f64,
        lining_modulus_pa: f64,
    ) -> f64 {
        let reach = wave_number_per_m * self.half_m;
        let stiffness_pa = self.modulus_pa / (1.0 - self.poisson * self.poisson);
        // Compliance of the plate over that of a half space: 1 when thick, a beam's when thin.
        let bending = if reach > 20.0 {
            1.0
        } else if reach < 1e-2 {
            1.5 / (reach * reach * reach)
        } else {
            let (sinh, cosh) = (libm::sinh(reach), libm::cosh(reach));
            cosh * cosh / (sinh * cosh - reach)
        };
        let give = 1.0 / lining_modulus_pa + bending / stiffness_pa;
        2.0 * self.conductivity_w_m_k * wave_number_per_m * give
            / (self.expansion_per_k * (1.0 + self.poisson) * friction)
    }

    /// The lowest critical speed, among waves of one to many on a circle of a radius \[m\].
    pub fn hot_spots(&self, friction: f64, lining_modulus_pa: f64, radius_m: f64) -> HotSpots {
        let waves = (1..=MOST_WAVES).map(|waves| {
            let wave_number_per_m = f64::from(waves) / radius_m;
            let critical_m_s = self.critical_m_s(wave_number_per_m, friction, lining_modulus_pa);
            HotSpots {
                critical_m_s,
                wave_number_per_m,
            }
        });
        let none = HotSpots {
            critical_m_s: f64::INFINITY,
            wave_number_per_m: 1.0 / radius_m,
        };
        waves.fold(none, |best, next| {
            if next.critical_m_s < best.critical_m_s {
                next
            } else {
                best
            }
        })
    }

    /// Time in which heat evens out between the two faces \[s\], `(2a/π)²/κ`.
    pub fn levelling_s(&self) -> f64 {
        let depth_m = 2.0 * self.half_m / PI;
        depth_m * depth_m / self.diffusivity_m2_s
    }

    /// Logarithm of the growth of an unevenness while slip falls evenly to 0 from `start_m_s`: `(v/v_cr − 1)` in each
    /// [`Plate::levelling_s`] as long as it is above 0, to first order about the critical speed.
    pub fn growth(&self, critical_m_s: f64, start_m_s: f64, duration_s: f64) -> f64 {
        let over = start_m_s / critical_m_s;
        if over <= 1.0 {
            return 0.0;
        }
        0.5 * duration_s / self.levelling_s() * (over - 1.0) * (over - 1.0) / over
    }
}

/// Waves on a circle up to which hot spots are looked for.
const MOST_WAVES: u32 = 60;

#[cfg(test)]
mod tests {
    use super::*;

    const OIL: Oil = Oil {
        density_kg_m3: 830.0,
        heat_capacity_j_kg_k: 2150.0,
        conductivity_w_m_k: 0.13,
    };

    fn grooves() -> Grooves {
        Grooves {
            count: 72.0,
            width_m: 2.0e-3,
            depth_m: 0.4e-3,
            length_m: 0.02,
        }
    }

    fn steel(half_m: f64) -> Plate {
        Plate {
            half_m,
            conductivity_w_m_k: 46.0,
            diffusivity_m2_s: 1.2e-5,
            expansion_per_k: 1.2e-5,
            modulus_pa: 2.05e11,
            poisson: 0.29,
        }
    }

    /// Limits of the two laws: a crawling flow carries all it can, a fast one takes what its film lets through; Nusselt's
    /// number is 3.66 far downstream (Graetz's problem, textbook).
    #[test]
    fn grooves_keep_their_limits() {
        let (crawl, face_m2) = (1e-9, 9e-3);
        let carried = crawl * 830.0 * 2150.0;
        let found = grooves().transfer_w_m2_k(crawl, &OIL, face_m2);
        assert!((found * face_m2 / carried - 1.0).abs() < 1e-6);
        assert!((grooves().nusselt(crawl, &OIL) - 3.66).abs() < 1e-3);
        let fast = 1.0;
        let film = grooves().nusselt(fast, &OIL) * 0.13 / grooves().hydraulic_diameter_m();
        let through = film * 72.0 * 2.0e-3 * 0.02 / face_m2;
        assert!((grooves().transfer_w_m2_k(fast, &OIL, face_m2) / through - 1.0).abs() < 1e-3);
        assert!(grooves().transfer_w_m2_k(0.0, &OIL, face_m2).abs() < 1e-12);
    }

    /// Hausen's formula worked by hand at a Graetz number of 100: 3.66 + 6.68 / (1 + 0.04 · 21.544) = 7.2484.
    #[test]
    fn nusselt_is_hausens() {
        let g = grooves();
        let diameter_m = g.hydraulic_diameter_m();
        let speed = 100.0 * g.length_m * 0.13 / (diameter_m * diameter_m * 830.0 * 2150.0);
        let found = g.nusselt(speed * 72.0 * 2.0e-3 * 0.4e-3, &OIL);
        assert!((found - 7.2484).abs() < 1e-3, "{found}");
    }

    /// A constant temperature, one that doubles the rate, and a ramp against fine steps. On a ramp the exponent bends by
    /// `E Δ²/(4 R T³)` in the middle of a step Δ, 0.4 % at the hot end of this one.
    #[test]
    fn dose_is_the_integral_of_the_rate() {
        let law = Arrhenius {
            activation_j_mol: 110e3,
            reference_k: 473.0,
            reference_s: 1000.0,
        };
        assert!((law.dose([(0.0, 473.0), (500.0, 473.0)]) - 0.5).abs() < 1e-12);
        let slope_k = 110e3 / GAS_CONSTANT_J_MOL_K;
        let double_k = 1.0 / (1.0 / 473.0 - std::f64::consts::LN_2 / slope_k);
        assert!((law.rate_per_s(double_k) * 1000.0 - 2.0).abs() < 1e-9);
        let ramp = |steps: u32| {
            let at = move |i: u32| f64::from(i) / f64::from(steps);
            law.dose((0..=steps).map(|i| (at(i), 380.0 + 300.0 * at(i))))
        };
        assert!((ramp(16) / ramp(4096) - 1.0).abs() < 4e-3);
        assert!(law.dose([(0.0, 600.0)]).abs() < 1e-30);
        // A rise that is held: its moments are powers.
        let held = law.small_rise(370.0, [8.0, 64.0, 512.0]);
        let exact = law.rate_per_s(378.0) - law.rate_per_s(370.0);
        assert!((held / exact - 1.0).abs() < 0.02, "{held} {exact}");
    }

    #[test]
    fn friction_ages_towards_a_falling_slope() {
        let new = Friction {
            coefficient: 0.13,
            slope_s_m: 0.003,
        };
        let by = Ageing {
            coefficient_by_glaze: 0.25,
            slope_by_glaze_s_m: 0.006,
            slope_by_modifier_s_m: 0.005,
        };
        assert_eq!(new.aged(&by, 0.0, 1.0), new);
        let worn_out = new.aged(&by, 1e3, 0.0);
        assert!((worn_out.slope_s_m + 0.008).abs() < 1e-12);
        let at_limit = new.aged(&by, new.glaze_to(&by, 0.10), 1.0);
        assert!((at_limit.coefficient - 0.10).abs() < 1e-12);
        assert!(new.glaze_to(&by, 0.2).abs() < 1e-12);
    }

    /// Thick plate on a rigid lining: Burton's speed. Thin plate: that of a beam on its own stiffness.
    #[test]
    fn critical_speed_has_its_limits() {
        let m = 200.0;
        let burton = 2.0 * 46.0 * m * (1.0 - 0.29) / (0.13 * 1.2e-5 * 2.05e11);
        let thick = steel(1.0).critical_m_s(m, 0.13, 1e30);
        assert!((thick / burton - 1.0).abs() < 1e-9, "{thick} {burton}");
        let thin = steel(1e-4).critical_m_s(m, 0.13, 1e30);
        let reach: f64 = m * 1e-4;
        assert!((thin / (burton * 1.5 / reach.powi(3)) - 1.0).abs() < 2e-3);
        // Series and closed form meet.
        let [below, above] =
            [0.999e-2, 1.001e-2].map(|reach| steel(reach / m).critical_m_s(m, 0.13, 1e30));
        assert!((below / above - (1.001_f64 / 0.999).powi(3)).abs() < 1e-3);
    }

    /// A stiffer lining and a thinner plate start hot spots earlier; below the critical speed nothing grows.
    #[test]
    fn hot_spots_come_with_stiff_linings_and_thin_plates() {
        let soft = steel(1.5e-3).hot_spots(0.13, 1e8, 0.0725);
        let stiff = steel(1.5e-3).hot_spots(0.13, 1e9, 0.0725);
        assert!(stiff.critical_m_s < soft.critical_m_s);
        let plate = steel(1.5e-3);
        assert!(plate.growth(40.0, 39.0, 1.6).abs() < 1e-30);
        // By quadrature of (v/v_cr - 1)/levelling.
        let (steps, mut sum) = (20_000_u32, 0.0);
        for i in 0..steps {
            let v = 60.0 * (1.0 - (f64::from(i) + 0.5) / f64::from(steps));
            sum += (v / 40.0 - 1.0).max(0.0) * 1.6 / f64::from(steps) / plate.levelling_s();
        }
        assert!((plate.growth(40.0, 60.0, 1.6) / sum - 1.0).abs() < 1e-6);
    }
}
