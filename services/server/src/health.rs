//! The standard health service: serving, or not any more.

use ringland_proto::v1::{
    build_service_server::SERVICE_NAME as BUILDS,
    comparison_service_server::SERVICE_NAME as COMPARISONS,
    component_service_server::SERVICE_NAME as COMPONENTS,
    duty_service_server::SERVICE_NAME as DUTY, evidence_service_server::SERVICE_NAME as EVIDENCE,
    inspection_service_server::SERVICE_NAME as INSPECTIONS,
    ledger_service_server::SERVICE_NAME as LEDGER, model_service_server::SERVICE_NAME as MODELS,
    plan_service_server::SERVICE_NAME as PLANS,
    prediction_service_server::SERVICE_NAME as PREDICTIONS,
    question_service_server::SERVICE_NAME as QUESTIONS,
    running_in_service_server::SERVICE_NAME as RUNNING_IN,
    treatment_service_server::SERVICE_NAME as TREATMENTS,
    unit_service_server::SERVICE_NAME as UNITS,
};
use tonic_health::{ServingStatus, server::HealthReporter};

/// The server as a whole, then each service.
const SERVICES: &[&str] = &[
    "",
    UNITS,
    BUILDS,
    COMPONENTS,
    DUTY,
    PLANS,
    PREDICTIONS,
    QUESTIONS,
    RUNNING_IN,
    COMPARISONS,
    TREATMENTS,
    MODELS,
    EVIDENCE,
    INSPECTIONS,
    LEDGER,
];

/// Sets the status of every service and of the whole.
pub async fn report(reporter: &HealthReporter, status: ServingStatus) {
    for service in SERVICES {
        reporter.set_service_status(*service, status).await;
    }
}

/// Ends the streams of those who watch the health, so that they do not hold up the drain.
pub async fn forget(reporter: &mut HealthReporter) {
    for service in SERVICES {
        reporter.clear_service_status(service).await;
    }
}
