//! `ringland unit`.

use super::{RequestId, Session, labels};
use crate::{
    CliError,
    connect::all_pages,
    json,
    measures::{Quantity, find, read},
    names, numbers,
    table::{pairs, table},
    times,
};
use clap::{Args, Subcommand, ValueEnum};
use prost_types::FieldMask;
use ringland_proto::v1::{
    CreateUnitRequest, GetUnitRequest, ListUnitsRequest, ShockThresholds, Unit, UnitKind,
    UpdateUnitRequest,
};

/// `ringland unit`
#[derive(Debug, Subcommand)]
pub enum UnitCommand {
    /// Create a unit
    Create {
        /// Its id: lower-case letters, digits and hyphens
        id: String,
        /// What it is
        #[arg(long, value_enum, default_value_t = Kind::Engine)]
        kind: Kind,
        #[command(flatten)]
        fields: Fields,
        #[command(flatten)]
        request: RequestId,
    },
    /// Show a unit
    Get {
        /// Which
        unit: String,
    },
    /// List units
    List,
    /// Change what is given of a unit
    Update {
        /// Which
        unit: String,
        #[command(flatten)]
        fields: Fields,
    },
}

/// What a unit is.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Kind {
    /// An engine
    Engine,
    /// A gearbox
    Gearbox,
    /// A final drive
    FinalDrive,
    /// A clutch
    Clutch,
    /// A driveline
    Driveline,
}

impl From<Kind> for UnitKind {
    fn from(kind: Kind) -> Self {
        match kind {
            Kind::Engine => Self::Engine,
            Kind::Gearbox => Self::Gearbox,
            Kind::FinalDrive => Self::FinalDrive,
            Kind::Clutch => Self::Clutch,
            Kind::Driveline => Self::Driveline,
        }
    }
}

/// Fields that can be set.
#[derive(Debug, Args)]
pub struct Fields {
    /// Name for people
    #[arg(long, value_name = "TEXT")]
    display_name: Option<String>,
    /// Profile of one event: what predictions assume of the use to come
    #[arg(long, value_name = "PROFILE")]
    event_profile: Option<String>,
    /// Label, such as car=14; may be given several times
    #[arg(long = "label", value_name = "KEY=VALUE", value_parser = labels::read)]
    labels: Vec<(String, String)>,
    /// Over-rev above this speed: 8700rpm; without it no over-rev is looked for
    #[arg(long, value_name = "SPEED", value_parser = speed)]
    over_rev: Option<f64>,
    /// Oil-pressure dip below this gauge pressure: 30psi, 2bar
    #[arg(long, value_name = "PRESSURE", value_parser = pressure)]
    oil_pressure_dip: Option<f64>,
    /// ... while the engine turns faster than this: 5000rpm
    #[arg(long, value_name = "SPEED", value_parser = speed)]
    oil_pressure_dip_above: Option<f64>,
    /// Oil overheat above this: 266degF, 130degC
    #[arg(long, value_name = "TEMPERATURE", value_parser = temperature)]
    oil_overheat: Option<f64>,
}

fn speed(text: &str) -> Result<f64, String> {
    read(text, Quantity::RotationalSpeed)
}

fn pressure(text: &str) -> Result<f64, String> {
    read(text, Quantity::Pressure)
}

fn temperature(text: &str) -> Result<f64, String> {
    read(text, Quantity::Temperature)
}

impl Fields {
    /// Puts what is given into a unit and says what that was.
    fn put_into(self, unit: &mut Unit) -> Vec<String> {
        let mut given = Vec::new();
        if let Some(name) = self.display_name {
            unit.display_name = name;
            given.push("display_name".to_owned());
        }
        if let Some(profile) = self.event_profile {
            unit.event_profile = names::profile(&profile);
            given.push("event_profile".to_owned());
        }
        if !self.labels.is_empty() {
            unit.labels.extend(self.labels);
            given.push("labels".to_owned());
        }
        let old = unit.shock_thresholds.unwrap_or_default();
        let new = ShockThresholds {
            over_rev_engine_speed_rad_s: self.over_rev.or(old.over_rev_engine_speed_rad_s),
            oil_pressure_dip_pa: self.oil_pressure_dip.or(old.oil_pressure_dip_pa),
            oil_pressure_dip_above_engine_speed_rad_s: self
                .oil_pressure_dip_above
                .or(old.oil_pressure_dip_above_engine_speed_rad_s),
            oil_overheat_temp_k: self.oil_overheat.or(old.oil_overheat_temp_k),
        };
        if new != old {
            unit.shock_thresholds = Some(new);
            given.push("shock_thresholds".to_owned());
        }
        given
    }
}

pub(super) async fn run(command: UnitCommand, session: &Session) -> Result<(), CliError> {
    let mut client = session.api.units();
    match command {
        UnitCommand::Create {
            id,
            kind,
            fields,
            request,
        } => {
            let mut unit = Unit {
                kind: UnitKind::from(kind).into(),
                ..Default::default()
            };
            fields.put_into(&mut unit);
            let RequestId { request_id } = request;
            let request = CreateUnitRequest {
                unit_id: id,
                unit: Some(unit),
                request_id,
            };
            show(&client.create_unit(request).await?.into_inner(), session)
        }
        UnitCommand::Get { unit } => {
            let request = GetUnitRequest {
                name: names::unit(&unit),
            };
            show(&client.get_unit(request).await?.into_inner(), session)
        }
        UnitCommand::List => list(session).await,
        UnitCommand::Update { unit, fields } => {
            // The present unit: labels and thresholds that are not given stay, and its etag keeps
            // somebody else's change from being overwritten.
            let request = GetUnitRequest {
                name: names::unit(&unit),
            };
            let mut unit = client.get_unit(request).await?.into_inner();
            let paths = fields.put_into(&mut unit);
            if paths.is_empty() {
                return Err(CliError::Usage(
                    "nothing to change was given; see --help".into(),
                ));
            }
            let update_mask = Some(FieldMask { paths });
            let request = UpdateUnitRequest {
                unit: Some(unit),
                update_mask,
            };
            show(&client.update_unit(request).await?.into_inner(), session)
        }
    }
}

