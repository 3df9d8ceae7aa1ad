//! Bolted joints against a textbook example and against values of VDI 2230.
#![allow(clippy::unwrap_used)]

use std::f64::consts::FRAC_PI_6;

use ringland_mechanics::bolted_joint::{
    BoltEndurance, BoltSegment, Clamp, Joint, Layer, Rolling, asme_elliptic, bolt_compliance_m_n,
    clamped_compliance_m_n, gerber, goodman, static_safety,
};

const INCH_M: f64 = 0.0254;
const PSI_PA: f64 = 6894.757;
const POUND_N: f64 = 4.448_222;
/// Stiffness of 1e6 lbf/in \[N/m\].
const MEGA_LBF_IN: f64 = 1e6 * POUND_N / INCH_M;

fn close(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!(
        (found / expected - 1.0).abs() <= tolerance,
        "{what}: {found} where {expected} is expected"
    );
}

/// Shigley, Mechanical Engineering Design, 9th edition, example 8-5 (its pages were read): 5/8-11 SAE 5 cap screw, washer 1/16 in and
/// cover 5/8 in of steel, cast iron; effective grip 1 in, the last 5/16 in of it in the iron. P = 0 to 5 kip, preload 14.4 kip.
/// k1, k2, k3 = 46.46, 197.43, 32.39; k_m = 17.40, k_b = 6.78 Mlbf/in, C = 0.280.
#[test]
fn the_stiffness_of_a_cover_on_cast_iron() {
    let clamp = Clamp {
        bearing_m: 1.5 * 0.625 * INCH_M,
        hole_m: 0.625 * INCH_M,
        members_m: f64::INFINITY,
        half_angle_rad: FRAC_PI_6,
    };
    let layer = |inches: f64, megapsi: f64| Layer {
        thickness_m: inches * INCH_M,
        modulus_pa: 1e6 * megapsi * PSI_PA,
    };
    let layers = [layer(0.0625, 30.0), layer(0.625, 30.0), layer(0.3125, 16.0)];
    let compliance = clamped_compliance_m_n(&clamp, &layers).unwrap();
    close(1.0 / compliance / MEGA_LBF_IN, 17.40, 0.005, "k_m");
    let thread = BoltSegment {
        length_m: INCH_M,
        area_m2: 0.226 * INCH_M * INCH_M,
    };
    let bolt = bolt_compliance_m_n(30e6 * PSI_PA, &[thread]);
    close(1.0 / bolt / MEGA_LBF_IN, 6.78, 0.005, "k_b");
    let joint = Joint {
        bolt_compliance_m_n: bolt,
        member_compliance_m_n: compliance,
        load_introduction: 1.0,
    };
    close(joint.load_factor(), 0.280, 0.005, "C");

    // The three frusta one by one: all of the grip in iron of no compliance but one.
    let stiff = 1e30;
    let only = |from: f64, inches: f64, megapsi: f64| {
        let mut parts = vec![];
        let rigid = |thickness_m: f64| Layer {
            thickness_m,
            modulus_pa: stiff,
        };
        if from > 0.0 {
            parts.push(rigid(from * INCH_M));
        }
        parts.push(layer(inches, megapsi));
        parts.push(rigid((1.0 - from - inches) * INCH_M));
        1.0 / clamped_compliance_m_n(&clamp, &parts).unwrap() / MEGA_LBF_IN
    };
    close(only(0.0, 0.5, 30.0), 46.46, 0.005, "k1");
    close(only(0.5, 0.1875, 30.0), 197.43, 0.005, "k2");
    // The third reaches from the tapped end: the same frustum from the head.
    close(only(0.0, 0.3125, 16.0), 32.39, 0.005, "k3");
}

/// The same example, its safety factors: n_p = 1.22, n_L = 3.44, n_0 = 4.00; stresses 63.72, 3.10 kpsi; S_a at Goodman and Gerber 7.55 and
/// 11.32, so n_f = 2.44 and 3.65; ASME-elliptic 3.055 is arithmetic of the book's equation.
#[test]
fn the_safety_of_a_cover_on_cast_iron() {
    let (area, proof, tensile, endurance) = (0.226, 85.0, 120.0, 18.6);
    let (preload, external, c) = (14.4, 5.0, 0.280);
    let found = static_safety(proof * area, preload, external, c);
    close(found.yielding, 1.22, 0.005, "n_p");
    close(found.load, 3.44, 0.005, "n_L");
    close(found.separation, 4.00, 0.005, "n_0");
    let joint = Joint {
        bolt_compliance_m_n: 1.0 - c,
        member_compliance_m_n: c,
        load_introduction: 1.0,
    };
    let amplitude = 0.5 * (joint.bolt_load_n(preload, external) - preload) / area;
    close(amplitude, 3.10, 0.005, "sigma_a");
    let stress = preload / area;
    close(stress, 63.72, 0.005, "sigma_i");
    close(stress + amplitude, 66.82, 0.005, "sigma_m");
    let factor = goodman(amplitude, stress, endurance, tensile);
    close(factor * amplitude, 7.55, 0.005, "S_a, Goodman");
    close(factor, 2.44, 0.005, "n_f, Goodman");
    let factor = gerber(amplitude, stress, endurance, tensile);
    close(factor * amplitude, 11.32, 0.005, "S_a, Gerber");
    close(factor, 3.65, 0.005, "n_f, Gerber");
    let factor = asme_elliptic(amplitude, stress, endurance, proof);
    close(factor, 3.055, 0.005, "n_f, ASME-elliptic");
}

/// VDI 2230 part 1 (forms from memory; its text was not seen): 0.85 (150/d + 45) MPa, times 2 - F/F02 rolled last; at 2e5 cycles 10^(1/3) and
/// 10^(1/6) of that.
#[test]
fn endurance_by_diameter() {
    for (d_mm, before_mpa, last_mpa) in [
        (6.0, 59.500, 83.300),
        (8.0, 54.1875, 75.863),
        (10.0, 51.000, 71.400),
        (12.0, 48.875, 68.425),
        (16.0, 46.219, 64.706),
        (20.0, 44.625, 62.475),
    ] {
        for (rolling, limit_mpa, rise) in [
            (Rolling::BeforeHeatTreatment, before_mpa, 2.154_435),
            (Rolling::AfterHeatTreatment, last_mpa, 1.467_799),
        ] {
            let endurance = BoltEndurance {
                diameter_m: 1e-3 * d_mm,
                rolling,
            };
            let limit_pa = endurance.limit_pa(0.6);
            close(limit_pa, 1e6 * limit_mpa, 1e-5, "limit");
            close(
                endurance.cycles(rise * limit_pa, 0.6),
                2e5,
                1e-5,
                "finite life",
            );
        }
    }
}
