//! Components, their revisions, installations and shop operations.

use super::{Fields, duty_table, evidence, finding, time};
use ringland_host::contract::Table;
use ringland_ledger as domain;
use ringland_proto::v1 as api;
use std::collections::{BTreeMap, HashMap};

/// To a message.
pub fn to_message(component: domain::Component) -> api::Component {
    let build = component.installed_build;
    api::Component {
        name: component.name.to_string(),
        component_type: component.component_type,
        display_name: component.display_name,
        serial: component.serial,
        batch: component.batch,
        spec: Some(spec_to_message(component.spec)),
        surfaces: surfaces_to_message(component.surfaces),
        opening_condition: component.opening_condition.into_iter().collect(),
        labels: component.labels.into_iter().collect(),
        installed_build: build.map(|name| name.to_string()).unwrap_or_default(),
        create_time: Some(time::to_message(component.create_time)),
        update_time: Some(time::to_message(component.update_time)),
        etag: component.etag,
        treatments: component.treatments,
        retirement: component.retirement.map(evidence::retirement_to_message),
    }
}

/// What a client says of a component. What it means is for the model of its type.
pub fn input(component: api::Component) -> domain::ComponentInput {
    domain::ComponentInput {
        component_type: component.component_type,
        display_name: component.display_name,
        serial: component.serial,
        batch: component.batch,
        spec: spec(component.spec.unwrap_or_default()),
        surfaces: surfaces(component.surfaces),
        opening_condition: component.opening_condition.into_iter().collect(),
        labels: component.labels.into_iter().collect(),
        treatments: component.treatments,
    }
}

fn spec_to_message(spec: domain::Spec) -> api::Spec {
    let table = |(name, table): (String, Table)| {
        (
            name,
            api::Columns {
                columns: duty_table::to_columns(&table.columns),
            },
        )
    };
    api::Spec {
        numbers: spec.numbers.into_iter().collect(),
        choices: spec.choices.into_iter().collect(),
        tables: spec.tables.into_iter().map(table).collect(),
    }
}

pub(super) fn spec(spec: api::Spec) -> domain::Spec {
    let table = |(name, table): (String, api::Columns)| {
        (
            name,
            Table {
                columns: duty_table::from_columns(table.columns),
            },
        )
    };
    domain::Spec {
        numbers: spec.numbers.into_iter().collect(),
        choices: spec.choices.into_iter().collect(),
        tables: spec.tables.into_iter().map(table).collect(),
    }
}

fn surfaces_to_message(
    surfaces: BTreeMap<String, domain::SurfaceState>,
) -> HashMap<String, api::SurfaceState> {
    let surfaces = surfaces.into_iter();
    surfaces
        .map(|(name, surface)| (name, surface_to_message(surface)))
        .collect()
}

/// To a message.
pub fn surface_to_message(surface: domain::SurfaceState) -> api::SurfaceState {
    api::SurfaceState {
        properties: surface.properties.into_iter().collect(),
        ln_sd: surface.ln_sd.into_iter().collect(),
        residual_stress: surface.residual_stress.map(profile_to_message),
    }
}

/// To a message.
pub fn profile_to_message(profile: domain::ResidualStressProfile) -> api::ResidualStressProfile {
    api::ResidualStressProfile {
        depth_m: profile.depth_m,
        stress_pa: profile.stress_pa,
    }
}

pub(super) fn surfaces(
    surfaces: HashMap<String, api::SurfaceState>,
) -> BTreeMap<String, domain::SurfaceState> {
    let surface = |(name, surface): (String, api::SurfaceState)| {
        let profile = surface
            .residual_stress
            .map(|profile| domain::ResidualStressProfile {
                depth_m: profile.depth_m,
                stress_pa: profile.stress_pa,
            });
        let state = domain::SurfaceState {
            properties: surface.properties.into_iter().collect(),
            ln_sd: surface.ln_sd.into_iter().collect(),
            residual_stress: profile,
        };
        (name, state)
    };
    surfaces.into_iter().map(surface).collect()
}

/// Findings of a check.
pub fn check_to_message(response: &domain::CheckComponentResponse) -> api::CheckComponentResponse {
    let findings = response.findings.iter().map(finding::to_message);
    api::CheckComponentResponse {
        findings: findings.collect(),
    }
}

