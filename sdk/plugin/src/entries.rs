//! Lists of a specimen, read into arrays of the card's length.

use crate::contract::{Finding, Surface};
use crate::error;

/// Values of a surface and the spreads of their logarithms, in card order.
pub type Properties<const N: usize> = ([f64; N], [f64; N]);

/// The properties of a surface of which the card has `N`.
///
/// # Errors
/// Another number of values or of spreads.
pub fn properties<const N: usize>(
    name: &str,
    surface: &Surface,
) -> Result<Properties<N>, Vec<Finding>> {
    let values = surface.values.as_slice().try_into();
    let ln_sd = surface.ln_sd.as_slice().try_into();
    match (values, ln_sd) {
        (Ok(values), Ok(ln_sd)) => Ok((values, ln_sd)),
        _ => Err(wrong_count(name, surface.values.len(), N)),
    }
}

/// That a list has another length than the card says.
pub fn wrong_count(field: &str, given: usize, expected: usize) -> Vec<Finding> {
    vec![error(
        field,
        given as f64,
        &format!("{expected} values, in card order"),
        "give one value for each entry of the card",
    )]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_surface_is_read_when_it_has_as_many_values_as_the_card() {
        let mut surface = Surface {
            values: vec![1.0, 2.0],
            ln_sd: vec![0.1, 0.2],
            depth_m: Vec::new(),
            residual_stress_pa: Vec::new(),
        };
        assert_eq!(properties("skirt", &surface), Ok(([1.0, 2.0], [0.1, 0.2])));
        surface.ln_sd.pop();
        let wrong = properties::<2>("skirt", &surface).unwrap_err();
        assert_eq!(wrong[0].field, "skirt");
    }
}
