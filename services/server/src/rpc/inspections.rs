//! Inspections.

use super::{Answer, Front, message};
use crate::convert::{Fields, inspections as convert};
use ringland_ledger::{ComponentName, InspectionName, Ledger};
use ringland_proto::v1::{self as api, inspection_service_server::InspectionService};
use tonic::{Request, Response};

/// The service.
pub struct Inspections(pub Front);

#[tonic::async_trait]
impl InspectionService for Inspections {
    async fn record_inspection(
        &self,
        request: Request<api::RecordInspectionRequest>,
    ) -> Answer<api::RecordInspectionResponse> {
        let call = message(request);
        let mut fields = Fields::new();
        let input = convert::input(&mut fields, call.inspection);
        let (component, input) = fields.settle(input)?;
        let record =
            move |ledger: &Ledger| ledger.record_inspection(&component, input, &call.request_id);
        let recorded = self.0.bulk(record).await?;
        Ok(Response::new(convert::recorded_to_message(recorded)))
    }

    async fn check_inspection(
        &self,
        request: Request<api::CheckInspectionRequest>,
    ) -> Answer<api::CheckInspectionResponse> {
        let mut fields = Fields::new();
        let input = convert::input(&mut fields, message(request).inspection);
        let (component, input) = fields.settle(input)?;
        let check = move |ledger: &Ledger| ledger.check_inspection(&component, input);
        let checked = self.0.bulk(check).await?;
        Ok(Response::new(convert::checked_to_message(checked)))
    }

    async fn get_inspection(
        &self,
        request: Request<api::GetInspectionRequest>,
    ) -> Answer<api::Inspection> {
        let mut fields = Fields::new();
        let name = fields.name::<InspectionName>("name", &message(request).name);
        let name = fields.settle(name)?;
        let inspection = self
            .0
            .light(move |ledger| ledger.get_inspection(&name))
            .await?;
        Ok(Response::new(convert::to_message(inspection)))
    }

    async fn list_inspections(
        &self,
        request: Request<api::ListInspectionsRequest>,
    ) -> Answer<api::ListInspectionsResponse> {
        let call = message(request);
        let mut fields = Fields::new();
        let parent = fields.name::<ComponentName>("parent", &call.parent);
        let parent = fields.settle(parent)?;
        let page = self.0.page(call.page_size, call.page_token);
        let page = self
            .0
            .light(move |ledger| ledger.list_inspections(&parent, &page))
            .await?;
        Ok(Response::new(api::ListInspectionsResponse {
            inspections: page.items.into_iter().map(convert::to_message).collect(),
            next_page_token: page.next_page_token,
        }))
    }

    async fn explain_inspection(
        &self,
        request: Request<api::ExplainInspectionRequest>,
    ) -> Answer<api::ExplainInspectionResponse> {
        let call = message(request);
        let request_id = call.request_id.clone();
        let mut fields = Fields::new();
        let explain = convert::explain(&mut fields, call);
        let explain = fields.settle(explain)?;
        let explained = move |ledger: &Ledger| ledger.explain_inspection(&explain, &request_id);
        let explained = self.0.bulk(explained).await?;
        Ok(Response::new(api::ExplainInspectionResponse {
            inspection: Some(convert::to_message(explained.inspection)),
            comparisons: convert::comparisons(explained.comparisons),
        }))
    }

    async fn get_correction(
        &self,
        request: Request<api::GetCorrectionRequest>,
    ) -> Answer<api::Correction> {
        let mut fields = Fields::new();
        let component = fields.name::<ComponentName>("component", &message(request).component);
        let component = fields.settle(component)?;
        let correction = self
            .0
            .bulk(move |ledger| ledger.correction(&component))
            .await?;
        Ok(Response::new(convert::correction_to_message(correction)))
    }
}
