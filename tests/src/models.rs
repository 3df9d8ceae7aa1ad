//! Plugins that come to a running server.

use crate::Clients;
use ringland_proto::v1::{ActivateModelRequest, InstallModelRequest, Model};
use std::path::Path;

/// Sends a plugin's file in pieces.
///
/// # Panics
/// When the file cannot be read or the server refuses it.
pub async fn install_model(clients: &mut Clients, plugin: &Path) -> Model {
    let bytes = std::fs::read(plugin).expect("the plugin can be read");
    let pieces: Vec<_> = bytes
        .chunks(200_000)
        .map(|piece| InstallModelRequest {
            chunk: piece.to_vec(),
        })
        .collect();
    let installed = clients
        .models
        .install_model(tokio_stream::iter(pieces))
        .await;
    installed.expect("the plugin installs").into_inner()
}

/// Makes a model the one of its type.
///
/// # Panics
/// When the server refuses it.
pub async fn activate(clients: &mut Clients, model: &Model) {
    let request = ActivateModelRequest {
        name: model.name.clone(),
        ..Default::default()
    };
    let activated = clients.models.activate_model(request).await;
    activated.expect("the plugin is activated");
}
