//! Inputs: numbers of the spec and properties of the surfaces.

use ringland_engine::rings;
use ringland_plugin::{NumberField, SurfaceField, number, surface};

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    let mut numbers = rings::numbers();
    numbers.extend([
        number("limit_gap_growth_m", "limit: growth of the top end gap", "m", (1.0e-5, 1.0e-3), 1.0e-4, "0.10 mm (0.004 in), common practice, no source."),
        number("limit_leak_down_fraction", "limit: leak-down, hot", "1", (0.04, 0.5), 0.10, "8 to 10 %, common practice, no source."),
        number("limit_tension_loss_fraction", "limit: loss of top-ring tension", "1", (0.02, 0.8), 0.20, "Common practice, no source."),
        number("limit_contact_band_fraction", "limit: worn band over the top face width", "1", (0.2, 0.99), 0.70, "Common practice, no source."),
    ]);
    numbers
}

pub(super) fn surfaces() -> Vec<SurfaceField> {
    let mut surfaces = rings::faces();
    let bore = rings::bore_properties();
    surfaces.push(surface("bore", "cylinder bore", bore, false, "As honed."));
    surfaces
}
