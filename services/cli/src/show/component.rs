//! A component with its spec and surfaces. Their numbers stay in SI under the card's names: these
//! are what a file for `component create` has.

use crate::{
    names, numbers,
    out::{Look, heading},
    table::{pairs, table},
    times,
};
use ringland_proto::v1::{Component, Spec, SurfaceState};

/// A component as text.
pub fn component(component: &Component, look: &Look) -> String {
    let place = match names::short(&component.installed_build) {
        place if place.is_empty() => "not installed".to_owned(),
        place => place,
    };
    let lines = [
        ("component", component.name.clone()),
        ("type", component.component_type.clone()),
        ("name", component.display_name.clone()),
        ("serial", component.serial.clone()),
        ("batch", component.batch.clone()),
        ("treatments", treatments(component)),
        ("installed in", place),
        ("created", times::show(component.create_time.as_ref())),
    ];
    let mut parts = vec![pairs(look, &lines)];
    let mut rows = component.spec.as_ref().map(spec_rows).unwrap_or_default();
    let mut surfaces: Vec<_> = component.surfaces.iter().collect();
    surfaces.sort_by(|one, other| one.0.cmp(other.0));
    rows.extend(
        surfaces
            .into_iter()
            .flat_map(|(name, surface)| surface_rows(name, surface)),
    );
    rows.extend(sorted_numbers(
        "opening condition: ",
        &component.opening_condition,
    ));
    if rows.is_empty() {
        parts.push("  spec and surfaces: as the model's card".into());
    } else {
        parts.push(heading("Other than the model's card (SI)"));
        parts.push(table(look, &["field", ">value"], rows));
    }
    parts.join("\n")
}

fn treatments(component: &Component) -> String {
    if component.treatments.is_empty() {
        "none told".into()
    } else {
        component.treatments.join(", ")
    }
}

fn spec_rows(spec: &Spec) -> Vec<Vec<String>> {
    let mut rows = sorted_numbers("", &spec.numbers);
    let mut choices: Vec<_> = spec.choices.iter().collect();
    choices.sort();
    rows.extend(
        choices
            .into_iter()
            .map(|(name, option)| vec![name.clone(), option.clone()]),
    );
    let mut tables: Vec<_> = spec.tables.iter().collect();
    tables.sort_by(|one, other| one.0.cmp(other.0));
    rows.extend(tables.into_iter().map(|(name, columns)| {
        let length = columns
            .columns
            .first()
            .map_or(0, |column| column.values.len());
        vec![name.clone(), format!("{length} rows")]
    }));
    rows
}

fn surface_rows(name: &str, surface: &SurfaceState) -> Vec<Vec<String>> {
    let mut rows = sorted_numbers(&format!("{name}: "), &surface.properties);
    let spreads = sorted_numbers(&format!("{name}, ln sd: "), &surface.ln_sd);
    rows.extend(spreads);
    if let Some(profile) = &surface.residual_stress {
        let text = format!("{} depths", profile.depth_m.len());
        rows.push(vec![format!("{name}: residual stress"), text]);
    }
    rows
}

fn sorted_numbers(lead: &str, values: &std::collections::HashMap<String, f64>) -> Vec<Vec<String>> {
    let mut values: Vec<_> = values.iter().collect();
    values.sort_by(|one, other| one.0.cmp(other.0));
    values
        .into_iter()
        .map(|(name, value)| vec![format!("{lead}{name}"), numbers::significant(*value, 4)])
        .collect()
}
