//! One turn of the cam: what it does to lobe and follower.

use std::f64::consts::{PI, TAU};

use ringland_engine::valvetrain::{FLAT, ROLLER, TrainCycle};
use ringland_mechanics::cam::{CamContact, Lift};
use ringland_mechanics::contact::{
    LineContact, STEEL_THERMAL_CONTACT, flash_temperature_k, line_contact,
};
use ringland_mechanics::film::LoadSharing;
use ringland_mechanics::film::ehl::{Heating, Inlet};

use crate::constants::{FILM_FRICTION, FILM_LIFE, OIL_CONDUCTIVITY_W_M_K, PITTING_EXPONENT};
use crate::roller::{Drive, surface_speeds_m_s};
use crate::spec::Spec;

/// Stations around the lobe at which wear and pitting are followed, even over the lift; the middle one is the nose.
pub const STATIONS: usize = 11;
/// Strips across a face that does not turn.
pub const STRIPS: usize = 24;
/// Rings of a tappet that turns.
const RINGS: usize = 8;
/// Instants of the motion that are taken together: one degree of cam.
const STRIDE: usize = 2;
/// Lightest contact that is followed \[N\].
const LIGHTEST_N: f64 = 1.0;
/// Pressure to which pitting rates are related \[Pa\].
pub const PITTING_UNIT_PA: f64 = 1.0e9;

/// What one turn does, at a viscosity.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Turn {
    /// Asperity pressure times sliding distance at each station of the lobe \[Pa·m\].
    pub lobe_dose_pa_m: [f64; STATIONS],
    /// The same at the worst place of the follower.
    pub follower_dose_pa_m: f64,
    /// `(p/1 GPa)^10` over the film's factor of life, at each station of the lobe.
    pub lobe_pitting: [f64; STATIONS],
    /// The same summed over the passes of the worst place of the follower.
    pub follower_pitting: f64,
    /// Highest flash temperature \[K\].
    pub flash_k: f64,
    /// Film of smooth bodies over composite roughness at the nose.
    pub nose_film_ratio: f64,
}

/// The contact at one step of a turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Touch {
    /// Time of the step \[s\].
    pub time_s: f64,
    /// Station of the lobe.
    pub station: usize,
    /// Strip of the follower's face.
    pub strip: usize,
    /// Load for each length \[N/m\].
    pub load_n_m: f64,
    /// Radius of the equivalent contact \[m\].
    pub radius_m: f64,
    /// Hertz contact.
    pub hertz: LineContact,
    /// Speeds; a roller's with its slip.
    pub contact: CamContact,
}

/// A lobe and its follower, ready for turns.
pub struct Lobe<'a> {
    spec: &'a Spec,
    modulus_pa: f64,
    sigma_m: f64,
    sharing: LoadSharing,
    /// Instants of the motion that are taken together.
    pub stride: usize,
    /// Travel of the contact over a face that does not turn: its start and its strips' width \[m\].
    face: (f64, f64),
}

impl<'a> Lobe<'a> {
    /// Prepares; `roughness` multiplies the composite roughness.
    pub fn new(spec: &'a Spec, roughness: f64) -> Self {
        let rough = spec.rough(roughness);
        Self {
            spec,
            modulus_pa: rough.modulus_pa,
            sigma_m: rough.sigma_m,
            sharing: LoadSharing::new(&rough),
            stride: STRIDE,
            face: face(spec),
        }
    }

    /// Contacts of a cycle, one for each stride with the follower on the cam.
    pub fn touches(&self, cycle: &TrainCycle) -> Vec<Touch> {
        let (spec, stride) = (self.spec, self.stride);
        let step_s = stride as f64 * cycle.instant_s();
        let steps: Vec<_> = cycle
            .instants
            .iter()
            .skip(stride - 1)
            .step_by(stride)
            .collect();
        let normal_n = |index: usize| {
            // The highest of the instants taken together, so that no impact falls between.
            let from = index * stride;
            let taken = cycle.instants.iter().skip(from).take(stride);
            taken
                .map(|instant| instant.cam_n / libm::cos(instant.contact.pressure_angle_rad))
                .fold(0.0, f64::max)
        };
        let loads: Vec<f64> = (0..steps.len()).map(normal_n).collect();
        let rolling = (spec.train.follower_option == ROLLER).then(|| {
            let drives = steps.iter().zip(&loads).map(|(instant, load_n)| Drive {
                load_n: *load_n,
                cam_m_s: instant.contact.cam_surface_m_s,
                travel_m_s: instant.contact.follower_surface_m_s,
            });
            surface_speeds_m_s(spec, &drives.collect::<Vec<_>>(), step_s)
        });
        let mut touches = Vec::with_capacity(steps.len());
        for (index, (instant, load_n)) in steps.into_iter().zip(loads).enumerate() {
            if load_n < LIGHTEST_N {
                continue;
            }
            let mut contact = instant.contact;
            if let Some(speeds) = &rolling {
                contact.follower_surface_m_s = speeds[index];
            }
            let at_cam = instant.point.asked.scaled(1.0 / spec.train.rocker_ratio);
            let radius_m = contact.equivalent_radius_m.max(1.0e-4);
            // The middle of a crowned contact has more than the mean.
            let load_n_m = spec.line_load_factor * load_n / spec.contact_width_m;
            touches.push(Touch {
                time_s: step_s,
                station: self.station(instant.point.cam_angle_rad),
                strip: self.strip(&at_cam, &contact),
                load_n_m,
                radius_m,
                hertz: line_contact(load_n_m, radius_m, self.modulus_pa),
                contact,
            });
        }
        touches
    }

