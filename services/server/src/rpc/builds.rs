//! Builds.

use super::{Answer, Front, mask, message};
use crate::convert::{Fields, builds as convert};
use ringland_ledger::{BuildName, Ledger, UnitName};
use ringland_proto::v1::{self as api, build_service_server::BuildService};
use tonic::{Request, Response};

/// The service.
pub struct Builds(pub Front);

#[tonic::async_trait]
impl BuildService for Builds {
    async fn create_build(&self, request: Request<api::CreateBuildRequest>) -> Answer<api::Build> {
        let call = message(request);
        let mut fields = Fields::new();
        let parent = fields.name::<UnitName>("parent", &call.parent);
        let build = fields.required("build", call.build);
        let build = build.and_then(|build| convert::input(&mut fields, build));
        let (parent, build) = fields.settle(parent.zip(build))?;
        let create = move |ledger: &Ledger| {
            ledger.create_build(&parent, &call.build_id, build, &call.request_id)
        };
        Ok(Response::new(convert::to_message(
            self.0.light(create).await?,
        )))
    }

    async fn get_build(&self, request: Request<api::GetBuildRequest>) -> Answer<api::Build> {
        let mut fields = Fields::new();
        let name = fields.name::<BuildName>("name", &message(request).name);
        let name = fields.settle(name)?;
        let build = self.0.light(move |ledger| ledger.get_build(&name)).await?;
        Ok(Response::new(convert::to_message(build)))
    }

    async fn list_builds(
        &self,
        request: Request<api::ListBuildsRequest>,
    ) -> Answer<api::ListBuildsResponse> {
        let call = message(request);
        let mut fields = Fields::new();
        let unit = fields.name_or_all::<UnitName>("parent", &call.parent);
        let unit = fields.settle(unit)?;
        let page = self.0.page(call.page_size, call.page_token);
        let page = self
            .0
            .light(move |ledger| ledger.list_builds(unit.as_ref(), &page))
            .await?;
        Ok(Response::new(api::ListBuildsResponse {
            builds: page.items.into_iter().map(convert::to_message).collect(),
            next_page_token: page.next_page_token,
        }))
    }

    async fn update_build(&self, request: Request<api::UpdateBuildRequest>) -> Answer<api::Build> {
        let call = message(request);
        let mut fields = Fields::new();
        let mask = mask(&mut fields, call.update_mask);
        let build = fields.required("build", call.build).unwrap_or_default();
        let (etag, name) = (
            build.etag.clone(),
            fields.name::<BuildName>("build.name", &build.name),
        );
        let input = convert::input(&mut fields, build);
        let ((name, input), mask) = fields.settle(name.zip(input).zip(mask))?;
        let update = move |ledger: &Ledger| ledger.update_build(&name, input, &mask, &etag);
        Ok(Response::new(convert::to_message(
            self.0.light(update).await?,
        )))
    }

    async fn close_build(&self, request: Request<api::CloseBuildRequest>) -> Answer<api::Build> {
        let call = message(request);
        let mut fields = Fields::new();
        let name = fields.name::<BuildName>("name", &call.name);
        let time = fields.time("teardown_time", call.teardown_time);
        let (name, time) = fields.settle(name.zip(time))?;
        let close = move |ledger: &Ledger| ledger.close_build(&name, time, &call.request_id);
        Ok(Response::new(convert::to_message(
            self.0.light(close).await?,
        )))
    }
}
