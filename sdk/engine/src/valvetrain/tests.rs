//! Checks of the shared valve train.

use std::f64::consts::PI;

use ringland_mechanics::valve_train::MotionError;
use ringland_plugin::{Severity, Specimen, Table};

use super::*;

fn specimen() -> Specimen {
    Specimen {
        numbers: numbers().iter().map(|field| field.default_value).collect(),
        choices: vec![ROLLER],
        tables: vec![Table {
            columns: lift().default_columns,
        }],
        surfaces: Vec::new(),
    }
}

fn changed(name: &str, value: f64) -> Specimen {
    let mut specimen = specimen();
    let index = numbers().iter().position(|field| field.name == name);
    specimen.numbers[index.unwrap()] = value;
    specimen
}

fn train(specimen: &Specimen) -> ValveTrain {
    ValveTrain::read(specimen).unwrap()
}

fn rpm(speed: f64) -> f64 {
    speed * PI / 30.0
}

#[test]
fn numbers_are_read_in_their_order() {
    let specimen = specimen();
    let t = train(&specimen);
    let read = [
        t.limiter_speed_rad_s,
        t.rocker_ratio,
        t.moving_mass_kg,
        t.train_stiffness_n_m,
        t.train_damping_ratio,
        t.lash_m,
        t.seat_stiffness_n_m,
        t.seat_damping_ratio,
        t.base_radius_m,
        t.follower_radius_m,
        t.spring.wire_m,
        t.spring.coil_m,
        t.spring.active_coils,
        t.spring.shear_modulus_pa,
        t.spring.density_kg_m3,
        t.seat_load_n,
        t.spring_damping_ratio,
        t.arm_length_m,
        t.tip_friction,
        t.tip_offset_m,
        t.spring_side_share,
    ];
    assert_eq!(read.as_slice(), specimen.numbers);
    assert_eq!(numbers().len(), NUMBERS);
    assert!(t.check().is_empty());
    // Behind the numbers of something else.
    let mut behind = specimen.clone();
    behind.numbers.splice(0..0, [1.0, 2.0]);
    assert_eq!(ValveTrain::read_from(&behind, 2).unwrap(), t);
    assert!(ValveTrain::read_from(&specimen, 1).is_err());
    assert!(ValveTrain::read_from(&specimen, 90).is_err());
}

#[test]
fn a_train_that_cannot_be_is_named() {
    let fields = |specimen: &Specimen| -> Vec<(String, Severity)> {
        let findings = train(specimen).check();
        findings
            .into_iter()
            .map(|f| (f.field, f.severity))
            .collect()
    };
    let is = |field: &str, severity| vec![(String::from(field), severity)];
    assert_eq!(
        fields(&changed("coil_m", 0.0105)),
        is("coil_m", Severity::Error)
    );
    assert_eq!(
        fields(&changed("moving_mass_kg", 0.22)),
        is("seat_load_n", Severity::Warning)
    );
    // A flat follower would need a nose of less than nothing.
    let mut flat = changed("base_radius_m", 0.008);
    flat.choices[0] = FLAT;
    let found = fields(&flat);
    assert!(
        found.contains(&("base_radius_m".into(), Severity::Error)),
        "{found:?}"
    );
    let mut noise = specimen();
    noise.tables[0].columns[0].swap(3, 4);
    let refused = ValveTrain::read(&noise).unwrap_err();
    assert_eq!(refused[0].field, "lift");
}

/// At the limiter the default train holds on; forces on cam, tip and stem are those of the motion.
#[test]
fn forces_follow_from_the_motion() {
    let train = train(&specimen());
    let cycle = TrainSolver::new(&train).cycle(rpm(8400.0), 400.0).unwrap();
    assert!(cycle.motion.repeats && cycle.loft_m() < 0.02e-3);
    let mass_kg = train.moving_mass_kg;
    let surplus = |i: &Instant| {
        let p = &i.point;
        p.train_n + p.seat_n - p.retainer_n - mass_kg * p.acceleration_m_s2
    };
    assert!(
        cycle
            .instants
            .iter()
            .all(|i| surplus(i).abs() < 1.0e-6 * i.point.retainer_n.abs().max(100.0))
    );
    for instant in &cycle.instants {
        assert!((instant.cam_n - 1.6 * instant.point.train_n).abs() < 1.0e-9);
        let most_n = train.tip_friction * instant.point.train_n
            + train.spring_side_share * instant.point.retainer_n.abs();
        assert!(instant.side_n.abs() <= most_n * (1.0 + 1.0e-12));
        assert!(instant.tip_offset_m.abs() < 0.5e-3);
    }
    assert!((cycle.instant_s() * 720.0 * 420.0 * PI / 30.0 * 10.0 / (2.0 * PI) - 1.0).abs() < 0.01);
}

