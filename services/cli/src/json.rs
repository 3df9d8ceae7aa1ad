//! Messages as JSON and from TOML, by the contract's own descriptors.
//!
//! The shape is protobuf JSON with the field names of the proto files (`duration_s`), every field
//! that has no presence written even at its default, and keys sorted.

use crate::{CliError, error::code_name};
use prost::Message;
use prost_reflect::{
    DescriptorPool, DeserializeOptions, DynamicMessage, MessageDescriptor, SerializeOptions,
};
use serde_json::{Value, json};
use std::{fs, path::Path, sync::LazyLock};
use tonic::Status;
use tonic_types::StatusExt;

static POOL: LazyLock<Option<DescriptorPool>> =
    LazyLock::new(|| DescriptorPool::decode(ringland_proto::FILE_DESCRIPTOR_SET).ok());

fn descriptor(message: &str) -> Result<MessageDescriptor, CliError> {
    let name = format!("ringland.v1.{message}");
    let found = POOL
        .as_ref()
        .and_then(|pool| pool.get_message_by_name(&name));
    found.ok_or_else(|| CliError::Failed(format!("the contract has no message {name}")))
}

/// A message as JSON; `name` is its name in `ringland.v1`.
///
/// # Errors
/// When it cannot be written as JSON, such as a time outside the years 1 to 9999.
pub fn to_json(name: &str, message: &impl Message) -> Result<Value, CliError> {
    let failed =
        |error: &dyn std::fmt::Display| CliError::Failed(format!("{name} as JSON: {error}"));
    let mut dynamic = DynamicMessage::new(descriptor(name)?);
    dynamic
        .transcode_from(message)
        .map_err(|error| failed(&error))?;
    let options = SerializeOptions::new()
        .use_proto_field_name(true)
        .skip_default_fields(false);
    let value = dynamic
        .serialize_with_options(serde_json::value::Serializer, &options)
        .map_err(|error| failed(&error))?;
    Ok(sorted(value))
}

/// A list of messages under one key, as list calls answer.
///
/// # Errors
/// As [`to_json`].
pub fn list(key: &str, name: &str, messages: &[impl Message]) -> Result<Value, CliError> {
    let items = messages.iter().map(|message| to_json(name, message));
    Ok(json!({ key: items.collect::<Result<Vec<_>, _>>()? }))
}

/// Maps come out of the descriptors in no fixed order.
fn sorted(mut value: Value) -> Value {
    value.sort_all_objects();
    value
}

