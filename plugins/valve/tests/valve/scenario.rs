//! Specimens and duty that the tests share.

use std::sync::OnceLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_valve::Valve;
use ringland_plugin_valve::card::slot;
use ringland_trials::engine::{self, Point};
use ringland_trials::{Record, with_all};

/// A valve with its maps.
pub type Prepared = ringland_trials::Prepared<Valve>;

/// The card's defaults: an exhaust valve of nickel alloy.
pub fn exhaust() -> Specimen {
    default_specimen(&Valve::card())
}

/// A specimen with another choice of port and material.
fn choosing(mut specimen: Specimen, port: u32, material: u32) -> Specimen {
    specimen.choices[1] = port;
    specimen.choices[2] = material;
    specimen
}

/// An exhaust valve of austenitic steel.
pub fn austenitic() -> Specimen {
    choosing(exhaust(), 1, 1)
}

/// A larger intake valve of martensitic steel, cooled by port injection.
pub fn intake() -> Specimen {
    let changes = [
        ("seat_radius_m", 17.0e-3),
        ("head_thickness_m", 5.5e-3),
        ("neck_radius_m", 7.0e-3),
        ("valve_mass_kg", 0.05),
        ("limit_margin_m", 0.8e-3),
        ("fuel_cooling_w", 100.0),
    ];
    choosing(with_all::<Valve>(&exhaust(), &changes), 0, 0)
}

/// The same of titanium alloy: thicker and still lighter, its stem coated, held to 12 h.
pub fn titanium() -> Specimen {
    let changes = [
        ("valve_mass_kg", 0.033),
        ("head_thickness_m", 6.5e-3),
        ("neck_radius_m", 8.0e-3),
        ("moving_mass_kg", 0.093),
        ("stem.coating_thickness_m", 4.0e-6),
        ("limit_run_s", 43_200.0),
    ];
    choosing(with_all::<Valve>(&intake(), &changes), 0, 3)
}

/// Stem peened with fine particles, groove peened conventionally: surface numbers only.
pub fn peened() -> Specimen {
    let mut specimen = with_all::<Valve>(&exhaust(), &[("stem.wear_coefficient_m2_n", 7.2e-17)]);
    let groove = Valve::card().surface_index("groove").unwrap();
    let surface = &mut specimen.surfaces[groove];
    surface.depth_m = [0.0, 20.0, 40.0, 70.0, 100.0, 150.0, 200.0, 300.0, 1000.0]
        .map(|um| 1.0e-6 * um)
        .to_vec();
    surface.residual_stress_pa = [
        -400.0, -520.0, -580.0, -500.0, -330.0, -110.0, -20.0, 10.0, 10.0,
    ]
    .map(|mpa| 1.0e6 * mpa)
    .to_vec();
    specimen
}

/// The same with a hard-faced seat.
pub fn treated() -> Specimen {
    let faced = [
        ("seat_face.hardness_pa", 6.0e9),
        ("seat_face.wear_coefficient_m2_n", 1.33e-14),
    ];
    with_all::<Valve>(&peened(), &faced)
}

/// A valve with its maps, for forecasts of 2000 events.
pub fn prepared(specimen: Specimen) -> Prepared {
    Prepared::new(specimen).within(2000.0)
}

/// The default, prepared once.
pub fn plain() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| prepared(exhaust()))
}

/// The titanium valve, prepared once.
pub fn light() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| prepared(titanium()))
}

/// Exhaust temperature of the operating points of the default event \[K\].
const EXHAUST_K: [f64; 8] = [773.0, 923.0, 1023.0, 1173.0, 1173.0, 1173.0, 823.0, 1123.0];

/// The default event with its exhaust temperatures.
pub fn event() -> Duty {
    hotter(0.0)
}

/// The default event with exhaust temperatures raised by so many kelvin.
pub fn hotter(by_k: f64) -> Duty {
    let column = EXHAUST_K.map(|k| k + by_k);
    let record = Record::edit::<Valve>(&engine::event::<Valve>());
    record.column("exhaust_temp_k", &column).duty()
}

/// Operating points with the exhaust temperature of the card.
pub fn duty(points: &[Point]) -> Duty {
    engine::duty::<Valve>(points)
}

/// A record with one channel set throughout.
pub fn channel(duty: &Duty, name: &str, value: f64) -> Duty {
    Record::edit::<Valve>(duty).channel(name, value).duty()
}

/// The slots that wear and damage go to.
pub const WORN: [usize; 6] = [
    slot::RECESSION,
    slot::STEM_TOP,
    slot::STEM_BOTTOM,
    slot::GROOVE,
    slot::HEAD_FATIGUE,
    slot::HEAD_CREEP,
];
