//! What sheets need of the ledger, by its calls.

use crate::{
    CliError,
    commands::{
        Session,
        predict::{self, Answers},
    },
    connect::all_pages,
    names,
};
use ringland_proto::v1::{
    AgeMeasure, Build, CompareGroupsRequest, Component, Correction, DutyRecord, GetBuildRequest,
    GetComponentRequest, GetCorrectionRequest, GetUnitRequest, GroupComparison, Inspection,
    Installation, LifeQuery, ListBuildsRequest, ListDutyRecordsRequest, ListInspectionsRequest,
    ListInstallationsRequest, ListModelsRequest, ListOverridesRequest, ListPredictionsRequest,
    ListUnitsRequest, Override, PredictRequest, Prediction, Unit, compare_groups_request::Source,
};
use std::collections::{BTreeMap, BTreeSet};
use tonic::{Code, Status};

/// A unit by its name.
pub(super) async fn unit(name: &str, session: &Session) -> Result<Unit, CliError> {
    let request = GetUnitRequest { name: name.into() };
    Ok(session.api.units().get_unit(request).await?.into_inner())
}

/// Every unit.
pub(super) async fn units(session: &Session) -> Result<Vec<Unit>, CliError> {
    let mut client = session.api.units();
    all_pages(async |page_token| {
        let request = ListUnitsRequest {
            page_token,
            ..Default::default()
        };
        let page = client.list_units(request).await?.into_inner();
        Ok((page.units, page.next_page_token))
    })
    .await
}

/// The builds of a unit, oldest first.
pub(super) async fn builds(unit: &str, session: &Session) -> Result<Vec<Build>, CliError> {
    let mut client = session.api.builds();
    all_pages(async |page_token| {
        let request = ListBuildsRequest {
            parent: unit.into(),
            page_token,
            ..Default::default()
        };
        let page = client.list_builds(request).await?.into_inner();
        Ok((page.builds, page.next_page_token))
    })
    .await
}

/// `UNIT/BUILD`, or the latest build of `UNIT`.
pub(super) async fn build(place: &str, session: &Session) -> Result<Build, CliError> {
    let name = names::place(place);
    if name.contains("/builds/") {
        let request = GetBuildRequest { name };
        return Ok(session.api.builds().get_build(request).await?.into_inner());
    }
    let latest = builds(&name, session).await?.pop();
    latest.ok_or_else(|| {
        CliError::Failed(format!(
            "{name} has no build; open one with ringland build create"
        ))
    })
}

/// The unit of a build.
pub(super) fn unit_of(build: &Build) -> &str {
    build.name.split("/builds/").next().unwrap_or_default()
}

/// What is or was installed in a build, in the order of types and names.
pub(super) async fn contents(
    build: &str,
    session: &Session,
) -> Result<Vec<Installation>, CliError> {
    let mut client = session.api.components();
    let mut found = all_pages(async |page_token| {
        let request = ListInstallationsRequest {
            parent: "components/-".into(),
            build: build.into(),
            page_token,
            ..Default::default()
        };
        let page = client.list_installations(request).await?.into_inner();
        Ok((page.installations, page.next_page_token))
    })
    .await?;
    found.sort_by(|one, other| one.component.cmp(&other.component));
    Ok(found)
}

/// A component by its name.
pub(super) async fn component(name: &str, session: &Session) -> Result<Component, CliError> {
    let request = GetComponentRequest { name: name.into() };
    let mut client = session.api.components();
    Ok(client.get_component(request).await?.into_inner())
}

/// The predictions of components, by their names, over the event of a profile (empty: the unit's); those that have none with the reason.
pub(super) async fn predictions(
    components: &[String],
    profile: &str,
    session: &Session,
) -> Result<(BTreeMap<String, Prediction>, Vec<String>), CliError> {
    let request = |component: &String| PredictRequest {
        component: component.clone(),
        profile: profile.into(),
        ..Default::default()
    };
    let requests = components.iter().map(request).collect();
    let answers: Answers = predict::predict_all(requests, session).await?;
    let (mut predicted, mut without) = (BTreeMap::new(), Vec::new());
    for (component, answer) in answers {
        match answer {
            Ok(prediction) => {
                predicted.insert(component, prediction);
            }
            Err(status) => without.push(format!(
                "{} has no prediction: {}",
                names::id(&component),
                crate::error::describe(&status)
            )),
        }
    }
    Ok((predicted, without))
}

