//! Units.

use super::{Answer, Front, mask, message};
use crate::convert::{Fields, units as convert};
use ringland_ledger::{Ledger, UnitName};
use ringland_proto::v1::{self as api, unit_service_server::UnitService};
use tonic::{Request, Response};

/// The service.
pub struct Units(pub Front);

#[tonic::async_trait]
impl UnitService for Units {
    async fn create_unit(&self, request: Request<api::CreateUnitRequest>) -> Answer<api::Unit> {
        let call = message(request);
        let mut fields = Fields::new();
        let unit = fields.required("unit", call.unit);
        let unit = unit.and_then(|unit| convert::input(&mut fields, unit));
        let unit = fields.settle(unit)?;
        let create =
            move |ledger: &Ledger| ledger.create_unit(&call.unit_id, unit, &call.request_id);
        Ok(Response::new(convert::to_message(
            self.0.light(create).await?,
        )))
    }

    async fn get_unit(&self, request: Request<api::GetUnitRequest>) -> Answer<api::Unit> {
        let mut fields = Fields::new();
        let name = fields.name::<UnitName>("name", &message(request).name);
        let name = fields.settle(name)?;
        let unit = self.0.light(move |ledger| ledger.get_unit(&name)).await?;
        Ok(Response::new(convert::to_message(unit)))
    }

    async fn list_units(
        &self,
        request: Request<api::ListUnitsRequest>,
    ) -> Answer<api::ListUnitsResponse> {
        let call = message(request);
        let page = self.0.page(call.page_size, call.page_token);
        let page = self.0.light(move |ledger| ledger.list_units(&page)).await?;
        Ok(Response::new(api::ListUnitsResponse {
            units: page.items.into_iter().map(convert::to_message).collect(),
            next_page_token: page.next_page_token,
        }))
    }

    async fn update_unit(&self, request: Request<api::UpdateUnitRequest>) -> Answer<api::Unit> {
        let call = message(request);
        let mut fields = Fields::new();
        let mask = mask(&mut fields, call.update_mask);
        let unit = fields.required("unit", call.unit).unwrap_or_default();
        let (etag, name) = (
            unit.etag.clone(),
            fields.name::<UnitName>("unit.name", &unit.name),
        );
        let input = convert::input(&mut fields, unit);
        let ((name, input), mask) = fields.settle(name.zip(input).zip(mask))?;
        let update = move |ledger: &Ledger| ledger.update_unit(&name, input, &mask, &etag);
        Ok(Response::new(convert::to_message(
            self.0.light(update).await?,
        )))
    }
}
