//! Contact against values worked out independently of this crate.

use ringland_mechanics::contact::{
    GreenwoodTable, GreenwoodTripp, effective_modulus_pa, greenwood_integral,
};
use ringland_mechanics::statistics::normal;

/// λ; F0, F1/2, F1, F3/2, F2, F5/2 by adaptive quadrature in 30-digit arithmetic (mpmath 1.4.1), 1e-7 relative.
const GREENWOOD: [(f64, [f64; 6]); 9] = [
    (
        0.0,
        [
            5.000_000_00e-1,
            4.110_894_79e-1,
            3.989_422_80e-1,
            4.300_199_94e-1,
            5.000_000_00e-1,
            6.166_342_19e-1,
        ],
    ),
    (
        0.5,
        [
            3.085_375_39e-1,
            2.253_355_82e-1,
            1.977_965_57e-1,
            1.952_036_04e-1,
            2.096_392_60e-1,
            2.404_015_71e-1,
        ],
    ),
    (
        1.0,
        [
            1.586_552_54e-1,
            1.041_536_75e-1,
            8.331_547_06e-2,
            7.566_817_74e-2,
            7.533_978_33e-2,
            8.056_233_56e-2,
        ],
    ),
    (
        1.5,
        [
            6.680_720_13e-2,
            3.988_151_77e-2,
            2.930_679_38e-2,
            2.463_948_03e-2,
            2.284_701_06e-2,
            2.286_305_60e-2,
        ],
    ),
    (
        2.0,
        [
            2.275_013_19e-2,
            1.248_004_03e-2,
            8.490_702_62e-3,
            6.648_177_62e-3,
            5.768_726_71e-3,
            5.423_705_20e-3,
        ],
    ),
    (
        2.5,
        [
            6.209_665_33e-3,
            3.159_023_03e-3,
            2.004_137_18e-3,
            1.469_938_24e-3,
            1.199_322_38e-3,
            1.063_688_95e-3,
        ],
    ),
    (
        3.0,
        [
            1.349_898_03e-3,
            6.418_504_39e-4,
            3.821_543_17e-4,
            2.639_675_54e-4,
            2.034_350_80e-4,
            1.708_729_96e-4,
        ],
    ),
    (
        3.5,
        [
            2.326_290_79e-4,
            1.040_714_53e-4,
            5.848_091_84e-5,
            3.822_707_78e-5,
            2.794_586_46e-5,
            2.231_240_72e-5,
        ],
    ),
    (
        4.0,
        [
            3.167_124_18e-5,
            1.340_666_99e-5,
            7.145_258_43e-6,
            4.439_155_96e-6,
            3.090_208_06e-6,
            2.353_381_05e-6,
        ],
    ),
];

fn close(found: f64, expected: f64, relative: f64, what: &str) {
    let error = (found / expected - 1.0).abs();
    assert!(
        error <= relative,
        "{what}: {found:e} for {expected:e}, off by {error:.1e}"
    );
}

#[test]
fn greenwood_integrals_meet_the_quadrature_table() {
    for (separation, row) in GREENWOOD {
        for (n, expected) in [0.0, 0.5, 1.0, 1.5, 2.0, 2.5].into_iter().zip(row) {
            let found = greenwood_integral(n, separation);
            close(found, expected, 1e-7, &format!("F_{n}({separation})"));
        }
    }
}

/// Closed forms: F0 = Q(λ), F1 = φ − λ Q, F2 = (1 + λ²) Q − λ φ (integration by parts).
#[test]
fn whole_orders_meet_their_closed_forms() {
    for k in -20..=12 {
        let x = 0.25 * f64::from(k);
        let (density, tail) = (normal::pdf(x), normal::survival(x));
        close(greenwood_integral(0.0, x), tail, 1e-11, "F0");
        close(greenwood_integral(1.0, x), density - x * tail, 1e-11, "F1");
        close(
            greenwood_integral(2.0, x),
            (1.0 + x * x) * tail - x * density,
            1e-10,
            "F2",
        );
    }
}

#[test]
fn the_table_follows_the_quadrature_between_its_steps() {
    let table = GreenwoodTable::new();
    let mut worst: f64 = 0.0;
    for k in 0..=6000 {
        let x = -1.0 + 7.0 * f64::from(k) / 6000.0 + 1e-4;
        if k % 7 != 0 {
            continue;
        }
        for (found, n) in [
            (table.five_halves(x), 2.5),
            (table.three_halves(x), 1.5),
            (table.two(x), 2.0),
        ] {
            worst = worst.max((found / greenwood_integral(n, x) - 1.0).abs());
        }
    }
    println!("Greenwood table against quadrature, -1 to 6: worst relative error {worst:.1e}");
    assert!(worst < 2e-7, "{worst:e}");
}

/// ηβσ = 0.05, σ/β = 0.001, E* = 2.27e11 Pa; values by independent quadrature of the same formula (the model's
/// constants are from memory).
#[test]
fn greenwood_tripp_pressure_and_area() {
    let table = GreenwoodTable::new();
    let sigma_m = 0.4e-6;
    let pair = GreenwoodTripp {
        sigma_m,
        radius_m: sigma_m / 0.001,
        density_per_m2: 0.05 * 0.001 / (sigma_m * sigma_m),
        modulus_pa: 227e9,
    };
    pair.check().unwrap();
    for (ratio, pressure_pa, area) in [
        (1.0, 6.851_592e6, 1.858_935e-3),
        (2.0, 4.612_703e5, 1.423_376e-4),
        (3.0, 1.453_225e4, 5.019_559e-6),
    ] {
        close(
            pair.pressure_pa(&table, ratio * sigma_m),
            pressure_pa,
            1e-6,
            "pressure",
        );
        close(
            pair.area_fraction(&table, ratio * sigma_m),
            area,
            1e-6,
            "area",
        );
    }
}

/// Steel on steel, 2.06e11 Pa and 0.3: E* = 1.13186813e11 Pa (Hertz; arithmetic of the definition).
#[test]
fn effective_modulus_of_steel_on_steel() {
    close(
        effective_modulus_pa((206e9, 0.3), (206e9, 0.3)),
        113.186_813e9,
        1e-8,
        "E*",
    );
}

#[test]
fn properties_out_of_range_are_named() {
    let pair = GreenwoodTripp {
        sigma_m: f64::NAN,
        radius_m: 1e-5,
        density_per_m2: 1e10,
        modulus_pa: 1e11,
    };
    assert_eq!(pair.check().unwrap_err().field, "sigma_m");
}
