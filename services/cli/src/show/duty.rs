//! A duty table: where the time went, which shocks there were.

use super::quantity::Shown;
use crate::{
    numbers,
    out::{Look, heading},
    table::table,
};
use ringland_proto::v1::{Column, DutyRecord, DutyShocks, DutyTable};

/// Operating points shown; the rest is in `--json`.
const POINTS: usize = 12;
/// Channels shown for each.
const CHANNELS: usize = 5;
/// Shocks of one kind shown.
const SHOCKS: usize = 8;

/// A duty table as text: shocks, then the operating points with most time.
pub fn duty_table(duty: &DutyTable, look: &Look) -> String {
    let mut parts = shocks(&duty.shocks, look);
    parts.extend(points(duty, look));
    parts.join("\n")
}

/// Shocks, a table for each kind that occurred.
pub(super) fn shocks(shocks: &[DutyShocks], look: &Look) -> Vec<String> {
    let occurred = shocks.iter().filter(|shocks| count(shocks) > 0);
    occurred
        .map(|kind| {
            let fields: Vec<(&str, Shown)> = kind
                .fields
                .iter()
                .zip(&kind.columns)
                .map(|(field, column)| shown_field(field, column, look))
                .collect();
            let titles: Vec<String> = fields
                .iter()
                .map(|(name, unit)| title(name, unit))
                .collect();
            let header: Vec<&str> = titles.iter().map(String::as_str).collect();
            let rows = (0..count(kind).min(SHOCKS)).map(|row| {
                let cells = fields.iter().zip(&kind.columns).map(|((_, unit), column)| {
                    let si = column.values.get(row).copied().unwrap_or(f64::NAN);
                    numbers::significant(unit.value(si), 4)
                });
                cells.collect()
            });
            let rest = count(kind).saturating_sub(SHOCKS);
            let rest = if rest > 0 {
                format!("\n  and {rest} more (--json has all)")
            } else {
                String::new()
            };
            let name = kind.kind.replace('_', " ");
            let title = heading(&format!("{name}: {}", numbers::count(count(kind))));
            format!("{title}\n{}{rest}", table(look, &header, rows.collect()))
        })
        .collect()
}

/// Kinds of shock that are rare enough to be told one by one across several records.
const RARE: &[&str] = &[
    "over_rev",
    "oil_pressure_dip",
    "oil_overheat",
    "knock_burst",
    "impact",
];

/// The rare shocks of several logs in one table; nothing when there were none.
pub fn shocks_of<'a>(
    records: impl Iterator<Item = (&'a str, &'a DutyRecord)>,
    look: &Look,
) -> Option<String> {
    let mut rows = Vec::new();
    for (log, record) in records {
        let duty = record.duty.as_ref();
        let kinds = duty.map(|duty| duty.shocks.as_slice()).unwrap_or_default();
        let rare = kinds
            .iter()
            .filter(|kind| RARE.contains(&kind.kind.as_str()));
        rows.extend(rare.flat_map(|kind| {
            let each = each_or_hardest(kind, look).into_iter();
            each.map(|told| vec![log.to_owned(), kind.kind.replace('_', " "), told])
        }));
    }
    if rows.is_empty() {
        return None;
    }
    Some(table(look, &["log", "shock", "how it was"], rows))
}

/// More shocks of a kind in one log are not told one by one.
const TOLD_EACH: usize = 3;

/// Each shock of a kind or, of many, how many there were and the hardest: the highest peak or, without one, the longest.
fn each_or_hardest(kind: &DutyShocks, look: &Look) -> Vec<String> {
    let count = count(kind);
    if count <= TOLD_EACH {
        return (0..count).map(|row| told(kind, row, look)).collect();
    }
    let column = |starts: &str| {
        let field = kind
            .fields
            .iter()
            .position(|field| field.starts_with(starts));
        field.and_then(|field| kind.columns.get(field))
    };
    let sizes = column("peak").or_else(|| column("duration"));
    let sizes = sizes.map_or(&[][..], |column| &column.values);
    let hardest = (0..sizes.len()).max_by(|one, other| sizes[*one].total_cmp(&sizes[*other]));
    let hardest = hardest.map_or(String::new(), |row| told(kind, row, look));
    vec![format!("{count} of them; hardest: {hardest}")]
}

/// `start 7,012 s, duration 0.350 s, peak engine speed 9,420 rpm`
fn told(kind: &DutyShocks, row: usize, look: &Look) -> String {
    let fields = kind
        .fields
        .iter()
        .zip(&kind.columns)
        .map(|(field, column)| {
            let si = column.values.get(row).copied().unwrap_or(f64::NAN);
            let (name, unit) = shown_field(field, column, look);
            let value = unit.with_symbol(&numbers::significant(unit.value(si), 3));
            format!("{} {value}", name.replace('_', " "))
        });
    fields.collect::<Vec<_>>().join(", ")
}

pub(super) fn count(shocks: &DutyShocks) -> usize {
    shocks
        .columns
        .first()
        .map_or(0, |column| column.values.len())
}

