//! Laws that the engine and ring-pack gas models must keep, whatever the numbers.
#![allow(clippy::unwrap_used)]

use std::f64::consts::PI;

use proptest::prelude::*;
use ringland_mechanics::engine::{
    ChenFlynn, Cycle, CycleModel, CycleSetup, EngineError, Land, LandPressures, LoadControl,
    LoadTarget, Operating, Reciprocating, RingPackGas, RingSeal, SliderCrank, Wiebe, bmep_pa,
    torque_n_m,
};

fn cycle(steps: usize, speed_rad_s: f64) -> Cycle {
    let point = Operating {
        speed_rad_s,
        ..Operating::default()
    };
    CycleModel::new(CycleSetup::default(), steps)
        .unwrap()
        .run(&point)
        .unwrap()
}

fn largest_gap(coarse: &[f64], fine: &[f64]) -> f64 {
    coarse
        .iter()
        .zip(fine.iter().step_by(2))
        .map(|(a, b)| (a - b).abs() / b)
        .fold(0.0, f64::max)
}

/// Compression without heat is the polytrope p V^γ.
#[test]
fn unfired_adiabatic_compression_is_isentropic() {
    let mut setup = CycleSetup {
        wall: None,
        ..CycleSetup::default()
    };
    setup.gas.gamma_slope_per_k = 0.0;
    let point = Operating {
        heat_j_kg: 0.0,
        ..Operating::default()
    };
    let traced = CycleModel::new(setup, 720).unwrap().run(&point).unwrap();
    let constant = |k: usize| {
        traced.pressure_pa[k]
            * setup
                .cylinder
                .volume_m3(traced.angle_rad[k])
                .powf(setup.gas.gamma_300k)
    };
    let closed = 300..480;
    for k in closed {
        assert!(
            (constant(k) / constant(260) - 1.0).abs() < 1e-7,
            "at point {k}"
        );
    }
}

/// First law over the closed part: heat released = work + wall heat + change of internal energy.
#[test]
fn closed_cycle_keeps_energy() {
    let setup = CycleSetup::default();
    let traced = cycle(720, 700.0);
    let open = traced
        .angle_rad
        .iter()
        .position(|a| *a >= setup.exhaust_open_rad - 1e-9)
        .unwrap();
    let energy = |temp_k: f64| traced.trapped_mass_kg * setup.gas.internal_energy_j_kg(temp_k);
    let gained = energy(traced.temp_k[open]) - energy(Operating::default().charge_temp_k);
    let balance = traced.heat_released_j - traced.closed_work_j - traced.wall_heat_j - gained;
    assert!(
        balance.abs() < 1e-4 * traced.heat_released_j,
        "{balance} of {}",
        traced.heat_released_j
    );
    assert!(traced.wall_heat_j > 0.05 * traced.heat_released_j);
}

#[test]
fn cylinder_pressure_converges_with_the_step() {
    let traces = [360, 720, 1440, 2880].map(|steps| cycle(steps, 700.0));
    let gaps: Vec<f64> = traces
        .windows(2)
        .map(|t| largest_gap(&t[0].pressure_pa, &t[1].pressure_pa))
        .collect();
    assert!(
        gaps[0] < 2e-3 && gaps[1] < gaps[0] / 3.0 && gaps[2] < gaps[1] / 3.0,
        "{gaps:?}"
    );
}

#[test]
fn land_pressures_converge_with_the_step() {
    for speed in [150.0, 850.0] {
        let results: Vec<LandPressures> = [360, 720, 1440, 2880]
            .map(|steps| {
                let traced = cycle(steps, speed);
                RingPackGas::default()
                    .land_pressures(&traced.pressure_pa, traced.period_s)
                    .unwrap()
            })
            .into();
        let gaps: Vec<f64> = results
            .windows(2)
            .map(|r| largest_gap(&r[0].pressure_pa[1], &r[1].pressure_pa[1]))
            .collect();
        assert!(
            gaps[0] < 1e-2 && gaps[2] < gaps[0] / 4.0,
            "{speed} rad/s: {gaps:?}"
        );
        let flows: Vec<f64> = results.iter().map(|r| r.blow_by_kg_s).collect();
        assert!((flows[0] / flows[3] - 1.0).abs() < 2e-3, "{flows:?}");
    }
}

