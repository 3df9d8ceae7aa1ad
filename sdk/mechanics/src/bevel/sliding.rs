//! How the flanks move over one another.

use super::{BevelPair, Cylinders};

/// Velocities of both flanks in their common tangent plane, square to the line of contact and along it \[m/s\].
///
/// The line of contact stands still in that plane, so that these are the speeds that draw oil in and carry heat away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surfaces {
    /// Square to the line of contact: pinion, ring gear.
    pub across_m_s: [f64; 2],
    /// Along it.
    pub along_m_s: [f64; 2],
}

impl Surfaces {
    /// Speed of one flank over the other.
    pub fn sliding_m_s(&self) -> f64 {
        let across = self.across_m_s[0] - self.across_m_s[1];
        across.hypot(self.along_slide_m_s())
    }

    /// Its part along the line of contact.
    pub fn along_slide_m_s(&self) -> f64 {
        self.along_m_s[0] - self.along_m_s[1]
    }

    /// Mean speed that draws oil in.
    pub fn entrainment_m_s(&self) -> f64 {
        0.5 * (self.across_m_s[0] + self.across_m_s[1])
    }
}

/// The path of contact of one flank: from the ring gear's tip to the pinion's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Path {
    pair: BevelPair,
    cylinders: Cylinders,
    /// Sine and cosine of the angle between line of contact and trace, in the tangent plane.
    line: (f64, f64),
    /// Start and end \[m\] from the pitch point.
    ends_m: (f64, f64),
}

/// Exponent of the load's fall from the middle of the zone of action (ISO 10300-1 for usual crowning).
const FALL: f64 = 1.5;

impl Path {
    /// The path of a pair's flank.
    pub fn new(pair: &BevelPair, cylinders: &Cylinders) -> Self {
        let slope = libm::tan(cylinders.helix_rad) * libm::sin(cylinders.teeth.pressure_angle_rad);
        let (approach_m, recess_m) = cylinders.path_m();
        Self {
            pair: *pair,
            cylinders: *cylinders,
            line: libm::sincos(libm::atan(slope)),
            ends_m: (-approach_m, recess_m),
        }
    }

    /// Place at a share of the path \[m\] from the pitch point, 0 at the ring gear's tip.
    pub fn place_m(&self, share: f64) -> f64 {
        self.ends_m.0 + share * (self.ends_m.1 - self.ends_m.0)
    }

    /// Load over that in the middle of the zone of action: `1 − |2 share − 1|^1.5`.
    pub fn load_share(share: f64) -> f64 {
        (1.0 - libm::pow((2.0 * share - 1.0).abs(), FALL)).max(0.0)
    }

    /// Velocities at a place on the path \[m\], for a speed of the ring gear \[rad/s\].
    ///
    /// At the pitch point both surfaces have their speed along the trace and share one across it; away from it each turns about
    /// its own cylinder's axis. For cylindrical gears this is `ω ρ` square to the line of contact.
    pub fn surfaces(&self, place_m: f64, ring_rad_s: f64) -> Surfaces {
        let (sine, cosine) = self.line;
        let spirals = [self.pair.blank.pinion_spiral_rad, self.pair.ring_spiral_rad];
        let speeds_m_s = [
            self.pair.pinion_m_s(ring_rad_s),
            self.pair.ring_m_s(ring_rad_s),
        ];
        let across_trace_m_s = speeds_m_s[1] * libm::cos(spirals[1]);
        let up_m_s = across_trace_m_s * libm::sin(self.cylinders.teeth.pressure_angle_rad);
        let along_trace: [f64; 2] = std::array::from_fn(|k| speeds_m_s[k] * libm::sin(spirals[k]));
        let turning = |k: usize| {
            across_trace_m_s / (libm::cos(self.cylinders.helix_rad) * self.cylinders.radii_m[k])
        };
        let aside_m = [place_m, -place_m];
        Surfaces {
            across_m_s: std::array::from_fn(|k| {
                up_m_s * cosine + along_trace[k] * sine + turning(k) * aside_m[k]
            }),
            along_m_s: along_trace.map(|speed| speed * cosine - up_m_s * sine),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Blank, Teeth};
    use super::*;

    fn path(offset_m: f64, spiral: f64) -> (BevelPair, Cylinders, Path) {
        let pair = BevelPair::new(Blank {
            pinion_teeth: 11.0,
            ring_teeth: 41.0,
            offset_m,
            ring_outer_diameter_m: 0.2,
            face_width_m: 0.03,
            pinion_spiral_rad: spiral,
        })
        .unwrap();
        let teeth = Teeth {
            pressure_angle_rad: 20.0_f64.to_radians(),
            addendum: 1.0,
            dedendum: 1.25,
            profile_shift: 0.2,
            thickness_shift: 0.0,
            edge_radius: 0.3,
        };
        let cylinders = Cylinders::new(&pair, teeth, 0.85).unwrap();
        let path = Path::new(&pair, &cylinders);
        (pair, cylinders, path)
    }

    /// Closed form of cylindrical gears: `ω ρ` square to the line of contact, sliding `g (ω1 + ω2)`, none along it.
    #[test]
    fn without_offset_the_flanks_roll_as_cylinders() {
        for spiral in [0.0, 0.6] {
            let (pair, cylinders, path) = path(0.0, spiral);
            let speed_m_s = pair.ring_m_s(50.0);
            for share in [0.0, 0.3, 0.5, 1.0] {
                let place_m = path.place_m(share);
                let found = path.surfaces(place_m, 50.0);
                let radii_m = cylinders.profile_radii_m(place_m);
                for (k, radius_m) in radii_m.iter().enumerate() {
                    let rolling = speed_m_s / cylinders.radii_m[k] * radius_m;
                    assert!((found.across_m_s[k] - rolling).abs() < 1e-9 * speed_m_s);
                }
                assert!(found.along_slide_m_s().abs() < 1e-9 * speed_m_s);
                let turning: f64 = cylinders.radii_m.map(|r| speed_m_s / r).iter().sum();
                assert!((found.sliding_m_s() - place_m.abs() * turning).abs() < 1e-9 * speed_m_s);
            }
        }
    }

    /// At the pitch point of a hypoid pair nothing slides but the traces: `v1 sin(β1 − β2)/cos β2`.
    #[test]
    fn at_the_pitch_point_the_traces_slide() {
        let (pair, _, path) = path(0.02, 0.8);
        let found = path.surfaces(0.0, 50.0);
        assert!((found.sliding_m_s() / pair.lengthwise_m_s(50.0) - 1.0).abs() < 1e-9);
        let tip = path.surfaces(path.place_m(1.0), 50.0);
        assert!(tip.sliding_m_s() > found.sliding_m_s());
        assert!((Path::load_share(0.5) - 1.0).abs() < 1e-12 && Path::load_share(0.0).abs() < 1e-12);
    }
}
