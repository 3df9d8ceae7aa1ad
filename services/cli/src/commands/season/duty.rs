//! Duty with one thing changed: what would it have cost without?

use super::stand::Stand;
use crate::CliError;
use ringland_proto::v1::{DutyRecord, DutyTable};

/// A duty with one of its channels changed at every operating point.
pub(super) fn with_channel(
    duty: &DutyTable,
    channel: &str,
    change: impl Fn(f64) -> f64,
) -> DutyTable {
    let mut duty = duty.clone();
    let at = duty.channels.iter().position(|name| name == channel);
    if let Some(column) = at.and_then(|at| duty.points.get_mut(at)) {
        for value in &mut column.values {
            *value = change(*value);
        }
    }
    duty
}

/// A duty without its shocks of one kind.
pub(super) fn without_shocks(duty: &DutyTable, kind: &str) -> DutyTable {
    let mut duty = duty.clone();
    duty.shocks.retain(|shocks| shocks.kind != kind);
    duty
}

/// One field of a record's shocks of one kind, a value for each shock.
pub(super) fn shocks(record: &DutyRecord, kind: &str, field: &str) -> Vec<f64> {
    let mut of_record = record.duty.iter().flat_map(|duty| &duty.shocks);
    let of_kind = of_record.find(|shocks| shocks.kind == kind);
    let column = of_kind.and_then(|shocks| {
        let at = shocks.fields.iter().position(|name| name == field)?;
        shocks.columns.get(at)
    });
    column.map_or_else(Vec::new, |column| column.values.clone())
}

/// By how much a reading's median moves over a duty, from how the part stands now.
pub(super) async fn growth(
    stand: &Stand<'_>,
    component: &str,
    profile: &str,
    reading: &str,
) -> Result<f64, CliError> {
    let prediction = stand.predict(component, profile, vec![1.0]).await?;
    let found = prediction
        .readings
        .iter()
        .find(|one| one.reading == reading);
    let median = |q: Option<ringland_proto::v1::Quantiles>| q.map(|q| q.p50);
    let moved = found.and_then(|one| {
        let then = one.ahead.first().and_then(|ahead| median(ahead.value))?;
        Some((then - median(one.now)?).abs())
    });
    moved.ok_or_else(|| CliError::Failed(format!("{component} has no reading {reading} ahead")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use ringland_proto::v1::{Column, DutyShocks};

    #[test]
    fn one_channel_changes_and_the_rest_stays() {
        let column = |values: &[f64]| Column {
            values: values.to_vec(),
        };
        let duty = DutyTable {
            channels: vec!["a".into(), "b".into()],
            points: vec![column(&[1.0, 2.0]), column(&[3.0, 4.0])],
            shocks: vec![DutyShocks {
                kind: "dip".into(),
                fields: vec!["depth".into()],
                columns: vec![column(&[7.0])],
            }],
            ..Default::default()
        };
        let changed = with_channel(&duty, "b", |value| value.min(3.5));
        assert_eq!(
            changed.points,
            vec![column(&[1.0, 2.0]), column(&[3.0, 3.5])]
        );
        assert_eq!(with_channel(&duty, "c", |_| 0.0), duty);
        assert!(without_shocks(&duty, "dip").shocks.is_empty());
        assert_eq!(without_shocks(&duty, "start"), duty);
        let record = DutyRecord {
            duty: Some(duty),
            ..Default::default()
        };
        assert_eq!(shocks(&record, "dip", "depth"), [7.0]);
        assert!(shocks(&record, "dip", "width").is_empty());
    }
}