/// The inspections of a component, oldest first.
pub(super) async fn inspections(
    component: &str,
    session: &Session,
) -> Result<Vec<Inspection>, CliError> {
    let mut client = session.api.inspections();
    all_pages(async |page_token| {
        let request = ListInspectionsRequest {
            parent: component.into(),
            page_token,
            ..Default::default()
        };
        let page = client.list_inspections(request).await?.into_inner();
        Ok((page.inspections, page.next_page_token))
    })
    .await
}

/// Every stored prediction of a component.
pub(super) async fn stored_predictions(
    component: &str,
    session: &Session,
) -> Result<Vec<Prediction>, CliError> {
    let mut client = session.api.predictions();
    all_pages(async |page_token| {
        let request = ListPredictionsRequest {
            parent: component.into(),
            page_token,
            ..Default::default()
        };
        let page = client.list_predictions(request).await?.into_inner();
        Ok((page.predictions, page.next_page_token))
    })
    .await
}

/// What the inspections of a component taught.
pub(super) async fn correction(component: &str, session: &Session) -> Result<Correction, CliError> {
    let request = GetCorrectionRequest {
        component: component.into(),
    };
    let mut client = session.api.inspections();
    Ok(client.get_correction(request).await?.into_inner())
}

/// What owners decided other than advised of a unit and what is in it.
pub(super) async fn overrides(unit: &str, session: &Session) -> Result<Vec<Override>, CliError> {
    let mut client = session.api.plans();
    all_pages(async |page_token| {
        let request = ListOverridesRequest {
            subject: unit.into(),
            page_token,
            ..Default::default()
        };
        let page = client.list_overrides(request).await?.into_inner();
        Ok((page.overrides, page.next_page_token))
    })
    .await
}

/// The logs of a unit, oldest first.
pub(super) async fn records(unit: &str, session: &Session) -> Result<Vec<DutyRecord>, CliError> {
    let mut client = session.api.duty();
    all_pages(async |page_token| {
        let request = ListDutyRecordsRequest {
            parent: unit.into(),
            page_token,
            ..Default::default()
        };
        let page = client.list_duty_records(request).await?.into_inner();
        Ok((page.duty_records, page.next_page_token))
    })
    .await
}

/// The component types that have a model.
pub(super) async fn component_types(session: &Session) -> Result<BTreeSet<String>, CliError> {
    let mut client = session.api.models();
    let models = all_pages(async |page_token| {
        let request = ListModelsRequest {
            page_token,
            ..Default::default()
        };
        let page = client.list_models(request).await?.into_inner();
        Ok((page.models, page.next_page_token))
    })
    .await?;
    Ok(models
        .into_iter()
        .map(|model| model.component_type)
        .collect())
}

/// Treated against untreated parts of a type by hours of duty, or why the lives of the ledger cannot be compared.
pub(super) async fn groups(
    component_type: &str,
    session: &Session,
) -> Result<Result<GroupComparison, Status>, CliError> {
    let query = LifeQuery {
        component_type: component_type.into(),
        measure: AgeMeasure::Hours.into(),
        ..Default::default()
    };
    let request = CompareGroupsRequest {
        source: Some(Source::Query(query)),
        ..Default::default()
    };
    match session.api.evidence().compare_groups(request).await {
        Ok(found) => Ok(Ok(found.into_inner())),
        Err(status)
            if matches!(
                status.code(),
                Code::InvalidArgument | Code::FailedPrecondition
            ) =>
        {
            Ok(Err(status))
        }
        Err(status) => Err(status.into()),
    }
}
