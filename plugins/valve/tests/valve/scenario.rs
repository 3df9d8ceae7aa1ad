//! Specimens and duty that the tests share.

use ringland_plugin::Model;
use ringland_plugin::{Duty, Specimen, default_specimen};
use ringland_plugin_valve::Valve;
use ringland_trials::{Record, engine, with};

/// The card's defaults: an exhaust valve of nickel alloy.
pub fn exhaust() -> Specimen {
    default_specimen(&Valve::card())
}

/// A specimen with another choice of port and material.
pub fn choosing(mut specimen: Specimen, port: u32, material: u32) -> Specimen {
    specimen.choices[1] = port;
    specimen.choices[2] = material;
    specimen
}

/// Several numbers or properties changed.
pub fn changes(specimen: &Specimen, values: &[(&str, f64)]) -> Specimen {
    let one =
        |specimen: Specimen, (name, value): &(&str, f64)| with::<Valve>(&specimen, name, *value);
    values.iter().fold(specimen.clone(), one)
}

/// An intake valve of martensitic steel.
pub fn intake() -> Specimen {
    let larger = changes(
        &exhaust(),
        &[
            ("seat_radius_m", 17.0e-3),
            ("head_thickness_m", 5.5e-3),
            ("neck_radius_m", 7.0e-3),
            ("valve_mass_kg", 0.05),
            ("limit_margin_m", 0.8e-3),
            ("fuel_cooling_w", 100.0),
        ],
    );
    choosing(larger, 0, 0)
}

/// A coated intake valve of titanium alloy.
pub fn titanium() -> Specimen {
    let light = changes(
        &intake(),
        &[
            ("valve_mass_kg", 0.033),
            ("head_thickness_m", 6.5e-3),
            ("neck_radius_m", 8.0e-3),
            ("moving_mass_kg", 0.095),
            ("stem.coating_thickness_m", 4.0e-6),
            ("stem.wear_coefficient_m2_n", 1.3e-16),
            ("limit_run_s", 43_200.0),
        ],
    );
    choosing(light, 0, 3)
}

/// An exhaust valve of austenitic steel.
pub fn austenitic() -> Specimen {
    choosing(exhaust(), 1, 1)
}

/// Exhaust temperature of the operating points of the default event \[K\].
pub const EXHAUST_K: [f64; 8] = [773.0, 923.0, 1023.0, 1173.0, 1173.0, 1173.0, 823.0, 1123.0];

/// The default event with its exhaust temperatures.
pub fn event() -> Duty {
    hotter(0.0)
}

/// The default event with exhaust temperatures raised by so many kelvin.
pub fn hotter(by_k: f64) -> Duty {
    let column = EXHAUST_K.map(|k| k + by_k);
    Record::edit::<Valve>(&engine::event::<Valve>())
        .column("exhaust_temp_k", &column)
        .duty()
}
