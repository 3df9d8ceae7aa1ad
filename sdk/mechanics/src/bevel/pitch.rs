//! Pitch cones of a bevel or hypoid pair.

use crate::range::{OutOfRange, within};

/// What a pair is made from: the usual entries of a drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Blank {
    /// Teeth of the pinion, 5 to 60.
    pub pinion_teeth: f64,
    /// Teeth of the ring gear, as many or more.
    pub ring_teeth: f64,
    /// Distance of the axes \[m\], 0 for a bevel pair; in the direction that makes the pinion larger.
    pub offset_m: f64,
    /// Pitch diameter of the ring gear at the outer end of its teeth \[m\].
    pub ring_outer_diameter_m: f64,
    /// Face width of the ring gear \[m\].
    pub face_width_m: f64,
    /// Spiral angle of the pinion in the middle of the face \[rad\], 0 to 1.1.
    pub pinion_spiral_rad: f64,
}

/// The pitch cones at the middle of the face, with the point where they touch.
///
/// The pitch plane through that point touches both cones. For a hypoid pair ISO 23509 leaves one choice; it is taken here so that the pitch
/// apex of the ring gear lies in the plane of the pinion's axis, as it does without offset (the standard takes the cutter's radius).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BevelPair {
    /// What it was made from.
    pub blank: Blank,
    /// Mean pitch radius of the pinion \[m\].
    pub pinion_radius_m: f64,
    /// Mean pitch radius of the ring gear \[m\].
    pub ring_radius_m: f64,
    /// Pitch angle of the pinion \[rad\].
    pub pinion_angle_rad: f64,
    /// Pitch angle of the ring gear \[rad\].
    pub ring_angle_rad: f64,
    /// Mean spiral angle of the ring gear \[rad\].
    pub ring_spiral_rad: f64,
    /// Angle between the two cones' generators in the pitch plane \[rad\]: the difference of the spiral angles.
    pub offset_angle_rad: f64,
    /// Mean normal module \[m\].
    pub module_m: f64,
}

/// The pitch point on a normal that meets the axis of the ring gear at 0 and that of the pinion at 1.
struct Place {
    /// Radius of the ring gear \[m\].
    ring_m: f64,
    /// Radius of the pinion \[m\].
    pinion_m: f64,
    /// Tangent of the pinion's pitch angle.
    pinion_slope: f64,
    /// Sine of the offset angle.
    offset_sine: f64,
}

impl BevelPair {
    /// Solves the pitch cones.
    ///
    /// # Errors
    /// A field out of its range, or an offset for which there is no pair.
    pub fn new(blank: Blank) -> Result<Self, OutOfRange> {
        check(&blank)?;
        let ratio = blank.ring_teeth / blank.pinion_teeth;
        let (sine, cosine) = libm::sincos(blank.pinion_spiral_rad);
        // Both gears pass as many normal pitches: falls from end to end as the point nears the pinion's axis.
        let excess = |share: f64| {
            let place = place(&blank, share);
            let turned = place.offset_sine;
            let ring_cosine = cosine * (1.0 - turned * turned).sqrt() + sine * turned;
            ratio * place.pinion_m * cosine - place.ring_m * ring_cosine
        };
        let (mut low, mut high) = (0.02, 1.0 - 1.0e-9);
        if excess(low) <= 0.0 || excess(high) >= 0.0 {
            return Err(OutOfRange {
                field: "offset_m",
                value: blank.offset_m,
                expected: "an offset that leaves a pinion",
            });
        }
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if excess(middle) > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        let share = 0.5 * (low + high);
        let found = place(&blank, share);
        let offset_angle_rad = libm::asin(found.offset_sine);
        let ring_spiral_rad = blank.pinion_spiral_rad - offset_angle_rad;
        if ring_spiral_rad < 0.0 {
            return Err(OutOfRange {
                field: "pinion_spiral_rad",
                value: blank.pinion_spiral_rad,
                expected: "at least the offset angle, so that the ring gear's spiral has the usual hand",
            });
        }
        Ok(Self {
            blank,
            pinion_radius_m: found.pinion_m,
            ring_radius_m: found.ring_m,
            pinion_angle_rad: libm::atan(found.pinion_slope),
            ring_angle_rad: libm::asin(share.sqrt()),
            ring_spiral_rad,
            offset_angle_rad,
            module_m: 2.0 * found.ring_m * libm::cos(ring_spiral_rad) / blank.ring_teeth,
        })
    }

