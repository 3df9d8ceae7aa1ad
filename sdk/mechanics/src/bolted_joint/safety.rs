/// Static safety factors of a bolted joint in tension \[1\]: Shigley, Mechanical Engineering Design, 9th edition, equations 8-28 to 8-30.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StaticSafety {
    /// Against the proof strength, of the bolt's whole load.
    pub yielding: f64,
    /// Of the external load alone, against the proof strength.
    pub load: f64,
    /// Against separation of the members.
    pub separation: f64,
}

/// Safety of a bolt of a proof load \[N\] and a preload \[N\] under an external load \[N\], above 0, of which the share `load_factor` (0 to 1) reaches the bolt.
pub fn static_safety(
    proof_load_n: f64,
    preload_n: f64,
    external_n: f64,
    load_factor: f64,
) -> StaticSafety {
    let share_n = load_factor * external_n;
    StaticSafety {
        yielding: proof_load_n / (share_n + preload_n),
        load: (proof_load_n - preload_n) / share_n,
        separation: preload_n / (external_n * (1.0 - load_factor)),
    }
}

// Fatigue safety of a bolt whose load goes from preload to preload and amplitude twice over: with the preload's stress held, the load line
// has slope 1 from (preload stress, 0). Shigley, 9th edition, equations 8-45 to 8-47. All stresses in one unit.

/// After Goodman, at an amplitude, a preload's stress, a fully corrected endurance limit and a tensile strength.
pub fn goodman(amplitude: f64, preload_stress: f64, endurance: f64, tensile: f64) -> f64 {
    endurance * (tensile - preload_stress) / (amplitude * (tensile + endurance))
}

/// After Gerber; arguments as for [`goodman`].
pub fn gerber(amplitude: f64, preload_stress: f64, endurance: f64, tensile: f64) -> f64 {
    let root = (tensile * tensile + 4.0 * endurance * (endurance + preload_stress)).sqrt();
    let strength = tensile * root - tensile * tensile - 2.0 * preload_stress * endurance;
    strength / (2.0 * amplitude * endurance)
}

/// After the ASME ellipse, with the proof strength in place of the tensile strength.
pub fn asme_elliptic(amplitude: f64, preload_stress: f64, endurance: f64, proof: f64) -> f64 {
    let squares = proof * proof + endurance * endurance;
    let root = (squares - preload_stress * preload_stress).max(0.0).sqrt();
    endurance * (proof * root - preload_stress * endurance) / (amplitude * squares)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// At safety 1 the point lies on each criterion's own line.
    #[test]
    fn at_safety_one_the_criterion_is_met() {
        let (preload, endurance, tensile, proof) = (60.0, 20.0, 120.0, 85.0);
        let a = goodman(1.0, preload, endurance, tensile);
        assert!((a / endurance + (preload + a) / tensile - 1.0).abs() < 1e-12);
        let a = gerber(1.0, preload, endurance, tensile);
        assert!((a / endurance + ((preload + a) / tensile).powi(2) - 1.0).abs() < 1e-12);
        let a = asme_elliptic(1.0, preload, endurance, proof);
        let sum = (a / endurance).powi(2) + ((preload + a) / proof).powi(2);
        assert!((sum - 1.0).abs() < 1e-12);
    }
}
