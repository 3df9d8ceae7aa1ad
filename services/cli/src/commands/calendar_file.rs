//! A calendar from its file.

use crate::{CliError, json, names};
use ringland_proto::v1::Calendar;
use std::path::Path;

/// Reads a calendar; profiles and units may be named shortly.
///
/// # Errors
/// When the file cannot be used.
pub(super) fn read(file: &Path) -> Result<Calendar, CliError> {
    let mut calendar: Calendar = json::from_toml_file("Calendar", file)?;
    for event in &mut calendar.events {
        event.profile = names::profile(&event.profile);
        event.units = event.units.iter().map(|unit| names::unit(unit)).collect();
    }
    Ok(calendar)
}

/// A start for a shop's own: every field, with what it means.
pub(super) const TEMPLATE: &str = r#"# A calendar for `ringland plan calendar put NAME FILE`. Amounts in the shop's currency, times in UTC.
display_name = "Season"
labour_rate_per_h = 75

# What the end of a part costs besides the part, by its consequence; not finishing a race adds to the last two.
[failure_costs]
nuisance = 50
power_loss = 500
unit_loss = 22000
hazard = 50000
did_not_finish = 4500

# Most risk of an event, all parts together; left out: the ledger's.
[risk_caps]
unit_loss = 0.05
hazard = 0.005

[[events]]
code = "R1"
title = "short, cool"
start_time = "2026-03-21T08:00:00Z"
profile = "race"          # left out: the unit's event profile
severity = 0.85           # how many events of the profile it is worth
severity_by_type = { axle_shaft = 1.2 }
oil_temp_k = 377          # mean oil temperature in place of the profile's
units = ["engine-a"]      # left out: all
race = true

# Before the first event: after_event = "".
[[opportunities]]
after_event = "R1"
time = "2026-03-26T08:00:00Z"   # when the parts must be there
levels = ["top_end"]            # left out: all
available_min = 480             # left out: no bound

[[levels]]
name = "top_end"
labour_min = 240
cost = 60

[[levels]]
name = "full_strip"
labour_min = 900
cost = 250
includes = ["top_end"]

[[parts]]
component_type = "valve_spring"
price = 720
fitting_min = 90
level = "top_end"
lead_days = 10
stock = 1

# Readings that are not listed are put at 30 minutes (common practice, no source).
[[checks]]
component_type = "valve_spring"
check = "seat_load_n"
minutes = 30
instrument = "spring tester"

# Limits that no plan passes; owner LIMIT_OWNER_MAKER or LIMIT_OWNER_SANCTIONING_BODY.
[[limits]]
component_type = "rod_bolt"
most_hours = 40
owner = "LIMIT_OWNER_MAKER"
source = "sheet of the bolts"
"#;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_example_is_a_calendar_of_the_demo_engines() {
        let path =
            Path::new(env!("CARGO_MANIFEST_DIR")).join("../../deploy/examples/calendar.toml");
        let calendar = read(&path).unwrap();
        assert_eq!(
            (calendar.events.len(), calendar.opportunities.len()),
            (8, 8)
        );
        let first = &calendar.events[0];
        assert_eq!(first.profile, "profiles/race-meeting");
        assert_eq!(first.units[0], "units/engine-a");
        assert!(calendar.parts.iter().all(|part| part.price > 0.0));
    }

    #[test]
    fn the_template_is_a_calendar() {
        let calendar: Calendar = json::from_toml("Calendar", TEMPLATE).unwrap();
        assert_eq!((calendar.events.len(), calendar.levels.len()), (1, 2));
        assert_eq!(calendar.levels[1].includes, ["top_end"]);
        assert!(calendar.events[0].start_time.is_some() && calendar.events[0].race);
        assert_eq!(calendar.limits[0].owner, 1);
    }
}
