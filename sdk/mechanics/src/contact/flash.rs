/// Flash temperature of a line contact \[K\] above the bulk of both bodies after H. Blok (1937):
/// `1.11 q / ((B1 √v1 + B2 √v2) √(2b))`, for heat q = friction × load × sliding for each length \[W/m\], speeds of
/// the two surfaces past the contact \[m/s\] (their signs do not matter), thermal contact coefficients
/// `B = √(k ρ c)` \[J/(m²·K·√s)\] and half width b \[m\].
///
/// 1.11 is the highest place under the half-elliptic heat of a Hertz line. Both bodies are half-spaces that the
/// heat crosses slowly: Péclet number `v b / (2 a)` above about 5 for the faster one (a the thermal diffusivity,
/// 1.2e-5 m²/s for steel). With both speeds near 0 the formula fails; it then gives 0 for no heat.
pub fn flash_temperature_k(
    heat_w_m: f64,
    speeds_m_s: (f64, f64),
    coefficients: (f64, f64),
    half_width_m: f64,
) -> f64 {
    let carried =
        coefficients.0 * speeds_m_s.0.abs().sqrt() + coefficients.1 * speeds_m_s.1.abs().sqrt();
    if heat_w_m <= 0.0 || carried <= 0.0 || half_width_m <= 0.0 {
        return 0.0;
    }
    BLOK * heat_w_m / (carried * (2.0 * half_width_m).sqrt())
}

/// Largest of `∫ √(1 − ξ²)/√(x − ξ) dξ` over the contact, in the mean heat and width: worked out in the test.
const BLOK: f64 = 1.11;

/// Thermal contact coefficient \[J/(m²·K·√s)\] of a hardened steel. From memory.
pub const STEEL_THERMAL_CONTACT: f64 = 13_100.0;

#[cfg(test)]
mod tests {
    use super::*;

    /// The moving strip of heat on a fast half-space: `T(x) = 1/(B √(π v)) ∫ q(ξ)/√(x − ξ) dξ` (Carslaw and Jaeger,
    /// Conduction of Heat in Solids, §10.7), by quadrature with ξ = x − u².
    #[test]
    fn the_constant_is_that_of_half_elliptic_heat() {
        let at = |x: f64| {
            let steps = 4000;
            let reach = (x + 1.0).sqrt();
            let width = reach / f64::from(steps);
            (0..steps)
                .map(|k| {
                    let u = (f64::from(k) + 0.5) * width;
                    let place = x - u * u;
                    2.0 * width * (1.0 - place * place).max(0.0).sqrt()
                })
                .sum::<f64>()
        };
        let largest = (0..=200)
            .map(|k| at(f64::from(k) / 200.0))
            .fold(0.0, f64::max);
        // Mean heat for each area is π/4 of the peak; b = 1, v = B = 1, heat for each length 2 × mean.
        let heat = std::f64::consts::FRAC_PI_2;
        let temperature = largest / std::f64::consts::PI.sqrt();
        let constant = temperature * 2.0_f64.sqrt() / heat;
        println!("Blok's constant by quadrature: {constant:.4}");
        assert!((constant / BLOK - 1.0).abs() < 5e-3, "{constant}");
    }

    /// Equal steels: `1.11 μ w |√v1 − √v2| / (B √(2b))` (ISO/TS 6336-20's form, from memory).
    #[test]
    fn equal_bodies_give_the_difference_of_roots() {
        let (load, friction, v1, v2, b) = (1.2e5, 0.08, 9.0, 4.0, 6.5e-5);
        let heat = friction * load * (v1 - v2);
        let coefficient = STEEL_THERMAL_CONTACT;
        let found = flash_temperature_k(heat, (v1, v2), (coefficient, coefficient), b);
        let expected = 1.11 * friction * load * (3.0 - 2.0) / (coefficient * (2.0 * b).sqrt());
        assert!((found / expected - 1.0).abs() < 1e-12);
        assert!(flash_temperature_k(0.0, (0.0, 0.0), (1.0, 1.0), b).abs() < 1e-15);
    }
}
