//! Duty.

use super::{Answer, Front, message};
use crate::{
    convert::{Fields, duty as convert},
    upload,
};
use ringland_ledger::{DutyRecordName, Ledger, ProfileName, UnitName};
use ringland_proto::v1::{self as api, duty_service_server::DutyService};
use tonic::{Request, Response, Streaming};

/// The service.
pub struct Duties(pub Front);

#[tonic::async_trait]
impl DutyService for Duties {
    async fn record_duty(
        &self,
        request: Request<Streaming<api::RecordDutyRequest>>,
    ) -> Answer<api::RecordDutyResponse> {
        let recorded = upload::record(&self.0, message(request)).await?;
        tracing::info!(record = %recorded.duty_record.name, replayed = recorded.replayed, "duty recorded");
        Ok(Response::new(api::RecordDutyResponse {
            duty_record: Some(convert::record_to_message(recorded.duty_record)),
            replayed: recorded.replayed,
        }))
    }

    async fn get_duty_record(
        &self,
        request: Request<api::GetDutyRecordRequest>,
    ) -> Answer<api::DutyRecord> {
        let mut fields = Fields::new();
        let name = fields.name::<DutyRecordName>("name", &message(request).name);
        let name = fields.settle(name)?;
        let record = self
            .0
            .light(move |ledger| ledger.get_duty_record(&name))
            .await?;
        Ok(Response::new(convert::record_to_message(record)))
    }

    async fn list_duty_records(
        &self,
        request: Request<api::ListDutyRecordsRequest>,
    ) -> Answer<api::ListDutyRecordsResponse> {
        let call = message(request);
        let mut fields = Fields::new();
        let parent = fields.name::<UnitName>("parent", &call.parent);
        let parent = fields.settle(parent)?;
        let page = self.0.page(call.page_size, call.page_token);
        let page = self
            .0
            .light(move |ledger| ledger.list_duty_records(&parent, &page))
            .await?;
        Ok(Response::new(api::ListDutyRecordsResponse {
            duty_records: page
                .items
                .into_iter()
                .map(convert::record_to_message)
                .collect(),
            next_page_token: page.next_page_token,
        }))
    }

    async fn create_profile(
        &self,
        request: Request<api::CreateProfileRequest>,
    ) -> Answer<api::Profile> {
        let call = message(request);
        let mut fields = Fields::new();
        let profile = fields.required("profile", call.profile).unwrap_or_default();
        let profile = convert::profile_input(&mut fields, profile);
        let profile = fields.settle(Some(profile))?;
        // It may add up a hundred records.
        let create = move |ledger: &Ledger| {
            ledger.create_profile(&call.profile_id, profile, &call.request_id)
        };
        Ok(Response::new(convert::profile_to_message(
            self.0.bulk(create).await?,
        )))
    }

    async fn get_profile(&self, request: Request<api::GetProfileRequest>) -> Answer<api::Profile> {
        let mut fields = Fields::new();
        let name = fields.name::<ProfileName>("name", &message(request).name);
        let name = fields.settle(name)?;
        let profile = self
            .0
            .light(move |ledger| ledger.get_profile(&name))
            .await?;
        Ok(Response::new(convert::profile_to_message(profile)))
    }

    async fn list_profiles(
        &self,
        request: Request<api::ListProfilesRequest>,
    ) -> Answer<api::ListProfilesResponse> {
        let call = message(request);
        let page = self.0.page(call.page_size, call.page_token);
        let page = self
            .0
            .light(move |ledger| ledger.list_profiles(&page))
            .await?;
        Ok(Response::new(api::ListProfilesResponse {
            profiles: page
                .items
                .into_iter()
                .map(convert::profile_to_message)
                .collect(),
            next_page_token: page.next_page_token,
        }))
    }

    async fn list_channels(
        &self,
        _request: Request<api::ListChannelsRequest>,
    ) -> Answer<api::ListChannelsResponse> {
        Ok(Response::new(crate::convert::vocabulary::channels()))
    }
}
