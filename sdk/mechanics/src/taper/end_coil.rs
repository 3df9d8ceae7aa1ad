//! The end coil of a spring on its seat: a coil grows in diameter as it is pressed flat, the seat's friction holds its end.

use std::f64::consts::PI;

/// The end coil of a spring on a flat seat.
///
/// A helix whose wire keeps its length and whose ends do not turn grows from pitch p1 to p2 by `(p1² − p2²)/(4π² D)` in radius (geometry). Where
/// the last active coil leaves the seat it drives the end coil outwards by that; the end coil is a beam on dry friction and slides up to where
/// friction holds it: a beam under an even load q that is flat and free of moment and shear at one end has deflected by `q l⁴/(24 E I)` after a length l. On
/// reversal friction turns round and counts twice.
///
/// Leaves out: turning of the ends, curvature of the beam, alternating zones of slip beyond the front.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EndCoil {
    /// Wire diameter \[m\].
    pub wire_m: f64,
    /// Mean coil diameter \[m\].
    pub coil_m: f64,
    /// Change of pitch over force \[m/N\], one over rate times active coils.
    pub pitch_m_n: f64,
    /// Modulus of elasticity of the wire \[Pa\].
    pub modulus_pa: f64,
    /// Turns that lie on the seat.
    pub turns: f64,
    /// Width of the ground face \[m\].
    pub face_m: f64,
    /// Coefficient of friction on the seat.
    pub friction: f64,
}

impl EndCoil {
    /// Length of wire on the seat \[m\].
    pub fn arc_m(&self) -> f64 {
        PI * self.coil_m * self.turns
    }

    /// Growth of the coil's radius \[m\] from a force \[N\], at which the pitch is `pitch_m`, to another.
    pub fn growth_m(&self, pitch_m: f64, from_n: f64, to_n: f64) -> f64 {
        let pressed_m = pitch_m - (to_n - from_n) * self.pitch_m_n;
        (pitch_m * pitch_m - pressed_m * pressed_m) / (4.0 * PI * PI * self.coil_m)
    }

    /// How far along the end coil a reversed growth \[m\] makes it slide \[m\], under a force \[N\].
    pub fn sliding_arc_m(&self, growth_m: f64, force_n: f64) -> f64 {
        let wire4 = self.wire_m * self.wire_m * self.wire_m * self.wire_m;
        let bending_n_m2 = self.modulus_pa * PI * wire4 / 64.0;
        let held_n_m = 2.0 * self.friction * force_n / self.arc_m();
        if held_n_m <= 0.0 {
            return self.arc_m();
        }
        let fourth_m4 = 24.0 * bending_n_m2 * growth_m.abs() / held_n_m;
        libm::pow(fourth_m4, 0.25).min(self.arc_m())
    }

    /// Pressure times sliding \[Pa·m\], mean over the face, of one growth \[m\] one way under a mean force \[N\].
    pub fn dose_pa_m(&self, growth_m: f64, force_n: f64) -> f64 {
        let force_n = force_n.max(0.0);
        let arc_m = self.arc_m();
        let mean_slide_m = growth_m.abs() * self.sliding_arc_m(growth_m, force_n) / (5.0 * arc_m);
        force_n / (self.face_m * arc_m) * mean_slide_m
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const COIL: EndCoil = EndCoil {
        wire_m: 3.8e-3,
        coil_m: 22.0e-3,
        pitch_m_n: 1.0 / (41_800.0 * 4.6),
        modulus_pa: 2.05e11,
        turns: 0.75,
        face_m: 2.6e-3,
        friction: 0.12,
    };

    /// The wire keeps its length: `(π D)² + p²` is the same before and after, to first order in the growth.
    #[test]
    fn the_wire_keeps_its_length() {
        let growth_m = COIL.growth_m(6.8e-3, 400.0, 926.0);
        let before = (PI * 22.0e-3).hypot(6.8e-3);
        let pressed_m = 6.8e-3 - 526.0 / (41_800.0 * 4.6);
        let after = (PI * (22.0e-3 + 2.0 * growth_m)).hypot(pressed_m);
        assert!((after / before - 1.0).abs() < 1e-5, "{growth_m}");
        assert!((2.0e-5..5.0e-5).contains(&growth_m));
    }

    /// Beam under an even load from a point that is flat and free: integrated numerically over the sliding arc.
    #[test]
    fn the_beam_integrated() {
        let (growth_m, force_n) = (3.0e-5, 660.0);
        let arc_m = COIL.sliding_arc_m(growth_m, force_n);
        assert!(arc_m < COIL.arc_m());
        let bending = 2.05e11 * PI * 3.8e-3_f64.powi(4) / 64.0;
        let load = 2.0 * 0.12 * force_n / COIL.arc_m();
        let steps = 20_000;
        let step_m = arc_m / f64::from(steps);
        let (mut shear, mut moment, mut slope, mut deflection, mut area) =
            (0.0, 0.0, 0.0, 0.0, 0.0);
        for _ in 0..steps {
            shear += load * step_m;
            moment += shear * step_m;
            slope += moment / bending * step_m;
            deflection += slope * step_m;
            area += deflection * step_m;
        }
        assert!((deflection / growth_m - 1.0).abs() < 1e-3, "{deflection}");
        let mean = area / COIL.arc_m();
        let dose = force_n / (COIL.face_m * COIL.arc_m()) * mean;
        assert!((COIL.dose_pa_m(growth_m, force_n) / dose - 1.0).abs() < 1e-3);
    }

    #[test]
    fn nothing_slides_without_growth_or_wears_without_force() {
        assert!(COIL.dose_pa_m(0.0, 500.0) <= 0.0);
        assert!(COIL.dose_pa_m(1.0e-5, -1.0) <= 0.0);
    }
}
