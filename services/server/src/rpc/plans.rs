//! Plans: heavy, as each part is drawn by every duty ahead.

use super::{Answer, Front, message};
use crate::convert::{Fields, calendars, plans as convert};
use ringland_ledger::{CalendarName, Ledger};
use ringland_proto::v1::{self as api, plan_service_server::PlanService};
use tonic::{Request, Response};

/// The service.
pub struct Plans(pub Front);

#[tonic::async_trait]
impl PlanService for Plans {
    async fn put_calendar(
        &self,
        request: Request<api::PutCalendarRequest>,
    ) -> Answer<api::Calendar> {
        let call = message(request);
        let mut fields = Fields::new();
        let calendar = fields.required("calendar", call.calendar);
        let content = calendar.and_then(|calendar| calendars::input(&mut fields, calendar));
        let content = fields.settle(content)?;
        let put = move |ledger: &Ledger| {
            ledger.put_calendar(&call.calendar_id, content, &call.etag, &call.request_id)
        };
        let calendar = self.0.light(put).await?;
        Ok(Response::new(calendars::to_message(calendar)))
    }

    async fn get_calendar(
        &self,
        request: Request<api::GetCalendarRequest>,
    ) -> Answer<api::Calendar> {
        let call = message(request);
        let mut fields = Fields::new();
        let name = fields.name::<CalendarName>("name", &call.name);
        let name = fields.settle(name)?;
        let get = move |ledger: &Ledger| ledger.get_calendar(&name, call.revision);
        let calendar = self.0.light(get).await?;
        Ok(Response::new(calendars::to_message(calendar)))
    }

    async fn list_calendars(
        &self,
        request: Request<api::ListCalendarsRequest>,
    ) -> Answer<api::ListCalendarsResponse> {
        let call = message(request);
        let page = self.0.page(call.page_size, call.page_token);
        let list = move |ledger: &Ledger| ledger.list_calendars(&page);
        let page = self.0.light(list).await?;
        Ok(Response::new(api::ListCalendarsResponse {
            calendars: page.items.into_iter().map(calendars::to_message).collect(),
            next_page_token: page.next_page_token,
        }))
    }

    async fn make_plan(&self, request: Request<api::MakePlanRequest>) -> Answer<api::Plan> {
        let mut fields = Fields::new();
        let wanted = convert::request(&mut fields, &message(request));
        let wanted = fields.settle(wanted)?;
        let plan = self.0.bulk(move |ledger| ledger.make_plan(&wanted)).await?;
        Ok(Response::new(convert::to_message(plan)))
    }

    async fn find_replacement_age(
        &self,
        request: Request<api::FindReplacementAgeRequest>,
    ) -> Answer<api::ReplacementAge> {
        let mut fields = Fields::new();
        let wanted = convert::age_request(&mut fields, message(request));
        let wanted = fields.settle(wanted)?;
        let find = move |ledger: &Ledger| ledger.find_replacement_age(&wanted);
        let age = self.0.bulk(find).await?;
        Ok(Response::new(convert::age_to_message(age)))
    }

    async fn record_override(
        &self,
        request: Request<api::RecordOverrideRequest>,
    ) -> Answer<api::Override> {
        let call = message(request);
        let mut fields = Fields::new();
        let given = convert::override_input(&mut fields, call.r#override);
        let given = fields.settle(given)?;
        let record = move |ledger: &Ledger| ledger.record_override(given, &call.request_id);
        // It looks at what inspections have found of every part concerned.
        let lane = &self.0.0.lanes.predict;
        let row = self.0.run(lane, record).await?;
        Ok(Response::new(convert::override_to_message(row)))
    }

    async fn list_overrides(
        &self,
        request: Request<api::ListOverridesRequest>,
    ) -> Answer<api::ListOverridesResponse> {
        let call = message(request);
        let mut fields = Fields::new();
        let subject = if call.subject.is_empty() {
            Some(None)
        } else {
            convert::subject(&mut fields, "subject", &call.subject).map(Some)
        };
        let subject = fields.settle(subject)?;
        let page = self.0.page(call.page_size, call.page_token);
        let list = move |ledger: &Ledger| ledger.list_overrides(subject.as_ref(), &page);
        let page = self.0.light(list).await?;
        let overrides = page.items.into_iter().map(convert::override_to_message);
        Ok(Response::new(api::ListOverridesResponse {
            overrides: overrides.collect(),
            next_page_token: page.next_page_token,
        }))
    }
}
