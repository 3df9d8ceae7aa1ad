//! `ringland model`.

use super::{RequestId, Session, template};
use crate::{
    CliError,
    connect::all_pages,
    json, names, numbers,
    out::{Look, byte_progress, heading},
    table::{item, pairs, table},
    times,
};
use clap::Subcommand;
use ringland_proto::v1::{
    ActivateModelRequest, Basis, Card, GetModelRequest, InstallModelRequest, ListModelsRequest,
    Model,
};
use std::path::{Path, PathBuf};

/// Bytes in one message; the server takes up to 1 MiB.
const PIECE: usize = 512 << 10;

/// `ringland model`
#[derive(Debug, Subcommand)]
pub enum ModelCommand {
    /// Install a plugin (a WebAssembly component); it is inspected but not activated
    Install {
        /// The plugin
        file: PathBuf,
        /// Make it the active one of its type
        #[arg(long)]
        activate: bool,
    },
    /// List installed models
    List {
        /// Only of this type
        #[arg(
            long = "type",
            default_value = "",
            hide_default_value = true,
            value_name = "TYPE"
        )]
        component_type: String,
    },
    /// Show a model's card: inputs, readings, mechanisms, constants with their basis, cautions
    Show {
        /// A component type (its active model) or a digest
        model: String,
    },
    /// Make a model the active one of its type; activating an older one is the way back
    Activate {
        /// Digest
        model: String,
        #[command(flatten)]
        request: RequestId,
    },
    /// Print a file for `component create` with every input, its range and its default
    Template {
        /// A component type (its active model) or a digest
        model: String,
    },
}

pub(super) async fn run(command: ModelCommand, session: &Session) -> Result<(), CliError> {
    match command {
        ModelCommand::Install { file, activate } => {
            let mut model = install(&file, session).await?;
            if activate {
                model = make_active(&model.name, String::new(), session).await?;
            }
            show_line(&model, session)
        }
        ModelCommand::List { component_type } => list(component_type, session).await,
        ModelCommand::Show { model } => {
            let model = find(&model, session).await?;
            let out = session.out;
            if out.json {
                return out.json(&json::to_json("Model", &model)?);
            }
            let card = model.card.clone().unwrap_or_default();
            out.text(&model_lines(&model, &out.look))?;
            out.text(&card_text(&card, &out.look))
        }
        ModelCommand::Activate { model, request } => {
            let model = make_active(&names::model(&model), request.request_id, session).await?;
            show_line(&model, session)
        }
        ModelCommand::Template { model } => {
            let card = find(&model, session).await?.card.unwrap_or_default();
            let out = session.out;
            if out.json {
                return out.json(&json::to_json("Card", &card)?);
            }
            out.text(&template::template(&card))
        }
    }
}

/// Sends a plugin.
///
/// # Errors
/// When the file cannot be read or the server refuses it.
pub(super) async fn install(file: &Path, session: &Session) -> Result<Model, CliError> {
    let plugin = std::fs::read(file).map_err(|source| CliError::File {
        path: file.to_path_buf(),
        source,
    })?;
    let bar = byte_progress(plugin.len() as u64, "sending");
    let pieces: Vec<InstallModelRequest> = plugin
        .chunks(PIECE)
        .map(|chunk| InstallModelRequest {
            chunk: chunk.to_vec(),
        })
        .collect();
    let counted = bar.clone();
    let stream = tokio_stream::StreamExt::map(tokio_stream::iter(pieces), move |piece| {
        counted.inc(piece.chunk.len() as u64);
        piece
    });
    let model = session
        .api
        .models()
        .install_model(stream)
        .await?
        .into_inner();
    bar.finish_and_clear();
    Ok(model)
}

/// Activates a model.
///
/// # Errors
/// When the server refuses.
pub(super) async fn make_active(
    name: &str,
    request_id: String,
    session: &Session,
) -> Result<Model, CliError> {
    let request = ActivateModelRequest {
        name: name.to_owned(),
        request_id,
    };
    Ok(session
        .api
        .models()
        .activate_model(request)
        .await?
        .into_inner())
}

