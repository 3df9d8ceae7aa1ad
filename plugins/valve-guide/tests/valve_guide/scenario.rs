//! Exhaust guides, untreated and treated, an intake guide, and duty with exhaust temperatures.

use std::sync::OnceLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_valve_guide::ValveGuide;
use ringland_plugin_valve_guide::card::option;
use ringland_trials::engine::{EVENT, rad_s};
use ringland_trials::{AnyRecord, Record, changed, with};

/// A guide with its map.
pub type Prepared = ringland_trials::Prepared<ValveGuide>;

/// Exhaust temperature of the operating points of the default event \[K\]. Invented.
pub const EXHAUST_K: [f64; 8] = [773.0, 923.0, 1023.0, 1173.0, 1173.0, 1173.0, 823.0, 1123.0];

/// Operating points: 1/min, exhaust temperature \[K\], minutes. Oil at 110 °C.
pub fn duty(points: &[(f64, f64, f64)]) -> Duty {
    let column = |of: fn(&(f64, f64, f64)) -> f64| points.iter().map(of).collect::<Vec<f64>>();
    Record::of::<ValveGuide>(&column(|p| 60.0 * p.2))
        .column("engine_speed_rad_s", &column(|p| rad_s(p.0)))
        .column("exhaust_temp_k", &column(|p| p.1))
        .channel("oil_temp_k", 383.15)
        .duty()
}

/// The default event.
pub fn event() -> Duty {
    let points = EVENT.iter().zip(EXHAUST_K);
    let points: Vec<_> = points.map(|(p, exhaust_k)| (p.0, exhaust_k, p.2)).collect();
    duty(&points)
}

/// Any duty.
pub fn any_record() -> AnyRecord<ValveGuide> {
    AnyRecord::new()
        .channel("engine_speed_rad_s", rad_s(800.0)..rad_s(8600.0))
        .channel("exhaust_temp_k", 500.0..1350.0)
        .channel("oil_temp_k", 340.0..420.0)
        .channel("contamination_factor", 1.0..4.0)
}

/// The default: an exhaust guide of aluminium bronze on a nitrided stem.
pub fn untreated() -> Specimen {
    default_specimen(&ValveGuide::card())
}

/// The same with a bore that was peened with fine particles and honed, and a superfinished stem: surface numbers only. Wear coefficient × 0.6, friction × 0.8 (from
/// memory of bench reports), Rq of the stem 0.12 to 0.06 µm; the bore's plateau as before. Not fitted to a life.
pub fn treated() -> Specimen {
    let bore = changed::<ValveGuide>(&untreated(), "bore.wear_coefficient_m2_n", 0.6);
    let bore = changed::<ValveGuide>(&bore, "bore.boundary_friction", 0.8);
    with::<ValveGuide>(&bore, "stem.rq_m", 0.06e-6)
}

/// An intake guide of the same head.
pub fn intake() -> Specimen {
    let changes = [
        ("clearance_m", 35.0e-6),
        ("limit_clearance_m", 0.10e-3),
        ("neck_heat_share", 0.4),
        ("gas_heat_share", 0.0),
        ("stem_expansion_per_k", 12.0e-6),
    ];
    let set = |specimen, (name, value): (&str, f64)| with::<ValveGuide>(&specimen, name, value);
    changes.into_iter().fold(untreated(), set)
}

/// A specimen with another guide alloy, stem surface or oil supply.
pub fn choosing(mut specimen: Specimen, choice: usize, chosen: u32) -> Specimen {
    specimen.choices[choice] = chosen;
    specimen
}

/// A dry guide.
pub fn dry() -> Specimen {
    choosing(untreated(), option::SEAL, 2)
}

pub fn plain() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| Prepared::new(untreated()))
}

/// Another specimen on the same train and guide: the map is that of the forces alone.
pub fn on_same_map(specimen: Specimen) -> Prepared {
    plain().with(specimen)
}
