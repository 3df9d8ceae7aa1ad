//! Digests: what a plugin is, and what a prepared table was made from.

use crate::contract::{Digest, Specimen, Surface, Table};
use sha2::{Digest as _, Sha256};

/// SHA-256 of bytes (FIPS 180-4).
pub(super) fn of_bytes(bytes: &[u8]) -> Digest {
    Digest(Sha256::digest(bytes).into())
}

/// SHA-256 over the plugin's digest and the specimen in one canonical form: little-endian numbers,
/// each list after its length, so that no two specimens share a form. -0.0 and 0.0 differ.
pub(super) fn of_specimen(plugin: Digest, specimen: &Specimen) -> Digest {
    let mut hash = Sha256::new();
    hash.update(plugin.0);
    numbers(&mut hash, &specimen.numbers);
    length(&mut hash, specimen.choices.len());
    for choice in &specimen.choices {
        hash.update(choice.to_le_bytes());
    }
    length(&mut hash, specimen.tables.len());
    for Table { columns } in &specimen.tables {
        length(&mut hash, columns.len());
        for column in columns {
            numbers(&mut hash, column);
        }
    }
    length(&mut hash, specimen.surfaces.len());
    for surface in &specimen.surfaces {
        let Surface {
            values,
            ln_sd,
            depth_m,
            residual_stress_pa,
        } = surface;
        for list in [values, ln_sd, depth_m, residual_stress_pa] {
            numbers(&mut hash, list);
        }
    }
    Digest(hash.finalize().into())
}

fn numbers(hash: &mut Sha256, numbers: &[f64]) {
    length(hash, numbers.len());
    for number in numbers {
        hash.update(number.to_le_bytes());
    }
}

fn length(hash: &mut Sha256, length: usize) {
    hash.update((length as u64).to_le_bytes());
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FIPS 180-4 example: SHA-256 of "abc" (from memory, as printed in the standard's examples).
    #[test]
    fn sha_256_of_abc() {
        let expected = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(of_bytes(b"abc").to_string(), expected);
    }

    #[test]
    fn moving_a_number_between_lists_changes_the_digest() {
        let plugin = of_bytes(b"plugin");
        let table = |columns: Vec<Vec<f64>>| Specimen {
            tables: vec![Table { columns }],
            ..Specimen::default()
        };
        let (a, b) = (
            table(vec![vec![1.0, 2.0], vec![]]),
            table(vec![vec![1.0], vec![2.0]]),
        );
        assert_ne!(of_specimen(plugin, &a), of_specimen(plugin, &b));
        assert_eq!(of_specimen(plugin, &a), of_specimen(plugin, &a.clone()));
        assert_ne!(of_specimen(plugin, &a), of_specimen(of_bytes(b"other"), &a));
    }
}
