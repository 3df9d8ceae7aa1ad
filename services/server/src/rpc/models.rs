//! Plugins.

use super::{Answer, Front, message};
use crate::{
    convert::{Fields, models as convert},
    errors,
};
use ringland_ledger::ModelName;
use ringland_proto::v1::{self as api, model_service_server::ModelService};
use tonic::{Request, Response, Status, Streaming};

/// Largest piece of a plugin, as the contract says.
const CHUNK_BYTES: usize = 1 << 20;

/// The service.
pub struct Models(pub Front);

impl Models {
    /// All bytes of a plugin. A stream that fails leaves nothing behind.
    async fn receive(
        &self,
        mut pieces: Streaming<api::InstallModelRequest>,
    ) -> Result<Vec<u8>, Status> {
        let limit = self.0.plugin_bytes();
        let mut bytes = Vec::new();
        while let Some(piece) = pieces.message().await? {
            if piece.chunk.len() > CHUNK_BYTES {
                return Err(errors::too_large("chunk", CHUNK_BYTES as u64, "bytes"));
            }
            if bytes.len() + piece.chunk.len() > limit {
                return Err(errors::too_large("plugin", limit as u64, "bytes"));
            }
            bytes.extend_from_slice(&piece.chunk);
        }
        if bytes.is_empty() {
            let text = "no bytes were sent; send a WebAssembly component in pieces";
            return Err(errors::invalid(vec![errors::violation("chunk", text)]));
        }
        Ok(bytes)
    }
}

#[tonic::async_trait]
impl ModelService for Models {
    async fn install_model(
        &self,
        request: Request<Streaming<api::InstallModelRequest>>,
    ) -> Answer<api::Model> {
        let ticket = self.0.uploads().take()?;
        let bytes = self.receive(message(request)).await?;
        let model = self
            .0
            .bulk_with(&ticket, move |ledger| ledger.install_model(&bytes))
            .await?;
        tracing::info!(model = %model.name, component_type = model.component_type, version = model.version, "plugin installed");
        Ok(Response::new(convert::to_message(model)))
    }

    async fn get_model(&self, request: Request<api::GetModelRequest>) -> Answer<api::Model> {
        let mut fields = Fields::new();
        let name = fields.name::<ModelName>("name", &message(request).name);
        let name = fields.settle(name)?;
        let model = self.0.light(move |ledger| ledger.get_model(name)).await?;
        Ok(Response::new(convert::to_message(model)))
    }

    async fn list_models(
        &self,
        request: Request<api::ListModelsRequest>,
    ) -> Answer<api::ListModelsResponse> {
        let call = message(request);
        let page = self.0.page(call.page_size, call.page_token);
        let list =
            move |ledger: &ringland_ledger::Ledger| ledger.list_models(&call.component_type, &page);
        let page = self.0.light(list).await?;
        Ok(Response::new(api::ListModelsResponse {
            models: page.items.into_iter().map(convert::to_message).collect(),
            next_page_token: page.next_page_token,
        }))
    }

    async fn activate_model(
        &self,
        request: Request<api::ActivateModelRequest>,
    ) -> Answer<api::Model> {
        let call = message(request);
        let mut fields = Fields::new();
        let name = fields.name::<ModelName>("name", &call.name);
        let name = fields.settle(name)?;
        // It checks every component of the type against the new model.
        let activate =
            move |ledger: &ringland_ledger::Ledger| ledger.activate_model(name, &call.request_id);
        let activated = self.0.bulk(activate).await?;
        for warning in &activated.warnings {
            tracing::warn!(model = %activated.model.name, %warning, "a component is refused by the model now active");
        }
        Ok(Response::new(convert::to_message(activated.model)))
    }
}
