//! Units.

use super::{Fields, time};
use ringland_ledger as domain;
use ringland_proto::v1 as api;

/// To a message.
pub fn to_message(unit: domain::Unit) -> api::Unit {
    api::Unit {
        name: unit.name.to_string(),
        display_name: unit.display_name,
        kind: kind_to_message(unit.kind).into(),
        event_profile: unit
            .event_profile
            .map(|name| name.to_string())
            .unwrap_or_default(),
        shock_thresholds: Some(api::ShockThresholds {
            over_rev_engine_speed_rad_s: unit.shock_thresholds.over_rev_engine_speed_rad_s,
            oil_pressure_dip_pa: unit.shock_thresholds.oil_pressure_dip_pa,
            oil_pressure_dip_above_engine_speed_rad_s: unit
                .shock_thresholds
                .oil_pressure_dip_above_engine_speed_rad_s,
            oil_overheat_temp_k: unit.shock_thresholds.oil_overheat_temp_k,
        }),
        labels: unit.labels.into_iter().collect(),
        create_time: Some(time::to_message(unit.create_time)),
        update_time: Some(time::to_message(unit.update_time)),
        etag: unit.etag,
    }
}

/// What a client says of a unit.
pub fn input(fields: &mut Fields, unit: api::Unit) -> Option<domain::UnitInput> {
    let kind = kind(fields, unit.kind);
    let event_profile = fields.optional_name("unit.event_profile", &unit.event_profile);
    let thresholds = unit.shock_thresholds.unwrap_or_default();
    let (kind, event_profile) = kind.zip(event_profile)?;
    Some(domain::UnitInput {
        display_name: unit.display_name,
        kind,
        event_profile,
        shock_thresholds: domain::ShockThresholds {
            over_rev_engine_speed_rad_s: thresholds.over_rev_engine_speed_rad_s,
            oil_pressure_dip_pa: thresholds.oil_pressure_dip_pa,
            oil_pressure_dip_above_engine_speed_rad_s: thresholds
                .oil_pressure_dip_above_engine_speed_rad_s,
            oil_overheat_temp_k: thresholds.oil_overheat_temp_k,
        },
        labels: unit.labels.into_iter().collect(),
    })
}

/// Kinds on both sides.
const KINDS: [(domain::UnitKind, api::UnitKind); 6] = [
    (domain::UnitKind::Unspecified, api::UnitKind::Unspecified),
    (domain::UnitKind::Engine, api::UnitKind::Engine),
    (domain::UnitKind::Gearbox, api::UnitKind::Gearbox),
    (domain::UnitKind::FinalDrive, api::UnitKind::FinalDrive),
    (domain::UnitKind::Clutch, api::UnitKind::Clutch),
    (domain::UnitKind::Driveline, api::UnitKind::Driveline),
];

fn kind_to_message(kind: domain::UnitKind) -> api::UnitKind {
    match kind {
        domain::UnitKind::Unspecified => api::UnitKind::Unspecified,
        domain::UnitKind::Engine => api::UnitKind::Engine,
        domain::UnitKind::Gearbox => api::UnitKind::Gearbox,
        domain::UnitKind::FinalDrive => api::UnitKind::FinalDrive,
        domain::UnitKind::Clutch => api::UnitKind::Clutch,
        domain::UnitKind::Driveline => api::UnitKind::Driveline,
    }
}

fn kind(fields: &mut Fields, number: i32) -> Option<domain::UnitKind> {
    let found = KINDS
        .iter()
        .find(|(_, message)| i32::from(*message) == number);
    if found.is_none() {
        fields.refuse(
            "unit.kind",
            format!("{number} is not a kind of unit that this server knows"),
        );
    }
    found.map(|(kind, _)| *kind)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kinds_agree_both_ways() {
        for (kind, message) in KINDS {
            assert_eq!(kind_to_message(kind), message);
        }
        let mut fields = Fields::new();
        assert_eq!(kind(&mut fields, 99), None);
    }

    #[test]
    fn a_unit_comes_back_as_it_went() {
        let message = api::Unit {
            display_name: "Engine A".into(),
            kind: api::UnitKind::Engine.into(),
            event_profile: "profiles/club-race".into(),
            shock_thresholds: Some(api::ShockThresholds {
                over_rev_engine_speed_rad_s: Some(900.0),
                oil_overheat_temp_k: Some(400.0),
                ..Default::default()
            }),
            labels: [("car".to_owned(), "7".to_owned())].into(),
            ..Default::default()
        };
        let mut fields = Fields::new();
        let input = input(&mut fields, message.clone()).unwrap();
        let epoch = jiff::Timestamp::UNIX_EPOCH;
        let back = to_message(domain::Unit {
            name: "units/engine-a".parse().unwrap(),
            display_name: input.display_name,
            kind: input.kind,
            event_profile: input.event_profile,
            shock_thresholds: input.shock_thresholds,
            labels: input.labels,
            create_time: epoch,
            update_time: epoch,
            etag: "1".into(),
        });
        let expected = api::Unit {
            name: "units/engine-a".into(),
            create_time: Some(prost_types::Timestamp::default()),
            update_time: Some(prost_types::Timestamp::default()),
            etag: "1".into(),
            ..message
        };
        assert_eq!(back, expected);
    }
}
