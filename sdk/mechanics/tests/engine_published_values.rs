//! Engine kinematics, heat release, ideal cycle and gas flow against published or independently
//! computed values. "Independent" means computed apart from this crate with numpy/scipy from the
//! formula named.
#![allow(clippy::unwrap_used)]

use std::f64::consts::PI;

use ringland_mechanics::engine::{
    ChenFlynn, CycleModel, CycleSetup, Cylinder, CylinderGas, Operating, OrificeGas, Reciprocating,
    SliderCrank, Wiebe, choked_pressure_ratio, flow_function, orifice_flow_kg_s,
};

fn near(got: f64, want: f64, relative: f64) {
    assert!(
        (got - want).abs() <= relative * want.abs(),
        "got {got}, want {want}"
    );
}

/// Crank radius 45 mm, rod 140 mm, 8000 1/min: independent, by finite differences of the exact
/// displacement.
#[test]
fn slider_crank_table() {
    let crank = SliderCrank::centred(0.045, 0.140).unwrap();
    let speed = 8000.0 * PI / 30.0;
    let table = [
        (0.0, 41_734.327, 41_734.327),
        (45.0, 22_616.285, 22_332.365),
        (90.0, -10_720.488, -10_151.593),
        (135.0, -22_048.446, -22_332.365),
        (180.0, -21_431.141, -21_431.141),
    ];
    for (degrees, exact, two_term) in table {
        let angle = f64::to_radians(degrees);
        near(crank.acceleration_m_s2(angle, speed), exact, 1e-7);
        near(
            crank.two_term_acceleration_m_s2(angle, speed),
            two_term,
            1e-7,
        );
    }
    let fastest = crank.fastest_angle_rad();
    near(fastest.to_degrees(), 73.648_762, 1e-8);
    near(crank.velocity_m_s(fastest, speed), 39.615_517, 1e-7);
    near(crank.mean_speed_m_s(speed), 24.0, 1e-12);
    near(crank.displacement_m(0.5 * PI), 52.429_264e-3, 1e-7);
}

/// Newton's second law on the table above with 0.35 kg.
#[test]
fn inertia_force_at_the_dead_centres() {
    let crank = SliderCrank::centred(0.045, 0.140).unwrap();
    let piston = Reciprocating {
        mass_kg: 0.35,
        bore_m: 0.09,
    };
    let speed = 8000.0 * PI / 30.0;
    near(
        piston.forces(&crank, 0.0, speed, 0.0).inertia_n,
        -14_607.01,
        1e-6,
    );
    near(
        piston.forces(&crank, PI, speed, 0.0).inertia_n,
        7_500.90,
        1e-6,
    );
}

/// Independent arithmetic of Wiebe's curve, a = 5, m = 2.
#[test]
fn wiebe_curve() {
    let burn = Wiebe {
        start_rad: (-10.0_f64).to_radians(),
        duration_rad: 50.0_f64.to_radians(),
        efficiency: 5.0,
        form: 2.0,
    };
    let curve = [
        (0.0, 0.039_210_56),
        (10.0, 0.273_850_96),
        (20.0, 0.660_404_47),
        (30.0, 0.922_695_26),
        (40.0, 0.993_262_05),
    ];
    for (degrees, burned) in curve {
        near(burn.burned(f64::to_radians(degrees)), burned, 2e-7);
    }
    for (fraction, progress) in [
        (0.1, 0.276_207_81),
        (0.5, 0.517_549_41),
        (0.9, 0.772_233_36),
    ] {
        let angle = burn.angle_of(fraction).unwrap();
        near((angle - burn.start_rad) / burn.duration_rad, progress, 2e-8);
    }
    assert_eq!(burn.angle_of(0.999), None);
}

/// The first-law cylinder without heat loss, with constant γ, heat released at once at top dead
/// centre and valves at bottom dead centre must have the efficiency of the ideal constant-volume
/// cycle, 1 − r^(1−γ) (any thermodynamics textbook).
#[test]
fn constant_volume_cycle_efficiency() {
    let table = [
        (8.0, 1.4, 0.564_724_7),
        (10.0, 1.4, 0.601_892_8),
        (12.0, 1.4, 0.629_892_9),
        (14.0, 1.4, 0.652_024_4),
        (8.0, 1.3, 0.464_113_3),
        (10.0, 1.3, 0.498_812_8),
        (12.0, 1.3, 0.525_489_7),
        (14.0, 1.3, 0.546_933_9),
    ];
    for (ratio, gamma, wanted) in table {
        let errors =
            [720, 1440, 2880].map(|steps| (ideal_efficiency(ratio, gamma, steps) - wanted).abs());
        assert!(errors[0] < 5e-4, "{ratio} {gamma}: {errors:?}");
        assert!(
            errors[1] < errors[0] / 3.0 && errors[2] < errors[1] / 3.0,
            "{ratio} {gamma}: {errors:?}"
        );
    }
}

fn ideal_efficiency(ratio: f64, gamma: f64, steps: usize) -> f64 {
    let setup = CycleSetup {
        cylinder: Cylinder {
            compression_ratio: ratio,
            ..Cylinder::default()
        },
        gas: CylinderGas {
            gas_constant_j_kg_k: 287.0,
            gamma_300k: gamma,
            gamma_slope_per_k: 0.0,
        },
        burn: Wiebe {
            start_rad: 0.0,
            duration_rad: 1e-6,
            efficiency: 50.0,
            form: 0.0,
        },
        wall: None,
        intake_close_rad: -PI,
        exhaust_open_rad: PI,
    };
    let point = Operating {
        charge_pressure_pa: 1e5,
        exhaust_pressure_pa: 1e5,
        charge_temp_k: 300.0,
        heat_j_kg: 1.5e6,
        speed_rad_s: 300.0,
    };
    let cycle = CycleModel::new(setup, steps).unwrap().run(&point).unwrap();
    cycle.imep_pa * setup.cylinder.displacement_m3() / cycle.heat_released_j
}

/// Independent arithmetic of the isentropic nozzle relations.
#[test]
fn choked_flow() {
    for (gamma, ratio, flow) in [
        (1.4, 0.528_281_79, 0.684_731_46),
        (1.35, 0.536_851_22, 0.676_144_88),
        (1.3, 0.545_727_73, 0.667_262_35),
    ] {
        near(choked_pressure_ratio(gamma), ratio, 1e-8);
        near(flow_function(0.1, gamma), flow, 1e-8);
        near(flow_function(ratio, gamma), flow, 1e-8);
    }
}

/// A ring gap of 0.25 mm² at 50 bar and 600 K: independent arithmetic.
#[test]
fn ring_gap_flow() {
    let gas = OrificeGas {
        gamma: 1.3,
        gas_constant_j_kg_k: 287.0,
    };
    let flow = |area: f64, ratio: f64| orifice_flow_kg_s(area, 5e6, 600.0, 5e6 * ratio, &gas);
    near(flow(0.25e-6, 0.1), 2.009_972_25e-3, 1e-8);
    near(flow(0.86 * 0.25e-6, 0.1), 1.728_576_13e-3, 1e-8);
    near(flow(0.25e-6, 0.8), 1.673_352_64e-3, 1e-8);
    assert!(flow(0.25e-6, 1.0).abs() < 1e-15);
}

/// Arithmetic of the Chen-Flynn line with its usual coefficients (SAE 650733, coefficients from memory).
#[test]
fn chen_flynn() {
    near(ChenFlynn::default().fmep_pa(80e5, 15.0), 2.967e5, 1e-12);
}
