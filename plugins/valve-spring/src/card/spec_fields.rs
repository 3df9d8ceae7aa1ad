//! Inputs: numbers of the spec and properties of the surface.

use ringland_engine::valvetrain;
use ringland_plugin::{NumberField, SurfaceField, number, surface};

use crate::constants::{REFERENCE_RA_M, STRENGTH_PA};

#[rustfmt::skip]
pub(super) fn numbers() -> Vec<NumberField> {
    let mut numbers = valvetrain::numbers();
    numbers.extend([
        number("ultimate_strength_pa", "tensile strength of the wire", "Pa", (1.2e9, 2.5e9), 2.05e9, "Certificate of the wire. The ultimate strength in torsion is 0.67 of it."),
        number("strength_pa", "fully reversed torsional strength of the wire, not peened, at 1e7 cycles, half of springs surviving", "Pa", (1.5e8, 9.0e8), STRENGTH_PA, "Calibrated: of sets of 16 springs, peened in the conventional way, one in ten has broken one after 4 default events (common practice, no source). What peening gives goes into the surface, not here."),
        number("slope", "slope of the S-N line", "1", (5.0, 15.0), 10.0, "From memory; the same below the knee, as every spring sees overloads."),
        number("strength_scatter", "standard deviation of ln(strength) from spring to spring", "1", (0.01, 0.2), 0.045, "Assumed: 4 to 5 %."),
        number("core_hardness_pa", "hardness of the wire", "Pa", (3.5e9, 7.06e9), 6.0e9, "612 HV. Sets the strength that inclusions leave."),
        number("inclusion_root_area_m", "largest inclusion: root of its projected area", "m", (1.0e-6, 2.0e-4), 1.2e-5, "Cleanliness of the heat (ISO 4967); super-clean valve-spring wire has none above 15 um (from memory)."),
        number("springs", "springs of the set", "1", (1.0, 64.0), 16.0, "The first to break ends the life of the set. Inner springs of a nest are a set of their own."),
        number("coil_clearance_m", "clearance of all coils together at full lift", "m", (0.0, 2.0e-2), 1.5e-3, "Spring tester: length at full lift less solid length. At least 1 mm (common practice, no source)."),
        number("relaxation_fraction", "share of load lost in 48 h at 120 degC and 1000 MPa", "1", (1.0e-3, 0.4), 0.05, "Relaxation test at constant length (ISO 26909) or the wire maker's diagram (EN 13906-1). Default: set silicon-chromium-vanadium wire, from memory; 0.03 to 0.08."),
        number("relaxation_exponent", "relaxation: exponent of time", "1", (0.05, 1.0), 0.3, "From two test times. Assumed."),
        number("relaxation_activation_j_mol", "relaxation: activation energy of time", "J/mol", (2.0e4, 3.0e5), 1.0e5, "From two test temperatures. Assumed: 30 kJ/mol of the loss."),
        number("relaxation_stress_exponent", "relaxation: exponent by which stress hastens time", "1", (1.0, 15.0), 6.0, "From two test stresses: the share lost goes with stress to the power of (this times the exponent of time, less 1). Assumed."),
        number("hysteresis_fraction", "share of the stroke's work that wire and damper turn to heat", "1", (0.0, 0.3), 0.02, "Without surge, which is counted by itself. More with a flat damper coil. Assumed."),
        number("heat_transfer_w_m2_k", "heat transfer from the wire to the oil", "W/(m2.K)", (20.0, 5000.0), 300.0, "Splash; more under an oil jet. Assumed."),
        number("limit_seat_load_loss_fraction", "limit of the loss of seat load, over the seat load as built", "1", (0.02, 0.25), 0.10, "Common practice, no source. Sooner where the train floats."),
        number("alarm_seat_load_loss_fraction", "loss of seat load at which a note warns", "1", (0.01, 0.25), 0.07, "Common practice, no source."),
    ]);
    numbers
}

#[rustfmt::skip]
pub(super) fn surfaces() -> Vec<SurfaceField> {
    let properties = vec![
        number("ra_m", "roughness Ra", "m", (0.01e-6, 6.3e-6), REFERENCE_RA_M, "Stylus along the wire at the inside of a coil, +-10 % (ISO 21920-2). Default: drawn wire, for which the strength is given."),
        number("hardness_pa", "hardness at the surface", "Pa", (3.0e9, 1.2e10), 6.0e9, "Micro-hardness on a section, 10 um deep. Less than the core: decarburised."),
    ];
    vec![surface("wire_surface", "surface of the wire", properties, true, "Residual stress by X-ray diffraction with layer removal (EN 15305) on a new spring after setting. Without a profile the wire counts as not peened.")]
}
