//! Seating: the head stops, the stem goes on.

/// A stem between a head on an elastic seat and the retained mass at its tip (retainer, keepers, the spring's share). All moves towards the seat at one
/// speed; when the head stops, stress waves run up and down the stem, and what is at the tip stretches it.
///
/// One-dimensional waves in a uniform bar (B. de Saint-Venant 1867; textbook), without damping. Leaves out bending of a stem whose head lands on one
/// side first, which the trade knows from worn guides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stem {
    /// Section \[m²\].
    pub area_m2: f64,
    /// Length from head to keepers \[m\].
    pub length_m: f64,
    /// Modulus of elasticity \[Pa\].
    pub modulus_pa: f64,
    /// Density \[kg/m³\].
    pub density_kg_m3: f64,
    /// Mass of the head \[kg\].
    pub head_mass_kg: f64,
    /// Stiffness of seat and rim under the head \[N/m\].
    pub seat_stiffness_n_m: f64,
    /// Mass at the tip \[kg\].
    pub retained_mass_kg: f64,
}

/// Steps in the time a wave takes along the stem.
const STEPS: usize = 256;
/// Passes of the wave that are followed: the slow swing of the mass on the spring has its peak within.
const PASSES: usize = 64;

impl Stem {
    /// Stiffness of the stem `E A/L` \[N/m\].
    pub fn stiffness_n_m(&self) -> f64 {
        self.modulus_pa * self.area_m2 / self.length_m
    }

    /// Mass of the stem \[kg\].
    pub fn mass_kg(&self) -> f64 {
        self.density_kg_m3 * self.area_m2 * self.length_m
    }

    /// Speed of waves `√(E/ρ)` \[m/s\].
    pub fn wave_speed_m_s(&self) -> f64 {
        (self.modulus_pa / self.density_kg_m3).sqrt()
    }

    /// Force of a suddenly stopped bar for each m/s, `ρ c A` \[N·s/m\].
    pub fn impedance_n_s_m(&self) -> f64 {
        self.density_kg_m3 * self.wave_speed_m_s() * self.area_m2
    }

    /// Peak tension for each m/s of seating by the lumped stop: the retained mass alone on the stem, `√(k m)` \[N·s/m\].
    pub fn lumped_n_s_m(&self) -> f64 {
        (self.stiffness_n_m() * self.retained_mass_kg).sqrt()
    }

    /// Peak tension at the keepers for each m/s of seating \[N·s/m\], by the waves.
    ///
    /// With velocity v and stress σ, `v + σ/(ρc)` is constant along waves towards the head and `v − σ/(ρc)` along those towards the tip; head and
    /// tip are masses that the stem pulls. Steps are a 256th of the time a wave takes, exact along the stem.
    pub fn peak_n_s_m(&self) -> f64 {
        let step_s = self.length_m / self.wave_speed_m_s() / STEPS as f64;
        let impedance = self.impedance_n_s_m();
        let tip_decay = -libm::expm1(-step_s * impedance / self.retained_mass_kg);
        // What was sent towards head and tip one pass ago; at first the undisturbed stem.
        let mut to_head = vec![1.0; STEPS];
        let mut to_tip = vec![1.0; STEPS];
        let (mut tip, mut peak) = (1.0, 0.0_f64);
        let mut head = Head::landing(self, step_s);
        for step in 0..STEPS * PASSES {
            let at = step % STEPS;
            let (down, up) = (to_head[at], to_tip[at]);
            // The tip obeys m v' = −ρcA (v − up), solved exactly for a step.
            let before = tip;
            tip += (up - tip) * tip_decay;
            peak = peak.max(before - up);
            to_head[at] = 2.0 * before - up;
            let head_speed = head.step(down);
            to_tip[at] = 2.0 * head_speed - down;
        }
        impedance * peak
    }
}