/// Where listed components are: a unit, a build, or anywhere.
pub fn filter(
    fields: &mut Fields,
    component_type: String,
    installed_in: &str,
) -> Option<domain::ComponentFilter> {
    let place = match installed_in {
        "" => None,
        "units/-" => Some(domain::Place::Anywhere),
        build if build.contains("/builds/") => {
            Some(domain::Place::Build(fields.name("installed_in", build)?))
        }
        unit => Some(domain::Place::Unit(fields.name("installed_in", unit)?)),
    };
    Some(domain::ComponentFilter {
        component_type,
        installed_in: place,
    })
}

/// To a message.
pub fn revision_to_message(revision: domain::Revision) -> api::Revision {
    api::Revision {
        name: revision.name.to_string(),
        effective_time: revision.effective_time.map(time::to_message),
        spec: Some(spec_to_message(revision.spec)),
        surfaces: surfaces_to_message(revision.surfaces),
        reason: revision.reason,
        treatments: revision.treatments,
    }
}

/// To a message.
pub fn installation_to_message(installation: domain::Installation) -> api::Installation {
    api::Installation {
        name: installation.name.to_string(),
        component: installation.component.to_string(),
        build: installation.build.to_string(),
        position: installation.position,
        install_time: Some(time::to_message(installation.install_time)),
        remove_time: installation.remove_time.map(time::to_message),
    }
}

/// To a message.
pub fn rework_to_message(rework: domain::Rework) -> api::Rework {
    api::Rework {
        name: rework.name.to_string(),
        component: rework.component.to_string(),
        operation: rework.operation,
        rework_time: Some(time::to_message(rework.rework_time)),
        note: rework.note,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::{collection::hash_map, collection::vec, option, prelude::*};

    fn numbers() -> impl Strategy<Value = HashMap<String, f64>> {
        hash_map("[a-z_]{1,8}", -1e9..1e9_f64, 0..4)
    }

    fn spec_message() -> impl Strategy<Value = api::Spec> {
        let columns = vec(vec(-1e3..1e3_f64, 0..3), 0..3).prop_map(|columns| api::Columns {
            columns: columns
                .into_iter()
                .map(|values| api::Column { values })
                .collect(),
        });
        let choices = hash_map("[a-z_]{1,8}", "[a-z_]{1,8}", 0..3);
        (numbers(), choices, hash_map("[a-z_]{1,8}", columns, 0..3)).prop_map(
            |(numbers, choices, tables)| api::Spec {
                numbers,
                choices,
                tables,
            },
        )
    }

    fn surface_messages() -> impl Strategy<Value = HashMap<String, api::SurfaceState>> {
        let profile = (vec(0.0..1e-3_f64, 0..4), vec(-1e9..1e9_f64, 0..4))
            .prop_map(|(depth_m, stress_pa)| api::ResidualStressProfile { depth_m, stress_pa });
        let surface = (numbers(), numbers(), option::of(profile)).prop_map(
            |(properties, ln_sd, residual_stress)| api::SurfaceState {
                properties,
                ln_sd,
                residual_stress,
            },
        );
        hash_map("[a-z_]{1,8}", surface, 0..3)
    }

    proptest! {
        #[test]
        fn a_spec_comes_back_as_it_went(message in spec_message()) {
            prop_assert_eq!(&spec_to_message(spec(message.clone())), &message);
        }

        #[test]
        fn surfaces_come_back_as_they_went(message in surface_messages()) {
            prop_assert_eq!(&surfaces_to_message(surfaces(message.clone())), &message);
        }
    }

    #[test]
    fn a_place_is_a_unit_a_build_or_anywhere() {
        let mut fields = Fields::new();
        let mut place = |text: &str| {
            filter(&mut fields, String::new(), text)
                .unwrap()
                .installed_in
        };
        assert_eq!(place(""), None);
        assert_eq!(place("units/-"), Some(domain::Place::Anywhere));
        assert_eq!(
            place("units/a"),
            Some(domain::Place::Unit("units/a".parse().unwrap()))
        );
        let build = "units/a/builds/b";
        assert_eq!(
            place(build),
            Some(domain::Place::Build(build.parse().unwrap()))
        );
        assert!(filter(&mut fields, String::new(), "garage").is_none());
    }
}