    fn station(&self, cam_angle_rad: f64) -> usize {
        let (start_rad, span_rad) = self.spec.train.lift.span_rad();
        let share = ((cam_angle_rad - start_rad) / span_rad).clamp(0.0, 1.0);
        ((share * STATIONS as f64) as usize).min(STATIONS - 1)
    }

    fn strip(&self, at_cam: &Lift, contact: &CamContact) -> usize {
        let (start_m, width_m) = self.face;
        let place_m = place_on_face_m(self.spec, at_cam, contact);
        (((place_m - start_m) / width_m).max(0.0) as usize).min(STRIPS - 1)
    }

    /// What the contacts of a turn do with oil of a viscosity \[Pa·s\] at the temperature of the surfaces.
    pub fn turn(&self, touches: &[Touch], viscosity_pa_s: f64) -> Turn {
        let mut turn = Turn::default();
        let mut travel_m = [0.0; STATIONS];
        let mut strips = [(0.0, 0.0_f64); STRIPS];
        let mut nose_load = 0.0;
        let slope = self.spec.oil_slope_pa_s_k(viscosity_pa_s);
        for touch in touches {
            let (film_ratio, share) = self.film(touch, viscosity_pa_s, slope);
            let slide_m_s = touch.contact.sliding_m_s().abs();
            let rubbed = share * touch.load_n_m * slide_m_s * touch.time_s;
            let pitting = libm::pow(
                touch.hertz.peak_pressure_pa / PITTING_UNIT_PA,
                PITTING_EXPONENT,
            ) / film_life(film_ratio);
            let station = touch.station;
            turn.lobe_dose_pa_m[station] += rubbed;
            travel_m[station] += touch.contact.cam_surface_m_s.abs() * touch.time_s;
            turn.lobe_pitting[station] = turn.lobe_pitting[station].max(pitting);
            strips[touch.strip].0 += rubbed;
            strips[touch.strip].1 = strips[touch.strip].1.max(pitting);
            let rolled_m = touch.contact.follower_surface_m_s.abs() * touch.time_s;
            turn.follower_pitting += pitting * rolled_m / (TAU * self.spec.train.follower_radius_m);
            let friction = share * self.spec.boundary_friction() + (1.0 - share) * FILM_FRICTION;
            turn.flash_k = turn.flash_k.max(flash_temperature_k(
                friction * touch.load_n_m * slide_m_s,
                (
                    touch.contact.cam_surface_m_s,
                    touch.contact.follower_surface_m_s,
                ),
                (STEEL_THERMAL_CONTACT, STEEL_THERMAL_CONTACT),
                touch.hertz.half_width_m,
            ));
            if station == STATIONS / 2 && touch.load_n_m > nose_load {
                nose_load = touch.load_n_m;
                turn.nose_film_ratio = film_ratio;
            }
        }
        for (dose, travel_m) in turn.lobe_dose_pa_m.iter_mut().zip(travel_m) {
            *dose = if travel_m > 0.0 {
                *dose / travel_m
            } else {
                0.0
            };
        }
        self.face_of(&strips, &mut turn);
        turn
    }

    /// Worst place of the follower: a roller wears evenly all round, a flat tappet turns, a pad does not. A strip of a pad or tappet is
    /// passed twice a turn.
    fn face_of(&self, strips: &[(f64, f64); STRIPS], turn: &mut Turn) {
        let rubbed = strips.iter().map(|strip| strip.0);
        let largest = |values: &mut dyn Iterator<Item = f64>| values.fold(0.0, f64::max);
        let follower = self.spec.train.follower_option;
        turn.follower_dose_pa_m = if follower == ROLLER {
            rubbed.sum::<f64>() / (TAU * self.spec.train.follower_radius_m)
        } else if follower == FLAT {
            self.spread_round(strips)
        } else {
            largest(&mut rubbed.into_iter()) / self.face.1
        };
        if follower != ROLLER {
            turn.follower_pitting = 2.0 * largest(&mut strips.iter().map(|strip| strip.1));
        }
    }

