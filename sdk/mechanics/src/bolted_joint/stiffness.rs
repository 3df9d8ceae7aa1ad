use std::f64::consts::PI;

use super::thread::{Thread, circle_m2};
use crate::range::{OutOfRange, within};

/// A clamped layer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer {
    /// Thickness \[m\].
    pub thickness_m: f64,
    /// Modulus of elasticity \[Pa\].
    pub modulus_pa: f64,
}

/// How pressure spreads under head and nut: a hollow cone from each bearing face, meeting halfway, cut off by the outer
/// diameter of the members.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clamp {
    /// Outer diameter of the bearing faces \[m\].
    pub bearing_m: f64,
    /// Diameter of the hole \[m\].
    pub hole_m: f64,
    /// Outer diameter of the members \[m\]; infinite when they reach far out.
    pub members_m: f64,
    /// Half angle of the cones \[rad\]: 30° is usual.
    pub half_angle_rad: f64,
}

/// Compliance \[m/N\] of clamped layers, in order from head to nut (or to where the engaged thread of a tapped member takes the
/// load), by frusta in series: Shigley, Mechanical Engineering Design, 9th edition, equation 8-19. Where the cones have reached the outer
/// diameter, a sleeve.
///
/// # Errors
/// Dimensions or moduli that are not positive, a bearing face that does not reach beyond the hole.
pub fn clamped_compliance_m_n(clamp: &Clamp, layers: &[Layer]) -> Result<f64, OutOfRange> {
    check(clamp, layers)?;
    let grip_m: f64 = layers.iter().map(|layer| layer.thickness_m).sum();
    let tan = clamp.half_angle_rad.tan();
    let widest_m = ((clamp.members_m - clamp.bearing_m) / (2.0 * tan)).max(0.0);
    let mut compliance_m_n = 0.0;
    let mut from_m = 0.0;
    for layer in layers {
        let to_m = from_m + layer.thickness_m;
        // Depths below the nearer bearing face: the layer's part in each half of the grip.
        let below_head = (from_m, to_m.min(0.5 * grip_m));
        let above_nut = (grip_m - to_m, (grip_m - from_m).min(0.5 * grip_m));
        for (near_m, far_m) in [below_head, above_nut] {
            let edge_m = widest_m.clamp(near_m.min(far_m), far_m);
            compliance_m_n += frustum(clamp, tan, (near_m, edge_m)) / layer.modulus_pa;
            let area_m2 = circle_m2(clamp.members_m.max(clamp.bearing_m)) - circle_m2(clamp.hole_m);
            compliance_m_n += (far_m - edge_m.max(near_m)).max(0.0) / (area_m2 * layer.modulus_pa);
        }
        from_m = to_m;
    }
    Ok(compliance_m_n)
}

/// Length over area \[1/m\] of a hollow frustum between two depths.
fn frustum(clamp: &Clamp, tan: f64, (from_m, to_m): (f64, f64)) -> f64 {
    if to_m <= from_m {
        return 0.0;
    }
    let hole_m = clamp.hole_m;
    let (top_m, bottom_m) = (
        clamp.bearing_m + 2.0 * from_m * tan,
        clamp.bearing_m + 2.0 * to_m * tan,
    );
    let ratio = (bottom_m - hole_m) * (top_m + hole_m) / ((bottom_m + hole_m) * (top_m - hole_m));
    libm::log(ratio) / (PI * hole_m * tan)
}

fn check(clamp: &Clamp, layers: &[Layer]) -> Result<(), OutOfRange> {
    let most = (f64::MIN_POSITIVE, f64::MAX);
    within("hole_m", clamp.hole_m, most, "more than 0")?;
    let beyond = (clamp.hole_m * (1.0 + 1e-9), f64::MAX);
    within("bearing_m", clamp.bearing_m, beyond, "more than the hole")?;
    let members = (clamp.hole_m * (1.0 + 1e-9), f64::INFINITY);
    within("members_m", clamp.members_m, members, "more than the hole")?;
    within(
        "half_angle_rad",
        clamp.half_angle_rad,
        (0.1, 1.2),
        "0.1 to 1.2 rad",
    )?;
    for layer in layers {
        within("thickness_m", layer.thickness_m, most, "more than 0")?;
        within("modulus_pa", layer.modulus_pa, most, "more than 0")?;
    }
    Ok(())
}