/// A status as `google.rpc.Status` in JSON, with the details that the server gives.
pub fn status(status: &Status) -> Value {
    let details = status.get_error_details();
    let typed = |name: &str, mut value: Value| {
        value["@type"] = format!("type.googleapis.com/google.rpc.{name}").into();
        value
    };
    let mut list = Vec::new();
    if let Some(info) = details.error_info() {
        let body =
            json!({ "reason": info.reason, "domain": info.domain, "metadata": info.metadata });
        list.push(typed("ErrorInfo", body));
    }
    if let Some(bad) = details.bad_request() {
        let fields = bad.field_violations.iter();
        let fields = fields.map(|f| json!({ "field": f.field, "description": f.description }));
        list.push(typed(
            "BadRequest",
            json!({ "field_violations": fields.collect::<Vec<_>>() }),
        ));
    }
    if let Some(failed) = details.precondition_failure() {
        let failed = failed.violations.iter().map(
            |f| json!({ "type": f.r#type, "subject": f.subject, "description": f.description }),
        );
        let body = json!({ "violations": failed.collect::<Vec<_>>() });
        list.push(typed("PreconditionFailure", body));
    }
    if let Some(missing) = details.resource_info() {
        let body = json!({ "resource_type": missing.resource_type, "resource_name": missing.resource_name });
        list.push(typed("ResourceInfo", body));
    }
    if let Some(wait) = details.retry_info().and_then(|retry| retry.retry_delay) {
        let body = json!({ "retry_delay": format!("{}s", wait.as_secs_f64()) });
        list.push(typed("RetryInfo", body));
    }
    json!({
        "code": status.code() as i32,
        "status": code_name(status.code()),
        "message": status.message(),
        "details": list,
    })
}

/// Reads a message from a TOML file whose keys are the field names of the proto files.
///
/// # Errors
/// When the file cannot be read, is not TOML, or has a key or value that the message does not take.
pub fn from_toml_file<T: Message + Default>(name: &str, path: &Path) -> Result<T, CliError> {
    let text = fs::read_to_string(path).map_err(|source| CliError::File {
        path: path.to_path_buf(),
        source,
    })?;
    from_toml(name, &text)
        .map_err(|problem| CliError::Usage(format!("{}: {problem}", path.display())))
}

/// Reads a message from TOML text.
///
/// # Errors
/// As [`from_toml_file`].
pub fn from_toml<T: Message + Default>(name: &str, text: &str) -> Result<T, CliError> {
    let wrong = |problem: String| CliError::Usage(problem.trim_end().to_owned());
    let source = toml::Deserializer::parse(text).map_err(|error| wrong(error.to_string()))?;
    let options = DeserializeOptions::new().deny_unknown_fields(true);
    let read = DynamicMessage::deserialize_with_options(descriptor(name)?, source, &options);
    let dynamic = read.map_err(|error| wrong(error.to_string()))?;
    dynamic
        .transcode_to()
        .map_err(|error| wrong(error.to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use ringland_proto::v1::{ChannelMap, Component, LedgerStatus, Prediction, Unit, UnitKind};

    #[test]
    fn json_has_proto_names_defaults_and_the_names_of_enums() {
        let unit = Unit {
            name: "units/a".into(),
            kind: UnitKind::Engine.into(),
            ..Default::default()
        };
        let json = to_json("Unit", &unit).unwrap();
        assert_eq!(json["name"], "units/a");
        assert_eq!(json["kind"], "UNIT_KIND_ENGINE");
        assert_eq!(json["display_name"], "");
        // Protobuf JSON writes 64-bit integers as strings.
        let status = LedgerStatus {
            units: 3,
            uptime_s: 1.5,
            ..Default::default()
        };
        let json = to_json("LedgerStatus", &status).unwrap();
        assert_eq!(
            (&json["units"], &json["uptime_s"]),
            (&json!("3"), &json!(1.5))
        );
    }

    #[test]
    fn every_message_of_the_contract_can_be_written() {
        for message in POOL.as_ref().unwrap().all_messages() {
            if message.is_map_entry() || message.package_name() != "ringland.v1" {
                continue;
            }
            let empty = DynamicMessage::new(message.clone());
            assert!(
                to_json(message.name(), &empty).unwrap().is_object(),
                "{}",
                message.name()
            );
        }
        assert!(to_json("NoSuchMessage", &Prediction::default()).is_err());
    }

    #[test]
    fn toml_takes_the_names_of_the_contract_and_whole_numbers_for_decimals() {
        let text = "component_type = \"ring_pack\"\n[spec.numbers]\nbore_m = 1\nstroke_m = 0.086\n\
                    [surfaces.liner.properties]\nra_m = 4e-7\n";
        let component: Component = from_toml("Component", text).unwrap();
        let spec = component.spec.unwrap();
        assert!((spec.numbers["bore_m"] - 1.0).abs() < 1e-12);
        assert!((component.surfaces["liner"].properties["ra_m"] - 4e-7).abs() < 1e-18);
        let map: ChannelMap =
            from_toml("ChannelMap", "[[columns]]\nchannel = \"gear\"\nscale = 2\n").unwrap();
        assert_eq!(map.columns[0].channel, "gear");
    }

    #[test]
    fn what_toml_should_not_have_is_named() {
        let error = from_toml::<Component>("Component", "component_typ = \"x\"\n").unwrap_err();
        assert!(error.to_string().contains("component_typ"), "{error}");
        let error = from_toml::<Component>("Component", "serial = 3\n").unwrap_err();
        assert!(error.to_string().contains("string"), "{error}");
        let error = from_toml::<Component>("Component", "serial = \n").unwrap_err();
        assert!(error.to_string().contains("line 1"), "{error}");
    }
}
