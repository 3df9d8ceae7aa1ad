//! Inputs: numbers of the spec and properties of the surfaces.

use ringland_engine::rings;
use ringland_plugin::{NumberField, SurfaceField, number, surface};

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    let mut numbers = rings::numbers();
    numbers.extend([
        number("clearance_m", "piston to wall, diametral, as built", "m", (0.02e-3, 0.4e-3), 0.085e-3, "At the piston maker's gauge height. Forged alloy of high expansion: 0.08 mm, common practice, no source."),
        number("shift_m", "out-of-round that the casting will take on once all relaxed", "m", (0.0, 3.0e-4), 3.5e-5, "Default: an unseasoned casting, so that about one in five goes beyond 0.05 mm (up to about 0.05 mm: common practice, no source). Stress-relieved or seasoned about 1.0e-5, assumed."),
        number("thrust_share", "wear by angle: amplitude of cos 2 theta about the thrust axis over the mean", "1", (0.0, 0.8), 0.3, "0.2 to 0.4, assumed. Measure it at a teardown: (thrust less pin diameter growth) over twice their mean."),
        number("limit_taper_m", "limit: taper", "m", (5.0e-6, 2.0e-4), 2.5e-5, "0.025 mm (0.001 in) rehone, common practice, no source."),
        number("limit_roundness_m", "limit: out-of-round", "m", (5.0e-6, 3.0e-4), 5.0e-5, "0.05 mm (0.002 in) bore and sleeve, common practice, no source; many shops rehone at half of it."),
        number("limit_oil_retention_m", "limit: oil held in the valleys over area", "m", (1.0e-8, 1.0e-6), 1.0e-7, "0.010 mm3/cm2 = 1.0e-7 m, common practice, no source."),
        number("limit_clearance_growth_m", "limit: growth of piston clearance", "m", (5.0e-6, 3.0e-4), 3.5e-5, "0.03 to 0.04 mm over build, common practice, no source; the piston maker's figure comes first."),
        number("limit_removed_m", "limit: metal that may be honed off the diameter", "m", (2.0e-5, 4.0e-3), 5.0e-4, "By sonic wall measurement and the pistons on sale. Default assumed."),
    ]);
    numbers
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    let mut surfaces = rings::faces();
    let mut bore = rings::bore_properties();
    bore.extend([
        number("rvk_m", "reduced valley depth Rvk as honed", "m", (0.2e-6, 6.0e-6), 2.0e-6, "Stylus, +-10 % (ISO 21920-2)."),
        number("mr2_fraction", "material ratio at the valley boundary Mr2", "1", (0.5, 0.95), 0.76, "Stylus (ISO 21920-2)."),
    ]);
    surfaces.push(surface("bore", "cylinder bore", bore, false, "As honed. After a rehone enter the new finish as a revision."));
    surfaces
}
