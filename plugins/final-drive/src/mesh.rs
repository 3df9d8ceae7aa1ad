//! What one mesh does along the path of contact: film, wear, flash temperature.

use ringland_mechanics::bevel::Path;
use ringland_mechanics::contact::{STEEL_THERMAL_CONTACT, flash_temperature_k, line_contact};
use ringland_mechanics::film::LoadSharing;
use ringland_mechanics::film::ehl::{Heating, Inlet};

use crate::constants::{BULK_SHARE, FILM_FRICTION, OIL_CONDUCTIVITY_W_M_K};
use crate::gears::Flank;
use crate::spec::Spec;

/// Places along the path.
pub const PLACES: usize = 12;
/// Rounds in which bulk temperature and film settle.
const ROUNDS: usize = 3;

/// A state of running.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Running {
    /// Speed of the ring gear \[rad/s\], above 0.
    pub ring_rad_s: f64,
    /// Axle torque without sign \[N·m\], above 0.
    pub torque_n_m: f64,
    /// Oil temperature \[K\].
    pub oil_k: f64,
}

/// What one mesh does.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Mesh {
    /// Wear of a pinion tooth's flank by one pass, for a wear coefficient of 1 m²/N: asperity load for each width times sliding over rolling
    /// \[N/m\]; mean over the path.
    pub pinion_dose_n_m: f64,
    /// The same of a ring gear's tooth.
    pub ring_dose_n_m: f64,
    /// Highest flash temperature over the bulk \[K\].
    pub flash_k: f64,
    /// Bulk over oil temperature \[K\].
    pub bulk_rise_k: f64,
    /// Film of smooth flanks over composite roughness at the middle of the path.
    pub film_ratio: f64,
}

/// A flank, ready for meshes.
pub struct Mating<'a> {
    spec: &'a Spec,
    flank: &'a Flank,
    sharing: LoadSharing,
    sigma_m: f64,
    modulus_pa: f64,
    /// Places along the path.
    pub places: usize,
    /// Rounds in which bulk temperature and film settle.
    pub rounds: usize,
}

impl<'a> Mating<'a> {
    /// Prepares; `roughness` multiplies the composite roughness.
    pub fn new(spec: &'a Spec, flank: &'a Flank, roughness: f64) -> Self {
        let rough = spec.rough(roughness);
        Self {
            spec,
            flank,
            sharing: LoadSharing::new(&rough),
            sigma_m: rough.sigma_m,
            modulus_pa: rough.modulus_pa,
            places: PLACES,
            rounds: ROUNDS,
        }
    }

    /// One mesh at a state of running, its bulk temperature that of its own mean flash temperature.
    pub fn mesh(&self, running: &Running) -> Mesh {
        let mut mesh = Mesh::default();
        for _ in 0..self.rounds {
            mesh = self.at_bulk(running, mesh.bulk_rise_k);
        }
        mesh
    }

    fn at_bulk(&self, running: &Running, bulk_rise_k: f64) -> Mesh {
        let normal_n = self.flank.normal_per_torque * running.torque_n_m;
        let middle_n_m = self.flank.contact.middle_load_n_m(normal_n);
        let viscosity_pa_s = self.spec.oil.viscosity_pa_s(running.oil_k + bulk_rise_k);
        let mut mesh = Mesh::default();
        let mut mean_flash_k = 0.0;
        let part = 1.0 / self.places as f64;
        for place in 0..self.places {
            let share = (place as f64 + 0.5) * part;
            let touch = self.touch(share, running, middle_n_m, viscosity_pa_s);
            mesh.pinion_dose_n_m += part * touch.pinion_dose_n_m;
            mesh.ring_dose_n_m += part * touch.ring_dose_n_m;
            mesh.flash_k = mesh.flash_k.max(touch.flash_k);
            mean_flash_k += part * touch.flash_k;
        }
        let middle = self.touch(0.5, running, middle_n_m, viscosity_pa_s);
        mesh.film_ratio = middle.film_ratio;
        mesh.bulk_rise_k = BULK_SHARE * mean_flash_k;
        mesh
    }

    /// The contact at a share of the path.
    fn touch(&self, share: f64, running: &Running, middle_n_m: f64, viscosity_pa_s: f64) -> Mesh {
        let (flank, spec) = (self.flank, self.spec);
        let place_m = flank.path.place_m(share);
        let load_n_m = middle_n_m * Path::load_share(share);
        let radius_m = flank.cylinders.radius_m(place_m).max(1.0e-4);
        let surfaces = flank.path.surfaces(place_m, running.ring_rad_s);
        // Away from dead stop: a pinion's lowest flank can all but stand.
        let [pinion_m_s, ring_m_s] = surfaces.across_m_s.map(|speed| speed.abs().max(1.0e-5));
        let entrainment_m_s = surfaces.entrainment_m_s().abs().max(1.0e-5);
        let hertz = line_contact(load_n_m, radius_m, self.modulus_pa);
        let inlet = Inlet {
            viscosity_pa_s,
            alpha_per_pa: spec.pressure_viscosity_per_pa,
            entrainment_m_s,
            modulus_pa: self.modulus_pa,
        };
        let sliding_m_s = surfaces.sliding_m_s();
        let heating = Heating {
            viscosity_slope_pa_s_k: spec.oil_slope_pa_s_k(viscosity_pa_s),
            conductivity_w_m_k: OIL_CONDUCTIVITY_W_M_K,
            slide_ratio: sliding_m_s / entrainment_m_s,
        };
        let film_m = inlet.line_film_m(load_n_m, radius_m)
            * inlet.thermal_factor(&heating, hertz.peak_pressure_pa);
        let mean_pa = 0.25 * std::f64::consts::PI * hertz.peak_pressure_pa;
        let asperities = self.sharing.at(film_m, mean_pa).asperity_share;
        let friction = asperities * spec.boundary_friction() + (1.0 - asperities) * FILM_FRICTION;
        // The heaviest part of the face scuffs first; the mean of the face makes the backlash.
        let heaviest_n_m = spec.load_factor() * load_n_m;
        let heaviest = line_contact(heaviest_n_m, radius_m, self.modulus_pa);
        let coefficients = (STEEL_THERMAL_CONTACT, STEEL_THERMAL_CONTACT);
        let rubbed_n_m = asperities * load_n_m * sliding_m_s;
        Mesh {
            pinion_dose_n_m: rubbed_n_m / pinion_m_s,
            ring_dose_n_m: rubbed_n_m / ring_m_s,
            flash_k: flash_temperature_k(
                friction * heaviest_n_m * sliding_m_s,
                (pinion_m_s, ring_m_s),
                coefficients,
                heaviest.half_width_m,
            ),
            bulk_rise_k: 0.0,
            film_ratio: film_m / self.sigma_m,
        }
    }
}
