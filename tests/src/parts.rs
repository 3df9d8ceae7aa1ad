//! Components: entered, put in builds.

use crate::{Clients, at};
use prost_types::Timestamp;
use ringland_proto::v1::{Component, CreateComponentRequest, InstallComponentRequest};
use tonic::Status;

/// Enters a component. Returns its name.
///
/// # Errors
/// What the server refuses.
pub async fn enter(
    clients: &mut Clients,
    component_id: &str,
    component: Component,
) -> Result<String, Status> {
    let request = CreateComponentRequest {
        component_id: component_id.into(),
        component: Some(component),
        ..Default::default()
    };
    let created = clients.components.create_component(request).await?;
    Ok(created.into_inner().name)
}

/// Puts a component in a build from a time on, at no position.
///
/// # Errors
/// What the server refuses.
pub async fn put_in(
    clients: &mut Clients,
    build: &str,
    component: &str,
    from: Timestamp,
) -> Result<(), Status> {
    let request = InstallComponentRequest {
        component: component.into(),
        build: build.into(),
        install_time: Some(from),
        ..Default::default()
    };
    clients.components.install_component(request).await?;
    Ok(())
}

/// A component with the card's defaults, in a build from its start. Returns its name.
///
/// # Panics
/// When the server refuses it.
pub async fn install(
    clients: &mut Clients,
    build: &str,
    component_id: &str,
    component_type: &str,
) -> String {
    let component = Component {
        component_type: component_type.into(),
        ..Default::default()
    };
    let created = enter(clients, component_id, component).await;
    let name = created.expect(component_type);
    let request = InstallComponentRequest {
        component: name.clone(),
        build: build.into(),
        position: "beside".into(),
        install_time: Some(at(0)),
        ..Default::default()
    };
    let installed = clients.components.install_component(request).await;
    installed.expect(component_type);
    name
}
