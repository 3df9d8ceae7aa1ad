//! Duty records and profiles.

use super::{Fields, duty_table, finding, time};
use ringland_ledger as domain;
use ringland_proto::v1 as api;

/// To a message.
pub fn record_to_message(record: domain::DutyRecord) -> api::DutyRecord {
    api::DutyRecord {
        name: record.name.to_string(),
        unit: record.unit.to_string(),
        build: record.build.to_string(),
        start_time: Some(time::to_message(record.start_time)),
        end_time: Some(time::to_message(record.end_time)),
        session: record.session,
        source: record.source,
        events: record.events,
        duration_s: record.duration_s,
        crank_revolutions: record.crank_revolutions,
        content_sha256: record.content_sha256,
        request_id: record.request_id,
        intake_report: record.intake_report.map(report_to_message),
        duty: record.duty.as_ref().map(duty_table::to_message),
        create_time: Some(time::to_message(record.create_time)),
    }
}

fn report_to_message(report: domain::IntakeReport) -> api::IntakeReport {
    let flaw = |flaw: domain::IntakeFlaw| api::IntakeFlaw {
        kind: flaw.kind,
        channel: flaw.channel,
        count: flaw.count,
        rows: flaw.rows,
        lost_s: flaw.lost_s,
        action: flaw.action,
    };
    api::IntakeReport {
        rows: report.rows,
        samples: report.samples,
        log_duration_s: report.log_duration_s,
        counted_duration_s: report.counted_duration_s,
        flaws: report.flaws.into_iter().map(flaw).collect(),
        unused_columns: report.unused_columns,
        not_looked_for: report
            .not_looked_for
            .iter()
            .map(finding::to_message)
            .collect(),
        notes: report.notes.iter().map(finding::to_message).collect(),
    }
}

/// To a message.
pub fn profile_to_message(profile: domain::Profile) -> api::Profile {
    api::Profile {
        name: profile.name.to_string(),
        display_name: profile.display_name,
        duty: profile.duty.as_ref().map(duty_table::to_message),
        duty_records: profile
            .duty_records
            .iter()
            .map(ToString::to_string)
            .collect(),
        events: profile.events,
        duration_s: profile.duration_s,
        crank_revolutions: profile.crank_revolutions,
        create_time: Some(time::to_message(profile.create_time)),
    }
}

/// What a client says of a profile.
pub fn profile_input(fields: &mut Fields, profile: api::Profile) -> domain::ProfileInput {
    let mut duty_records = Vec::with_capacity(profile.duty_records.len());
    for (index, text) in profile.duty_records.iter().enumerate() {
        duty_records.extend(fields.name(&format!("profile.duty_records[{index}]"), text));
    }
    domain::ProfileInput {
        display_name: profile.display_name,
        duty: profile.duty.map(duty_table::from_message),
        duty_records,
        events: profile.events,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_that_is_none_is_refused() {
        let mut fields = Fields::new();
        let profile = api::Profile {
            duty_records: ["units/a/dutyRecords/1", "b", "c"].map(Into::into).to_vec(),
            ..Default::default()
        };
        profile_input(&mut fields, profile);
        let refusal = fields.settle(Some(())).unwrap_err();
        assert!(refusal.message().contains("profile.duty_records[1]"));
        assert!(refusal.message().contains("profile.duty_records[2]"));
    }
}
