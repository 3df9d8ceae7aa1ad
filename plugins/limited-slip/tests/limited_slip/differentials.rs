//! Differentials that are tried.

use std::sync::OnceLock;

use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_limited_slip::LimitedSlip;
use ringland_plugin_limited_slip::spec::Spec;
use ringland_trials::driveline::{self, Point};
use ringland_trials::{changed, with_all};

pub type Prepared = ringland_trials::Prepared<LimitedSlip>;

/// Ground steels, the card's default.
pub fn ground() -> Specimen {
    default_specimen(&LimitedSlip::card())
}

/// Peened steels and nitrided tabs, as in the demo.
pub fn peened() -> Specimen {
    let surfaces = [
        ("steel.boundary_friction", 0.095),
        ("steel.friction_slope_s_m", 0.0),
        ("steel.wear_coefficient_m2_n", 1.155e-15),
        ("steel.ra_m", 0.20e-6),
        ("tabs.wear_coefficient_m2_n", 2.5e-15),
    ];
    with_all::<LimitedSlip>(&ground(), &surfaces)
}

/// Superfinished steels: smoother, friction lower by 8 %.
pub fn superfinished() -> Specimen {
    let surfaces = [("steel.boundary_friction", 0.092), ("steel.ra_m", 0.08e-6)];
    with_all::<LimitedSlip>(&ground(), &surfaces)
}

/// Linings of sprayed molybdenum.
pub fn sprayed() -> Specimen {
    let lining = changed::<LimitedSlip>(&ground(), "lining.wear_coefficient_m2_n", 0.7);
    changed::<LimitedSlip>(&lining, "steel.boundary_friction", 1.1)
}

pub fn spec(specimen: &Specimen) -> Spec {
    Spec::read(specimen).unwrap()
}

pub fn prepared(specimen: Specimen) -> Prepared {
    Prepared::new(specimen)
        .within(200.0)
        .ahead(&[0.0, 1.0, 4.0, 8.0])
}

/// The default differential, ready.
pub fn usual() -> &'static Prepared {
    static MODEL: OnceLock<Prepared> = OnceLock::new();
    MODEL.get_or_init(|| prepared(ground()))
}

pub fn event() -> Duty {
    driveline::event::<LimitedSlip>()
}

/// One operating point without counted cycles; the axle's torque is that of the engine in a gear of the car.
pub fn at(minutes: f64, torque_n_m: f64, slip_rad_s: f64) -> Duty {
    let point = Point {
        minutes,
        rpm: 6000.0,
        torque_n_m,
        gear: 2,
        slip_rad_s,
    };
    driveline::duty::<LimitedSlip>(&[point])
}