/// A model by its digest, or the active one of a type.
async fn find(text: &str, session: &Session) -> Result<Model, CliError> {
    let is_digest = text.len() == 64 && text.bytes().all(|byte| byte.is_ascii_hexdigit());
    let name = if is_digest || text.contains('/') {
        names::model(text)
    } else {
        let models = of_type(text.to_owned(), session).await?;
        let active = models.into_iter().find(|model| model.active);
        let missing = || {
            let text = format!(
                "no active model of type {text}; ringland model list shows what is installed"
            );
            CliError::from(tonic::Status::not_found(text))
        };
        active.ok_or_else(missing)?.name
    };
    Ok(session
        .api
        .models()
        .get_model(GetModelRequest { name })
        .await?
        .into_inner())
}

async fn of_type(component_type: String, session: &Session) -> Result<Vec<Model>, CliError> {
    let mut client = session.api.models();
    all_pages(async |page_token| {
        let request = ListModelsRequest {
            component_type: component_type.clone(),
            page_token,
            ..Default::default()
        };
        let page = client.list_models(request).await?.into_inner();
        Ok((page.models, page.next_page_token))
    })
    .await
}

async fn list(component_type: String, session: &Session) -> Result<(), CliError> {
    let models = of_type(component_type, session).await?;
    let out = session.out;
    if out.json {
        return out.json(&json::list("models", "Model", &models)?);
    }
    let rows = models.iter().map(|model| {
        vec![
            model.component_type.clone(),
            model.version.clone(),
            if model.active {
                "active".into()
            } else {
                String::new()
            },
            model.label.clone(),
            names::id(&model.name).to_owned(),
        ]
    });
    let header = ["type", "version", "", "label", "sha256"];
    out.text(&table(&out.look, &header, rows.collect()))
}

fn show_line(model: &Model, session: &Session) -> Result<(), CliError> {
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("Model", model)?);
    }
    out.text(&model_lines(model, &out.look))
}

fn model_lines(model: &Model, look: &Look) -> String {
    let active = if model.active {
        "active"
    } else {
        "installed, not active"
    };
    let lines = [
        (
            "model",
            format!("{} {}, {active}", model.component_type, model.version),
        ),
        ("label", model.label.clone()),
        ("sha256", names::id(&model.name).to_owned()),
        ("installed", times::show(model.install_time.as_ref())),
    ];
    pairs(look, &lines)
}

fn card_text(card: &Card, look: &Look) -> String {
    let mut parts = vec![crate::table::paragraph(look, &card.description)];
    let rows = card.readings.iter().map(|reading| {
        vec![
            reading.label.clone(),
            reading.unit.clone(),
            reading.instrument.clone(),
            reading.limit_source.clone(),
        ]
    });
    let header = ["reading", "unit", "measured with", "limit from"];
    parts.push(table(look, &header, rows.collect()));
    let rows = card.mechanisms.iter().map(|mechanism| {
        vec![
            mechanism.label.clone(),
            mechanism.life_ends_when.clone(),
            numbers::significant(mechanism.rate_ln_sd, 2),
        ]
    });
    let header = ["mechanism", "life ends when", ">ln sd of its rate"];
    parts.push(table(look, &header, rows.collect()));
    let rows = card.constants.iter().map(|constant| {
        vec![
            constant.name.clone(),
            format!(
                "{} {}",
                numbers::significant(constant.value, 4),
                constant.unit
            ),
            basis(constant.basis()).to_owned(),
            constant.note.clone(),
        ]
    });
    parts.push(table(
        look,
        &["constant", ">value", "basis", "note"],
        rows.collect(),
    ));
    let lists = [
        (
            "Shop operations",
            card.operations
                .iter()
                .map(|o| format!("{}: {}", o.name, o.note))
                .collect(),
        ),
        ("References", card.references.clone()),
        ("Leaves out", card.leaves_out.clone()),
        ("Cautions", card.cautions.clone()),
    ];
    for (title, lines) in lists {
        parts.push(heading(title));
        parts.extend(lines.iter().map(|line| item(look, line)));
    }
    parts.join("\n")
}

fn basis(basis: Basis) -> &'static str {
    match basis {
        Basis::Unspecified => "",
        Basis::Published => "published",
        Basis::Memory => "from memory",
        Basis::CommonPractice => "common practice",
        Basis::Calibrated => "calibrated",
        Basis::Assumed => "assumed",
    }
}
