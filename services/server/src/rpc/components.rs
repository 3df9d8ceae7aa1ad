//! Components.

use super::{Answer, Front, mask, message};
use crate::convert::{Fields, components as convert};
use ringland_ledger::{BuildName, ComponentName, Ledger};
use ringland_proto::v1::{self as api, component_service_server::ComponentService};
use tonic::{Request, Response};

/// The service.
pub struct Components(pub Front);

#[tonic::async_trait]
impl ComponentService for Components {
    async fn create_component(
        &self,
        request: Request<api::CreateComponentRequest>,
    ) -> Answer<api::Component> {
        let call = message(request);
        let mut fields = Fields::new();
        let component = fields.required("component", call.component);
        let component = convert::input(fields.settle(component)?);
        let create = move |ledger: &Ledger| {
            ledger.create_component(&call.component_id, component, &call.request_id)
        };
        Ok(Response::new(convert::to_message(
            self.0.light(create).await?,
        )))
    }

    async fn check_component(
        &self,
        request: Request<api::CheckComponentRequest>,
    ) -> Answer<api::CheckComponentResponse> {
        let mut fields = Fields::new();
        let component = fields.required("component", message(request).component);
        let component = convert::input(fields.settle(component)?);
        let checked = self
            .0
            .light(move |ledger| ledger.check_component(&component))
            .await?;
        Ok(Response::new(convert::check_to_message(&checked)))
    }

    async fn get_component(
        &self,
        request: Request<api::GetComponentRequest>,
    ) -> Answer<api::Component> {
        let mut fields = Fields::new();
        let name = fields.name::<ComponentName>("name", &message(request).name);
        let name = fields.settle(name)?;
        let component = self
            .0
            .light(move |ledger| ledger.get_component(&name))
            .await?;
        Ok(Response::new(convert::to_message(component)))
    }

    async fn list_components(
        &self,
        request: Request<api::ListComponentsRequest>,
    ) -> Answer<api::ListComponentsResponse> {
        let call = message(request);
        let mut fields = Fields::new();
        let filter = convert::filter(&mut fields, call.component_type, &call.installed_in);
        let filter = fields.settle(filter)?;
        let page = self.0.page(call.page_size, call.page_token);
        let page = self
            .0
            .light(move |ledger| ledger.list_components(&filter, &page))
            .await?;
        Ok(Response::new(api::ListComponentsResponse {
            components: page.items.into_iter().map(convert::to_message).collect(),
            next_page_token: page.next_page_token,
        }))
    }

    async fn update_component(
        &self,
        request: Request<api::UpdateComponentRequest>,
    ) -> Answer<api::Component> {
        let call = message(request);
        let mut fields = Fields::new();
        let mask = mask(&mut fields, call.update_mask);
        let component = fields
            .required("component", call.component)
            .unwrap_or_default();
        let name = fields.name::<ComponentName>("component.name", &component.name);
        let time = fields.optional_time("effective_time", call.effective_time);
        let ((name, mask), time) = fields.settle(name.zip(mask).zip(time))?;
        let (etag, reason) = (component.etag.clone(), call.reason);
        let input = convert::input(component);
        let update = move |ledger: &Ledger| {
            ledger.update_component(&name, input, &mask, &etag, time, &reason)
        };
        Ok(Response::new(convert::to_message(
            self.0.light(update).await?,
        )))
    }

    async fn list_revisions(
        &self,
        request: Request<api::ListRevisionsRequest>,
    ) -> Answer<api::ListRevisionsResponse> {
        let call = message(request);
        let mut fields = Fields::new();
        let parent = fields.name::<ComponentName>("parent", &call.parent);
        let parent = fields.settle(parent)?;
        let page = self.0.page(call.page_size, call.page_token);
        let page = self
            .0
            .light(move |ledger| ledger.list_revisions(&parent, &page))
            .await?;
        Ok(Response::new(api::ListRevisionsResponse {
            revisions: page
                .items
                .into_iter()
                .map(convert::revision_to_message)
                .collect(),
            next_page_token: page.next_page_token,
        }))
    }

