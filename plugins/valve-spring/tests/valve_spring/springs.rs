//! Springs to test with: the card's default (not peened), as delivered and fine-particle peened (as in the demo), and a moderate train.

use std::sync::LazyLock;

use ringland_plugin::{Model, Specimen, default_specimen};
use ringland_plugin_valve_spring::ValveSpring;
use ringland_plugin_valve_spring::wire::Wire;
use ringland_trials::{Prepared, with_all};
use toml::{Table, Value};

pub type Springs = Prepared<ValveSpring>;

static DELIVERED: LazyLock<Springs> = LazyLock::new(|| Springs::new(delivered_spec()));
static FINE: LazyLock<Springs> = LazyLock::new(|| Springs::new(fine_spec()));
static UNPEENED: LazyLock<Springs> = LazyLock::new(Springs::default_spec);
static MODERATE: LazyLock<Springs> = LazyLock::new(|| Springs::new(moderate_spec()));

/// Peened in the conventional way, as springs are delivered.
pub fn delivered() -> &'static Springs {
    &DELIVERED
}

/// Peened once more with fine particles.
pub fn fine() -> &'static Springs {
    &FINE
}

/// Not peened: the card's default.
pub fn unpeened() -> &'static Springs {
    &UNPEENED
}

/// As delivered, in a train with a softer cam.
pub fn moderate() -> &'static Springs {
    &MODERATE
}

pub fn delivered_spec() -> Specimen {
    demo(include_str!("../../demo/untreated.toml"))
}

pub fn fine_spec() -> Specimen {
    demo(include_str!("../../demo/treated.toml"))
}

/// 3.9 mm wire on 22.5 mm, 5.2 coils, 330 N on the seat.
pub fn moderate_spec() -> Specimen {
    let numbers = [
        ("wire_m", 3.9e-3),
        ("coil_m", 22.5e-3),
        ("active_coils", 5.2),
        ("seat_load_n", 330.0),
    ];
    softer(with_all::<ValveSpring>(&delivered_spec(), &numbers))
}

/// The same lift over a cam a quarter longer, to a limiter a sixth lower.
fn softer(mut specimen: Specimen) -> Specimen {
    specimen.tables[0].columns[0]
        .iter_mut()
        .for_each(|angle_rad| *angle_rad *= 1.25);
    let card = ValveSpring::card();
    specimen.numbers[card.number_index("limiter_speed_rad_s").unwrap()] = 730.0;
    specimen
}

/// The amplitude of shear stress \[Pa\] that a wire bears about a mean for 1e7 cycles.
pub fn borne_pa(wire: &Wire, mean_pa: f64) -> f64 {
    let (mut low, mut high) = (0.0, 2.0e9);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        let [surface, core] = wire.worst(middle, mean_pa).map(|at| at.share);
        if surface.max(core) < 1.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// A specimen as the demo has it.
fn demo(text: &str) -> Specimen {
    let demo: Table = text.parse().unwrap();
    let surface = &demo["surfaces"]["wire_surface"];
    let numbers = |value: &Value| -> Vec<f64> {
        value
            .as_array()
            .unwrap()
            .iter()
            .map(|v| v.as_float().unwrap())
            .collect()
    };
    let mut specimen = default_specimen(&ValveSpring::card());
    let wire = &mut specimen.surfaces[0];
    wire.values = ["ra_m", "hardness_pa"]
        .map(|name| surface["properties"][name].as_float().unwrap())
        .to_vec();
    wire.ln_sd = ["ra_m", "hardness_pa"]
        .map(|name| surface["ln_sd"][name].as_float().unwrap())
        .to_vec();
    wire.depth_m = numbers(&surface["residual_stress"]["depth_m"]);
    wire.residual_stress_pa = numbers(&surface["residual_stress"]["stress_pa"]);
    specimen
}
