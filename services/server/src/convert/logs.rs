//! How a log is to be read, and what intake found in it.

use super::Fields;
use ringland_host::contract::Finding;
use ringland_intake as intake;
use ringland_ledger as domain;
use ringland_proto::v1 as api;
use std::fmt::Write;

/// Standard atmosphere (ISO 2533): what turns absolute pressures to gauge and back.
const STANDARD_ATMOSPHERE_PA: f64 = 101_325.0;

/// The channel map of a header.
pub fn channel_map(fields: &mut Fields, map: &api::ChannelMap) -> Option<intake::ChannelMap> {
    let delimiter = delimiter(fields, &map.delimiter);
    let skip = lines(fields, "header.channel_map.skip_lines", map.skip_lines);
    let after = "header.channel_map.skip_lines_after_header";
    let after = lines(fields, after, map.skip_lines_after_header);
    let ((delimiter, skip_lines), skip_lines_after_header) = delimiter.zip(skip).zip(after)?;
    Some(intake::ChannelMap {
        name: map.name.clone(),
        time_column: map.time_column.clone(),
        time_unit: map.time_unit.clone(),
        sample_rate_hz: None,
        columns: map.columns.iter().map(channel_column).collect(),
        delimiter,
        skip_lines,
        skip_lines_after_header,
        ambient_pressure_pa: STANDARD_ATMOSPHERE_PA,
    })
}

fn delimiter(fields: &mut Fields, text: &str) -> Option<char> {
    let mut characters = text.chars();
    match (characters.next(), characters.next()) {
        (None, _) => Some(','),
        (Some(one), None) => Some(one),
        _ => {
            let text = format!("{text:?} was given; expected one character, or none for a comma");
            fields.refuse("header.channel_map.delimiter", text);
            None
        }
    }
}

fn lines(fields: &mut Fields, field: &str, count: i32) -> Option<u32> {
    let lines = u32::try_from(count).ok();
    if lines.is_none() {
        fields.refuse(
            field,
            format!("{count} was given; expected 0 or more lines"),
        );
    }
    lines
}

fn channel_column(column: &api::ChannelColumn) -> intake::ChannelColumn {
    intake::ChannelColumn {
        channel: column.channel.clone(),
        column: column.column.clone(),
        unit: column.unit.clone(),
        scale: if column.scale == 0.0 {
            1.0
        } else {
            column.scale
        },
        offset: column.offset,
        rate_hz: None,
        hold_s: given(column.hold_s),
        optional: false,
    }
}

/// The columns of sample chunks.
pub fn sample_channels(channels: &[api::SampleChannel]) -> Vec<intake::SampleChannel> {
    let channel = |channel: &api::SampleChannel| intake::SampleChannel {
        channel: channel.channel.clone(),
        unit: channel.unit.clone(),
        hold_s: given(channel.hold_s),
    };
    channels.iter().map(channel).collect()
}

/// On the wire 0 stands for the default.
fn given(number: f64) -> Option<f64> {
    (number != 0.0).then_some(number)
}

/// How flawed the log may be.
pub fn limits(limits: Option<&api::IntakeLimits>) -> intake::IntakeLimits {
    let usual = intake::IntakeLimits::default();
    let Some(limits) = limits else { return usual };
    intake::IntakeLimits {
        gap_s: given(limits.gap_s).unwrap_or(usual.gap_s),
        hold_s: given(limits.hold_s).unwrap_or(usual.hold_s),
        bad_share: given(limits.bad_share).unwrap_or(usual.bad_share),
        ..usual
    }
}

/// What counts as a shock in this unit's logs.
pub fn thresholds(unit: &domain::ShockThresholds) -> intake::ShockThresholds {
    let usual = intake::ShockThresholds::default();
    intake::ShockThresholds {
        over_rev_engine_speed_rad_s: unit.over_rev_engine_speed_rad_s,
        oil_pressure_dip_pa: unit
            .oil_pressure_dip_pa
            .unwrap_or(usual.oil_pressure_dip_pa),
        oil_pressure_dip_above_engine_speed_rad_s: unit
            .oil_pressure_dip_above_engine_speed_rad_s
            .unwrap_or(usual.oil_pressure_dip_above_engine_speed_rad_s),
        oil_overheat_temp_k: unit
            .oil_overheat_temp_k
            .unwrap_or(usual.oil_overheat_temp_k),
        ..usual
    }
}

