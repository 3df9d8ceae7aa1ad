//! Comparisons: heavy, as each alternative is another specimen to solve.

use super::{Answer, Front, message};
use crate::convert::{Fields, comparisons as convert};
use ringland_proto::v1::{self as api, comparison_service_server::ComparisonService};
use tonic::{Request, Response};

/// The service.
pub struct Comparisons(pub Front);

#[tonic::async_trait]
impl ComparisonService for Comparisons {
    async fn compare(&self, request: Request<api::CompareRequest>) -> Answer<api::Comparison> {
        let mut fields = Fields::new();
        let wanted = convert::request(&mut fields, message(request));
        let wanted = fields.settle(wanted)?;
        let comparison = self.0.bulk(move |ledger| ledger.compare(&wanted)).await?;
        Ok(Response::new(convert::to_message(comparison)))
    }

    async fn compare_unit(
        &self,
        request: Request<api::CompareUnitRequest>,
    ) -> Answer<api::UnitComparison> {
        let mut fields = Fields::new();
        let wanted = convert::unit_request(&mut fields, message(request));
        let wanted = fields.settle(wanted)?;
        let comparison = self
            .0
            .bulk(move |ledger| ledger.compare_unit(&wanted))
            .await?;
        Ok(Response::new(convert::unit_to_message(comparison)))
    }
}
