//! Clutches that are tried.

use std::sync::OnceLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_dry_clutch::DryClutch;
use ringland_trials::{Record, driveline, with_all};

pub type Prepared = ringland_trials::Prepared<DryClutch>;

/// Three discs of sintered metal, the card's default.
pub fn sintered() -> Specimen {
    default_specimen(&DryClutch::card())
}

/// Its splines under a dry film: half of the wear, 15 um.
pub fn coated() -> Specimen {
    let film = [
        ("lugs.wear_coefficient_m2_n", 0.6e-15),
        ("lugs.coating_thickness_m", 15.0e-6),
    ];
    with_all::<DryClutch>(&sintered(), &film)
}

/// The same size with organic linings.
pub fn organic() -> Specimen {
    let mut specimen = sintered();
    specimen.choices[0] = 1;
    with_all::<DryClutch>(
        &specimen,
        &[("friction_face.wear_coefficient_m2_n", 0.67e-14)],
    )
}

/// The same size all of carbon.
pub fn carbon() -> Specimen {
    let mut specimen = sintered();
    specimen.choices[0] = 2;
    let plates = [
        ("friction_face.wear_coefficient_m2_n", 0.22e-14),
        ("lining_m", 2.0e-3),
        ("floater_m", 6.0e-3),
        ("pressure_plate_m", 9.0e-3),
        ("flywheel_m", 9.0e-3),
    ];
    with_all::<DryClutch>(&specimen, &plates)
}

pub fn prepared(specimen: Specimen) -> Prepared {
    Prepared::new(specimen)
        .within(200.0)
        .ahead(&[0.0, 1.0, 8.0, 16.0])
}

/// The default clutch, ready.
pub fn usual() -> &'static Prepared {
    static MODEL: OnceLock<Prepared> = OnceLock::new();
    MODEL.get_or_init(|| prepared(sintered()))
}

pub fn event() -> Duty {
    driveline::event::<DryClutch>()
}

/// The event with launches of so many joules, over the same time.
pub fn event_of_launches(energy_j: f64) -> Duty {
    let mut event = event();
    let columns = &mut event.shocks[0].columns;
    let duration_s = columns[1][0];
    columns[2].iter_mut().for_each(|value| *value = energy_j);
    columns[3]
        .iter_mut()
        .for_each(|value| *value = 2.0 * energy_j / duration_s);
    event
}

/// One launch after some time, with nothing else.
pub fn one_launch(start_s: f64, energy_j: f64) -> Duty {
    let record = Record::edit::<DryClutch>(&driveline::duty::<DryClutch>(&[]));
    record
        .shock(
            "launch",
            &[start_s, 1.6, energy_j, 2.0 * energy_j / 1.6, 550.0],
        )
        .duty()
}

pub use ringland_plugin_dry_clutch::card::slot::{HOTTEST, STACK_WEAR};
