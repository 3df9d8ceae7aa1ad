//! Questions of the week: each draws every part of a unit, some several times.

use super::{Answer, Front, message};
use crate::convert::{Fields, answers, questions as convert};
use ringland_proto::v1::{self as api, question_service_server::QuestionService};
use tonic::{Request, Response};

/// The service.
pub struct Questions(pub Front);

#[tonic::async_trait]
impl QuestionService for Questions {
    async fn ask_one_more_event(
        &self,
        request: Request<api::AskOneMoreEventRequest>,
    ) -> Answer<api::OneMoreEvent> {
        let mut fields = Fields::new();
        let ask = convert::one_more_event(&mut fields, message(request));
        let ask = fields.settle(ask)?;
        let answer = self
            .0
            .bulk(move |ledger| ledger.ask_one_more_event(&ask))
            .await?;
        Ok(Response::new(answers::one_more_event_to_message(answer)))
    }

    async fn ask_over_rev_cost(
        &self,
        request: Request<api::AskOverRevCostRequest>,
    ) -> Answer<api::OverRevCost> {
        let mut fields = Fields::new();
        let ask = convert::shock_cost(&mut fields, message(request));
        let ask = fields.settle(ask)?;
        let answer = self
            .0
            .bulk(move |ledger| ledger.ask_over_rev_cost(&ask))
            .await?;
        Ok(Response::new(answers::shock_cost_to_message(answer)))
    }

    async fn ask_speed_change(
        &self,
        request: Request<api::AskSpeedChangeRequest>,
    ) -> Answer<api::SpeedChange> {
        let mut fields = Fields::new();
        let ask = convert::speed_change(&mut fields, message(request));
        let ask = fields.settle(ask)?;
        let answer = self
            .0
            .bulk(move |ledger| ledger.ask_speed_change(&ask))
            .await?;
        Ok(Response::new(answers::speed_change_to_message(answer)))
    }

    async fn ask_part_move(
        &self,
        request: Request<api::AskPartMoveRequest>,
    ) -> Answer<api::PartMove> {
        let mut fields = Fields::new();
        let ask = convert::part_move(&mut fields, message(request));
        let ask = fields.settle(ask)?;
        let answer = self
            .0
            .bulk(move |ledger| ledger.ask_part_move(&ask))
            .await?;
        Ok(Response::new(answers::part_move_to_message(answer)))
    }

    async fn ask_spare(&self, request: Request<api::AskSpareRequest>) -> Answer<api::SpareAnswer> {
        let mut fields = Fields::new();
        let ask = convert::spare(&mut fields, message(request));
        let ask = fields.settle(ask)?;
        let answer = self.0.bulk(move |ledger| ledger.ask_spare(&ask)).await?;
        Ok(Response::new(answers::spare_to_message(answer)))
    }
}
