//! All services behind one port.

use crate::{
    auth::Auth,
    rpc::{self, Front},
    settings::Limits,
};
use ringland_proto::{
    FILE_DESCRIPTOR_SET,
    v1::{
        build_service_server::BuildServiceServer,
        comparison_service_server::ComparisonServiceServer,
        component_service_server::ComponentServiceServer, duty_service_server::DutyServiceServer,
        evidence_service_server::EvidenceServiceServer,
        inspection_service_server::InspectionServiceServer,
        ledger_service_server::LedgerServiceServer, model_service_server::ModelServiceServer,
        plan_service_server::PlanServiceServer, prediction_service_server::PredictionServiceServer,
        running_in_service_server::RunningInServiceServer,
        treatment_service_server::TreatmentServiceServer, unit_service_server::UnitServiceServer,
    },
};
use tonic::{
    codec::CompressionEncoding::Gzip,
    service::{Routes, RoutesBuilder, interceptor::InterceptedService},
};
use tonic_health::pb::health_server::{Health, HealthServer};
use tonic_reflection::server::{Builder, Error};

/// The ledger's services, reflection (current and former version) and health. Every one but health
/// requires the token, if there is one.
///
/// # Errors
/// When the contract's descriptors cannot be read.
pub fn routes(
    front: &Front,
    auth: &Auth,
    limits: &Limits,
    health: HealthServer<impl Health>,
) -> Result<Routes, Error> {
    let mut routes = RoutesBuilder::default();
    // The servers share these options but no trait that has them.
    macro_rules! add {
        ($server:ident, $service:expr) => {{
            let server = $server::new($service)
                .max_decoding_message_size(limits.request_bytes)
                .max_encoding_message_size(limits.response_bytes)
                .accept_compressed(Gzip)
                .send_compressed(Gzip);
            routes.add_service(InterceptedService::new(server, auth.clone()));
        }};
    }
    add!(UnitServiceServer, rpc::Units(front.clone()));
    add!(BuildServiceServer, rpc::Builds(front.clone()));
    add!(ComponentServiceServer, rpc::Components(front.clone()));
    add!(DutyServiceServer, rpc::Duties(front.clone()));
    add!(InspectionServiceServer, rpc::Inspections(front.clone()));
    add!(PlanServiceServer, rpc::Plans(front.clone()));
    add!(PredictionServiceServer, rpc::Predictions(front.clone()));
    add!(RunningInServiceServer, rpc::RunningIn(front.clone()));
    add!(ComparisonServiceServer, rpc::Comparisons(front.clone()));
    add!(ModelServiceServer, rpc::Models(front.clone()));
    add!(TreatmentServiceServer, rpc::Treatments(front.clone()));
    add!(EvidenceServiceServer, rpc::Evidence(front.clone()));
    add!(LedgerServiceServer, rpc::Whole(front.clone()));
    routes.add_service(InterceptedService::new(
        reflection().build_v1()?,
        auth.clone(),
    ));
    routes.add_service(InterceptedService::new(
        reflection().build_v1alpha()?,
        auth.clone(),
    ));
    routes.add_service(health);
    Ok(routes.routes())
}

fn reflection() -> Builder<'static> {
    Builder::configure()
        .register_encoded_file_descriptor_set(FILE_DESCRIPTOR_SET)
        .register_encoded_file_descriptor_set(tonic_health::pb::FILE_DESCRIPTOR_SET)
}
