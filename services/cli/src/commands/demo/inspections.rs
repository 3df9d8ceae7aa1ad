//! What the shop measured and looked at, entered as it would be.

use super::{calendar::Calendar, shop::at};
use crate::{
    CliError,
    commands::Session,
    demo, names,
    out::heading,
    show::{comparisons, findings},
};
use ringland_proto::v1::{
    CrackCheck, CrackMethod, CrackResult, ExplainInspectionRequest, Explanation, Inspection,
    Installation, ListBuildsRequest, ListInstallationsRequest, MeasuredReading,
    RecordInspectionRequest, RecordInspectionResponse, ThermalState,
};

/// Enters every inspection of the events that are played.
pub(super) async fn record_all(
    calendar: &Calendar,
    session: &Session,
) -> Result<Vec<RecordInspectionResponse>, CliError> {
    let mut recorded = Vec::new();
    for inspection in &calendar.season.inspections {
        recorded.extend(record(inspection, calendar, session).await?);
    }
    Ok(recorded)
}

/// Enters one inspection; nothing where its event is not played or its part is not there.
pub(in crate::commands) async fn record(
    inspection: &demo::Inspection,
    calendar: &Calendar,
    session: &Session,
) -> Result<Option<RecordInspectionResponse>, CliError> {
    let Some(time_s) = calendar.season.inspection_unix_s(inspection) else {
        return Ok(None);
    };
    let there = part_in(&inspection.unit, &inspection.part, time_s, session).await?;
    let Some(component) = there else {
        return Ok(None);
    };
    let demo::Inspection {
        event, unit, part, ..
    } = inspection;
    let request = RecordInspectionRequest {
        inspection: Some(Inspection {
            component,
            inspection_time: Some(at(time_s)),
            inspected_by: "engine builder".into(),
            notes: inspection.note.clone(),
            readings: inspection.readings.iter().map(line).collect(),
            crack_checks: inspection.found.iter().map(seen).collect(),
            ..Default::default()
        }),
        request_id: format!(
            "inspection-{event}-{}-{unit}-{part}",
            inspection.hours_after
        ),
    };
    let mut client = session.api.inspections();
    let answer = client.record_inspection(request).await?.into_inner();
    if let Some(explained) = &inspection.explained {
        let request = ExplainInspectionRequest {
            name: answer.inspection.clone().unwrap_or_default().name,
            reading: explained.reading.clone(),
            explanation: Explanation::Abuse.into(),
            by: explained.by.clone(),
            reason: explained.reason.clone(),
            ..Default::default()
        };
        client.explain_inspection(request).await?;
    }
    Ok(Some(answer))
}

fn line(reading: &demo::Reading) -> MeasuredReading {
    let (instrument, hot) = match reading.instrument.strip_suffix(", hot") {
        Some(instrument) => (instrument, true),
        None => (reading.instrument.as_str(), false),
    };
    let mut line = MeasuredReading {
        reading: reading.name.clone(),
        value: reading.value,
        position: reading.position.clone(),
        instrument: instrument.into(),
        // The shop has one of each.
        instrument_id: instrument.into(),
        instrument_sd: Some(reading.sd),
        zero: reading.zero,
        ..Default::default()
    };
    if hot {
        line.set_thermal_state(ThermalState::Hot);
    }
    line
}

fn seen(found: &demo::Found) -> CrackCheck {
    CrackCheck {
        method: CrackMethod::NakedEye.into(),
        mechanisms: vec![found.mechanism.clone()],
        result: CrackResult::Indication.into(),
        indication_length_m: Some(found.length_m),
        note: found.note.clone(),
        ..Default::default()
    }
}

/// The part of a type that was in a unit then.
pub(in crate::commands) async fn part_in(
    unit: &str,
    part: &str,
    time_s: i64,
    session: &Session,
) -> Result<Option<String>, CliError> {
    let request = ListBuildsRequest {
        parent: format!("units/{unit}"),
        page_size: 1000,
        ..Default::default()
    };
    let builds = session.api.builds().list_builds(request).await?;
    // As the shop names its parts.
    let place = unit.rsplit('-').next().unwrap_or(unit);
    let prefix = format!("components/{}-{place}-", part.replace('_', "-"));
    for build in builds.into_inner().builds {
        let request = ListInstallationsRequest {
            parent: "components/-".into(),
            build: build.name,
            page_size: 1000,
            ..Default::default()
        };
        let mut client = session.api.components();
        let there = client.list_installations(request).await?.into_inner();
        let mut there = there.installations.into_iter();
        let found = there.find(|one| one.component.starts_with(&prefix) && holds(one, time_s));
        if let Some(installation) = found {
            return Ok(Some(installation.component));
        }
    }
    Ok(None)
}

fn holds(installation: &Installation, time_s: i64) -> bool {
    let from = installation
        .install_time
        .map_or(i64::MAX, |time| time.seconds);
    let until = installation
        .remove_time
        .map_or(i64::MAX, |time| time.seconds);
    (from..until).contains(&time_s)
}

/// What each said beside the prediction of its time.
pub(super) fn show(
    recorded: &[RecordInspectionResponse],
    session: &Session,
) -> Result<(), CliError> {
    let out = session.out;
    if out.json || recorded.is_empty() {
        return Ok(());
    }
    out.text("")?;
    out.text(&heading("What was measured, beside what was predicted"))?;
    for response in recorded {
        let inspection = response.inspection.clone().unwrap_or_default();
        out.text(&heading(&names::short(&inspection.name)))?;
        out.text(&comparisons(&response.comparisons, &out.look))?;
        out.text(&findings(&response.findings, &out.look))?;
    }
    Ok(())
}