/// The head on its seat: `m v' = ρcA (down − v) − k u` while it touches (u ≥ 0), by Euler's implicit rule, which stays sound
/// for a seat that is all but rigid; at real stiffnesses a step is a thousandth of a swing.
struct Head {
    speed: f64,
    pushed: f64,
    pull: f64,
    spring: f64,
    step_s: f64,
}

impl Head {
    fn landing(stem: &Stem, step_s: f64) -> Self {
        Self {
            speed: 1.0,
            pushed: 0.0,
            pull: stem.impedance_n_s_m() / stem.head_mass_kg,
            spring: stem.seat_stiffness_n_m / stem.head_mass_kg,
            step_s,
        }
    }

    /// Speed after a step under a wave that comes down.
    fn step(&mut self, down: f64) -> f64 {
        let spring = if self.pushed >= 0.0 {
            self.spring
        } else {
            0.0 // off its seat
        };
        let drive = self.speed + self.step_s * (self.pull * down - spring * self.pushed);
        self.speed = drive / (1.0 + self.step_s * (self.pull + self.step_s * spring));
        self.pushed += self.step_s * self.speed;
        self.speed
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const STEM: Stem = Stem {
        area_m2: 2.827e-5,
        length_m: 0.09,
        modulus_pa: 2.06e11,
        density_kg_m3: 7850.0,
        head_mass_kg: 0.02,
        seat_stiffness_n_m: 1.5e8,
        retained_mass_kg: 0.035,
    };

    /// A heavy mass on a light stem is a mass on a spring: `V √(k m)`, stem and seat in series (textbook).
    #[test]
    fn a_light_stem_is_the_lumped_stop() {
        let light = Stem {
            density_kg_m3: 10.0,
            head_mass_kg: 1e-7,
            seat_stiffness_n_m: 1e12,
            retained_mass_kg: 0.02,
            ..STEM
        };
        // The lumped swing is slow against the waves: it must end within the passes followed.
        let slow = std::f64::consts::FRAC_PI_2 * (0.02_f64 / light.mass_kg()).sqrt();
        assert!(slow < PASSES as f64, "{slow}");
        let ratio = light.peak_n_s_m() / light.lumped_n_s_m();
        assert!((ratio - 1.0).abs() < 0.06, "{ratio}");
        let series = Stem {
            seat_stiffness_n_m: light.stiffness_n_m(),
            ..light
        };
        let ratio = series.peak_n_s_m() / (0.5 * light.stiffness_n_m() * 0.02_f64).sqrt();
        assert!((ratio - 1.0).abs() < 0.08, "{ratio}");
    }

    /// A stem stopped dead sends ρcV up, which doubles at a heavy tip: 2 ρ c A V at once (textbook).
    #[test]
    fn a_dead_stop_doubles_at_a_heavy_tip() {
        let dead = Stem {
            head_mass_kg: 1e-6,
            seat_stiffness_n_m: 1e15,
            retained_mass_kg: 1e5,
            ..STEM
        };
        // A tip that does not slow down gains 2 ρcV with every return.
        let first = 2.0 * dead.impedance_n_s_m();
        let passes = PASSES as f64 / 2.0;
        let ratio = dead.peak_n_s_m() / (first * passes);
        assert!((ratio - 1.0).abs() < 1e-3, "{ratio}");
    }

    /// The waves of a real stem pull harder than the retained mass alone: the stem's own mass adds to it.
    #[test]
    fn waves_exceed_the_lumped_stop() {
        let ratio = STEM.peak_n_s_m() / STEM.lumped_n_s_m();
        assert!(ratio > 1.0 && ratio < 2.0, "{ratio}");
        println!("waves over lumped: {ratio}");
    }

    /// A softer seat, a lighter tip: less.
    #[test]
    fn softer_and_lighter_is_less() {
        let peak = STEM.peak_n_s_m();
        let softer = Stem {
            seat_stiffness_n_m: 5.0e7,
            ..STEM
        };
        let lighter = Stem {
            retained_mass_kg: 0.025,
            ..STEM
        };
        assert!(softer.peak_n_s_m() < peak && lighter.peak_n_s_m() < peak);
    }
}
