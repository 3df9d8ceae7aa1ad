//! `ringland component history`: installations, revisions and reworks of a component.

use super::Session;
use crate::{CliError, connect::all_pages, json, names, out::heading, table::table, times};
use ringland_proto::v1::{
    Installation, ListInstallationsRequest, ListRevisionsRequest, ListReworksRequest, Revision,
    Rework,
};
use serde_json::{Value, json};

pub(super) async fn show(component: &str, session: &Session) -> Result<(), CliError> {
    let installations = installations(component, session).await?;
    let revisions = revisions(component, session).await?;
    let reworks = reworks(component, session).await?;
    let out = session.out;
    if out.json {
        let mut all = json!({});
        let lists = [
            json::list("installations", "Installation", &installations)?,
            json::list("revisions", "Revision", &revisions)?,
            json::list("reworks", "Rework", &reworks)?,
        ];
        for list in lists {
            if let (Value::Object(all), Value::Object(list)) = (&mut all, list) {
                all.extend(list);
            }
        }
        return out.json(&all);
    }
    out.text(&heading("Where it has been"))?;
    let rows = installations.iter().map(|installation| {
        vec![
            names::short(&installation.build),
            installation.position.clone(),
            times::show(installation.install_time.as_ref()),
            times::show(installation.remove_time.as_ref()),
        ]
    });
    let header = ["build", "position", "installed", "taken out"];
    out.text(&table(&out.look, &header, rows.collect()))?;
    out.text(&heading("Revisions of spec, surfaces and treatments"))?;
    let rows = revisions.iter().map(|revision| {
        vec![
            names::id(&revision.name).to_owned(),
            times::show(revision.effective_time.as_ref()),
            revision.treatments.join(", "),
            revision.reason.clone(),
        ]
    });
    out.text(&table(
        &out.look,
        &["revision", "from", "treatments", "reason"],
        rows.collect(),
    ))?;
    if reworks.is_empty() {
        return Ok(());
    }
    out.text(&heading("Shop operations"))?;
    let rows = reworks.iter().map(|rework| {
        vec![
            rework.operation.clone(),
            times::show(rework.rework_time.as_ref()),
            rework.note.clone(),
        ]
    });
    out.text(&table(
        &out.look,
        &["operation", "when", "note"],
        rows.collect(),
    ))
}

async fn installations(component: &str, session: &Session) -> Result<Vec<Installation>, CliError> {
    let mut client = session.api.components();
    all_pages(async |page_token| {
        let request = ListInstallationsRequest {
            parent: component.to_owned(),
            page_token,
            ..Default::default()
        };
        let page = client.list_installations(request).await?.into_inner();
        Ok((page.installations, page.next_page_token))
    })
    .await
}

async fn revisions(component: &str, session: &Session) -> Result<Vec<Revision>, CliError> {
    let mut client = session.api.components();
    all_pages(async |page_token| {
        let request = ListRevisionsRequest {
            parent: component.to_owned(),
            page_token,
            ..Default::default()
        };
        let page = client.list_revisions(request).await?.into_inner();
        Ok((page.revisions, page.next_page_token))
    })
    .await
}

async fn reworks(component: &str, session: &Session) -> Result<Vec<Rework>, CliError> {
    let mut client = session.api.components();
    all_pages(async |page_token| {
        let request = ListReworksRequest {
            parent: component.to_owned(),
            page_token,
            ..Default::default()
        };
        let page = client.list_reworks(request).await?.into_inner();
        Ok((page.reworks, page.next_page_token))
    })
    .await
}
