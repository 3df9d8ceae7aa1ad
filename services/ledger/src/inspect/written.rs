//! What readings and instruments are called, as far as checks depend on it.

use ringland_host::contract::ReadingField;

/// Leak-down depends on whether the unit is hot.
pub(super) fn looks_like_leak_down(field: &ReadingField) -> bool {
    field.name.contains("leak_down")
}

/// Instruments that are set against a master (ring, gauge blocks).
pub(super) fn is_set_to_a_master(instrument: &str) -> bool {
    let instrument = instrument.to_lowercase();
    [
        "bore gauge",
        "bore gage",
        "setting ring",
        "comparator",
        "gauge block",
    ]
    .iter()
    .any(|word| instrument.contains(word))
}

/// Names of what belongs to an oil sample and to no part's reading.
pub(super) fn is_oil_analysis(reading: &str) -> bool {
    let reading = reading.to_lowercase();
    ["ppm", "oil_", "silicon", "iron_in_oil", "dilution"]
        .iter()
        .any(|word| reading.contains(word))
}