/// Tiny volumes and wide leaks make the network far stiffer than the step.
#[test]
fn stiff_network_stays_stable() {
    let mut pack = RingPackGas::default();
    for land in &mut pack.lands {
        land.volume_m3 = 1e-9;
    }
    for ring in &mut pack.rings {
        ring.flank_area_m2 = 1e-5;
    }
    let traced = cycle(360, 100.0);
    let lands = pack
        .land_pressures(&traced.pressure_pa, traced.period_s)
        .unwrap();
    for (chamber, land) in traced.pressure_pa.iter().zip(&lands.pressure_pa[1]) {
        let bounds = [*chamber, pack.crankcase_pressure_pa];
        assert!(*land > 0.9 * bounds[0].min(bounds[1]) && *land < 1.1 * bounds[0].max(bounds[1]));
    }
}

/// In steady flow through two equal choked gaps in a row at one temperature the pressure between them
/// follows from equal mass flow: p1 = p0 when the second gap alone limits, and p1/p0 = A1/A2 when both
/// are choked.
#[test]
fn steady_pressure_between_two_choked_gaps() {
    let ring = |flank_area_m2: f64| RingSeal {
        gap_m: 0.0,
        land_clearance_m: 0.0,
        discharge_coefficient: 0.86,
        flank_area_m2,
    };
    let pack = RingPackGas {
        rings: vec![ring(1e-7), ring(4e-7)],
        lands: vec![Land {
            volume_m3: 1e-7,
            temp_k: 500.0,
        }],
        top_land_temp_k: 500.0,
        ..RingPackGas::default()
    };
    let lands = pack.land_pressures(&[40e5; 64], 0.02).unwrap();
    let last = lands.pressure_pa[1][63];
    assert!((last / 10e5 - 1.0).abs() < 1e-6, "{last}");
}

#[test]
fn load_is_met_by_charge_by_fuel_and_by_motoring() {
    let model = CycleModel::new(CycleSetup::default(), 720).unwrap();
    let point = Operating {
        speed_rad_s: 6250.0 * PI / 30.0,
        ..Operating::default()
    };
    let friction = ChenFlynn::default();
    let solve =
        |bmep: f64, control| model.run_to_load(&point, LoadTarget::Bmep(bmep), control, &friction);

    let full = solve(27e5, LoadControl::default()).unwrap();
    assert!((full.bmep_pa - 27e5).abs() < 27.0 && !full.motored);
    assert!((full.operating.heat_j_kg - point.heat_j_kg).abs() < 1e-9);

    let light = solve(-2.5e5, LoadControl::default()).unwrap();
    assert!((light.bmep_pa + 2.5e5).abs() < 1.0 && light.operating.heat_j_kg < point.heat_j_kg);

    let overrun = solve(-9e5, LoadControl::default()).unwrap();
    assert!(overrun.motored && overrun.bmep_pa > -9e5);

    let by_fuel = solve(10e5, LoadControl::Fuelling).unwrap();
    assert!((by_fuel.bmep_pa - 10e5).abs() < 10.0);
    assert!((by_fuel.operating.charge_pressure_pa - point.charge_pressure_pa).abs() < 1e-9);

    assert!(matches!(
        solve(500e5, LoadControl::default()),
        Err(EngineError::OutOfRange {
            field: "target_pa",
            ..
        })
    ));
}

