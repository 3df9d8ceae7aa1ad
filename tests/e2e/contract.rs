//! The plugin contract stays compatible with its last release, and the server tells its own
//! gRPC contract to whoever asks.

use ringland_tests::Server;
use std::path::Path;
use wit_parser::{PackageId, Resolve, UnresolvedPackageGroup};

const NAME: &str = "ringland:plugin@1.0.0";

/// Adds a folder of WIT under another version, so that two can stand side by side.
fn add(resolve: &mut Resolve, folder: &str, version: &str) -> PackageId {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../sdk/wit")
        .join(folder);
    let mut text = String::new();
    for file in ["card.wit", "model.wit"] {
        let file = std::fs::read_to_string(folder.join(file)).expect("the contract is there");
        let (_, body) = file
            .split_once(&format!("package {NAME};"))
            .expect("its package line");
        text += body;
    }
    let text = format!("package ringland:plugin@{version};\n{text}");
    let group = UnresolvedPackageGroup::parse("plugin.wit", &text).expect("the contract parses");
    resolve.push_group(group).expect("the contract resolves")
}

fn check(new_folder: &str, edit: impl Fn(&mut Resolve, PackageId)) -> Result<(), String> {
    let mut resolve = Resolve::default();
    let released = add(&mut resolve, "released", "1.0.1");
    let present = add(&mut resolve, new_folder, "1.0.2");
    edit(&mut resolve, released);
    let world = |resolve: &Resolve, package: PackageId| {
        *resolve.packages[package]
            .worlds
            .get("plugin")
            .expect("world `plugin`")
    };
    let (before, now) = (world(&resolve, released), world(&resolve, present));
    wit_component::semver_check(resolve, before, now).map_err(|error| format!("{error:#}"))
}

#[test]
fn a_plugin_built_for_the_released_contract_still_fits() {
    check("", |_, _| ()).expect("compatible with sdk/wit/released");
}

#[test]
fn the_check_sees_a_function_that_older_plugins_lack() {
    let broken = check("", |resolve, package| {
        let model = resolve.packages[package].interfaces["model"];
        resolve.interfaces[model].functions.shift_remove("rework");
    });
    broken.expect_err("a plugin without a function that is asked for does not fit");
}

#[tokio::test(flavor = "multi_thread")]
async fn the_server_describes_itself() {
    use tonic_reflection::pb::v1::{
        ServerReflectionRequest, server_reflection_client::ServerReflectionClient,
        server_reflection_request::MessageRequest, server_reflection_response::MessageResponse,
    };
    let server = Server::start(&[]).await;
    let channel = tonic::transport::Channel::from_shared(server.url.clone())
        .expect("the server's URL is one")
        .connect()
        .await
        .expect("a connection");
    let mut client = ServerReflectionClient::new(channel);
    let ask = ServerReflectionRequest {
        host: String::new(),
        message_request: Some(MessageRequest::ListServices(String::new())),
    };
    let answers = client
        .server_reflection_info(tokio_stream::iter([ask]))
        .await;
    let answer = answers
        .expect("reflection")
        .into_inner()
        .message()
        .await
        .expect("an answer");
    let Some(MessageResponse::ListServicesResponse(list)) =
        answer.and_then(|answer| answer.message_response)
    else {
        panic!("a list of services")
    };
    let names: Vec<&str> = list
        .service
        .iter()
        .map(|service| service.name.as_str())
        .collect();
    for service in [
        "Unit",
        "Build",
        "Component",
        "Treatment",
        "Duty",
        "Prediction",
        "Question",
        "RunningIn",
        "Model",
        "Ledger",
    ] {
        let name = format!("ringland.v1.{service}Service");
        assert!(names.contains(&name.as_str()), "{name} in {names:?}");
    }
}