fn points(duty: &DutyTable, look: &Look) -> Option<String> {
    let mut order: Vec<(usize, f64)> = duty.time_s.iter().copied().enumerate().collect();
    order.sort_by(|one, other| other.1.total_cmp(&one.1).then(one.0.cmp(&other.0)));
    if order.is_empty() {
        return None;
    }
    let channels: Vec<(&Column, (&str, Shown))> = duty
        .channels
        .iter()
        .zip(&duty.points)
        .take(CHANNELS)
        .map(|(channel, column)| (column, shown_field(channel, column, look)))
        .collect();
    let titles: Vec<String> = channels
        .iter()
        .map(|(_, (name, unit))| title(name, unit))
        .collect();
    let mut header = vec![">time"];
    header.extend(titles.iter().map(String::as_str));
    let rows = order.iter().take(POINTS).map(|(row, time_s)| {
        let mut cells = vec![numbers::percent(time_s / duty.duration_s)];
        cells.extend(channels.iter().map(|(column, (_, unit))| {
            let si = column.values.get(*row).copied().unwrap_or(f64::NAN);
            numbers::significant(unit.value(si), 3)
        }));
        cells
    });
    let title = format!(
        "Operating points: {} of {}, those with most time",
        order.len().min(POINTS),
        numbers::count(order.len())
    );
    Some(format!(
        "{}\n{}",
        heading(&title),
        table(look, &header, rows.collect())
    ))
}

fn title(name: &str, unit: &Shown) -> String {
    let symbol = unit.symbol();
    let unit = if symbol.is_empty() {
        String::new()
    } else {
        format!(", {symbol}")
    };
    format!(">{}{unit}", name.replace('_', " "))
}

/// Units at the end of names of channels and shock fields, longest first.
const ENDINGS: &[(&str, &str)] = &[
    ("_rad_s", "rad/s"),
    ("_m3_s", "m3/s"),
    ("_m_s2", "m/s2"),
    ("_n_m", "N.m"),
    ("_m_s", "m/s"),
    ("_rad", "rad"),
    ("_pa", "Pa"),
    ("_k", "K"),
    ("_j", "J"),
    ("_w", "W"),
    ("_s", "s"),
];

/// A channel's or field's name without its unit, and how its values are shown.
fn shown_field<'a>(name: &'a str, column: &Column, look: &Look) -> (&'a str, Shown<'a>) {
    let largest = column
        .values
        .iter()
        .fold(0.0, |largest: f64, value| largest.max(value.abs()));
    let ending = ENDINGS.iter().find(|(ending, _)| name.ends_with(ending));
    let (ending, si_unit) = ending.copied().unwrap_or(("", "1"));
    let plain = name.strip_suffix(ending).unwrap_or(name);
    let unit = Shown::choose(si_unit, largest, look.system).swap_remove(0);
    (plain, unit)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measures::System;

    #[test]
    fn shocks_are_told_in_the_units_of_the_shop() {
        let column = |value: f64| Column {
            values: vec![value],
        };
        let over_rev = DutyShocks {
            kind: "over_rev".into(),
            fields: [
                "start_s",
                "peak_engine_speed_rad_s",
                "mean_engine_torque_n_m",
            ]
            .map(Into::into)
            .into(),
            columns: vec![column(7012.0), column(986.46), column(-61.0)],
        };
        let none = DutyShocks {
            kind: "launch".into(),
            ..Default::default()
        };
        let look = Look {
            system: System::Shop,
            width: 100,
        };
        let text = shocks(&[over_rev, none], &look).join("\n");
        for part in [
            "over rev: 1",
            "peak engine speed, rpm",
            "9,420",
            "-44.99",
            "116.9",
        ] {
            assert!(text.contains(part), "{part} is missing from\n{text}");
        }
        assert!(!text.contains("launch"), "{text}");
    }

    #[test]
    fn many_of_a_kind_are_told_by_the_hardest() {
        let column = |values: &[f64]| Column {
            values: values.to_vec(),
        };
        let kerbs = DutyShocks {
            kind: "impact".into(),
            fields: ["start_s", "peak_vertical_acceleration_m_s2"]
                .map(Into::into)
                .into(),
            columns: vec![
                column(&[1.0, 2.0, 3.0, 4.0]),
                column(&[40.0, 90.0, 30.0, 20.0]),
            ],
        };
        let look = Look {
            system: System::Si,
            width: 100,
        };
        let told = each_or_hardest(&kerbs, &look);
        assert_eq!(told.len(), 1);
        assert!(
            told[0].starts_with("4 of them; hardest: start 2.00 s"),
            "{told:?}"
        );
    }

    #[test]
    fn operating_points_come_by_their_time() {
        let duty = DutyTable {
            duration_s: 100.0,
            channels: vec!["engine_speed_rad_s".into(), "gear".into()],
            time_s: vec![20.0, 80.0],
            points: vec![
                Column {
                    values: vec![100.0 * std::f64::consts::TAU, 200.0],
                },
                Column {
                    values: vec![3.0, 4.0],
                },
            ],
            ..Default::default()
        };
        let look = Look {
            system: System::Si,
            width: 100,
        };
        let text = duty_table(&duty, &look);
        let (most, least) = (text.find("80 %").unwrap(), text.find("20 %").unwrap());
        assert!(most < least && text.contains("6,000"), "{text}");
    }
}
