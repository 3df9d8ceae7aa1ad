//! Reduced duty, both ways.

use ringland_host::contract as host;
use ringland_proto::v1 as api;

/// To a message.
pub fn to_message(table: &host::DutyTable) -> api::DutyTable {
    let cycles = |counted: &host::DutyCycles| api::DutyCycles {
        channel: counted.channel.clone(),
        ranges: counted.cycles.ranges.clone(),
        means: counted.cycles.means.clone(),
        counts: counted.cycles.counts.clone(),
    };
    let shocks = |shocks: &host::DutyShocks| api::DutyShocks {
        kind: shocks.kind.clone(),
        fields: shocks.fields.clone(),
        columns: to_columns(&shocks.columns),
    };
    api::DutyTable {
        duration_s: table.duration_s,
        channels: table.channels.clone(),
        time_s: table.time_s.clone(),
        points: to_columns(&table.points),
        cycles: table.cycles.iter().map(cycles).collect(),
        shocks: table.shocks.iter().map(shocks).collect(),
    }
}

/// From a message. What it holds is checked by the ledger.
pub fn from_message(table: api::DutyTable) -> host::DutyTable {
    let cycles = |counted: api::DutyCycles| host::DutyCycles {
        channel: counted.channel,
        cycles: host::LoadCycles {
            ranges: counted.ranges,
            means: counted.means,
            counts: counted.counts,
        },
    };
    let shocks = |shocks: api::DutyShocks| host::DutyShocks {
        kind: shocks.kind,
        fields: shocks.fields,
        columns: from_columns(shocks.columns),
    };
    host::DutyTable {
        duration_s: table.duration_s,
        channels: table.channels,
        time_s: table.time_s,
        points: from_columns(table.points),
        cycles: table.cycles.into_iter().map(cycles).collect(),
        shocks: table.shocks.into_iter().map(shocks).collect(),
    }
}

/// Columns to messages.
pub fn to_columns(columns: &[Vec<f64>]) -> Vec<api::Column> {
    columns
        .iter()
        .map(|values| api::Column {
            values: values.clone(),
        })
        .collect()
}

/// Columns from messages.
pub fn from_columns(columns: Vec<api::Column>) -> Vec<Vec<f64>> {
    columns.into_iter().map(|column| column.values).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::{collection::vec, prelude::*};

    fn column() -> impl Strategy<Value = Vec<f64>> {
        vec(-1e6..1e6_f64, 0..5)
    }

    fn duty() -> impl Strategy<Value = host::DutyTable> {
        let cycles = ("[a-z_]{1,8}", column(), column(), column()).prop_map(
            |(channel, ranges, means, counts)| host::DutyCycles {
                channel,
                cycles: host::LoadCycles {
                    ranges,
                    means,
                    counts,
                },
            },
        );
        let shocks = ("[a-z_]{1,8}", vec("[a-z_]{1,8}", 0..4), vec(column(), 0..4)).prop_map(
            |(kind, fields, columns)| host::DutyShocks {
                kind,
                fields,
                columns,
            },
        );
        let points = (vec("[a-z_]{1,8}", 0..4), column(), vec(column(), 0..4));
        (0.0..1e6, points, vec(cycles, 0..3), vec(shocks, 0..3)).prop_map(
            |(duration_s, (channels, time_s, points), cycles, shocks)| host::DutyTable {
                duration_s,
                channels,
                time_s,
                points,
                cycles,
                shocks,
            },
        )
    }

    proptest! {
        #[test]
        fn a_table_comes_back_as_it_went(table in duty()) {
            prop_assert_eq!(&from_message(to_message(&table)), &table);
        }
    }
}