    /// Dose at the worst ring of a tappet that turns freely \[Pa·m\]: every strip's line, evenly loaded over the width, shared out over the rings
    /// that it crosses.
    fn spread_round(&self, strips: &[(f64, f64); STRIPS]) -> f64 {
        let (start_m, strip_m) = self.face;
        let half_m = 0.5 * self.spec.contact_width_m;
        let reach_m = half_m.hypot(start_m.abs().max(start_m + STRIPS as f64 * strip_m));
        let ring_m = reach_m / RINGS as f64;
        let mut rings = [0.0; RINGS];
        for (index, (rubbed, _)) in strips.iter().enumerate() {
            let off_m = start_m + (index as f64 + 0.5) * strip_m;
            // Half the line lies within a radius as far as this.
            let within = |radius_m: f64| {
                (radius_m * radius_m - off_m * off_m)
                    .max(0.0)
                    .sqrt()
                    .min(half_m)
            };
            for (ring, dose) in rings.iter_mut().enumerate() {
                let (inner_m, outer_m) = (ring as f64 * ring_m, (ring + 1) as f64 * ring_m);
                let length_m = 2.0 * (within(outer_m) - within(inner_m));
                let area_m2 = PI * (outer_m * outer_m - inner_m * inner_m);
                *dose += rubbed / self.spec.line_load_factor * length_m / area_m2;
            }
        }
        rings.into_iter().fold(0.0, f64::max)
    }

    /// Film of smooth bodies over composite roughness, and the asperities' share of the load.
    pub fn film(&self, touch: &Touch, viscosity_pa_s: f64, slope_pa_s_k: f64) -> (f64, f64) {
        let inlet = Inlet {
            viscosity_pa_s,
            alpha_per_pa: self.spec.pressure_viscosity_per_pa,
            entrainment_m_s: touch.contact.entrainment_m_s(),
            modulus_pa: self.modulus_pa,
        };
        let entrained = inlet.entrainment_m_s.abs().max(1.0e-6);
        let heating = Heating {
            viscosity_slope_pa_s_k: slope_pa_s_k,
            conductivity_w_m_k: OIL_CONDUCTIVITY_W_M_K,
            slide_ratio: touch.contact.sliding_m_s().abs() / entrained,
        };
        let film_m = inlet.line_film_m(touch.load_n_m, touch.radius_m)
            * inlet.thermal_factor(&heating, touch.hertz.peak_pressure_pa);
        let mean_pa = 0.25 * PI * touch.hertz.peak_pressure_pa;
        let shared = self.sharing.at(film_m, mean_pa);
        (film_m / self.sigma_m, shared.asperity_share)
    }
}

/// Life that a film gives, over that of a film as thick as the roughness.
pub fn film_life(film_ratio: f64) -> f64 {
    let [first, .., last] = FILM_LIFE;
    if film_ratio <= first.0 {
        return first.1;
    }
    for pair in FILM_LIFE.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        if film_ratio < to.0 {
            let share = libm::log(film_ratio / from.0) / libm::log(to.0 / from.0);
            return from.1 * libm::pow(to.1 / from.1, share);
        }
    }
    last.1
}

/// Where the contact stands on a face that does not turn \[m\] from its middle.
fn place_on_face_m(spec: &Spec, at_cam: &Lift, contact: &CamContact) -> f64 {
    if spec.train.follower_option == FLAT {
        at_cam.slope_m
    } else {
        spec.train.follower_radius_m * contact.pressure_angle_rad
    }
}

/// Start and width of the strips over the travel of the contact.
fn face(spec: &Spec) -> (f64, f64) {
    let (start_rad, span_rad) = spec.train.lift.span_rad();
    let (mut least_m, mut most_m) = (0.0_f64, 0.0_f64);
    for step in 0..=360 {
        let asked = spec
            .train
            .lift
            .at(start_rad + span_rad * f64::from(step) / 360.0);
        let at_cam = asked.scaled(1.0 / spec.train.rocker_ratio);
        let place_m = place_on_face_m(spec, &at_cam, &spec.train.contact(&asked, 1.0));
        least_m = least_m.min(place_m);
        most_m = most_m.max(place_m);
    }
    (least_m, (most_m - least_m).max(1.0e-6) / STRIPS as f64)
}