    /// Teeth of the ring gear over those of the pinion.
    pub fn ratio(&self) -> f64 {
        self.blank.ring_teeth / self.blank.pinion_teeth
    }

    /// Speed of the pinion's pitch point for a speed of the ring gear \[1/s\]: of the same kind, \[m/s\].
    pub fn pinion_m_s(&self, ring_rad_s: f64) -> f64 {
        self.ratio() * ring_rad_s * self.pinion_radius_m
    }

    /// Speed of the ring gear's pitch point \[m/s\].
    pub fn ring_m_s(&self, ring_rad_s: f64) -> f64 {
        ring_rad_s * self.ring_radius_m
    }

    /// Speed at which the tooth traces slide along one another \[m/s\]: `v1 sin(β1 − β2)/cos β2`.
    pub fn lengthwise_m_s(&self, ring_rad_s: f64) -> f64 {
        self.pinion_m_s(ring_rad_s) * libm::sin(self.offset_angle_rad)
            / libm::cos(self.ring_spiral_rad)
    }
}

/// Everything of the pitch point at a share of the way from the ring gear's axis to the pinion's, along the normal of the pitch plane.
///
/// With the ring gear's axis along z, the pinion's along x at y = a, the normal goes from (0, 0, z0) to (x0, a, 0).
fn place(blank: &Blank, share: f64) -> Place {
    let offset_m = blank.offset_m;
    // The apex condition makes the sine of the ring gear's pitch angle √share.
    let ring_m = 0.5 * (blank.ring_outer_diameter_m - blank.face_width_m * share.sqrt());
    let across_m = ring_m / share;
    let x0 = (across_m * across_m - offset_m * offset_m).max(0.0).sqrt();
    let z0 = across_m * (share / (1.0 - share)).sqrt();
    let pinion_across_m = offset_m.hypot(z0);
    Place {
        ring_m,
        pinion_m: (1.0 - share) * pinion_across_m,
        pinion_slope: x0 / pinion_across_m,
        offset_sine: (offset_m / across_m * across_m.hypot(z0) / pinion_across_m).min(1.0),
    }
}

