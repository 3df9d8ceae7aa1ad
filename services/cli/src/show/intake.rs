//! A duty record and what intake found in its log.

use super::{
    duty::{count, duty_table, shocks},
    finding::findings,
};
use crate::{
    names, numbers,
    out::{Look, heading},
    table::{pairs, table},
    times,
};
use ringland_proto::v1::{DutyRecord, IntakeFlaw, IntakeReport};

/// Row numbers shown for each kind of flaw.
const ROWS: usize = 8;

/// What was recorded: use, flaws with their rows, shocks.
pub fn intake_report(record: &DutyRecord, look: &Look) -> String {
    let mut parts = vec![use_of(record, look)];
    if let Some(report) = &record.intake_report {
        parts.extend(flaws(report, look));
    }
    if let Some(duty) = &record.duty {
        parts.extend(shocks(&duty.shocks, look));
    }
    parts.join("\n")
}

/// All of a record.
pub fn duty_record(record: &DutyRecord, look: &Look) -> String {
    let lines = [
        ("record", record.name.clone()),
        ("build", names::short(&record.build)),
        ("start", times::show(record.start_time.as_ref())),
        ("end", times::show(record.end_time.as_ref())),
        ("session", record.session.clone()),
        ("source", record.source.clone()),
        ("sha256", record.content_sha256.clone()),
    ];
    let mut parts = vec![pairs(look, &lines), use_of(record, look)];
    if let Some(report) = &record.intake_report {
        parts.extend(flaws(report, look));
    }
    parts.extend(record.duty.as_ref().map(|duty| duty_table(duty, look)));
    parts.join("\n")
}

fn use_of(record: &DutyRecord, look: &Look) -> String {
    let mut lines = Vec::new();
    let mut counted = numbers::duration(record.duration_s);
    if let Some(report) = &record.intake_report {
        let of = numbers::duration(report.log_duration_s);
        counted = format!("{} of {of}", numbers::duration(report.counted_duration_s));
        lines.push(("rows", numbers::count(report.rows)));
    }
    lines.push(("counted as use", counted));
    if record.crank_revolutions > 0.0 {
        lines.push((
            "crank",
            format!("{:.3} M rev", record.crank_revolutions / 1e6),
        ));
    }
    if let Some(events) = record.events {
        lines.push(("events", numbers::significant(events, 3)));
    }
    if let Some(duty) = &record.duty {
        let kinds = duty.shocks.iter().filter(|kind| count(kind) > 0);
        let kinds: Vec<String> = kinds
            .map(|kind| format!("{} {}", count(kind), kind.kind.replace('_', " ")))
            .collect();
        lines.push((
            "shocks",
            if kinds.is_empty() {
                "none".into()
            } else {
                kinds.join(", ")
            },
        ));
    }
    pairs(look, &lines)
}

fn flaws(report: &IntakeReport, look: &Look) -> Vec<String> {
    let mut parts = Vec::new();
    if !report.flaws.is_empty() {
        let rows = report.flaws.iter().map(flaw_row).collect();
        let header = [
            "flaw",
            "channel",
            ">count",
            "rows of the file",
            ">not counted",
            "what was done",
        ];
        parts.push(format!(
            "{}\n{}",
            heading("Flaws in the log"),
            table(look, &header, rows)
        ));
    }
    if !report.unused_columns.is_empty() {
        let columns = report.unused_columns.join(", ");
        parts.push(pairs(look, &[("columns not used", columns)]));
    }
    for (title, list) in [
        ("Not looked for", &report.not_looked_for),
        ("Notes", &report.notes),
    ] {
        if !list.is_empty() {
            parts.push(format!("{}\n{}", heading(title), findings(list, look)));
        }
    }
    parts
}

fn flaw_row(flaw: &IntakeFlaw) -> Vec<String> {
    vec![
        flaw.kind.replace('_', " "),
        flaw.channel.clone(),
        numbers::count(flaw.count),
        row_numbers(flaw),
        if flaw.lost_s > 0.0 {
            numbers::duration(flaw.lost_s)
        } else {
            "-".into()
        },
        flaw.action.clone(),
    ]
}

/// `12, 13, 40 ... (1,240 in all)`
pub(super) fn row_numbers(flaw: &IntakeFlaw) -> String {
    let shown: Vec<String> = flaw.rows.iter().take(ROWS).map(i64::to_string).collect();
    let all = usize::try_from(flaw.count).is_ok_and(|count| count <= shown.len());
    let more = if all || shown.is_empty() { "" } else { " ..." };
    shown.join(", ") + more
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measures::System;

    #[test]
    fn every_flaw_is_told_with_its_rows() {
        let flaw = IntakeFlaw {
            kind: "not_a_number".into(),
            channel: "oil_temp_k".into(),
            count: 40,
            rows: (12..32).collect(),
            lost_s: 3.5,
            action: "bridged".into(),
        };
        let record = DutyRecord {
            duration_s: 9000.0,
            crank_revolutions: 1.007e6,
            intake_report: Some(IntakeReport {
                rows: 120_000,
                log_duration_s: 9100.0,
                counted_duration_s: 9000.0,
                flaws: vec![flaw],
                unused_columns: vec!["MapNo".into()],
                ..Default::default()
            }),
            ..Default::default()
        };
        let look = Look {
            system: System::Shop,
            width: 100,
        };
        let text = intake_report(&record, &look);
        for part in [
            "not a number",
            "12, 13, 14",
            "...",
            "3.50 s",
            "bridged",
            "MapNo",
            "2.50 h of 2.53 h",
            "120,000",
            "1.007 M rev",
        ] {
            assert!(text.contains(part), "{part} is missing from\n{text}");
        }
    }
}
