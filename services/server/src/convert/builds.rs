//! Builds.

use super::{Fields, time};
use ringland_ledger as domain;
use ringland_proto::v1 as api;

/// To a message.
pub fn to_message(build: domain::Build) -> api::Build {
    api::Build {
        name: build.name.to_string(),
        display_name: build.display_name,
        assembly_time: Some(time::to_message(build.assembly_time)),
        teardown_time: build.teardown_time.map(time::to_message),
        build_sheet: build.build_sheet.into_iter().map(line_to_message).collect(),
        create_time: Some(time::to_message(build.create_time)),
        update_time: Some(time::to_message(build.update_time)),
        etag: build.etag,
    }
}

/// What a client says of a build.
pub fn input(fields: &mut Fields, build: api::Build) -> Option<domain::BuildInput> {
    let assembly = fields.optional_time("build.assembly_time", build.assembly_time);
    let teardown = fields.optional_time("build.teardown_time", build.teardown_time);
    let (assembly_time, teardown_time) = assembly.zip(teardown)?;
    Some(domain::BuildInput {
        display_name: build.display_name,
        assembly_time,
        teardown_time,
        build_sheet: build.build_sheet.into_iter().map(line).collect(),
    })
}

fn line_to_message(line: domain::BuildSheetLine) -> api::BuildSheetLine {
    api::BuildSheetLine {
        item: line.item,
        value: line.value,
        unit: line.unit,
        instrument: line.instrument,
        instrument_sd: line.instrument_sd,
        temperature_k: line.temperature_k,
        measured_by: line.measured_by,
    }
}

fn line(line: api::BuildSheetLine) -> domain::BuildSheetLine {
    domain::BuildSheetLine {
        item: line.item,
        value: line.value,
        unit: line.unit,
        instrument: line.instrument,
        instrument_sd: line.instrument_sd,
        temperature_k: line.temperature_k,
        measured_by: line.measured_by,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_line_comes_back_as_it_went(
            item in "[a-z_0-9]{0,20}", value in -1e9..1e9_f64, unit in "[a-zA-Z.]{0,5}",
            instrument in ".{0,20}", instrument_sd in 0.0..1.0_f64,
            temperature_k in proptest::option::of(250.0..350.0_f64), measured_by in ".{0,5}",
        ) {
            let message = api::BuildSheetLine {
                item, value, unit, instrument, instrument_sd, temperature_k, measured_by,
            };
            prop_assert_eq!(&line_to_message(line(message.clone())), &message);
        }
    }
}
