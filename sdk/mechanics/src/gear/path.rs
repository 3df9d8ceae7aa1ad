//! Contact along the path of contact: load sharing, pressure, speeds, film (ISO/TS 6336-20 and -22,
//! from memory).

use super::geometry::Mesh;
use crate::contact::{LineContact, line_contact};
use crate::film::ehl::{Heating, Inlet};

/// Load and geometry at one station of the path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Station {
    /// Radius of curvature of the pinion's flank in the transverse section \[m\].
    pub pinion_m: f64,
    /// Weight of the station in a mean over the path: half the way between its neighbours \[m\].
    pub weight_m: f64,
    /// Share of the load that one pair of teeth carries here.
    pub share: f64,
    /// Equivalent radius \[m\].
    pub radius_m: f64,
    /// Rolling speeds of pinion and wheel for each rad/s of the pinion \[m\].
    pub speeds_m: (f64, f64),
}

/// Load on a mesh.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LineLoad {
    /// Normal load of the whole mesh for each width, all load factors in it \[N/m\].
    pub load_n_m: f64,
    /// Speed of the pinion \[rad/s\].
    pub speed_rad_s: f64,
}

/// Normal line load of a tangential load at the reference cylinder that holds all load factors \[N\].
pub fn line_load_n_m(mesh: &Mesh, tangential_n: f64) -> f64 {
    tangential_n
        / (mesh.pair.face_width_m
            * libm::cos(mesh.transverse_angle_rad)
            * libm::cos(mesh.base_helix_rad))
}

/// Stations from A to E: `each` (1 or more) even steps from A to B, from B to D and from D to E.
///
/// `relief` is the tip relief over the deflection that it is to take up, held at 0 to 1: without
/// relief a pair takes a third of the load at A, two thirds before B; with full relief nothing at A
/// and everything from B. Spur gears; for helical ones with their overlap the share is on the safe
/// side.
pub fn stations(mesh: &Mesh, relief: f64, each: usize) -> Vec<Station> {
    let [a, b, _, d, e] = mesh.pinion_radii_m;
    let relief = relief.clamp(0.0, 1.0);
    let (from, to) = ((1.0 - relief) / 3.0, (2.0 + relief) / 3.0);
    let share = |place: f64| {
        if place < b {
            from + (to - from) * (place - a) / (b - a)
        } else if place > d {
            from + (to - from) * (e - place) / (e - d)
        } else {
            1.0
        }
    };
    let each = each.max(1);
    let mut stations: Vec<Station> = Vec::with_capacity(3 * each + 1);
    for (start, end) in [(a, b), (b, d), (d, e)] {
        let step_m = (end - start) / each as f64;
        // The last of the stretch before is the first of this one.
        if let Some(last) = stations.last_mut() {
            last.weight_m += 0.5 * step_m;
        }
        let first = stations.len().min(1);
        for k in first..=each {
            let pinion_m = if k == each {
                end
            } else {
                start + step_m * k as f64
            };
            stations.push(Station {
                pinion_m,
                weight_m: if k == 0 || k == each {
                    0.5 * step_m
                } else {
                    step_m
                },
                share: share(pinion_m),
                radius_m: mesh.relative_radius_m(pinion_m),
                speeds_m: mesh.speeds_m_s(pinion_m, 1.0),
            });
        }
    }
    stations
}

/// The contact at a station.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Touch {
    /// Load for each width \[N/m\].
    pub load_n_m: f64,
    /// Hertz contact.
    pub hertz: LineContact,
    /// Rolling speeds of pinion and wheel \[m/s\].
    pub speeds_m_s: (f64, f64),
}

impl Station {
    /// The contact here under a load; `modulus_pa` is E*.
    pub fn touch(&self, load: &LineLoad, modulus_pa: f64) -> Touch {
        let load_n_m = self.share * load.load_n_m;
        Touch {
            load_n_m,
            hertz: line_contact(load_n_m, self.radius_m, modulus_pa),
            speeds_m_s: (
                self.speeds_m.0 * load.speed_rad_s,
                self.speeds_m.1 * load.speed_rad_s,
            ),
        }
    }
}

/// The oil that enters a contact.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Oil {
    /// Viscosity at the flanks' temperature \[Pa·s\].
    pub viscosity_pa_s: f64,
    /// Fall of viscosity with temperature \[Pa·s/K\].
    pub slope_pa_s_k: f64,
    /// Pressure-viscosity coefficient \[1/Pa\].
    pub alpha_per_pa: f64,
    /// Conductivity \[W/(m·K)\].
    pub conductivity_w_m_k: f64,
}

/// Least film of smooth flanks \[m\] at a station, with heating of the inlet; 0 where nothing is
/// loaded or turns.
pub fn film_m(station: &Station, touch: &Touch, oil: &Oil, modulus_pa: f64) -> f64 {
    let (pinion, wheel) = touch.speeds_m_s;
    let entrainment_m_s = 0.5 * (pinion + wheel);
    if touch.load_n_m <= 0.0 || entrainment_m_s <= 0.0 {
        return 0.0;
    }
    let inlet = Inlet {
        viscosity_pa_s: oil.viscosity_pa_s,
        alpha_per_pa: oil.alpha_per_pa,
        entrainment_m_s,
        modulus_pa,
    };
    let heating = Heating {
        viscosity_slope_pa_s_k: oil.slope_pa_s_k,
        conductivity_w_m_k: oil.conductivity_w_m_k,
        slide_ratio: (pinion - wheel).abs() / entrainment_m_s,
    };
    inlet.line_film_m(touch.load_n_m, station.radius_m)
        * inlet.thermal_factor(&heating, touch.hertz.peak_pressure_pa)
}

#[cfg(test)]
mod tests {
    use super::super::geometry::tests::spur;
    use super::*;

    /// Two pairs share the load while both touch: stations a base pitch apart.
    #[test]
    fn shares_of_two_pairs_add_up_to_one() {
        let mesh = spur([22.0, 30.0], 0.28, 86.2e-3)
            .mesh()
            .expect("a pair that meshes");
        let [a, _, _, d, e] = mesh.pinion_radii_m;
        for relief in [0.0, 0.5, 1.0] {
            let stations = stations(&mesh, relief, 2001);
            let share = |place: f64| {
                let nearest = stations.iter().min_by(|x, y| {
                    (x.pinion_m - place)
                        .abs()
                        .total_cmp(&(y.pinion_m - place).abs())
                });
                nearest.expect("a station").share
            };
            for part in [0.2, 0.5, 0.9] {
                let place = a + part * (e - d);
                let sum = share(place) + share(place + mesh.base_pitch_m);
                assert!((sum - 1.0).abs() < 2e-3, "{relief} {part}: {sum}");
            }
        }
    }
}
