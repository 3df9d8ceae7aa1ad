//! What the cylinder's gas does to a head: heat transfer and pressure over the cycle.

use std::f64::consts::PI;

use ringland_engine::{CycleLoads, Engine};
use ringland_mechanics::engine::{CycleSetup, Cylinder, Operating, Woschni};

/// Exponents at which the power mean of the pressure is kept.
pub const EXPONENTS: [f64; 3] = [3.0, 5.5, 8.0];
/// Pressure about the engine \[Pa\].
pub const AMBIENT_PA: f64 = 1.0e5;
/// Speed of gas over piston speed while it is exchanged (Woschni, from memory).
pub const EXCHANGE_SPEED: f64 = 6.18;
/// Exponent of temperature over pressure as the burned gas expands through the port: (γ − 1)/γ at 1.3.
pub const BLOWDOWN: f64 = 0.23;
/// Exponent of the motored pressure (Woschni).
pub const MOTORED: f64 = 1.33;

/// The gas of one operating point, as a head feels it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeadGas {
    /// Coefficient of heat transfer from intake opening to exhaust opening, over the whole cycle \[W/(m²·K)\].
    pub face_w_m2_k: f64,
    /// Temperature of that gas, weighted by the coefficient \[K\].
    pub face_k: f64,
    /// Coefficient while the exhaust leaves, over the whole cycle \[W/(m²·K)\]: that gas is as hot as the exhaust.
    pub exhaust_w_m2_k: f64,
    /// Power means of the pressure above ambient over the cycle at [`EXPONENTS`] \[Pa\].
    pub power_mean_pa: [f64; 3],
}

/// Solves an operating point: temperature by the gas law on the trapped mass while closed, that of the charge before intake closing; heat
/// transfer after Woschni, as the cycle itself.
pub fn solve(engine: &Engine, loads: &CycleLoads) -> HeadGas {
    let (setup, law) = (CycleSetup::default(), Woschni::default());
    let cylinder = Cylinder {
        crank: *loads.crank(),
        bore_m: engine.bore_m,
        compression_ratio: engine.compression_ratio,
    };
    let charge_k = Operating::default().charge_temp_k;
    let piston_m_s = engine.mean_piston_speed_m_s(loads.speed_rad_s);
    let points = || {
        loads
            .angle_rad
            .iter()
            .copied()
            .zip(loads.pressure_pa.iter().copied())
    };
    let closed = |angle: f64| angle >= setup.intake_close_rad && angle <= setup.exhaust_open_rad;
    let mut closing = None;
    let mut opening = (charge_k, AMBIENT_PA);
    let (mut sum, mut weighted, mut leaving) = (0.0, 0.0, 0.0);
    for (angle_rad, pressure_pa) in points() {
        let volume_m3 = cylinder.volume_m3(angle_rad);
        let (temp_k, speed_m_s) = if closed(angle_rad) {
            let (from_pa, from_m3) = *closing.get_or_insert((pressure_pa, volume_m3));
            let temp_k = charge_k * pressure_pa * volume_m3 / (from_pa * from_m3);
            opening = (temp_k, pressure_pa);
            let motored_pa = from_pa * libm::pow(from_m3 / volume_m3, MOTORED);
            let burning_m_s = law.combustion_factor_m_s_k * cylinder.displacement_m3() * charge_k
                / (from_pa * from_m3)
                * (pressure_pa - motored_pa).max(0.0);
            (temp_k, law.piston_speed_factor * piston_m_s + burning_m_s)
        } else if angle_rad > 0.0 {
            let expanded = libm::pow(pressure_pa / opening.1, BLOWDOWN);
            (opening.0 * expanded, EXCHANGE_SPEED * piston_m_s)
        } else {
            (charge_k, EXCHANGE_SPEED * piston_m_s)
        };
        let each = Woschni::coefficient_w_m2_k(engine.bore_m, pressure_pa, temp_k, speed_m_s);
        if closed(angle_rad) || angle_rad <= 0.0 {
            sum += each;
            weighted += each * temp_k;
        } else {
            leaving += each;
        }
    }
    let count = loads.angle_rad.len() as f64;
    let power_mean = |exponent: f64| {
        let powers = points().map(|(_, pressure_pa)| {
            libm::pow((pressure_pa - AMBIENT_PA).max(0.0) / AMBIENT_PA, exponent)
        });
        AMBIENT_PA * libm::pow(powers.sum::<f64>() / count, 1.0 / exponent)
    };
    HeadGas {
        face_w_m2_k: sum / count,
        face_k: weighted / sum,
        exhaust_w_m2_k: leaving / count,
        power_mean_pa: EXPONENTS.map(power_mean),
    }
}

impl HeadGas {
    /// Coefficient of heat transfer to the face over the whole cycle \[W/(m²·K)\] and the temperature of the gas weighted by it \[K\], with exhaust so hot \[K\].
    pub fn face(&self, exhaust_k: f64) -> (f64, f64) {
        let whole = self.face_w_m2_k + self.exhaust_w_m2_k;
        let weighted = self.face_w_m2_k * self.face_k + self.exhaust_w_m2_k * exhaust_k;
        (whole, weighted / whole.max(f64::MIN_POSITIVE))
    }

    /// Power mean of the pressure at an exponent of creep: straight between those kept, held beyond.
    pub fn creep_pressure_pa(&self, exponent: f64) -> f64 {
        let [low, middle, high] = EXPONENTS;
        let held = exponent.clamp(low, high);
        let (k, from, to) = if held < middle {
            (0, low, middle)
        } else {
            (1, middle, high)
        };
        let means = &self.power_mean_pa;
        means[k] + (means[k + 1] - means[k]) * (held - from) / (to - from)
    }
}

/// Area of the head within its seat \[m²\].
pub fn head_area_m2(seat_radius_m: f64) -> f64 {
    PI * seat_radius_m * seat_radius_m
}

#[cfg(test)]
mod tests {
    use super::*;
    use ringland_engine::{CycleSolver, POINTS};

    fn engine() -> Engine {
        let numbers = ringland_engine::numbers();
        let defaults: Vec<f64> = numbers.iter().map(|n| n.default_value).collect();
        Engine::read(&defaults).unwrap()
    }

    /// The gas temperature of the cycle's own solution lies between charge and flame; heat transfer grows with load and speed; a power mean
    /// grows with its exponent and stays below the peak.
    #[test]
    fn gas_follows_load_and_speed() {
        let engine = engine();
        let solver = CycleSolver::new(&engine, POINTS).unwrap();
        let at = |speed, imep| solve(&engine, &solver.loads(speed, imep).unwrap());
        let (full, half, slow) = (at(838.0, 3.0e6), at(838.0, 1.5e6), at(420.0, 3.0e6));
        println!("full {full:?}\nhalf {half:?}\nslow {slow:?}");
        assert!(full.face_w_m2_k > half.face_w_m2_k && full.face_w_m2_k > slow.face_w_m2_k);
        assert!(full.face_k > 800.0 && full.face_k < 2200.0);
        let means = full.power_mean_pa;
        assert!(means[0] < means[1] && means[1] < means[2]);
        let middle = full.creep_pressure_pa(4.25);
        assert!(middle > means[0] && middle < means[1]);
    }
}
