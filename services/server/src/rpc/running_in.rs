//! Seating and power fade.

use super::{Answer, Front, message};
use crate::convert::{Fields, running_in as convert};
use ringland_proto::v1::{self as api, running_in_service_server::RunningInService};
use tonic::{Request, Response};

/// The service.
pub struct RunningIn(pub Front);

#[tonic::async_trait]
impl RunningInService for RunningIn {
    async fn assess_seating(
        &self,
        request: Request<api::AssessSeatingRequest>,
    ) -> Answer<api::SeatingAssessment> {
        let mut fields = Fields::new();
        let call = convert::seating(&mut fields, message(request));
        let call = fields.settle(call)?;
        let lane = &self.0.0.lanes.predict;
        let found = self
            .0
            .run(lane, move |ledger| ledger.assess_seating(&call))
            .await?;
        Ok(Response::new(convert::seating_to_message(found)))
    }

    async fn assess_power_fade(
        &self,
        request: Request<api::AssessPowerFadeRequest>,
    ) -> Answer<api::PowerFadeAssessment> {
        let mut fields = Fields::new();
        let call = convert::fade(&mut fields, message(request));
        let call = fields.settle(call)?;
        let lane = &self.0.0.lanes.predict;
        let found = self
            .0
            .run(lane, move |ledger| ledger.assess_power_fade(&call))
            .await?;
        Ok(Response::new(convert::fade_to_message(found)))
    }
}
