//! Treatments.

use super::{Answer, Front, message};
use crate::convert::{Fields, components, treatments as convert};
use ringland_ledger::{ComponentName, Ledger, Subject, TreatmentName};
use ringland_proto::v1::{
    self as api, check_treatments_request::Subject as Asked,
    treatment_service_server::TreatmentService,
};
use tonic::{Request, Response};

/// The service.
pub struct Treatments(pub Front);

#[tonic::async_trait]
impl TreatmentService for Treatments {
    async fn list_treatments(
        &self,
        request: Request<api::ListTreatmentsRequest>,
    ) -> Answer<api::ListTreatmentsResponse> {
        let call = message(request);
        let page = self.0.page(call.page_size, call.page_token);
        let list = move |ledger: &Ledger| ledger.list_treatments(&call.component_type, &page);
        let page = self.0.light(list).await?;
        Ok(Response::new(api::ListTreatmentsResponse {
            treatments: page.items.into_iter().map(convert::to_message).collect(),
            next_page_token: page.next_page_token,
        }))
    }

    async fn get_treatment(
        &self,
        request: Request<api::GetTreatmentRequest>,
    ) -> Answer<api::Treatment> {
        let call = message(request);
        let mut fields = Fields::new();
        let name = fields.name::<TreatmentName>("name", &call.name);
        let name = fields.settle(name)?;
        let get = move |ledger: &Ledger| ledger.get_treatment(&name, call.revision);
        Ok(Response::new(convert::to_message(self.0.light(get).await?)))
    }

    async fn put_treatment(
        &self,
        request: Request<api::PutTreatmentRequest>,
    ) -> Answer<api::Treatment> {
        let call = message(request);
        let put =
            move |ledger: &Ledger| ledger.put_treatment(&call.text, &call.etag, &call.request_id);
        Ok(Response::new(convert::to_message(self.0.light(put).await?)))
    }

    async fn check_treatments(
        &self,
        request: Request<api::CheckTreatmentsRequest>,
    ) -> Answer<api::CheckTreatmentsResponse> {
        let call = message(request);
        let mut fields = Fields::new();
        let time = fields.optional_time("effective_time", call.effective_time);
        let subject = match call.subject {
            Some(Asked::Component(name)) => {
                let name = fields.name::<ComponentName>("component", &name);
                name.zip(time)
                    .map(|(name, time)| Subject::Named(name, time))
            }
            Some(Asked::Described(component)) => {
                Some(Subject::Described(Box::new(components::input(component))))
            }
            None => {
                fields.refuse("component", "is not set; give component or described");
                None
            }
        };
        let subject = fields.settle(subject)?;
        let uses = convert::uses(call.treatments);
        let check = move |ledger: &Ledger| ledger.check_treatments(&subject, &uses);
        Ok(Response::new(convert::check_to_message(
            self.0.light(check).await?,
        )))
    }

    async fn apply_treatments(
        &self,
        request: Request<api::ApplyTreatmentsRequest>,
    ) -> Answer<api::ApplyTreatmentsResponse> {
        let call = message(request);
        let mut fields = Fields::new();
        let name = fields.name::<ComponentName>("component", &call.component);
        let time = fields.time("effective_time", call.effective_time);
        let (name, time) = fields.settle(name.zip(time))?;
        let uses = convert::uses(call.treatments);
        let apply = move |ledger: &Ledger| {
            ledger.apply_treatments(&name, &uses, time, &call.note, &call.request_id)
        };
        Ok(Response::new(convert::applied_to_message(
            self.0.light(apply).await?,
        )))
    }
}
