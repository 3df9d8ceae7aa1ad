//! The shop's evidence.

use super::{Answer, Front, message};
use crate::convert::{Fields, components, evidence as convert};
use ringland_ledger::Ledger;
use ringland_proto::v1::{self as api, evidence_service_server::EvidenceService};
use tonic::{Request, Response};

/// The service.
pub struct Evidence(pub Front);

#[tonic::async_trait]
impl EvidenceService for Evidence {
    async fn retire_component(
        &self,
        request: Request<api::RetireComponentRequest>,
    ) -> Answer<api::Component> {
        let call = message(request);
        let request_id = call.request_id.clone();
        let mut fields = Fields::new();
        let retire = convert::retire(&mut fields, call);
        let retire = fields.settle(retire)?;
        let retire = move |ledger: &Ledger| ledger.retire_component(&retire, &request_id);
        Ok(Response::new(components::to_message(
            self.0.light(retire).await?,
        )))
    }

    async fn analyze_lives(
        &self,
        request: Request<api::AnalyzeLivesRequest>,
    ) -> Answer<api::LifeAnalysis> {
        use api::analyze_lives_request::Source;
        let mut fields = Fields::new();
        let (query, given) = match message(request).source {
            Some(Source::Query(query)) => (Some(query), None),
            Some(Source::Given(given)) => (None, Some(given)),
            None => (None, None),
        };
        let source = convert::source(&mut fields, query, given);
        let source = fields.settle(source)?;
        let found = self
            .0
            .bulk(move |ledger| ledger.analyze_lives(&source))
            .await?;
        Ok(Response::new(convert::analysis_to_message(found)))
    }

    async fn compare_groups(
        &self,
        request: Request<api::CompareGroupsRequest>,
    ) -> Answer<api::GroupComparison> {
        use api::compare_groups_request::Source;
        let call = message(request);
        let mut fields = Fields::new();
        let (query, given) = match call.source {
            Some(Source::Query(query)) => (Some(query), None),
            Some(Source::Given(given)) => (None, Some(given)),
            None => (None, None),
        };
        let source = convert::source(&mut fields, query, given);
        let source = fields.settle(source)?;
        let (base, other) = (call.base, call.other);
        let found = self
            .0
            .bulk(move |ledger| ledger.compare_groups(&source, &base, &other))
            .await?;
        Ok(Response::new(convert::comparison_to_message(found)))
    }

    async fn analyze_replacements(
        &self,
        request: Request<api::AnalyzeReplacementsRequest>,
    ) -> Answer<api::ReplacementAnalysis> {
        let mut fields = Fields::new();
        let source = convert::replacements(&mut fields, message(request).source);
        let source = fields.settle(source)?;
        let found = self
            .0
            .bulk(move |ledger| ledger.analyze_replacements(&source))
            .await?;
        Ok(Response::new(convert::replacements_to_message(found)))
    }
}