/// The rocker's end is at its largest offset at mid lift and returns; a bucket has none.
#[test]
fn the_tip_is_swept_along_an_arc() {
    let train = train(&specimen());
    let cycle = TrainSolver::new(&train).cycle(rpm(2000.0), 400.0).unwrap();
    let offset_m = cycle
        .instants
        .iter()
        .map(|i| i.tip_offset_m - train.tip_offset_m);
    let (low, high) = (
        offset_m.clone().fold(0.0, f64::min),
        offset_m.fold(0.0, f64::max),
    );
    // Rise of a circular arc of 45 mm over half a lift of 6.3 mm: 0.443 mm, evenly about the offset.
    assert!(
        (high - low - 0.443e-3).abs() < 0.01e-3 && (high + low).abs() < 0.01e-3,
        "{low} {high}"
    );
    let mut bucket = specimen();
    bucket.choices[0] = FLAT;
    let bucket = ValveTrain::read(&bucket).unwrap();
    let cycle = TrainSolver::new(&bucket).cycle(rpm(2000.0), 400.0).unwrap();
    assert!(
        cycle
            .instants
            .iter()
            .all(|i| i.tip_offset_m == 0.0 && i.contact.pressure_angle_rad == 0.0)
    );
}

#[allow(clippy::unnecessary_wraps)] // the shape that `prepare` takes
fn peak(cycle: &TrainCycle) -> Result<Vec<f64>, MotionError> {
    let largest = |of: fn(&Instant) -> f64| cycle.instants.iter().map(of).fold(0.0, f64::max);
    Ok(vec![largest(|i| i.point.coil_n[0]), largest(|i| i.cam_n)])
}

/// Between nodes the map agrees with the motion solved there, up to where the train floats; beyond its ends it is held and says so.
#[test]
fn the_map_agrees_with_the_motion_between_its_nodes() {
    let train = train(&specimen());
    let grid = SpeedGrid::usual(2, 1);
    let prepared = prepare(&train, &grid, peak).unwrap();
    assert_eq!(prepared.len(), grid.length());
    let map = SpeedMap::read(&prepared, &train, &grid).unwrap();
    let solver = TrainSolver::new(&train);
    let mut values = [0.0; 2];
    let mut worst: f64 = 0.0;
    for speed in [
        2030.0, 4444.0, 6070.0, 7289.0, 8000.0, 8099.0, 8215.0, 8600.0,
    ] {
        assert!(!map.look_up(rpm(speed), 370.0, &mut values));
        let solved = peak(&solver.cycle(rpm(speed), 370.0).unwrap()).unwrap();
        for (value, solved) in values.iter().zip(&solved) {
            worst = worst.max((value / solved - 1.0).abs());
        }
    }
    assert!(worst < 0.025, "{worst}");
    assert!(map.look_up(rpm(12_000.0), 400.0, &mut values));
    assert!(map.look_up(rpm(4000.0), 200.0, &mut values));
    assert!(!map.look_up(0.0, 500.0, &mut values) && values.iter().all(|v| v.is_finite()));
}

/// With one seat load solved, the map is that of the first.
#[test]
fn a_map_as_built_is_the_first_load_of_the_usual_one() {
    let train = train(&specimen());
    let both = SpeedGrid {
        speeds: 5,
        ..SpeedGrid::usual(2, 1)
    };
    let one = SpeedGrid {
        speeds: 5,
        ..SpeedGrid::as_built(2, 1)
    };
    let prepared = [both, one].map(|grid| prepare(&train, &grid, peak).unwrap());
    let [both, one] = [(0, both), (1, one)]
        .map(|(index, grid)| SpeedMap::read(&prepared[index], &train, &grid).unwrap());
    let (mut first, mut only) = ([0.0; 2], [0.0; 2]);
    for load_n in [400.0, 350.0, 100.0] {
        assert!(!both.look_up(rpm(5000.0), 400.0, &mut first));
        assert!(!one.look_up(rpm(5000.0), load_n, &mut only));
        assert!(
            first
                .iter()
                .zip(&only)
                .all(|(a, b)| (a / b - 1.0).abs() < 1.0e-12)
        );
    }
}

#[test]
fn another_map_is_not_read() {
    let train = train(&specimen());
    let grid = SpeedGrid {
        speeds: 4,
        ..SpeedGrid::usual(2, 1)
    };
    let prepared = prepare(&train, &grid, peak).unwrap();
    for wrong in [&prepared[1..], &[]] {
        assert_eq!(
            SpeedMap::read(wrong, &train, &grid).unwrap_err()[0].field,
            "prepared"
        );
    }
    let newer = SpeedGrid { version: 2, ..grid };
    assert!(SpeedMap::read(&prepared, &train, &newer).is_err());
    let refused = prepare(&train, &grid, |_| Ok::<_, MotionError>(vec![f64::NAN; 2]));
    assert_eq!(refused.unwrap_err()[0].field, "spec");
}
