//! What the shop measured on its ring packs, entered as it would be.

use super::{calendar::Calendar, shop::at};
use crate::{
    CliError,
    commands::Session,
    demo, names,
    out::heading,
    show::{comparisons, findings},
};
use ringland_proto::v1::{
    Inspection, Installation, ListInstallationsRequest, MeasuredReading, RecordInspectionRequest,
    RecordInspectionResponse, ThermalState,
};
use std::ops::ControlFlow;

/// How the demo names ring packs.
const RING_PACK: &str = "components/ring-pack-";

/// Enters every inspection of the events that are played.
pub(super) async fn record_all(
    calendar: &Calendar,
    session: &Session,
) -> Result<Vec<RecordInspectionResponse>, CliError> {
    let mut recorded = Vec::new();
    for inspection in &calendar.season.inspections {
        let played = calendar
            .season
            .events
            .iter()
            .any(|e| e.code == inspection.event);
        let time = calendar
            .season
            .inspection_unix_s(inspection)
            .filter(|_| played);
        let Some(time) = time else { continue };
        let Some(component) = ring_pack_in(&inspection.unit, time, session).await? else {
            continue;
        };
        let request = RecordInspectionRequest {
            inspection: Some(Inspection {
                component,
                inspection_time: Some(at(time)),
                inspected_by: "engine builder".into(),
                notes: inspection.note.clone(),
                readings: inspection.readings.iter().map(line).collect(),
                ..Default::default()
            }),
            request_id: format!("inspection-{}-{}", inspection.event, inspection.unit),
        };
        let mut client = session.api.inspections();
        recorded.push(client.record_inspection(request).await?.into_inner());
    }
    Ok(recorded)
}

fn line(reading: &demo::Reading) -> MeasuredReading {
    let (instrument, hot) = match reading.instrument.strip_suffix(", hot") {
        Some(instrument) => (instrument, true),
        None => (reading.instrument.as_str(), false),
    };
    let mut line = MeasuredReading {
        reading: reading.name.clone(),
        value: reading.value,
        instrument: instrument.into(),
        // The shop has one of each.
        instrument_id: instrument.into(),
        instrument_sd: Some(reading.sd),
        ..Default::default()
    };
    if hot {
        line.set_thermal_state(ThermalState::Hot);
    }
    line
}

/// The ring pack that was in a unit then.
async fn ring_pack_in(
    unit: &str,
    time_s: i64,
    session: &Session,
) -> Result<Option<String>, CliError> {
    let mut client = session.api.components();
    let builds = ringland_proto::v1::ListBuildsRequest {
        parent: format!("units/{unit}"),
        page_size: 1000,
        ..Default::default()
    };
    let builds = session
        .api
        .builds()
        .list_builds(builds)
        .await?
        .into_inner()
        .builds;
    for build in builds {
        let request = ListInstallationsRequest {
            parent: "components/-".into(),
            build: build.name,
            page_size: 1000,
            ..Default::default()
        };
        let there = client
            .list_installations(request)
            .await?
            .into_inner()
            .installations;
        let found = there.into_iter().try_for_each(|installation| {
            if is_there(&installation, time_s) {
                return ControlFlow::Break(installation.component);
            }
            ControlFlow::Continue(())
        });
        if let ControlFlow::Break(component) = found {
            return Ok(Some(component));
        }
    }
    Ok(None)
}

fn is_there(installation: &Installation, time_s: i64) -> bool {
    let from = installation
        .install_time
        .map_or(i64::MAX, |time| time.seconds);
    let until = installation
        .remove_time
        .map_or(i64::MAX, |time| time.seconds);
    installation.component.starts_with(RING_PACK) && (from..until).contains(&time_s)
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