/// A cylindrical part of a bolt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoltSegment {
    /// Length \[m\].
    pub length_m: f64,
    /// Area \[m²\].
    pub area_m2: f64,
}

/// Compliance \[m/N\] of segments in series, modulus of elasticity in Pa.
pub fn bolt_compliance_m_n(modulus_pa: f64, segments: &[BoltSegment]) -> f64 {
    let slender: f64 = segments.iter().map(|s| s.length_m / s.area_m2).sum();
    slender / modulus_pa
}

/// Segments of a bolt: head, unthreaded shank, free thread, engaged thread. The head counts as 0.4 d on the nominal area and the
/// engaged thread as 0.5 d on the core (VDI 2230, from memory): that is the bolt's own elongation, as a stretch gauge sees it.
pub fn threaded_bolt_segments(
    thread: &Thread,
    shank_diameter_m: f64,
    shank_length_m: f64,
    free_thread_m: f64,
) -> [BoltSegment; 4] {
    let segment = |length_m: f64, area_m2: f64| BoltSegment { length_m, area_m2 };
    let core_m2 = thread.core_area_m2();
    [
        segment(0.4 * thread.diameter_m, circle_m2(thread.diameter_m)),
        segment(shank_length_m, circle_m2(shank_diameter_m)),
        segment(free_thread_m, core_m2),
        segment(0.5 * thread.diameter_m, core_m2),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    const CLAMP: Clamp = Clamp {
        bearing_m: 15e-3,
        hole_m: 10e-3,
        members_m: 20e-3,
        half_angle_rad: std::f64::consts::FRAC_PI_6,
    };

    fn layers(thicknesses_m: &[f64]) -> Vec<Layer> {
        let layer = |&thickness_m: &f64| Layer {
            thickness_m,
            modulus_pa: 2e11,
        };
        thicknesses_m.iter().map(layer).collect()
    }

    /// Cutting a member in two of the same material changes nothing.
    #[test]
    fn layers_of_one_material_are_one_layer() {
        let whole = clamped_compliance_m_n(&CLAMP, &layers(&[40e-3])).unwrap();
        for cut in [[3e-3, 37e-3], [20e-3, 20e-3], [38e-3, 2e-3]] {
            let parts = clamped_compliance_m_n(&CLAMP, &layers(&cut)).unwrap();
            assert!((parts / whole - 1.0).abs() < 1e-12, "{cut:?}");
        }
    }

    /// Quadrature of dx / (E A(x)), independent of the closed form of the frustum.
    #[test]
    fn the_closed_form_is_the_integral_over_the_grip() {
        let found = clamped_compliance_m_n(&CLAMP, &layers(&[40e-3])).unwrap();
        let (n, grip_m) = (40_000, 40e-3_f64);
        let slice = |k: usize| {
            let x = (k as f64 + 0.5) / n as f64 * grip_m;
            let depth_m = x.min(grip_m - x);
            let wide_m = (15e-3 + 2.0 * depth_m * CLAMP.half_angle_rad.tan()).min(20e-3);
            grip_m / n as f64 / (2e11 * (circle_m2(wide_m) - circle_m2(10e-3)))
        };
        let integral: f64 = (0..n).map(slice).sum();
        assert!((found / integral - 1.0).abs() < 1e-6, "{found} {integral}");
    }

    #[test]
    fn a_face_within_the_hole_is_refused() {
        let wrong = Clamp {
            bearing_m: 9e-3,
            ..CLAMP
        };
        let refused = clamped_compliance_m_n(&wrong, &layers(&[0.01])).unwrap_err();
        assert_eq!(refused.field, "bearing_m");
        assert!(clamped_compliance_m_n(&CLAMP, &layers(&[f64::NAN])).is_err());
    }
}