    async fn install_component(
        &self,
        request: Request<api::InstallComponentRequest>,
    ) -> Answer<api::Installation> {
        let call = message(request);
        let mut fields = Fields::new();
        let component = fields.name::<ComponentName>("component", &call.component);
        let build = fields.name::<BuildName>("build", &call.build);
        let time = fields.time("install_time", call.install_time);
        let ((component, build), time) = fields.settle(component.zip(build).zip(time))?;
        let install = move |ledger: &Ledger| {
            ledger.install_component(&component, &build, &call.position, time, &call.request_id)
        };
        let installation = self.0.light(install).await?;
        Ok(Response::new(convert::installation_to_message(
            installation,
        )))
    }

    async fn remove_component(
        &self,
        request: Request<api::RemoveComponentRequest>,
    ) -> Answer<api::Installation> {
        let call = message(request);
        let mut fields = Fields::new();
        let component = fields.name::<ComponentName>("component", &call.component);
        let time = fields.time("remove_time", call.remove_time);
        let (component, time) = fields.settle(component.zip(time))?;
        let remove =
            move |ledger: &Ledger| ledger.remove_component(&component, time, &call.request_id);
        let installation = self.0.light(remove).await?;
        Ok(Response::new(convert::installation_to_message(
            installation,
        )))
    }

    async fn move_component(
        &self,
        request: Request<api::MoveComponentRequest>,
    ) -> Answer<api::Installation> {
        let call = message(request);
        let mut fields = Fields::new();
        let component = fields.name::<ComponentName>("component", &call.component);
        let build = fields.name::<BuildName>("build", &call.build);
        let time = fields.time("move_time", call.move_time);
        let ((component, build), time) = fields.settle(component.zip(build).zip(time))?;
        let change = move |ledger: &Ledger| {
            ledger.move_component(&component, &build, &call.position, time, &call.request_id)
        };
        let installation = self.0.light(change).await?;
        Ok(Response::new(convert::installation_to_message(
            installation,
        )))
    }

    async fn list_installations(
        &self,
        request: Request<api::ListInstallationsRequest>,
    ) -> Answer<api::ListInstallationsResponse> {
        let call = message(request);
        let mut fields = Fields::new();
        let parent = fields.name_or_all::<ComponentName>("parent", &call.parent);
        let build = fields.optional_name::<BuildName>("build", &call.build);
        let (parent, build) = fields.settle(parent.zip(build))?;
        let page = self.0.page(call.page_size, call.page_token);
        let list = move |ledger: &Ledger| {
            ledger.list_installations(parent.as_ref(), build.as_ref(), &page)
        };
        let page = self.0.light(list).await?;
        Ok(Response::new(api::ListInstallationsResponse {
            installations: page
                .items
                .into_iter()
                .map(convert::installation_to_message)
                .collect(),
            next_page_token: page.next_page_token,
        }))
    }

    async fn record_rework(
        &self,
        request: Request<api::RecordReworkRequest>,
    ) -> Answer<api::Rework> {
        let call = message(request);
        let mut fields = Fields::new();
        let component = fields.name::<ComponentName>("component", &call.component);
        let time = fields.time("rework_time", call.rework_time);
        let (component, time) = fields.settle(component.zip(time))?;
        let record = move |ledger: &Ledger| {
            ledger.record_rework(
                &component,
                &call.operation,
                time,
                &call.note,
                &call.request_id,
            )
        };
        Ok(Response::new(convert::rework_to_message(
            self.0.light(record).await?,
        )))
    }

    async fn list_reworks(
        &self,
        request: Request<api::ListReworksRequest>,
    ) -> Answer<api::ListReworksResponse> {
        let call = message(request);
        let mut fields = Fields::new();
        let parent = fields.name::<ComponentName>("parent", &call.parent);
        let parent = fields.settle(parent)?;
        let page = self.0.page(call.page_size, call.page_token);
        let page = self
            .0
            .light(move |ledger| ledger.list_reworks(&parent, &page))
            .await?;
        Ok(Response::new(api::ListReworksResponse {
            reworks: page
                .items
                .into_iter()
                .map(convert::rework_to_message)
                .collect(),
            next_page_token: page.next_page_token,
        }))
    }
}
