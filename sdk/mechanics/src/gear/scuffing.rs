//! Scuffing: flash temperature along the path of contact (ISO/TS 6336-20) and the integral
//! temperature that its mean gives (ISO/TS 6336-21), from memory.

use super::geometry::Mesh;
use super::path::{LineLoad, Station};
use crate::contact::flash_temperature_k;

/// Weight of the mean flash temperature in the bulk temperature.
const BULK_WEIGHT: f64 = 0.47;
/// Weight of the mean flash temperature in the integral temperature.
const INTEGRAL_WEIGHT: f64 = 1.5;

/// What the friction and heat of the flanks depend on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flanks {
    /// Effective modulus E* \[Pa\].
    pub modulus_pa: f64,
    /// Mean roughness Ra of both flanks \[m\].
    pub ra_m: f64,
    /// Thermal contact coefficient of each flank \[J/(m²·K·√s)\].
    pub thermal_contact: f64,
    /// Viscosity of the oil at its inlet temperature \[Pa·s\].
    pub viscosity_pa_s: f64,
    /// Factor of the oil's kind in friction: 1 for mineral oil.
    pub oil_factor: f64,
    /// How the oil reaches the mesh: 1.2 splash, 1 spray, 0.2 submerged.
    pub supply_factor: f64,
}

/// Temperatures over the oil \[K\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Heat {
    /// Coefficient of friction, mean over the path.
    pub friction: f64,
    /// Rise of the bulk of the teeth over the oil.
    pub bulk_rise_k: f64,
    /// Mean flash temperature over the path.
    pub mean_flash_k: f64,
    /// Highest flash temperature.
    pub peak_flash_k: f64,
}

impl Heat {
    /// Rise of the highest contact temperature over the oil \[K\].
    pub fn contact_rise_k(&self) -> f64 {
        self.bulk_rise_k + self.peak_flash_k
    }

    /// Rise of the integral temperature over the oil \[K\].
    pub fn integral_rise_k(&self) -> f64 {
        self.bulk_rise_k + INTEGRAL_WEIGHT * self.mean_flash_k
    }
}

/// Mean coefficient of friction: `0.060 (w/(v_Σ ρ))^0.2 X_L X_R` at the pitch point, w in N/mm, v in
/// m/s, ρ in mm, `X_L = oil_factor η^−0.05` (mPa·s), `X_R = Ra^0.25` (um). Held at 0.2 at most:
/// the fit is for running speeds.
pub fn friction(mesh: &Mesh, load: &LineLoad, flanks: &Flanks) -> f64 {
    let pitch = mesh.pinion_radii_m[2];
    let (pinion, wheel) = mesh.speeds_m_s(pitch, load.speed_rad_s);
    let radius_mm = 1e3 * mesh.relative_radius_m(pitch);
    let severity = 1e-3 * load.load_n_m / ((pinion + wheel).max(1e-6) * radius_mm);
    let oil = flanks.oil_factor * libm::pow(1e3 * flanks.viscosity_pa_s, -0.05);
    let roughness = libm::pow(1e6 * flanks.ra_m, 0.25);
    (0.060 * libm::pow(severity, 0.2) * oil * roughness).min(0.2)
}

/// Flash temperature \[K\] at a station.
pub fn flash_k(station: &Station, load: &LineLoad, flanks: &Flanks, friction: f64) -> f64 {
    let touch = station.touch(load, flanks.modulus_pa);
    let (pinion, wheel) = touch.speeds_m_s;
    flash_temperature_k(
        friction * touch.load_n_m * (pinion - wheel).abs(),
        touch.speeds_m_s,
        (flanks.thermal_contact, flanks.thermal_contact),
        touch.hertz.half_width_m,
    )
}

/// Temperatures of a mesh under load.
pub fn heat(mesh: &Mesh, stations: &[Station], load: &LineLoad, flanks: &Flanks) -> Heat {
    let friction = friction(mesh, load, flanks);
    let (mut sum, mut peak_flash_k, mut weight) = (0.0, 0.0_f64, 0.0);
    for station in stations {
        let flash = flash_k(station, load, flanks, friction);
        sum += station.weight_m * flash;
        weight += station.weight_m;
        peak_flash_k = peak_flash_k.max(flash);
    }
    let mean_flash_k = if weight > 0.0 { sum / weight } else { 0.0 };
    Heat {
        friction,
        bulk_rise_k: BULK_WEIGHT * flanks.supply_factor * mean_flash_k,
        mean_flash_k,
        peak_flash_k,
    }
}

#[cfg(test)]
mod tests {
    use super::super::geometry::tests::spur;
    use super::super::path::stations;
    use super::*;

    fn flanks() -> Flanks {
        Flanks {
            modulus_pa: 113.2e9,
            ra_m: 0.4e-6,
            thermal_contact: 13_795.0,
            viscosity_pa_s: 0.02,
            oil_factor: 1.0,
            supply_factor: 1.2,
        }
    }

    /// Blok's formula written out for equal steels: `1.11 μ w |√v1 − √v2|/(B √(2b))`.
    #[test]
    fn a_station_is_blok() {
        let mesh = spur([17.0, 35.0], 0.3, 86.2e-3)
            .mesh()
            .expect("a pair that meshes");
        let load = LineLoad {
            load_n_m: 9e5,
            speed_rad_s: 700.0,
        };
        let station = stations(&mesh, 0.0, 16)[48];
        let touch = station.touch(&load, 113.2e9);
        let (v1, v2) = touch.speeds_m_s;
        let expected = 1.11 * 0.05 * touch.load_n_m * (v1.sqrt() - v2.sqrt()).abs()
            / (13_795.0 * (2.0 * touch.hertz.half_width_m).sqrt());
        let found = flash_k(&station, &load, &flanks(), 0.05);
        assert!((found / expected - 1.0).abs() < 1e-12);
    }

    /// No sliding at the pitch point, most heat away from it; the mean converges with the stations.
    #[test]
    fn heat_lies_off_the_pitch_point_and_converges() {
        let mesh = spur([22.0, 30.0], 0.28, 86.2e-3)
            .mesh()
            .expect("a pair that meshes");
        let load = LineLoad {
            load_n_m: 9e5,
            speed_rad_s: 700.0,
        };
        let at = |count: usize| heat(&mesh, &stations(&mesh, 0.5, count), &load, &flanks());
        let (coarse, fine) = (at(12), at(768));
        assert!((coarse.peak_flash_k / fine.peak_flash_k - 1.0).abs() < 0.02);
        assert!((coarse.mean_flash_k / fine.mean_flash_k - 1.0).abs() < 0.02);
        assert!(fine.contact_rise_k() > fine.peak_flash_k);
        println!("{fine:?}");
    }

    #[test]
    fn load_speed_and_roughness_heat() {
        let mesh = spur([22.0, 30.0], 0.28, 86.2e-3)
            .mesh()
            .expect("a pair that meshes");
        let rise = |load_n_m: f64, speed_rad_s: f64, ra_m: f64| {
            let load = LineLoad {
                load_n_m,
                speed_rad_s,
            };
            heat(
                &mesh,
                &stations(&mesh, 0.5, 12),
                &load,
                &Flanks { ra_m, ..flanks() },
            )
            .contact_rise_k()
        };
        let usual = rise(7e5, 600.0, 0.4e-6);
        assert!(rise(8e5, 600.0, 0.4e-6) > usual);
        assert!(rise(7e5, 700.0, 0.4e-6) > usual);
        assert!(rise(7e5, 600.0, 0.5e-6) > usual);
    }
}
