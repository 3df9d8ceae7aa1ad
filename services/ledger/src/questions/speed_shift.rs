//! The duty of an event with the engine turning faster or slower.

use ringland_host::contract::DutyTable;

/// Shocks whose speeds are the engine's.
const SPEEDS_OF_SHOCKS: [(&str, &[&str]); 2] = [
    (
        "over_rev",
        &["peak_engine_speed_rad_s", "mean_engine_speed_rad_s"],
    ),
    ("oil_pressure_dip", &["mean_engine_speed_rad_s"]),
];

/// What is shifted and what stays, a sentence each.
pub(super) const ASSUMPTIONS: [&str; 5] = [
    "Engine speed is shifted at every operating point at which the engine turns, and in over-revs and oil-pressure dips; turns and \
     load cycles of the engine follow from speed and time.",
    "Time, torque, manifold pressure, temperatures and knock at each point are kept: power rises with speed, and what the \
     engine's tune or cooling would make of it is not in these figures.",
    "Counted cycles of torque are kept: they come from the driver and the track.",
    "Road and wheel speeds, slip and the gear are kept, as with a final drive that is geared for the other speed; its other \
     ratio is not in these figures.",
    "Speeds beyond a model's prepared map are extrapolated or refused by that model, which says so.",
];

/// Shifts the engine's speed; never below rest.
pub(super) fn shifted(duty: &DutyTable, change_rad_s: f64) -> DutyTable {
    let mut other = duty.clone();
    let turning = |speed: &mut f64| {
        if *speed > 0.0 {
            *speed = (*speed + change_rad_s).max(0.0);
        }
    };
    let channel = other
        .channels
        .iter()
        .position(|name| name == "engine_speed_rad_s");
    if let Some(column) = channel.and_then(|index| other.points.get_mut(index)) {
        column.iter_mut().for_each(turning);
    }
    for shocks in &mut other.shocks {
        let of_kind = SPEEDS_OF_SHOCKS
            .iter()
            .find(|(kind, _)| *kind == shocks.kind);
        let Some((_, fields)) = of_kind else { continue };
        for (name, column) in shocks.fields.iter().zip(&mut shocks.columns) {
            if fields.contains(&name.as_str()) {
                column.iter_mut().for_each(turning);
            }
        }
    }
    other
}

#[cfg(test)]
mod tests {
    use super::*;
    use ringland_host::contract::DutyShocks;

    fn lap() -> DutyTable {
        DutyTable {
            duration_s: 30.0,
            channels: vec!["engine_speed_rad_s".into(), "vehicle_speed_m_s".into()],
            time_s: vec![10.0; 3],
            points: vec![vec![0.0, 15.0, 700.0], vec![0.0, 5.0, 60.0]],
            cycles: Vec::new(),
            shocks: vec![DutyShocks {
                kind: "over_rev".into(),
                fields: vec!["duration_s".into(), "peak_engine_speed_rad_s".into()],
                columns: vec![vec![1.0], vec![990.0]],
            }],
        }
    }

    #[test]
    fn no_change_changes_no_bit() {
        assert_eq!(shifted(&lap(), 0.0), lap());
    }

    #[test]
    fn the_engine_turns_faster_and_the_road_stays() {
        let faster = shifted(&lap(), 20.0);
        assert_eq!(faster.points[0], [0.0, 35.0, 720.0]);
        assert_eq!(faster.points[1], lap().points[1]);
        assert_eq!(faster.shocks[0].columns, [vec![1.0], vec![1010.0]]);
        assert_eq!(shifted(&lap(), -20.0).points[0], [0.0, 0.0, 680.0]);
    }
}
