//! `ringland power`.

use super::Session;
use crate::{
    CliError, json,
    measures::{self, Quantity},
    names,
    show::power_fade,
    times,
};
use clap::Args;
use ringland_proto::v1::{AssessPowerFadeRequest, PowerPull};
use std::path::PathBuf;

/// `ringland power`
#[derive(Debug, Args)]
pub struct PowerArgs {
    /// Which unit
    #[arg(required_unless_present = "file")]
    unit: Option<String>,
    /// Corrected peak power and when: 446hp@0.6 (events since the build's start), 441hp@2026-03-01, with a factor on it 441hp@3@1.012
    #[arg(long, num_args = 1.., value_parser = pull, value_name = "PULL")]
    pull: Vec<PowerPull>,
    /// Corrected power when seated, as 446hp [default: the trend of the pulls]
    #[arg(long, value_parser = power)]
    baseline: Option<f64>,
    /// Loss that is too much, in percent [default: 2]
    #[arg(long, value_name = "PERCENT")]
    limit: Option<f64>,
    /// Error of a pull in percent [default: 0.5]
    #[arg(long, value_name = "PERCENT")]
    pull_error: Option<f64>,
    /// Profile of an event [default: the unit's]
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "PROFILE"
    )]
    profile: String,
    /// The whole call instead, as where pulls give their air: TOML with the fields of the API's AssessPowerFadeRequest
    #[arg(long, value_name = "FILE", conflicts_with_all = ["unit", "pull", "baseline"])]
    file: Option<PathBuf>,
}

pub(super) async fn run(arguments: PowerArgs, session: &Session) -> Result<(), CliError> {
    let request = match &arguments.file {
        Some(file) => json::from_toml_file("AssessPowerFadeRequest", file)?,
        None => AssessPowerFadeRequest {
            unit: names::unit(arguments.unit.as_deref().unwrap_or_default()),
            profile: names::profile(&arguments.profile),
            pulls: arguments.pull,
            baseline_power_w: arguments.baseline,
            loss_limit_fraction: arguments.limit.map(|percent| percent / 100.0),
            sd_relative: arguments.pull_error.map(|percent| percent / 100.0),
            ..Default::default()
        },
    };
    let answer = session
        .api
        .running_in()
        .assess_power_fade(request)
        .await?
        .into_inner();
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("PowerFadeAssessment", &answer)?);
    }
    out.text(&power_fade(&answer, &out.look))
}

fn power(text: &str) -> Result<f64, String> {
    measures::read(text, Quantity::Power)
}

/// `446hp@0.6`, `446hp@2026-03-01`, `446hp@0.6@1.012`
fn pull(text: &str) -> Result<PowerPull, String> {
    let wrong = || {
        format!(
            "{text:?}: expected POWER@EVENTS or POWER@TIME, such as 446hp@0.6, and @FACTOR if not corrected"
        )
    };
    let mut parts = text.split('@');
    let (Some(power_w), Some(when)) = (parts.next(), parts.next()) else {
        return Err(wrong());
    };
    let factor = parts
        .next()
        .map(str::parse::<f64>)
        .transpose()
        .map_err(|_| wrong())?;
    if parts.next().is_some() {
        return Err(wrong());
    }
    let events: Option<f64> = when.parse().ok();
    Ok(PowerPull {
        power_w: power(power_w)?,
        events,
        time: if events.is_some() {
            None
        } else {
            Some(times::read(when)?)
        },
        correction_factor: factor,
        ..Default::default()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 hp is 745.7 W (NIST SP 811).
    #[test]
    fn a_pull_is_read_with_its_age_or_time() {
        let read = pull("446hp@0.6@1.012").unwrap();
        assert!((read.power_w - 446.0 * 745.7).abs() < 1.0);
        assert_eq!(
            (read.events, read.correction_factor, read.time),
            (Some(0.6), Some(1.012), None)
        );
        assert!(pull("332kW@2026-03-01").unwrap().time.is_some());
        for wrong in ["446hp", "446@1", "446hp@soon", "446hp@1@x", "446hp@1@1@1"] {
            assert!(pull(wrong).is_err(), "{wrong}");
        }
    }
}
