//! Treatments over real gRPC and on the command line: the catalogue against the cards of every model, what a treated
//! part gains by its surfaces alone, what is refused, the shop's own entries.

mod catalogue;
mod command;
mod own;
mod refused;
mod surfaces;

use ringland_proto::v1::{
    ApplyTreatmentsRequest, CheckTreatmentsRequest, CheckTreatmentsResponse, Component,
    GetComponentRequest, Severity, TreatmentUse, check_treatments_request::Subject,
};
use ringland_tests::{Clients, at};

fn uses(treatments: &[&str]) -> Vec<TreatmentUse> {
    let of = |treatment: &&str| TreatmentUse {
        treatment: (*treatment).to_owned(),
        surfaces: Vec::new(),
    };
    treatments.iter().map(of).collect()
}

async fn check(
    clients: &mut Clients,
    component_type: &str,
    treatments: &[&str],
) -> CheckTreatmentsResponse {
    let described = Component {
        component_type: component_type.into(),
        ..Default::default()
    };
    let request = CheckTreatmentsRequest {
        subject: Some(Subject::Described(described)),
        treatments: uses(treatments),
        ..Default::default()
    };
    let checked = clients.treatments.check_treatments(request).await;
    checked.expect("a check").into_inner()
}

fn errors(check: &CheckTreatmentsResponse) -> Vec<String> {
    let errors = check
        .findings
        .iter()
        .filter(|f| f.severity() == Severity::Error);
    errors
        .map(|f| format!("{}: {}; {}", f.field, f.value, f.expected))
        .collect()
}

async fn apply(
    clients: &mut Clients,
    component: &str,
    treatments: &[&str],
    request_id: &str,
) -> Result<ringland_proto::v1::ApplyTreatmentsResponse, tonic::Status> {
    let request = ApplyTreatmentsRequest {
        component: component.into(),
        treatments: uses(treatments),
        effective_time: Some(at(10)),
        note: "sheet 7".into(),
        request_id: request_id.into(),
    };
    let applied = clients.treatments.apply_treatments(request).await;
    applied.map(tonic::Response::into_inner)
}

async fn get(clients: &mut Clients, name: &str) -> Component {
    let request = GetComponentRequest { name: name.into() };
    clients
        .components
        .get_component(request)
        .await
        .expect(name)
        .into_inner()
}