fn check(blank: &Blank) -> Result<(), OutOfRange> {
    let teeth = "5 to 60 teeth";
    within("pinion_teeth", blank.pinion_teeth, (5.0, 60.0), teeth)?;
    let more = (blank.pinion_teeth, 200.0);
    let expected = "as many teeth as the pinion or more, up to 200";
    within("ring_teeth", blank.ring_teeth, more, expected)?;
    let diameter_m = blank.ring_outer_diameter_m;
    within(
        "ring_outer_diameter_m",
        diameter_m,
        (0.01, 5.0),
        "0.01 to 5 m",
    )?;
    let face = (1.0e-3 * diameter_m, 0.3 * diameter_m);
    let expected = "0.001 to 0.3 of the ring gear's outer diameter";
    within("face_width_m", blank.face_width_m, face, expected)?;
    let offset = (0.0, 0.3 * diameter_m);
    let expected = "0 to 0.3 of the ring gear's outer diameter";
    within("offset_m", blank.offset_m, offset, expected)?;
    let spiral = blank.pinion_spiral_rad;
    within("pinion_spiral_rad", spiral, (0.0, 1.1), "0 to 1.1 rad")?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn blank(offset_m: f64) -> Blank {
        Blank {
            pinion_teeth: 10.0,
            ring_teeth: 41.0,
            offset_m,
            ring_outer_diameter_m: 0.2,
            face_width_m: 0.03,
            pinion_spiral_rad: 0.8,
        }
    }

    /// Closed form without offset: pitch angles by the teeth, mean radii on common cones, one spiral angle.
    #[test]
    fn without_offset_it_is_a_bevel_pair() {
        let pair = BevelPair::new(blank(0.0)).unwrap();
        assert!((pair.ring_angle_rad.tan() - 4.1).abs() < 1e-9);
        assert!((pair.pinion_angle_rad.tan() * 4.1 - 1.0).abs() < 1e-9);
        let mean_m = 0.1 - 0.015 * pair.ring_angle_rad.sin();
        assert!((pair.ring_radius_m / mean_m - 1.0).abs() < 1e-12);
        assert!((pair.pinion_radius_m * 4.1 / mean_m - 1.0).abs() < 1e-9);
        assert!(pair.offset_angle_rad.abs() < 1e-12);
        assert!(pair.lengthwise_m_s(100.0).abs() < 1e-12);
    }

    /// What an offset is for: a larger pinion at the same ring gear, with a larger spiral angle than its mate.
    #[test]
    fn an_offset_enlarges_the_pinion() {
        let bevel = BevelPair::new(blank(0.0)).unwrap();
        let hypoid = BevelPair::new(blank(0.02)).unwrap();
        let grown = hypoid.pinion_radius_m / bevel.pinion_radius_m;
        println!("pinion {grown:.3} times as large, {hypoid:.4?}");
        assert!((1.1..1.4).contains(&grown));
        assert!(hypoid.ring_spiral_rad < hypoid.blank.pinion_spiral_rad);
        assert!(BevelPair::new(blank(0.061)).is_err());
        assert!(BevelPair::new(blank(f64::NAN)).is_err());
    }

    fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
        [
            a[1] * b[2] - a[2] * b[1],
            a[2] * b[0] - a[0] * b[2],
            a[0] * b[1] - a[1] * b[0],
        ]
    }

    fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
        a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

        /// The same pair built from vectors: the pitch point lies at its radius from both axes, both surfaces move in the pitch plane, their
        /// speeds are equal across the tooth trace, and along it they differ by the sliding speed.
        #[test]
        fn vectors_agree(offset in 0.002..0.035_f64, spiral in 0.6..0.95_f64, ring_teeth in 27.0..47.0_f64) {
            let blank = Blank { pinion_spiral_rad: spiral, ring_teeth, ..blank(offset) };
            let Ok(pair) = BevelPair::new(blank) else { return Ok(()) };
            let share = pair.ring_angle_rad.sin().powi(2);
            let (ring_slope, pinion_slope) = (pair.ring_angle_rad.tan(), pair.pinion_angle_rad.tan());
            let across = pair.ring_radius_m / share;
            let x0 = (across * across - offset * offset).sqrt();
            let z0 = across * ring_slope;
            prop_assert!((x0 / z0.hypot(offset) / pinion_slope - 1.0).abs() < 1e-9);
            let point = [share * x0, share * offset, (1.0 - share) * z0];
            prop_assert!((point[0].hypot(point[1]) / pair.ring_radius_m - 1.0).abs() < 1e-9);
            prop_assert!(((point[1] - offset).hypot(point[2]) / pair.pinion_radius_m - 1.0).abs() < 1e-9);
            // The apex of the ring gear's pitch cone lies at z = 0.
            prop_assert!((point[2] * ring_slope / pair.ring_radius_m - 1.0).abs() < 1e-9);
            let length = (x0 * x0 + offset * offset + z0 * z0).sqrt();
            let normal = [x0 / length, offset / length, -z0 / length];
            let ring = cross([0.0, 0.0, 1.0], point);
            let pinion = cross([-pair.ratio(), 0.0, 0.0], [point[0], point[1] - offset, point[2]]);
            prop_assert!(dot(ring, normal).abs() < 1e-9 && dot(pinion, normal).abs() < 1e-9);
            // The angle of the two velocities is that of the generators, each being square to its own.
            let cosine = dot(ring, pinion) / (dot(ring, ring) * dot(pinion, pinion)).sqrt();
            prop_assert!((cosine.abs() - pair.offset_angle_rad.cos()).abs() < 1e-9);
            // Where the velocities differ, there is the trace: sliding has no part across it.
            let pinion = if cosine < 0.0 { pinion.map(|v| -v) } else { pinion };
            let slide = [pinion[0] - ring[0], pinion[1] - ring[1], pinion[2] - ring[2]];
            let speed = dot(slide, slide).sqrt();
            prop_assert!((speed / pair.lengthwise_m_s(1.0) - 1.0).abs() < 1e-6);
            let along = dot(pinion, slide) / speed / dot(pinion, pinion).sqrt();
            prop_assert!((along - spiral.sin()).abs() < 1e-6);
        }
    }
}