/// Adds what intake refuses, by the paths of the call.
pub fn refuse(fields: &mut Fields, refusal: &intake::Refusal) {
    for finding in &refusal.findings {
        fields.refuse(&path(&finding.field), description(finding));
    }
}

fn path(field: &str) -> String {
    match field.split_once('.') {
        Some(("limits", rest)) => format!("header.intake_limits.{rest}"),
        Some(("thresholds", rest)) => format!("unit.shock_thresholds.{rest}"),
        _ if field.starts_with("channel_map") || field.starts_with("sample_channels") => {
            format!("header.{field}")
        }
        _ => field.to_owned(),
    }
}

fn description(finding: &Finding) -> String {
    let mut text = format!("{} was given; expected {}", finding.value, finding.expected);
    if !finding.remedy.is_empty() {
        // Writing to a string does not fail.
        let _ = write!(text, "; {}", finding.remedy);
    }
    text
}

/// What intake found, in the ledger's words.
pub fn report(report: intake::IntakeReport) -> domain::IntakeReport {
    let count = |count: u64| i64::try_from(count).unwrap_or(i64::MAX);
    let flaw = |flaw: intake::Flaw| domain::IntakeFlaw {
        kind: flaw.kind.name().into(),
        channel: flaw.channel,
        count: count(flaw.count),
        rows: flaw.rows.into_iter().map(count).collect(),
        lost_s: flaw.lost_s,
        action: flaw.action,
    };
    domain::IntakeReport {
        rows: count(report.rows),
        samples: count(report.samples),
        log_duration_s: report.log_duration_s,
        counted_duration_s: report.counted_duration_s,
        flaws: report.flaws.into_iter().map(flaw).collect(),
        unused_columns: report.unused_columns,
        not_looked_for: report.not_looked_for,
        notes: report.notes,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zero_and_empty_stand_for_the_defaults_of_the_contract() {
        let usual = limits(None);
        assert_eq!(
            (usual.gap_s, usual.hold_s, usual.bad_share),
            (1.0, 0.5, 0.1),
            "duty.proto"
        );
        let some = api::IntakeLimits {
            gap_s: 3.0,
            ..Default::default()
        };
        assert_eq!(
            limits(Some(&some)),
            intake::IntakeLimits {
                gap_s: 3.0,
                ..usual
            }
        );
        let mut fields = Fields::new();
        let map = api::ChannelMap {
            columns: vec![api::ChannelColumn::default()],
            ..Default::default()
        };
        let map = channel_map(&mut fields, &map).unwrap();
        assert_eq!(
            (map.delimiter, map.columns[0].scale, map.columns[0].hold_s),
            (',', 1.0, None)
        );
        let none = thresholds(&domain::ShockThresholds::default());
        assert_eq!(none, intake::ShockThresholds::default());
    }

    #[test]
    fn fields_are_named_by_the_paths_of_the_call() {
        assert_eq!(
            path("channel_map.columns[2].unit"),
            "header.channel_map.columns[2].unit"
        );
        assert_eq!(
            path("sample_channels[0].unit"),
            "header.sample_channels[0].unit"
        );
        assert_eq!(path("limits.gap_s"), "header.intake_limits.gap_s");
        assert_eq!(
            path("thresholds.knock_level"),
            "unit.shock_thresholds.knock_level"
        );
        assert_eq!(path("time"), "time");
    }

    #[test]
    fn what_cannot_be_read_is_refused() {
        let mut fields = Fields::new();
        let map = api::ChannelMap {
            delimiter: ";;".into(),
            skip_lines: -1,
            skip_lines_after_header: -2,
            ..Default::default()
        };
        assert!(channel_map(&mut fields, &map).is_none());
        let refusal = fields.settle(Some(())).unwrap_err();
        for field in ["delimiter", "skip_lines", "skip_lines_after_header"] {
            assert!(
                refusal.message().contains(&format!("channel_map.{field}:")),
                "{refusal}"
            );
        }
    }
}
