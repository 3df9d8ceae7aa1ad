//! A duty record without some of its shocks.
//!
//! A record holds a shock twice: in its list, and as time at the operating points, where it is blurred into the means of the
//! cells. So what is known of it is taken out of both: of an over-rev the time at the speeds that it had, of an overheat
//! what it added to the oil temperature. Of the other kinds the operating points tell nothing apart, and stay.

use crate::{LedgerError, SeenShock, violations::Violations};
use ringland_host::contract::{DutyShocks, DutyTable, vocabulary::SHOCKS};

/// Width of a cell of engine speed: 100 rpm.
const CELL_RAD_S: f64 = 100.0 * std::f64::consts::TAU / 60.0;

/// What is left, and what was taken out.
pub(super) struct KnockedOut {
    pub(super) duty: DutyTable,
    pub(super) shocks: Vec<SeenShock>,
    pub(super) removed_time_s: f64,
    /// How the operating points were treated, a sentence.
    pub(super) points: String,
}

/// Takes the shocks of a kind out of a record, or one of them by its number from 1.
pub(super) fn knock_out(
    duty: &DutyTable,
    kind: &str,
    number: Option<u32>,
) -> Result<KnockedOut, LedgerError> {
    let known = duty.shocks.iter().find(|shocks| shocks.kind == kind);
    let count = known.map_or(0, rows);
    check(duty, kind, number, count)?;
    let is_out = |row: usize| number.is_none_or(|number| row + 1 == number as usize);
    let shocks: Vec<SeenShock> = (0..count)
        .filter(|row| is_out(*row))
        .filter_map(|row| known.map(|known| seen(known, row)))
        .collect();
    let mut left = duty.clone();
    for table in left.shocks.iter_mut().filter(|table| table.kind == kind) {
        for column in &mut table.columns {
            let mut row = 0;
            column.retain(|_| {
                row += 1;
                !is_out(row - 1)
            });
        }
    }
    let (removed_time_s, points) = match kind {
        "over_rev" => take_out_time(&mut left, &shocks),
        "oil_overheat" => cool(&mut left, &shocks),
        _ => (
            0.0,
            "Its time stays in the operating points, whose means do not tell it apart; only its entry in the list of \
             shocks was taken out."
                .into(),
        ),
    };
    Ok(KnockedOut {
        duty: left,
        shocks,
        removed_time_s,
        points,
    })
}

fn rows(shocks: &DutyShocks) -> usize {
    shocks.columns.first().map_or(0, Vec::len)
}

fn check(
    duty: &DutyTable,
    kind: &str,
    number: Option<u32>,
    count: usize,
) -> Result<(), LedgerError> {
    let mut violations = Violations::default();
    if !SHOCKS.iter().any(|shock| shock.kind == kind) {
        let remedy = "see `ringland channels`";
        violations.add("kind", kind, "a kind of shock of the vocabulary", remedy);
    } else if count == 0 {
        let others: Vec<String> = duty
            .shocks
            .iter()
            .filter(|shocks| rows(shocks) > 0)
            .map(|shocks| format!("{} ({})", shocks.kind, rows(shocks)))
            .collect();
        let expected = if others.is_empty() {
            "a shock, but the record has none".to_owned()
        } else {
            format!("one of those in the record: {}", others.join(", "))
        };
        let remedy = "name another record or kind; a slow log or a missing threshold hides shocks";
        violations.add("kind", kind, &expected, remedy);
    } else if let Some(number) = number.filter(|n| !(1..=count).contains(&(*n as usize))) {
        let expected = format!("1 to {count}");
        violations.add("number", number, &expected, "leave it out for all of them");
    }
    violations.into_result()
}

fn seen(shocks: &DutyShocks, row: usize) -> SeenShock {
    let fields = shocks.fields.iter().zip(&shocks.columns);
    SeenShock {
        number: u32::try_from(row + 1).unwrap_or(u32::MAX),
        fields: fields
            .filter_map(|(name, column)| Some((name.clone(), *column.get(row)?)))
            .collect(),
    }
}

/// A field of a shock; 0 where it has none.
fn field(shock: &SeenShock, name: &str) -> f64 {
    shock.fields.get(name).copied().unwrap_or(0.0)
}

/// Takes the time of over-revs out of the points at the speeds that they had: as far from the mean as the peak is, nearest
/// the mean first.
fn take_out_time(duty: &mut DutyTable, shocks: &[SeenShock]) -> (f64, String) {
    let speeds = duty
        .column("engine_speed_rad_s")
        .unwrap_or_default()
        .to_vec();
    let wanted: f64 = shocks.iter().map(|shock| field(shock, "duration_s")).sum();
    let mut removed = 0.0;
    for shock in shocks {
        let mean = field(shock, "mean_engine_speed_rad_s");
        let reach = (field(shock, "peak_engine_speed_rad_s") - mean).max(CELL_RAD_S);
        let mut near: Vec<(usize, f64)> = speeds
            .iter()
            .map(|speed| (speed - mean).abs())
            .enumerate()
            .filter(|(_, distance)| *distance <= reach)
            .collect();
        near.sort_by(|one, other| one.1.total_cmp(&other.1));
        let mut left = field(shock, "duration_s");
        for (point, _) in near {
            let Some(time) = duty.time_s.get_mut(point) else {
                continue;
            };
            let taken = left.min(*time);
            *time -= taken;
            left -= taken;
            removed += taken;
        }
    }
    duty.duration_s = duty.time_s.iter().sum();
    let text = format!(
        "{removed:.2} of its {wanted:.2} s were found in the operating points at the speeds that it had and taken out, too; no \
         other running takes their place."
    );
    (removed, text)
}