async fn list(session: &Session) -> Result<(), CliError> {
    let mut client = session.api.units();
    let units = all_pages(async |page_token| {
        let request = ListUnitsRequest {
            page_token,
            ..Default::default()
        };
        let page = client.list_units(request).await?.into_inner();
        Ok((page.units, page.next_page_token))
    })
    .await?;
    if session.out.json {
        return session.out.json(&json::list("units", "Unit", &units)?);
    }
    let rows = units.iter().map(|unit| {
        vec![
            names::id(&unit.name).to_owned(),
            kind_name(unit).to_owned(),
            unit.display_name.clone(),
            names::id(&unit.event_profile).to_owned(),
            labels::show(&unit.labels),
        ]
    });
    let header = ["unit", "kind", "name", "event profile", "labels"];
    session
        .out
        .text(&table(&session.out.look, &header, rows.collect()))
}

fn kind_name(unit: &Unit) -> &'static str {
    match unit.kind() {
        UnitKind::Unspecified => "unspecified",
        UnitKind::Engine => "engine",
        UnitKind::Gearbox => "gearbox",
        UnitKind::FinalDrive => "final drive",
        UnitKind::Clutch => "clutch",
        UnitKind::Driveline => "driveline",
    }
}

fn show(unit: &Unit, session: &Session) -> Result<(), CliError> {
    if session.out.json {
        return session.out.json(&json::to_json("Unit", unit)?);
    }
    let limits = unit.shock_thresholds.unwrap_or_default();
    let or = |text: Option<String>, default: &str| text.unwrap_or_else(|| default.to_owned());
    let text = |si: Option<f64>, shown: [&str; 2]| {
        si.map(|si| shown.map(|symbol| in_unit(si, symbol)).join(" = "))
    };
    let profile = Some(names::id(&unit.event_profile).to_owned()).filter(|name| !name.is_empty());
    let lines = [
        ("unit", unit.name.clone()),
        ("kind", kind_name(unit).to_owned()),
        ("name", unit.display_name.clone()),
        (
            "event profile",
            or(profile, "none: a prediction must name one"),
        ),
        ("labels", labels::show(&unit.labels)),
        (
            "over-rev above",
            or(
                text(limits.over_rev_engine_speed_rad_s, ["rpm", "rad/s"]),
                "not looked for",
            ),
        ),
        (
            "oil pressure dip below",
            or(
                text(limits.oil_pressure_dip_pa, ["psi", "bar"]),
                "the default, 29 psi = 2.0 bar",
            ),
        ),
        (
            "while faster than",
            or(
                text(
                    limits.oil_pressure_dip_above_engine_speed_rad_s,
                    ["rpm", "rad/s"],
                ),
                "the default, 5,000 rpm",
            ),
        ),
        (
            "oil overheat above",
            or(
                text(limits.oil_overheat_temp_k, ["degF", "degC"]),
                "the default, 266 degF = 130 degC",
            ),
        ),
        ("created", times::show(unit.create_time.as_ref())),
    ];
    session.out.text(&pairs(&session.out.look, &lines))
}

/// Set values are round in one unit or the other: four digits keep them.
fn in_unit(si: f64, symbol: &str) -> String {
    let value = find(symbol).map_or(si, |measure| measure.shown(si));
    format!("{} {symbol}", numbers::significant(value, 4))
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::Parser;

    #[derive(Parser)]
    struct Line {
        #[command(subcommand)]
        command: UnitCommand,
    }

    #[test]
    fn only_what_is_given_is_changed() {
        let line = [
            "unit",
            "update",
            "engine-a",
            "--over-rev",
            "8700rpm",
            "--label",
            "car=14",
        ];
        let UnitCommand::Update { fields, .. } = Line::parse_from(line).command else {
            panic!()
        };
        let old = ShockThresholds {
            oil_pressure_dip_pa: Some(2e5),
            ..Default::default()
        };
        let mut unit = Unit {
            display_name: "A".into(),
            shock_thresholds: Some(old),
            labels: [("series".to_owned(), "club".to_owned())].into(),
            ..Default::default()
        };
        assert_eq!(fields.put_into(&mut unit), ["labels", "shock_thresholds"]);
        let limits = unit.shock_thresholds.unwrap();
        assert_eq!(limits.oil_pressure_dip_pa, Some(2e5));
        assert!((limits.over_rev_engine_speed_rad_s.unwrap() - 911.06).abs() < 0.01);
        assert_eq!(labels::show(&unit.labels), "car=14, series=club");
    }

    #[test]
    fn a_threshold_without_its_unit_is_refused() {
        let line = ["unit", "create", "a", "--over-rev", "8700"];
        let error = Line::try_parse_from(line).err().unwrap().to_string();
        assert!(error.contains("rpm"), "{error}");
    }
}
