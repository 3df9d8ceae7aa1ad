/// Temperature \[K\] of a part that a heat \[W\] leaves by a conductance \[W/K\] to the air, in a steady state: when the heat has lasted several times heat capacity over
/// conductance (five minutes for a joint).
pub fn steady_temp_k(air_k: f64, heat_w: f64, conductance_w_k: f64) -> f64 {
    air_k + heat_w / conductance_w_k
}

/// Life of grease \[s\] at a temperature, of which one life is known: halved for each `halving_k` more (10 to 15 K: common practice, no source).
pub fn grease_life_s(temp_k: f64, (known_s, known_k): (f64, f64), halving_k: f64) -> f64 {
    known_s * libm::exp2((known_k - temp_k) / halving_k)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn grease_halves_and_heat_balances() {
        assert!((grease_life_s(375.15, (100.0, 363.15), 12.0) - 50.0).abs() < 1e-9);
        assert!((steady_temp_k(298.15, 100.0, 2.5) - 338.15).abs() < 1e-9);
    }
}