#[test]
fn refusals_name_the_field() {
    let crank = SliderCrank {
        rod_length_m: 0.04,
        ..SliderCrank::default()
    };
    assert!(
        crank
            .check()
            .unwrap_err()
            .to_string()
            .starts_with("rod_length_m is 0.04")
    );
    let burn = Wiebe {
        duration_rad: f64::NAN,
        ..Wiebe::default()
    };
    assert!(burn.check().is_err());
    let pack = RingPackGas {
        lands: Vec::new(),
        ..RingPackGas::default()
    };
    assert!(
        pack.land_pressures(&[1e5; 64], 0.01)
            .unwrap_err()
            .to_string()
            .starts_with("lands is 0")
    );
    assert!(
        RingPackGas::default()
            .land_pressures(&[f64::NAN; 64], 0.01)
            .is_err()
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Velocity and acceleration are the derivatives of displacement, offset or not.
    #[test]
    fn kinematics_are_derivatives(angle in -6.0_f64..6.0, rod in 0.1_f64..0.3, offset in -0.01_f64..0.01) {
        let crank = SliderCrank { crank_radius_m: 0.045, rod_length_m: rod, pin_offset_m: offset };
        let h = 1e-5;
        let slope = (crank.displacement_m(angle + h) - crank.displacement_m(angle - h)) / (2.0 * h);
        let bend = (crank.velocity_m_s(angle + h, 1.0) - crank.velocity_m_s(angle - h, 1.0)) / (2.0 * h);
        prop_assert!((slope - crank.displacement_per_rad_m(angle)).abs() < 1e-9);
        prop_assert!((bend - crank.acceleration_m_s2(angle, 1.0)).abs() < 1e-9);
        prop_assert!(crank.displacement_m(angle) >= -1e-15);
        prop_assert!(crank.displacement_m(angle) <= crank.stroke_m() + 1e-15);
    }

    /// Torque does the work of the piston: T dθ = F dx. At constant speed the inertia force gives none over a turn.
    #[test]
    fn inertia_does_no_net_work(offset in -0.01_f64..0.01, speed in 100.0_f64..900.0) {
        let crank = SliderCrank { pin_offset_m: offset, ..SliderCrank::default() };
        let piston = Reciprocating { mass_kg: 0.5, bore_m: 0.086 };
        let torques: Vec<f64> = (0..360).map(|k| piston.forces(&crank, f64::to_radians(f64::from(k)), speed, 0.0).torque_n_m).collect();
        let most = torques.iter().fold(0.0, |most: f64, t| most.max(t.abs()));
        prop_assert!((torques.iter().sum::<f64>() / 360.0).abs() < 1e-9 * most);
    }

    /// What passes the top ring reaches the crankcase or stays in the lands; no land is outside the pressures it is fed from.
    #[test]
    fn ring_pack_gas_is_conserved(
        gaps in prop::array::uniform3(5e-5_f64..2e-3),
        flank in 0.0_f64..2e-6,
        volume in 1e-9_f64..5e-6,
        speed in 50.0_f64..1000.0,
        charge in 3e4_f64..3e5,
    ) {
        let mut pack = RingPackGas::default();
        for (ring, gap) in pack.rings.iter_mut().zip(gaps) {
            ring.gap_m = gap;
            ring.flank_area_m2 = flank;
        }
        for land in &mut pack.lands {
            land.volume_m3 = volume;
        }
        let point = Operating { speed_rad_s: speed, charge_pressure_pa: charge, ..Operating::default() };
        let traced = CycleModel::new(CycleSetup::default(), 360).unwrap().run(&point).unwrap();
        let lands = pack.land_pressures(&traced.pressure_pa, traced.period_s).unwrap();
        let stored = lands.top_ring_kg - lands.blow_by_kg;
        let scale = lands.top_ring_kg.abs() + lands.blow_back_kg;
        prop_assert!((stored - lands.stored_kg).abs() < 1e-6 * scale);
        // Periodic to 1e-4 of what the lands hold.
        let r = pack.gas.gas_constant_j_kg_k;
        let held = |(row, land): (&Vec<f64>, &Land)| row[0] * land.volume_m3 / (r * land.temp_k);
        let content: f64 = lands.pressure_pa[1..].iter().zip(&pack.lands).map(held).sum();
        prop_assert!(lands.stored_kg.abs() < 1.01e-4 * content);
        let most = traced.peak_pressure_pa;
        for row in &lands.pressure_pa[1..] {
            prop_assert!(row.iter().all(|p| *p > 0.0 && *p <= most));
        }
    }

    /// A wider gap passes more gas.
    #[test]
    fn blow_by_rises_with_the_top_gap(gap in 1e-4_f64..1e-3) {
        let traced = cycle(360, 600.0);
        let flow = |gap_m: f64| {
            let mut pack = RingPackGas::default();
            pack.rings[0].gap_m = gap_m;
            pack.land_pressures(&traced.pressure_pa, traced.period_s).unwrap().blow_by_kg_s
        };
        prop_assert!(flow(1.1 * gap) > flow(gap));
    }

    #[test]
    fn torque_and_mean_pressure_are_inverse(torque in -500.0_f64..500.0, litres in 0.5_f64..8.0) {
        let displacement = litres * 1e-3;
        prop_assert!((torque_n_m(bmep_pa(torque, displacement), displacement) - torque).abs() < 1e-9);
    }
}
