//! Predictions.

use super::{Answer, Front, message};
use crate::{
    convert::{Fields, predictions as convert},
    errors,
    watch::{Targets, Watched},
};
use ringland_ledger::{ComponentName, PredictionName};
use ringland_proto::v1::{self as api, prediction_service_server::PredictionService};
use tonic::{Request, Response};

/// Batches up to this size go with single predictions.
const SMALL_BATCH: usize = 4;

/// The service.
pub struct Predictions(pub Front);

#[tonic::async_trait]
impl PredictionService for Predictions {
    async fn predict(&self, request: Request<api::PredictRequest>) -> Answer<api::Prediction> {
        let mut fields = Fields::new();
        let wanted = convert::request(&mut fields, "", &message(request));
        let wanted = fields.settle(wanted)?;
        let lane = &self.0.0.lanes.predict;
        let prediction = self
            .0
            .run(lane, move |ledger| ledger.predict(&wanted))
            .await?;
        Ok(Response::new(convert::to_message(prediction)))
    }

    async fn batch_predict(
        &self,
        request: Request<api::BatchPredictRequest>,
    ) -> Answer<api::BatchPredictResponse> {
        let call = message(request);
        let limit = self.0.limits().batch;
        if call.requests.len() > limit {
            return Err(errors::too_large("requests", limit as u64, "requests"));
        }
        let mut fields = Fields::new();
        let mut wanted = Vec::with_capacity(call.requests.len());
        for (index, request) in call.requests.iter().enumerate() {
            wanted.extend(convert::request(
                &mut fields,
                &format!("requests[{index}]."),
                request,
            ));
        }
        let wanted = fields.settle(Some(wanted))?;
        let lanes = &self.0.0.lanes;
        let lane = if wanted.len() <= SMALL_BATCH {
            &lanes.predict
        } else {
            &lanes.bulk
        };
        let results = self
            .0
            .run(lane, move |ledger| ledger.batch_predict(&wanted))
            .await?;
        let results = results
            .into_iter()
            .map(convert::result_to_message)
            .collect();
        Ok(Response::new(api::BatchPredictResponse { results }))
    }

    type WatchPredictionsStream = Watched;

    async fn watch_predictions(
        &self,
        request: Request<api::WatchPredictionsRequest>,
    ) -> Answer<Self::WatchPredictionsStream> {
        let call = message(request);
        let mut fields = Fields::new();
        let mut targets = Targets::default();
        for (index, text) in call.targets.iter().enumerate() {
            let field = format!("targets[{index}]");
            if text.starts_with("units/") {
                targets.units.extend(fields.name(&field, text));
            } else {
                targets
                    .components
                    .extend(fields.name::<ComponentName>(&field, text));
            }
        }
        let targets = fields.settle(Some(targets))?;
        Ok(Response::new(self.0.0.desk.watch(targets).await?))
    }

    async fn get_prediction(
        &self,
        request: Request<api::GetPredictionRequest>,
    ) -> Answer<api::Prediction> {
        let mut fields = Fields::new();
        let name = fields.name::<PredictionName>("name", &message(request).name);
        let name = fields.settle(name)?;
        let prediction = self
            .0
            .light(move |ledger| ledger.get_prediction(&name))
            .await?;
        Ok(Response::new(convert::to_message(prediction)))
    }

    async fn list_predictions(
        &self,
        request: Request<api::ListPredictionsRequest>,
    ) -> Answer<api::ListPredictionsResponse> {
        let call = message(request);
        let mut fields = Fields::new();
        let parent = fields.name::<ComponentName>("parent", &call.parent);
        let parent = fields.settle(parent)?;
        let page = self.0.page(call.page_size, call.page_token);
        let page = self
            .0
            .light(move |ledger| ledger.list_predictions(&parent, &page))
            .await?;
        Ok(Response::new(api::ListPredictionsResponse {
            predictions: page.items.into_iter().map(convert::to_message).collect(),
            next_page_token: page.next_page_token,
        }))
    }
}
