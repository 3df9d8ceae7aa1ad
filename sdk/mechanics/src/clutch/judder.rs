//! Stick-slip of a clutch: friction that falls with sliding speed feeds the driveline's vibration, its damping takes it out.
//!
//! The driving side turns evenly. The driven inertia hangs by a torsion spring and damper on the rest of the car, which is one more inertia,
//! infinite for a fixed end. Left out: pressure that pulses with the vibration, further modes, friction with a memory.

/// The driven side of a clutch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Driveline {
    /// Inertia between the friction faces and the spring \[kg·m²\].
    pub driven_kg_m2: f64,
    /// Inertia behind the spring \[kg·m²\]; infinite for a fixed end.
    pub load_kg_m2: f64,
    /// Torsional stiffness \[N·m/rad\].
    pub stiffness_n_m: f64,
    /// Torsional damping of the spring \[N·m·s/rad\].
    pub damping_n_m_s: f64,
}

/// Damping \[N·m·s/rad\] that friction adds, `n F r² dμ/dv`: number of faces, clamp load \[N\], friction radius \[m\], slope \[s/m\].
/// Negative when friction falls with speed.
pub fn friction_damping_n_m_s(faces: f64, clamp_n: f64, radius_m: f64, slope_s_m: f64) -> f64 {
    faces * clamp_n * radius_m * radius_m * slope_s_m
}

impl Driveline {
    /// `J / J_load` and `1 + J / J_load`, finite for a fixed end.
    fn shares(&self) -> (f64, f64) {
        let share = self.driven_kg_m2 / self.load_kg_m2;
        (share, 1.0 + share)
    }

    /// Friction's damping at which vibration neither grows nor decays \[N·m·s/rad\], negative: `−c` for a fixed end, by the criterion of
    /// E. J. Routh and A. Hurwitz for two inertias. `None` for a driveline so damped that it does not vibrate at any slope.
    pub fn critical_damping_n_m_s(&self) -> Option<f64> {
        let (share, whole) = self.shares();
        let (c, k) = (self.damping_n_m_s, self.stiffness_n_m);
        // share and whole are over the load's inertia: c (J₁/J₂)/J₁ D² + (k + whole c²/J₂) D + whole² c k = 0.
        let square = c * share / self.driven_kg_m2;
        let linear = k + whole * c * c * share / self.driven_kg_m2;
        let rest = whole * whole * c * k;
        let under = linear * linear - 4.0 * square * rest;
        // The root next to 0, without cancellation.
        (under >= 0.0).then(|| -2.0 * rest / (linear + under.sqrt()))
    }

    /// Slope of friction \[s/m\] at which stick-slip starts, negative, for a clamp load; `None` as for
    /// [`Driveline::critical_damping_n_m_s`].
    pub fn critical_slope_s_m(&self, faces: f64, clamp_n: f64, radius_m: f64) -> Option<f64> {
        let unit = friction_damping_n_m_s(faces, clamp_n, radius_m, 1.0);
        self.critical_damping_n_m_s().map(|damping| damping / unit)
    }

    /// Friction's damping over the critical one: stick-slip above 1, negative where friction rises with speed; 0 for a driveline that
    /// does not vibrate.
    pub fn index(&self, friction_damping_n_m_s: f64) -> f64 {
        self.critical_damping_n_m_s()
            .map_or(0.0, |critical| friction_damping_n_m_s / critical)
    }

    /// Growth rate of small vibration \[1/s\]: the real part of the vibrating pair of roots. `−(c + D)/2J` for a fixed end. `None` when
    /// nothing vibrates.
    pub fn growth_rate_per_s(&self, friction_damping_n_m_s: f64) -> Option<f64> {
        let (share, whole) = self.shares();
        let (c, k, d) = (
            self.damping_n_m_s,
            self.stiffness_n_m,
            friction_damping_n_m_s,
        );
        let inertia = self.driven_kg_m2;
        // λ³ + a λ² + b λ + e = 0, divided by the two inertias.
        let a = (d + whole * c) / inertia;
        let b = (whole * k + d * c * share / inertia) / inertia;
        let e = d * k * share / (inertia * inertia);
        let real = real_root(a, b, e);
        // The other two roots add up to −a − real and multiply to b + real (a + real).
        let mean = -0.5 * (a + real);
        let product = b + real * (a + real);
        (product > mean * mean).then_some(mean)
    }
}

/// A real root of a cubic whose other two form a pair: bisection between bounds that hold all roots (A. L. Cauchy).
fn real_root(a: f64, b: f64, e: f64) -> f64 {
    if e.abs() <= 0.0 {
        return 0.0;
    }
    let at = |x: f64| ((x + a) * x + b) * x + e;
    let bound = 1.0 + a.abs().max(b.abs()).max(e.abs());
    let (mut low, mut high) = (-bound, bound);
    // The sign at 0 says on which side a root lies; the cubic rises in the end.
    if e > 0.0 {
        high = 0.0;
    } else {
        low = 0.0;
    }
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if at(middle) > 0.0 {
            high = middle;
        } else {
            low = middle;
        }
    }
    0.5 * (low + high)
}

