//! The pack as bodies of mechanics: faces, wall, grooves, plate, friction.

use ringland_mechanics::clutch::heat::{Body, Boundary, Layer};
use ringland_mechanics::clutch::judder::Driveline;
use ringland_mechanics::clutch::torque::{Annulus, capacity_n_m};
use ringland_mechanics::clutch::wet::{Arrhenius, Friction, Grooves, Plate};

use crate::constants as c;
use crate::spec::Spec;

/// Boundary of [`Spec::wall`] at which lining and separator rub.
pub const INTERFACE: usize = 2;
/// Layer of [`Spec::wall`] that is half a separator.
pub const SEPARATOR: usize = 2;

impl Spec {
    /// One face.
    pub fn face(&self) -> Annulus {
        Annulus {
            outer_m: 0.5 * self.outer_m,
            inner_m: 0.5 * self.inner_m,
        }
    }

    /// Area of all faces, grooves not taken off \[m²\].
    pub fn area_m2(&self) -> f64 {
        self.faces * self.face().area_m2()
    }

    /// Friction radius \[m\]: linings wear little, so the pressure stays even.
    pub fn radius_m(&self) -> f64 {
        self.face().uniform_pressure_radius_m()
    }

    /// Torque \[N·m\] that the pack carries at its clamp load with a friction coefficient.
    pub fn capacity_n_m(&self, friction: f64) -> f64 {
        capacity_n_m(self.faces, friction, self.clamp_n, self.radius_m())
    }

    /// Grooves of one face.
    pub fn grooves(&self) -> Grooves {
        Grooves {
            count: self.groove_count,
            width_m: self.groove_width_m,
            depth_m: self.groove_depth_m,
            length_m: 0.5 * (self.outer_m - self.inner_m),
        }
    }

    /// Heat transfer from the rubbing faces to the oil in the grooves, over the whole face \[W/(m²·K)\].
    pub fn cooling_w_m2_k(&self) -> f64 {
        let flow_m3_s = self.oil_flow_m3_s / self.faces;
        self.grooves()
            .transfer_w_m2_k(flow_m3_s, &c::OIL, self.face().area_m2())
    }

    fn layers(&self) -> [Layer; 3] {
        let steel = |thickness_m| Layer {
            thickness_m,
            conductivity_w_m_k: c::STEEL_CONDUCTIVITY_W_M_K,
            density_kg_m3: c::STEEL_DENSITY_KG_M3,
            heat_capacity_j_kg_k: c::STEEL_HEAT_CAPACITY_J_KG_K,
        };
        // Density and heat capacity of the lining count as their product alone.
        let lining = Layer {
            thickness_m: self.lining_m,
            conductivity_w_m_k: self.lining_conductivity_w_m_k,
            density_kg_m3: 1000.0,
            heat_capacity_j_kg_k: self.lining_heat_capacity_j_m3_k / 1000.0,
        };
        [
            steel(0.5 * self.core_m),
            lining,
            steel(0.5 * self.separator_m),
        ]
    }

    /// Half a core, lining, half a separator: insulated in the middle of each plate, heated where they rub and cooled there by the
    /// oil, whose temperature is 0.
    pub fn wall(&self, cells: usize) -> Body {
        let rubbing = Boundary {
            heated: 1.0,
            ..Boundary::cooled(self.cooling_w_m2_k(), 0.0)
        };
        let boundaries = [Boundary::PLAIN, Boundary::PLAIN, rubbing, Boundary::PLAIN];
        Body::new(&self.layers(), &boundaries, cells)
    }

    /// Time in which the closed pack cools to 1/e in the flow of oil \[s\].
    pub fn cooling_s(&self) -> f64 {
        let capacity: f64 = self.layers().iter().map(Layer::capacity_j_m2_k).sum();
        capacity / self.cooling_w_m2_k()
    }

    /// A separator, as hot spots see it.
    pub fn plate(&self) -> Plate {
        Plate {
            half_m: 0.5 * self.separator_m,
            conductivity_w_m_k: c::STEEL_CONDUCTIVITY_W_M_K,
            diffusivity_m2_s: self.layers()[SEPARATOR].diffusivity_m2_s(),
            expansion_per_k: c::STEEL_EXPANSION_PER_K,
            modulus_pa: c::STEEL_MODULUS_PA,
            poisson: c::STEEL_POISSON,
        }
    }

    /// Glaze of the lining by heat.
    pub fn glazing(&self) -> Arrhenius {
        Arrhenius {
            activation_j_mol: self.activation_j_mol,
            reference_k: c::GLAZE_REFERENCE_K,
            reference_s: self.glaze_time_s,
        }
    }

    /// Friction of the new pack in fresh oil.
    pub fn new_friction(&self) -> Friction {
        Friction {
            coefficient: self.friction,
            slope_s_m: self.slope_s_m,
        }
    }

    /// What hangs behind the pack.
    pub fn driveline(&self) -> Driveline {
        Driveline {
            driven_kg_m2: self.driven_kg_m2,
            load_kg_m2: self.load_kg_m2,
            stiffness_n_m: self.stiffness_n_m,
            damping_n_m_s: self.damping_n_m_s,
        }
    }

    /// Clamp load of a gentle pull-away \[N\].
    pub fn pull_away_n(&self) -> f64 {
        self.judder_torque_n_m / (self.faces * self.friction * self.radius_m())
    }

    /// Slope of friction at which the driveline's damping is used up in a gentle pull-away \[s/m\], below 0; minus infinity for a driveline that
    /// does not vibrate.
    pub fn critical_slope_s_m(&self) -> f64 {
        let critical =
            self.driveline()
                .critical_slope_s_m(self.faces, self.pull_away_n(), self.radius_m());
        critical.unwrap_or(f64::NEG_INFINITY)
    }
}

/// Oxidation of the oil.
pub const OXIDATION: Arrhenius = Arrhenius {
    activation_j_mol: c::OXIDATION_J_MOL,
    reference_k: c::OXIDATION_REFERENCE_K,
    reference_s: c::OXIDATION_TIME_S,
};
