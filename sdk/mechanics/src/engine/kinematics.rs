use super::error::{EngineError, within};

/// Exact kinematics of a crank, connecting rod and piston, with an optional pin offset.
///
/// Angles in rad from crank and cylinder axis in line (piston up); displacement in m from top dead
/// centre, positive downwards; speed constant. Leaves out elastic stretch, bearing clearance and
/// piston tilt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SliderCrank {
    /// Half the stroke of a centred crank \[m\].
    pub crank_radius_m: f64,
    /// Connecting-rod length between centres \[m\].
    pub rod_length_m: f64,
    /// Distance of the pin's path from the crank axis \[m\], positive towards the side the
    /// crank pin moves to on the downstroke. 0 for a centred cylinder.
    pub pin_offset_m: f64,
}

impl SliderCrank {
    /// A centred crank, checked.
    ///
    /// # Errors
    /// See [`SliderCrank::check`].
    pub fn centred(crank_radius_m: f64, rod_length_m: f64) -> Result<Self, EngineError> {
        let crank = Self {
            crank_radius_m,
            rod_length_m,
            pin_offset_m: 0.0,
        };
        crank.check()?;
        Ok(crank)
    }

    /// Refuses a mechanism that cannot turn: crank radius 1 mm to 1 m, rod longer than
    /// 1.05 (radius + |offset|).
    ///
    /// # Errors
    /// [`EngineError::OutOfRange`] naming the field.
    pub fn check(&self) -> Result<(), EngineError> {
        let r = self.crank_radius_m;
        within("crank_radius_m", r, 1e-3, 1.0, "0.001 to 1 m")?;
        within(
            "pin_offset_m",
            self.pin_offset_m,
            -0.5 * r,
            0.5 * r,
            "at most half the crank radius",
        )?;
        let shortest = 1.05 * (r + self.pin_offset_m.abs());
        within(
            "rod_length_m",
            self.rod_length_m,
            shortest,
            10.0,
            "more than 1.05 (crank radius + offset)",
        )
    }

    /// Crank angle of top dead centre \[rad\]: 0 without offset.
    pub fn top_angle_rad(&self) -> f64 {
        (self.pin_offset_m / (self.rod_length_m + self.crank_radius_m)).asin()
    }

    /// Distance between the dead centres \[m\].
    pub fn stroke_m(&self) -> f64 {
        let (r, l, e) = (self.crank_radius_m, self.rod_length_m, self.pin_offset_m);
        ((l + r).powi(2) - e * e).sqrt() - ((l - r).powi(2) - e * e).sqrt()
    }

    /// Mean piston speed \[m/s\] at a crank speed \[rad/s\].
    pub fn mean_speed_m_s(&self, speed_rad_s: f64) -> f64 {
        self.stroke_m() * speed_rad_s / std::f64::consts::PI
    }

    /// Displacement from top dead centre \[m\].
    pub fn displacement_m(&self, angle_rad: f64) -> f64 {
        let (r, l, e) = (self.crank_radius_m, self.rod_length_m, self.pin_offset_m);
        ((l + r).powi(2) - e * e).sqrt() - r * angle_rad.cos() - self.rod_drop_m(angle_rad)
    }

    /// Displacement for each radian of crank angle \[m/rad\]; times the speed it is the velocity,
    /// times the piston force it is the crank torque.
    pub fn displacement_per_rad_m(&self, angle_rad: f64) -> f64 {
        let (sin, cos) = angle_rad.sin_cos();
        let s = self.rod_side_m(angle_rad);
        self.crank_radius_m * sin + s * self.crank_radius_m * cos / self.rod_drop_m(angle_rad)
    }

    /// Piston velocity \[m/s\], positive downwards.
    pub fn velocity_m_s(&self, angle_rad: f64, speed_rad_s: f64) -> f64 {
        speed_rad_s * self.displacement_per_rad_m(angle_rad)
    }

    /// Piston acceleration \[m/s²\], positive downwards, at constant crank speed.
    pub fn acceleration_m_s2(&self, angle_rad: f64, speed_rad_s: f64) -> f64 {
        let (sin, cos) = angle_rad.sin_cos();
        let r = self.crank_radius_m;
        let (s, q) = (self.rod_side_m(angle_rad), self.rod_drop_m(angle_rad));
        let (first, second) = (r * cos, -r * sin);
        let per_rad2 = r * cos + (first * first + s * second) / q + (s * first).powi(2) / q.powi(3);
        speed_rad_s * speed_rad_s * per_rad2
    }

    /// The usual two-term approximation `r ω² (cos θ + λ cos 2θ)` \[m/s²\], λ = r/L: for comparison
    /// with hand calculation only. Centred crank.
    pub fn two_term_acceleration_m_s2(&self, angle_rad: f64, speed_rad_s: f64) -> f64 {
        let r = self.crank_radius_m;
        let lambda = r / self.rod_length_m;
        r * speed_rad_s * speed_rad_s * (angle_rad.cos() + lambda * (2.0 * angle_rad).cos())
    }

    /// Angle between rod and cylinder axis \[rad\], positive when the crank pin is on the
    /// downstroke side of the piston pin.
    pub fn rod_angle_rad(&self, angle_rad: f64) -> f64 {
        (self.rod_side_m(angle_rad) / self.rod_length_m).asin()
    }

    /// Crank angle after top dead centre at which the piston is fastest \[rad\], by bisection of the
    /// acceleration to 1e-12 rad.
    pub fn fastest_angle_rad(&self) -> f64 {
        let (mut low, mut high) = (self.top_angle_rad(), std::f64::consts::PI);
        while high - low > 1e-12 {
            let middle = 0.5 * (low + high);
            if self.acceleration_m_s2(middle, 1.0) > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        0.5 * (low + high)
    }

    fn rod_side_m(&self, angle_rad: f64) -> f64 {
        self.crank_radius_m * angle_rad.sin() - self.pin_offset_m
    }

    fn rod_drop_m(&self, angle_rad: f64) -> f64 {
        let s = self.rod_side_m(angle_rad);
        (self.rod_length_m.powi(2) - s * s).sqrt()
    }
}

impl Default for SliderCrank {
    /// Stroke 86 mm, rod 145 mm: an invented 2.0 l in-line four.
    fn default() -> Self {
        Self {
            crank_radius_m: 0.043,
            rod_length_m: 0.145,
            pin_offset_m: 0.0,
        }
    }
}
