//! Springs against a textbook example.
//!
//! J. E. Shigley, Mechanical Engineering Design, 9th edition, example 10-4: a spring of music wire, 0.092 in, outside diameter 9/16 in, 21 active
//! coils, not peened, between 5 and 35 lbf. Statement and printed answers (1.21, 1.18, 1.23, 281 Hz) are from memory; the figures below were worked out in another
//! program. Zimmerli's limits were read in a scan of the book.

use ringland_mechanics::spring::Spring;
use ringland_mechanics::spring::endurance::{PEENED, UNPEENED};
use ringland_mechanics::spring::wire::{MUSIC_WIRE, torsional_strength_pa};

const INCH_M: f64 = 0.0254;
const POUND_N: f64 = 4.448_221_615;
const KPSI_PA: f64 = 6.894_757_293e6;

fn close(what: &str, value: f64, expected: f64, relative: f64) {
    assert!(
        (value / expected - 1.0).abs() <= relative,
        "{what}: {value} is not {expected}"
    );
}

fn example() -> Spring {
    Spring {
        wire_m: 0.092 * INCH_M,
        coil_m: (9.0 / 16.0 - 0.092) * INCH_M,
        active_coils: 21.0,
        shear_modulus_pa: 11.75e3 * KPSI_PA,
        // 0.284 lbf/in³
        density_kg_m3: 0.284 * POUND_N / 9.806_65 / (INCH_M * INCH_M * INCH_M),
    }
}

#[test]
fn the_textbook_spring() {
    let spring = example();
    close("C", spring.index(), 5.1141, 1e-4);
    close("K_B", spring.bergstraesser(), 1.28643, 1e-5);
    close("k", spring.rate_n_m() / (POUND_N / INCH_M), 48.106, 1e-3);
    close(
        "W",
        spring.active_mass_kg() * 9.806_65 / POUND_N,
        0.05860,
        1e-3,
    );
    close(
        "f",
        spring.natural_frequency_rad_s() / std::f64::consts::TAU,
        281.45,
        1e-3,
    );

    // A = 201 kpsi·inᵐ; the table in millimetres has 2211 MPa·mmᵐ, 0.2 % less.
    let tensile_pa = 201.0 * KPSI_PA / 0.092_f64.powf(0.145);
    close("Sut", tensile_pa / KPSI_PA, 284.08, 1e-4);
    close(
        "A in mm",
        MUSIC_WIRE.tensile_pa(spring.wire_m).unwrap(),
        tensile_pa,
        3e-3,
    );
    let torsional_pa = torsional_strength_pa(tensile_pa);
    close("Ssu", torsional_pa / KPSI_PA, 190.34, 1e-4);

    let (amplitude_pa, mean_pa) = (
        spring.shear_stress_pa(15.0 * POUND_N),
        spring.shear_stress_pa(20.0 * POUND_N),
    );
    close("τa", amplitude_pa / KPSI_PA, 29.690, 1e-4);
    close("τm", mean_pa / KPSI_PA, 39.587, 1e-4);
    // The book's limits are 35 and 55 kpsi, rounded to MPa in this library: 0.2 %.
    close(
        "Gerber Se",
        UNPEENED.gerber_reversed_pa(torsional_pa) / KPSI_PA,
        38.189,
        3e-3,
    );
    close(
        "Goodman Se",
        UNPEENED.goodman_reversed_pa(torsional_pa) / KPSI_PA,
        49.224,
        3e-3,
    );
    close(
        "Gerber",
        UNPEENED.gerber_factor(amplitude_pa, mean_pa, torsional_pa),
        1.205,
        3e-3,
    );
    close("Sines", UNPEENED.sines_factor(amplitude_pa), 1.179, 3e-3);
    close(
        "Goodman",
        UNPEENED.goodman_factor(amplitude_pa, mean_pa, torsional_pa),
        1.233,
        3e-3,
    );
}

/// Zimmerli's pairs in the book's units.
#[test]
fn zimmerlis_limits() {
    for (pair, amplitude, mean) in [(UNPEENED, 35.0, 55.0), (PEENED, 57.5, 77.5)] {
        close("Sa", pair.amplitude_pa, amplitude * KPSI_PA, 4e-3);
        close("Sm", pair.mean_pa, mean * KPSI_PA, 1e-3);
    }
}

/// On its line a spring has a factor of 1, by each criterion.
#[test]
fn the_pair_itself_is_the_limit() {
    for pair in [UNPEENED, PEENED] {
        let (a, m) = (pair.amplitude_pa, pair.mean_pa);
        for factor in [
            pair.goodman_factor(a, m, 1.3e9),
            pair.gerber_factor(a, m, 1.3e9),
            pair.sines_factor(a),
        ] {
            assert!((factor - 1.0).abs() < 1e-12, "{factor}");
        }
        assert!(pair.goodman_factor(0.9 * a, m, 1.3e9) > 1.0);
    }
}
