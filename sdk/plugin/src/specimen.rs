//! A spec against its card: the default spec, and everything that is wrong with a given one.
//!
//! The host compiles this same file against its own mirror of the contract, so that both sides of
//! the sandbox judge a spec alike.

use crate::contract::{
    Finding, ModelCard, NumberField, Severity, Specimen, Surface, SurfaceField, Table, TableField,
};

/// The spec with every default of the card: surfaces without spread and without a residual-stress
/// profile.
pub fn default_specimen(card: &ModelCard) -> Specimen {
    let surface = |field: &SurfaceField| Surface {
        values: field.properties.iter().map(|p| p.default_value).collect(),
        ln_sd: vec![0.0; field.properties.len()],
        depth_m: Vec::new(),
        residual_stress_pa: Vec::new(),
    };
    let table = |field: &TableField| Table {
        columns: field.default_columns.clone(),
    };
    Specimen {
        numbers: card.numbers.iter().map(|n| n.default_value).collect(),
        choices: card.choices.iter().map(|c| c.default_option).collect(),
        tables: card.tables.iter().map(table).collect(),
        surfaces: card.surfaces.iter().map(surface).collect(),
    }
}

/// Everything in which a spec departs from its card: lists of the wrong length, values that are
/// not finite or out of range, options that do not exist, tables and profiles of uneven columns.
/// Each finding is an error and names the field as `field`, `table.column[row]` or
/// `surface.property`.
pub fn check_against_card(card: &ModelCard, specimen: &Specimen) -> Vec<Finding> {
    let mut findings = Vec::new();
    let found = &mut findings;
    count(found, "numbers", card.numbers.len(), specimen.numbers.len());
    for (field, &value) in card.numbers.iter().zip(&specimen.numbers) {
        in_range(found, &field.name, field, value);
    }
    count(found, "choices", card.choices.len(), specimen.choices.len());
    for (field, &option) in card.choices.iter().zip(&specimen.choices) {
        if option as usize >= field.options.len() {
            let names: Vec<&str> = field.options.iter().map(|o| o.name.as_str()).collect();
            let expected = format!("the index of one of {}", names.join(", "));
            refuse(
                found,
                &field.name,
                option.to_string(),
                &expected,
                "choose one of them",
            );
        }
    }
    count(found, "tables", card.tables.len(), specimen.tables.len());
    for (field, table) in card.tables.iter().zip(&specimen.tables) {
        check_table(found, field, table);
    }
    count(
        found,
        "surfaces",
        card.surfaces.len(),
        specimen.surfaces.len(),
    );
    for (field, surface) in card.surfaces.iter().zip(&specimen.surfaces) {
        check_surface(found, field, surface);
    }
    findings
}

fn check_table(found: &mut Vec<Finding>, field: &TableField, table: &Table) {
    count(found, &field.name, field.columns.len(), table.columns.len());
    let rows = table.columns.first().map_or(0, Vec::len);
    if rows < field.minimum_rows as usize || rows > field.maximum_rows as usize {
        let expected = format!("{} to {} rows", field.minimum_rows, field.maximum_rows);
        refuse(
            found,
            &field.name,
            format!("{rows} rows"),
            &expected,
            "add or remove rows",
        );
    }
    for (column, values) in field.columns.iter().zip(&table.columns) {
        let name = format!("{}.{}", field.name, column.name);
        if values.len() != rows {
            let expected = format!("{rows} rows, as the first column");
            let value = format!("{} rows", values.len());
            refuse(
                found,
                &name,
                value,
                &expected,
                "give every column the same length",
            );
        }
        for (row, &value) in values.iter().enumerate() {
            in_range(found, &format!("{name}[{row}]"), column, value);
        }
    }
}

fn check_surface(found: &mut Vec<Finding>, field: &SurfaceField, surface: &Surface) {
    count(
        found,
        &field.name,
        field.properties.len(),
        surface.values.len(),
    );
    let spread = format!("{}.ln_sd", field.name);
    count(found, &spread, field.properties.len(), surface.ln_sd.len());
    for (property, &value) in field.properties.iter().zip(&surface.values) {
        in_range(
            found,
            &format!("{}.{}", field.name, property.name),
            property,
            value,
        );
    }
    for (property, &sd) in field.properties.iter().zip(&surface.ln_sd) {
        if !(0.0..=LARGEST_LN_SD).contains(&sd) {
            let name = format!("{spread}.{}", property.name);
            let expected = format!("0 to {LARGEST_LN_SD}");
            let remedy = "give the standard deviation of the natural logarithm, 0 when known";
            refuse(found, &name, sd.to_string(), &expected, remedy);
        }
    }
    check_profile(found, field, surface);
}

/// A spread over which a multiplier is unknown to a factor of e^3 either way.
const LARGEST_LN_SD: f64 = 3.0;

fn check_profile(found: &mut Vec<Finding>, field: &SurfaceField, surface: &Surface) {
    let (depths, stresses) = (&surface.depth_m, &surface.residual_stress_pa);
    let name = format!("{}.depth_m", field.name);
    let given = !(depths.is_empty() && stresses.is_empty());
    if given && !field.residual_stress {
        let value = format!("{} depths", depths.len());
        let remedy = "leave the profile out";
        refuse(
            found,
            &name,
            value,
            "no profile: the model reads none here",
            remedy,
        );
    }
    if depths.len() != stresses.len() {
        let expected = format!("{} depths, as there are stresses", stresses.len());
        let remedy = "give one stress for each depth";
        refuse(
            found,
            &name,
            format!("{} depths", depths.len()),
            &expected,
            remedy,
        );
    }
    let deepens = depths.windows(2).all(|pair| pair[0] < pair[1]);
    let valid = depths
        .iter()
        .all(|depth| depth.is_finite() && *depth >= 0.0);
    if !(deepens && valid) {
        let expected = "depths from the surface down, each larger than the last";
        refuse(
            found,
            &name,
            format!("{depths:?}"),
            expected,
            "sort the profile by depth",
        );
    }
    if let Some(stress) = stresses.iter().find(|stress| !stress.is_finite()) {
        let name = format!("{}.residual_stress_pa", field.name);
        refuse(
            found,
            &name,
            stress.to_string(),
            "a finite stress in Pa",
            "measure it again",
        );
    }
}

fn in_range(found: &mut Vec<Finding>, name: &str, field: &NumberField, value: f64) {
    if !(field.minimum..=field.maximum).contains(&value) {
        let unit = if field.unit == "1" { "" } else { &field.unit };
        let expected = format!("{} to {} {unit}", field.minimum, field.maximum);
        let remedy = format!("check the measurement and its unit of {}", field.label);
        refuse(found, name, value.to_string(), expected.trim_end(), &remedy);
    }
}

fn count(found: &mut Vec<Finding>, field: &str, expected: usize, given: usize) {
    if expected != given {
        let expected = format!("{expected} values, in card order");
        refuse(
            found,
            field,
            format!("{given} values"),
            &expected,
            "give one for each card entry",
        );
    }
}

fn refuse(found: &mut Vec<Finding>, field: &str, value: String, expected: &str, remedy: &str) {
    found.push(Finding {
        severity: Severity::Error,
        field: field.into(),
        value,
        expected: expected.into(),
        remedy: remedy.into(),
    });
}
