use std::f64::consts::PI;

use super::thread::Thread;

/// Friction while a bolt is turned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TighteningFriction {
    /// Coefficient of friction in the thread \[1\].
    pub thread: f64,
    /// Coefficient of friction under the head \[1\].
    pub head: f64,
    /// Mean diameter of the bearing face under the head \[m\].
    pub bearing_mean_m: f64,
}

impl TighteningFriction {
    /// Tightening torque for each newton of preload \[m\]: pitch, thread and head (VDI 2230 and ISO 16047, from memory).
    pub fn torque_per_preload_m(&self, thread: &Thread) -> f64 {
        thread.pitch_m / (2.0 * PI) + self.rubbing_m(thread)
    }

    /// Torque to loosen for each newton of preload \[m\], at the same friction; negative when the thread does not hold itself.
    pub fn loosening_torque_per_preload_m(&self, thread: &Thread) -> f64 {
        self.rubbing_m(thread) - thread.pitch_m / (2.0 * PI)
    }

    /// Equivalent stress \[Pa\] of von Mises while the bolt is turned at a preload \[N\]: tension on the stress area with torsion from the
    /// thread, at its equivalent diameter.
    pub fn equivalent_stress_pa(&self, thread: &Thread, preload_n: f64) -> f64 {
        let area_m2 = thread.stress_area_m2();
        let diameter_m = (4.0 * area_m2 / PI).sqrt();
        let torque_n_m = preload_n * (thread.pitch_m / (2.0 * PI) + self.thread_m(thread));
        let torsion_pa = 16.0 * torque_n_m / (PI * diameter_m.powi(3));
        (preload_n / area_m2).hypot(3.0_f64.sqrt() * torsion_pa)
    }

    fn rubbing_m(&self, thread: &Thread) -> f64 {
        self.thread_m(thread) + 0.5 * self.head * self.bearing_mean_m
    }

    /// Half the pitch diameter over the cosine of the flank angle, 30°, times friction: 0.577 µ d2.
    fn thread_m(&self, thread: &Thread) -> f64 {
        self.thread * thread.pitch_diameter_m() / 3.0_f64.sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FRICTION: TighteningFriction = TighteningFriction {
        thread: 0.12,
        head: 0.12,
        bearing_mean_m: 13e-3,
    };

    /// Work: one turn of a frictionless bolt lifts the load by the pitch.
    #[test]
    fn without_friction_torque_is_the_work_of_the_pitch() {
        let thread = Thread::new(10e-3, 1.5e-3).unwrap();
        let smooth = TighteningFriction {
            thread: 0.0,
            head: 0.0,
            ..FRICTION
        };
        let work_j = 2.0 * PI * smooth.torque_per_preload_m(&thread) * 1000.0;
        assert!((work_j - 1000.0 * 1.5e-3).abs() < 1e-12);
        assert!(smooth.loosening_torque_per_preload_m(&thread) < 0.0);
        let stress = smooth.equivalent_stress_pa(&thread, 1000.0) * thread.stress_area_m2();
        assert!(stress > 1000.0 && stress < 1020.0, "{stress}");
    }

    /// Shigley, Mechanical Engineering Design, section 8-8 (from memory): at friction 0.15 in thread and head, torque is 0.20 times preload
    /// times diameter whatever the size, coarse or fine; the bearing face reaches from d to 1.5 d.
    #[test]
    fn the_torque_coefficient_is_a_fifth() {
        for (d_mm, p_mm) in [(6.0, 1.0), (10.0, 1.5), (9.525, 1.0583), (20.0, 2.5)] {
            let thread = Thread::new(1e-3 * d_mm, 1e-3 * p_mm).unwrap();
            let friction = TighteningFriction {
                thread: 0.15,
                head: 0.15,
                bearing_mean_m: 1.25 * thread.diameter_m,
            };
            let coefficient = friction.torque_per_preload_m(&thread) / thread.diameter_m;
            assert!((coefficient / 0.20 - 1.0).abs() < 0.05, "{coefficient}");
        }
    }
}
