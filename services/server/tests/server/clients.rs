//! A client of every service, which notes what it calls.

use crate::setup::Served;
use ringland_proto::v1::{
    build_service_client::BuildServiceClient, comparison_service_client::ComparisonServiceClient,
    component_service_client::ComponentServiceClient, duty_service_client::DutyServiceClient,
    evidence_service_client::EvidenceServiceClient,
    inspection_service_client::InspectionServiceClient, ledger_service_client::LedgerServiceClient,
    model_service_client::ModelServiceClient, plan_service_client::PlanServiceClient,
    prediction_service_client::PredictionServiceClient,
    question_service_client::QuestionServiceClient,
    running_in_service_client::RunningInServiceClient,
    treatment_service_client::TreatmentServiceClient, unit_service_client::UnitServiceClient,
};
use std::{cell::RefCell, collections::BTreeSet};
use tonic::{
    GrpcMethod, Request, Status,
    service::{Interceptor, interceptor::InterceptedService},
    transport::Channel,
};

thread_local! {
    /// Of one test: each has a thread of its own, its clients on it.
    static CALLS: RefCell<BTreeSet<String>> = const { RefCell::new(BTreeSet::new()) };
}

/// What clients of this thread have called: `ringland.v1.UnitService/CreateUnit`.
pub fn calls_made() -> BTreeSet<String> {
    CALLS.with_borrow(Clone::clone)
}

/// Notes each call on its way out.
#[derive(Clone, Copy)]
pub struct Note;

impl Interceptor for Note {
    fn call(&mut self, request: Request<()>) -> Result<Request<()>, Status> {
        if let Some(call) = request.extensions().get::<GrpcMethod<'_>>() {
            let call = format!("{}/{}", call.service(), call.method());
            CALLS.with_borrow_mut(|calls| calls.insert(call));
        }
        Ok(request)
    }
}

/// A channel of which the calls are noted.
pub type Noted = InterceptedService<Channel, Note>;

impl Served {
    fn noted(&self) -> Noted {
        InterceptedService::new(self.channel.clone(), Note)
    }

    pub fn units(&self) -> UnitServiceClient<Noted> {
        UnitServiceClient::new(self.noted())
    }
    pub fn builds(&self) -> BuildServiceClient<Noted> {
        BuildServiceClient::new(self.noted())
    }
    pub fn components(&self) -> ComponentServiceClient<Noted> {
        ComponentServiceClient::new(self.noted())
    }
    pub fn duty(&self) -> DutyServiceClient<Noted> {
        DutyServiceClient::new(self.noted())
    }
    pub fn predictions(&self) -> PredictionServiceClient<Noted> {
        PredictionServiceClient::new(self.noted())
    }
    pub fn comparisons(&self) -> ComparisonServiceClient<Noted> {
        ComparisonServiceClient::new(self.noted())
    }
    pub fn evidence(&self) -> EvidenceServiceClient<Noted> {
        EvidenceServiceClient::new(self.noted())
    }
    pub fn inspections(&self) -> InspectionServiceClient<Noted> {
        InspectionServiceClient::new(self.noted())
    }
    pub fn plans(&self) -> PlanServiceClient<Noted> {
        PlanServiceClient::new(self.noted())
    }
    pub fn questions(&self) -> QuestionServiceClient<Noted> {
        QuestionServiceClient::new(self.noted())
    }
    pub fn running_in(&self) -> RunningInServiceClient<Noted> {
        RunningInServiceClient::new(self.noted())
    }
    pub fn treatments(&self) -> TreatmentServiceClient<Noted> {
        TreatmentServiceClient::new(self.noted())
    }
    pub fn models(&self) -> ModelServiceClient<Noted> {
        ModelServiceClient::new(self.noted())
    }
    pub fn ledger(&self) -> LedgerServiceClient<Noted> {
        LedgerServiceClient::new(self.noted())
    }
}