/// Gives the hottest points, as long as the overheats lasted, the mean oil temperature of the others.
fn cool(duty: &mut DutyTable, shocks: &[SeenShock]) -> (f64, String) {
    let Some(channel) = duty.channels.iter().position(|name| name == "oil_temp_k") else {
        return (
            0.0,
            "The record has no oil temperature; only its entry was taken out.".into(),
        );
    };
    let mut left: f64 = shocks.iter().map(|shock| field(shock, "duration_s")).sum();
    let temps = duty.points.get(channel).cloned().unwrap_or_default();
    let mut order: Vec<(usize, f64)> = temps.iter().copied().enumerate().collect();
    order.sort_by(|one, other| other.1.total_cmp(&one.1));
    let mut hot = Vec::new();
    for (point, _) in &order {
        let time = duty.time_s.get(*point).copied().unwrap_or(0.0);
        // A point that is hot for part of its time only keeps its own.
        if time > left * (1.0 + 1e-9) {
            break;
        }
        left -= time;
        hot.push(*point);
    }
    let rest = order.iter().filter(|(point, _)| !hot.contains(point));
    let (sum, time) = rest.fold((0.0, 0.0), |(sum, total), (point, temp)| {
        let time = duty.time_s.get(*point).copied().unwrap_or(0.0);
        (sum + temp * time, total + time)
    });
    if hot.is_empty() || time <= 0.0 {
        let text = "The operating points do not tell its time apart; only its entry was taken out.";
        return (0.0, text.into());
    }
    if let Some(column) = duty.points.get_mut(channel) {
        for point in &hot {
            if let Some(temp) = column.get_mut(*point) {
                *temp = sum / time;
            }
        }
    }
    let text = format!(
        "Its time stays in the operating points, but the {} hottest of them have the mean oil temperature of the others, {:.0} K.",
        hot.len(),
        sum / time
    );
    (0.0, text)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A lap at three speeds with an over-rev of a second at the fastest.
    fn lap() -> DutyTable {
        DutyTable {
            duration_s: 100.0,
            channels: vec!["engine_speed_rad_s".into(), "oil_temp_k".into()],
            time_s: vec![60.0, 38.0, 2.0],
            points: vec![vec![600.0, 800.0, 980.0], vec![380.0, 390.0, 410.0]],
            cycles: Vec::new(),
            shocks: vec![
                DutyShocks {
                    kind: "over_rev".into(),
                    fields: [
                        "start_s",
                        "duration_s",
                        "peak_engine_speed_rad_s",
                        "mean_engine_speed_rad_s",
                    ]
                    .map(Into::into)
                    .into(),
                    columns: vec![
                        vec![10.0, 50.0],
                        vec![0.5, 1.0],
                        vec![990.0, 985.0],
                        vec![978.0, 979.0],
                    ],
                },
                DutyShocks {
                    kind: "oil_overheat".into(),
                    fields: ["start_s", "duration_s", "peak_oil_temp_k"]
                        .map(Into::into)
                        .into(),
                    columns: vec![vec![10.0], vec![2.0], vec![411.0]],
                },
            ],
        }
    }

    #[test]
    fn an_over_rev_leaves_the_list_and_the_operating_points() {
        let out = knock_out(&lap(), "over_rev", None).unwrap();
        assert_eq!(out.shocks.len(), 2);
        assert!(out.duty.shocks[0].columns.iter().all(Vec::is_empty));
        assert_eq!(out.duty.time_s, [60.0, 38.0, 0.5]);
        assert!((out.removed_time_s - 1.5).abs() < 1e-12);
        assert!((out.duty.duration_s - 98.5).abs() < 1e-12);
        let second = knock_out(&lap(), "over_rev", Some(2)).unwrap();
        assert_eq!(second.duty.time_s, [60.0, 38.0, 1.0]);
        assert_eq!(second.duty.shocks[0].columns[1], [0.5], "the first stays");
    }

    #[test]
    fn an_overheat_leaves_its_time_at_the_temperature_of_the_rest() {
        let out = knock_out(&lap(), "oil_overheat", None).unwrap();
        let mean = (60.0 * 380.0 + 38.0 * 390.0) / 98.0;
        assert!((out.duty.points[1][2] - mean).abs() < 1e-9);
        assert_eq!(out.duty.time_s, lap().time_s);
    }

    #[test]
    fn what_is_not_there_is_refused_with_what_is() {
        let said = |kind, number| match knock_out(&lap(), kind, number) {
            Err(error) => error.to_string(),
            Ok(_) => panic!("{kind} was knocked out"),
        };
        assert!(said("knock_burst", None).contains("over_rev (2)"));
        assert!(said("over_rev", Some(3)).contains("1 to 2"));
        assert!(said("bang", None).contains("vocabulary"));
    }
}