/// Friction over sliding speed: from `rest` down or up to `sliding` over the speed `fall_m_s` (R. Stribeck's curve as an exponential), and
/// straight by `slope_s_m` beyond.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrictionCurve {
    /// Coefficient at rest \[1\].
    pub rest: f64,
    /// Coefficient that the straight part starts from \[1\].
    pub sliding: f64,
    /// Speed of the change between them \[m/s\].
    pub fall_m_s: f64,
    /// Slope of the straight part \[s/m\].
    pub slope_s_m: f64,
}

impl FrictionCurve {
    /// Coefficient at a speed \[m/s\] of 0 or more.
    pub fn at(&self, speed_m_s: f64) -> f64 {
        let fallen = libm::exp(-speed_m_s / self.fall_m_s);
        self.sliding + (self.rest - self.sliding) * fallen + self.slope_s_m * speed_m_s
    }

    /// Slope at a speed \[s/m\].
    pub fn slope_at_s_m(&self, speed_m_s: f64) -> f64 {
        let fallen = libm::exp(-speed_m_s / self.fall_m_s);
        self.slope_s_m - (self.rest - self.sliding) / self.fall_m_s * fallen
    }
}

/// A clutch that slips against an even speed, with a driveline whose load is a fixed end: the whole friction curve, stick and reversal included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slipping {
    /// The driven side; its load inertia is taken as infinite.
    pub driveline: Driveline,
    /// Friction.
    pub friction: FrictionCurve,
    /// Number of faces.
    pub faces: f64,
    /// Clamp load \[N\].
    pub clamp_n: f64,
    /// Friction radius \[m\].
    pub radius_m: f64,
    /// Speed of the driving side \[rad/s\].
    pub drive_rad_s: f64,
}

/// Twist of the spring and speed of the driven side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Motion {
    /// Twist \[rad\].
    pub twist_rad: f64,
    /// Speed \[rad/s\].
    pub speed_rad_s: f64,
}

/// Sliding speed below which friction fades to 0 so that sticking can be integrated \[m/s\].
const STICK_M_S: f64 = 1.0e-4;

impl Slipping {
    fn torque_n_m(&self, speed_rad_s: f64) -> f64 {
        let sliding_m_s = self.radius_m * (self.drive_rad_s - speed_rad_s);
        let friction = self.friction.at(sliding_m_s.abs()) * libm::tanh(sliding_m_s / STICK_M_S);
        self.faces * self.clamp_n * self.radius_m * friction
    }

    fn acceleration(&self, motion: Motion) -> f64 {
        let line = &self.driveline;
        let spring =
            line.stiffness_n_m * motion.twist_rad + line.damping_n_m_s * motion.speed_rad_s;
        (self.torque_n_m(motion.speed_rad_s) - spring) / line.driven_kg_m2
    }

    /// Twist of steady slip \[rad\].
    pub fn steady_twist_rad(&self) -> f64 {
        self.torque_n_m(0.0) / self.driveline.stiffness_n_m
    }

    /// The motion after each of `steps` equal steps of time, from a motion: the classical rule of C. Runge and W. Kutta. A step must
    /// resolve the sticking, `J · 1e-4 m/s` over `n μ F r²`.
    pub fn run(&self, start: Motion, step_s: f64, steps: usize) -> Vec<Motion> {
        let slope = |m: Motion| (m.speed_rad_s, self.acceleration(m));
        let ahead = |m: Motion, (twist, speed): (f64, f64), s: f64| Motion {
            twist_rad: m.twist_rad + twist * s,
            speed_rad_s: m.speed_rad_s + speed * s,
        };
        let mut now = start;
        let mut motions = Vec::with_capacity(steps);
        for _ in 0..steps {
            let first = slope(now);
            let second = slope(ahead(now, first, 0.5 * step_s));
            let third = slope(ahead(now, second, 0.5 * step_s));
            let fourth = slope(ahead(now, third, step_s));
            let mean = |a: f64, b: f64, c: f64, d: f64| (a + 2.0 * (b + c) + d) / 6.0;
            let whole = (
                mean(first.0, second.0, third.0, fourth.0),
                mean(first.1, second.1, third.1, fourth.1),
            );
            now = ahead(now, whole, step_s);
            motions.push(now);
        }
        motions
    }

    /// Amplitude of a damped vibration about steady slip \[rad\] at a motion, its growth taken off.
    pub fn envelope_rad(&self, motion: Motion, growth_per_s: f64) -> f64 {
        let line = &self.driveline;
        let about = motion.twist_rad - self.steady_twist_rad();
        let square = line.stiffness_n_m / line.driven_kg_m2 - growth_per_s * growth_per_s;
        let quarter = (motion.speed_rad_s - growth_per_s * about) / square.sqrt();
        about.hypot(quarter)
    }
}

#[cfg(test)]
mod tests;
